import { requirePositive, requireThat } from "../check.ts";
import { combined } from "./combinedUncertainty.ts";
import { type Correlation, deviationOf, GIVE_OVER_DEVIATION, requireCorrelations, requireInputs, requireRun, type Run, type UncertainInputs } from "./uncertain.ts";

const DEFAULT_STEP = 0.1;

export interface PropagateInput {
  readonly run: Run;
  readonly inputs: UncertainInputs;
  readonly correlations?: readonly Correlation[];
  readonly step?: number;
}

export interface Contribution {
  /** Change of the output by a unit change of the input. */
  readonly sensitivity: number;
  /** Sensitivity times standard uncertainty of the input, signed. */
  readonly uncertainty: number;
  /** Of the sum of squares of all of these. */
  readonly share: number;
}

export interface Propagated {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly give: number;
  readonly contributions: Readonly<Record<string, Contribution>>;
}

/** Numbers of a result; none where it is an outcome. */
export const numbersOf = (result: object): Record<string, number> =>
  "outcome" in result && typeof result.outcome === "string" ? {} : Object.fromEntries(Object.entries(result).filter((entry): entry is [string, number] => typeof entry[1] === "number" && Number.isFinite(entry[1])));

/**
 * Uncertainty of each number of a result to first order: the law of propagation of uncertainty.
 *
 * Model: the result follows a straight line in each input over its uncertainty, with slopes by central differences over a share
 * of each standard uncertainty (one-sided at a bound, and where only one side gives a result). Not where a verdict turns or the
 * line bends within the give or take: study shows that. Works in the units of `run`.
 *
 * @param run pure function of named numbers
 * @param inputs of each: value, give >= 0, shape normal or flat, and bounds from and to, if any; standard uncertainty is that of the population cut at its bounds [1]
 * @param correlations first and second by name, coefficient between -1 and 1; not those left out [1]
 * @param step > 0, of each central difference as a share of the standard uncertainty, default 0.1 [1]
 * @returns outputs of each: value, standardUncertainty, give = 1.96 standardUncertainty [1]
 * @returns outputs.contributions by input: sensitivity, uncertainty (signed) and share of the sum of squares [1]
 * @throws RangeError outside those ranges, or where no step away from the values gives an output
 * @source gum, sections 5.1.3 and 5.2.2
 * @example propagate({ run: ({ a, b }) => ({ product: a * b }), inputs: { a: { value: 3, give: 0.196 }, b: { value: 4, give: 0 } } }).outputs.product.standardUncertainty // 0.4
 */
export const propagate = ({ run, inputs, correlations = [], step = DEFAULT_STEP }: PropagateInput) => {
  const kernel = "propagate";
  requireRun(kernel, run);
  requireInputs(kernel, inputs);
  requireCorrelations(kernel, Object.keys(inputs), correlations);
  requirePositive(kernel, "step", step);
  const values = Object.fromEntries(Object.entries(inputs).map(([name, { value }]) => [name, value]));
  const middle = numbersOf(run({ ...values }));
  const slopes = Object.entries(inputs).flatMap(([name, input]) => {
    const deviation = deviationOf(input);
    if (deviation === 0) return [];
    const low = Math.max(input.from ?? -Infinity, input.value - step * deviation);
    const high = Math.min(input.to ?? Infinity, input.value + step * deviation);
    return [{ name, deviation, low, high, below: numbersOf(run({ ...values, [name]: low })), above: numbersOf(run({ ...values, [name]: high })) }];
  });
  const outputs = Object.entries(middle).map(([output, value]): [string, Propagated] => {
    const uncertainties: Record<string, number> = {};
    const sensitivities: Record<string, number> = {};
    for (const { name, deviation, low, high, below, above } of slopes) {
      const [from, to] = [below[output] === undefined ? (inputs[name]?.value as number) : low, above[output] === undefined ? (inputs[name]?.value as number) : high];
      requireThat(to > from, kernel, `inputs.${name}.give`, `large enough for a step in ${name} that changes it and gives ${output}`, inputs[name]?.give);
      sensitivities[name] = ((above[output] ?? value) - (below[output] ?? value)) / (to - from);
      uncertainties[name] = sensitivities[name] * deviation;
    }
    const squares = Object.values(uncertainties).reduce((sum, u) => sum + u * u, 0);
    const among = correlations.filter(({ first, second }) => first in uncertainties && second in uncertainties);
    const standardUncertainty = combined(kernel, uncertainties, among);
    const contributions = Object.fromEntries(Object.entries(uncertainties).map(([name, uncertainty]): [string, Contribution] => [name, { sensitivity: sensitivities[name] as number, uncertainty, share: squares > 0 ? uncertainty ** 2 / squares : 0 }]));
    return [output, { value, standardUncertainty, give: GIVE_OVER_DEVIATION * standardUncertainty, contributions }];
  });
  return { outputs: Object.fromEntries(outputs) };
};
