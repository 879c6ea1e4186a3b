/** Draws a figure by Observable Plot. Used at build time and when the reader lets go; nothing a page needs to be read. */
import * as Plot from "@observablehq/plot";
import { fromSI } from "../../lib/units.ts";
import type { UnitSystem } from "../kinds.ts";
import type { Write } from "../lesson.ts";
import { unitText } from "../state/units.ts";
import type { Figure } from "./figure.ts";
import { pathData } from "./paths.ts";
import { type Axes, axesOf, type Frame, place, type Scales, writeScales } from "./scales.ts";

export interface PlotRequest {
  readonly document: Document;
  /** Drawing units; 340 or more. */
  readonly width: number;
  readonly height: number;
  readonly write: Write;
  readonly units: UnitSystem;
  /** For the numbers on the axes. */
  readonly locale?: string;
}

const SVG = "http://www.w3.org/2000/svg";
const FONT = 14;
/** Rough width of a character, in heights of the face. */
const CHARACTER = 0.56;
/** Labels of curves are in strong type. */
const STRONG = 0.63;
/** A circle that surrounds a square, so that both show where two curves end together. */
const CIRCLE = 6.5;
const SQUARE = 3.5;

/** The label of a curve begins with its body's mark. */
const labelOf = (series: Figure["series"][number]): string => (series.belongs === "a" ? `\u25cf ${series.label}` : series.belongs === "b" ? `\u25a0 ${series.label}` : series.label);

const frameOf = (figure: Figure, width: number, height: number): Frame => ({ width, height, left: width < 480 ? 46 : 56, right: 20, top: 34, bottom: 50 });

interface Placed {
  readonly x: number;
  readonly y: number;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const boxAt = ({ x, y }: Placed, words: string, character = CHARACTER): Box => {
  const half = (words.length * character * FONT) / 2;
  return { left: x - half, right: x + half, top: y - FONT * 0.8, bottom: y + FONT * 0.35 };
};

const overlaps = (p: Box, q: Box): boolean => p.left < q.right && q.left < p.right && p.top < q.bottom && q.top < p.bottom;

/** How far a box is from the nearest of some points: 0 where one lies inside. */
const clearance = (box: Box, points: readonly Placed[]): number => {
  let least = Infinity;
  for (const { x, y } of points) least = Math.min(least, Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.top - y, 0, y - box.bottom)));
  return least;
};

const SAMPLES = 90;
const sampled = (figure: Figure, scales: Scales): Placed[][] =>
  figure.series.map(({ x, y }) => {
    const count = Math.min(x.length, y.length);
    if (count === 0) return [];
    // Evenly along the drawn length, so that a straight line of two points is as solid as a long history.
    const corners = Array.from({ length: count }, (_, i): Placed => ({ x: place(scales.x, x[i] as number), y: place(scales.y, y[i] as number) }));
    const lengths = [0];
    for (let i = 1; i < count; i++) lengths.push((lengths[i - 1] as number) + Math.hypot((corners[i] as Placed).x - (corners[i - 1] as Placed).x, (corners[i] as Placed).y - (corners[i - 1] as Placed).y));
    const whole = lengths[count - 1] as number;
    let i = 1;
    return Array.from({ length: SAMPLES + 1 }, (_, k) => {
      const target = (whole * k) / SAMPLES;
      while (i < count - 1 && (lengths[i] as number) < target) i++;
      const [p, q] = [corners[Math.max(0, i - 1)] as Placed, corners[Math.min(i, count - 1)] as Placed];
      const piece = (lengths[i] ?? 0) - (lengths[i - 1] ?? 0);
      const share = piece > 0 ? Math.min(1, Math.max(0, (target - (lengths[i - 1] as number)) / piece)) : 0;
      return { x: p.x + share * (q.x - p.x), y: p.y + share * (q.y - p.y) };
    });
  });

/** Reference lines as points. */
const ruleLines = (figure: Figure, scales: Scales, frame: Frame): Placed[][] =>
  (figure.rules ?? []).map((rule) => {
    const on = place(scales[rule.axis], rule.at);
    return Array.from({ length: SAMPLES + 1 }, (_, k): Placed => (rule.axis === "x" ? { x: on, y: frame.top + ((frame.height - frame.bottom - frame.top) * k) / SAMPLES } : { x: frame.left + ((frame.width - frame.right - frame.left) * k) / SAMPLES, y: on }));
  });

/** Enough room that a label does not touch the other curves; more than this is no better than this. */
const ROOMY = 14;
const CLOSE = 6;

/** A place on each curve for its own label: near it, clear of the other curves, of rules and of other labels. */
const labelPlaces = (figure: Figure, scales: Scales, frame: Frame, taken: readonly Box[]): Placed[] => {
  const curves = sampled(figure, scales);
  const boxes = [...taken];
  const lines = ruleLines({ ...figure, rules: [...(figure.rules ?? []), { axis: "y", at: 0, label: "" }] }, scales, frame);
  const ends = curves.flatMap((points) => points.slice(-1));
  return figure.series.map((series, s) => {
    const words = labelOf(series);
    const own = curves[s] as Placed[];
    let best: { at: Placed; score: number } | null = null;
    for (let k = 4; k < own.length - 3; k += 2)
      for (const [dx, dy] of [[0, -14], [0, 22], [1, -4], [-1, -4], [1, 10], [-1, 10]] as const) {
        const from = own[k] as Placed;
        const at = { x: from.x + dx * ((words.length * STRONG * FONT) / 2 + 12), y: from.y + dy };
        const box = boxAt(at, words, STRONG);
        if (box.left < frame.left + 4 || box.right > frame.width - frame.right - 2 || box.top < frame.top || box.bottom > frame.height - frame.bottom - 4) continue;
        if (boxes.some((other) => overlaps(box, other))) continue;
        const others = Math.min(...curves.map((points, i) => (i === s ? Infinity : clearance(box, points))), ...lines.map((points) => 2 * clearance(box, points)));
        const near = clearance(box, own);
        if (clearance(box, ends) < CIRCLE + 4) continue;
        // Clear of all else first; then close to its own curve, so that it can belong to no other; then near the middle.
        const score = Math.min(others, ROOMY) * 3 - Math.abs(near - CLOSE) * 2 - Math.abs(k / own.length - 0.5) * 4;
        if (!best || score > best.score) best = { at, score };
      }
    const end = own[own.length - 1] ?? { x: frame.left, y: frame.top };
    const found = best?.at ?? { x: Math.min(end.x, frame.width - frame.right - (words.length * STRONG * FONT) / 2), y: Math.max(end.y - 14, frame.top + FONT) };
    boxes.push(boxAt(found, words, STRONG));
    return found;
  });
};

/** Removes what the content policy refuses (Plot writes its own style element and attributes), and names on groups, which have no role to carry one. */
const withoutStyles = (svg: Element): void => {
  for (const group of Array.from(svg.querySelectorAll("g[aria-label]"))) group.removeAttribute("aria-label");
  for (const style of Array.from(svg.querySelectorAll("style"))) style.remove();
  for (const element of [svg, ...Array.from(svg.querySelectorAll("[style]"))]) element.removeAttribute("style");
};

const first = (svg: Element, className: string): Element | null => svg.querySelector(`.${className}`);

/** Plot puts a mark's class on the mark's group or on its one shape; the shapes themselves are wanted. */
const shapes = (svg: Element, className: string, tag: string): Element[] => {
  const root = first(svg, className);
  return root === null ? [] : root.localName === tag ? [root] : Array.from(root.querySelectorAll(tag));
};

const tickText = (locale: string, step: number): ((value: number) => string) => {
  const digits = Math.max(0, Math.min(6, Math.ceil(-Math.log10(step) - 1e-9), (String(step).split(".")[1] ?? "").length));
  const format = new Intl.NumberFormat(locale, { minimumFractionDigits: digits, maximumFractionDigits: digits });
  return (value) => format.format(Object.is(value, -0) ? 0 : value).replace("-", "\u2212");
};

const axisLabel = (label: string, unit: string): string => (unit === "" ? label : `${label}, ${unit}`);

/** Places of the labels of reference lines, outside the curves' way as far as the frame allows. */
const ruleLabels = (figure: Figure, axes: Axes, frame: Frame): { readonly at: Placed; readonly anchor: "start" | "end"; readonly words: string }[] => {
  const curves = sampled(figure, axes.scales).flat();
  const lines = ruleLines(figure, axes.scales, frame);
  const taken: Box[] = [];
  return (figure.rules ?? []).map((rule, r) => {
    const on = place(axes.scales[rule.axis], rule.at);
    const length = rule.label.length * CHARACTER * FONT;
    const others = lines.flatMap((points, i) => (i === r ? [] : points));
    const candidates: { at: Placed; anchor: "start" | "end" }[] =
      rule.axis === "y"
        ? [-6, 16].flatMap((dy) => [{ at: { x: frame.width - frame.right - 2, y: on + dy }, anchor: "end" as const }, { at: { x: frame.left + 6, y: on + dy }, anchor: "start" as const }])
        : [frame.top + 12, frame.top + 30, frame.height - frame.bottom - 26, frame.height - frame.bottom - 8].flatMap((y) => [{ at: { x: on + 6, y }, anchor: "start" as const }, { at: { x: on - 6, y }, anchor: "end" as const }]);
    const scored = candidates.map((candidate) => {
      const box = boxAt({ x: candidate.at.x + (candidate.anchor === "start" ? length / 2 : -length / 2), y: candidate.at.y }, rule.label);
      const outside = box.left < frame.left - 2 || box.right > frame.width - 2 || box.top < frame.top - 14 || box.bottom > frame.height - frame.bottom + 2;
      const score = Math.min(clearance(box, curves), 20) + 2 * Math.min(clearance(box, others), 8) - (outside ? 100 : 0) - (taken.some((other) => overlaps(box, other)) ? 200 : 0);
      return { ...candidate, words: rule.label, box, score };
    });
    const best = scored.reduce((chosen, one) => (one.score > chosen.score ? one : chosen));
    taken.push(best.box);
    return best;
  });
};

/**
 * The figure as an `<svg class="figure-plot">`: direct labels on the curves, a circle at the end of a's and a square at the end of
 * b's, b dashed. The axes' scales stand in its data attributes (`readScales`), so that `moveFigure` can redraw the curves alone.
 */
export const plotFigure = (figure: Figure, { document, width, height, units, locale = "en" }: PlotRequest): SVGSVGElement => {
  const frame = frameOf(figure, width, height);
  const axes = axesOf(figure, frame, units);
  const { scales, x, y } = axes;
  const rules = figure.rules ?? [];
  const ruleText = ruleLabels(figure, axes, frame);
  const taken = ruleText.map(({ at, anchor, words }) => boxAt({ x: at.x + ((anchor === "start" ? 1 : -1) * words.length * CHARACTER * FONT) / 2, y: at.y }, words));
  const places = labelPlaces(figure, scales, frame, taken);
  const rowsOf = (i: number): { x: number; y: number }[] => {
    const series = figure.series[i] as Figure["series"][number];
    // Two rows stand in for the history: the exact path is written from the figure below, the same way as during a drag.
    const ends = [0, Math.min(series.x.length, series.y.length) - 1].filter((k) => k >= 0);
    return ends.map((k) => ({ x: fromSI(series.x[k] as number, x.unit), y: fromSI(series.y[k] as number, y.unit) }));
  };
  const step = (ticks: readonly number[]): number => (ticks.length > 1 ? (ticks[1] as number) - (ticks[0] as number) : 1);
  const svg = Plot.plot({
    document,
    width,
    height,
    className: "figure-plot",
    marginLeft: frame.left,
    marginRight: frame.right,
    marginTop: frame.top,
    marginBottom: frame.bottom,
    x: { type: "linear", domain: [x.from, x.to], range: [frame.left, width - frame.right], label: null },
    y: { type: "linear", domain: [y.from, y.to], range: [height - frame.bottom, frame.top], label: null },
    marks: [
      Plot.gridY(y.ticks, { className: "grid" }),
      Plot.axisX(x.ticks, { tickFormat: tickText(locale, step(x.ticks)), fontSize: FONT, tickSize: 5, tickPadding: 4, label: axisLabel(figure.x.label, unitText(x.unit)), labelAnchor: "right", labelArrow: "none", labelOffset: 40, className: "axis" }),
      Plot.axisY(y.ticks, { tickFormat: tickText(locale, step(y.ticks)), fontSize: FONT, tickSize: 0, tickPadding: 7, label: axisLabel(figure.y.label, unitText(y.unit)), labelAnchor: "top", labelArrow: "none", labelOffset: frame.left - 4, className: "axis" }),
      Plot.ruleY([0], { className: "zero" }),
      ...rules.map((rule, i) => (rule.axis === "y" ? Plot.ruleY([fromSI(rule.at, y.unit)], { className: `rule rule-${i}` }) : Plot.ruleX([fromSI(rule.at, x.unit)], { className: `rule rule-${i}` }))),
      ...figure.series.flatMap((series, i) => (series.area ? [Plot.areaY(rowsOf(i), { x: "x", y: "y", className: `area area-${series.belongs} area-at-${i}` })] : [])),
      ...figure.series.map((series, i) => Plot.lineY(rowsOf(i), { x: "x", y: "y", className: `line line-${series.belongs} line-at-${i}` })),
      ...figure.series.map((series, i) => Plot.dot(rowsOf(i).slice(-1), { x: "x", y: "y", r: CIRCLE, symbol: series.belongs === "b" ? "square" : "circle", className: `end end-${series.belongs} end-at-${i}` })),
      ...figure.series.map((series, i) =>
        Plot.text([labelOf(series)], { frameAnchor: "top-left", dx: (places[i] as Placed).x - frame.left, dy: (places[i] as Placed).y - frame.top, textAnchor: "middle", lineAnchor: "bottom", fontSize: FONT, className: `curve-label curve-label-${series.belongs}` }),
      ),
      ...ruleText.map(({ at, anchor, words }, i) => Plot.text([words], { frameAnchor: "top-left", dx: at.x - frame.left, dy: at.y - frame.top, textAnchor: anchor, lineAnchor: "bottom", fontSize: FONT, className: `rule-label rule-label-${i}` })),
    ],
  }) as unknown as SVGSVGElement;
  withoutStyles(svg);
  svg.setAttribute("xmlns", SVG);
  writeScales(svg, scales);
  svg.setAttribute("data-count", String(figure.series.length));

  // Curves run off the frame during a drag: an inner svg cuts them there, with no id to keep unique.
  const window = document.createElementNS(SVG, "svg");
  const [w, h] = [width - frame.left - frame.right, height - frame.top - frame.bottom];
  for (const [name, value] of Object.entries({ x: frame.left, y: frame.top, width: w, height: h, viewBox: `${frame.left} ${frame.top} ${w} ${h}`, class: "curves" })) window.setAttribute(name, String(value));
  const anchor = first(svg, "end-at-0");
  if (anchor) svg.insertBefore(window, Array.from(svg.children).find((child) => child === anchor || child.contains(anchor)) ?? null);
  pathData(figure, scales).forEach(({ line, area, end }, i) => {
    const series = figure.series[i] as Figure["series"][number];
    for (const [what, d] of [["area", area], ["line", line]] as const) {
      const drawn = shapes(svg, `${what}-at-${i}`, "path")[0];
      if (d === null || !drawn) continue;
      first(svg, `${what}-at-${i}`)?.remove();
      drawn.setAttribute("class", `${what} ${what}-${series.belongs}`);
      drawn.setAttribute("d", d);
      drawn.setAttribute(`data-${what}`, String(i));
      for (const gone of ["fill", "stroke", "stroke-width", "stroke-linejoin", "stroke-linecap", "stroke-miterlimit"]) drawn.removeAttribute(gone);
      window.appendChild(drawn);
    }
    const marker = first(svg, `end-at-${i}`);
    const shape = document.createElementNS(SVG, "g");
    shape.setAttribute("class", `end end-${series.belongs}`);
    shape.setAttribute("data-end", String(i));
    if (end) shape.setAttribute("transform", `translate(${end[0]},${end[1]})`);
    const own = document.createElementNS(SVG, series.belongs === "b" ? "rect" : "circle");
    for (const [name, value] of Object.entries(series.belongs === "b" ? { x: -SQUARE, y: -SQUARE, width: 2 * SQUARE, height: 2 * SQUARE } : { cx: 0, cy: 0, r: CIRCLE })) own.setAttribute(name, String(value));
    shape.appendChild(own);
    marker?.replaceWith(shape);
  });
  // The mark at the head of a curve's label in the curve's colour.
  for (const { belongs } of figure.series)
    for (const label of shapes(svg, `curve-label-${belongs}`, "text")) {
      const words = label.textContent ?? "";
      if (belongs !== "a" && belongs !== "b") continue;
      const mark = document.createElementNS(SVG, "tspan");
      mark.setAttribute("class", `mark-${belongs}`);
      mark.textContent = words.slice(0, 1);
      label.textContent = words.slice(1);
      label.insertBefore(mark, label.firstChild);
    }
  rules.forEach((rule, i) => {
    for (const drawn of shapes(svg, `rule-${i}`, "line")) drawn.setAttribute("data-rule", String(i));
    const label = shapes(svg, `rule-label-${i}`, "text")[0];
    const where = ruleText[i];
    if (!label || !where) return;
    label.setAttribute("data-rule", String(i));
    label.setAttribute("data-other", String(rule.axis === "x" ? where.at.y : where.at.x));
  });
  return svg;
};

