import { requireNonNegative, requirePositive } from "../check.ts";

/**
 * Unrestrained occupant carried on until the interior stops them.
 *
 * Model: the vehicle slows at a constant rate until it stands; the occupant keeps their speed until the gap is used up.
 * No friction from the seat. Not once anything holds the occupant.
 *
 * @param speed > 0, of both at the start [m/s]
 * @param deceleration > 0, of the vehicle [m/s^2]
 * @param gap >= 0, free space ahead of the occupant [m]
 * @returns contactSpeed, of the occupant against the interior [m/s], time from the start to contact [s]
 * @throws RangeError outside those ranges
 * @equation contactSpeed = min(speed, sqrt(2 * deceleration * gap))
 * @equation time = min(speed, sqrt(2 * deceleration * gap)) / deceleration + max(0, gap - speed^2 / (2 * deceleration)) / speed
 * @source derived, constant relative acceleration
 * @example freeFlight({ speed: 15, deceleration: 200, gap: 0.25 }).contactSpeed // 10
 */
export const freeFlight = ({ speed, deceleration, gap }: { readonly speed: number; readonly deceleration: number; readonly gap: number }) => {
  requirePositive("freeFlight", "speed", speed, "m/s");
  requirePositive("freeFlight", "deceleration", deceleration, "m/s^2");
  requireNonNegative("freeFlight", "gap", gap, "m");
  const contactSpeed = Math.min(speed, Math.sqrt(2 * deceleration * gap));
  return { contactSpeed, time: contactSpeed / deceleration + Math.max(0, gap - speed ** 2 / (2 * deceleration)) / speed };
};
