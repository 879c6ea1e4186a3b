import { requirePositive, requireSeries } from "../check.ts";
import { median, summaryStatistics } from "../math/statistics.ts";
import { coverageFactor } from "../uncertainty/coverageFactor.ts";

const SHARE = 0.95;
/** Of fewer readings none can be told to stand apart from the others. */
const FEWEST_TO_MARK = 5;
/** Median of the distances from the median, of a normal population of standard deviation 1. */
const MEDIAN_DISTANCE = 0.674489750196082;
/** Mean of the same. */
const MEAN_DISTANCE = 0.797884560802865;

/**
 * Mean, spread and give or take of repeated readings of one thing, with those that stand apart marked.
 *
 * Model: independent readings of one population. A reading is marked by its distance from the median over the typical distance from
 * the median, which one wild reading cannot stretch; of fewer than 5 readings none is marked. Marked readings stay in the mean: look for a reason before any is left out. Works in any unit.
 *
 * @param values shape (n,), n >= 3, readings of one thing [1]
 * @param limit of the score beyond which a reading is marked, > 0, default 3.5 [1]
 * @returns count of readings [1]
 * @returns mean of all readings [1]
 * @returns median of all readings [1]
 * @returns standardDeviation spread of single readings, >= 0 [1]
 * @returns standardError of the mean, >= 0 [1]
 * @returns give of the mean, 19 times in 20, >= 0 [1]
 * @returns smallest of all readings [1]
 * @returns largest of all readings [1]
 * @returns score of each reading: distance from the median in standard deviations as most readings tell them, signed [1]
 * @returns marked whether a reading stands apart
 * @returns markedCount readings that stand apart [1]
 * @throws RangeError for a reading that is not finite; TypeError for under 3 readings
 * @source iglewicz-hoaglin-1993, modified z-score
 * @source gum, sections 4.2 and G.3
 * @example benchMeasurements({ values: [1.02, 0.98, 1, 1.01, 0.99, 1.5] }).markedCount // 1
 */
export const benchMeasurements = ({ values, limit = 3.5 }: { readonly values: ArrayLike<number>; readonly limit?: number }) => {
  requireSeries("benchMeasurements", "values", values, 3);
  requirePositive("benchMeasurements", "limit", limit);
  const { count, mean, median: middle, standardDeviation, standardError, smallest, largest } = summaryStatistics({ values });
  const distances = Float64Array.from(values, (value) => Math.abs(value - middle));
  const typical = median(distances);
  // Where more than half of the readings are equal the median distance is 0, and the mean distance takes its place.
  const deviation = typical > 0 ? typical / MEDIAN_DISTANCE : distances.reduce((sum, distance) => sum + distance, 0) / count / MEAN_DISTANCE;
  const score = Array.from(values, (value) => (deviation > 0 ? (value - middle) / deviation : 0));
  const marked = score.map((size) => count >= FEWEST_TO_MARK && Math.abs(size) > limit);
  return {
    count,
    mean,
    median: middle,
    standardDeviation,
    standardError,
    give: coverageFactor({ share: SHARE, degreesOfFreedom: count - 1 }).coverageFactor * standardError,
    smallest,
    largest,
    score,
    marked,
    markedCount: marked.filter(Boolean).length,
  };
};
