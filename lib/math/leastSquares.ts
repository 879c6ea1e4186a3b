import { requireFinite, requireSameLength, requireSeries, requireThat } from "../check.ts";
import { compensatedSum } from "./statistics.ts";

/** Below this share of its own length, what is left of a column is rounding: it repeats those before it. */
const INDEPENDENT = 1e-12;

/** Sum of a_i b_i. */
const dot = (a: ArrayLike<number>, b: ArrayLike<number>, from = 0): number => {
  let sum = 0;
  for (let i = from; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
};

/** Unknowns x that bring the columns' combination nearest to y, and the inverse of the triangle R of columns = Q R. */
const solve = (kernel: string, columns: readonly Float64Array[], y: ArrayLike<number>): { x: number[]; inverse: number[][] } => {
  const p = columns.length;
  const n = y.length;
  // Columns of length one: what the unknowns are measured in must not matter.
  const lengths = columns.map((column) => Math.hypot(...column));
  const q = columns.map((column, k) => {
    requireThat((lengths[k] as number) > 0, kernel, `column ${k + 1}`, "other than all zeros", 0);
    return column.map((value) => value / (lengths[k] as number));
  });
  const right = Float64Array.from(y);
  const reflect = (column: Float64Array, along: Float64Array, k: number, square: number): void => {
    const share = (2 * dot(along, column, k)) / square;
    for (let i = k; i < n; i++) column[i] = (column[i] as number) - share * (along[i] as number);
  };
  for (let k = 0; k < p; k++) {
    const column = q[k] as Float64Array;
    const length = Math.sqrt(dot(column, column, k));
    requireThat(length > INDEPENDENT, kernel, `column ${k + 1}`, "independent of those before it (take more, or more different, values)", length);
    const along = Float64Array.from(column);
    along[k] = (along[k] as number) + ((along[k] as number) < 0 ? -length : length);
    const square = dot(along, along, k);
    for (let j = k; j < p; j++) reflect(q[j] as Float64Array, along, k, square);
    reflect(right, along, k, square);
  }
  const triangle = (i: number, j: number): number => (q[j] as Float64Array)[i] as number;
  const backwards = (given: ArrayLike<number>): number[] => {
    const x = new Array<number>(p).fill(0);
    for (let i = p - 1; i >= 0; i--) {
      let rest = given[i] as number;
      for (let j = i + 1; j < p; j++) rest -= triangle(i, j) * (x[j] as number);
      x[i] = rest / triangle(i, i);
    }
    return x;
  };
  const unscaled = (x: number[]): number[] => x.map((value, k) => value / (lengths[k] as number));
  const unit = (k: number): number[] => Array.from({ length: p }, (_, i) => (i === k ? 1 : 0));
  // Column k of the inverse, turned into rows.
  const inverseColumns = Array.from({ length: p }, (_, k) => unscaled(backwards(unit(k))));
  return { x: unscaled(backwards(right)), inverse: Array.from({ length: p }, (_, i) => inverseColumns.map((column) => column[i] as number)) };
};

/** What is left of y, and the two measures of fit that follow from it. */
const goodness = (y: ArrayLike<number>, fitted: ArrayLike<number>, unknowns: number, aboutMean: boolean) => {
  const n = y.length;
  const residuals = Float64Array.from(y, (value, i) => value - (fitted[i] as number));
  const mean = aboutMean ? compensatedSum(y) / n : 0;
  const left = compensatedSum(residuals, (r) => r * r);
  const total = compensatedSum(y, (value) => (value - mean) ** 2);
  const explained = compensatedSum(fitted, (value) => (value - mean) ** 2);
  const degreesOfFreedom = n - unknowns;
  return {
    residuals,
    degreesOfFreedom,
    /** Standard deviation of y about the fit; 0 when as many unknowns as values leave nothing to tell it by. */
    residualDeviation: degreesOfFreedom > 0 ? Math.sqrt(left / degreesOfFreedom) : 0,
    rSquared: total > 0 ? 1 - left / total : 1,
    /** Explained over left-over variance; infinite for a perfect fit. */
    fStatistic: explained / (unknowns - (aboutMean ? 1 : 0)) / (left / degreesOfFreedom),
  };
};

/**
 * Coefficients of the combination of columns that lies nearest to y, by the sum of squares.
 *
 * Model: Householder reflections turn the columns, each brought to length one, into a triangle; the normal equations, which
 * would halve the digits, are never formed. Standard errors take errors of y as equal and independent.
 *
 * @throws RangeError when a column repeats others; TypeError for series of different length or fewer values than columns
 * @source golub-van-loan, section 5.3
 * @source nist-strd, linear regression
 * @example leastSquares({ columns: [[1, 1, 1], [0, 1, 2]], y: [1, 3, 5] }).coefficients[1] // 2
 */
export const leastSquares = ({ columns, y }: { readonly columns: readonly ArrayLike<number>[]; readonly y: ArrayLike<number> }) => {
  requireSeries("leastSquares", "y", y, Math.max(1, columns.length));
  requireThat(columns.length > 0, "leastSquares", "columns", "one or more", columns.length);
  columns.forEach((column, k) => {
    requireSeries("leastSquares", `columns[${k}]`, column, 1);
    requireSameLength("leastSquares", `columns[${k}]`, column, "y", y);
  });
  const copies = columns.map((column) => Float64Array.from(column));
  const { x, inverse } = solve("leastSquares", copies, y);
  const fitted = Float64Array.from(y, (_, i) => x.reduce((sum, coefficient, k) => sum + coefficient * ((copies[k] as Float64Array)[i] as number), 0));
  const { rSquared: _, fStatistic: __, ...fit } = goodness(y, fitted, columns.length, false);
  return { coefficients: x, standardErrors: inverse.map((row) => fit.residualDeviation * Math.hypot(...row)), fitted, ...fit };
};

const MOST_POWERS = 12;

/** Coefficients of x^j in ((x - middle) / half)^k, by column k. */
const expansion = (degree: number, middle: number, half: number): number[][] => {
  const columns: number[][] = [[1]];
  for (let k = 1; k <= degree; k++) {
    const before = columns[k - 1] as number[];
    columns.push(Array.from({ length: k + 1 }, (_, j) => ((before[j - 1] ?? 0) - middle * (before[j] ?? 0)) / half));
  }
  return columns;
};

export interface PolynomialFitInput {
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  /** Highest power of x. */
  readonly degree: number;
  /** False: the curve goes through 0 at x = 0. Default true. */
  readonly intercept?: boolean;
}

/**
 * Polynomial that lies nearest to measured points, by the sum of squares, lowest power first.
 *
 * Model: as leastSquares, with x first moved to the middle of its range and divided by half of it, so that its powers stay apart;
 * the coefficients are given for x as it was. Errors lie in y alone, equal and independent. Without intercept, rSquared is
 * about zero, not about the mean.
 *
 * @throws RangeError for a degree outside 1 to 12, or fewer different x than unknowns; TypeError for series of different length
 * @source nist-strd, linear regression
 * @example polynomialFit({ x: [0, 1, 2, 3], y: [1, 2, 5, 10], degree: 2 }).coefficients[2] // 1
 */
export const polynomialFit = ({ x, y, degree, intercept = true }: PolynomialFitInput) => {
  requireFinite("polynomialFit", "degree", degree);
  requireThat(Number.isInteger(degree) && degree >= 1 && degree <= MOST_POWERS, "polynomialFit", "degree", `a whole number from 1 to ${MOST_POWERS}`, degree);
  const unknowns = degree + (intercept ? 1 : 0);
  requireSeries("polynomialFit", "x", x, unknowns);
  requireSeries("polynomialFit", "y", y, unknowns);
  requireSameLength("polynomialFit", "x", x, "y", y);
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < x.length; i++) {
    low = Math.min(low, x[i] as number);
    high = Math.max(high, x[i] as number);
  }
  requireThat(high > low || !intercept, "polynomialFit", "x", "of two or more different values", low);
  const middle = intercept ? 0.5 * (low + high) : 0;
  const half = intercept ? 0.5 * (high - low) : Math.max(Math.abs(low), Math.abs(high)) || 1;
  const t = Float64Array.from(x, (value) => (value - middle) / half);
  const powers = Array.from({ length: unknowns }, (_, k) => t.map((value) => value ** (intercept ? k : k + 1)));
  const { x: inT, inverse } = solve("polynomialFit", powers, y);
  const fitted = Float64Array.from(y, (_, i) => compensatedSum(inT, (coefficient, k) => coefficient * ((powers[k] as Float64Array)[i] as number)));
  const back = expansion(degree, middle, half);
  const first = intercept ? 0 : 1;
  const entry = (power: number, k: number): number => back[k + first]?.[power] ?? 0;
  const fit = goodness(y, fitted, unknowns, intercept);
  const rows = Array.from({ length: unknowns }, (_, j) => j + first);
  return {
    /** Lowest power first; without intercept the first belongs to x. */
    coefficients: rows.map((power) => compensatedSum(inT, (coefficient, k) => coefficient * entry(power, k))),
    standardErrors: rows.map((power) => fit.residualDeviation * Math.hypot(...rows.map((_, column) => compensatedSum(inverse.map((row, k) => entry(power, k) * (row[column] as number)))))),
    fitted,
    ...fit,
  };
};
