import { requireIncreasing, requirePositive, requireSameLength, requireSeries, requireThat } from "../check.ts";
import { STANDARD_GRAVITY } from "../constants.ts";

export interface HeadInjuryCriterionInput {
  /** Time of each sample, rising; give it or the sample interval [s]. */
  readonly time?: ArrayLike<number>;
  /** Give it or the times; the first sample is then at 0 [s]. */
  readonly sampleInterval?: number;
  readonly acceleration: ArrayLike<number>;
  readonly window: number;
  readonly gravity?: number;
}

/** Starts searched as one block to begin with. */
const BLOCK = 64;
/** Blocks no larger than this, either way, are searched pair by pair. */
const SMALL = 4;
/** A window that is whole in samples counts as such in spite of rounding. */
const SLACK = 1e-9;

/** Square of the criterion in SI, left without its root while searching: velocity change to the 5th over time to the 3rd. */
const merit = (velocityChange: number, time: number): number => {
  const square = velocityChange * velocityChange;
  return (square * square * velocityChange) / (time * time * time);
};

/** A search for the window with most merit. */
class Search {
  /** Of each sample; none where they are evenly spaced. */
  readonly time: ArrayLike<number> | undefined;
  /** Gained so far. It never falls, which is what lets a whole block of windows be bounded at once. */
  readonly velocity: Float64Array;
  /** Step of the record. */
  readonly shortest: number;
  /** Window. */
  readonly longest: number;
  best = NaN;
  from = 0;
  to = 0;

  constructor(time: ArrayLike<number> | undefined, velocity: Float64Array, shortest: number, longest: number) {
    this.time = time;
    this.velocity = velocity;
    this.shortest = shortest;
    this.longest = longest;
    this.best = 0;
  }
}

const lengthOf = ({ time, shortest }: Search, i: number, j: number): number => (time === undefined ? (j - i) * shortest : (time[j] as number) - (time[i] as number));

const judge = (s: Search, i: number, j: number): void => {
  const length = lengthOf(s, i, j);
  if (length > s.longest) return;
  const found = merit((s.velocity[j] as number) - (s.velocity[i] as number), length);
  if (found > s.best) {
    s.best = found;
    s.from = i;
    s.to = j;
  }
};

/** Starts i0..i1 with lengths of w0..w1 steps: none gains more than from the first start to the last end, none is shorter than w0. */
const search = (s: Search, i0: number, i1: number, w0: number, w1: number): void => {
  const last = s.velocity.length - 1;
  const gain = (s.velocity[Math.min(last, i1 + w1)] as number) - (s.velocity[i0] as number);
  if (merit(gain, w0 * s.shortest) * (1 + SLACK) < s.best || gain === 0) return;
  if (i1 - i0 < SMALL && w1 - w0 < SMALL) {
    for (let i = i0; i <= i1; i++) for (let j = i + w0; j <= Math.min(last, i + w1); j++) judge(s, i, j);
  } else if (i1 - i0 >= w1 - w0) {
    const middle = (i0 + i1) >> 1;
    search(s, i0, middle, w0, w1);
    search(s, middle + 1, i1, w0, w1);
  } else {
    const middle = (w0 + w1) >> 1;
    search(s, i0, i1, w0, middle);
    search(s, i0, i1, middle + 1, w1);
  }
};

/** Used again by the next record of the same length: fresh memory takes longer than the search. */
let spare = new Float64Array(0);

/** Velocity gained up to each sample, by size of acceleration, and the sample of largest size: in one pass over a long record. */
const gainOf = (acceleration: ArrayLike<number>, time: ArrayLike<number> | undefined, interval: number): { readonly velocity: Float64Array; readonly top: number } => {
  const n = acceleration.length;
  if (spare.length !== n) spare = new Float64Array(n);
  const velocity = spare;
  const half = 0.5 * interval;
  let before = Math.abs(acceleration[0] as number);
  let gained = 0;
  let peak = before;
  let top = 0;
  for (let i = 1; i < n; i++) {
    const here = Math.abs(acceleration[i] as number);
    gained += (time === undefined ? half : 0.5 * ((time[i] as number) - (time[i - 1] as number))) * (here + before);
    velocity[i] = gained;
    if (here > peak) {
      peak = here;
      top = i;
    }
    before = here;
  }
  return { velocity, top };
};

/**
 * Head injury criterion of a record of head acceleration.
 *
 * Model: over all windows no longer than the one stated, the largest product of the window's length in seconds and the 2.5th power
 * of the mean acceleration in it, in multiples of gravity. Windows begin and end at samples; straight lines between samples. Each
 * sample counts by its size, so give the resultant, or the only component there is. It describes a test dummy's head, not a person's.
 *
 * @units-fixed the criterion is a number by convention: seconds, with acceleration in multiples of gravity
 * @param time shape (n,), n >= 2, rising; give it or the sample interval, never both [s]
 * @param sampleInterval > 0; give it or the times, never both [s]
 * @param acceleration of the head's centre of mass, shape (n,), n >= 2 [m/s^2]
 * @param window longest one considered, > 0: 0.015 or 0.036 by the rule in hand [s]
 * @param gravity > 0, default 9.80665 [m/s^2]
 * @returns value >= 0 [1]
 * @returns from start of the winning window [s]
 * @returns to end of the winning window [s]
 * @returns mean acceleration in the winning window, >= 0 [m/s^2]
 * @throws RangeError outside those ranges, or when the window is shorter than one sample; TypeError for too few or unequal numbers of values
 * @equation value = (to - from) * (mean / gravity)^2.5
 * @source us-49cfr-571-208, S6.2 (definition); chou-nyquist-1974 (closed forms)
 * @example headInjuryCriterion({ sampleInterval: 0.005, acceleration: [980.665, 980.665, 980.665], window: 0.015 }).value // 1000
 */
export const headInjuryCriterion = ({ time, sampleInterval, acceleration, window, gravity = STANDARD_GRAVITY }: HeadInjuryCriterionInput) => {
  const kernel = "headInjuryCriterion";
  requireSeries(kernel, "acceleration", acceleration, 2, "m/s^2");
  requirePositive(kernel, "window", window, "s");
  requirePositive(kernel, "gravity", gravity, "m/s^2");
  requireThat((time === undefined) !== (sampleInterval === undefined), kernel, "sampleInterval", "given alone, or the times alone", sampleInterval ?? "neither");
  const n = acceleration.length;
  let shortest = sampleInterval ?? Infinity;
  let widestStep = sampleInterval ?? 0;
  if (time === undefined) requirePositive(kernel, "sampleInterval", shortest, "s");
  else {
    requireSeries(kernel, "time", time, 2, "s");
    requireSameLength(kernel, "time", time, "acceleration", acceleration);
    requireIncreasing(kernel, "time", time, "s");
    for (let i = 1; i < n; i++) {
      const step = (time[i] as number) - (time[i - 1] as number);
      shortest = Math.min(shortest, step);
      widestStep = Math.max(widestStep, step);
    }
  }
  const longest = window * (1 + SLACK);
  requireThat(shortest <= longest, kernel, "window", `>= ${shortest} s, the shortest step of the record`, window);

  const { velocity, top } = gainOf(acceleration, time, shortest);
  const peak = Math.abs(acceleration[top] as number);
  const s = new Search(time, velocity, shortest, longest);

  // First guess: from the peak, grow towards the side that gains more.
  for (let left = top, right = top; right - left < n - 1; ) {
    const before = left > 0 ? Math.abs(acceleration[left - 1] as number) : -1;
    const after = right < n - 1 ? Math.abs(acceleration[right + 1] as number) : -1;
    if (before > after) left -= 1;
    else right += 1;
    if (lengthOf(s, left, right) > longest) break;
    judge(s, left, right);
  }

  // No window gains more than its length at the peak, so those too short for that are left out.
  const least = peak > 0 ? Math.floor((Math.sqrt(s.best / merit(peak, 1)) / widestStep) * (1 - SLACK)) : 1;
  const widest = Math.min(n - 1, Math.floor(longest / shortest));
  for (let w = Math.max(1, least); w <= widest; w *= 2) for (let i = 0; i + w < n; i += BLOCK) search(s, i, Math.min(n - 1 - w, i + BLOCK - 1), w, Math.min(widest, 2 * w - 1));

  const { from, to } = s;
  const length = lengthOf(s, from, to);
  const mean = to === from ? 0 : ((velocity[to] as number) - (velocity[from] as number)) / length;
  const multiple = mean / gravity;
  const at = (i: number): number => (time === undefined ? i * shortest : (time[i] as number));
  return { value: length * multiple * multiple * Math.sqrt(multiple), from: at(from), to: at(to), mean };
};
