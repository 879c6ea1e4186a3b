/** A figure as a plate: axes, curves and direct labels, laid out as on the page but for type at broadcast size. */
import { node, type Node } from "../drawing.ts";
import { cautionAt, withCaution } from "./caution.ts";
import type { Figure } from "../figures/figure.ts";
import { CIRCLE, FONT, footOf, type Label, labelsOf, type Measure, SQUARE } from "../figures/labels.ts";
import { dot } from "../figures/paths.ts";
import { type Axes, axesOf, type Extent, type Frame, place, type Spare } from "../figures/scales.ts";
import type { UnitSystem } from "../kinds.ts";
import { formatNumber } from "../state/numbers.ts";
import { unitText } from "../state/units.ts";
import { hasLetter, spelt } from "./letters.ts";
import type { Painter } from "./paint.ts";
import { column, inkOf, LIVE, LEADING, type Plate, TEXT, THINNEST, titleOf, type Words } from "./plate.ts";
import type { Side } from "./sides.ts";
import { broken, type Ink, widthOf } from "./type/outline.ts";

/** Drawing units of a figure on the page for each of a plate: their type has the same height then. */
const UNIT = TEXT / FONT;
const PADDING = 18;
/** From the name of the upright axis to its topmost number, and half of a mark at the end of a curve. */
const UNDER_NAME = 26;
const MARKER = 24;
/** Strokes and marks of the page are so many times as thick on a plate. */
const STROKES = 2.6;
/** Points of a curve, in units of the plate: finer than a screen shows. */
const tenth = (value: number): number => Math.round(value * 10) / 10;

const decimalsOf = (ticks: readonly number[]): number => {
  const step = ticks.length > 1 ? (ticks[1] as number) - (ticks[0] as number) : 1;
  return [0, 1, 2, 3, 4, 5].find((digits) => Math.abs(step * 10 ** digits - Math.round(step * 10 ** digits)) < 1e-6 * step * 10 ** digits) ?? 6;
};

const tickWords = ({ ticks }: Extent, locale: string): string[] => ticks.map((tick) => formatNumber(tick, decimalsOf(ticks), locale));
/** Of the words as they are outlined, in units of the page. */
const measure: Measure = (words, kind) => widthOf(words, TEXT, kind === "curve" ? "bold" : "regular") / UNIT;
const axisWords = (label: string, unit: string): string => (unit === "" ? label : `${label}, ${unit}`);

export interface FigureRequest {
  readonly figure: Figure;
  readonly units: UnitSystem;
  readonly locale: string;
  readonly title?: string;
  /** Of the two bodies: stands where the figure's words have a letter. */
  readonly names?: Readonly<Partial<Record<Side, string>>> | undefined;
  /** One line at the foot, on a picture of what can hurt someone. */
  readonly caution?: string | undefined;
}

/** How the plane is laid out: with more of it than the data needs, or with the words of upright lines on flags over it. */
interface Layout extends Spare {
  readonly flags?: boolean;
}
/** The plainest first: the next is tried only where words would be struck through. */
const LAYOUTS: readonly Layout[] = [{}, { right: 0.2 }, { flags: true }, { above: 0.15 }, { right: 0.45 }, { below: 0.15 }, { above: 0.25, right: 0.2 }, { flags: true, right: 0.2 }, { above: 0.25, below: 0.25, right: 0.3 }];

type Place = readonly [x: number, y: number];

/** Where axes, curves, lines and words stand. */
interface Laid {
  readonly frame: Frame;
  readonly axes: Axes;
  readonly paths: readonly (readonly Place[])[];
  /** Ends of each reference line. */
  readonly rules: readonly (readonly [Place, Place])[];
  readonly zero: readonly [Place, Place] | undefined;
  readonly labels: readonly Words[];
}

/** Words this far into a line are struck through by it. */
const TOUCH = 2;
const crosses = ([x, y]: Place, [u, v]: Place, box: Ink): boolean => {
  let [from, to] = [0, 1];
  for (const [start, step, low, high] of [[x, u - x, box.left + TOUCH, box.right - TOUCH], [y, v - y, box.top + TOUCH, box.bottom - TOUCH]] as const) {
    if (step === 0 && (start <= low || start >= high)) return false;
    if (step === 0) continue;
    const [p, q] = [(low - start) / step, (high - start) / step];
    [from, to] = [Math.max(from, Math.min(p, q)), Math.min(to, Math.max(p, q))];
  }
  return from < to;
};

/** Words through which a curve or a line goes. */
const struck = ({ paths, rules, zero, labels }: Laid, figure: Figure): number => {
  const lines = [...paths.filter((_, i) => figure.series[i]?.points !== true), ...rules, ...(zero === undefined ? [] : [zero])];
  return labels.filter((label) => {
    const box = inkOf(label);
    return lines.some((points) => points.some((point, k) => k > 0 && crosses(points[k - 1] as Place, point, box)));
  }).length;
};

/** Flags over the plane: a level for the words of each upright line, such that no longer line passes through a shorter one's words. */
const flagsOf = (figure: Figure, across: (si: number) => number, west: number): { readonly words: string; readonly at: number; readonly left: number; readonly level: number }[] => {
  const flags = new Map<number, string>();
  for (const { axis, at, label } of figure.rules ?? []) if (axis === "x" && label !== "" && !(flags.get(at) ?? "").split("; ").includes(label)) flags.set(at, flags.has(at) ? `${flags.get(at)}; ${label}` : label);
  const all = [...flags].map(([si, words]) => {
    const width = widthOf(words, TEXT, "regular");
    return { words, at: across(si), width, left: Math.max(west, Math.min(LIVE.right - width, across(si) - width / 2)) };
  });
  const clear = (levels: readonly number[]): boolean =>
    all.every((p, i) => all.every((q, k) => k === i || (levels[k] as number) < (levels[i] as number) || (levels[k] === levels[i] ? q.left > p.left + p.width + MARKER || p.left > q.left + q.width + MARKER : q.at < p.left - MARKER / 2 || q.at > p.left + p.width + MARKER / 2)));
  // Fewest levels first.
  let choices: number[][] = [[]];
  for (let level = 1; level <= all.length; level++) {
    choices = [[]];
    for (let i = 0; i < all.length; i++) choices = choices.flatMap((head) => Array.from({ length: level }, (_, next) => [...head, next]));
    const found = choices.find(clear);
    if (found) return all.map((each, i) => ({ ...each, level: found[i] as number }));
  }
  return all.map((each, i) => ({ ...each, level: i }));
};
const MOST_FLAGS = 5;

const layOut = (figure: Figure, units: UnitSystem, locale: string, head: number, floor: number, layout: Layout): Laid => {
  const bottom = floor - 2 * LEADING;
  const widest = (axis: Extent): number => Math.max(0, ...tickWords(axis, locale).map((words) => widthOf(words, TEXT, "regular")));
  const frameWith = (left: number, right: number, flags: number): Frame => ({ width: (LIVE.right - LIVE.left) / UNIT, height: (floor - LIVE.top) / UNIT, left: left / UNIT, right: right / UNIT, top: (head + (1 + flags) * LEADING + UNDER_NAME - LIVE.top) / UNIT, bottom: (floor - bottom) / UNIT });
  const rough = axesOf(figure, frameWith(0, 0, 0), units, layout);
  const [left, right] = [PADDING + widest(rough.y), Math.max(MARKER, widest(rough.x) / 2)];
  const level = axesOf(figure, frameWith(left, right, 0), units, layout).scales.x;
  const across = (si: number): number => LIVE.left + place(level, si) * UNIT;
  const flags = layout.flags === true ? flagsOf(figure, across, LIVE.left + left) : [];
  const levels = flags.length === 0 ? 0 : 1 + Math.max(...flags.map((flag) => flag.level));
  const frame = frameWith(left, right, levels);
  const axes = axesOf(figure, frame, units, layout);
  const up = (si: number): number => LIVE.top + place(axes.scales.y, si) * UNIT;
  const [west, east] = [LIVE.left + frame.left * UNIT, LIVE.left + (frame.width - frame.right) * UNIT];
  const top = LIVE.top + frame.top * UNIT;
  const baseOf = (flag: { readonly level: number }): number => top - flag.level * LEADING - MARKER;
  const flagged: Words[] = flags.map((flag) => ({ role: "label", words: flag.words, x: flag.left, y: baseOf(flag), size: TEXT, weight: "regular", tone: "soft", anchor: "start" }));
  const plain = flags.length === 0 ? figure : { ...figure, rules: (figure.rules ?? []).map((rule) => (rule.axis === "x" ? { ...rule, label: "" } : rule)) };
  return {
    frame,
    axes,
    paths: figure.series.map((series) => {
      const count = Math.min(series.x.length, series.y.length);
      return Array.from({ length: count }, (_, i) => [tenth(across(series.x[i] as number)), tenth(up(series.y[i] as number))] as const).filter(([px, py]) => Number.isFinite(px) && Number.isFinite(py));
    }),
    rules: (figure.rules ?? []).map(({ axis, at }) => {
      const flag = flags.find((each) => each.at === across(at));
      return axis === "x" ? [[across(at), flag === undefined ? top : baseOf(flag) + MARKER / 2], [across(at), bottom]] : [[west, up(at)], [east, up(at)]];
    }),
    zero: axes.y.from <= 0 && axes.y.to >= 0 ? [[west, up(0)], [east, up(0)]] : undefined,
    // Labels as on the page; each line is measured, and moved where the true type would leave the safe area.
    labels: [...flagged, ...labelsOf(plain, axes.scales, frame, measure).flatMap((label) => labelWords(label, figure))],
  };
};

/** The first layout that strikes no words through, or the fewest. */
const plainest = (figure: Figure, units: UnitSystem, locale: string, head: number, floor: number): Laid => {
  const upright = (figure.rules ?? []).filter(({ axis }) => axis === "x").length;
  let best: Laid | undefined;
  let least = Infinity;
  for (const layout of LAYOUTS) {
    if (layout.flags === true && (upright === 0 || upright > MOST_FLAGS)) continue;
    const next = layOut(figure, units, locale, head, floor, layout);
    const count = struck(next, figure);
    if (count < least) [best, least] = [next, count];
    if (least === 0) break;
  }
  return best as Laid;
};

const lately = new WeakMap<Figure, { readonly key: string; readonly laid: Laid }>();

export const figurePlate = ({ figure: asked, units, locale, title: other, names = {}, caution }: FigureRequest, { paint }: Painter): Plate => {
  const figure = named(asked, names);
  const title = other ?? figure.title;
  const head = titleOf(title);
  const { words: cautions, floor } = cautionAt(caution);
  // The same figure is drawn again on another ground, or covered.
  const key = [units, locale, head.foot, floor, names.a, names.b].join();
  const kept = lately.get(asked);
  const laid = kept?.key === key ? kept.laid : plainest(figure, units, locale, head.foot, floor);
  lately.set(asked, { key, laid });
  const { frame, axes: { x, y, scales }, paths, rules, zero, labels } = laid;

  const words: Words[] = [...head.words];
  const art: Node[] = [];
  const [left, right] = [LIVE.left + frame.left * UNIT, LIVE.left + (frame.width - frame.right) * UNIT];
  const bottom = floor - 2 * LEADING;
  const line = (x1: number, y1: number, x2: number, y2: number, name: string): Node => node("line", { x1: tenth(x1), y1: tenth(y1), x2: tenth(x2), y2: tenth(y2), class: name });
  const toY = (tick: number): number => place({ domain: [y.from, y.to], range: scales.y.range }, tick) * UNIT + LIVE.top;
  const toX = (tick: number): number => place({ domain: [x.from, x.to], range: scales.x.range }, tick) * UNIT + LIVE.left;

  tickWords(y, locale).forEach((tick, i) => {
    const level = toY(y.ticks[i] as number);
    art.push(line(left, level, right, level, "grid"));
    words.push({ role: "axis", words: tick, x: left - PADDING, y: level + 22, size: TEXT, weight: "regular", tone: "ink", anchor: "end" });
  });
  if (zero !== undefined) art.push(line(...zero[0], ...zero[1], "zero"));
  let free = -Infinity;
  tickWords(x, locale).forEach((tick, i) => {
    const middle = toX(x.ticks[i] as number);
    const half = widthOf(tick, TEXT, "regular") / 2;
    if (middle - half < free || middle + half > LIVE.right) return;
    free = middle + half + 40;
    art.push(line(middle, bottom, middle, bottom + 12, "tick"));
    words.push({ role: "axis", words: tick, x: middle, y: bottom + 74, size: TEXT, weight: "regular", tone: "ink", anchor: "middle" });
  });
  const nameX = axisWords(figure.x.label, unitText(x.unit));
  const nameY = axisWords(figure.y.label, unitText(y.unit));
  words.push({ role: "axis", words: nameX, x: LIVE.right, y: floor - 14, size: TEXT, weight: "regular", tone: "soft", anchor: "end" });
  words.push(...column(broken(nameY, TEXT, "regular", LIVE.right - LIVE.left).slice(0, 1), head.foot - 6, { role: "axis", x: LIVE.left, tone: "soft" }).words);

  for (const [from, to] of rules) art.push(line(...from, ...to, "rule"));
  figure.series.forEach(({ area, belongs }, i) => {
    const points = paths[i] as readonly Place[];
    const [begin, end] = [points[0], points.at(-1)];
    if (area && begin && end) art.push(node("path", { d: `M${begin[0]},${tenth(toY(Math.max(0, y.from)))}${points.map(([px, py]) => `L${px},${py}`).join("")}L${end[0]},${tenth(toY(Math.max(0, y.from)))}Z`, class: `area area-${belongs}` }));
  });
  const magnified = (nodes: readonly Node[]): Node => node("g", { transform: `scale(${STROKES})` }, nodes);
  const small = (value: number): number => Math.round((value / STROKES) * 100) / 100;
  figure.series.forEach(({ belongs, points: readings }, i) => {
    const points = paths[i] as readonly Place[];
    if (points.length === 0) return;
    art.push(magnified([readings ? node("path", { d: points.map(([px, py]) => dot([small(px), small(py)], belongs)).join(""), class: `dots dots-${belongs}` }) : node("path", { d: points.map(([px, py], k) => `${k === 0 ? "M" : "L"}${small(px)},${small(py)}`).join(""), class: `line line-${belongs}` })]));
  });
  figure.series.forEach(({ belongs, points: readings }, i) => {
    const end = (paths[i] as readonly Place[]).at(-1);
    if (!end || readings) return;
    const marker = belongs === "b" ? node("rect", { x: -SQUARE, y: -SQUARE, width: 2 * SQUARE, height: 2 * SQUARE }) : node("circle", { cx: 0, cy: 0, r: CIRCLE });
    art.push(node("g", { class: `end end-${belongs}`, transform: `translate(${end[0]},${end[1]}) scale(${STROKES})` }, [marker]));
  });
  words.push(...labels, ...cautions);
  return { title, says: withCaution(figure.says, caution), art: [paint(art, "figure-plot", THINNEST)], words };
};

/** A figure whose words have the names of the bodies in place of their letters. */
const named = (figure: Figure, names: FigureRequest["names"] & object): Figure => {
  const labels = [figure.title, figure.x.label, figure.y.label, ...figure.series.map(({ label }) => label), ...(figure.rules ?? []).map(({ label }) => label)];
  const article = !labels.some(hasLetter);
  const said = (words: string): string => spelt(words, names, { article });
  return {
    ...figure,
    title: spelt(figure.title, names, { article: true }),
    x: { ...figure.x, label: said(figure.x.label) },
    y: { ...figure.y, label: said(figure.y.label) },
    series: figure.series.map((series) => ({ ...series, label: said(series.label) })),
    ...(figure.rules && { rules: figure.rules.map((rule) => ({ ...rule, label: said(rule.label) })) }),
  };
};

const labelWords = (label: Label, figure: Figure): Words[] =>
  label.lines.flatMap(({ of, words }, k): Words[] => {
    const foot = footOf(label, k);
    const belongs = label.kind === "curve" ? figure.series[of]?.belongs : undefined;
    const weight = label.kind === "curve" ? "bold" : "regular";
    const width = widthOf(words, TEXT, weight);
    const wanted = LIVE.left + foot.x * UNIT - (label.anchor === "start" ? 0 : label.anchor === "end" ? width : width / 2);
    const x = Math.max(LIVE.left, Math.min(LIVE.right - width, wanted));
    const y = LIVE.top + foot.y * UNIT;
    const base = { role: "label", y, size: TEXT, weight, anchor: "start" } as const;
    if (k > 0 || (belongs !== "a" && belongs !== "b")) return [{ ...base, words, x, tone: label.kind === "rule" ? "soft" : "ink" }];
    // The mark at the head of a curve's label in the curve's colour.
    const mark = words.slice(0, 1);
    return [
      { ...base, words: mark, x, tone: belongs },
      { ...base, words: words.slice(1), x: x + widthOf(mark, TEXT, weight), tone: "ink" },
    ];
  });
