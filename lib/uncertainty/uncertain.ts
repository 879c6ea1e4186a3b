/** What is known of a number: its value, and how far off it may be. */
import { requireBetween, requireFinite, requireNonNegative, requireOneOf, requireThat } from "../check.ts";
import { normalShare } from "./normalShare.ts";

/** Give or take over standard deviation: 19 in 20 of a normal population lie within it. */
export const GIVE_OVER_DEVIATION = 1.96;

export const SHAPES = ["normal", "flat"] as const;

export interface Uncertain {
  readonly value: number;
  /** Give or take, >= 0: normal, the half-width one would bet on 19 times in 20; flat, the limit. */
  readonly give: number;
  /** normal where left out; flat: any value within the limit is as likely as any other. */
  readonly shape?: (typeof SHAPES)[number];
  /** Bounds that the quantity cannot pass; the population is cut there. */
  readonly from?: number;
  readonly to?: number;
}

export type UncertainInputs = Readonly<Record<string, Uncertain>>;

/** Correlation of two inputs, by name; of their normal scores where a shape is flat or cut. */
export interface Correlation {
  readonly first: string;
  readonly second: string;
  /** -1 to 1 */
  readonly coefficient: number;
}

/** Any pure function of named numbers. Numbers and words of its result count; `outcome` is a word that takes the place of a result. */
export type Run = (inputs: Readonly<Record<string, number>>) => object;

export const requireRun = (kernel: string, run: unknown): void => requireOneOf(kernel, "kind of run", typeof run, ["function"]);

export const requireInputs = (kernel: string, inputs: UncertainInputs): void => {
  requireOneOf(kernel, "kind of inputs", typeof inputs, ["object"]);
  for (const [name, { value, give, shape = "normal", from, to }] of Object.entries(inputs)) {
    const place = `inputs.${name}`;
    requireFinite(kernel, `${place}.value`, value);
    requireNonNegative(kernel, `${place}.give`, give);
    requireOneOf(kernel, `${place}.shape`, shape, SHAPES);
    if (from !== undefined) requireFinite(kernel, `${place}.from`, from);
    if (to !== undefined) requireFinite(kernel, `${place}.to`, to);
    requireBetween(kernel, `${place}.value`, value, from ?? -Infinity, to ?? Infinity);
  }
};

export const requireCorrelations = (kernel: string, names: readonly string[], correlations: readonly Correlation[]): void => {
  correlations.forEach(({ first, second, coefficient }, i) => {
    const place = `correlations[${i}]`;
    requireOneOf(kernel, `${place}.first`, first, names);
    requireOneOf(kernel, `${place}.second`, second, names.filter((name) => name !== first));
    requireBetween(kernel, `${place}.coefficient`, coefficient, -1, 1);
    const again = correlations.findIndex((other) => (other.first === first && other.second === second) || (other.first === second && other.second === first));
    requireThat(again === i, kernel, `${place}.coefficient`, `given once for ${first} and ${second}`, coefficient);
  });
};

/** The ends of the give or take, inside the bounds. */
export const endsOf = ({ value, give, from = -Infinity, to = Infinity }: Uncertain): { readonly low: number; readonly high: number } => ({
  low: Math.max(from, value - give),
  high: Math.min(to, value + give),
});

const density = (z: number): number => (Number.isFinite(z) ? Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI) : 0);
const moment = (z: number): number => (Number.isFinite(z) ? z * density(z) : 0);

/** Standard deviation of the population, cut at its bounds. */
export const deviationOf = (input: Uncertain): number => {
  const { value, give, shape = "normal", from = -Infinity, to = Infinity } = input;
  if (give === 0 || from === to) return 0;
  if (shape === "flat") {
    const { low, high } = endsOf(input);
    return (high - low) / Math.sqrt(12);
  }
  const deviation = give / GIVE_OVER_DEVIATION;
  const low = (from - value) / deviation;
  const high = (to - value) / deviation;
  const kept = normalShare(high) - normalShare(low);
  // bounds so near that the bell is level between them
  const LEVEL = 1e-3;
  if (high - low < LEVEL) return (to - from) / Math.sqrt(12);
  const shift = (density(low) - density(high)) / kept;
  return deviation * Math.sqrt(Math.max(0, 1 + (moment(low) - moment(high)) / kept - shift * shift));
};
