/** One worker of a frame sequence: draws frames, or looks at those that are there, and says how bright each part of them is. */
import { readFileSync, renameSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { parentPort, workerData } from "node:worker_threads";
import { type Cells, cellsOf } from "../shared/export/flash.ts";
import type { Picture } from "../shared/export/png.ts";
import { drawPixels, pngOf, readPng, type Renderer } from "./raster.ts";

export interface FrameTask {
  readonly frame: number;
  readonly file: string;
  /** Left out where the file is there already. */
  readonly svg?: string;
  readonly width: number;
  readonly height: number;
  /** Grey grounds to judge it over. */
  readonly grounds: readonly number[];
}

export type FrameResult = { readonly frame: number } & ({ readonly cells: readonly Cells[] } | { readonly unusable: true } | { readonly error: string });

/** Fastest: a sequence is large, and is read once. */
const LEVEL = 1;

export const makeFrame = (Resvg: Renderer, { frame, file, svg, width, height, grounds }: FrameTask): FrameResult => {
  let picture: Picture | undefined;
  if (svg === undefined) {
    picture = readPng(readFileSync(file));
    if (picture === undefined || picture.width !== width || picture.height !== height) return { frame, unusable: true };
  } else {
    picture = drawPixels(Resvg, svg);
    if (picture.width !== width || picture.height !== height) throw new Error(`frame ${frame} came out ${picture.width} x ${picture.height}`);
    // Whole or not at all: an interruption leaves no file that looks done.
    const part = `${file}.part`;
    writeFileSync(part, pngOf(picture, LEVEL));
    renameSync(part, file);
  }
  const { pixels } = picture;
  return { frame, cells: grounds.map((ground) => cellsOf(pixels, width, height, ground)) };
};

/** Given to the workers, with the place that packages are found from. */
export const MARK = "frames";

const data = workerData as { readonly mark?: string; readonly from?: string } | null;
if (parentPort !== null && data?.mark === MARK && data.from !== undefined) {
  const port = parentPort;
  const { Resvg } = createRequire(data.from)("@resvg/resvg-js") as { Resvg: Renderer };
  port.on("message", (task: FrameTask) => {
    let result: FrameResult;
    try {
      result = makeFrame(Resvg, task);
    } catch (error) {
      result = { frame: task.frame, error: error instanceof Error ? error.message : String(error) };
    }
    port.postMessage(result);
  });
}
