import { requirePositive, requireSeries, requireThat } from "../check.ts";
import { clip3ms } from "./clip3ms.ts";

/**
 * Compression of a femur, from the record of its load cell: the peak, and what is held without a break.
 *
 * Model: compression is negative in the record, as load cells give it; tension counts as none. The held force is the highest level
 * that the compression stays at or above for the stated time in one spell, straight lines between samples. It describes a test
 * dummy's leg, not a person's.
 *
 * @param sampleInterval > 0 [s]
 * @param axialForce tension positive, shape (n,), n >= 2, spanning at least the duration [N]
 * @param duration for which a force counts as held, > 0, default 0.01 [s]
 * @returns peak compression, >= 0 [N]
 * @returns peakTime [s]
 * @returns held compression, >= 0 [N]
 * @throws RangeError outside those ranges, or when the record is shorter than the duration; TypeError for under 2 samples
 * @source us-49cfr-571-208, S15.3.5 (peak)
 * @source un-r94-rev4, 5.2.1 (force against time)
 * @sample duration 0.004 0.012
 * @example femurForce({ sampleInterval: 0.005, axialForce: [0, -2000, -5000, -4000, -3000, 0] }).held // 3500
 */
export const femurForce = ({ sampleInterval, axialForce, duration = 0.01 }: { readonly sampleInterval: number; readonly axialForce: ArrayLike<number>; readonly duration?: number }) => {
  const kernel = "femurForce";
  requirePositive(kernel, "sampleInterval", sampleInterval, "s");
  requireSeries(kernel, "axialForce", axialForce, 2, "N");
  requirePositive(kernel, "duration", duration, "s");
  const spanned = (axialForce.length - 1) * sampleInterval;
  requireThat(spanned >= duration, kernel, "duration", `<= ${spanned} s, the length of the record`, duration);
  const compression = Float64Array.from(axialForce, (force) => Math.max(0, -force));
  let at = 0;
  for (let i = 1; i < compression.length; i++) if ((compression[i] as number) > (compression[at] as number)) at = i;
  // A contiguous clip asks the same of any record.
  return { peak: compression[at] as number, peakTime: at * sampleInterval, held: clip3ms({ sampleInterval, acceleration: compression, definition: "contiguous", duration }).value };
};
