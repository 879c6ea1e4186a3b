import { requireNonNegative, requirePositive } from "../check.ts";

/**
 * What one pixel covers, from a length known on the object and read in the picture.
 *
 * Model: the baseline lies in the plane of motion, square to the line of sight (else see parallaxError); no distortion. Errors of the
 * length and of both ends' readings are independent and small.
 *
 * @param length of the baseline, > 0 [m]
 * @param lengthGive give or take of the length, >= 0 [m]
 * @param pixels between its ends in the picture, > 0 [1]
 * @param endGive give or take of the reading of each end, in pixels, >= 0 [1]
 * @returns scale what one pixel covers [m]
 * @returns give give or take of the scale [m]
 * @returns relativeGive the same as a share of the scale, and so of every speed read with it [1]
 * @throws RangeError outside those ranges
 * @equation scale = length / pixels
 * @equation give = length / pixels * sqrt((lengthGive / length)^2 + 2 * (endGive / pixels)^2)
 * @equation relativeGive = sqrt((lengthGive / length)^2 + 2 * (endGive / pixels)^2)
 * @source derived, first-order propagation of independent errors
 * @example scaleFromBaseline({ length: 2, lengthGive: 0.003, pixels: 1000, endGive: 1 }).scale // 0.002
 */
export const scaleFromBaseline = ({ length, lengthGive, pixels, endGive }: { readonly length: number; readonly lengthGive: number; readonly pixels: number; readonly endGive: number }) => {
  requirePositive("scaleFromBaseline", "length", length, "m");
  requireNonNegative("scaleFromBaseline", "lengthGive", lengthGive, "m");
  requirePositive("scaleFromBaseline", "pixels", pixels);
  requireNonNegative("scaleFromBaseline", "endGive", endGive);
  const scale = length / pixels;
  const relativeGive = Math.hypot(lengthGive / length, endGive / pixels, endGive / pixels);
  return { scale, give: scale * relativeGive, relativeGive };
};
