import { requireNonNegative, requirePositive, requireThat } from "../check.ts";

/**
 * How many times likelier the lighter car's driver was to die, by mass ratio, in a survey of two-car crashes. For the evidence page only.
 *
 * Model: a power of the mass ratio, fitted to registered deaths of a population and its years; published exponents run from 2.7 to 4.3.
 * It folds in all that differed between light and heavy cars. It says nothing about one crash, one car or one person.
 *
 * @param massRatio of the heavier to the lighter car, >= 1 [1]
 * @param exponent > 0 [1]
 * @returns ratio of the risks, >= 1 [1]
 * @returns increase ratio less one [1]
 * @throws RangeError outside those ranges
 * @equation ratio = massRatio^exponent
 * @equation increase = massRatio^exponent - 1
 * @source evans-frick-1993, abstract
 * @sample massRatio 1 3
 * @sample exponent 2 5
 * @example massRatioRisk({ massRatio: 2, exponent: 3.58 }).ratio // 11.958805
 */
export const massRatioRisk = ({ massRatio, exponent }: { readonly massRatio: number; readonly exponent: number }) => {
  requirePositive("massRatioRisk", "massRatio", massRatio);
  requireThat(massRatio >= 1, "massRatioRisk", "massRatio", ">= 1 (of the heavier to the lighter)", massRatio);
  requirePositive("massRatioRisk", "exponent", exponent);
  const ratio = massRatio ** exponent;
  return { ratio, increase: ratio - 1 };
};

/**
 * Share of drivers killed in two-car crashes of one change of velocity, by a fourth-power rule of thumb. For the evidence page only.
 *
 * Model: a rule of thumb over a population and its years, cut at 1. It says nothing about one crash, one car or one person.
 *
 * @param speedChange >= 0 [m/s]
 * @param scale change of velocity at which the rule reaches 1, > 0, default 31.74 [m/s]
 * @returns probability 0 to 1 [1]
 * @throws RangeError outside those ranges
 * @equation probability = min(1, (speedChange / scale)^4)
 * @source joksch-1993, rule of thumb
 * @example fourthPowerRisk({ speedChange: 10 }).probability // 0.009853088
 */
export const fourthPowerRisk = ({ speedChange, scale = 31.74 }: { readonly speedChange: number; readonly scale?: number }) => {
  requireNonNegative("fourthPowerRisk", "speedChange", speedChange, "m/s");
  requirePositive("fourthPowerRisk", "scale", scale, "m/s");
  return { probability: Math.min(1, (speedChange / scale) ** 4) };
};
