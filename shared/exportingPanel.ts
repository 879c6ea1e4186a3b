/** What is taken away from the view: the picture as it is, and a scene in slow motion. */
import { setText } from "./elements/live.ts";
import { checkPlate } from "./export/checks.ts";
import { instantText, stateText, stillName } from "./export/fileNames.ts";
import type { Painter } from "./export/paint.ts";
import { type Ground, HEIGHT, type Plate, type Size, SIZES, WIDTH, writePlate } from "./export/plate.ts";
import { countOf, decimal, less, type Ratio, ratio, RATES, times, type Timing, toMicro, valueOf } from "./export/rate.ts";
import { type FramesWanted, type Judged, makeFrames, MOST_FRAMES } from "./exportingFrames.ts";
import { extensionOf, makeVideo, videoType } from "./exportingVideo.ts";
import { keepFile, pngOf, rasterise } from "./exportingPictures.ts";
import type { Part } from "./onScreenParts.ts";
import { renderKeep } from "./render/keep.ts";
import { slowness } from "./render/scene.ts";
import { formatNumber } from "./state/numbers.ts";

/** What the view shows now. */
export interface OnShow {
  readonly part: Part;
  readonly slug: string;
  /** As in a share link. */
  readonly link: string;
  readonly version: string;
  readonly locale: string;
  readonly instant: number;
  /** Of the scene, in seconds of its own clock; 0 of a still. */
  readonly duration: number;
  readonly touch: number;
  readonly ground: Ground;
  readonly painter: Painter;
  readonly plateAt: (instant: number) => Plate;
}

const THOUSANDTH = ratio(1n, 1000n);

export class ExportingPanel {
  readonly #place: HTMLElement;
  readonly #now: () => OnShow | undefined;
  #abort: AbortController | undefined;

  constructor(place: HTMLElement, now: () => OnShow | undefined) {
    this.#place = place;
    this.#now = now;
    place.innerHTML = renderKeep(Object.keys(RATES), videoType() !== undefined);
    place.addEventListener("click", (event) => {
      const button = (event.target as Element).closest<HTMLButtonElement>("[data-keep]");
      if (button) void this.#do(button.dataset["keep"] as string);
    });
    place.addEventListener("input", () => this.#count());
  }

  /** Frames are being drawn. */
  get busy(): boolean {
    return this.#abort !== undefined;
  }

  cancel(): void {
    this.#abort?.abort(new Error("Cancelled; nothing was kept."));
  }

  /** The view shows something else. */
  update(): void {
    const now = this.#now();
    const moving = (now?.duration ?? 0) > 0;
    this.#find(".motion").hidden = !moving;
    const slowed = this.#find<HTMLInputElement>(".slowed");
    if (now && moving && slowed.value === "") slowed.value = String(slowness(now.duration));
    if (now && moving) {
      this.#find<HTMLInputElement>(".from").placeholder = formatNumber(-now.touch * 1000, 0, now.locale);
      this.#find<HTMLInputElement>(".to").placeholder = formatNumber((now.duration - now.touch) * 1000, 0, now.locale);
    }
    this.#count();
  }

  #find<E extends HTMLElement>(selector: string): E {
    return this.#place.querySelector<E>(selector) as E;
  }

  #say(text: string): void {
    setText(this.#find(".kept"), text);
  }

  /** What is asked for, or the reason why it cannot be had. */
  #timing(now: OnShow): Timing | string {
    const rate = RATES[this.#find<HTMLSelectElement>(".rate").value] as Ratio;
    const typed = (selector: string): Ratio | undefined => decimal(this.#find<HTMLInputElement>(selector).value.replace(",", ".").replace("\u2212", "-"));
    const at = (selector: string, whole: number): Ratio | undefined => {
      if (this.#find<HTMLInputElement>(selector).value.trim() === "") return toMicro(whole);
      const read = typed(selector);
      return read && times(read, THOUSANDTH);
    };
    const slowed = typed(".slowed");
    if (slowed === undefined || slowed.over <= 0n) return "Slowed must be a number above 0.";
    const [first, last] = [-now.touch, now.duration - now.touch];
    const [from, to] = [at(".from", first), at(".to", last)];
    if (from === undefined || to === undefined) return "From and to must be numbers, in milliseconds.";
    if (valueOf(from) < first - 1e-6 || valueOf(to) > last + 1e-6 || less(to, from).over <= 0n) return `From and to must lie from ${formatNumber(first * 1000, 0, now.locale)} to ${formatNumber(last * 1000, 0, now.locale)} ms, the one before the other.`;
    const timing = { rate, slowed, from, to };
    const count = countOf(timing);
    if (count > MOST_FRAMES) return `That is ${count} frames; the page draws at most ${MOST_FRAMES}. The command line draws more.`;
    return timing;
  }

  #count(): void {
    const now = this.#now();
    if (now === undefined || now.duration === 0) return;
    const timing = this.#timing(now);
    const good = typeof timing !== "string";
    const count = good ? countOf(timing) : 0;
    setText(this.#find(".count"), good ? `${count} ${count === 1 ? "frame" : "frames"}, ${formatNumber(count / valueOf(timing.rate), 2, now.locale)} s on screen` : timing);
    for (const button of this.#place.querySelectorAll<HTMLButtonElement>(".motion > [data-keep]")) button.disabled = !good || this.busy;
  }

  async #do(action: string): Promise<void> {
    const now = this.#now();
    if (action === "cancel") return this.cancel();
    if (now === undefined || this.busy) return;
    try {
      if (action === "frames") await this.#motion(now, "zip", async (wanted) => {
        const { zip, ...found } = await makeFrames(wanted);
        return { file: zip, ...found };
      });
      else if (action === "video") await this.#video(now);
      else await this.#still(now, action as "svg" | Size);
    } catch (error) {
      this.#say(error instanceof Error ? error.message : String(error));
    }
  }

  async #still(now: OnShow, as: "svg" | Size): Promise<void> {
    const size: Size = as === "svg" ? "hd" : as;
    const plate = now.plateAt(now.instant);
    const svg = writePlate(plate, now.painter, now.ground, size);
    const shows = now.part.kind === "scene" && now.duration > 0 ? `${now.part.name}-${instantText(now.instant - now.touch)}` : now.part.name;
    const name = stillName({ slug: now.slug, shows, state: stateText(now.link), size, ground: now.ground, version: now.version });
    const file = as === "svg" ? new Blob([svg], { type: "image/svg+xml" }) : await pngOf(await rasterise(svg, WIDTH * SIZES[size], HEIGHT * SIZES[size]));
    const { cap, outside } = checkPlate(plate, size);
    keepFile(`${name}.${as === "svg" ? "svg" : "png"}`, file);
    this.#say(`Kept ${name}.${as === "svg" ? "svg" : "png"}. Capitals of ${cap} px or more; ${outside.length === 0 ? "all words are inside the graphics-safe area." : `outside the graphics-safe area: ${outside.map(({ words }) => words).join(", ")}.`}`);
  }

  async #video(now: OnShow): Promise<void> {
    const type = videoType();
    if (type === undefined) return;
    await this.#motion(now, extensionOf(type), async (wanted) => {
      const { video, ...found } = await makeVideo(wanted, type);
      return { file: video, ...found };
    });
  }

  /** Draws a sequence and offers the file, unless it would harm viewers. */
  async #motion(now: OnShow, extension: string, make: (wanted: FramesWanted) => Promise<Judged & { readonly file: Blob; readonly count: number }>): Promise<void> {
    const timing = this.#timing(now);
    if (typeof timing === "string") return this.#say(timing);
    const size = this.#find<HTMLSelectElement>(".size").value as Size;
    const rate = this.#find<HTMLSelectElement>(".rate").value;
    const bar = this.#find<HTMLProgressElement>("progress");
    this.#abort = new AbortController();
    const { signal } = this.#abort;
    const onProgress = (done: number, all: number): void => {
      bar.max = all;
      bar.value = done;
      setText(this.#find(".done"), `${done} of ${all}`);
    };
    onProgress(0, countOf(timing));
    this.#work(true);
    this.#say("");
    try {
      const { part, slug, version, touch, ground, painter, plateAt, link } = now;
      const { file, count, flashes, outside } = await make({ slug, scene: part.name, version, timing, touch, size, ground, painter, plateAt, state: link, onProgress, signal });
      const found = `Most flashes in a second: ${flashes.general.most} general, ${flashes.red.most} red. ${outside.length === 0 ? "All words are inside the graphics-safe area." : `Outside the graphics-safe area: ${outside.join(", ")}.`}`;
      if (!flashes.passes) throw new Error(`Nothing was kept: more than three flashes in a second are not for viewers. ${found} Slow the event further.`);
      const name = `${stillName({ slug, shows: `${part.name}-${rate}`, state: stateText(link), size, ground, version })}.${extension}`;
      keepFile(name, file);
      this.#say(`Kept ${name}: ${count} frames. ${found}`);
    } finally {
      this.#abort = undefined;
      this.#work(false);
    }
  }

  #work(on: boolean): void {
    this.#find(".progress").hidden = !on;
    this.#find<HTMLButtonElement>('[data-keep="cancel"]').disabled = !on;
    for (const button of this.#place.querySelectorAll<HTMLButtonElement>('[data-keep]:not([data-keep="cancel"])')) button.disabled = on;
    if (!on) this.#count();
  }
}
