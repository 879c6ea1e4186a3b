import { requireBetween, requireIncreasing, requireSameLength, requireSeries } from "../check.ts";

/**
 * Value at a point between samples.
 *
 * Model: straight lines between samples; nothing is guessed outside them.
 *
 * @throws RangeError when x does not rise or the point lies outside it; TypeError for series of different length or under 2 values
 * @source common-practice, linear interpolation
 * @example interpolateLinear([0, 1, 3], [0, 2, 6], 2) // 4
 */
export const interpolateLinear = (x: ArrayLike<number>, y: ArrayLike<number>, at: number): number => {
  requireSeries("interpolateLinear", "x", x, 2);
  requireSeries("interpolateLinear", "y", y, 2);
  requireSameLength("interpolateLinear", "x", x, "y", y);
  requireIncreasing("interpolateLinear", "x", x);
  requireBetween("interpolateLinear", "at", at, x[0] as number, x[x.length - 1] as number);
  let low = 0;
  let high = x.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((x[middle] as number) <= at) low = middle;
    else high = middle;
  }
  const share = (at - (x[low] as number)) / ((x[high] as number) - (x[low] as number));
  // Weighted so, both ends are met exactly.
  return (1 - share) * (y[low] as number) + share * (y[high] as number);
};
