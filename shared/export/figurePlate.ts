/** A figure as a plate: axes, curves and direct labels, laid out as on the page but for type at broadcast size. */
import { node, type Node } from "../drawing.ts";
import type { Figure } from "../figures/figure.ts";
import { CIRCLE, FONT, footOf, type Label, labelsOf, SQUARE } from "../figures/labels.ts";
import { axesOf, type Extent, type Frame, place } from "../figures/scales.ts";
import type { UnitSystem } from "../kinds.ts";
import { formatNumber } from "../state/numbers.ts";
import { unitText } from "../state/units.ts";
import type { Painter } from "./paint.ts";
import { column, LIVE, LEADING, type Plate, TEXT, THINNEST, titleOf, type Words } from "./plate.ts";
import { broken, widthOf } from "./type/outline.ts";

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
const axisWords = (label: string, unit: string): string => (unit === "" ? label : `${label}, ${unit}`);

export interface FigureRequest {
  readonly figure: Figure;
  readonly units: UnitSystem;
  readonly locale: string;
  readonly title?: string;
}

export const figurePlate = ({ figure, units, locale, title = figure.title }: FigureRequest, { paint }: Painter): Plate => {
  const head = titleOf(title);
    // The name of the upright axis stands over it, that of the level one under its numbers.
  const top = head.foot + LEADING + UNDER_NAME;
  const bottom = LIVE.bottom - 2 * LEADING;
  const widest = (axis: Extent): number => Math.max(0, ...tickWords(axis, locale).map((words) => widthOf(words, TEXT, "regular")));
  const frameWith = (left: number, right: number): Frame => ({ width: (LIVE.right - LIVE.left) / UNIT, height: (LIVE.bottom - LIVE.top) / UNIT, left: left / UNIT, right: right / UNIT, top: (top - LIVE.top) / UNIT, bottom: (LIVE.bottom - bottom) / UNIT });
  const rough = axesOf(figure, frameWith(0, 0), units);
  const frame = frameWith(PADDING + widest(rough.y), Math.max(MARKER, widest(rough.x) / 2));
  const { scales, x, y } = axesOf(figure, frame, units);
  const at = (px: number, py: number): readonly [number, number] => [LIVE.left + px * UNIT, LIVE.top + py * UNIT];
  const across = (si: number): number => at(place(scales.x, si), 0)[0];
  const up = (si: number): number => at(0, place(scales.y, si))[1];

  const words: Words[] = [...head.words];
  const art: Node[] = [];
  const [left, right] = [at(frame.left, 0)[0], at(frame.width - frame.right, 0)[0]];
  const line = (x1: number, y1: number, x2: number, y2: number, name: string): Node => node("line", { x1: tenth(x1), y1: tenth(y1), x2: tenth(x2), y2: tenth(y2), class: name });
  const toY = (tick: number): number => place({ domain: [y.from, y.to], range: scales.y.range }, tick) * UNIT + LIVE.top;
  const toX = (tick: number): number => place({ domain: [x.from, x.to], range: scales.x.range }, tick) * UNIT + LIVE.left;

  tickWords(y, locale).forEach((tick, i) => {
    const level = toY(y.ticks[i] as number);
    art.push(line(left, level, right, level, "grid"));
    words.push({ role: "axis", words: tick, x: left - PADDING, y: level + 22, size: TEXT, weight: "regular", tone: "ink", anchor: "end" });
  });
  if (y.from <= 0 && y.to >= 0) art.push(line(left, toY(0), right, toY(0), "zero"));
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
  words.push({ role: "axis", words: nameX, x: LIVE.right, y: LIVE.bottom - 14, size: TEXT, weight: "regular", tone: "soft", anchor: "end" });
  words.push(...column(broken(nameY, TEXT, "regular", LIVE.right - LIVE.left).slice(0, 1), head.foot - 6, { role: "axis", x: LIVE.left, tone: "soft" }).words);

  for (const rule of figure.rules ?? []) art.push(rule.axis === "x" ? line(across(rule.at), top, across(rule.at), bottom, "rule") : line(left, up(rule.at), right, up(rule.at), "rule"));
  const paths = figure.series.map((series) => {
    const count = Math.min(series.x.length, series.y.length);
    return Array.from({ length: count }, (_, i) => [tenth(across(series.x[i] as number)), tenth(up(series.y[i] as number))] as const).filter(([px, py]) => Number.isFinite(px) && Number.isFinite(py));
  });
  figure.series.forEach(({ area, belongs }, i) => {
    const points = paths[i] as readonly (readonly [number, number])[];
    const [begin, end] = [points[0], points.at(-1)];
    if (area && begin && end) art.push(node("path", { d: `M${begin[0]},${tenth(toY(Math.max(0, y.from)))}${points.map(([px, py]) => `L${px},${py}`).join("")}L${end[0]},${tenth(toY(Math.max(0, y.from)))}Z`, class: `area area-${belongs}` }));
  });
  const magnified = (nodes: readonly Node[]): Node => node("g", { transform: `scale(${STROKES})` }, nodes);
  const small = (value: number): number => Math.round((value / STROKES) * 100) / 100;
  figure.series.forEach(({ belongs }, i) => {
    const points = paths[i] as readonly (readonly [number, number])[];
    if (points.length > 0) art.push(magnified([node("path", { d: points.map(([px, py], k) => `${k === 0 ? "M" : "L"}${small(px)},${small(py)}`).join(""), class: `line line-${belongs}` })]));
  });
  figure.series.forEach(({ belongs }, i) => {
    const end = (paths[i] as readonly (readonly [number, number])[]).at(-1);
    if (!end) return;
    const marker = belongs === "b" ? node("rect", { x: -SQUARE, y: -SQUARE, width: 2 * SQUARE, height: 2 * SQUARE }) : node("circle", { cx: 0, cy: 0, r: CIRCLE });
    art.push(node("g", { class: `end end-${belongs}`, transform: `translate(${end[0]},${end[1]}) scale(${STROKES})` }, [marker]));
  });

  // Labels as on the page; each line is measured, and moved where the true type would leave the safe area.
  for (const label of labelsOf(figure, scales, frame)) words.push(...labelWords(label, figure));
  return { title, says: figure.says, art: [paint(art, "figure-plot", THINNEST)], words };
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
