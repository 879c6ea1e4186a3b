/** What is taken away from the view: the picture as it is, and a scene in slow motion. */
import { setText } from "./elements/live.ts";
import { checkPlate } from "./export/checks.ts";
import { instantText, stateText, stillName } from "./export/fileNames.ts";
import type { Painter } from "./export/paint.ts";
import { type Ground, HEIGHT, type Plate, type Size, SIZES, WIDTH, writePlate } from "./export/plate.ts";
import { countOf, decimal, less, type Ratio, ratio, RATES, times, type Timing, toMicro, valueOf } from "./export/rate.ts";
import { outsideText } from "./exportingChecks.ts";
import { type FramesWanted, type Judged, makeFrames, MOST_FRAMES, OutsideError } from "./exportingFrames.ts";
import { extensionOf, makeVideo, videoType } from "./exportingVideo.ts";
import { keepFile, pngOf, rasterise } from "./exportingPictures.ts";
import type { Part } from "./onScreenParts.ts";
import { renderKeep } from "./render/keep.ts";
import { slowness } from "./render/scene.ts";
import { formatNumber } from "./state/numbers.ts";

/** What the view shows now. */
export interface OnShow {
  readonly part: Part;
  /** What else can be shown of it, by their `part`. */
  readonly parts: readonly (number | undefined)[];
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

/** Which part is kept; offered where there are some. */
const WHICH = '<p class="which" hidden><label>Which <select></select></label></p>';
/** Offered once something was refused for it. */
const OVERRIDE = '<p class="override" hidden><label><input type="checkbox"> Keep it all the same, with words outside the graphics-safe area</label></p>';
const AGAIN = "Nothing was kept. Tick the box to keep it all the same, then ask again.";

const partText = (part: number | undefined, parts: readonly (number | undefined)[]): string => (part === undefined ? "the whole" : `part ${part} of ${parts.at(-1)}`);
const placeText = (outside: Parameters<typeof outsideText>[0]): string => (outside.length === 0 ? "All words are inside the graphics-safe area." : `Outside the graphics-safe area: ${outsideText(outside)}.`);
/** Words of a part in a file name. */
const fileText = (shows: string, { part }: Part): string => (part === undefined ? shows : `${shows}-part${part}`);
const sizeText = ({ cap, leastCap, small }: { readonly cap: number; readonly leastCap: number; readonly small: readonly { readonly words: string }[] }): string =>
  `Capitals of ${cap} px or more${small.length === 0 ? "" : `, under ${leastCap} px in ${small.map(({ words }) => `\u201c${words}\u201d`).join(", ")}`}.`;

export class ExportingPanel {
  readonly #place: HTMLElement;
  readonly #now: () => OnShow | undefined;
  #abort: AbortController | undefined;
  /** What the override was offered for. */
  #refused = "";

  /** `go` shows another part. */
  constructor(place: HTMLElement, now: () => OnShow | undefined, go: (part: number | undefined) => void) {
    this.#place = place;
    this.#now = now;
    place.innerHTML = renderKeep(Object.keys(RATES), videoType() !== undefined);
    this.#find("h2").insertAdjacentHTML("afterend", WHICH);
    this.#find(".kept").insertAdjacentHTML("afterend", OVERRIDE);
    this.#find(".which select").addEventListener("change", (event) => {
      const { value } = event.target as HTMLSelectElement;
      go(value === "" ? undefined : Number(value));
    });
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
    this.#which(now);
    if (now && this.#override.hidden === false && this.#refused !== fileText(now.part.name, now.part)) this.#offer(undefined);
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
    // On a phone it stands below what was pressed.
    if (text !== "") (this.#override.hidden ? this.#find(".kept") : this.#override).scrollIntoView({ block: "nearest" });
  }

  /** The parts that there are, and the one on show. */
  #which(now: OnShow | undefined): void {
    const parts = now?.parts ?? [];
    const place = this.#find(".which");
    place.hidden = parts.length < 2;
    if (now === undefined || place.hidden) return;
    const select = this.#find<HTMLSelectElement>(".which select");
    const options = parts.map((part) => new Option(partText(part, parts), String(part ?? "")));
    if (select.options.length !== options.length || options.some(({ text }, i) => text !== select.options[i]?.text)) select.replaceChildren(...options);
    select.value = String(now.part.part ?? "");
    // The frames under way are of the part that they began with.
    select.disabled = this.busy;
  }

  get #override(): HTMLElement {
    return this.#find(".override");
  }

  get #allowOutside(): boolean {
    return !this.#override.hidden && this.#find<HTMLInputElement>(".override input").checked;
  }

  /** The box that lets words leave the safe area, for this picture alone; or none. */
  #offer(refused: OnShow | undefined): void {
    this.#find<HTMLInputElement>(".override input").checked = false;
    this.#override.hidden = refused === undefined;
    this.#refused = refused === undefined ? "" : fileText(refused.part.name, refused.part);
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
      const said = error instanceof Error ? error.message : String(error);
      if (error instanceof OutsideError) this.#offer(now);
      this.#say(error instanceof OutsideError ? `${said} ${AGAIN}` : said);
    }
  }

  async #still(now: OnShow, as: "svg" | Size): Promise<void> {
    const size: Size = as === "svg" ? "hd" : as;
    const plate = now.plateAt(now.instant);
    const checks = checkPlate(plate, size);
    const { outside } = checks;
    if (outside.length > 0 && !this.#allowOutside) throw new OutsideError(`Words are outside the graphics-safe area: ${outsideText(outside)}.`);
    const svg = writePlate(plate, now.painter, now.ground, size);
    const shows = fileText(now.part.kind === "scene" && now.duration > 0 ? `${now.part.name}-${instantText(now.instant - now.touch)}` : now.part.name, now.part);
    const name = stillName({ slug: now.slug, shows, state: stateText(now.link), size, ground: now.ground, version: now.version });
    const file = as === "svg" ? new Blob([svg], { type: "image/svg+xml" }) : await pngOf(await rasterise(svg, WIDTH * SIZES[size], HEIGHT * SIZES[size]));
    keepFile(`${name}.${as === "svg" ? "svg" : "png"}`, file);
    this.#say(`Kept ${name}.${as === "svg" ? "svg" : "png"}. ${sizeText(checks)} ${placeText(outside)}`);
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
      const { file, count, flashes, words } = await make({ slug, scene: part.name, part: part.part, version, timing, touch, size, ground, painter, plateAt, allowOutside: this.#allowOutside, state: link, onProgress, signal });
      const found = `Most flashes in a second: ${flashes.general.most} general, ${flashes.red.most} red.`;
      if (!flashes.passes) throw new Error(`Nothing was kept: more than three flashes in a second are not for viewers. ${found} Slow the event further.`);
      const name = `${stillName({ slug, shows: fileText(`${part.name}-${rate}`, part), state: stateText(link), size, ground, version })}.${extension}`;
      keepFile(name, file);
      this.#say(`Kept ${name}: ${count} frames. ${found} ${sizeText(words)} ${placeText(words.outside)}`);
    } finally {
      this.#abort = undefined;
      this.#work(false);
    }
  }

  #work(on: boolean): void {
    this.#find(".progress").hidden = !on;
    this.#find<HTMLSelectElement>(".which select").disabled = on;
    this.#find<HTMLButtonElement>('[data-keep="cancel"]').disabled = !on;
    for (const button of this.#place.querySelectorAll<HTMLButtonElement>('[data-keep]:not([data-keep="cancel"])')) button.disabled = on;
    if (!on) this.#count();
  }
}
