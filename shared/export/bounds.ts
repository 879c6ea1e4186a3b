/** Where the strokes of a drawing reach, from its nodes alone. Text is left out: it is measured by its outlines. */
import type { Node } from "../drawing.ts";

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export const NOTHING: Box = { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity };
export const isNothing = ({ left, right, top, bottom }: Box): boolean => !(left <= right && top <= bottom);
export const union = (p: Box, q: Box): Box => ({ left: Math.min(p.left, q.left), top: Math.min(p.top, q.top), right: Math.max(p.right, q.right), bottom: Math.max(p.bottom, q.bottom) });

/** x' = a x + c y + e, y' = b x + d y + f. */
type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number];
const SAME: Matrix = [1, 0, 0, 1, 0, 0];
const times = ([a, b, c, d, e, f]: Matrix, [p, q, r, s, t, u]: Matrix): Matrix => [a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * t + c * u + e, b * t + d * u + f];

const matrixOf = (transform: string): Matrix => {
  let matrix = SAME;
  for (const [, name, inner] of transform.matchAll(/(\w+)\(([^)]*)\)/g)) {
    const n = (inner as string).split(/[\s,]+/).map(Number);
    const [p = 0, q, r = 0, s = 0] = n;
    if (name === "translate") matrix = times(matrix, [1, 0, 0, 1, p, q ?? 0]);
    else if (name === "scale") matrix = times(matrix, [p, 0, 0, q ?? p, 0, 0]);
    else if (name === "rotate") {
      const [cos, sin] = [Math.cos((p * Math.PI) / 180), Math.sin((p * Math.PI) / 180)];
      matrix = times(matrix, [cos, sin, -sin, cos, (q ?? 0) - cos * (q ?? 0) + sin * r, r - sin * (q ?? 0) - cos * r]);
    } else if (name === "matrix") matrix = times(matrix, [p, q ?? 0, r, s, n[4] ?? 0, n[5] ?? 0]);
    else throw new TypeError(`bounds: a transform must be translate, scale, rotate or matrix, got ${name}`);
  }
  return matrix;
};

const NUMBERS: Readonly<Record<string, number>> = { M: 2, L: 2, T: 2, H: 1, V: 1, Q: 4, S: 4, C: 6, A: 7, Z: 0 };

/** Corners and control points of a path: a box about them holds the path; the bulge of an arc is taken as its whole radius. */
export const pathPoints = (d: string): [number, number][] => {
  const points: [number, number][] = [];
  let [x, y, startX, startY] = [0, 0, 0, 0];
  for (const [, letter, inner] of d.matchAll(/([a-zA-Z])([^a-zA-Z]*)/g)) {
    const upper = (letter as string).toUpperCase();
    const relative = letter !== upper;
    const count = NUMBERS[upper];
    if (count === undefined) throw new TypeError(`bounds: a path must be made of ${Object.keys(NUMBERS).join(", ")}, got ${letter}`);
    const values = ((inner as string).match(/-?(?:\d+\.?\d*|\.\d+)(?:e-?\d+)?/gi) ?? []).map(Number);
    if (upper === "Z") [x, y] = [startX, startY];
    for (let i = 0; count > 0 && i + count <= values.length; i += count) {
      const v = values.slice(i, i + count);
      const [fromX, fromY] = relative ? [x, y] : [0, 0];
      if (upper === "H") x = fromX + (v[0] as number);
      else if (upper === "V") y = fromY + (v[0] as number);
      else if (upper === "A") {
        const reach = Math.max(v[0] as number, v[1] as number);
        const [endX, endY] = [fromX + (v[5] as number), fromY + (v[6] as number)];
        const half = Math.hypot(endX - x, endY - y) / 2;
        const [midX, midY] = [(x + endX) / 2, (y + endY) / 2];
        // The middle of the circle is no further from the chord than this.
        const bulge = Math.sqrt(Math.max(0, reach * reach - half * half)) + reach;
        const most = v[3] === 1 ? bulge : Math.min(bulge, half + reach - Math.sqrt(Math.max(0, reach * reach - half * half)));
        points.push([midX - most, midY - most], [midX + most, midY + most]);
        [x, y] = [endX, endY];
      } else {
        for (let k = 0; k + 2 < count; k += 2) points.push([fromX + (v[k] as number), fromY + (v[k + 1] as number)]);
        [x, y] = [fromX + (v[count - 2] as number), fromY + (v[count - 1] as number)];
        if (upper === "M" && i === 0) [startX, startY] = [x, y];
      }
      points.push([x, y]);
    }
  }
  return points;
};

const pointsOf = ({ tag, attributes }: Node): readonly [number, number][] => {
  const at = (name: string): number => Number(attributes[name] ?? 0);
  if (tag === "rect") return at("width") > 0 || at("height") > 0 ? [[at("x"), at("y")], [at("x") + at("width"), at("y")], [at("x"), at("y") + at("height")], [at("x") + at("width"), at("y") + at("height")]] : [];
  if (tag === "line") return [[at("x1"), at("y1")], [at("x2"), at("y2")]];
  if (tag === "circle" || tag === "ellipse") {
    const [rx, ry] = tag === "circle" ? [at("r"), at("r")] : [at("rx"), at("ry")];
    return [[at("cx") - rx, at("cy") - ry], [at("cx") + rx, at("cy") - ry], [at("cx") - rx, at("cy") + ry], [at("cx") + rx, at("cy") + ry]];
  }
  if (tag === "path") return pathRead(String(attributes["d"] ?? ""));
  if (tag === "polygon" || tag === "polyline") {
    const n = (String(attributes["points"] ?? "").match(/-?[\d.]+(?:e-?\d+)?/gi) ?? []).map(Number);
    return Array.from({ length: n.length >> 1 }, (_, i): [number, number] => [n[2 * i] as number, n[2 * i + 1] as number]);
  }
  return [];
};

const meet = (p: Box, q: Box): Box => {
  const box = { left: Math.max(p.left, q.left), top: Math.max(p.top, q.top), right: Math.min(p.right, q.right), bottom: Math.min(p.bottom, q.bottom) };
  return isNothing(box) ? NOTHING : box;
};

/** What an inner svg shows: in our drawings its units are those around it. */
export const windowOf = ({ attributes }: Node): Box => {
  const [x, y] = [Number(attributes["x"] ?? 0), Number(attributes["y"] ?? 0)];
  return { left: x, top: y, right: x + Number(attributes["width"] ?? Infinity), bottom: y + Number(attributes["height"] ?? Infinity) };
};

/** Nodes do not change, and most paths of a drawing come again at the next instant: each is measured once. */
const measured = new WeakMap<Node, Box>();
const read = new Map<string, readonly [number, number][]>();
const MOST_READ = 1000;
const pathRead = (d: string): readonly [number, number][] => {
  let points = read.get(d);
  if (points === undefined) {
    if (read.size >= MOST_READ) read.clear();
    read.set(d, (points = pathPoints(d)));
  }
  return points;
};

const boundsOfOne = (each: Node, matrix: Matrix): Box => {
  const own = each.attributes["transform"] === undefined ? matrix : times(matrix, matrixOf(String(each.attributes["transform"])));
  const [a, b, c, d, e, f] = own;
  let { left, top, right, bottom } = NOTHING;
  for (const [x, y] of pointsOf(each)) {
    const [px, py] = [a * x + c * y + e, b * x + d * y + f];
    [left, right] = [Math.min(left, px), Math.max(right, px)];
    [top, bottom] = [Math.min(top, py), Math.max(bottom, py)];
  }
  const inside = boundsOf(each.children, own);
  return union({ left, top, right, bottom }, each.tag === "svg" ? meet(inside, windowOf(each)) : inside);
};

/** The box about the middle lines of all strokes below some nodes. */
export const boundsOf = (nodes: readonly (Node | string)[], matrix: Matrix = SAME): Box => {
  let box = NOTHING;
  for (const each of nodes) {
    if (typeof each === "string" || each.tag === "text") continue;
    let one = matrix === SAME ? measured.get(each) : undefined;
    if (one === undefined) {
      one = boundsOfOne(each, matrix);
      if (matrix === SAME) measured.set(each, one);
    }
    box = union(box, one);
  }
  return box;
};
