/** One worker of a study: takes parts off a shared counter, runs them, and writes the numbers into shared memory. */
import { pathToFileURL } from "node:url";
import { parentPort, workerData } from "node:worker_threads";
import * as lib from "../lib/index.ts";
import { asRun } from "../lib/uncertainty/namedNumbers.ts";
import { drawRuns, type Sampling } from "../lib/uncertainty/runs.ts";
import type { Run } from "../lib/uncertainty/uncertain.ts";
import { evaluate, type InputValue, type Lesson } from "../shared/lesson.ts";

/** What is run: a kernel of lib at a template, its numbers replaced by name; or a built lesson at its present inputs. */
export type Task =
  | { readonly kernel: string; readonly template: object; readonly outputs: readonly string[] }
  | { readonly lesson: string; readonly present: Readonly<Record<string, InputValue>>; readonly outputs: readonly string[] };

export interface Job extends Sampling {
  readonly id: number;
  readonly task: Task;
  readonly runs: number;
  readonly chunk: number;
  /** Next run to take, and whether to stop. */
  readonly control: SharedArrayBuffer;
  /** A column of `runs` numbers for each input, then for each output; NaN where there is none. */
  readonly columns: SharedArrayBuffer;
}

/** Words of one part, by output; the outcomes beside them. Numbers are in the columns. */
export interface Part {
  readonly from: number;
  readonly to: number;
  readonly words: Readonly<Record<string, readonly (string | null)[]>>;
  readonly outcomes: readonly (string | null)[];
}

export type Message = { readonly id: number } & ({ readonly part: Part } | { readonly done: true } | { readonly error: unknown });

export const NEXT = 0;
export const STOP = 1;

export const kernelRun = (name: string, template: object, outputs: readonly string[]): Run => {
  const kernel = Object.hasOwn(lib, name) ? (lib as unknown as Record<string, unknown>)[name] : undefined;
  if (typeof kernel !== "function") throw new TypeError(`study: kernel must be a name that lib exports, got ${JSON.stringify(name)}`);
  return asRun(kernel as (input: never) => unknown, template, outputs);
};

/** Sentences are not written in a study: only numbers and verdicts count. */
const silent = (): string => "";

export const lessonRun = (lesson: Lesson, present: Readonly<Record<string, InputValue>>, outputs: readonly string[]): Run => (drawn) => {
  const state = evaluate(lesson, { ...present, ...drawn }, silent);
  return state.outcome === undefined ? Object.fromEntries(outputs.map((name) => [name, state.outputs[name]])) : { outcome: state.outcome };
};

const runOf = async (task: Task): Promise<Run> => {
  if ("kernel" in task) return kernelRun(task.kernel, task.template, task.outputs);
  const module = (await import(pathToFileURL(task.lesson).href)) as { default: Lesson };
  return lessonRun(module.default, task.present, task.outputs);
};

const work = async (job: Job, post: (message: Message) => void): Promise<void> => {
  const { id, runs, chunk } = job;
  const control = new Int32Array(job.control);
  const columns = new Float64Array(job.columns);
  const names = Object.keys(job.inputs);
  const run = await runOf(job.task);
  while (Atomics.load(control, STOP) === 0) {
    const from = Atomics.add(control, NEXT, chunk);
    if (from >= runs) break;
    const to = Math.min(runs, from + chunk);
    const part = drawRuns(run, job, from, to, "study");
    const write = (column: number, values: Float64Array | undefined): void => void (values && columns.set(values, column * runs + from));
    names.forEach((name, i) => write(i, part.inputs[name]));
    job.task.outputs.forEach((name, i) => write(names.length + i, part.numbers[name]));
    post({ id, part: { from, to, words: part.words, outcomes: part.outcomes } });
  }
};

/** Given to the workers of a study, so that this file can also be read elsewhere, for its types and runs. */
export const MARK = "study";

if (parentPort !== null && workerData === MARK) {
  const port = parentPort;
  const post = (message: Message): void => port.postMessage(message);
  port.on("message", (job: Job) => {
    work(job, post).then(
      () => post({ id: job.id, done: true }),
      (error: unknown) => post({ id: job.id, error }),
    );
  });
}
