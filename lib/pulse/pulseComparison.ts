import { requireNonNegative, requirePositive, requireSameLength, requireSeries, requireThat } from "../check.ts";

/** Share of the record that one pulse may be shifted by, unless said otherwise. */
const LONGEST_SHIFT = 0.2;

/** Angle between two records taken as arrows, over half a turn: 0 alike, 1 opposite. `shift` is how many samples later b comes. */
const angle = (a: ArrayLike<number>, sizeA: number, b: ArrayLike<number>, sizeB: number, shift: number): number => {
  let apart = 0;
  let together = 0;
  for (let i = Math.min(0, -shift); i < Math.max(a.length, a.length - shift); i++) {
    const x = (a[i] ?? 0) / sizeA;
    const y = (b[i + shift] ?? 0) / sizeB;
    apart += (x - y) ** 2;
    together += (x + y) ** 2;
  }
  // The same angle as acos of the normalised product, without losing the digits of a small one.
  return (2 * Math.atan2(Math.sqrt(apart), Math.sqrt(together))) / Math.PI;
};

const product = (a: ArrayLike<number>, b: ArrayLike<number>, shift: number): number => {
  let sum = 0;
  for (let i = Math.max(0, -shift); i < Math.min(a.length, a.length - shift); i++) sum += (a[i] as number) * (b[i + shift] as number);
  return sum;
};

/** Root mean square; scaled by its largest value so that no square overflows. */
const rootMeanSquare = (values: ArrayLike<number>): number => {
  let largest = 0;
  for (let i = 0; i < values.length; i++) largest = Math.max(largest, Math.abs(values[i] as number));
  if (largest === 0) return 0;
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += ((values[i] as number) / largest) ** 2;
  return largest * Math.sqrt(sum / values.length);
};

/**
 * How far one crash pulse is from another: in magnitude, in phase, in both, and in what is left of its shape once shifted to fit best.
 *
 * Model: magnitude, phase and comprehensive error of Sprague and Geers, from sums over evenly spaced samples. Magnitude does not see
 * when, phase does not see how much. Phase takes in shape as well: lag is the shift at which both records agree best, taken as 0
 * outside themselves, and shape the phase error that is left there. The reference is not an equal partner: swap the two and the
 * magnitude error changes. Filter both records alike first.
 *
 * @param sampleInterval of both, > 0 [s]
 * @param reference shape (n,), n >= 2, not all 0 [m/s^2]
 * @param compared shape (n,), not all 0 [m/s^2]
 * @param longestShift tried either way, >= 0; left out: a fifth of the record [s]
 * @returns size.reference root mean square, > 0 [m/s^2]
 * @returns size.compared root mean square, > 0 [m/s^2]
 * @returns magnitude error, > -1; 0 for the same size [1]
 * @returns phase error, 0 to 1: 0 in step and alike, 1 opposite [1]
 * @returns comprehensive error of both, >= 0 [1]
 * @returns lag of the compared record behind the reference, to one sample [s]
 * @returns shape phase error left after that shift, 0 to 1 [1]
 * @throws RangeError outside those ranges; TypeError for records of different length or under 2 values
 * @equation magnitude = size.compared / size.reference - 1
 * @equation comprehensive = sqrt(magnitude^2 + phase^2)
 * @source sprague-geers-2004, magnitude, phase and comprehensive error
 * @source derived, lag and shape from the largest product of the shifted records
 * @example pulseComparison({ sampleInterval: 0.001, reference: [0, 100, 200, 100, 0], compared: [0, 110, 220, 110, 0] }).magnitude // 0.1
 */
export const pulseComparison = ({ sampleInterval, reference, compared, longestShift }: {
  readonly sampleInterval: number;
  readonly reference: ArrayLike<number>;
  readonly compared: ArrayLike<number>;
  readonly longestShift?: number;
}) => {
  const kernel = "pulseComparison";
  requirePositive(kernel, "sampleInterval", sampleInterval, "s");
  requireSeries(kernel, "reference", reference, 2, "m/s^2");
  requireSeries(kernel, "compared", compared, 2, "m/s^2");
  requireSameLength(kernel, "reference", reference, "compared", compared);
  if (longestShift !== undefined) requireNonNegative(kernel, "longestShift", longestShift, "s");
  const size = { reference: rootMeanSquare(reference), compared: rootMeanSquare(compared) };
  requireThat(size.reference > 0, kernel, "reference", "other than 0 m/s^2 somewhere", reference);
  requireThat(size.compared > 0, kernel, "compared", "other than 0 m/s^2 somewhere", compared);
  const steps = reference.length - 1;
  const longest = longestShift === undefined ? Math.floor(LONGEST_SHIFT * steps) : Math.min(steps, Math.round(longestShift / sampleInterval));
  let shift = 0;
  let best = product(reference, compared, 0);
  for (let tried = 1; tried <= longest; tried++)
    for (const candidate of [tried, -tried]) {
      const value = product(reference, compared, candidate);
      if (value > best) {
        best = value;
        shift = candidate;
      }
    }
  const magnitude = size.compared / size.reference - 1;
  const phase = angle(reference, size.reference, compared, size.compared, 0);
  return { size, magnitude, phase, comprehensive: Math.hypot(magnitude, phase), lag: shift * sampleInterval, shape: angle(reference, size.reference, compared, size.compared, shift) };
};
