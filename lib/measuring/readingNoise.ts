/** Sum of squares of the weights 1 -4 6 -4 1. */
const FOURTH_DIFFERENCE = 70;

/**
 * Standard deviation of one reading, told from the readings themselves: fourth differences leave nothing of a motion that is smooth
 * over five frames, and all of a noise that is new in each.
 */
export const readingNoiseOf = (positions: ArrayLike<number>): number => {
  let sum = 0;
  const at = (i: number): number => positions[i] as number;
  for (let i = 4; i < positions.length; i++) sum += (at(i) - 4 * at(i - 1) + 6 * at(i - 2) - 4 * at(i - 3) + at(i - 4)) ** 2;
  return Math.sqrt(sum / (positions.length - 4) / FOURTH_DIFFERENCE);
};

/** Largest of the values up to `reach` samples away on either side: of those passed, only such are kept as no later one exceeds. */
export const largestNear = (values: ArrayLike<number>, reach: number): Float64Array => {
  const n = values.length;
  const kept = new Int32Array(n);
  let [first, end, next] = [0, 0, 0];
  return new Float64Array(n).map((_, i) => {
    for (; next < n && next <= i + reach; next++) {
      while (end > first && (values[kept[end - 1] as number] as number) <= (values[next] as number)) end--;
      kept[end++] = next;
    }
    while ((kept[first] as number) < i - reach) first++;
    return values[kept[first] as number] as number;
  });
};

/** Standard deviations either side that hold 19 of 20 of a normal population. */
export const NINETEEN_OF_TWENTY = 1.959963984540054;
