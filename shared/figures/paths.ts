/** Path data written straight from a figure and kept scales: what the page sets during a drag, without Plot. */
import type { Figure, Series } from "./figure.ts";
import { place, readScales, type Scale, type Scales } from "./scales.ts";

export interface SeriesPath {
  readonly line: string;
  /** Only where the series has an area. */
  readonly area: string | null;
  /** Place of the last point; null where the series is empty. */
  readonly end: readonly [x: number, y: number] | null;
}

/** A tenth of a drawing unit: finer than a screen shows. */
const tenth = (value: number): number => Math.round(value * 10) / 10;

/** How far a drawn curve may pass from its data, in drawing units: as fine as the places are written. */
const TOLERANCE = 0.1;
/** More points than this only cost bytes and time. */
const MOST = 200;

/**
 * Places of the points that a curve cannot do without: the line through them passes all others within `tolerance`.
 * Douglas and Peucker 1973, from memory: the farthest point from a chord is kept, and splits it.
 */
const needed = (px: Float64Array, py: Float64Array, count: number, tolerance: number): number[] => {
  if (count < 3) return Array.from({ length: count }, (_, i) => i);
  const kept = new Uint8Array(count);
  kept[0] = kept[count - 1] = 1;
  const chords = [0, count - 1];
  while (chords.length > 0) {
    const to = chords.pop() as number;
    const from = chords.pop() as number;
    const [ax, ay] = [px[from] as number, py[from] as number];
    const [dx, dy] = [(px[to] as number) - ax, (py[to] as number) - ay];
    const square = dx * dx + dy * dy;
    let farthest = tolerance * tolerance;
    let at = -1;
    for (let i = from + 1; i < to; i++) {
      const [ex, ey] = [(px[i] as number) - ax, (py[i] as number) - ay];
      // Nearest point of the chord itself, not of the line beyond it: a curve may turn back.
      const share = square > 0 ? Math.min(1, Math.max(0, (ex * dx + ey * dy) / square)) : 0;
      const [gx, gy] = [ex - share * dx, ey - share * dy];
      const gap = gx * gx + gy * gy;
      if (gap > farthest) [farthest, at] = [gap, i];
    }
    if (at < 0) continue;
    kept[at] = 1;
    chords.push(from, at, at, to);
  }
  const places: number[] = [];
  for (let i = 0; i < count; i++) if (kept[i] === 1) places.push(i);
  return places;
};

/** Half the width of a dot. */
const DOT = 3.5;
/** A reading: a circle for a, a square for b, told apart without colour. */
export const dot = ([x, y]: readonly [number, number], belongs: Series["belongs"]): string =>
  belongs === "b" ? `M${tenth(x - DOT)},${tenth(y - DOT)}h${2 * DOT}v${2 * DOT}h${-2 * DOT}z` : `M${tenth(x - DOT)},${y}a${DOT},${DOT} 0 1,0 ${2 * DOT},0a${DOT},${DOT} 0 1,0 ${-2 * DOT},0z`;

const seriesPath = (series: Series, { x, y }: Scales): SeriesPath => {
  const length = Math.min(series.x.length, series.y.length);
  const kx = (x.range[1] - x.range[0]) / (x.domain[1] - x.domain[0]);
  const ky = (y.range[1] - y.range[0]) / (y.domain[1] - y.domain[0]);
  const px = new Float64Array(length);
  const py = new Float64Array(length);
  for (let i = 0; i < length; i++) {
    px[i] = x.range[0] + ((series.x[i] as number) - x.domain[0]) * kx;
    py[i] = y.range[0] + ((series.y[i] as number) - y.domain[0]) * ky;
  }
  let tolerance = TOLERANCE;
  let places = needed(px, py, length, tolerance);
  while (places.length > MOST) places = needed(px, py, length, (tolerance *= 2));
  const point = (i: number): [number, number] => [tenth(px[i] as number), tenth(py[i] as number)];
  if (series.points) return { line: Array.from({ length }, (_, i) => dot(point(i), series.belongs)).join(""), area: null, end: length === 0 ? null : point(length - 1) };
  const line = places.map((i, k) => `${k === 0 ? "M" : "L"}${point(i).join()}`).join("");
  if (length === 0) return { line, area: series.area ? "" : null, end: null };
  const [[first], end] = [point(0), point(length - 1)];
  const base = tenth(place(y, 0));
  return { line, area: series.area ? `${line}L${end[0]},${base}L${first},${base}Z` : null, end };
};

/** One entry a series, in the figure's order. */
export const pathData = (figure: Figure, scales: Scales): readonly SeriesPath[] => figure.series.map((series) => seriesPath(series, scales));

const setOn = (svg: Element, what: string, index: number, attribute: string, value: string): void => {
  for (const element of Array.from(svg.querySelectorAll(`[data-${what}="${index}"]`))) element.setAttribute(attribute, value);
};

/** A hair beyond the axes is still on them. */
const inside = ({ range: [p, q] }: Scale, at: number): boolean => at >= Math.min(p, q) - 0.5 && at <= Math.max(p, q) + 0.5;

const show = (element: Element, shown: boolean): void => {
  if (shown) element.removeAttribute("visibility");
  else element.setAttribute("visibility", "hidden");
};

/**
 * Moves the curves, areas, end markers and rules of a drawn figure to new data on the axes it has; a rule's words go with it, a
 * curve's keep their place until the next whole drawing. False where the svg is no figure of ours, or one of another shape.
 */
export const moveFigure = (svg: Element, figure: Figure): boolean => {
  const scales = readScales(svg);
  if (!scales || Number(svg.getAttribute("data-count")) !== figure.series.length) return false;
  pathData(figure, scales).forEach(({ line, area, end }, i) => {
    setOn(svg, "line", i, "d", line);
    if (area !== null) setOn(svg, "area", i, "d", area);
    if (!end) return;
    setOn(svg, "end", i, "transform", `translate(${end[0]},${end[1]})`);
    for (const marker of Array.from(svg.querySelectorAll(`[data-end="${i}"]`))) show(marker, inside(scales.x, end[0]) && inside(scales.y, end[1]));
  });
  (figure.rules ?? []).forEach(({ axis, at: si }, i) => {
    const at = tenth(place(scales[axis], si));
    for (const element of Array.from(svg.querySelectorAll(`[data-rule="${i}"]`))) {
      if (element.localName === "line") for (const end of ["1", "2"]) element.setAttribute(axis + end, String(at));
      else {
        element.setAttribute(axis, String(tenth(at + Number(element.getAttribute("data-gap")))));
        show(element, inside(scales[axis], at));
      }
    }
  });
  return true;
};
