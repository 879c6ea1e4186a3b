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
  const t = new Float64Array(n);
  let shortest: number;
  if (time === undefined) {
    shortest = sampleInterval as number;
    requirePositive(kernel, "sampleInterval", shortest, "s");
    for (let i = 0; i < n; i++) t[i] = i * shortest;
  } else {
    requireSeries(kernel, "time", time, 2, "s");
    requireSameLength(kernel, "time", time, "acceleration", acceleration);
    requireIncreasing(kernel, "time", time, "s");
    t.set(time);
    shortest = Infinity;
    for (let i = 1; i < n; i++) shortest = Math.min(shortest, (t[i] as number) - (t[i - 1] as number));
  }
  const longest = window * (1 + SLACK);
  requireThat(shortest <= longest, kernel, "window", `>= ${shortest} s, the shortest step of the record`, window);

  // Velocity never falls, which is what lets a whole block of windows be bounded at once.
  const velocity = new Float64Array(n);
  for (let i = 1; i < n; i++) velocity[i] = (velocity[i - 1] as number) + 0.5 * ((t[i] as number) - (t[i - 1] as number)) * (Math.abs(acceleration[i] as number) + Math.abs(acceleration[i - 1] as number));

  let best = 0;
  let from = 0;
  let to = 0;
  const judge = (i: number, j: number): void => {
    const length = (t[j] as number) - (t[i] as number);
    if (length > longest) return;
    const found = merit((velocity[j] as number) - (velocity[i] as number), length);
    if (found > best) {
      best = found;
      from = i;
      to = j;
    }
  };

  // First guess: from the step that gains most, grow towards the side that gains more.
  let left = 0;
  for (let i = 1; i < n - 1; i++) if (Math.abs(acceleration[i] as number) + Math.abs(acceleration[i + 1] as number) > Math.abs(acceleration[left] as number) + Math.abs(acceleration[left + 1] as number)) left = i;
  let right = left + 1;
  for (;;) {
    judge(left, right);
    const before = left > 0 ? Math.abs(acceleration[left - 1] as number) : -1;
    const after = right < n - 1 ? Math.abs(acceleration[right + 1] as number) : -1;
    if (before < 0 && after < 0) break;
    if (before > after) left -= 1;
    else right += 1;
    if ((t[right] as number) - (t[left] as number) > longest) break;
  }

  // Starts i0..i1 with lengths of w0..w1 steps: none gains more than from the first start to the last end, none is shorter than w0.
  const search = (i0: number, i1: number, w0: number, w1: number): void => {
    const gain = (velocity[Math.min(n - 1, i1 + w1)] as number) - (velocity[i0] as number);
    if (merit(gain, w0 * shortest) * (1 + SLACK) < best || gain === 0) return;
    if (i1 - i0 < SMALL && w1 - w0 < SMALL) {
      for (let i = i0; i <= i1; i++) for (let j = i + w0; j <= Math.min(n - 1, i + w1); j++) judge(i, j);
    } else if (i1 - i0 >= w1 - w0) {
      const middle = (i0 + i1) >> 1;
      search(i0, middle, w0, w1);
      search(middle + 1, i1, w0, w1);
    } else {
      const middle = (w0 + w1) >> 1;
      search(i0, i1, w0, middle);
      search(i0, i1, middle + 1, w1);
    }
  };
  const widest = Math.min(n - 1, Math.floor(longest / shortest));
  for (let w = 1; w <= widest; w *= 2) for (let i = 0; i + w < n; i += BLOCK) search(i, Math.min(n - 1 - w, i + BLOCK - 1), w, Math.min(widest, 2 * w - 1));

  const length = (t[to] as number) - (t[from] as number);
  const mean = to === from ? 0 : ((velocity[to] as number) - (velocity[from] as number)) / length;
  const multiple = mean / gravity;
  return { value: length * multiple * multiple * Math.sqrt(multiple), from: t[from] as number, to: t[to] as number, mean };
};
