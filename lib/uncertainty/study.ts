import { drawRuns, requireWhole, type Sampling } from "./runs.ts";
import { type StudySummary, summarise } from "./summary.ts";
import type { Run } from "./uncertain.ts";

const MOST = 1_000_000;

export interface StudyInput extends Sampling {
  readonly run: Run;
  readonly runs: number;
}

/**
 * Ranges of a result over the give or take of its inputs, by running it many times.
 *
 * Model: each input is drawn from its population: normal with standard deviation give / 1.96, or flat within the give; cut at its
 * bounds (the population between them, not heaped at them); independent unless a correlation is declared, which links the normal
 * scores of two inputs. Draw k of input j depends on seed, k and j alone. Low, likely and high are the 2.5, 50 and 97.5
 * percentiles, on a straight line between the values at places floor and ceil of (n - 1) share. Says nothing of what `run`
 * itself leaves out. Works in the units of `run`.
 *
 * @param run pure function of named numbers; its numbers and words are collected; { outcome } in place of a result is counted
 * @param inputs of each: value, give >= 0, shape normal or flat, and bounds from and to, if any [1]
 * @param correlations first and second by name, coefficient between -1 and 1; not those left out [1]
 * @param seed whole number, 32 bits [1]
 * @param runs whole number, at least 1 [1]
 * @returns runs made [1]
 * @returns outcomes runs that ended in each outcome instead of a result [1]
 * @returns ranges of each number: low, likely, high, mean, deviation (with n - 1), and count of runs that gave it [1]
 * @returns counts of each word of each output that is a word [1]
 * @returns varianceShares of each number, input by input: their correlation, squared [1]
 * @throws RangeError outside those ranges, or for correlations that are not possible together
 * @source gum-supplement-1, sections 5.9 and 7
 * @source hyndman-fan-1996, definition 7
 * @example study({ run: ({ speed, time }) => ({ distance: speed * time }), inputs: { speed: { value: 15, give: 0.5 }, time: { value: 2, give: 0.1, shape: "flat" } }, seed: 1, runs: 1000 }).ranges.distance.count // 1000
 */
export const study = ({ run, runs, ...sampling }: StudyInput): StudySummary => {
  requireWhole("study", "runs", runs, 1, MOST);
  return summarise(drawRuns(run, sampling, 0, runs, "study"));
};
