/**
 * The head injury criterion and the 3 ms clip of evenly spaced records, as lib/injury defines them, without checks and
 * without the winning window: a study takes them tens of thousands of times. Tests hold the two equal.
 */

/** Starts searched as one block to begin with, and how small a block is searched pair by pair. */
const BLOCK = 64;
const SMALL = 4;
/** A window that is whole in samples counts as such in spite of rounding. */
const ROUNDING = 1e-9;

/** A search for the window with most gain^5 / width^3. Its root is left to the end. */
class Search {
  /** Velocity gained so far, by size of acceleration, in samples: it never falls, so a whole block of windows is bounded at once. */
  readonly velocity: Float64Array;
  best = NaN;

  constructor(size: number) {
    this.velocity = new Float64Array(size);
  }
}

/** Used again by the next record of the same length. */
let spare = new Search(0);

const merit = (gain: number, width: number): number => (gain * gain * gain * gain * gain) / (width * width * width);

/** Judges all windows of starts i0 to i1 and widths w0 to w1. */
const search = (s: Search, i0: number, i1: number, w0: number, w1: number): void => {
  const { velocity } = s;
  const last = velocity.length - 1;
  if (merit(velocity[Math.min(last, i1 + w1)]! - velocity[i0]!, w0) <= s.best) return;
  if (i1 - i0 < SMALL && w1 - w0 < SMALL) {
    for (let w = w0; w <= w1; w++) {
      const end = Math.min(i1, last - w);
      let most = 0;
      for (let i = i0; i <= end; i++) {
        const gain = velocity[i + w]! - velocity[i]!;
        if (gain > most) most = gain;
      }
      const found = merit(most, w);
      if (found > s.best) s.best = found;
    }
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

const searchWidths = (s: Search, narrowest: number, widest: number): void => {
  const last = s.velocity.length - 1;
  for (let w0 = narrowest; w0 <= widest; w0 *= 2) {
    const w1 = Math.min(widest, 2 * w0 - 1);
    for (let i0 = 0; i0 + w0 <= last; i0 += BLOCK) search(s, i0, Math.min(last - w0, i0 + BLOCK - 1), w0, w1);
  }
};

/** Index of the largest size in a record. */
export const peakAt = (values: Float64Array): number => {
  let peak = -1;
  let at = 0;
  for (let i = 0; i < values.length; i++) {
    const size = Math.abs(values[i]!);
    if (size > peak) {
      peak = size;
      at = i;
    }
  }
  return at;
};

export interface HeadCriteria {
  /** Largest size of the acceleration. */
  readonly peak: number;
  readonly short: number;
  readonly long: number;
}

/** Head injury criterion over windows of at most `short` and at most `long` seconds; the second starts from the first. */
export const headCriteria = (acceleration: Float64Array, step: number, short: number, long: number, gravity: number): HeadCriteria => {
  const last = acceleration.length - 1;
  if (spare.velocity.length !== acceleration.length) spare = new Search(acceleration.length);
  const { velocity } = spare;
  let before = Math.abs(acceleration[0]!);
  let sum = 0;
  let peak = before;
  let top = 0;
  for (let i = 1; i <= last; i++) {
    const here = Math.abs(acceleration[i]!);
    sum += (before + here) / 2;
    velocity[i] = sum;
    if (here > peak) {
      peak = here;
      top = i;
    }
    before = here;
  }
  const narrow = Math.min(last, Math.floor((short / step) * (1 + ROUNDING)));
  const wide = Math.min(last, Math.floor((long / step) * (1 + ROUNDING)));
  // first guesses: from the peak, grow towards the side that gains more
  let bestNarrow = 0;
  let bestWide = 0;
  let left = top;
  let right = top;
  for (let w = 1; w <= wide; w++) {
    if (right === last || (left > 0 && velocity[left]! - velocity[left - 1]! > velocity[right + 1]! - velocity[right]!)) left--;
    else right++;
    const found = merit(velocity[right]! - velocity[left]!, w);
    if (found > bestWide) bestWide = found;
    if (w === narrow) bestNarrow = bestWide;
  }
  // no window gains more than its width at the peak, so those too narrow for that are left out
  const peakMerit = merit(peak, 1);
  const widthFor = (best: number): number => (peakMerit > 0 ? Math.max(1, Math.floor(Math.sqrt(best / peakMerit) * (1 - ROUNDING))) : Infinity);
  spare.best = bestNarrow;
  searchWidths(spare, widthFor(bestNarrow), narrow);
  bestNarrow = spare.best;
  spare.best = Math.max(bestNarrow, bestWide);
  searchWidths(spare, Math.max(narrow + 1, widthFor(spare.best)), wide);
  // gain is in samples of acceleration, width in samples: gain^2.5 / width^1.5 is short of step * gravity^-2.5
  const scale = step / (gravity * gravity * Math.sqrt(gravity));
  return { peak, short: Math.sqrt(bestNarrow) * scale, long: Math.sqrt(spare.best) * scale };
};

/** Highest level that some spell of `duration` seconds never falls below, samples joined by straight lines; 0 if the record is shorter. */
export const heldLevel = (acceleration: Float64Array, step: number, duration: number, top = peakAt(acceleration)): number => {
  const last = acceleration.length - 1;
  const exact = duration / step;
  const rounded = Math.round(exact);
  const steps = Math.abs(exact - rounded) < ROUNDING * rounded ? rounded : exact;
  const whole = Math.floor(steps);
  const part = steps - whole;
  if (steps > last) return 0;
  // first guess: from the peak, grow towards the higher side
  let best = Math.abs(acceleration[top]!);
  for (let left = top, right = top; right - left < steps; ) {
    const before = left > 0 ? Math.abs(acceleration[left - 1]!) : -1;
    const after = right < last ? Math.abs(acceleration[right + 1]!) : -1;
    if (before < 0 && after < 0) break;
    if (before > after) left--;
    else right++;
    best = Math.min(best, Math.max(before, after));
  }
  for (let i = 0; i + steps <= last; i++) {
    // samples strictly inside any spell that starts between i and i + 1; the first one too low rules out all that hold it
    let floor = Infinity;
    let j = i + whole;
    for (; j > i; j--) {
      const value = Math.abs(acceleration[j]!);
      if (value <= best) break;
      if (value < floor) floor = value;
    }
    if (j > i) {
      i = j - 1;
      continue;
    }
    // start moves from i to the place where the far end reaches a sample, then on to i + 1 with one more sample inside
    const cut = Math.min(1 - part, last - steps - i);
    best = Math.max(best, piece(acceleration, i, 0, cut, steps, floor));
    if (part > 0 && i + 1 - part + steps <= last) {
      const further = Math.abs(acceleration[i + whole + 1]!);
      best = Math.max(best, piece(acceleration, i, cut, Math.min(1, last - steps - i), steps, Math.min(floor, further)));
    }
  }
  return best;
};

/** Height of a record between samples. */
const at = (acceleration: Float64Array, x: number): number => {
  const i = Math.min(acceleration.length - 2, Math.floor(x));
  const from = Math.abs(acceleration[i]!);
  return from + (x - i) * (Math.abs(acceleration[i + 1]!) - from);
};

/** Best spell that starts between i + from and i + to, over which both ends move along straight lines. */
const piece = (acceleration: Float64Array, i: number, from: number, to: number, steps: number, floor: number): number => {
  const left0 = at(acceleration, i + from);
  const left1 = at(acceleration, i + to);
  const right0 = at(acceleration, i + from + steps);
  const right1 = at(acceleration, i + to + steps);
  const best = Math.max(Math.min(left0, right0), Math.min(left1, right1));
  const gap0 = left0 - right0;
  const gap1 = left1 - right1;
  if (gap0 > 0 === gap1 > 0 || gap0 === gap1) return Math.min(floor, best);
  const share = gap0 / (gap0 - gap1);
  return Math.min(floor, Math.max(best, left0 + share * (left1 - left0)));
};
