/** A scene with its clock: play, pause, step, scrub, slow motion. Nothing moves until asked. */
import type { Drawing } from "../drawing.ts";
import type { Scene } from "../lesson.ts";
import { formatNumber } from "../state/numbers.ts";
import { serialise } from "../svg.ts";
import { type View, writeOf } from "../view.ts";
import { escape } from "./html.ts";

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

/** The clock as it is read: instant, and how long the event is. */
export const clockText = (instant: number, duration: number, locale: string): string => `${ms(instant, locale)} of ${ms(duration, locale)}`;

const clockBar = (view: View, duration: number, id: string): string => {
  const [small, large] = clockSteps(duration);
  const step = (seconds: number): string =>
    `<button type="button" data-step="${seconds}" disabled aria-label="${seconds < 0 ? "Back" : "Forward"} ${ms(Math.abs(seconds), view.locale)}">${seconds < 0 ? "\u2212" : "+"}${ms(Math.abs(seconds), view.locale)}</button>`;
  const chosen = slowness(duration);
  return (
    `<div class="clock" role="group" aria-label="Time of the event"><button type="button" class="play" data-do="play" disabled aria-pressed="false">Play</button>${step(-large)}${step(-small)}` +
    `<label class="scrub"><span class="visually-hidden">Instant</span><input type="range" id="${id}-scrub" min="0" max="${Math.round(duration * 1000)}" step="1" value="0" disabled aria-valuetext="${escape(clockText(0, duration, view.locale))}"></label>` +
    `${step(small)}${step(large)}<output class="time" for="${id}-scrub">${escape(clockText(0, duration, view.locale))}</output>` +
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
    `<lesson-scene id="${id}" data-scene="${name}"><figure><figcaption><span class="title" id="${id}-title">${escape(scene.title)}</span><span class="alt">${escape(alt)}</span></figcaption>` +
    `<div class="board">${drawing("wide")}${drawing("narrow")}</div>${duration > 0 ? clockBar(view, duration, id) : ""}` +
    `<p class="says" id="${id}-says">${escape(scene.describe(view.state, 0, write))}</p></figure></lesson-scene>`
  );
};
