import { requireFinite, requirePositive } from "../check.ts";

/**
 * Shift of the meeting point when one vehicle is late.
 *
 * Model: both come head-on at steady speeds; with no delay they meet on the mark. For two that roll and slow down see coastMeeting.
 *
 * @param a.speed > 0 [m/s]
 * @param b.speed > 0 [m/s]
 * @param delay of b behind a at the mark, any sign [s]
 * @returns shift of the meeting point along the way of a: beyond the mark if b is late [m]
 * @returns time of the meeting after a is due at the mark [s]
 * @returns gap between b and the mark when a is due there [m]
 * @throws RangeError outside those ranges
 * @equation shift = delay * a.speed * b.speed / (a.speed + b.speed)
 * @equation time = delay * b.speed / (a.speed + b.speed)
 * @equation gap = delay * b.speed
 * @source derived, two straight lines of place against time
 * @example meetingShift({ a: { speed: 15 }, b: { speed: 10 }, delay: 0.02 }).shift // 0.12
 */
export const meetingShift = ({ a, b, delay }: { readonly a: { readonly speed: number }; readonly b: { readonly speed: number }; readonly delay: number }) => {
  requirePositive("meetingShift", "a.speed", a.speed, "m/s");
  requirePositive("meetingShift", "b.speed", b.speed, "m/s");
  requireFinite("meetingShift", "delay", delay, "s");
  const closing = a.speed + b.speed;
  return { shift: (delay * a.speed * b.speed) / closing, time: (delay * b.speed) / closing, gap: delay * b.speed };
};
