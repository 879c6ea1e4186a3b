import { requireIncreasing, requireSameLength, requireSeries } from "../check.ts";

const checked = (name: string, x: ArrayLike<number>, y: ArrayLike<number>): void => {
  requireSeries(name, "x", x, 2);
  requireSeries(name, "y", y, 2);
  requireSameLength(name, "x", x, "y", y);
  requireIncreasing(name, "x", x);
};

/**
 * Integral of sampled values from the first sample up to each, 0 at the first.
 *
 * Model: straight lines between samples, for which it is exact; otherwise the error falls as the square of the spacing.
 *
 * @throws RangeError when x does not rise; TypeError for series of different length or under 2 values
 * @source common-practice, trapezoidal rule
 * @example cumulativeTrapezoid([0, 1, 3], [0, 2, 2])[2] // 5
 */
export const cumulativeTrapezoid = (x: ArrayLike<number>, y: ArrayLike<number>): Float64Array => {
  checked("cumulativeTrapezoid", x, y);
  const total = new Float64Array(x.length);
  for (let i = 1; i < x.length; i++)
    total[i] = (total[i - 1] as number) + 0.5 * ((x[i] as number) - (x[i - 1] as number)) * ((y[i] as number) + (y[i - 1] as number));
  return total;
};

/**
 * Integral of sampled values over the whole series.
 *
 * Model: straight lines between samples, for which it is exact; otherwise the error falls as the square of the spacing.
 *
 * @throws RangeError when x does not rise; TypeError for series of different length or under 2 values
 * @source common-practice, trapezoidal rule
 * @example trapezoid([0, 1, 3], [0, 2, 2]) // 5
 */
export const trapezoid = (x: ArrayLike<number>, y: ArrayLike<number>): number => {
  checked("trapezoid", x, y);
  let total = 0;
  for (let i = 1; i < x.length; i++) total += 0.5 * ((x[i] as number) - (x[i - 1] as number)) * ((y[i] as number) + (y[i - 1] as number));
  return total;
};
