/**
 * Studies in worker threads: the same run many times, in parts, with progress and a way to stop. Which worker makes which part is
 * left to chance; draws depend on seed, run and input alone, and everything is summed in the order of the runs, so any number of
 * workers gives the same bits.
 */
import { availableParallelism } from "node:os";
import { extname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { build } from "esbuild";
import { joinRuns, requireSampling, requireWhole, type Sampling, type StudyRuns } from "../lib/uncertainty/runs.ts";
import { type StudySummary, summarise } from "../lib/uncertainty/summary.ts";
import type { UncertainInputs } from "../lib/uncertainty/uncertain.ts";
import { type InputValue, type Lesson, startOf } from "../shared/lesson.ts";
import { uncertainInputs } from "../shared/study.ts";
import { evaluateFence } from "./fence.ts";
import { BuildError } from "./problem.ts";
import { named, readLesson } from "./readLessons.ts";
import { readScenario } from "./scenario.ts";
import { DEMO, HOME } from "./site.ts";
import { type Job, MARK, type Message, type Part, STOP, type Task } from "./studyWorker.ts";

/** Runs a worker takes at a time: short enough to stop and to share out, long enough to be worth the message. */
const CHUNK = 250;
const MOST_RUNS = 1_000_000;
const MOST_WORKERS = 64;

export interface StudyRequest extends Sampling {
  readonly task: Task;
  readonly runs: number;
  readonly chunk?: number;
  readonly onProgress?: (done: number, runs: number) => void;
  readonly signal?: AbortSignal;
}

export interface Study {
  readonly runs: StudyRuns;
  readonly summary: StudySummary;
}

export interface Studies {
  /** One study at a time; the next waits. Rejects with the signal's reason when stopped. */
  readonly study: (request: StudyRequest) => Promise<Study>;
  readonly close: () => Promise<void>;
}

let code: Promise<string> | undefined;

/** The worker as one plain script, so that it runs the same wherever this file is run from. */
const workerCode = (): Promise<string> =>
  (code ??= build({
    entryPoints: [fileURLToPath(new URL(`./studyWorker${extname(import.meta.url)}`, import.meta.url))],
    bundle: true,
    write: false,
    format: "cjs",
    platform: "node",
    target: "node20",
    logLevel: "silent",
  }).then(({ outputFiles }) => outputFiles[0]?.text ?? ""));

const started = (script: string): Promise<Worker> =>
  new Promise((done, fail) => {
    const worker = new Worker(script, { eval: true, workerData: MARK });
    worker.once("online", () => done(worker));
    worker.once("error", fail);
  });

/** Starts the workers; they wait for studies until closed. */
export const startStudies = async (count = availableParallelism()): Promise<Studies> => {
  requireWhole("startStudies", "count", count, 1, MOST_WORKERS);
  const script = await workerCode();
  const workers = await Promise.all(Array.from({ length: count }, () => started(script)));
  let jobs = 0;
  let last: Promise<unknown> = Promise.resolve();
  let closed = false;
  // A worker that is gone would never answer.
  for (const worker of workers) worker.once("exit", () => (closed = true));

  const study = (request: StudyRequest): Promise<Study> => {
    const result = last.then(() => {
      if (closed) throw new Error("study: the workers are closed");
      return one(workers, ++jobs, request);
    });
    last = result.catch(() => undefined);
    return result;
  };
  const close = async (): Promise<void> => {
    await Promise.all(workers.map((worker) => worker.terminate()));
  };
  return { study, close };
};

const one = (workers: readonly Worker[], id: number, { task, runs, chunk = CHUNK, inputs, correlations = [], seed, onProgress, signal }: StudyRequest): Promise<Study> =>
  new Promise((done, fail) => {
    requireSampling("study", { inputs, correlations, seed });
    requireWhole("study", "runs", runs, 1, MOST_RUNS);
    requireWhole("study", "chunk", chunk, 1, MOST_RUNS);
    signal?.throwIfAborted();
    const names = Object.keys(inputs);
    const width = names.length + task.outputs.length;
    const job: Job = { id, task, runs, chunk, inputs, correlations, seed, control: new SharedArrayBuffer(8), columns: new SharedArrayBuffer(8 * width * runs) };
    const numbers = new Float64Array(job.columns).fill(NaN);
    const parts: Part[] = [];
    let made = 0;
    let busy = workers.length;
    let fault: { readonly error: unknown } | undefined;

    const stop = (): void => void Atomics.store(new Int32Array(job.control), STOP, 1);
    const failed = (error: unknown): void => {
      fault ??= { error };
      stop();
    };
    const end = (): void => {
      for (const [worker, { heard, died }] of listeners) worker.off("message", heard).off("error", died).off("exit", died);
      signal?.removeEventListener("abort", stop);
      if (fault) return fail(fault.error as Error);
      if (made < runs) return fail(signal?.reason as Error);
      const column = (i: number): Float64Array => numbers.slice(i * runs, (i + 1) * runs);
      const whole = wholeOf(parts, names.map((name, i) => [name, column(i)]), task.outputs.map((name, i) => [name, column(names.length + i)]));
      done({ runs: whole, summary: summarise(whole) });
    };
    const left = (): void => {
      busy -= 1;
      if (busy === 0) end();
    };
    const heard = (message: Message): void => {
      if (message.id !== id) return;
      if ("error" in message) failed(message.error);
      if (!("part" in message)) return left();
      parts.push(message.part);
      made += message.part.to - message.part.from;
      try {
        onProgress?.(made, runs);
      } catch (error) {
        failed(error);
      }
    };
    const listeners = new Map(
      workers.map((worker) => {
        let dead = false;
        const died = (reason: unknown): void => {
          if (dead) return;
          dead = true;
          failed(reason instanceof Error ? reason : new Error("study: a worker ended before its work was done"));
          left();
        };
        return [worker, { heard, died }];
      }),
    );
    signal?.addEventListener("abort", stop);
    for (const [worker, { died }] of listeners) {
      worker.on("message", heard).on("error", died).on("exit", died);
      worker.postMessage(job);
    }
  });

type Columns = readonly (readonly [string, Float64Array])[];

/** Columns and the words of the parts as the runs of one study; a column without any number is none. */
const wholeOf = (parts: readonly Part[], inputs: Columns, numbers: Columns): StudyRuns => {
  const words = joinRuns(parts.map((part) => ({ ...part, inputs: {}, numbers: {} })));
  return { ...words, inputs: Object.fromEntries(inputs), numbers: Object.fromEntries(numbers.filter(([, column]) => column.some((value) => !Number.isNaN(value)))) };
};

/** Outputs of a lesson that have a range or counts. */
export const studiedOutputs = (lesson: Lesson): string[] => Object.entries(lesson.outputs).flatMap(([name, { type }]) => (["quantity", "returned", "verdict"].includes(type) ? [name] : []));

export interface LessonStudy {
  readonly lesson: Lesson;
  readonly task: Task;
  readonly inputs: UncertainInputs;
}

/** A lesson, made ready to be studied at its start or at other inputs. */
export const lessonStudy = async (slug: string, { home = HOME, cache = join(home, ".cache"), lessons = join(home, "lessons"), scenario = join(home, DEMO), present = {} as Readonly<Record<string, InputValue>> } = {}): Promise<LessonStudy> => {
  const written = readLesson(join(lessons, `${slug}.md`));
  const reading = readScenario(scenario);
  if ("problems" in reading) throw new BuildError(reading.problems.map((p) => ({ ...p, file: named(resolve(p.file)) })));
  const { fence } = written.prose;
  if (fence === undefined) throw new BuildError(written.problems);
  const evaluated = await evaluateFence(fence, { home, cache, file: written.file, slug, scenario: reading.scenario });
  if ("problems" in evaluated) throw new BuildError(evaluated.problems);
  const { lesson, hash } = evaluated;
  const values = { ...startOf(lesson), ...present };
  return { lesson, task: { lesson: resolve(cache, "lessons", `${slug}.${hash}.mjs`), present: values, outputs: studiedOutputs(lesson) }, inputs: uncertainInputs(lesson, values) };
};
