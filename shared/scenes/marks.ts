/** The strokes of a technical drawing: text, arrows, dimension lines, hatching, tags, scale bar. Drawing units throughout. */
import { node, type Node } from "../drawing.ts";

export type Point = readonly [x: number, y: number];

/** Two decimals are finer than a screen shows, and keep the text of a drawing short. */
export const round = (value: number): number => Math.round(value * 100) / 100;

export const group = (className: string, children: readonly Node[]): Node => node("g", { class: className }, children);

export const line = (from: Point, to: Point, className: string): Node => node("line", { x1: round(from[0]), y1: round(from[1]), x2: round(to[0]), y2: round(to[1]), class: className });

export const rectangle = (x: number, y: number, width: number, height: number, className: string): Node =>
  node("rect", { x: round(x), y: round(y), width: round(Math.max(0, width)), height: round(Math.max(0, height)), class: className });

export const circle = (centre: Point, radius: number, className: string): Node => node("circle", { cx: round(centre[0]), cy: round(centre[1]), r: round(radius), class: className });

export const pathOf = (points: readonly Point[], close = false): string => points.length === 0 ? "" : points.map(([x, y], i) => `${i === 0 ? "M" : "L"}${round(x)},${round(y)}`).join("") + (close ? "Z" : "");

export const polyline = (points: readonly Point[], className: string): Node => node("path", { d: pathOf(points), class: className });
export const polygon = (points: readonly Point[], className: string): Node => node("path", { d: pathOf(points, true), class: className });

export const text = (at: Point, words: string, className: string, anchor: "start" | "middle" | "end" = "start"): Node =>
  node("text", { x: round(at[0]), y: round(at[1]), "text-anchor": anchor, class: className }, [words]);

/** Width of a line of text, on the wide side: the widths of system faces differ by a fifth or so. */
const CHARACTER = 0.58;
export const widthOf = (words: string, size: number): number => words.length * CHARACTER * size;

/** A filled arrow along a straight line, nothing where it would be shorter than `least`. */
export const arrow = (from: Point, to: Point, className: string, { width = 4, head = 13, least = 0.5 } = {}): Node => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (length < least) return node("path", { d: "", class: className });
  const along: Point = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const across: Point = [-along[1], along[0]];
  const tip = Math.min(head, length);
  const at = (distance: number, side: number): Point => [from[0] + along[0] * distance + across[0] * side, from[1] + along[1] * distance + across[1] * side];
  const half = width / 2;
  const wing = Math.min(head * 0.48, tip * 0.48 + half);
  return polygon([at(0, half), at(length - tip, half), at(length - tip, wing), at(length, 0), at(length - tip, -wing), at(length - tip, -half), at(0, -half)], className);
};

/** A thin arrowhead, open at the back, as at the ends of a dimension line. */
const tick = (tip: Point, direction: 1 | -1, className: string): Node => polygon([tip, [tip[0] - direction * 8, tip[1] - 3], [tip[0] - direction * 8, tip[1] + 3]], className);

/** A dimension as short as this has its arrows outside, which reach this far. */
const SHORT = 22;
const OUTSIDE = 14;
/** How far a dimension's line reaches beyond its two ends. */
export const overhang = (x1: number, x2: number): number => (Math.abs(x2 - x1) > SHORT ? 0 : OUTSIDE);

/** A horizontal dimension between two x at height y, with extension lines from `fromY`. Arrows stand outside where it is short. */
export const dimension = (x1: number, x2: number, y: number, fromY: number, className: string): Node => {
  const left = Math.min(x1, x2);
  const right = Math.max(x1, x2);
  const reach = overhang(x1, x2);
  const inside = reach === 0;
  return group(`dimension ${className}`, [
    line([left, fromY], [left, y + 5], "extension"),
    line([right, fromY], [right, y + 5], "extension"),
    line([left - reach, y], [right + reach, y], "dimension-line"),
    tick([left, y], inside ? -1 : 1, "dimension-head"),
    tick([right, y], inside ? 1 : -1, "dimension-head"),
  ]);
};

/** Lines at 45 degrees inside a polygon, as one path: the mark of cut material. */
export const hatching = (points: readonly Point[], spacing: number, className: string, slope: 1 | -1 = 1): Node => {
  // Along a line, y - slope * x is constant; walk that constant and pair up the crossings with the outline.
  const level = ([x, y]: Point): number => y - slope * x;
  const levels = points.map(level);
  const parts: string[] = [];
  const first = Math.ceil(Math.min(...levels) / spacing) * spacing;
  for (let c = first; c < Math.max(...levels); c += spacing) {
    const crossings: number[] = [];
    for (let i = 0; i < points.length; i++) {
      const p = points[i] as Point;
      const q = points[(i + 1) % points.length] as Point;
      const lp = level(p) - c;
      const lq = level(q) - c;
      if (lp > 0 !== lq > 0) crossings.push(p[0] + ((q[0] - p[0]) * lp) / (lp - lq));
    }
    crossings.sort((m, n) => m - n);
    for (let i = 0; i + 1 < crossings.length; i += 2) {
      const [x1, x2] = [crossings[i] as number, crossings[i + 1] as number];
      parts.push(`M${round(x1)},${round(slope * x1 + c)}L${round(x2)},${round(slope * x2 + c)}`);
    }
  }
  return node("path", { d: parts.join(""), class: className });
};

/** From the middle of a capital of a tag down to its baseline: its type has one size, whatever the tag's. */
const TAG_DROP = 5.4;
/** The mark of a body: a circle for a, a square for b, with its letter. */
export const tag = (body: "a" | "b", centre: Point, radius: number): Node =>
  group(`tag body-${body}`, [
    body === "a" ? circle(centre, radius, "tag-shape") : rectangle(centre[0] - radius * 0.92, centre[1] - radius * 0.92, radius * 1.84, radius * 1.84, "tag-shape"),
    text([centre[0], centre[1] + TAG_DROP], body.toUpperCase(), "tag-letter", "middle"),
  ]);

/** A bar of alternating blocks as long as `length`, with its length written beside it. */
export const scaleBar = (x: number, y: number, length: number, words: string, anchor: "start" | "end"): Node => {
  const left = anchor === "start" ? x : x - length;
  const quarter = length / 4;
  return group("scale-bar", [
    rectangle(left, y, length, 6, "scale-outline"),
    rectangle(left, y, quarter, 6, "scale-block"),
    rectangle(left + 2 * quarter, y, quarter, 6, "scale-block"),
    text(anchor === "start" ? [left + length + 8, y + 8] : [left - 8, y + 8], words, "label label-soft", anchor),
  ]);
};

/** The mark that something can be dragged sideways. Shown by the style sheet only where a script is at work. */
export const grip = (at: Point, input: string, className: string): Node =>
  node("g", { class: `grip ${className}`, "data-input": input, transform: `translate(${round(at[0])},${round(at[1])})` }, [
    node("circle", { r: 9, cx: 0, cy: 0, class: "grip-disc" }),
    node("path", { d: "M-2.2,-3.4L-5.4,0L-2.2,3.4M2.2,-3.4L5.4,0L2.2,3.4", class: "grip-marks" }),
  ]);
