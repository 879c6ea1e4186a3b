/** Draws from what is known of each input. Draw k of input j depends on seed, k and j alone, whoever makes it and in whatever order. */
import { requireThat } from "../check.ts";
import { normalQuantile } from "../math/normalQuantile.ts";
import { uniform } from "../math/random.ts";
import { normalShare } from "./normalShare.ts";
import { type Correlation, endsOf, GIVE_OVER_DEVIATION, type Uncertain, type UncertainInputs } from "./uncertain.ts";

/** What rounding may leave of a pivot that is zero. */
const PIVOT = 1e-12;
/** The largest share below 1. */
const BELOW_ONE = 1 - Number.EPSILON / 2;

/** Lower triangle whose product with its transpose is the correlation matrix; refuses coefficients that no population can have together. */
export const correlationFactor = (kernel: string, names: readonly string[], correlations: readonly Correlation[]): readonly (readonly number[])[] => {
  const matrix = names.map((_, i) => names.map((__, j) => (i === j ? 1 : 0)));
  for (const { first, second, coefficient } of correlations) {
    const i = names.indexOf(first);
    const j = names.indexOf(second);
    (matrix[i] as number[])[j] = (matrix[j] as number[])[i] = coefficient;
  }
  const factor = names.map(() => names.map(() => 0));
  for (let j = 0; j < names.length; j++) {
    const row = factor[j] as number[];
    const pivot = row.reduce((rest, entry) => rest - entry * entry, 1);
    requireThat(pivot > -PIVOT, kernel, "correlations", `possible together (those with ${names[j]} are not)`, correlations);
    const root = pivot < PIVOT ? 0 : Math.sqrt(pivot);
    row[j] = root;
    for (let i = j + 1; i < names.length; i++) {
      const below = factor[i] as number[];
      const rest = below.reduce((sum, entry, k) => (k < j ? sum - entry * (row[k] as number) : sum), (matrix[i] as number[])[j] as number);
      requireThat(root > 0 || Math.abs(rest) < Math.sqrt(PIVOT), kernel, "correlations", `possible together (those of ${names[i]} and ${names[j]} are not)`, correlations);
      below[j] = root > 0 ? rest / root : 0;
    }
  }
  return factor;
};

/** Value of an input at a share of its population. */
const quantileOf = (input: Uncertain): ((share: number) => number) => {
  const { value, give, shape = "normal", from = -Infinity, to = Infinity } = input;
  if (give === 0) return () => value;
  const { low, high } = endsOf(input);
  if (shape === "flat") return (share) => low + share * (high - low);
  const deviation = give / GIVE_OVER_DEVIATION;
  const below = normalShare((from - value) / deviation);
  const above = normalShare((to - value) / deviation);
  if (below === 0 && above === 1) return (share) => value + deviation * normalQuantile(share);
  // the outer bounds catch rounding only
  return (share) => Math.min(to, Math.max(from, value + deviation * normalQuantile(Math.min(BELOW_ONE, below + share * (above - below)))));
};

/** The inputs of run `index`, as a function of `index`. An input's stream is its place in the list, whatever its give. */
export const drawer = (kernel: string, inputs: UncertainInputs, correlations: readonly Correlation[], seed: number): ((index: number) => Record<string, number>) => {
  const names = Object.keys(inputs);
  const quantiles = Object.values(inputs).map(quantileOf);
  const factor = correlations.length === 0 ? [] : correlationFactor(kernel, names, correlations);
  const linked = factor.map((row, j) => row.some((entry, i) => i < j && entry !== 0));
  const fixed = Object.values(inputs).map(({ give }) => give === 0);
  const shareOf = (index: number, j: number): number => {
    if (linked[j] !== true) return uniform(seed, index, j);
    const score = (factor[j] as readonly number[]).reduce((sum, entry, i) => (entry === 0 ? sum : sum + entry * normalQuantile(uniform(seed, index, i))), 0);
    return Math.min(BELOW_ONE, Math.max(Number.MIN_VALUE, normalShare(score)));
  };
  return (index) => {
    const drawn: Record<string, number> = {};
    for (let j = 0; j < names.length; j++) drawn[names[j] as string] = (quantiles[j] as (share: number) => number)(fixed[j] === true ? 0.5 : shareOf(index, j));
    return drawn;
  };
};
