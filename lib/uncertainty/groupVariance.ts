import { requireNonNegative, requireSameLength, requireSeries } from "../check.ts";
import { requireWhole } from "./runs.ts";
import { crossSum, meanOf } from "./summary.ts";

const MOST = 1e9;

export interface GroupVarianceInput {
  readonly means: readonly number[];
  readonly deviations: readonly number[];
  readonly count: number;
}

/**
 * Scatter between groups of readings against scatter within them: analysis of variance, one way.
 *
 * Model: groups (days, set-ups) with as many readings each. Does it matter when a reading was taken? A ratio near 1 says no; a
 * large one, that the mean of all is less certain than its readings suggest. Works in any unit.
 *
 * @param means of the groups, at least 2 [1]
 * @param deviations standard deviation of the readings of each group, with count - 1, each >= 0 [1]
 * @param count of readings in each group, whole number >= 2 [1]
 * @returns mean of all [1]
 * @returns between standard deviation of the means of the groups [1]
 * @returns within standard deviation of readings, pooled over the groups [1]
 * @returns ratio of variances, F; null where nothing scatters within [1]
 * @returns degreesOfFreedom.between, degreesOfFreedom.within of the two [1]
 * @throws RangeError outside those ranges, TypeError for lists not of one length
 * @equation ratio = count * between^2 / within^2
 * @source gum, annex H.5
 * @example groupVariance({ means: [1, 2, 3], deviations: [1, 1, 1], count: 4 }).ratio // 4
 */
export const groupVariance = ({ means, deviations, count }: GroupVarianceInput) => {
  requireSeries("groupVariance", "means", means, 2);
  requireSeries("groupVariance", "deviations", deviations, 2);
  requireSameLength("groupVariance", "means", means, "deviations", deviations);
  deviations.forEach((deviation, i) => requireNonNegative("groupVariance", `deviations[${i}]`, deviation));
  requireWhole("groupVariance", "count", count, 2, MOST);
  const groups = means.length;
  const between = Math.sqrt(crossSum(means, means) / (groups - 1));
  const within = Math.hypot(...deviations) / Math.sqrt(groups);
  return {
    mean: meanOf(means),
    between,
    within,
    ratio: within === 0 ? null : (count * between ** 2) / within ** 2,
    degreesOfFreedom: { between: groups - 1, within: groups * (count - 1) },
  };
};
