import { requireBetween, requireFinite, requirePositive } from "../check.ts";

/**
 * Share of a sample that has some mark, and the range of shares in the population that the sample leaves open.
 *
 * Model: each of the sample was drawn by itself from one population, and the sample is small beside it; score interval, which
 * stays between 0 and 1 however rare the mark is. Says nothing of how the sample was chosen, which often matters more.
 *
 * @param count of the sample with the mark, >= 0 and <= of [1]
 * @param of sample, > 0 [1]
 * @param score of the normal distribution, > 0, default 1.959963984540054 for 19 times in 20 [1]
 * @returns share 0 to 1 [1]
 * @returns low end of the range, 0 to 1 [1]
 * @returns high end of the range, 0 to 1 [1]
 * @throws RangeError outside those ranges
 * @equation share = count / of
 * @equation low = (count + score^2 / 2 - score * sqrt(count * (of - count) / of + score^2 / 4)) / (of + score^2)
 * @equation high = (count + score^2 / 2 + score * sqrt(count * (of - count) / of + score^2 / 4)) / (of + score^2)
 * @sample count 1 20
 * @sample of 30 90
 * @source wilson-1927, score interval
 * @example proportion({ count: 17, of: 6164 }).high // 0.004412588039
 */
export const proportion = ({ count, of, score = 1.959963984540054 }: { readonly count: number; readonly of: number; readonly score?: number }) => {
  requirePositive("proportion", "of", of);
  requireFinite("proportion", "count", count);
  requireBetween("proportion", "count", count, 0, of);
  requirePositive("proportion", "score", score);
  const middle = count + score ** 2 / 2;
  const reach = score * Math.sqrt((count * (of - count)) / of + score ** 2 / 4);
  // rounding alone could take the ends past 0 and 1
  return { share: count / of, low: Math.max(0, (middle - reach) / (of + score ** 2)), high: Math.min(1, (middle + reach) / (of + score ** 2)) };
};
