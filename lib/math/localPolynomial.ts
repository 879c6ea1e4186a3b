import { requireFinite, requireSeries, requireThat } from "../check.ts";

const MOST_DEGREE = 9;

const requireWindow = (kernel: string, name: string, points: number, degree: number): void => {
  requireFinite(kernel, "degree", degree);
  requireThat(Number.isInteger(degree) && degree >= 0 && degree <= MOST_DEGREE, kernel, "degree", `a whole number from 0 to ${MOST_DEGREE}`, degree);
  requireFinite(kernel, name, points);
  requireThat(Number.isInteger(points) && points % 2 === 1 && points > degree, kernel, name, `an odd whole number > degree, ${degree}`, points);
};

interface Basis {
  /** Polynomials that are orthogonal over the samples: values at them, by degree. */
  readonly values: readonly Float64Array[];
  /** Sum of squares of each. */
  readonly squares: readonly number[];
  readonly half: number;
}

/** Over `points` samples brought to -1 to 1. Least squares is then one sum for each polynomial, without equations to solve. */
const basisOf = (points: number, degree: number): Basis => {
  const half = Math.max(1, (points - 1) / 2);
  const values = [new Float64Array(points).fill(1)];
  const squares: number[] = [points];
  for (let k = 0; k < degree; k++) {
    const now = values[k] as Float64Array;
    const before = values[k - 1];
    const back = k === 0 ? 0 : (squares[k] as number) / (squares[k - 1] as number);
    const next = now.map((value, i) => ((i - (points - 1) / 2) / half) * value - back * (before?.[i] ?? 0));
    values.push(next);
    squares.push(next.reduce((sum, value) => sum + value * value, 0));
  }
  return { values, squares, half };
};

/** A derivative of each polynomial of the basis at one sample, for samples one apart. */
const derivativesAt = ({ values, squares, half }: Basis, derivative: number, at: number): number[] => {
  const place = (at - ((values[0] as Float64Array).length - 1) / 2) / half;
  let before = new Array<number>(derivative + 1).fill(0);
  let now = before.map((_, d): number => (d === 0 ? 1 : 0));
  const found: number[] = [];
  for (let k = 0; k < values.length; k++) {
    found.push((now[derivative] as number) / half ** derivative);
    const back = k === 0 ? 0 : (squares[k] as number) / (squares[k - 1] as number);
    const next = now.map((value, d) => place * value + (d > 0 ? d * (now[d - 1] as number) : 0) - back * (before[d] as number));
    before = now;
    now = next;
  }
  return found;
};

/** What each sample counts for, given a derivative of each polynomial. */
const weightsOf = ({ values, squares }: Basis, derivatives: readonly number[]): Float64Array => {
  const weights = new Float64Array((values[0] as Float64Array).length);
  derivatives.forEach((derivative, k) => {
    if (derivative === 0) return; // every second one, in the middle of a window
    const polynomial = values[k] as Float64Array;
    const share = derivative / (squares[k] as number);
    for (let i = 0; i < weights.length; i++) weights[i] = (weights[i] as number) + share * (polynomial[i] as number);
  });
  return weights;
};

/** Length of the weights, without forming them. */
const noiseOf = ({ squares }: Basis, derivatives: readonly number[]): number => Math.sqrt(derivatives.reduce((sum, derivative, k) => sum + derivative ** 2 / (squares[k] as number), 0));

/**
 * Weights by which evenly spaced samples give a smoothed value, or a derivative of it, and how much of their noise comes through.
 *
 * Model: the polynomial of least squares over an odd number of samples, read at one of them: the middle unless stated, any other
 * near the end of a record. A derivative is for samples one apart: divide by spacing^derivative.
 *
 * @throws RangeError unless points is odd and > degree, derivative <= degree and at is one of the points
 * @source savitzky-golay-1964, tables
 * @example localPolynomialWeights({ points: 5, degree: 2, derivative: 0 }).weights[2] // 0.4857142857142857
 */
export const localPolynomialWeights = ({ points, degree, derivative, at = (points - 1) / 2 }: { readonly points: number; readonly degree: number; readonly derivative: number; readonly at?: number }) => {
  const kernel = "localPolynomialWeights";
  requireWindow(kernel, "points", points, degree);
  requireFinite(kernel, "derivative", derivative);
  requireThat(Number.isInteger(derivative) && derivative >= 0 && derivative <= degree, kernel, "derivative", `a whole number from 0 to the degree, ${degree}`, derivative);
  requireFinite(kernel, "at", at);
  requireThat(Number.isInteger(at) && at >= 0 && at < points, kernel, "at", `a whole number from 0 to ${points - 1}`, at);
  const basis = basisOf(points, degree);
  const derivatives = derivativesAt(basis, derivative, at);
  return { weights: weightsOf(basis, derivatives), noiseFactor: noiseOf(basis, derivatives) };
};

const product = (weights: Float64Array, values: ArrayLike<number>, from: number): number => {
  let sum = 0;
  for (let j = 0; j < weights.length; j++) sum += (weights[j] as number) * (values[from + j] as number);
  return sum;
};

/**
 * A derivative (0 for the smoothed values) at every sample of an evenly spaced record, with the noise factor of each.
 *
 * Model: localPolynomialWeights over a window of samples round each. Where a record begins or ends the nearest full window is
 * read away from its middle: nothing is invented, and the noise factor grows.
 *
 * @throws RangeError unless window is odd, > degree and <= the number of values, and derivative <= degree; TypeError for too few values
 * @source savitzky-golay-1964, method
 * @example localPolynomial({ values: [0, 1, 4, 9, 16], window: 3, degree: 2, derivative: 1 }).values[4] // 8
 */
export const localPolynomial = ({ values, window, degree, derivative }: { readonly values: ArrayLike<number>; readonly window: number; readonly degree: number; readonly derivative: number }) => {
  const kernel = "localPolynomial";
  requireSeries(kernel, "values", values, 1);
  requireWindow(kernel, "window", window, degree);
  requireThat(window <= values.length, kernel, "window", `<= ${values.length}, the number of values`, window);
  requireThat(Number.isInteger(derivative) && derivative >= 0 && derivative <= degree, kernel, "derivative", `a whole number from 0 to the degree, ${degree}`, derivative);
  const n = values.length;
  const half = (window - 1) / 2;
  const basis = basisOf(window, degree);
  const smoothed = new Float64Array(n);
  const noiseFactor = new Float64Array(n);
  const central = derivativesAt(basis, derivative, half);
  const weights = weightsOf(basis, central);
  noiseFactor.fill(noiseOf(basis, central));
  for (let i = half; i < n - half; i++) smoothed[i] = product(weights, values, i - half);
  for (const [from, first, end] of [[0, 0, half], [n - window, half + 1, window]] as const) {
    const coefficients = basis.values.map((polynomial, k) => product(polynomial, values, from) / (basis.squares[k] as number));
    for (let at = first; at < end; at++) {
      const derivatives = derivativesAt(basis, derivative, at);
      smoothed[from + at] = derivatives.reduce((sum, value, k) => sum + value * (coefficients[k] as number), 0);
      noiseFactor[from + at] = noiseOf(basis, derivatives);
    }
  }
  return { values: smoothed, noiseFactor };
};
