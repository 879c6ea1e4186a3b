import { requireSeries } from "../check.ts";

/** Sum with the rounding of each step carried along (Neumaier's form of compensated summation). */
export const compensatedSum = (values: ArrayLike<number>, of: (value: number, index: number) => number = (value) => value): number => {
  let sum = 0;
  let lost = 0;
  for (let i = 0; i < values.length; i++) {
    const term = of(values[i] as number, i);
    const next = sum + term;
    lost += Math.abs(sum) >= Math.abs(term) ? sum - next + term : term - next + sum;
    sum = next;
  }
  return sum + lost;
};

const medianOf = (sorted: ArrayLike<number>): number => {
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? (sorted[half] as number) : 0.5 * ((sorted[half - 1] as number) + (sorted[half] as number));
};

/**
 * Middle value of a series: half of the values lie on each side.
 *
 * @throws RangeError for a value that is not finite; TypeError for an empty series
 * @source common-practice, median
 * @example median([3, 1, 2, 10]) // 2.5
 */
export const median = (values: ArrayLike<number>): number => {
  requireSeries("median", "values", values, 1);
  return medianOf(Float64Array.from(values).sort());
};

/**
 * Mean, spread and order of a series.
 *
 * Model: the mean is taken from the first value on, and the squares about the mean, so that a large common part costs no digits
 * beyond those that the values themselves lost when they were stored. The spread divides by one less than the count.
 *
 * @throws RangeError for a value that is not finite; TypeError for under 2 values
 * @source nist-strd, univariate summary statistics
 * @example summaryStatistics({ values: [10000001, 10000003, 10000002] }).standardDeviation // 1
 */
export const summaryStatistics = ({ values }: { readonly values: ArrayLike<number> }) => {
  requireSeries("summaryStatistics", "values", values, 2);
  const n = values.length;
  const first = values[0] as number;
  const offset = compensatedSum(values, (value) => value - first) / n;
  // Deviations from the first value, then from the mean: each subtraction of near numbers is exact.
  const deviation = (i: number): number => (values[i] as number) - first - offset;
  const off = compensatedSum(values, (_, i) => deviation(i));
  const squares = compensatedSum(values, (_, i) => deviation(i) ** 2) - off ** 2 / n;
  const products = compensatedSum(values, (_, i) => (i === 0 ? 0 : deviation(i) * deviation(i - 1)));
  const sorted = Float64Array.from(values).sort();
  const standardDeviation = Math.sqrt(Math.max(0, squares) / (n - 1));
  return {
    count: n,
    mean: first + offset,
    standardDeviation,
    /** Of the mean. */
    standardError: standardDeviation / Math.sqrt(n),
    /** Of each value with the one before; 0 for equal values. */
    autocorrelation: squares > 0 ? products / squares : 0,
    median: medianOf(sorted),
    smallest: sorted[0] as number,
    largest: sorted[n - 1] as number,
  };
};
