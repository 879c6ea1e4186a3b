/** The rare tool `study.js`: what a worker needs to run a lesson many times. The lesson's own script follows it in the worker. */
import { doTask, type StudySubject, type Task, type TaskResult } from "./card/wholeStudy.ts";
import * as lesson from "./lesson.ts";
import * as scenario from "./scenario/index.ts";

/** The first message to a worker; every one after it is a task. */
export interface Order {
  /** Numbers and words of each input, as the page has them at its scale. */
  readonly numbers: Readonly<Record<string, Readonly<Record<string, number | string>>>>;
  readonly scale?: string;
  readonly inputs: StudySubject["inputs"];
  readonly outputs: readonly string[];
}

export type Reply = { readonly ready: true } | { readonly result: TaskResult } | { readonly error: string };

let declared: lesson.Lesson | undefined;
Object.assign(globalThis, { ridedown: { lesson, scenario, start: (given: lesson.Lesson) => void (declared = given) } });

let subject: StudySubject | undefined;
const port = globalThis as unknown as { postMessage: (reply: Reply) => void };

addEventListener("message", ({ data }: MessageEvent<Order | Task>) => {
  try {
    if (declared === undefined) throw new Error("the lesson did not come along");
    if ("outputs" in data) {
      const inputs = Object.fromEntries(Object.entries(declared.inputs).map(([name, input]) => [name, { ...input, ...data.numbers[name] } as lesson.Input]));
      subject = { lesson: { ...declared, inputs, ...(data.scale !== undefined && { scale: data.scale }) }, inputs: data.inputs, outputs: data.outputs };
      return port.postMessage({ ready: true });
    }
    if (subject === undefined) throw new Error("a task came before the order");
    const work = doTask(subject, data);
    for (;;) {
      const step = work.next();
      if (step.done === true) return port.postMessage({ result: step.value });
    }
  } catch (error) {
    port.postMessage({ error: error instanceof Error ? error.message : String(error) });
  }
});
