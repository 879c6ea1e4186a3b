/** One body in side view, to scale, with its front folded: the drawing that several scenes share. */
import { node, type Node } from "../drawing.ts";
import { circle, group, line, polygon, polyline, rectangle, tag, text, type Point } from "./marks.ts";
import { fold, folds, OUTLINES } from "./outlines.ts";
import type { DrawnAs } from "./spec.ts";

/** Stands for the room that a folded front keeps, where the scene does not say. */
const SPRING_PARTS = 12;
/** Half the swing of a spring bumper's turns, and the thickness of its head [m]. */
const SWING = 0.009;
const HEAD = 0.006;

export interface DrawnBody {
  readonly side: "a" | "b";
  readonly drawnAs: DrawnAs;
  /** Drawing x of the uncrushed foremost point; y of the ground. */
  readonly nose: number;
  readonly ground: number;
  /** Drawing units per metre. */
  readonly scale: number;
  /** Towards its rear end: -1 where it faces right, 1 where it faces left. */
  readonly rearwards: 1 | -1;
  /** Depth that its front is crushed, and the depth that folds [m]. */
  readonly crush?: number;
  readonly foldLength?: number;
  /** 0 for a body that stands alone and needs no letter. */
  readonly tagRadius?: number;
}

export const bodySide = ({ side, drawnAs, nose, ground, scale, rearwards, crush = 0, foldLength, tagRadius = 13 }: DrawnBody): Node => {
  const outline = OUTLINES[drawnAs];
  const at = (d: number, h: number): Point => [nose + rearwards * d * scale, ground - h * scale];
  const folded = fold(outline, crush, 0, foldLength ?? outline.fold);
  const points = (shape: readonly (readonly [number, number])[]): Point[] => shape.map((point) => at(...folded.place(point)));
  const trolley = drawnAs === "trolley";
  const back = folded.depth(outline.firewall);
  const turns = Array.from({ length: SPRING_PARTS + 1 }, (_, k): Point => at(crush + HEAD + ((back - crush - HEAD) * k) / SPRING_PARTS, 0.046 + (k === 0 || k === SPRING_PARTS ? 0 : k % 2 === 0 ? SWING : -SWING)));
  const head = [at(crush, 0)[0], at(crush + HEAD, 0)[0]];
  return group(`vehicle body-${side}`, [
    polygon(points(outline.shell), "shell"),
    group("windows", outline.windows.map((window) => polygon(points(window), "window"))),
    group("details", outline.details.map((detail) => polyline(points(detail), "detail"))),
    trolley ? group("buffer", [polyline(turns, "spring"), rectangle(Math.min(...(head as [number, number])), ground - 0.066 * scale, HEAD * scale, 0.04 * scale, "buffer-head")]) : group("folds", folds(outline, folded, crush).map((each) => polyline(each.map(([d, h]) => at(d, h)), "crushed"))),
    group("wheels", outline.wheels.flatMap(({ d, radius }) => {
      const hub = at(Math.max(folded.depth(d), crush > 0 ? crush + radius : 0), radius);
      return [circle(hub, radius * scale, "tyre"), circle(hub, radius * 0.58 * scale, "rim"), circle(hub, 2, "hub")];
    })),
    ...(tagRadius > 0 ? [tag(side, at(...outline.tag), tagRadius)] : []),
  ]);
};

/** Frame of a sheet, as the other scenes have it. */
export const sheetFrame = (width: number, height: number): Node =>
  group("sheet-frame", [rectangle(0.75, 0.75, width - 1.5, height - 1.5, "frame-outer"), rectangle(6, 6, width - 12, height - 12, "frame-inner")]);

/** What runs off the sheet is cut off at its frame. */
export const stage = (width: number, top: number, bottom: number, children: readonly Node[]): Node =>
  node("svg", { x: 7, y: top, width: width - 14, height: bottom - top, viewBox: `7 ${top} ${width - 14} ${bottom - top}`, class: "stage" }, children);

/** Ground with ticks at whole multiples of `every` metres; `x` places metres on the sheet. */
export const ticked = (left: number, right: number, y: number, every: number, x: (metres: number) => number, from: number): Node => {
  const gap = x(every) - x(0);
  const count = Math.ceil((right - left) / gap) + 2;
  const first = Math.floor(from / every) - 1;
  const ticks = Array.from({ length: count + 2 }, (_, i) => x((first + i) * every)).filter((each) => each >= left && each <= right);
  return group("ground", [line([left, y], [right, y], "ground-line"), ...ticks.map((each) => line([each, y], [each, y + 7], "ground-tick"))]);
};

/** When the sheet is, in words. */
export const clockWords = (at: Point, words: string): Node => text(at, words, "label label-time");
