/**
 * A draft video of a scene in slow motion, as far as the browser can record its own canvas. It records only while a frame stands
 * still for its time, so drawing may take as long as it does; the times are the browser's clock, near the rate and not exact.
 */
import { countOf, valueOf } from "./export/rate.ts";
import { SIZES, WIDTH, HEIGHT } from "./export/plate.ts";
import { type FramesWanted, frameSvg, type Judged, judge } from "./exportingFrames.ts";
import { rasterise } from "./exportingPictures.ts";

/** What editing programs open, the likeliest first. */
const TYPES = ["video/mp4;codecs=avc1.640033", "video/mp4;codecs=avc1.64002a", "video/webm;codecs=vp9", "video/webm;codecs=vp8"];
/** Bits for each pixel of a second: far more than lines on paper need. */
const BITS = 12;

/** What this browser can record, if anything. */
export const videoType = (): string | undefined =>
  typeof MediaRecorder === "undefined" || !("captureStream" in HTMLCanvasElement.prototype) || typeof CanvasCaptureMediaStreamTrack === "undefined" ? undefined : TYPES.find((type) => MediaRecorder.isTypeSupported(type));

export const extensionOf = (type: string): string => (type.startsWith("video/mp4") ? "mp4" : "webm");

const wait = (milliseconds: number): Promise<void> => new Promise((done) => setTimeout(done, milliseconds));

export interface KeptVideo extends Judged {
  readonly video: Blob;
  readonly count: number;
}

export const makeVideo = async (wanted: FramesWanted, type: string): Promise<KeptVideo> => {
  const { timing, size, ground, onProgress, signal } = wanted;
  // A video has no transparency: what has no ground stands on paper.
  const opaque: FramesWanted = { ...wanted, ground: ground === "none" ? "light" : ground };
  const [width, height] = [WIDTH * SIZES[size], HEIGHT * SIZES[size]];
  const count = countOf(timing);
  const period = 1000 / valueOf(timing.rate);
  const judged = judge(opaque);
  const canvas = document.createElement("canvas");
  await rasterise(frameSvg(opaque, 0).svg, width, height, canvas);
  const stream = canvas.captureStream(0);
  const track = stream.getVideoTracks()[0] as CanvasCaptureMediaStreamTrack;
  const recorder = new MediaRecorder(stream, { mimeType: type, videoBitsPerSecond: width * height * BITS });
  const pieces: Blob[] = [];
  const ended = new Promise<void>((done, fail) => {
    recorder.addEventListener("dataavailable", ({ data }) => pieces.push(data));
    recorder.addEventListener("stop", () => done());
    recorder.addEventListener("error", () => fail(new Error("this browser could not record the video")));
  });
  // Waited for below; a failure before that must not go unheard as nobody's.
  ended.catch(() => undefined);
  recorder.start();
  recorder.pause();
  try {
    let recorded = 0;
    for (let frame = 0; frame < count; frame++) {
      signal.throwIfAborted();
      const { svg, plate } = frameSvg(opaque, frame);
      judged.read(plate, frame);
      await rasterise(svg, width, height, canvas);
      judged.see(canvas);
      const begun = performance.now();
      recorder.resume();
      track.requestFrame();
      // The browser takes a frame when something is drawn.
      const context = canvas.getContext("2d") as CanvasRenderingContext2D;
      context.putImageData(context.getImageData(0, 0, 1, 1), 0, 0);
      // Each frame makes up for what the one before was late.
      await wait(Math.max(1, (frame + 1) * period - recorded));
      recorder.pause();
      recorded += performance.now() - begun;
      onProgress(frame + 1, count);
    }
  } finally {
    if (recorder.state !== "inactive") recorder.stop();
  }
  await ended;
  signal.throwIfAborted();
  return { video: new Blob(pieces, { type }), count, ...judged.verdict() };
};
