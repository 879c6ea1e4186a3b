/** What the runs of a study come to. Sums run in the order of the runs, so that parts made anywhere give the same bits. */
import type { StudyRuns } from "./runs.ts";

/** Shares of the runs below low, likely and high. */
export const LOW = 0.025;
export const LIKELY = 0.5;
export const HIGH = 0.975;

export interface Range {
  /** 2.5, 50 and 97.5 percentiles. */
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  readonly mean: number;
  /** With n - 1; 0 for a single run. */
  readonly deviation: number;
  /** Runs that gave this number. */
  readonly count: number;
}

export type Counts = Readonly<Record<string, number>>;

export interface StudySummary {
  readonly runs: number;
  /** Runs that ended in each outcome instead of a result. */
  readonly outcomes: Counts;
  readonly ranges: Readonly<Record<string, Range>>;
  /** Runs that gave each word of each output that is a word. */
  readonly counts: Readonly<Record<string, Counts>>;
  /** Output -> input -> share of the output's variance that goes along with the input: their correlation, squared. */
  readonly varianceShares: Readonly<Record<string, Counts>>;
}

/**
 * Value below which a share of sorted values lies: straight line between the values at places floor and ceil of (n - 1) share,
 * counted from 0. The seventh of the nine definitions in use (Hyndman and Fan 1996).
 */
export const percentile = (sorted: ArrayLike<number>, share: number): number => {
  const place = (sorted.length - 1) * share;
  const below = Math.floor(place);
  const low = sorted[below] as number;
  const high = sorted[Math.min(below + 1, sorted.length - 1)] as number;
  return low + (place - below) * (high - low);
};

export const meanOf = (values: ArrayLike<number>): number => {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] as number;
  return sum / values.length;
};

/** Sum of products of the deviations of two columns from their means. */
export const crossSum = (x: ArrayLike<number>, y: ArrayLike<number>): number => {
  const meanX = meanOf(x);
  const meanY = meanOf(y);
  let sum = 0;
  for (let i = 0; i < x.length; i++) sum += ((x[i] as number) - meanX) * ((y[i] as number) - meanY);
  return sum;
};

/** Correlation of two columns; 0 where one does not vary. */
export const correlationOf = (x: ArrayLike<number>, y: ArrayLike<number>): number => {
  const scale = Math.sqrt(crossSum(x, x)) * Math.sqrt(crossSum(y, y));
  return scale > 0 ? Math.min(1, Math.max(-1, crossSum(x, y) / scale)) : 0;
};

const rangeOf = (values: Float64Array): Range => {
  const sorted = Float64Array.from(values).sort();
  const deviation = values.length > 1 ? Math.sqrt(crossSum(values, values) / (values.length - 1)) : 0;
  return { low: percentile(sorted, LOW), likely: percentile(sorted, LIKELY), high: percentile(sorted, HIGH), mean: meanOf(values), deviation, count: values.length };
};

const countsOf = (words: readonly (string | null)[]): Counts => {
  const counts = new Map<string, number>();
  for (const word of words) if (word !== null) counts.set(word, (counts.get(word) ?? 0) + 1);
  return Object.fromEntries([...counts].sort(([p, m], [q, n]) => n - m || (p < q ? -1 : 1)));
};

const mapped = <A, B>(record: Readonly<Record<string, A>>, change: (value: A) => B): Record<string, B> => Object.fromEntries(Object.entries(record).map(([name, value]) => [name, change(value)]));

export const summarise = (runs: StudyRuns): StudySummary => {
  const given = Object.entries(runs.numbers).flatMap(([name, column]) => {
    const keep = (_: number, i: number): boolean => !Number.isNaN(column[i]);
    const values = column.filter(keep);
    return values.length === 0 ? [] : [{ name, values, keep }];
  });
  return {
    runs: runs.to - runs.from,
    outcomes: countsOf(runs.outcomes),
    ranges: Object.fromEntries(given.map(({ name, values }) => [name, rangeOf(values)])),
    counts: mapped(runs.words, countsOf),
    varianceShares: Object.fromEntries(given.map(({ name, values, keep }) => [name, mapped(runs.inputs, (column) => correlationOf(column.filter(keep), values) ** 2)])),
  };
};
