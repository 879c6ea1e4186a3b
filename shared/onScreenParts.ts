/** What can be shown on screen of a lesson at a state: its parts, their instants to stop at, and their plates. */
import { cautionFor } from "./export/caution.ts";
import { figurePlate } from "./export/figurePlate.ts";
import { namesOf } from "./export/names.ts";
import type { Painter } from "./export/paint.ts";
import type { Plate, Role } from "./export/plate.ts";
import { planScene, type ScenePlan, scenePlate } from "./export/scenePlate.ts";
import { figureOf } from "./render/figure.ts";
import { sceneOf } from "./render/scene.ts";
import { type View, writeOf } from "./view.ts";

export interface Part {
  readonly kind: "scene" | "figure" | "range";
  readonly name: string;
  /** One part of a scene by itself, or one sheet of the ranges, from 1; left out, the whole. */
  readonly part?: number | undefined;
}

/** As a link names it. */
export const readPart = (text: string): Part => {
  const [kind, name = ""] = text.split(":") as [Part["kind"], string?];
  return { kind, name };
};

/** Whole microseconds, as the page's clock has them. */
const micro = (seconds: number): number => Math.round(seconds * 1e6) / 1e6;

/** Where a clicker stops: before, first touch, half way from there to the end, the end. A figure has one stop. */
export const stopsOf = (view: View, { kind, name }: Part): readonly number[] => {
  if (kind !== "scene") return [0];
  const scene = sceneOf(view, name);
  const duration = scene.duration(view.state);
  const touch = scene.touch?.(view.state) ?? 0;
  return [...new Set([0, touch, (touch + duration) / 2, duration].map(micro))].filter((at) => at >= 0 && at <= micro(duration)).sort((p, q) => p - q);
};

export interface Show {
  readonly part: Part;
  /** What a clicker goes through of it one after the other, by their `part`. */
  readonly parts: readonly (number | undefined)[];
  /** 0 where nothing can be stepped through. */
  readonly duration: number;
  readonly stops: readonly number[];
  /** Results covered: title, key and axes stand, and what was found is held back. */
  readonly at: (instant: number, painter: Painter, covered: boolean) => Plate;
}

/** Of a figure, what says how it came out: curves, and lines at what was found. */
const FOUND = /(?:^|\s)(?:line|area|end|dots|rule)(?:\s|$)/;
const foundIn = (classes: string): boolean => FOUND.test(classes);

type Nodes = Plate["art"];
const withoutFound = (nodes: Nodes): Nodes =>
  nodes.flatMap((each) => {
    if (foundIn(String(each.attributes["class"] ?? ""))) return [];
    return [{ ...each, children: withoutFound(each.children.filter((child): child is Nodes[number] => typeof child === "object")) }];
  });
const uncoveredOnly = ({ colours, paint }: Painter): Painter => ({ colours, paint: (nodes, root, thinnest) => paint(withoutFound(nodes), root, thinnest) });

/** Title, clock and scale, names and numbers of the axes, who is who, and what to beware of; not what is said of them. */
const BEFORE: readonly Role[] = ["title", "clock", "scale", "axis", "key", "caution"];
const coveredPlate = (plate: Plate): Plate => {
  const words = plate.words.filter(({ role }) => BEFORE.includes(role));
  return { ...plate, says: words.flatMap((line) => (line.role === "caution" ? [line.words] : [])).join(" "), words };
};

/** A still whose curves and marks are what was found. */
export const stillShow = (part: Part, parts: Show["parts"], draw: (painter: Painter) => Plate): Show => ({
  part,
  parts,
  duration: 0,
  stops: [0],
  at: (_, painter, covered) => (covered ? coveredPlate(draw(uncoveredOnly(painter))) : draw(painter)),
});

/** What a picture of this lesson carries with it, if anything. */
export const cautionOf = ({ needs }: View): string | undefined => cautionFor(needs ?? []);

const sameBand = (p: ScenePlan, q: ScenePlan): boolean => p.band[0] === q.band[0] && p.band[1] === q.band[1];

/** The whole and, where it leaves something out, each part by itself; where the first part is all that the whole has room for, the parts alone. */
const partsOf = (whole: ScenePlan, plan: (part: number) => ScenePlan): Show["parts"] => {
  if (whole.parts < 2 || (whole.whole && whole.leftOut.length === 0)) return [undefined];
  const each = Array.from({ length: whole.parts }, (_, i) => i + 1);
  return sameBand(whole, plan(1)) ? each : [undefined, ...each];
};

/** A scene or a figure of a lesson, laid out once for its state; a text instead where that state has no picture of it. */
export const showOf = (view: View, { kind, name, part: asked }: Part): Show | string => {
  const { state, locale, units } = view;
  if (state.outcome !== undefined) return state.outcome;
  const caution = cautionOf(view);
  const names = namesOf(view.lesson);
  if (kind === "figure") {
    const figure = figureOf(view, name);
    if (figure === undefined) return "There is nothing to draw at this state.";
    return stillShow({ kind, name }, [undefined], (painter) => figurePlate({ figure, units, locale, names, caution }, painter));
  }
  const scene = sceneOf(view, name);
  const request = { scene, state, write: writeOf(view), names, caution };
  const whole = planScene(request);
  const parts = partsOf(whole, (part) => planScene({ ...request, part }));
  // At another state a scene may have fewer parts.
  const part = parts.includes(asked) ? asked : parts[0];
  const plan = part === undefined ? whole : planScene({ ...request, part });
  const at: Show["at"] = (instant, painter, covered) => {
    const plate = scenePlate(plan, instant, painter);
    return covered ? coveredPlate(plate) : plate;
  };
  const stops = stopsOf(view, { kind, name });
  // The event was gone through with the first; a further part is seen as it came out.
  return { part: { kind, name, part }, parts, duration: micro(scene.duration(state)), stops: part === parts[0] ? stops : stops.slice(-1), at };
};
