// Least squares, statistics and local polynomials against values from outside. The NIST data sets themselves (Norris, Pontius, NoInt1,
// Wampler1, NumAcc1 to 3, Lottery) are rows of lib/math/checks.yaml, run by tests/published.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { leastSquares, polynomialFit } from "../../../lib/math/leastSquares.ts";
import { localPolynomial, localPolynomialWeights } from "../../../lib/math/localPolynomial.ts";
import { normal } from "../../../lib/math/random.ts";
import { compensatedSum, median, summaryStatistics } from "../../../lib/math/statistics.ts";

const ROUNDING = 1e-12; // of the largest term: a few hundred operations in double precision
const MOVED = 1e-8; // of a deviation up to 1000, of whole numbers moved by up to 1e9: exact but for the square root

const near = (value: number | undefined, target: number, tolerance: number): void => expect(Math.abs((value ?? NaN) - target), `${value} against ${target}`).toBeLessThanOrEqual(tolerance);

describe("leastSquares(…)", () => {
  // NIST StRD, Longley: 16 years, six predictors, highly collinear; data and certified values from memory.
  const LONGLEY = [
    [60323, 83, 234289, 2356, 1590, 107608, 1947], [61122, 88.5, 259426, 2325, 1456, 108632, 1948], [60171, 88.2, 258054, 3682, 1616, 109773, 1949], [61187, 89.5, 284599, 3351, 1650, 110929, 1950],
    [63221, 96.2, 328975, 2099, 3099, 112075, 1951], [63639, 98.1, 346999, 1932, 3594, 113270, 1952], [64989, 99, 365385, 1870, 3547, 115094, 1953], [63761, 100, 363112, 3578, 3350, 116219, 1954],
    [66019, 101.2, 397469, 2904, 3048, 117388, 1955], [67857, 104.6, 419180, 2822, 2857, 118734, 1956], [68169, 108.4, 442769, 2936, 2798, 120445, 1957], [66513, 110.8, 444546, 4681, 2637, 121950, 1958],
    [68655, 112.6, 482704, 3813, 2552, 123366, 1959], [69564, 114.2, 502601, 3931, 2514, 125368, 1960], [69331, 115.7, 518173, 4806, 2572, 127852, 1961], [70551, 116.9, 554894, 4007, 2827, 130081, 1962],
  ] as const;
  test("fits NIST Longley, whose columns nearly repeat each other, to 9 digits", () => {
    const columns = [LONGLEY.map(() => 1), ...[1, 2, 3, 4, 5, 6].map((k) => LONGLEY.map((row) => row[k] as number))];
    const fit = leastSquares({ columns, y: LONGLEY.map((row) => row[0]) });
    const certified = [-3482258.63459582, 15.0618722713733, -0.0358191792925910, -2.0202298038168, -1.03322686717359, -0.0511041056535807, 1829.15146461355];
    const errors = [890420.383607373, 84.9149257747669, 0.0334910077722432, 0.488399681651699, 0.214274163161675, 0.226073200069370, 455.478499142212];
    certified.forEach((value, k) => near(fit.coefficients[k], value, 1e-9 * Math.abs(value)));
    errors.forEach((value, k) => near(fit.standardErrors[k], value, 1e-9 * value));
    near(fit.residualDeviation, 304.854073561965, 1e-9 * 304.85);
  });

  test("leaves residuals at right angles to every column, for 200 random systems", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 6, max: 20 }), fc.nat(), (p, n, seed) => {
        const columns = Array.from({ length: p }, (_, k) => Array.from({ length: n }, (_, i) => normal(seed, i, k)));
        const y = Array.from({ length: n }, (_, i) => normal(seed, i, 99));
        const { residuals } = leastSquares({ columns, y });
        for (const column of columns) near(compensatedSum(column, (value, i) => value * (residuals[i] as number)), 0, 1e-11 * n);
      }),
      { numRuns: 200, seed: 7 },
    );
  });

  test("refuses columns that repeat each other, and too few values", () => {
    expect(() => leastSquares({ columns: [[1, 1, 1], [2, 2, 2]], y: [1, 2, 3] })).toThrow(/leastSquares: column 2 must be independent of those before it/);
    expect(() => leastSquares({ columns: [[1], [2]], y: [1] })).toThrow(TypeError);
    expect(() => leastSquares({ columns: [[0, 0]], y: [1, 2] })).toThrow(/other than all zeros/);
  });
});

describe("polynomialFit(…)", () => {
  test("gives a polynomial back from points on it, whatever the origin and scale of x", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5 }), fc.double({ min: -20, max: 20, noNaN: true }), fc.nat(), (degree, offset, seed) => {
        const wanted = Array.from({ length: degree + 1 }, (_, k) => normal(seed, k));
        const x = Array.from({ length: 15 }, (_, i) => offset + i);
        const y = x.map((value) => wanted.reduce((sum, c, k) => sum + c * value ** k, 0));
        const { fitted } = polynomialFit({ x, y, degree });
        const size = Math.max(...y.map(Math.abs), 1);
        y.forEach((value, i) => near(fitted[i], value, 1e-12 * size));
      }),
      { numRuns: 100, seed: 3 },
    );
  });

  // GUM (JCGM 100:2008), H.3.3, thermometer calibration; second-hand.
  test("gives the calibration line of the GUM, example H.3", () => {
    const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
    const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
    const fit = polynomialFit({ x: t.map((value) => value - 20), y: b, degree: 1 });
    near(fit.coefficients[0], -0.1712, 1e-4);
    near(fit.standardErrors[0], 0.0029, 1e-4);
    near(fit.coefficients[1], 0.00218, 1e-5);
    near(fit.standardErrors[1], 0.00067, 1e-5);
    near(fit.residualDeviation, 0.0035, 1e-4);
  });

  // NIST StRD, Wampler2 (from memory): y = 1 + 0.1 x + 0.01 x^2 + … + 0.00001 x^5 at x = 0 to 20; all digits certified.
  test("fits NIST Wampler2 to 9 digits", () => {
    const x = Array.from({ length: 21 }, (_, i) => i);
    const { coefficients } = polynomialFit({ x, y: x.map((v) => 1 + 0.1 * v + 0.01 * v ** 2 + 0.001 * v ** 3 + 0.0001 * v ** 4 + 0.00001 * v ** 5), degree: 5 });
    coefficients.forEach((value, k) => near(value, 10 ** -k, 1e-9 * 10 ** -k));
  });

  test("refuses a degree that is no whole number, and x that does not change", () => {
    expect(() => polynomialFit({ x: [1, 2, 3], y: [1, 2, 3], degree: 1.5 })).toThrow("polynomialFit: degree must be a whole number from 1 to 12, got 1.5");
    expect(() => polynomialFit({ x: [2, 2, 2], y: [1, 2, 3], degree: 1 })).toThrow(/two or more different values/);
    expect(() => polynomialFit({ x: [1, 1, 2, 2], y: [1, 2, 3, 4], degree: 3 })).toThrow(/independent/);
  });
});

describe("summaryStatistics(…)", () => {
  // NIST StRD, NumAcc4 (its making from memory): 10000000.2, then 10000000.1 and 10000000.3 in turn, 1001 values; mean 10000000.2, deviation 0.1,
  // autocorrelation -0.999. At ten million, doubles lie 1.9e-9 apart: the values as stored have lost all but 8 digits of the deviation.
  test("keeps as many digits of NIST NumAcc4 as its stored values have", () => {
    const STORED = 1.9e-9 / 2 / 0.1;
    const { mean, standardDeviation, autocorrelation } = summaryStatistics({ values: [10000000.2, ...Array.from({ length: 1000 }, (_, i) => (i % 2 === 0 ? 10000000.1 : 10000000.3))] });
    near(mean, 10000000.2, 1e-14 * 10000000);
    near(standardDeviation, 0.1, 2 * STORED * 0.1);
    near(autocorrelation, -0.999, 2 * STORED);
  });

  // Worked by hand: mean 2.8, squares about it 12.8.
  test("gives mean, deviation, median and ends of a series worked by hand", () => {
    expect(summaryStatistics({ values: [3, 1, 4, 1, 5] })).toMatchObject({ count: 5, median: 3, smallest: 1, largest: 5 });
    near(summaryStatistics({ values: [3, 1, 4, 1, 5] }).mean, 2.8, ROUNDING);
    near(summaryStatistics({ values: [3, 1, 4, 1, 5] }).standardDeviation, Math.sqrt(12.8 / 4), ROUNDING);
    expect(median([5])).toBe(5);
    expect(summaryStatistics({ values: [7, 7, 7] })).toMatchObject({ standardDeviation: 0, autocorrelation: 0 });
  });

  test("moves with its values and leaves the deviation alone", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 2, maxLength: 30 }), fc.integer({ min: -1e9, max: 1e9 }), (values, by) => {
        const here = summaryStatistics({ values });
        const there = summaryStatistics({ values: values.map((value) => value + by) });
        near(there.mean - by, here.mean, 1e-6);
        near(there.standardDeviation, here.standardDeviation, MOVED);
      }),
      { numRuns: 200, seed: 1 },
    );
  });

  test("refuses under two values", () => expect(() => summaryStatistics({ values: [1] })).toThrow(TypeError));
});

describe("localPolynomial(…)", () => {
  test("gives a polynomial of its degree and both derivatives back at every sample, ends included", () => {
    const f = (t: number) => 2 - 3 * t + 0.5 * t ** 2 - 0.02 * t ** 3;
    const values = Array.from({ length: 31 }, (_, i) => f(i));
    for (const window of [5, 9, 31]) {
      localPolynomial({ values, window, degree: 3, derivative: 0 }).values.forEach((value, i) => near(value, f(i), 1e-9));
      localPolynomial({ values, window, degree: 3, derivative: 1 }).values.forEach((value, i) => near(value, -3 + i - 0.06 * i ** 2, 1e-9));
      localPolynomial({ values, window, degree: 3, derivative: 2 }).values.forEach((value, i) => near(value, 1 - 0.12 * i, 1e-9));
    }
  });

  test("agrees with a polynomial fitted by Householder reflections, in the middle and at both ends", () => {
    const values = Array.from({ length: 11 }, (_, i) => normal(5, i));
    const { values: smoothed } = localPolynomial({ values, window: 11, degree: 4, derivative: 0 });
    const { fitted } = polynomialFit({ x: values.map((_, i) => i), y: values, degree: 4 });
    fitted.forEach((value, i) => near(smoothed[i], value, 1e-11));
  });

  test("tells the noise it lets through, ends included", () => {
    const RUNS = 4000;
    const SAMPLING = 0.06; // five standard errors of a deviation from 4000 runs
    const { noiseFactor } = localPolynomial({ values: new Float64Array(11), window: 7, degree: 2, derivative: 1 });
    const squares = new Float64Array(11);
    for (let run = 1; run <= RUNS; run++)
      localPolynomial({ values: Array.from({ length: 11 }, (_, i) => normal(run, i)), window: 7, degree: 2, derivative: 1 }).values.forEach((value, i) => (squares[i] = (squares[i] as number) + value ** 2));
    noiseFactor.forEach((factor, i) => near(Math.sqrt((squares[i] as number) / RUNS) / factor, 1, SAMPLING));
    expect(noiseFactor[0]).toBeGreaterThan(2 * (noiseFactor[5] as number));
    expect(noiseFactor[10]).toBeCloseTo(noiseFactor[0] as number, 12);
  });

  test("weights sum to 1 for the value and to 0 for its derivatives, for any odd window", () => {
    for (const points of [3, 7, 51, 401])
      for (const derivative of [0, 1, 2]) near(compensatedSum(localPolynomialWeights({ points, degree: 2, derivative }).weights), derivative === 0 ? 1 : 0, ROUNDING);
  });

  test("refuses even windows and windows longer than the record", () => {
    expect(() => localPolynomialWeights({ points: 4, degree: 2, derivative: 0 })).toThrow("localPolynomialWeights: points must be an odd whole number > degree, 2, got 4");
    expect(() => localPolynomial({ values: [1, 2, 3], window: 5, degree: 2, derivative: 0 })).toThrow(/window must be <= 3/);
    expect(() => localPolynomialWeights({ points: 5, degree: 2, derivative: 3 })).toThrow(/derivative must be/);
  });
});
