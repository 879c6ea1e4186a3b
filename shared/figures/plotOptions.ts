/** Draws a figure by Observable Plot. Used at build time and when the reader lets go; nothing a page needs to be read. */
import * as Plot from "@observablehq/plot";
import type { UnitSystem } from "../kinds.ts";
import type { Write } from "../lesson.ts";
import { unitText } from "../state/units.ts";
import type { Figure } from "./figure.ts";
import { CIRCLE, FONT, footOf, labelsOf, SQUARE, widthOf } from "./labels.ts";
import { moveFigure } from "./paths.ts";
import { axesOf, type Frame, place, writeScales } from "./scales.ts";

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
/** Room for half a line's width beyond the axes. */
const EDGE = 2;

/** Paper between the numbers of the upright axis and the axis. */
const PADDING = 7;

/** Room on the left for the longest of some numbers. */
const frameOf = (width: number, height: number, numbers: readonly string[]): Frame => ({ width, height, left: Math.ceil(Math.max(width < 480 ? 46 : 56, PADDING + 2 + Math.max(0, ...numbers.map(widthOf)))), right: 20, top: 34, bottom: 50 });

/** Removes what the content policy refuses (Plot writes its own style element and attributes), and names on groups, which have no role to carry one. */
const withoutStyles = (svg: Element): void => {
  for (const group of Array.from(svg.querySelectorAll("g[aria-label]"))) group.removeAttribute("aria-label");
  for (const style of Array.from(svg.querySelectorAll("style"))) style.remove();
  for (const element of [svg, ...Array.from(svg.querySelectorAll("[style]"))]) element.removeAttribute("style");
};

/** As many decimals as a step between ticks has. */
const decimalsOf = (step: number): number => [0, 1, 2, 3, 4, 5].find((digits) => Math.abs(step * 10 ** digits - Math.round(step * 10 ** digits)) < 1e-6 * step * 10 ** digits) ?? 6;

const tickText = (locale: string, step: number): ((value: number) => string) => {
  const digits = decimalsOf(step);
  const format = new Intl.NumberFormat(locale, { minimumFractionDigits: digits, maximumFractionDigits: digits });
  return (value) => format.format(Object.is(value, -0) ? 0 : value).replace("-", "\u2212");
};

const axisLabel = (label: string, unit: string): string => (unit === "" ? label : `${label}, ${unit}`);
const tenth = (value: number): number => Math.round(value * 10) / 10;

/**
 * The figure as an `<svg class="figure-plot">`: direct labels on the curves, a circle at the end of a's and a square at the end of
 * b's, b dashed. The axes' scales stand in its data attributes (`readScales`), so that `moveFigure` can redraw the curves alone.
 * Plot draws the axes; the rest is written by `moveFigure`, now as during a drag.
 */
export const plotFigure = (figure: Figure, { document, width, height, units, locale = "en" }: PlotRequest): SVGSVGElement => {
  const step = (ticks: readonly number[]): number => (ticks.length > 1 ? (ticks[1] as number) - (ticks[0] as number) : 1);
  const upright = axesOf(figure, frameOf(width, height, []), units).y.ticks;
  const frame = frameOf(width, height, upright.map(tickText(locale, step(upright))));
  const { scales, x, y } = axesOf(figure, frame, units);
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
      Plot.axisY(y.ticks, { tickFormat: tickText(locale, step(y.ticks)), fontSize: FONT, tickSize: 0, tickPadding: PADDING, label: axisLabel(figure.y.label, unitText(y.unit)), labelAnchor: "top", labelArrow: "none", labelOffset: frame.left, className: "axis" }),
      Plot.ruleY([0], { className: "zero" }),
    ],
  }) as unknown as SVGSVGElement;
  withoutStyles(svg);
  svg.setAttribute("xmlns", SVG);
  writeScales(svg, scales);
  svg.setAttribute("data-count", String(figure.series.length));

  const add = (parent: Element, name: string, attributes: Readonly<Record<string, string | number>>): Element => {
    const element = document.createElementNS(SVG, name);
    for (const [attribute, value] of Object.entries(attributes)) element.setAttribute(attribute, String(value));
    parent.appendChild(element);
    return element;
  };

  // Curves and rules run off the frame during a drag: an inner svg cuts them there, with no id to keep unique.
  const [left, top, w, h] = [frame.left - EDGE, frame.top - EDGE, width - frame.left - frame.right + 2 * EDGE, height - frame.top - frame.bottom + 2 * EDGE];
  const window = add(svg, "svg", { x: left, y: top, width: w, height: h, viewBox: `${left} ${top} ${w} ${h}`, class: "curves" });
  (figure.rules ?? []).forEach(({ axis }, i) => {
    const along = axis === "x" ? { y1: frame.top, y2: height - frame.bottom } : { x1: frame.left, x2: width - frame.right };
    add(window, "line", { class: "rule", "data-rule": i, ...along });
  });
  figure.series.forEach(({ area, belongs }, i) => {
    if (area) add(window, "path", { class: `area area-${belongs}`, "data-area": i });
  });
  figure.series.forEach(({ belongs, points }, i) => void add(window, "path", { class: points ? `dots dots-${belongs}` : `line line-${belongs}`, "data-line": i }));
  figure.series.forEach(({ belongs, points }, i) => {
    if (points) return;
    const marker = add(svg, "g", { class: `end end-${belongs}`, "data-end": i });
    if (belongs === "b") add(marker, "rect", { x: -SQUARE, y: -SQUARE, width: 2 * SQUARE, height: 2 * SQUARE });
    else add(marker, "circle", { r: CIRCLE });
  });

  const words = add(svg, "g", { class: "labels", "font-size": FONT });
  for (const label of labelsOf(figure, scales, frame))
    label.lines.forEach(({ of, words: line }, k) => {
      const foot = footOf(label, k);
      const text = add(words, "text", { class: `${label.kind}-label`, "text-anchor": label.anchor, x: tenth(foot.x), y: tenth(foot.y) });
      text.textContent = line;
      const rule = label.kind === "rule" ? figure.rules?.[of] : undefined;
      // How far the words stand from their rule, which they follow during a drag.
      if (rule) for (const [name, value] of Object.entries({ "data-rule": of, "data-gap": tenth(foot[rule.axis] - tenth(place(scales[rule.axis], rule.at))) })) text.setAttribute(name, String(value));
      const belongs = label.kind === "curve" ? figure.series[of]?.belongs : undefined;
      if (k > 0 || (belongs !== "a" && belongs !== "b")) return;
      // The mark at the head of a curve's label in the curve's colour.
      text.textContent = "";
      add(text, "tspan", { class: `mark-${belongs}` }).textContent = line.slice(0, 1);
      text.appendChild(document.createTextNode(line.slice(1)));
    });
  moveFigure(svg, figure);
  return svg;
};
