/** How many figures a number has when it is said: an audience holds two; a third only where two would mislead. */

export const FEWEST_FIGURES = 2;
export const MOST_FIGURES = 3;
/** Beyond this share, three numbers are no sum. */
const SUM = 1e-6;

const rounded = (value: number, figures: number): number => Number(value.toPrecision(figures));
/** Decimal place of the first figure. */
const firstPlace = (value: number): number => Math.floor(Math.log10(Math.abs(value)));

/** Triples of numbers of which two add up to the third, by their places in the list: the total last. */
export const sumsIn = (values: readonly number[]): (readonly [number, number, number])[] =>
  values.flatMap((total, k) =>
    values.flatMap((p, i) =>
      values.flatMap((q, j): (readonly [number, number, number])[] => (i < j && i !== k && j !== k && p !== 0 && q !== 0 && total !== 0 && Math.abs(p + q - total) <= SUM * Math.abs(total) ? [[i, j, k]] : [])),
    ),
  );

/** Whether two parts and their sum, as said, add up: within what rounding to the third figure of the true sum can leave. */
export const addsUp = ([p, q, sum]: readonly [number, number, number], truly: number): boolean => Math.abs(p + q - sum) <= 1.5 * 10 ** (firstPlace(truly) - (MOST_FIGURES - 1));

/**
 * Figures for numbers in one unit that are said together: two. Three for any two that differ and would sound alike, or are alike and would sound apart, and for three of
 * which two make up the third where they would not add up; the same for any two that three figures do not tell apart.
 */
export const spokenFigures = (values: readonly number[]): number[] => {
  const figures = values.map(() => FEWEST_FIGURES);
  const raise = (i: number, to: number): void => {
    figures[i] = Math.min(MOST_FIGURES, Math.max(figures[i] as number, to));
  };
  const differ = (p: number, q: number, at: number): boolean => rounded(p, at) !== rounded(q, at);
  for (const [i, p] of values.entries()) for (const q of values) if (differ(p, q, MOST_FIGURES) !== differ(p, q, FEWEST_FIGURES)) raise(i, MOST_FIGURES);
  for (const sum of sumsIn(values)) {
    const total = values[sum[2]] as number;
    if (addsUp(sum.map((i) => rounded(values[i] as number, figures[i] as number)) as [number, number, number], total)) continue;
    const last = firstPlace(total) - (MOST_FIGURES - 1);
    for (const i of sum) raise(i, firstPlace(values[i] as number) - last + 1);
  }
  return values.map((p, i) => Math.max(figures[i] as number, ...values.map((q, j) => (differ(p, q, MOST_FIGURES) ? FEWEST_FIGURES : (figures[j] as number)))));
};
