import { requireNonNegative, requirePositive } from "../check.ts";
import { STANDARD_GRAVITY } from "../constants.ts";

/**
 * Distance to a standstill: run-on before the brakes act, then braking.
 *
 * Model: steady speed for the delay, then steady deceleration on level ground. An illustration for planning a run-out, not a clearance:
 * a vehicle that is missed needs physical stops, and those who are responsible for the site set them.
 *
 * @param speed > 0 [m/s]
 * @param delay >= 0, before the brakes act: thinking time of a driver, or of the one at the remote control [s]
 * @param deceleration > 0, of the braking [m/s^2]
 * @returns runOn covered during the delay [m]
 * @returns braking distance [m]
 * @returns total distance [m]
 * @returns time to a standstill [s]
 * @throws RangeError outside those ranges
 * @equation runOn = speed * delay
 * @equation braking = speed^2 / (2 * deceleration)
 * @equation total = runOn + braking
 * @equation time = delay + speed / deceleration
 * @source openstax-university-physics-1, section 3.4
 * @example stoppingDistance({ speed: 20, delay: 0.5, deceleration: 8 }).total // 35
 */
export const stoppingDistance = ({ speed, delay, deceleration }: { readonly speed: number; readonly delay: number; readonly deceleration: number }) => {
  requirePositive("stoppingDistance", "speed", speed, "m/s");
  requireNonNegative("stoppingDistance", "delay", delay, "s");
  requirePositive("stoppingDistance", "deceleration", deceleration, "m/s^2");
  const runOn = speed * delay;
  const braking = speed ** 2 / (2 * deceleration);
  return { runOn, braking, total: runOn + braking, time: delay + speed / deceleration };
};

/**
 * Force that stops a body in a distance.
 *
 * Model: steady force along the whole distance, by work and energy. The mean over distance; the mean over time is another one unless the
 * force is steady.
 *
 * @param mass > 0 [kg]
 * @param speed > 0 [m/s]
 * @param distance > 0 [m]
 * @returns force [N]
 * @returns deceleration [m/s^2]
 * @returns time [s]
 * @returns energy taken [J]
 * @throws RangeError outside those ranges
 * @equation force = mass * speed^2 / (2 * distance)
 * @equation deceleration = speed^2 / (2 * distance)
 * @equation time = 2 * distance / speed
 * @equation energy = mass * speed^2 / 2
 * @source openstax-university-physics-1, section 7.3
 * @example stoppingForce({ mass: 1000, speed: 10, distance: 0.5 }).force // 100000
 */
export const stoppingForce = ({ mass, speed, distance }: { readonly mass: number; readonly speed: number; readonly distance: number }) => {
  requirePositive("stoppingForce", "mass", mass, "kg");
  requirePositive("stoppingForce", "speed", speed, "m/s");
  requirePositive("stoppingForce", "distance", distance, "m");
  const deceleration = speed ** 2 / (2 * distance);
  return { force: mass * deceleration, deceleration, time: (2 * distance) / speed, energy: (mass * speed ** 2) / 2 };
};

/**
 * Speed at the start of a slide to a standstill.
 *
 * Model: all wheels slide on level ground with one coefficient of friction along the whole slide. Any speed left at the end of the marks
 * (a collision, say) makes the answer a lower bound.
 *
 * @param distance > 0, of the slide [m]
 * @param friction > 0, between tyres and ground [1]
 * @param gravity > 0, default STANDARD_GRAVITY [m/s^2]
 * @returns speed at the start [m/s]
 * @returns deceleration [m/s^2]
 * @returns time [s]
 * @returns fallHeight of a free fall that ends at this speed [m]
 * @throws RangeError outside those ranges
 * @equation speed = sqrt(2 * friction * gravity * distance)
 * @equation deceleration = friction * gravity
 * @equation time = speed / deceleration
 * @equation fallHeight = friction * distance
 * @source derived, work of friction equals the energy of motion
 * @example slideSpeed({ distance: 10, friction: 0.8, gravity: 10 }).speed // 12.649110640673518
 */
export const slideSpeed = ({ distance, friction, gravity = STANDARD_GRAVITY }: { readonly distance: number; readonly friction: number; readonly gravity?: number }) => {
  requirePositive("slideSpeed", "distance", distance, "m");
  requirePositive("slideSpeed", "friction", friction);
  requirePositive("slideSpeed", "gravity", gravity, "m/s^2");
  const deceleration = friction * gravity;
  const speed = Math.sqrt(2 * deceleration * distance);
  return { speed, deceleration, time: speed / deceleration, fallHeight: friction * distance };
};

/**
 * Coefficient of friction from a slide to a standstill.
 *
 * Model: as slideSpeed, turned round.
 *
 * @param speed > 0, at the start [m/s]
 * @param distance > 0, of the slide [m]
 * @param gravity > 0, default STANDARD_GRAVITY [m/s^2]
 * @returns friction deceleration over gravity: braking force over weight [1]
 * @returns deceleration [m/s^2]
 * @returns time [s]
 * @returns fallHeight of a free fall that ends at this speed [m]
 * @throws RangeError outside those ranges
 * @equation friction = speed^2 / (2 * gravity * distance)
 * @equation deceleration = speed^2 / (2 * distance)
 * @equation time = 2 * distance / speed
 * @equation fallHeight = speed^2 / (2 * gravity)
 * @source derived, work of friction equals the energy of motion
 * @example frictionFromSlide({ speed: 10, distance: 10, gravity: 10 }).friction // 0.5
 */
export const frictionFromSlide = ({ speed, distance, gravity = STANDARD_GRAVITY }: { readonly speed: number; readonly distance: number; readonly gravity?: number }) => {
  requirePositive("frictionFromSlide", "speed", speed, "m/s");
  requirePositive("frictionFromSlide", "distance", distance, "m");
  requirePositive("frictionFromSlide", "gravity", gravity, "m/s^2");
  const deceleration = speed ** 2 / (2 * distance);
  return { friction: deceleration / gravity, deceleration, time: (2 * distance) / speed, fallHeight: speed ** 2 / (2 * gravity) };
};
