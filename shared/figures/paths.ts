/** Path data written straight from a figure and kept scales: what the page sets during a drag, without Plot. */
import type { Figure, Series } from "./figure.ts";
import { place, readScales, type Scales } from "./scales.ts";

export interface SeriesPath {
  readonly line: string;
  /** Only where the series has an area. */
  readonly area: string | null;
  /** Place of the last point; null where the series is empty. */
  readonly end: readonly [x: number, y: number] | null;
}

/** A tenth of a drawing unit: finer than a screen shows. */
const tenth = (value: number): number => Math.round(value * 10) / 10;

const seriesPath = (series: Series, { x, y }: Scales): SeriesPath => {
  const count = Math.min(series.x.length, series.y.length);
  const kx = (x.range[1] - x.range[0]) / (x.domain[1] - x.domain[0]);
  const ky = (y.range[1] - y.range[0]) / (y.domain[1] - y.domain[0]);
  let line = "";
  let first: number | null = null;
  let px = 0;
  let py = 0;
  for (let i = 0; i < count; i++) {
    px = tenth(x.range[0] + ((series.x[i] as number) - x.domain[0]) * kx);
    py = tenth(y.range[0] + ((series.y[i] as number) - y.domain[0]) * ky);
    line += `${i === 0 ? "M" : "L"}${px},${py}`;
    first ??= px;
  }
  const base = tenth(place(y, 0));
  return { line, area: series.area ? (first === null ? "" : `${line}L${px},${base}L${first},${base}Z`) : null, end: first === null ? null : [px, py] };
};

/** One entry a series, in the figure's order. */
export const pathData = (figure: Figure, scales: Scales): readonly SeriesPath[] => figure.series.map((series) => seriesPath(series, scales));

const setOn = (svg: Element, what: string, index: number, attribute: string, value: string): void => {
  for (const element of Array.from(svg.querySelectorAll(`[data-${what}="${index}"]`))) element.setAttribute(attribute, value);
};

/**
 * Moves the curves, areas, end markers and rules of a drawn figure to new data on the axes it has. Labels keep their place until
 * the next whole drawing. False where the svg is no figure of ours, or one of another shape.
 */
export const moveFigure = (svg: Element, figure: Figure): boolean => {
  const scales = readScales(svg);
  if (!scales || Number(svg.getAttribute("data-count")) !== figure.series.length) return false;
  pathData(figure, scales).forEach(({ line, area, end }, i) => {
    setOn(svg, "line", i, "d", line);
    if (area !== null) setOn(svg, "area", i, "d", area);
    if (end) setOn(svg, "end", i, "transform", `translate(${end[0]},${end[1]})`);
  });
  (figure.rules ?? []).forEach((rule, i) => {
    const at = tenth(place(scales[rule.axis], rule.at));
    for (const element of Array.from(svg.querySelectorAll(`[data-rule="${i}"]`))) {
      const text = element.localName === "text";
      if (text) element.setAttribute("transform", rule.axis === "x" ? `translate(${at},${element.getAttribute("data-other")})` : `translate(${element.getAttribute("data-other")},${at})`);
      else for (const end of ["1", "2"]) element.setAttribute(rule.axis + end, String(at));
    }
  });
  return true;
};
