/** What can be shown on screen of a lesson at a state: its parts, their instants to stop at, and their plates. */
import { figurePlate } from "./export/figurePlate.ts";
import { namesOf } from "./export/names.ts";
import type { Painter } from "./export/paint.ts";
import type { Plate, Role, Words } from "./export/plate.ts";
import { planScene, scenePlate } from "./export/scenePlate.ts";
import type { PartName } from "./render/onScreen.ts";
import { figureOf } from "./render/figure.ts";
import { sceneOf } from "./render/scene.ts";
import { type View, writeOf } from "./view.ts";

export interface Part {
  readonly kind: "scene" | "figure";
  readonly name: string;
}

export const readPart = (text: string): Part => {
  const [kind, name = ""] = text.split(":") as [Part["kind"], string?];
  return { kind, name };
};
export const partName = ({ kind, name }: Part): PartName => `${kind}:${name}`;

/** Whole microseconds, as the page's clock has them. */
const micro = (seconds: number): number => Math.round(seconds * 1e6) / 1e6;

/** Where a clicker stops: before, first touch, half way from there to the end, the end. A figure has one stop. */
export const stopsOf = (view: View, { kind, name }: Part): readonly number[] => {
  if (kind === "figure") return [0];
  const scene = sceneOf(view, name);
  const duration = scene.duration(view.state);
  const touch = scene.touch?.(view.state) ?? 0;
  return [...new Set([0, touch, (touch + duration) / 2, duration].map(micro))].filter((at) => at >= 0 && at <= micro(duration)).sort((p, q) => p - q);
};

export interface Show {
  readonly part: Part;
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

/** Title, clock and scale, names and numbers of the axes, and who is who; not what is said of them. */
const BEFORE: readonly Role[] = ["title", "clock", "scale", "axis", "key"];
const coveredWords = (words: readonly Words[]): Words[] => words.filter(({ role }) => BEFORE.includes(role));

/** A part of a lesson, laid out once for its state; a text instead where that state has no picture of it. */
export const showOf = (view: View, part: Part): Show | string => {
  const { state, locale, units } = view;
  if (state.outcome !== undefined) return state.outcome;
  if (part.kind === "figure") {
    const figure = figureOf(view, part.name);
    if (figure === undefined) return "There is nothing to draw at this state.";
    const at: Show["at"] = (_, painter, covered) => {
      const plate = figurePlate({ figure, units, locale }, covered ? uncoveredOnly(painter) : painter);
      return covered ? { ...plate, says: "", words: coveredWords(plate.words) } : plate;
    };
    return { part, duration: 0, stops: [0], at };
  }
  const scene = sceneOf(view, part.name);
  const plan = planScene({ scene, state, write: writeOf(view), names: namesOf(view.lesson) });
  const at: Show["at"] = (instant, painter, covered) => {
    const plate = scenePlate(plan, instant, painter);
    return covered ? { ...plate, says: "", words: coveredWords(plate.words) } : plate;
  };
  return { part, duration: micro(scene.duration(state)), stops: stopsOf(view, part), at };
};
