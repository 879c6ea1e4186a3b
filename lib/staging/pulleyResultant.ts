import { requireBetween, requireNonNegative, requireThat } from "../check.ts";

/**
 * Force that a line puts on a pulley, and the pulley on its anchor.
 *
 * Model: vector sum of the pulls of the two parts of the line; the pulley's weight is left out. The angle wrapped is the angle by which
 * the line turns: 0 straight through, pi straight back, where the resultant is the sum of both pulls. Take the largest pulls,
 * not the steady ones. Not for the design of lifting gear: the responsible engineer sets factors.
 *
 * @param pullIn >= 0, of the part that runs in [N]
 * @param pullOut >= 0, of the part that runs out [N]
 * @param wrapAngle >= 0 and <= pi [rad]
 * @returns resultant [N]
 * @throws RangeError outside those ranges
 * @equation resultant = sqrt((pullIn - pullOut)^2 + 4 * pullIn * pullOut * sin(wrapAngle / 2)^2)
 * @source derived, law of cosines
 * @sample wrapAngle 0 3.14
 * @example pulleyResultant({ pullIn: 3000, pullOut: 3000, wrapAngle: Math.PI / 3 }).resultant // 3000
 */
export const pulleyResultant = ({ pullIn, pullOut, wrapAngle }: { readonly pullIn: number; readonly pullOut: number; readonly wrapAngle: number }) => {
  requireNonNegative("pulleyResultant", "pullIn", pullIn, "N");
  requireNonNegative("pulleyResultant", "pullOut", pullOut, "N");
  requireThat(pullIn + pullOut > 0, "pulleyResultant", "pullIn + pullOut", "> 0 N", pullIn + pullOut);
  requireBetween("pulleyResultant", "wrapAngle", wrapAngle, 0, Math.PI, "rad");
  // the form that does not cancel at small angles
  return { resultant: Math.sqrt((pullIn - pullOut) ** 2 + 4 * pullIn * pullOut * Math.sin(wrapAngle / 2) ** 2) };
};
