/** A scene in slow motion as numbered PNG in a zip: counted, numbered and timed as by the command line, drawn by the browser. */
import { Zip, ZipPassThrough } from "fflate";
import { type Cells, cellsOf, type FlashReport } from "./export/flash.ts";
import { frameFile } from "./export/fileNames.ts";
import type { Painter } from "./export/paint.ts";
import { type Ground, HEIGHT, isClear, type Plate, type Size, SIZES, WIDTH, writePlate } from "./export/plate.ts";
import { countOf, instantOf, ratioText, type Timing, valueOf } from "./export/rate.ts";
import { groundsOf, outsideText, sequenceChecks, type SequenceReport, worstFlashes } from "./exportingChecks.ts";
import { pngOf, rasterise } from "./exportingPictures.ts";

/** What a zip without extensions can hold, with room for its own lists [bytes]. */
const LARGEST = 4_000_000_000;
/** More would keep a browser busy for an hour: the command line is for that. */
export const MOST_FRAMES = 6000;
/** Files of a zip carry a time; one that never changes. */
const THEN = new Date(1980, 0, 1);
/** Pieces handed to the browser together, so that it may put them on disk. */
const PIECES = 64;

export interface FramesWanted {
  readonly slug: string;
  readonly scene: string;
  /** Of the scene, from 1; left out, the whole. */
  readonly part?: number | undefined;
  readonly version: string;
  /** On the reader's clock, which shows 0 at `touch` of the scene. */
  readonly timing: Timing;
  readonly touch: number;
  readonly size: Size;
  readonly ground: Ground;
  readonly painter: Painter;
  readonly plateAt: (instant: number) => Plate;
  /** Words may leave the graphics-safe area. */
  readonly allowOutside: boolean;
  readonly state: string;
  readonly onProgress: (done: number, count: number) => void;
  readonly signal: AbortSignal;
}

/** What was found in a sequence. */
export interface Judged {
  readonly flashes: FlashReport;
  readonly words: SequenceReport;
}

export interface KeptFrames extends Judged {
  readonly zip: Blob;
  readonly count: number;
}

/** Words of a picture are out of place. */
export class OutsideError extends Error {}

/** Looks at each frame before and after it is drawn. */
export interface Judge {
  /** Refuses words out of place, unless they are allowed. */
  readonly read: (plate: Plate, frame: number) => void;
  readonly see: (canvas: HTMLCanvasElement) => void;
  readonly verdict: () => Judged;
}

export const judge = ({ ground, size, timing, allowOutside }: Pick<FramesWanted, "ground" | "size" | "timing" | "allowOutside">): Judge => {
  const grounds = groundsOf(ground);
  const cells: Cells[][] = grounds.map(() => []);
  const checks = sequenceChecks(size);
  return {
    read: (plate, frame) => {
      const { outside } = checks.see(plate, frame);
      if (outside.length > 0 && !allowOutside) throw new OutsideError(`Frame ${frame + 1} has words outside the graphics-safe area: ${outsideText(outside)}.`);
    },
    see: (canvas) => {
      const { width, height } = canvas;
      const { data } = (canvas.getContext("2d") as CanvasRenderingContext2D).getImageData(0, 0, width, height);
      const pixels = new Uint8Array(data.buffer);
      grounds.forEach((grey, k) => cells[k]?.push(cellsOf(pixels, width, height, grey)));
    },
    verdict: () => ({ flashes: worstFlashes(cells, valueOf(timing.rate)), words: checks.report() }),
  };
};

/** A pause in which the page draws and answers. */
const pause = (): Promise<void> => new Promise((done) => setTimeout(done));

/** SVG text of each frame: the same as the command line draws. */
export const frameSvg = ({ timing, touch, plateAt, painter, ground, size }: Omit<FramesWanted, "onProgress" | "signal">, frame: number): { readonly svg: string; readonly plate: Plate } => {
  const plate = plateAt(Math.max(0, instantOf(timing, frame) + touch));
  return { svg: writePlate(plate, painter, ground, size), plate };
};

export const makeFrames = async (wanted: FramesWanted): Promise<KeptFrames> => {
  const { slug, scene, version, timing, size, ground, state, onProgress, signal } = wanted;
  const [width, height] = [WIDTH * SIZES[size], HEIGHT * SIZES[size]];
  const count = countOf(timing);
  const judged = judge(wanted);

  let pieces: BlobPart[] = [];
  const parts: Blob[] = [];
  let [bytes, failed] = [0, undefined as Error | undefined];
  const zip = new Zip((error, chunk) => {
    if (error) failed = error;
    pieces.push(chunk as Uint8Array<ArrayBuffer>);
    bytes += chunk.length;
    if (pieces.length < PIECES) return;
    parts.push(new Blob(pieces));
    pieces = [];
  });
  const add = (name: string, content: Uint8Array): void => {
    // A PNG is packed already.
    const file = new ZipPassThrough(name);
    file.mtime = THEN;
    zip.add(file);
    file.push(content, true);
    if (failed) throw failed;
    if (bytes > LARGEST) throw new Error("the frames are more than a zip holds; keep a shorter stretch, or draw them on the command line");
  };

  const canvas = document.createElement("canvas");
  for (let frame = 0; frame < count; frame++) {
    signal.throwIfAborted();
    const { svg, plate } = frameSvg(wanted, frame);
    judged.read(plate, frame);
    await rasterise(svg, width, height, canvas);
    judged.see(canvas);
    add(frameFile(slug, scene, frame, count), new Uint8Array(await (await pngOf(canvas)).arrayBuffer()));
    onProgress(frame + 1, count);
    await pause();
  }
  signal.throwIfAborted();

  const perSecond = valueOf(timing.rate);
  const found = judged.verdict();
  const list = {
    made: `ridedown ${version}, on the page`,
    drawnBy: "the browser: the same drawing as the command line's, whose edges may differ by a shade",
    lesson: slug,
    scene,
    ...(wanted.part !== undefined && { part: wanted.part }),
    state,
    width,
    height,
    ground,
    alpha: isClear(ground) ? "straight" : "opaque",
    colour: "sRGB",
    frames: count,
    rate: ratioText(timing.rate),
    slowed: ratioText(timing.slowed),
    from: ratioText(timing.from),
    to: ratioText(timing.to),
    first: frameFile(slug, scene, 0, count),
    last: frameFile(slug, scene, count - 1, count),
    seconds: count / perSecond,
    checks: { ...found.words, flashes: found.flashes },
  };
  add("frames.json", new TextEncoder().encode(`${JSON.stringify(list, null, 2)}\n`));
  zip.end();
  return { zip: new Blob([...parts, ...pieces], { type: "application/zip" }), count, ...found };
};
