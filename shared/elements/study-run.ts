/**
 * A study on the page: in workers started from the code that the page already has, or, where a browser gives none, in short
 * stretches between frames. Both ways give the same numbers.
 */
import { type StudySubject, studyOf, type Task, type TaskResult, tasksOf, type WholeStudy, wholeStudy } from "../card/wholeStudy.ts";
import type { Lesson } from "../lesson.ts";
import type { Order, Reply } from "../studyTool.ts";

/** What page.js leaves for scripts that come later. */
interface PageGlobal {
  /** The lesson's own script, as the function it came in. */
  readonly code?: (ridedown: unknown) => void;
  /** What `study.js` brings. */
  readonly studyCode?: () => void;
}

const page = (): PageGlobal => (globalThis as unknown as { ridedown: PageGlobal }).ridedown;

/** More would not be faster on a laptop, and would leave the page nothing. */
const MOST_WORKERS = 4;
/** A worker that has not answered by then never will. */
const PATIENCE = 4000;
/** Longest stretch between frames, in milliseconds. */
const STRETCH = 10;

export interface StudyWatch {
  readonly onProgress: (share: number) => void;
  readonly signal: AbortSignal;
}

let script: Promise<void> | undefined;

/** The rare tool, fetched once. */
const fetchTool = (): Promise<void> =>
  (script ??= new Promise((done, fail) => {
    const element = document.createElement("script");
    element.src = "study.js";
    element.addEventListener("load", () => done());
    element.addEventListener("error", () => fail(new Error("study.js is not there")));
    document.head.append(element);
  }));

/** The plain part of the inputs: code does not travel. */
const numbersOf = (lesson: Lesson): Order["numbers"] =>
  Object.fromEntries(Object.entries(lesson.inputs).map(([name, input]) => [name, Object.fromEntries(Object.entries(input).filter(([, value]) => typeof value === "number" || typeof value === "string"))]));

const started = (address: string, order: Order): Promise<Worker> =>
  new Promise((done, fail) => {
    const worker = new Worker(address);
    const late = setTimeout(() => {
      worker.terminate();
      fail(new Error("the worker does not answer"));
    }, PATIENCE);
    worker.addEventListener("message", () => (clearTimeout(late), done(worker)), { once: true });
    worker.addEventListener("error", (event) => {
      clearTimeout(late);
      worker.terminate();
      fail(new Error(event.message));
    });
    worker.postMessage(order);
  });

const startWorkers = async (subject: StudySubject): Promise<Worker[]> => {
  await fetchTool();
  const { code, studyCode } = page();
  if (code === undefined || studyCode === undefined) throw new Error("the page has no code to give away");
  const address = URL.createObjectURL(new Blob([`(${studyCode.toString()})();(${code.toString()})(ridedown);`], { type: "text/javascript" }));
  try {
    const order: Order = { numbers: numbersOf(subject.lesson), inputs: subject.inputs, outputs: subject.outputs, ...(subject.lesson.scale !== undefined && { scale: subject.lesson.scale }) };
    const count = Math.max(1, Math.min(MOST_WORKERS, navigator.hardwareConcurrency - 1));
    return await Promise.all(Array.from({ length: count }, () => started(address, order)));
  } finally {
    URL.revokeObjectURL(address);
  }
};

const inWorkers = (workers: readonly Worker[], subject: StudySubject, tasks: readonly Task[], { onProgress, signal }: StudyWatch): Promise<WholeStudy> =>
  new Promise((done, fail) => {
    const results: TaskResult[] = [];
    let next = 0;
    const give = (worker: Worker): void => {
      const task = tasks[next++];
      if (task !== undefined) worker.postMessage(task);
    };
    signal.addEventListener("abort", () => fail(signal.reason as Error));
    for (const worker of workers) {
      worker.addEventListener("message", ({ data }: MessageEvent<Reply>) => {
        if ("error" in data) return fail(new Error(data.error));
        if (!("result" in data)) return;
        results.push(data.result);
        onProgress(results.length / tasks.length);
        if (results.length === tasks.length) done(studyOf(subject, results));
        else give(worker);
      });
      worker.addEventListener("error", (event) => fail(new Error(event.message)));
      give(worker);
    }
  });

const onPage = (subject: StudySubject, runs: number, { onProgress, signal }: StudyWatch): Promise<WholeStudy> =>
  new Promise((done, fail) => {
    const work = wholeStudy(subject, runs);
    const stretch = (): void => {
      if (signal.aborted) return fail(signal.reason as Error);
      const begun = performance.now();
      try {
        for (;;) {
          const step = work.next();
          if (step.done === true) return done(step.value);
          if (performance.now() - begun < STRETCH) continue;
          onProgress(step.value);
          setTimeout(stretch);
          return;
        }
      } catch (error) {
        fail(error as Error);
      }
    };
    stretch();
  });

/** The whole study of a lesson at a state; rejects with the signal's reason when cancelled. */
export const runStudy = async (subject: StudySubject, runs: number, watch: StudyWatch): Promise<WholeStudy> => {
  let workers: Worker[];
  try {
    workers = await startWorkers(subject);
  } catch {
    return onPage(subject, runs, watch);
  }
  try {
    watch.signal.throwIfAborted();
    return await inWorkers(workers, subject, tasksOf(subject, runs), watch);
  } finally {
    for (const worker of workers) worker.terminate();
  }
};

