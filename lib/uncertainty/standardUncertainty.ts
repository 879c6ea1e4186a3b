import { requireNonNegative, requireOneOf, requireThat } from "../check.ts";
import { GIVE_OVER_DEVIATION } from "./uncertain.ts";

/** Half-width over standard deviation. */
const DIVISORS = { normal: GIVE_OVER_DEVIATION, flat: Math.sqrt(3), triangular: Math.sqrt(6), arcsine: Math.SQRT2 } as const;

export interface StandardUncertaintyInput {
  readonly halfWidth: number;
  readonly shape: keyof typeof DIVISORS;
  readonly inexactness?: number;
}

/**
 * Standard uncertainty of a quantity of which only a half-width and a shape are known.
 *
 * Model: normal, the half-width that holds 19 in 20; flat, limits with every value between them as likely; triangular, limits
 * with the middle likelier; arcsine, limits of a swinging value. Flat limits may themselves be inexact, each by as much either way
 * (a trapezoid with curved sides).
 *
 * @param halfWidth >= 0, in any unit [1]
 * @param shape normal, flat, triangular or arcsine
 * @param inexactness >= 0, of each limit, either way; flat only, at most the half-width; default 0 [1]
 * @returns standardUncertainty >= 0, in the same unit [1]
 * @returns variance its square [1]
 * @throws RangeError outside those ranges, TypeError for another shape
 * @equation variance = standardUncertainty^2
 * @source gum, sections 4.3.7, 4.3.9 and H.1.3.4
 * @source gum-supplement-1, section 6.4
 * @example standardUncertainty({ halfWidth: 1, shape: "flat" }).standardUncertainty // 0.5773502692
 * @example standardUncertainty({ halfWidth: 2, shape: "flat", inexactness: 0.5 }).variance // 1.361111111
 */
export const standardUncertainty = ({ halfWidth, shape, inexactness = 0 }: StandardUncertaintyInput) => {
  requireNonNegative("standardUncertainty", "halfWidth", halfWidth);
  requireOneOf("standardUncertainty", "shape", shape, Object.keys(DIVISORS));
  requireNonNegative("standardUncertainty", "inexactness", inexactness);
  requireThat(inexactness === 0 || (shape === "flat" && inexactness <= halfWidth), "standardUncertainty", "inexactness", shape === "flat" ? `<= the half-width ${halfWidth}` : "0 unless the shape is flat", inexactness);
  const variance = (halfWidth / DIVISORS[shape]) ** 2 + inexactness ** 2 / 9;
  return { standardUncertainty: Math.sqrt(variance), variance };
};
