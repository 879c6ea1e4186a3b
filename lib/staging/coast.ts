import { requireBetween, requireNonNegative, requirePositive } from "../check.ts";
import { STANDARD_GRAVITY } from "../constants.ts";

/**
 * Speed lost between release and the meeting point.
 *
 * Model: rolling resistance a fixed share of weight on level ground, the same at every speed; no air drag, no brakes. A vehicle that
 * comes to rest before the end of the distance stays there.
 *
 * @param speed > 0, at release [m/s]
 * @param distance >= 0, to coast [m]
 * @param rollingResistance >= 0, share of weight [1]
 * @param gravity > 0, default STANDARD_GRAVITY [m/s^2]
 * @returns speedAfter [m/s]
 * @returns speedLost [m/s]
 * @returns covered distance, less than asked for if the vehicle stops [m]
 * @returns time until the end of the distance or standstill [s]
 * @throws RangeError outside those ranges
 * @equation speedAfter = sqrt(max(0, speed^2 - 2 * rollingResistance * gravity * distance))
 * @equation speedLost = speed - speedAfter
 * @equation covered = min(distance, speed^2 / (2 * rollingResistance * gravity))
 * @equation time = 2 * covered / (speed + speedAfter)
 * @source derived, constant deceleration
 * @sample rollingResistance 0.005 0.05
 * @sample distance 0 60
 * @example coast({ speed: 15, distance: 10, rollingResistance: 0.014, gravity: 10 }).speedAfter // 14.9063744
 */
export const coast = ({ speed, distance, rollingResistance, gravity = STANDARD_GRAVITY }: { readonly speed: number; readonly distance: number; readonly rollingResistance: number; readonly gravity?: number }) => {
  requirePositive("coast", "speed", speed, "m/s");
  requireNonNegative("coast", "distance", distance, "m");
  requireNonNegative("coast", "rollingResistance", rollingResistance);
  requirePositive("coast", "gravity", gravity, "m/s^2");
  const deceleration = rollingResistance * gravity;
  const speedAfter = Math.sqrt(Math.max(0, speed ** 2 - 2 * deceleration * distance));
  const covered = Math.min(distance, speed ** 2 / (2 * deceleration));
  const time = (2 * covered) / (speed + speedAfter);
  // speed - speedAfter without the cancellation of two near speeds
  return { speedAfter, speedLost: deceleration * time, covered, time };
};

/**
 * Rolling resistance from the speeds at both ends of a coasted distance.
 *
 * Model: as coast, turned round. Whatever else slows the vehicle, air and slope included, is counted as rolling.
 *
 * @param speedBefore > 0 [m/s]
 * @param speedAfter >= 0 and <= speedBefore [m/s]
 * @param distance > 0, between the two [m]
 * @param gravity > 0, default STANDARD_GRAVITY [m/s^2]
 * @returns rollingResistance share of weight [1]
 * @returns deceleration [m/s^2]
 * @throws RangeError outside those ranges
 * @equation deceleration = (speedBefore^2 - speedAfter^2) / (2 * distance)
 * @equation rollingResistance = deceleration / gravity
 * @source derived, constant deceleration
 * @sample speedBefore 5 10
 * @sample speedAfter 0 5
 * @example rollingFromCoast({ speedBefore: 6, speedAfter: 4, distance: 50, gravity: 10 }).rollingResistance // 0.02
 */
export const rollingFromCoast = ({ speedBefore, speedAfter, distance, gravity = STANDARD_GRAVITY }: { readonly speedBefore: number; readonly speedAfter: number; readonly distance: number; readonly gravity?: number }) => {
  requirePositive("rollingFromCoast", "speedBefore", speedBefore, "m/s");
  requireBetween("rollingFromCoast", "speedAfter", speedAfter, 0, speedBefore, "m/s");
  requirePositive("rollingFromCoast", "distance", distance, "m");
  requirePositive("rollingFromCoast", "gravity", gravity, "m/s^2");
  const deceleration = ((speedBefore - speedAfter) * (speedBefore + speedAfter)) / (2 * distance);
  return { rollingResistance: deceleration / gravity, deceleration };
};
