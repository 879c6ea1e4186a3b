/** A scene in slow motion as numbered PNG, drawn on all cores; an interrupted sequence goes on where it stopped. */
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { availableParallelism } from "node:os";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { build } from "esbuild";
import { frameFile } from "../shared/export/fileNames.ts";
import { type Cells, type FlashReport, MOST_FLASHES } from "../shared/export/flash.ts";
import { type Ground, HEIGHT, isClear, type Plate, type Size, SIZES, WIDTH, writePlate } from "../shared/export/plate.ts";
import { countOf, instantOf, ratioText, type Timing, valueOf } from "../shared/export/rate.ts";
import { groundsOf, sequenceChecks, worstFlashes } from "../shared/exportingChecks.ts";
import { type FrameResult, type FrameTask, MARK } from "./frameWorker.ts";
import type { LessonAt } from "./oneLesson.ts";
import { clockOf, painterFor, planOf, scenePlate } from "./picture.ts";
import { Refusal } from "./refusal.ts";
import { faultsOf, headOf, shaOf, writeWhole } from "./stills.ts";

export const LIST = "frames.json";
const MOST_FRAMES = 1_000_000;
/** Tasks that a worker has in hand, so that none waits for the drawing. */
const IN_HAND = 2;

export interface FramesWanted {
  readonly at: LessonAt;
  readonly scene: string;
  /** `from` and `to` on the clock that a reader sees. */
  readonly timing: Timing;
  readonly title?: string;
  readonly part?: number;
  readonly size: Size;
  readonly ground: Ground;
  readonly out: string;
  readonly allowOutside?: boolean;
  readonly workers?: number;
  readonly onProgress?: (done: number, count: number, kept: number) => void;
  readonly signal?: AbortSignal;
}

export interface Frames {
  readonly count: number;
  /** Frames of an earlier run that were kept. */
  readonly kept: number;
  readonly flashes: FlashReport;
  readonly list: string;
  readonly warnings: readonly string[];
}

let code: Promise<string> | undefined;
const workerCode = (): Promise<string> =>
  (code ??= build({ entryPoints: [fileURLToPath(new URL(`./frameWorker${extname(import.meta.url)}`, import.meta.url))], bundle: true, write: false, format: "cjs", platform: "node", target: "node20", logLevel: "silent" }).then(({ outputFiles }) => outputFiles[0]?.text ?? ""));

export const makeFrames = async ({ at, scene, timing, size, ground, out, allowOutside = false, workers: asked = availableParallelism(), onProgress, signal, ...options }: FramesWanted): Promise<Frames> => {
  const { from, to, touch } = clockOf(at, scene);
  const [first, last] = [valueOf(timing.from), valueOf(timing.to)];
  if (!(first >= from - 1e-6 && last <= to + 1e-6 && first < last)) throw new Refusal(`--from and --to must lie from ${from.toFixed(4)} to ${to.toFixed(4)} s, the one before the other, got ${first} and ${last}`);
  const count = countOf(timing);
  if (count > MOST_FRAMES) throw new Refusal(`that is ${count} frames, more than ${MOST_FRAMES}; shorten the stretch or lower --slowed`);
  const [width, height] = [WIDTH * SIZES[size], HEIGHT * SIZES[size]];
  const fileOf = (frame: number): string => frameFile(at.slug, scene, frame, count);

  const paint = painterFor(ground);
  const plan = planOf(at, scene, options);
  const job = {
    ...headOf(at, size, ground),
    scene,
    ...options,
    frames: count,
    rate: ratioText(timing.rate),
    slowed: ratioText(timing.slowed),
    from: ratioText(timing.from),
    to: ratioText(timing.to),
    first: fileOf(0),
    last: fileOf(count - 1),
  };
  // What decides every pixel: all of the above, the code of the lesson, and the first and last drawing.
  const drawing = (frame: number): Plate => scenePlate(plan, Math.max(0, instantOf(timing, frame) + touch), paint);
  const svgOf = (frame: number): string => writePlate(drawing(frame), paint, ground, size);
  const checks = sequenceChecks(size);
  /** Looks at the words of a frame, drawn now or there from before. */
  const check = (frame: number): void => {
    const { outside } = faultsOf(checks.see(drawing(frame), frame));
    if (outside.length > 0 && !allowOutside) throw new Refusal(`frame ${frame + 1}: ${outside.join("; ")}; shorten the words, or add --allow-outside`);
  };
  // A sequence that cannot begin or end leaves nothing behind.
  for (const frame of new Set([0, count - 1])) check(frame);
  const hash = shaOf(JSON.stringify([job, at.hash, svgOf(0), svgOf(count - 1)]));

  mkdirSync(out, { recursive: true });
  const list = join(out, LIST);
  const here = readdirSync(out);
  for (const name of here) if (name.endsWith(".png.part")) rmSync(join(out, name));
  const pictures = here.filter((name) => name.endsWith(".png"));
  const before = existsSync(list) ? (JSON.parse(readFileSync(list, "utf8")) as { readonly job?: string }).job : undefined;
  if (before !== hash && pictures.length > 0) throw new Refusal(`${out} holds ${pictures.length} pictures of another sequence; empty it, or choose another folder by --out`);
  writeWhole(list, `${JSON.stringify({ job: hash, finished: false, ...job }, null, 2)}\n`);
  const known = new Set(pictures);

  const cells: (readonly Cells[])[] = [];
  const grounds = groundsOf(ground);
  let kept = 0;
  const script = await workerCode();
  const workers = Array.from({ length: Math.max(1, Math.min(asked, count)) }, () => new Worker(script, { eval: true, workerData: { mark: MARK, from: import.meta.url } }));
  try {
    await new Promise<void>((done, fail) => {
      let [next, finished] = [0, 0];
      const send = (worker: Worker, frame: number, anew: boolean): void => {
        const task: FrameTask = { frame, file: join(out, fileOf(frame)), width, height, grounds, ...(anew ? { svg: svgOf(frame) } : {}) };
        worker.postMessage(task);
      };
      const feed = (worker: Worker): void => {
        if (next >= count) return;
        const frame = next++;
        check(frame);
        send(worker, frame, !known.has(fileOf(frame)));
      };
      const stopped = (): void => fail(signal?.reason as Error);
      signal?.addEventListener("abort", stopped, { once: true });
      if (signal?.aborted) return stopped();
      for (const worker of workers) {
        worker.on("error", fail);
        worker.on("exit", () => finished < count && fail(new Error("frames: a worker ended before its work was done")));
        worker.on("message", (result: FrameResult) => {
          try {
            if ("error" in result) throw new Error(`frame ${result.frame + 1}: ${result.error}`);
            if ("unusable" in result) {
              known.delete(fileOf(result.frame));
              return send(worker, result.frame, true);
            }
            cells[result.frame] = result.cells;
            if (known.has(fileOf(result.frame))) kept++;
            finished++;
            onProgress?.(finished, count, kept);
            if (signal?.aborted) return;
            if (finished === count) done();
            else feed(worker);
          } catch (error) {
            fail(error as Error);
          }
        });
      }
      try {
        for (let k = 0; k < IN_HAND; k++) for (const worker of workers) feed(worker);
      } catch (error) {
        fail(error as Error);
      }
    });
  } finally {
    await Promise.all(workers.map((worker) => worker.terminate()));
  }

  const perSecond = valueOf(timing.rate);
  const flashes = worstFlashes(grounds.map((_, k) => cells.map((each) => each[k] as Cells)), perSecond);
  const checked = checks.report();
  const flashRule = `more than ${MOST_FLASHES} general or red flashes in a second over a quarter of the picture fail (W3C WCAG 2.2, from memory; ITU-R BT.1702, as quoted by others)`;
  // What is not for viewers is never called finished.
  writeWhole(list, `${JSON.stringify({ job: hash, finished: flashes.passes, ...job, seconds: count / perSecond, checks: { ...checked, flashes: { ...flashes, rule: flashRule, ...(isClear(ground) && { over: "black and white" }) } } }, null, 2)}\n`);
  const since = (fault: { readonly frame: number }, words: readonly string[]): string[] => words.map((each) => `from frame ${fault.frame}: ${each}`);
  const warnings = [
    ...checked.outside.flatMap((fault) => since(fault, faultsOf({ ...checked, outside: [fault] }).outside)),
    ...checked.small.flatMap((fault) => since(fault, faultsOf({ ...checked, small: [fault] }).small)),
  ];
  return { count, kept, flashes, list, warnings };
};
