/**
 * How sure a lesson's numbers are: their ranges over the give or take of the inputs, which input moves each most, and where along
 * an input a verdict turns. Cut into tasks that anyone may do in any order: draws depend on seed, run and input alone.
 */
import { drawRuns, joinRuns, type StudyRuns } from "../../lib/uncertainty/runs.ts";
import { sensitivityBars } from "../../lib/uncertainty/sensitivityBars.ts";
import { summarise } from "../../lib/uncertainty/summary.ts";
import { endsOf, type Uncertain } from "../../lib/uncertainty/uncertain.ts";
import { evaluate, flipSearch, type InputValue, type Lesson } from "../lesson.ts";
import { uncertainInputs } from "../study.ts";

/** Runs of a study on the page and for a frozen card. */
export const STUDY_RUNS = 5000;
const SEED = 1;
/** Runs of one task: some ten to hundred milliseconds. */
const CHUNK = 100;

type Inputs = Readonly<Record<string, InputValue>>;

/** A lesson at a state, and the outputs that are asked about. */
export interface StudySubject {
  readonly lesson: Lesson;
  readonly inputs: Inputs;
  /** Numbers and verdicts. */
  readonly outputs: readonly string[];
}

export type Task = { readonly from: number; readonly to: number } | { readonly input: string };
export type TaskResult = { readonly runs: StudyRuns } | { readonly effect: Effect };

/** What one input does alone, the others at their values. */
export interface Effect {
  readonly input: string;
  /** Ends of its give or take. */
  readonly low: number;
  readonly high: number;
  /** Output -> the number at each end (null where there is none), and largest less smallest of these and the present one. */
  readonly bars: Readonly<Record<string, { readonly low: number | null; readonly high: number | null; readonly swing: number }>>;
  /** Verdict -> where it turns along the input's range, nearest to the present value; left out where it does not. */
  readonly turns: Readonly<Record<string, { readonly at: number; readonly below: string; readonly above: string }>>;
}

export interface WholeStudy {
  readonly runs: number;
  /** Why runs gave no result (an outcome, or a kernel's refusal) -> how many, the commonest first. */
  readonly without: Readonly<Record<string, number>>;
  readonly ranges: Readonly<Record<string, { readonly low: number; readonly likely: number; readonly high: number }>>;
  /** Verdict -> word -> runs that gave it, the commonest first. */
  readonly counts: Readonly<Record<string, Readonly<Record<string, number>>>>;
  /** Of every input that is not exact, in the order of the lesson. */
  readonly effects: readonly Effect[];
}

/** Sentences are not read in a study; writing them would cost more than computing. */
const silent = (): string => "";

const runOf =
  ({ lesson, inputs, outputs }: StudySubject) =>
  (drawn: Readonly<Record<string, number>>): object => {
    try {
      const state = evaluate(lesson, { ...inputs, ...drawn }, silent);
      return state.outcome === undefined ? Object.fromEntries(outputs.map((name) => [name, state.outputs[name]])) : { outcome: state.outcome };
    } catch (error) {
      return { outcome: error instanceof Error ? error.message : String(error) };
    }
  };

const varied = (subject: StudySubject): string[] => Object.entries(uncertainInputs(subject.lesson, subject.inputs)).flatMap(([name, { give }]) => (give > 0 ? [name] : []));

/** What there is to do. */
export const tasksOf = (subject: StudySubject, runs: number): Task[] => [
  ...Array.from({ length: Math.ceil(runs / CHUNK) }, (_, i) => ({ from: i * CHUNK, to: Math.min(runs, (i + 1) * CHUNK) })),
  ...varied(subject).map((input) => ({ input })),
];

/** Runs a stretch takes between two looks at the clock. */
const STRETCH = 4;

function* effectOf(subject: StudySubject, input: string): Generator<void, Effect> {
  const { lesson, inputs, outputs } = subject;
  const uncertain = uncertainInputs(lesson, inputs);
  const alone = Object.fromEntries(Object.entries(uncertain).map(([name, one]) => [name, name === input ? one : { ...one, give: 0 }]));
  const { bars } = sensitivityBars({ run: runOf(subject), inputs: alone });
  yield;
  const turns: Record<string, { at: number; below: string; above: string }> = {};
  const found = Object.entries(bars).flatMap(([name, [bar]]) => (bar === undefined ? [] : [[name, { low: bar.low.output, high: bar.high.output, swing: bar.swing }] as const]));
  // An input that moves no number is taken to turn no verdict.
  const moves = found.some(([, { swing }]) => swing > 0) || found.length === 0;
  for (const verdict of moves ? outputs : []) {
    const output = lesson.outputs[verdict];
    if (output?.type !== "verdict") continue;
    const declared = lesson.inputs[input];
    if (declared?.type !== "quantity") continue;
    const search = flipSearch(lesson, inputs, { type: "flip", kind: declared.kind, label: "", of: verdict, along: input }, silent);
    try {
      for (;;) {
        const step = search.next();
        if (step.done === true) {
          const { at, below, above } = step.value;
          if (at !== null) turns[verdict] = { at, below, above };
          break;
        }
        yield;
      }
    } catch {
      // A state along the way that a kernel refuses: where the verdict turns stays unsaid.
    }
  }
  const { low, high } = endsOf(uncertain[input] as Uncertain);
  return { input, low, high, bars: Object.fromEntries(found), turns };
}

/** One task, in short stretches. */
export function* doTask(subject: StudySubject, task: Task): Generator<void, TaskResult> {
  if ("input" in task) return { effect: yield* effectOf(subject, task.input) };
  const run = runOf(subject);
  const sampling = { inputs: uncertainInputs(subject.lesson, subject.inputs), seed: SEED };
  const parts: StudyRuns[] = [];
  for (let from = task.from; from < task.to; from += STRETCH) {
    parts.push(drawRuns(run, sampling, from, Math.min(task.to, from + STRETCH)));
    yield;
  }
  return { runs: joinRuns(parts) };
}

/** The results of all tasks as one study, whatever the order they came in. */
export const studyOf = (subject: StudySubject, results: readonly TaskResult[]): WholeStudy => {
  const runs = joinRuns(results.flatMap((result) => ("runs" in result ? [result.runs] : [])));
  const { ranges, counts, outcomes } = summarise(runs);
  const effects = results.flatMap((result) => ("effect" in result ? [result.effect] : []));
  const kept = <T>(record: Readonly<Record<string, T>>): Record<string, T> => Object.fromEntries(subject.outputs.flatMap((name) => (Object.hasOwn(record, name) ? [[name, record[name] as T]] : [])));
  return {
    runs: runs.to - runs.from,
    without: outcomes,
    ranges: Object.fromEntries(Object.entries(kept(ranges)).map(([name, { low, likely, high }]) => [name, { low, likely, high }])),
    counts: kept(counts),
    effects: varied(subject).flatMap((input) => effects.find((effect) => effect.input === input) ?? []),
  };
};

/** A study done here and now, a stretch at a time. */
export function* wholeStudy(subject: StudySubject, runs: number = STUDY_RUNS): Generator<number, WholeStudy> {
  const tasks = tasksOf(subject, runs);
  const results: TaskResult[] = [];
  for (const task of tasks) {
    const work = doTask(subject, task);
    for (;;) {
      const step = work.next();
      if (step.done === true) {
        results.push(step.value);
        break;
      }
      yield results.length / tasks.length;
    }
  }
  return studyOf(subject, results);
}

/** `wholeStudy` run to its end. */
export const findStudy = (subject: StudySubject, runs: number = STUDY_RUNS): WholeStudy => {
  const work = wholeStudy(subject, runs);
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
  }
};

/** Beside the largest swing, one of this share is rounding. */
const ROUNDING = 1e-9;

/** Inputs that move `output` alone, the one that moves it most first. */
export const rankingOf = (study: WholeStudy, output: string): { readonly effect: Effect; readonly low: number | null; readonly high: number | null; readonly swing: number }[] => {
  const bars = study.effects.flatMap((effect) => {
    const bar = Object.hasOwn(effect.bars, output) ? effect.bars[output] : undefined;
    return bar === undefined ? [] : [{ effect, ...bar }];
  });
  const largest = Math.max(0, ...bars.map(({ swing }) => swing));
  return bars.filter(({ swing }) => swing > ROUNDING * largest).sort((p, q) => q.swing - p.swing);
};
