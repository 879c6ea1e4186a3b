import { requireNonNegative, requirePositive } from "../check.ts";

/**
 * Speed from the time between two gates, with its give or take.
 *
 * Model: mean speed between the gates; the errors of spacing and time are independent and small, so they add as squares. A vehicle that
 * gains or loses speed between the gates has this speed half-way in time.
 *
 * @param spacing > 0, between the gates [m]
 * @param spacingGive >= 0, give or take of the spacing [m]
 * @param time > 0, from gate to gate [s]
 * @param timeGive >= 0, give or take of the time [s]
 * @returns speed [m/s]
 * @returns give or take of the speed [m/s]
 * @throws RangeError outside those ranges
 * @equation speed = spacing / time
 * @equation give = spacing / time * sqrt((spacingGive / spacing)^2 + (timeGive / time)^2)
 * @source derived, first-order propagation of independent errors
 * @example speedTrap({ spacing: 1, spacingGive: 0.003, time: 0.1, timeGive: 0.0004 }).give // 0.05
 */
export const speedTrap = ({ spacing, spacingGive, time, timeGive }: { readonly spacing: number; readonly spacingGive: number; readonly time: number; readonly timeGive: number }) => {
  requirePositive("speedTrap", "spacing", spacing, "m");
  requireNonNegative("speedTrap", "spacingGive", spacingGive, "m");
  requirePositive("speedTrap", "time", time, "s");
  requireNonNegative("speedTrap", "timeGive", timeGive, "s");
  const speed = spacing / time;
  return { speed, give: speed * Math.hypot(spacingGive / spacing, timeGive / time) };
};
