import { requireOneOf, requirePositive, requireSeries, requireThat } from "../check.ts";

export const CLIP_DEFINITIONS = ["cumulative", "contiguous"] as const;
export type ClipDefinition = (typeof CLIP_DEFINITIONS)[number];

export interface ClipInput {
  readonly sampleInterval: number;
  readonly acceleration: ArrayLike<number>;
  /** Cumulative: all moments above the level count together. Contiguous: only one spell without a break counts. */
  readonly definition: ClipDefinition;
  readonly duration?: number;
}

/** Halvings of the level before the values left between are sorted. */
const HALVINGS = 8;
/** A duration that is whole in samples counts as such in spite of rounding. */
const SLACK = 1e-9;

/** Time at or above a level, in steps; with `strictly`, a stretch level with it does not count. */
const stepsAbove = (values: Float64Array, level: number, strictly: boolean): number => {
  let total = 0;
  for (let i = 1; i < values.length; i++) {
    const from = values[i - 1] as number;
    const to = values[i] as number;
    const low = from < to ? from : to;
    const high = from < to ? to : from;
    if (high < level) continue;
    if (low >= level) {
      if (high > level || !strictly) total += 1;
    } else total += (high - level) / (high - low);
  }
  return total;
};

/** Level that is reached for `steps` in all. Between neighbouring sample values that time is a straight line of the level. */
const cumulativeLevel = (values: Float64Array, steps: number): number => {
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  // A sharp peak may hold its own height for no time at all, its lowest value holds for the whole record.
  if (stepsAbove(values, high, false) >= steps) return high;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (stepsAbove(values, middle, false) >= steps) low = middle;
    else high = middle;
  }
  const between = values.filter((value) => value > low && value < high).sort();
  const levels = [low, ...between, high];
  let held = 0;
  let missed = levels.length - 1;
  while (missed - held > 1) {
    const middle = (held + missed) >> 1;
    if (stepsAbove(values, levels[middle] as number, false) >= steps) held = middle;
    else missed = middle;
  }
  const from = levels[held] as number;
  const to = levels[missed] as number;
  const atFrom = stepsAbove(values, from, true);
  if (atFrom <= steps) return from;
  return from + ((atFrom - steps) / (atFrom - stepsAbove(values, to, false))) * (to - from);
};

/** Least of the `count` values after each place: a sliding minimum, Infinity for none. */
const leastAfter = (values: Float64Array, count: number): Float64Array => {
  const least = new Float64Array(values.length - count).fill(Infinity);
  if (count === 0) return least;
  const waiting = new Int32Array(values.length);
  let head = 0;
  let tail = 0;
  for (let i = 1; i < values.length; i++) {
    const value = values[i] as number;
    while (tail > head && (values[waiting[tail - 1] as number] as number) >= value) tail -= 1;
    waiting[tail++] = i;
    if ((waiting[head] as number) <= i - count) head += 1;
    if (i >= count) least[i - count] = values[waiting[head] as number] as number;
  }
  return least;
};

/** Highest level that one spell of `steps` never falls below, and where that spell begins, in steps. */
const contiguousLevel = (values: Float64Array, steps: number): { readonly level: number; readonly start: number } => {
  const whole = Math.floor(steps);
  const part = steps - whole;
  const last = values.length - 1 - steps;
  const least = leastAfter(values, whole);
  const along = (i: number, share: number): number => {
    const from = values[i] as number;
    return share === 0 ? from : from + share * ((values[i + 1] as number) - from);
  };
  let level = -Infinity;
  let start = 0;
  // Spells that begin at a sample …
  for (let i = 0; i <= last; i++) {
    const found = Math.min(values[i] as number, least[i] as number, along(i + whole, part));
    if (found > level) {
      level = found;
      start = i;
    }
  }
  // … and between two: the far end crosses a sample once, at 1 - part; either side of that, both ends move along straight lines.
  const search = (i: number, from: number, to: number, floor: number, left: (share: number) => number, right: (share: number) => number): void => {
    const judge = (share: number): void => {
      const found = Math.min(floor, left(share), right(share));
      if (found > level) {
        level = found;
        start = i + share;
      }
    };
    judge(to);
    const gapFrom = left(from) - right(from);
    const gapTo = left(to) - right(to);
    if (gapFrom > 0 !== gapTo > 0) judge(from + (gapFrom / (gapFrom - gapTo)) * (to - from));
  };
  for (let i = 0; i < last; i++) {
    const floor = least[i] as number;
    if (floor <= level) continue;
    const end = Math.min(1, last - i);
    const cut = Math.min(end, 1 - part);
    search(i, 0, cut, floor, (share) => along(i, share), (share) => along(i + whole, share + part));
    if (end > cut) search(i, cut, end, Math.min(floor, values[i + whole + 1] as number), (share) => along(i, share), (share) => along(i + whole + 1, share + part - 1));
  }
  return { level, start };
};

/**
 * Level of acceleration that a record holds for three milliseconds.
 *
 * Model: cumulative, the level reached for 3 ms in all, be it in several spells; contiguous, the highest level that some 3 ms without
 * a break never fall below. The first is never the lower. Exact for straight lines between samples. Each sample counts by its
 * size, so give the resultant, or the only component there is.
 *
 * @param sampleInterval > 0 [s]
 * @param acceleration shape (n,), n >= 2, spanning at least the duration [m/s^2]
 * @param definition cumulative or contiguous: rules differ, so it must be said
 * @param duration > 0, default 0.003 [s]
 * @returns value >= 0 [m/s^2]
 * @returns from start of the winning spell; cumulative: of the first at or above the level [s]
 * @returns to end of the winning spell; cumulative: of the last at or above the level [s]
 * @throws RangeError outside those ranges, or for a record shorter than the duration; TypeError for another definition
 * @source us-49cfr-571-208, S6.3 (cumulative); common-practice (contiguous)
 * @example clip3ms({ sampleInterval: 0.001, acceleration: [0, 300, 600, 600, 600, 300, 0], definition: "cumulative" }).value // 450
 */
export const clip3ms = ({ sampleInterval, acceleration, definition, duration = 0.003 }: ClipInput) => {
  requirePositive("clip3ms", "sampleInterval", sampleInterval, "s");
  requireSeries("clip3ms", "acceleration", acceleration, 2, "m/s^2");
  requireOneOf("clip3ms", "definition", definition, CLIP_DEFINITIONS);
  requirePositive("clip3ms", "duration", duration, "s");
  const values = new Float64Array(acceleration.length);
  for (let i = 0; i < values.length; i++) values[i] = Math.abs(acceleration[i] as number);
  const span = values.length - 1;
  const rounded = Math.round(duration / sampleInterval);
  const steps = Math.abs(duration / sampleInterval - rounded) < SLACK * rounded ? rounded : duration / sampleInterval;
  requireThat(span >= steps, "clip3ms", "acceleration", `a record of at least ${duration} s`, span * sampleInterval);
  if (definition === "contiguous") {
    const { level, start } = contiguousLevel(values, steps);
    return { value: level, from: start * sampleInterval, to: (start + steps) * sampleInterval };
  }
  const value = cumulativeLevel(values, steps);
  const crossing = (below: number, above: number): number => {
    const low = values[below] as number;
    return below + ((value - low) / ((values[above] as number) - low)) * (above - below);
  };
  let first = 0;
  while ((values[first] as number) < value) first += 1;
  let final = span;
  while ((values[final] as number) < value) final -= 1;
  return {
    value,
    from: (first === 0 ? 0 : crossing(first - 1, first)) * sampleInterval,
    to: (final === span ? span : crossing(final + 1, final)) * sampleInterval,
  };
};
