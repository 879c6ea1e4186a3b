import { requireFinite, requireNonNegative, requireOneOf, requirePositive } from "../check.ts";
import { coverageFactor, requireShare } from "./coverageFactor.ts";
import { correlationFactor } from "./draws.ts";
import { type Correlation, requireCorrelations } from "./uncertain.ts";

export interface UncertaintyComponent {
  /** Change of the result by a unit change of the input. */
  readonly sensitivity: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom?: number;
}

export interface CombinedUncertaintyInput {
  readonly components: Readonly<Record<string, UncertaintyComponent>>;
  readonly correlations?: readonly Correlation[];
  readonly share?: number;
}

/** Root of the sum of squares of components, with their correlations: the length of their sum where each lies along its row of the factor. */
export const combined = (kernel: string, components: Readonly<Record<string, number>>, correlations: readonly Correlation[]): number => {
  const sizes = Object.values(components);
  if (correlations.length === 0) return Math.hypot(...sizes);
  const factor = correlationFactor(kernel, Object.keys(components), correlations);
  return Math.hypot(...sizes.map((_, column) => sizes.reduce((sum, size, row) => sum + size * ((factor[row] as readonly number[])[column] as number), 0)));
};

/**
 * Combined standard uncertainty of a result, from that of its inputs: the law of propagation of uncertainty.
 *
 * Model: the result changes in proportion to each input over its uncertainty. Effective degrees of freedom by Welch and
 * Satterthwaite, for independent components only, cut down to a whole number for the coverage factor. Works in any unit: the
 * combined uncertainty is in that of sensitivity times uncertainty.
 *
 * @param components by name: sensitivity, and standardUncertainty >= 0 [1]
 * @param components.degreesOfFreedom of the uncertainty, > 0; infinitely many where left out [1]
 * @param correlations first and second by name, coefficient between -1 and 1; not those left out [1]
 * @param share between 0.01 and 0.999, of the population that the expanded uncertainty holds, default 0.95 [1]
 * @returns combined standard uncertainty, >= 0 [1]
 * @returns contributions of each component, signed: sensitivity times uncertainty [1]
 * @returns degreesOfFreedom effective; null where infinitely many, or where components are correlated [1]
 * @returns coverageFactor > 0 [1]
 * @returns expanded uncertainty: coverage factor times combined [1]
 * @throws RangeError outside those ranges, or for correlations that are not possible together
 * @equation expanded = coverageFactor * combined
 * @source gum, sections 5.1.2 and 5.2.2, annexes G.4 and H.1
 * @example combinedUncertainty({ components: { length: { sensitivity: 2, standardUncertainty: 0.3 }, width: { sensitivity: -1, standardUncertainty: 0.8 } } }).combined // 1
 */
export const combinedUncertainty = ({ components, correlations = [], share = 0.95 }: CombinedUncertaintyInput) => {
  const kernel = "combinedUncertainty";
  requireOneOf(kernel, "kind of components", typeof components, ["object"]);
  for (const [name, { sensitivity, standardUncertainty, degreesOfFreedom }] of Object.entries(components)) {
    requireFinite(kernel, `components.${name}.sensitivity`, sensitivity);
    requireNonNegative(kernel, `components.${name}.standardUncertainty`, standardUncertainty);
    if (degreesOfFreedom !== undefined) requirePositive(kernel, `components.${name}.degreesOfFreedom`, degreesOfFreedom);
  }
  requireCorrelations(kernel, Object.keys(components), correlations);
  requireShare(kernel, share);
  const contributions = Object.fromEntries(Object.entries(components).map(([name, { sensitivity, standardUncertainty }]) => [name, sensitivity * standardUncertainty]));
  const size = combined(kernel, contributions, correlations);
  // shares of the variance first: fourth powers of small units would vanish
  const doubt = Object.entries(components).reduce((sum, [name, { degreesOfFreedom }]) => sum + (degreesOfFreedom === undefined || size === 0 ? 0 : ((contributions[name] as number) / size) ** 4 / degreesOfFreedom), 0);
  const degreesOfFreedom = correlations.length > 0 || doubt === 0 ? null : 1 / doubt;
  const factor = coverageFactor(degreesOfFreedom === null ? { share } : { share, degreesOfFreedom: wholeBelow(degreesOfFreedom) }).coverageFactor;
  return { combined: size, contributions, degreesOfFreedom, coverageFactor: factor, expanded: factor * size };
};

/** Rounding may leave a whole number a little short. */
const SHORT = 1e-9;
const MANY = 1e9;
const wholeBelow = (value: number): number => Math.min(MANY, Math.max(1, Math.floor(value * (1 + SHORT))));
