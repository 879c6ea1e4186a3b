import { requireBetween, requirePositive } from "../check.ts";
import { STANDARD_GRAVITY } from "../constants.ts";

/**
 * How high a hanging block swings after it has caught a projectile.
 *
 * Model: the projectile stays in the block and both move as one before the block has swung (momentum, not energy); then the swing
 * turns all energy of motion into height (energy, not momentum). Strings have no mass; the block does not turn.
 *
 * @param projectileMass > 0 [kg]
 * @param blockMass > 0 [kg]
 * @param speed of the projectile, > 0 [m/s]
 * @param gravity > 0, default 9.80665 [m/s^2]
 * @returns commonSpeed just after the catch [m/s]
 * @returns rise of the block [m]
 * @returns energy.before of the projectile [J]
 * @returns energy.after of both, just after the catch [J]
 * @returns energy.dissipated in the catch [J]
 * @throws RangeError outside those ranges
 * @equation commonSpeed = projectileMass * speed / (projectileMass + blockMass)
 * @equation rise = commonSpeed^2 / (2 * gravity)
 * @equation energy.before = projectileMass * speed^2 / 2
 * @equation energy.after = (projectileMass + blockMass) * commonSpeed^2 / 2
 * @equation energy.dissipated = projectileMass * blockMass / (projectileMass + blockMass) * speed^2 / 2
 * @source msu-lecture-notes, chapter 6, ballistic pendulum
 * @example ballisticPendulumSwing({ projectileMass: 0.02, blockMass: 4, speed: 300, gravity: 9.81 }).rise // 0.1135406540
 */
export const ballisticPendulumSwing = ({ projectileMass, blockMass, speed, gravity = STANDARD_GRAVITY }: { readonly projectileMass: number; readonly blockMass: number; readonly speed: number; readonly gravity?: number }) => {
  requirePositive("ballisticPendulumSwing", "projectileMass", projectileMass, "kg");
  requirePositive("ballisticPendulumSwing", "blockMass", blockMass, "kg");
  requirePositive("ballisticPendulumSwing", "speed", speed, "m/s");
  requirePositive("ballisticPendulumSwing", "gravity", gravity, "m/s^2");
  const mass = projectileMass + blockMass;
  const commonSpeed = (projectileMass * speed) / mass;
  return {
    commonSpeed,
    rise: commonSpeed ** 2 / (2 * gravity),
    energy: { before: 0.5 * projectileMass * speed ** 2, after: 0.5 * mass * commonSpeed ** 2, dissipated: (0.5 * projectileMass * blockMass * speed ** 2) / mass },
  };
};

/**
 * Speed of a projectile, from how high a hanging block rises that has caught it.
 *
 * Model: as ballisticPendulumSwing, read backwards. The rise is that of the block, not its way along the arc: see pendulumRise.
 *
 * @param projectileMass > 0 [kg]
 * @param blockMass > 0 [kg]
 * @param rise of the block, > 0 [m]
 * @param gravity > 0, default 9.80665 [m/s^2]
 * @returns commonSpeed just after the catch [m/s]
 * @returns speed of the projectile [m/s]
 * @throws RangeError outside those ranges
 * @equation commonSpeed = sqrt(2 * gravity * rise)
 * @equation speed = (projectileMass + blockMass) / projectileMass * commonSpeed
 * @source msu-lecture-notes, chapter 6, ballistic pendulum
 * @example ballisticPendulumSpeed({ projectileMass: 0.02, blockMass: 3.98, rise: 0.12, gravity: 9.8 }).speed // 306.7246322
 */
export const ballisticPendulumSpeed = ({ projectileMass, blockMass, rise, gravity = STANDARD_GRAVITY }: { readonly projectileMass: number; readonly blockMass: number; readonly rise: number; readonly gravity?: number }) => {
  requirePositive("ballisticPendulumSpeed", "projectileMass", projectileMass, "kg");
  requirePositive("ballisticPendulumSpeed", "blockMass", blockMass, "kg");
  requirePositive("ballisticPendulumSpeed", "rise", rise, "m");
  requirePositive("ballisticPendulumSpeed", "gravity", gravity, "m/s^2");
  const commonSpeed = Math.sqrt(2 * gravity * rise);
  return { commonSpeed, speed: ((projectileMass + blockMass) / projectileMass) * commonSpeed };
};

/**
 * Rise and sideways way of a block on strings, from the angle that they swing out to.
 *
 * Model: strings that keep their length, the block not turning. Angles are easier to measure than a small rise.
 *
 * @param length of the strings, > 0 [m]
 * @param angle from the vertical, 0 to 1.5707963267948966 [rad]
 * @returns rise >= 0 [m]
 * @returns sideways >= 0 [m]
 * @throws RangeError outside those ranges
 * @equation rise = 2 * length * sin(angle / 2)^2
 * @equation sideways = length * sin(angle)
 * @source derived, a point on a circle
 * @example pendulumRise({ length: 1, angle: 0.5 }).rise // 0.1224174381
 */
export const pendulumRise = ({ length, angle }: { readonly length: number; readonly angle: number }) => {
  requirePositive("pendulumRise", "length", length, "m");
  requireBetween("pendulumRise", "angle", angle, 0, Math.PI / 2, "rad");
  // The half angle keeps the digits of a small swing.
  return { rise: 2 * length * Math.sin(angle / 2) ** 2, sideways: length * Math.sin(angle) };
};
