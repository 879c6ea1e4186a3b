import { requireFinite, requireNonNegative, requireThat } from "../check.ts";

/**
 * Whether a measured value lies in the range predicted for it, given what the measurement itself can tell.
 *
 * Model: inside or outside by the measured value; open where its give or take reaches across an end of the range. Works in any unit.
 *
 * @param low end of the predicted range [1]
 * @param high end of the predicted range, >= low [1]
 * @param measured value [1]
 * @param give give or take of the measured value, >= 0 [1]
 * @returns beyond how far the value lies outside the range, 0 inside, negative below it [1]
 * @returns verdict inside, outside or open
 * @throws RangeError outside those ranges
 * @source derived, comparison of ranges
 * @sample low 1 2
 * @sample high 2 3
 * @example predictionVerdict({ low: 14, high: 16, measured: 17, give: 0.5 }).beyond // 1
 */
export const predictionVerdict = ({ low, high, measured, give }: { readonly low: number; readonly high: number; readonly measured: number; readonly give: number }) => {
  requireFinite("predictionVerdict", "low", low);
  requireFinite("predictionVerdict", "high", high);
  requireThat(high >= low, "predictionVerdict", "high", `>= ${low}, the low end`, high);
  requireFinite("predictionVerdict", "measured", measured);
  requireNonNegative("predictionVerdict", "give", give);
  const beyond = measured < low ? measured - low : measured > high ? measured - high : 0;
  const crosses = [low, high].some((end) => Math.abs(measured - end) < give);
  const verdict: "inside" | "outside" | "open" = crosses ? "open" : beyond === 0 ? "inside" : "outside";
  return { beyond, verdict };
};
