/** A scene with its clock: play, pause, step, scrub, slow motion. Nothing moves until asked. */
import type { Drawing } from "../drawing.ts";
import type { Scene, State } from "../lesson.ts";
import { formatNumber } from "../state/numbers.ts";
import { serialise } from "../svg.ts";
import { type View, writeOf } from "../view.ts";
import { escape } from "./html.ts";
import { renderOnScreen } from "./onScreen.ts";

export type Width = "wide" | "narrow";

/** Declared scene `name`. */
export const sceneOf = (view: View, name: string): Scene => {
  const scene = Object.hasOwn(view.lesson.scenes, name) ? view.lesson.scenes[name] : undefined;
  if (scene === undefined) throw new RangeError(`render: there is no scene ${name}`);
  return scene as unknown as Scene;
};

export const drawScene = (view: View, name: string, instant: number, width: Width): Drawing => sceneOf(view, name).draw(view.state, instant, width, writeOf(view));

/** How many times slower than the event; the page picks the one that makes the event last about this long. */
const SLOWER = [1, 2, 5, 10, 20, 50, 100, 200, 500];
const WATCHED_SECONDS = 6;
export const slowness = (duration: number): number => SLOWER.find((times) => times * duration >= WATCHED_SECONDS) ?? (SLOWER.at(-1) as number);

/** Steps of the buttons in seconds: 1 and 5 ms for a crash, more for an event of seconds. */
export const clockSteps = (duration: number): readonly [small: number, large: number] => (duration > 2 ? [0.02, 0.2] : [0.001, 0.005]);

const ms = (seconds: number, locale: string): string => `${formatNumber(seconds * 1000, 0, locale)}\u00a0ms`;

export interface ClockText {
  readonly now: string;
  /** What the clock goes through. */
  readonly whole: string;
  /** Both, as said aloud. */
  readonly spoken: string;
}

/** The clock as it is read. It counts from first touch where the scene has one, as the charts do: \u221256 ms of \u221256 \u2026 +228 ms. */
export const clockText = (scene: Scene, state: State, instant: number, locale: string): ClockText => {
  const duration = scene.duration(state);
  const touch = scene.touch?.(state) ?? 0;
  const now = ms(instant - touch, locale);
  if (touch === 0) return { now, whole: `of ${ms(duration, locale)}`, spoken: `${now} of ${ms(duration, locale)}` };
  const spoken = instant < touch ? `${ms(touch - instant, locale)} before first touch` : `${now} after first touch`;
  return { now, whole: `${formatNumber(-touch * 1000, 0, locale)}\u00a0\u2026\u00a0+${ms(duration - touch, locale)}`, spoken };
};

/** A caption with what can only be done with scripts set apart, so that paper and a page without scripts leave it out. */
const captionHtml = (alt: string): string =>
  alt
    .split(/(?<=[.!?])\s+/)
    .map((sentence) => (/^Drag\b/.test(sentence) ? `<span class="scripted-only">${escape(sentence)}</span>` : escape(sentence)))
    .join(" ");

const clockBar = (view: View, scene: Scene, id: string): string => {
  const duration = scene.duration(view.state);
  const text = clockText(scene, view.state, 0, view.locale);
  const [small, large] = clockSteps(duration);
  const step = (seconds: number): string =>
    `<button type="button" data-step="${seconds}" disabled aria-label="${seconds < 0 ? "Back" : "Forward"} ${ms(Math.abs(seconds), view.locale)}">${seconds < 0 ? "\u2212" : "+"}${ms(Math.abs(seconds), view.locale)}</button>`;
  const chosen = slowness(duration);
  return (
    `<div class="clock" role="group" aria-label="Time of the event"><button type="button" class="play" data-do="play" disabled aria-pressed="false">Play</button>${step(-large)}${step(-small)}` +
    `<label class="scrub"><span class="visually-hidden">Instant</span><input type="range" id="${id}-scrub" min="0" max="${Math.round(duration * 1000)}" step="1" value="0" disabled aria-valuetext="${escape(text.spoken)}"></label>` +
    `${step(small)}${step(large)}<output class="time" for="${id}-scrub"><span class="now">${escape(text.now)}</span> <span class="whole">${escape(text.whole)}</span></output>` +
    `<label class="slower">Slowed <select disabled>${SLOWER.map((times) => `<option value="${times}"${times === chosen ? " selected" : ""}>${times === 1 ? "not at all" : `${times} times`}</option>`).join("")}</select></label></div>`
  );
};

/** A scene at its first instant, drawn for wide and for narrow pages. */
export const renderScene = (view: View, name: string, alt: string, id: string): string => {
  const scene = sceneOf(view, name);
  const write = writeOf(view);
  const duration = scene.duration(view.state);
  const drawing = (width: Width): string => `<div class="picture ${width}" role="img" aria-labelledby="${id}-title" aria-describedby="${id}-says">${serialise(drawScene(view, name, 0, width))}</div>`;
  return (
    `<lesson-scene id="${id}" data-scene="${name}"><figure><figcaption><span class="title" id="${id}-title">${escape(scene.title)}</span><span class="alt">${captionHtml(alt)}</span></figcaption>` +
    `<div class="board">${drawing("wide")}${drawing("narrow")}</div>${duration > 0 ? clockBar(view, scene, id) : ""}` +
    `<p class="says" id="${id}-says">${escape(scene.describe(view.state, 0, write))}</p>${renderOnScreen(`scene:${name}`, id)}</figure></lesson-scene>`
  );
};
