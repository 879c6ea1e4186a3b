/** A scene in slow motion as numbered PNG in a zip: counted, numbered and timed as by the command line, drawn by the browser. */
import { Zip, ZipPassThrough } from "fflate";
import { checkPlate } from "./export/checks.ts";
import { type Cells, cellsOf, checkFlashes, type FlashReport } from "./export/flash.ts";
import { frameFile } from "./export/fileNames.ts";
import type { Painter } from "./export/paint.ts";
import { type Ground, HEIGHT, type Plate, type Size, SIZES, WIDTH, writePlate } from "./export/plate.ts";
import { countOf, instantOf, ratioText, type Timing, valueOf } from "./export/rate.ts";
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
  readonly version: string;
  /** On the reader's clock, which shows 0 at `touch` of the scene. */
  readonly timing: Timing;
  readonly touch: number;
  readonly size: Size;
  readonly ground: Ground;
  readonly painter: Painter;
  readonly plateAt: (instant: number) => Plate;
  readonly state: string;
  readonly onProgress: (done: number, count: number) => void;
  readonly signal: AbortSignal;
}

/** What was found in a sequence. */
export interface Judged {
  readonly flashes: FlashReport;
  /** Words out of the graphics-safe area of any frame. */
  readonly outside: readonly string[];
}

export interface KeptFrames extends Judged {
  readonly zip: Blob;
  readonly count: number;
}

/** Over which greys a picture without a ground is judged: it may stand over any. */
const groundsOf = (ground: Ground): number[] => (ground === "none" ? [0, 255] : [0]);

const worstOf = (reports: readonly FlashReport[]): FlashReport => {
  const worst = (of: (report: FlashReport) => number): number => Math.max(...reports.map(of));
  return { general: { most: worst(({ general }) => general.most), area: worst(({ general }) => general.area) }, red: { most: worst(({ red }) => red.most), area: worst(({ red }) => red.area) }, passes: reports.every(({ passes }) => passes) };
};

/** Looks at each frame as it was drawn. */
export const judge = ({ ground, size, timing }: Pick<FramesWanted, "ground" | "size" | "timing">): { readonly see: (canvas: HTMLCanvasElement, plate: Plate) => void; readonly verdict: () => Judged } => {
  const grounds = groundsOf(ground);
  const cells: Cells[][] = grounds.map(() => []);
  const outside = new Set<string>();
  return {
    see: (canvas, plate) => {
      for (const { words, by } of checkPlate(plate, size).outside) outside.add(`\u201c${words}\u201d by ${by} px`);
      const { width, height } = canvas;
      const { data } = (canvas.getContext("2d") as CanvasRenderingContext2D).getImageData(0, 0, width, height);
      const pixels = new Uint8Array(data.buffer);
      grounds.forEach((grey, k) => cells[k]?.push(cellsOf(pixels, width, height, grey)));
    },
    verdict: () => ({ flashes: worstOf(cells.map((each) => checkFlashes(each, valueOf(timing.rate)))), outside: [...outside] }),
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
    await rasterise(svg, width, height, canvas);
    judged.see(canvas, plate);
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
    state,
    width,
    height,
    ground,
    alpha: ground === "none" ? "straight" : "opaque",
    colour: "sRGB",
    frames: count,
    rate: ratioText(timing.rate),
    slowed: ratioText(timing.slowed),
    from: ratioText(timing.from),
    to: ratioText(timing.to),
    first: frameFile(slug, scene, 0, count),
    last: frameFile(slug, scene, count - 1, count),
    seconds: count / perSecond,
    checks: found,
  };
  add("frames.json", new TextEncoder().encode(`${JSON.stringify(list, null, 2)}\n`));
  zip.end();
  return { zip: new Blob([...parts, ...pieces], { type: "application/zip" }), count, ...found };
};
