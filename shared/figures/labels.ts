/** Places for the words inside a figure: labels of curves and of reference lines, clear of each other and of what is drawn. */
import type { Figure } from "./figure.ts";
import { type Frame, place, type Scales } from "./scales.ts";

/** Height of the type and of a line of it, in drawing units. */
export const FONT = 14;
const LINE = 16;
/** Rough width of a character, in heights of the face; labels of curves are in strong type. */
const CHARACTER = 0.56;
const STRONG = 0.63;
/** A circle that surrounds a square, so that both show where two curves end together. */
export const CIRCLE = 6.5;
export const SQUARE = 3.5;

/** Width of words in plain type. */
export const widthOf = (words: string): number => words.length * CHARACTER * FONT;
/** Width of the words of a label, in drawing units: as the system's own face has them, roughly, or as a known face does. */
export type Measure = (words: string, kind: Label["kind"]) => number;
const roughly: Measure = (words, kind) => words.length * FONT * (kind === "curve" ? STRONG : CHARACTER);

export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** A line of words: `of` is the place of its curve, or of its reference line, in the figure. */
export interface Line {
  readonly of: number;
  readonly words: string;
}

export interface Label {
  readonly kind: "curve" | "rule";
  readonly lines: readonly Line[];
  /** Place of the first line's foot; each further line stands `LINE` lower. */
  readonly at: Point;
  readonly anchor: "start" | "middle" | "end";
}

/** Place of the foot of line `k`. */
export const footOf = ({ at }: Label, k: number): Point => ({ x: at.x, y: at.y + k * LINE });

interface Candidate extends Label {
  readonly box: Box;
  readonly score: number;
}

const boxOf = ({ kind, lines, at, anchor }: Label, measure: Measure): Box => {
  const width = Math.max(...lines.map(({ words }) => measure(words, kind)));
  const left = anchor === "start" ? at.x : anchor === "end" ? at.x - width : at.x - width / 2;
  return { left, right: left + width, top: at.y - FONT * 0.85, bottom: at.y + (lines.length - 1) * LINE + FONT * 0.3 };
};

const overlaps = (p: Box, q: Box): boolean => p.left < q.right && q.left < p.right && p.top < q.bottom && q.top < p.bottom;

/** Points in a row of numbers, x and y by turns: thousands of places are measured against each. */
type Trail = Float64Array;
const trail = (points: readonly Point[]): Trail => Float64Array.from(points.flatMap(({ x, y }) => [x, y]));

/** How far a box is from the nearest of some points: 0 where one lies inside, `FAR` where all are further off. */
const FAR = 40;
const clearance = ({ left, right, top, bottom }: Box, points: Trail): number => {
  let least = FAR * FAR;
  for (let i = 0; i < points.length && least > 0; i += 2) {
    const [x, y] = [points[i] as number, points[i + 1] as number];
    const dx = x < left ? left - x : x > right ? x - right : 0;
    const dy = y < top ? top - y : y > bottom ? y - bottom : 0;
    const square = dx * dx + dy * dy;
    if (square < least) least = square;
  }
  return Math.sqrt(least);
};

const SAMPLES = 90;

/** Points evenly along each drawn curve, so that a straight line of two points is as solid as a long history. */
const curvesOf = (figure: Figure, scales: Scales): Point[][] =>
  figure.series.map(({ x, y }) => {
    const count = Math.min(x.length, y.length);
    if (count === 0) return [];
    const corners = Array.from({ length: count }, (_, i): Point => ({ x: place(scales.x, x[i] as number), y: place(scales.y, y[i] as number) }));
    const lengths = [0];
    for (let i = 1; i < count; i++) lengths.push((lengths[i - 1] as number) + Math.hypot((corners[i] as Point).x - (corners[i - 1] as Point).x, (corners[i] as Point).y - (corners[i - 1] as Point).y));
    const whole = lengths[count - 1] as number;
    let i = 1;
    return Array.from({ length: SAMPLES + 1 }, (_, k) => {
      const target = (whole * k) / SAMPLES;
      while (i < count - 1 && (lengths[i] as number) < target) i++;
      const [p, q] = [corners[Math.max(0, i - 1)] as Point, corners[Math.min(i, count - 1)] as Point];
      const piece = (lengths[i] ?? 0) - (lengths[i - 1] ?? 0);
      const share = piece > 0 ? Math.min(1, Math.max(0, (target - (lengths[i - 1] as number)) / piece)) : 0;
      return { x: p.x + share * (q.x - p.x), y: p.y + share * (q.y - p.y) };
    });
  });

type Rule = NonNullable<Figure["rules"]>[number];

const ruleLine = (rule: Rule, scales: Scales, frame: Frame): Point[] => {
  const on = place(scales[rule.axis], rule.at);
  const [across, along] = [frame.width - frame.right - frame.left, frame.height - frame.bottom - frame.top];
  return Array.from({ length: SAMPLES + 1 }, (_, k): Point => (rule.axis === "x" ? { x: on, y: frame.top + (along * k) / SAMPLES } : { x: frame.left + (across * k) / SAMPLES, y: on }));
};

/** Words on one line and, where that is long for the room, broken into up to four of about equal length. A number keeps its unit. */
const broken = (words: string, room: Box, width: number): string[][] => {
  const pieces = words.replace(/(\d) /g, "$1\u00a0").split(" ");
  return (width > (room.right - room.left) / 4 ? [1, 2, 3, 4] : [1])
    .filter((count) => count <= pieces.length)
    .map((count) => {
      const lines: string[] = [];
      let rest = pieces;
      for (let left = count; left > 1; left--) {
        const wanted = rest.join(" ").length / left;
        let take = 1;
        while (take < rest.length - left + 1 && Math.abs(rest.slice(0, take + 1).join(" ").length - wanted) < Math.abs(rest.slice(0, take).join(" ").length - wanted)) take++;
        lines.push(rest.slice(0, take).join(" "));
        rest = rest.slice(take);
      }
      return [...lines, rest.join(" ")];
    });
};

/** Spaces that held words together, as plain ones. */
const spaced = (line: string): string => line.replaceAll("\u00a0", " ");

/** The label of a curve begins with its body's mark, which stays with the first word. */
const curveWords = ({ belongs, label }: Figure["series"][number]): string => (belongs === "a" ? `\u25cf\u00a0${label}` : belongs === "b" ? `\u25a0\u00a0${label}` : label);

/** Reference lines closer than this are one line to the eye. */
const SAME = 1;

/** Reference lines at one place share a label: a line of words each, the same words once. */
const ruleGroups = (rules: readonly Rule[], scales: Scales): number[][] => {
  const groups: number[][] = [];
  rules.forEach((rule, i) => {
    const on = place(scales[rule.axis], rule.at);
    const beside = groups.find(([first]) => {
      const other = rules[first as number] as Rule;
      return other.axis === rule.axis && Math.abs(place(scales[other.axis], other.at) - on) < SAME;
    });
    if (!beside) groups.push([i]);
    else if (!beside.some((k) => rules[k]?.label === rule.label)) beside.push(i);
  });
  return groups;
};

/** Words stand between two level lines that are further apart than this. */
const BETWEEN = LINE + 5;

/** Two level lines, one over the other, where the lower has no room for words under it: one label for both, in their order. */
const stacked = (groups: readonly number[][], rules: readonly Rule[], scales: Scales, zero: number): number[][] => {
  const level = (group: readonly number[]): number => place(scales.y, (rules[group[0] as number] as Rule).at);
  const [flat, upright] = [groups.filter(([first]) => rules[first as number]?.axis === "y"), groups.filter(([first]) => rules[first as number]?.axis === "x")];
  const sorted = [...flat].sort((p, q) => level(p) - level(q));
  const out: number[][] = [];
  for (const group of sorted) {
    const above = out.at(-1);
    if (above !== undefined && level(group) - level(above) < BETWEEN && zero - level(group) > SAME && zero - level(group) < BETWEEN) out[out.length - 1] = [...above, ...group];
    else out.push(group);
  }
  return [...out, ...upright];
};

/** Enough room that a label does not touch another curve; more than this is no better than this. */
const ROOMY = 14;
const CLOSE = 6;
/** Costs, in the drawing units that the scores count. */
const OUTSIDE = 400;
const COVERED = 2000;
const ON_END = 60;
const CROSSED = 80;
const A_BREAK = 8;
/** Words beside a line that they are not of, and nearer to another curve than to their own. */
const MISTAKEN = 120;
const STRAYED = 30;
/** Paper around words that hides what it covers: a line nearer than this is broken by them. */
const HALO = 2;
/** Paper between two labels. */
const APART = 2;

/** Places along a level reference line for the middle of its words, as shares of its length: the middle first. */
const ALONG = [0.5, 0.35, 0.65, 0.2, 0.8, 0.425, 0.575, 0.275, 0.725, 0.125, 0.875];

/** Places inside the axes that are tried for the words of a curve. */
const PLACES_ACROSS = 32;
const PLACES_DOWN = 24;

/** Inside the axes, beside their numbers and names; the margin on the right is free. */
const roomOf = (frame: Frame): Box => ({ left: frame.left + 3, right: frame.width - 2, top: frame.top - 3, bottom: frame.height - frame.bottom - 1 });
const outside = (box: Box, room: Box): boolean => box.left < room.left || box.right > room.right || box.top < room.top || box.bottom > room.bottom;

/** Best place for each label, given the others': a few rounds settle it, and it matters who chooses first. */
const settle = (choices: readonly (readonly Candidate[])[]): Candidate[] => {
  const ranked = choices.map((candidates) => [...candidates].sort((p, q) => q.score - p.score));
  let best: readonly (Candidate | undefined)[] = [];
  let most = -Infinity;
  const turns = ranked.map((_, i) => i);
  const orders = turns.length === 0 ? [[]] : turns.flatMap((first) => [[...turns.slice(first), ...turns.slice(0, first)], [...turns.slice(first), ...turns.slice(0, first)].reverse()]);
  for (const order of orders) {
    const chosen = settledFrom(ranked, order);
    const placed = chosen.filter((one) => one !== undefined);
    const score = placed.reduce((sum, { score }) => sum + score, 0) - COVERED * placed.reduce((sum, { box }, i) => sum + placed.slice(i + 1).filter((other) => overlaps(box, other.box)).length, 0);
    if (score > most) [best, most] = [chosen, score];
  }
  return best.filter((one) => one !== undefined);
};

const settledFrom = (ranked: readonly (readonly Candidate[])[], order: readonly number[]): (Candidate | undefined)[] => {
  const chosen: (Candidate | undefined)[] = ranked.map(() => undefined);
  for (let round = 0; round < 6; round++) {
    let moved = false;
    for (const i of order) {
      const others = chosen.flatMap((one, k) => (k === i || one === undefined ? [] : [{ left: one.box.left - APART, right: one.box.right + APART, top: one.box.top - APART, bottom: one.box.bottom + APART }]));
      let best: Candidate | undefined;
      let most = -Infinity;
      for (const candidate of ranked[i] as readonly Candidate[]) {
        if (candidate.score <= most) break;
        const score = candidate.score - COVERED * others.filter((other) => overlaps(candidate.box, other)).length;
        if (score > most) [best, most] = [candidate, score];
      }
      if (best !== chosen[i]) moved = true;
      chosen[i] = best;
    }
    if (!moved) break;
  }
  return chosen;
};

/** Every label of a figure in its place. Reference lines come first in the list. */
export const labelsOf = (figure: Figure, scales: Scales, frame: Frame, measure: Measure = roughly): readonly Label[] => {
  const rules = figure.rules ?? [];
  const room = roomOf(frame);
  const [across, down] = [(room.right - room.left) / PLACES_ACROSS, (room.bottom - room.top) / PLACES_DOWN];
  const curves = curvesOf(figure, scales);
  const all = trail(curves.flat());
  const ends = trail(curves.flatMap((points) => points.slice(-1)));
  const lines = rules.map((rule) => ruleLine(rule, scales, frame));
  const zero = ruleLine({ axis: "y", at: 0, label: "" }, scales, frame);
  const ruled = trail([...lines, zero].flat());
  const costs = (box: Box, breaks: number): number => (outside(box, room) ? OUTSIDE : 0) + (clearance(box, ends) < CIRCLE + 4 ? ON_END : 0) + A_BREAK * breaks;

  // A rule without words of its own has no label.
  const groups = ruleGroups(rules, scales).filter(([first]) => rules[first as number]?.label !== "");
  const ruleChoices = stacked(groups, rules, scales, lines.length === 0 ? 0 : (zero[0] as Point).y).map((group): Candidate[] => {
    const rule = rules[group[0] as number] as Rule;
    const on = place(scales[rule.axis], rule.at);
    const others = trail(lines.flatMap((points, i) => (group.includes(i) || (rules[i]?.axis === rule.axis && Math.abs(place(scales[rule.axis], (rules[i] as Rule).at) - on) < SAME) ? [] : points)));
    const gapTo = ({ left, right, top, bottom }: Box, i: number): number => {
      const line = place(scales[rule.axis], (rules[i] as Rule).at);
      const [from, to] = rule.axis === "y" ? [top, bottom] : [left, right];
      return line < from ? from - line : line > to ? line - to : 0;
    };
    const rivals = rules.flatMap((other, i) => (group.includes(i) || other.axis !== rule.axis || Math.abs(place(scales[other.axis], other.at) - on) < SAME ? [] : [i]));
    const nearestOther = (box: Box): number => Math.min(Infinity, ...rivals.map((i) => gapTo(box, i)));
    const folds = group.map((i) => broken((rules[i] as Rule).label, room, measure((rules[i] as Rule).label, "rule")).map((words) => words.map((line): Line => ({ of: i, words: spaced(line) }))));
    return Array.from({ length: Math.max(...folds.map((each) => each.length)) }, (_, fold) => fold).flatMap((fold) => {
      const written = folds.flatMap((each) => each[Math.min(fold, each.length - 1)] ?? []);
      const rise = (written.length - 1) * LINE;
      const places: Omit<Label, "kind" | "lines">[] =
        rule.axis === "y"
          ? [on - 6 - rise, on + 15, on - 13 - rise, on + 22].flatMap((y) => [
              { at: { x: frame.width - frame.right - 2, y }, anchor: "end" as const },
              { at: { x: frame.left + 6, y }, anchor: "start" as const },
              ...ALONG.map((share) => ({ at: { x: frame.left + share * (frame.width - frame.right - frame.left), y }, anchor: "middle" as const })),
            ])
          : Array.from({ length: Math.floor((room.bottom - room.top) / 12) }, (_, k) => frame.top + 12 + 12 * k).flatMap((y) => [
              { at: { x: on + 6, y }, anchor: "start" as const },
              { at: { x: on - 6, y }, anchor: "end" as const },
            ]);
      return places.map((where, order) => {
        const label: Label = { kind: "rule", lines: written, ...where };
        const box = boxOf(label, measure);
        const [free, apart] = [clearance(box, all), clearance(box, others)];
        const crossings = (free < HALO ? CROSSED : 0) + (apart < HALO ? CROSSED : 0) + (group.some((i) => gapTo(box, i) <= nearestOther(box)) ? 0 : MISTAKEN);
        return { ...label, box, score: Math.min(free, 20) + 2 * Math.min(apart, 8) - crossings - costs(box, written.length - group.length) - order / 20 };
      });
    });
  });

  const curveChoices = figure.series.map((series, s): Candidate[] => {
    const own = curves[s] as Point[];
    const rest = trail(curves.filter((_, i) => i !== s).flat());
    const mine = trail(own);
    return broken(curveWords(series), room, measure(curveWords(series), "curve")).flatMap((words) => {
      const written = words.map((line): Line => ({ of: s, words: spaced(line) }));
      const rise = (words.length - 1) * LINE;
      const half = Math.max(...words.map((line) => measure(line, "curve"))) / 2;
      const beside = own.flatMap((from, k) =>
        k < 4 || k > own.length - 4 || k % 2 === 1
          ? []
          : ([[0, -14 - rise], [0, 22], [1, -4 - rise], [-1, -4 - rise], [1, 10], [-1, 10]] as const).map(([dx, dy]) => ({ at: { x: from.x + dx * (half + 12), y: from.y + dy }, share: k / own.length })),
      );
      // Anywhere inside the axes, where no place beside the curve is free.
      const anywhere: typeof beside = [];
      for (let x = room.left + half; x <= room.right - half; x += across) for (let y = room.top + LINE; y <= room.bottom - rise - 6; y += down) anywhere.push({ at: { x, y }, share: 0 });
      return [...beside, ...anywhere].flatMap(({ at, share }) => {
        const label: Label = { kind: "curve", lines: written, at, anchor: "middle" };
        const box = boxOf(label, measure);
        if (outside(box, room)) return [];
        const [others, near] = [clearance(box, rest), clearance(box, mine)];
        const clear = Math.min(others, 2 * clearance(box, ruled));
        const crossings = (near < HALO ? CROSSED : 0) + (clear < HALO ? CROSSED : 0) + (others + CLOSE < near ? STRAYED : 0);
        // Clear of all else first; then close to its own curve, so that it can belong to no other; then near the middle.
        return { ...label, box, score: Math.min(clear, ROOMY) * 3 - Math.abs(near - CLOSE) * 2 - Math.abs(share - 0.5) * 4 - crossings - costs(box, words.length - 1) };
      });
    });
  });

  // An empty curve, and a frame smaller than its words, have no candidates: no label then.
  return settle([...ruleChoices, ...curveChoices]);
};
