/** The numbers behind a figure as rows of text. */
import type { KindId } from "../kinds.ts";
import type { Write } from "../lesson.ts";
import type { Axis, Figure, Series } from "./figure.ts";

export interface FigureTable {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** Rows that a reader can take in; the ends and each extreme are always among them. */
const ROWS = 24;

const written = (write: Write, axis: Axis, si: number): string => (Number.isFinite(si) ? write(axis.kind.id as KindId, si, axis.digits === undefined ? {} : { digits: axis.digits }) : "");

const chosen = (count: number, series: readonly Series[]): number[] => {
  const picked = new Set<number>();
  const steps = Math.min(ROWS, count) - 1;
  for (let k = 0; k <= steps; k++) picked.add(steps === 0 ? 0 : Math.round((k * (count - 1)) / steps));
  for (const { y } of series) {
    let low = 0;
    let high = 0;
    for (let i = 1; i < count; i++) {
      if ((y[i] as number) < (y[low] as number)) low = i;
      if ((y[i] as number) > (y[high] as number)) high = i;
    }
    picked.add(low).add(high);
  }
  return count === 0 ? [] : [...picked].sort((p, q) => p - q);
};

const sameX = (p: Series, q: Series): boolean => p.x === q.x || (p.x.length === q.x.length && Array.prototype.every.call(p.x, (value: number, i: number) => value === q.x[i]));

/** One row an x where the curves share theirs; else each curve's own rows, one curve after the other. */
export const figureTable = (figure: Figure, write: Write): FigureTable => {
  const [first] = figure.series;
  if (!first) return { columns: [figure.x.label, figure.y.label], rows: [] };
  if (figure.series.every((series) => sameX(series, first))) {
    return {
      columns: [figure.x.label, ...figure.series.map(({ label }) => `${label}: ${figure.y.label}`)],
      rows: chosen(first.x.length, figure.series).map((i) => [written(write, figure.x, first.x[i] as number), ...figure.series.map(({ y }) => written(write, figure.y, y[i] as number))]),
    };
  }
  return {
    columns: ["curve", figure.x.label, figure.y.label],
    rows: figure.series.flatMap((series) => chosen(series.x.length, [series]).map((i) => [series.label, written(write, figure.x, series.x[i] as number), written(write, figure.y, series.y[i] as number)])),
  };
};
