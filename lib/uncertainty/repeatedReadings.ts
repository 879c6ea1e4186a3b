import { requireOneOf, requireSameLength, requireSeries } from "../check.ts";
import { correlationOf, crossSum, meanOf } from "./summary.ts";

export interface RepeatedReadingsInput {
  readonly readings: Readonly<Record<string, readonly number[]>>;
}

/**
 * Means of quantities read repeatedly, with their standard uncertainties and the correlations among them.
 *
 * Model: readings of one occasion share a place in each list; occasions are independent of each other. Works in any unit.
 *
 * @param readings by name: at least 2 values each, as many of each [1]
 * @returns mean of each [1]
 * @returns deviation of each: standard deviation of the readings, with n - 1 [1]
 * @returns standardUncertainty of each mean: deviation / sqrt(n) [1]
 * @returns degreesOfFreedom of each: n - 1 [1]
 * @returns correlation of each with each, of the readings and of their means alike [1]
 * @throws TypeError for lists that are too short or not of one length
 * @source gum, sections 4.2 and 5.2.3
 * @example repeatedReadings({ readings: { time: [2.1, 2.3, 2.2] } }).standardUncertainty.time // 0.05773502692
 */
export const repeatedReadings = ({ readings }: RepeatedReadingsInput) => {
  requireOneOf("repeatedReadings", "kind of readings", typeof readings, ["object"]);
  const lists = Object.entries(readings);
  lists.forEach(([name, values]) => {
    requireSeries("repeatedReadings", `readings.${name}`, values, 2);
    const [first] = lists;
    if (first) requireSameLength("repeatedReadings", `readings.${first[0]}`, first[1], `readings.${name}`, values);
  });
  const each = <T>(of: (values: readonly number[]) => T): Record<string, T> => Object.fromEntries(lists.map(([name, values]) => [name, of(values)]));
  const deviation = (values: readonly number[]): number => Math.sqrt(crossSum(values, values) / (values.length - 1));
  return {
    mean: each(meanOf),
    deviation: each(deviation),
    standardUncertainty: each((values) => deviation(values) / Math.sqrt(values.length)),
    degreesOfFreedom: each((values) => values.length - 1),
    correlation: each((x) => each((y) => correlationOf(x, y))),
  };
};
