/**
 * The head injury criterion and the 3 ms clip of evenly spaced records, as lib/injury defines them, without checks and
 * without the winning window: a study takes them tens of thousands of times. Tests hold the two equal.
 */

/** Starts searched as one block to begin with, and how small a block is searched pair by pair. */
const BLOCK = 64;
const SMALL = 4;
/** A window that is whole in samples counts as such in spite of rounding. */
const ROUNDING = 1e-9;

/** Velocity gained so far, by size of acceleration, in samples: it never falls, so a whole block of windows is bounded at once. */
let gained = new Float64Array(0);

/** Best so far of gain^5 / width^3, among starts i0 to i1 and widths w0 to w1. Its root is left to the end. */
const search = (velocity: Float64Array, last: number, i0: number, i1: number, w0: number, w1: number, best: number): number => {
  const bound = velocity[Math.min(last, i1 + w1)]! - velocity[i0]!;
  if (bound * bound * bound * bound * bound <= best * w0 * w0 * w0) return best;
  if (i1 - i0 < SMALL && w1 - w0 < SMALL) {
    for (let w = w0; w <= w1; w++) {
      const end = Math.min(i1, last - w);
      let most = 0;
      for (let i = i0; i <= end; i++) {
        const gain = velocity[i + w]! - velocity[i]!;
        if (gain > most) most = gain;
      }
      const found = (most * most * most * most * most) / (w * w * w);
      if (found > best) best = found;
    }
    return best;
  }
  if (i1 - i0 >= w1 - w0) {
    const middle = (i0 + i1) >> 1;
    return search(velocity, last, middle + 1, i1, w0, w1, search(velocity, last, i0, middle, w0, w1, best));
  }
  const middle = (w0 + w1) >> 1;
  return search(velocity, last, i0, i1, middle + 1, w1, search(velocity, last, i0, i1, w0, middle, best));
};

const searchWidths = (velocity: Float64Array, last: number, narrowest: number, widest: number, best: number): number => {
  for (let w0 = narrowest; w0 <= widest && w0 <= last; w0 *= 2) {
    const w1 = Math.min(widest, 2 * w0 - 1);
    for (let i0 = 0; i0 + w0 <= last; i0 += BLOCK) best = search(velocity, last, i0, Math.min(last - w0, i0 + BLOCK - 1), w0, w1, best);
  }
  return best;
};

/** Head injury criterion over windows of at most `short` and at most `long` seconds; the second starts from the first. */
export const headCriteria = (acceleration: Float64Array, step: number, short: number, long: number, gravity: number): { readonly short: number; readonly long: number } => {
  const last = acceleration.length - 1;
  if (gained.length !== acceleration.length) gained = new Float64Array(acceleration.length);
  const velocity = gained;
  let before = Math.abs(acceleration[0]!);
  let sum = 0;
  let top = 0;
  let topAt = 0;
  for (let i = 1; i <= last; i++) {
    const here = Math.abs(acceleration[i]!);
    const gain = (before + here) / 2;
    velocity[i] = sum += gain;
    if (gain > top) {
      top = gain;
      topAt = i;
    }
    before = here;
  }
  const narrow = Math.min(last, Math.floor((short / step) * (1 + ROUNDING)));
  const wide = Math.min(last, Math.floor((long / step) * (1 + ROUNDING)));
  // first guess: from the step that gains most, grow towards the side that gains more
  let best = 0;
  let left = topAt - 1;
  let right = topAt;
  for (let w = 1; top > 0 && w <= narrow; w++) {
    const gain = velocity[right]! - velocity[left]!;
    best = Math.max(best, gain ** 5 / w ** 3);
    if (right === last || (left > 0 && velocity[left]! - velocity[left - 1]! > velocity[right + 1]! - velocity[right]!)) left--;
    else right++;
    if (left < 0) break;
  }
  best = searchWidths(velocity, last, 1, narrow, best);
  const widest = searchWidths(velocity, last, narrow + 1, wide, best);
  // gain is in samples of acceleration, width in samples: gain^2.5 / width^1.5 is short of step * gravity^-2.5
  const scale = step / (gravity * gravity * Math.sqrt(gravity));
  return { short: Math.sqrt(best) * scale, long: Math.sqrt(widest) * scale };
};

/** Highest level that some spell of `duration` seconds never falls below, samples joined by straight lines; 0 if the record is shorter. */
export const heldLevel = (acceleration: Float64Array, step: number, duration: number): number => {
  const last = acceleration.length - 1;
  const exact = duration / step;
  const rounded = Math.round(exact);
  const steps = Math.abs(exact - rounded) < ROUNDING * rounded ? rounded : exact;
  const whole = Math.floor(steps);
  const part = steps - whole;
  let best = 0;
  for (let i = 0; i + steps <= last; i++) {
    // samples strictly inside any spell that starts between i and i + 1; the first one too low rules out all that hold it
    let floor = Infinity;
    let low = 0;
    for (let j = i + whole; j > i; j--) {
      const value = Math.abs(acceleration[j]!);
      if (value < floor) floor = value;
      if (floor <= best) {
        low = j;
        break;
      }
    }
    if (low > 0) {
      i = low - 1;
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
