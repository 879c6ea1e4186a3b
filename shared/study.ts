/** The same `run` many times over the give or take of its inputs: what that leaves of each output. */
import { drawRuns, joinRuns, type StudyRuns } from "../lib/uncertainty/runs.ts";
import { summarise } from "../lib/uncertainty/summary.ts";
import type { UncertainInputs } from "../lib/uncertainty/uncertain.ts";
import { evaluate, type InputValue, type Lesson, type QuantityInput, type Write } from "./lesson.ts";

/** Low, likely and high of a number; how often each word of a verdict came up. */
export type OutputRange = { readonly low: number; readonly likely: number; readonly high: number } | { readonly counts: Readonly<Record<string, number>>; readonly runs: number };
export type Ranges = Readonly<Record<string, OutputRange>>;

/** Ends of a range settle to about a tenth of its width with so many; a study of its own takes thousands. */
export const PAGE_RUNS = 400;
const SEED = 1;
/** Runs between two looks at the clock. */
const STRETCH = 4;

/** Bounds that nature sets, not those of the slider: no mass or speed below nothing, no share beyond its ends. */
const bounds = ({ kind, from, to }: QuantityInput): { readonly from?: number; readonly to?: number } => (kind.id === "ratio" ? { from, to } : from >= 0 ? { from: 0 } : {});

/** The quantity inputs of a lesson with their give or take; choices and tables stand still. */
export const uncertainInputs = (lesson: Lesson, inputs: Readonly<Record<string, InputValue>>): UncertainInputs =>
  Object.fromEntries(Object.entries(lesson.inputs).flatMap(([name, input]) => (input.type === "quantity" ? [[name, { value: inputs[name] as number, give: input.give, ...(input.shape && { shape: input.shape }), ...bounds(input) }]] : [])));

/** Yields every few runs, so that a page can work in short stretches. A state that a kernel refuses is an outcome of its own. */
export function* rangeSearch(lesson: Lesson, inputs: Readonly<Record<string, InputValue>>, write: Write, runs: number = PAGE_RUNS): Generator<void, Ranges> {
  const run = (drawn: Readonly<Record<string, number>>): object => {
    try {
      const { outputs, outcome } = evaluate(lesson, { ...inputs, ...drawn }, write);
      return outcome === undefined ? outputs : { outcome };
    } catch (error) {
      return { outcome: error instanceof Error ? error.message : String(error) };
    }
  };
  const sampling = { inputs: uncertainInputs(lesson, inputs), seed: SEED };
  const parts: StudyRuns[] = [];
  for (let from = 0; from < runs; from += STRETCH) {
    parts.push(drawRuns(run, sampling, from, Math.min(runs, from + STRETCH)));
    yield;
  }
  const { ranges, counts } = summarise(joinRuns(parts));
  const found: Record<string, OutputRange> = {};
  for (const [name, { low, likely, high }] of Object.entries(ranges)) found[name] = { low, likely, high };
  for (const [name, words] of Object.entries(counts)) if (lesson.outputs[name]?.type === "verdict") found[name] = { counts: words, runs };
  return found;
}

/** `rangeSearch` run to its end. */
export const findRanges = (lesson: Lesson, inputs: Readonly<Record<string, InputValue>>, write: Write, runs: number = PAGE_RUNS): Ranges => {
  const search = rangeSearch(lesson, inputs, write, runs);
  for (;;) {
    const step = search.next();
    if (step.done) return step.value;
  }
};
