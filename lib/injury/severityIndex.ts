import { requirePositive, requireSeries } from "../check.ts";
import { STANDARD_GRAVITY } from "../constants.ts";

/** Power to which the criterion raises acceleration. */
const POWER = 2.5;

/** Mean of x^2.5 along a straight line between two values >= 0. */
const meanPower = (from: number, to: number): number => {
  const low = Math.min(from, to);
  const high = Math.max(from, to);
  // Close together, the exact quotient loses its digits and the middle value is as good.
  if (high - low <= 1e-5 * high) return ((low + high) / 2) ** POWER;
  return (high ** (POWER + 1) - low ** (POWER + 1)) / ((POWER + 1) * (high - low));
};

/**
 * Severity index of a record of head acceleration: the forerunner of the head injury criterion, without a window.
 *
 * Model: integral over the whole record of the 2.5th power of acceleration, in multiples of gravity and seconds; straight lines
 * between samples. Each sample counts by its size, so give the resultant, or the only component there is. Never below the head
 * injury criterion of the same record. It describes a test dummy's head, not a person's.
 *
 * @units-fixed the index is a number by convention: seconds, with acceleration in multiples of gravity
 * @param sampleInterval > 0 [s]
 * @param acceleration of the head's centre of mass, shape (n,), n >= 2 [m/s^2]
 * @param gravity > 0, default 9.80665 [m/s^2]
 * @returns value >= 0 [1]
 * @throws RangeError outside those ranges; TypeError for under 2 samples
 * @source chou-nyquist-1974, severity index
 * @example severityIndex({ sampleInterval: 0.01, acceleration: [0, 980.665, 0] }).value // 571.4285714
 */
export const severityIndex = ({ sampleInterval, acceleration, gravity = STANDARD_GRAVITY }: { readonly sampleInterval: number; readonly acceleration: ArrayLike<number>; readonly gravity?: number }) => {
  requirePositive("severityIndex", "sampleInterval", sampleInterval, "s");
  requireSeries("severityIndex", "acceleration", acceleration, 2, "m/s^2");
  requirePositive("severityIndex", "gravity", gravity, "m/s^2");
  const size = (i: number): number => Math.abs(acceleration[i] as number) / gravity;
  let value = 0;
  for (let i = 1; i < acceleration.length; i++) value += sampleInterval * meanPower(size(i - 1), size(i));
  return { value };
};
