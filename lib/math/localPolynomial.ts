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
    const next = new Float64Array(points);
    let square = 0;
    for (let i = 0; i < points; i++) {
      const value = ((i - (points - 1) / 2) / half) * (now[i] as number) - (before === undefined ? 0 : back * (before[i] as number));
      next[i] = value;
      square += value * value;
    }
    values.push(next);
    squares.push(square);
  }
  return { values, squares, half };
};

/** Derivatives up to `most` of each polynomial of the basis at one sample, for samples one apart: by degree, then by derivative. */
const derivativesUpTo = ({ values, squares, half }: Basis, most: number, at: number): number[][] => {
  const place = (at - ((values[0] as Float64Array).length - 1) / 2) / half;
  let before = new Array<number>(most + 1).fill(0);
  let now = before.map((_, d): number => (d === 0 ? 1 : 0));
  const found: number[][] = [];
  for (let k = 0; k < values.length; k++) {
    found.push(now.map((value, d) => value / half ** d));
    const back = k === 0 ? 0 : (squares[k] as number) / (squares[k - 1] as number);
    const next = now.map((value, d) => place * value + (d > 0 ? d * (now[d - 1] as number) : 0) - back * (before[d] as number));
    before = now;
    now = next;
  }
  return found;
};

/** One derivative of each. */
const derivativesAt = (basis: Basis, derivative: number, at: number): number[] => derivativesUpTo(basis, derivative, at).map((of) => of[derivative] as number);

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

/** How much of the samples' noise comes through in the middle of a window, for derivatives 0 to `most`. */
export const noiseFactors = (points: number, degree: number, most: number): number[] => {
  const basis = basisOf(points, degree);
  const central = derivativesUpTo(basis, most, (points - 1) / 2);
  return Array.from({ length: most + 1 }, (_, d) => noiseOf(basis, central.map((of) => of[d] as number)));
};

export interface LocalFit {
  readonly values: Float64Array;
  /** The same from the polynomial two degrees lower, which the same sums give. */
  readonly lower: Float64Array;
  readonly noiseFactor: Float64Array;
}

/**
 * Derivatives at every sample of an evenly spaced record. Each window is folded about its middle: polynomials of even degree take
 * the sums of the samples either side, those of odd degree the differences, so one pass serves all derivatives.
 */
export const localFits = (values: ArrayLike<number>, window: number, degree: number, derivatives: readonly number[]): readonly LocalFit[] => {
  const n = values.length;
  const half = (window - 1) / 2;
  const most = Math.max(...derivatives);
  const basis = basisOf(window, degree);
  const fits = derivatives.map(() => ({ values: new Float64Array(n), lower: new Float64Array(n), noiseFactor: new Float64Array(n) }));
  const central = derivativesUpTo(basis, most, half);
  const noise = (at: readonly (readonly number[])[], d: number): number => noiseOf(basis, at.map((of) => of[d] as number));
  fits.forEach(({ noiseFactor }, f) => noiseFactor.fill(noise(central, derivatives[f] as number)));
  const sums = new Float64Array(half);
  const differences = new Float64Array(half);
  for (let i = half; i < n - half; i++) {
    const middle = values[i] as number;
    for (let j = 0; j < half; j++) {
      const after = values[i + 1 + j] as number;
      const before = values[i - 1 - j] as number;
      sums[j] = after + before;
      differences[j] = after - before;
    }
    for (let k = 0; k <= degree; k++) {
      const of = central[k] as number[];
      if (derivatives.every((d) => of[d] === 0)) continue; // every second one, in the middle of a window
      const polynomial = basis.values[k] as Float64Array;
      const folded = k % 2 === 0 ? sums : differences;
      let sum = (polynomial[half] as number) * middle;
      for (let j = 0; j < half; j++) sum += (polynomial[half + 1 + j] as number) * (folded[j] as number);
      const coefficient = sum / (basis.squares[k] as number);
      for (let f = 0; f < fits.length; f++) {
        const { values: whole, lower } = fits[f] as LocalFit;
        const part = coefficient * (of[derivatives[f] as number] as number);
        whole[i] = (whole[i] as number) + part;
        if (k <= degree - 2) lower[i] = (lower[i] as number) + part;
      }
    }
  }
  const coefficients = (from: number): number[] =>
    basis.values.map((polynomial, k) => {
      let sum = 0;
      for (let j = 0; j < window; j++) sum += (polynomial[j] as number) * (values[from + j] as number);
      return sum / (basis.squares[k] as number);
    });
  const [first, last] = [coefficients(0), coefficients(n - window)];
  for (let at = 0; at < half; at++) {
    const there = derivativesUpTo(basis, most, at);
    fits.forEach(({ values: whole, lower, noiseFactor }, f) => {
      const d = derivatives[f] as number;
      for (let k = 0; k <= degree; k++) {
        const of = (there[k] as number[])[d] as number;
        // the end of a record is its beginning in a mirror
        const [ahead, behind] = [(first[k] as number) * of, ((k + d) % 2 === 0 ? 1 : -1) * (last[k] as number) * of];
        whole[at] = (whole[at] as number) + ahead;
        whole[n - 1 - at] = (whole[n - 1 - at] as number) + behind;
        if (k > degree - 2) continue;
        lower[at] = (lower[at] as number) + ahead;
        lower[n - 1 - at] = (lower[n - 1 - at] as number) + behind;
      }
      noiseFactor[at] = noiseFactor[n - 1 - at] = noise(there, d);
    });
  }
  return fits;
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
  const { values: smoothed, noiseFactor } = localFits(values, window, degree, [derivative])[0] as LocalFit;
  return { values: smoothed, noiseFactor };
};
