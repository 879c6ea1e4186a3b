import { requireBetween } from "../check.ts";
import { normalQuantile } from "../math/normalQuantile.ts";
import { brent } from "../math/rootFinding.ts";
import { requireWhole } from "./runs.ts";

/** From here on the expansion about the normal quantile is good to 1e-9. */
const MANY = 200;
const MOST = 2 ** 31;
const LEAST_SHARE = 0.01;
const MOST_SHARE = 0.999;
/** Above the factor of the largest share with one degree of freedom, 637. */
const WIDEST = 1000;

/** Share of Student's population within +-t: finite sums in the angle. */
const shareWithin = (t: number, degreesOfFreedom: number): number => {
  const angle = Math.atan(t / Math.sqrt(degreesOfFreedom));
  const square = Math.cos(angle) ** 2;
  const odd = degreesOfFreedom % 2 === 1;
  let term = odd ? Math.cos(angle) : 1;
  let sum = degreesOfFreedom === 1 ? 0 : term;
  for (let k = odd ? 3 : 2; k < degreesOfFreedom; k += 2) {
    term *= (square * (k - 1)) / k;
    sum += term;
  }
  return odd ? (angle + Math.sin(angle) * sum) * (2 / Math.PI) : Math.sin(angle) * sum;
};

/** Refuses a share that no factor is worked out for. */
export const requireShare = (kernel: string, share: number): void => requireBetween(kernel, "share", share, LEAST_SHARE, MOST_SHARE);

export interface CoverageFactorInput {
  readonly share: number;
  readonly degreesOfFreedom?: number;
}

/**
 * Number of standard uncertainties either side of a value that hold a share of the population.
 *
 * Model: Student's distribution; the normal one where the degrees of freedom are left out (infinitely many).
 *
 * @param share from 0.01 to 0.999 [1]
 * @param degreesOfFreedom whole number >= 1; infinitely many where left out [1]
 * @returns coverageFactor > 0 [1]
 * @throws RangeError outside those ranges
 * @source abramowitz-stegun, 26.7.3, 26.7.4 and 26.7.5
 * @source gum, annex G.3
 * @example coverageFactor({ share: 0.99, degreesOfFreedom: 16 }).coverageFactor // 2.920781622
 * @example coverageFactor({ share: 0.95 }).coverageFactor // 1.959963985
 */
export const coverageFactor = ({ share, degreesOfFreedom }: CoverageFactorInput) => {
  requireShare("coverageFactor", share);
  const z = normalQuantile((1 + share) / 2);
  if (degreesOfFreedom === undefined) return { coverageFactor: z };
  requireWhole("coverageFactor", "degreesOfFreedom", degreesOfFreedom, 1, MOST);
  if (degreesOfFreedom <= MANY) return { coverageFactor: brent((t) => shareWithin(t, degreesOfFreedom) - share, 0, WIDEST) };
  const z2 = z * z;
  const terms = [(z2 + 1) / 4, ((5 * z2 + 16) * z2 + 3) / 96, (((3 * z2 + 19) * z2 + 17) * z2 - 15) / 384, ((((79 * z2 + 776) * z2 + 1482) * z2 - 1920) * z2 - 945) / 92160];
  return { coverageFactor: z * terms.reduce((sum, term, i) => sum + term / degreesOfFreedom ** (i + 1), 1) };
};
