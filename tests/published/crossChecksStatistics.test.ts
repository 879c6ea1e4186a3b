/**
 * Fits and summaries against mathjs 15, a general-purpose library, worked there in 80 digits, so that its answer
 * has no rounding to speak of. (The NIST reference data are rows of lib/math/checks.yaml and tests of tests/lib/math.)
 */
import fc from "fast-check";
import { all, create, type BigNumber, type Matrix } from "mathjs";
import { expect, test } from "vitest";
import { leastSquares, polynomialFit, summaryStatistics } from "../../lib/index.ts";

const exact = create(all ?? {}, { number: "BigNumber", precision: 80 });
/** The double itself, not the shortest decimal that stands for it. */
const big = (value: number): BigNumber => {
  let whole = value;
  let halvings = 0;
  for (; !Number.isInteger(whole); whole *= 2) halvings++;
  return exact.bignumber(BigInt(whole).toString()).div(exact.bignumber(2).pow(halvings));
};
const bigs = (values: readonly number[]): BigNumber[] => values.map(big);

/** Digits asked of the reference data sets, and kept here. */
const NINE_DIGITS = 1e-9;
/** Sums of some twenty doubles. */
const ROUNDING = 1e-13;
const CASES = { numRuns: 25, seed: 15 };
const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const near = (value: number | undefined, wanted: BigNumber, tolerance: number, scale = Math.abs(Number(wanted))): void =>
  expect(Math.abs((value ?? NaN) - Number(wanted)), `${value} against ${wanted.toString()}`).toBeLessThanOrEqual(tolerance * scale);

/** Least squares by the normal equations: hopeless in doubles, sound in 80 digits. */
const normalEquations = (columns: readonly (readonly number[])[], y: readonly number[]) => {
  const design = exact.transpose(exact.matrix(columns.map(bigs)));
  const across = exact.transpose(design);
  const inverse = exact.inv(exact.multiply(across, design) as Matrix);
  const coefficients = exact.multiply(inverse, exact.multiply(across, exact.matrix(bigs(y)))) as unknown as Matrix;
  const residuals = exact.subtract(exact.matrix(bigs(y)), exact.multiply(design, coefficients)) as unknown as Matrix;
  const squares = exact.multiply(residuals, residuals) as unknown as BigNumber;
  const variance = exact.divide(squares, big(y.length - columns.length)) as BigNumber;
  return {
    coefficients: coefficients.toArray() as unknown as BigNumber[],
    deviation: exact.sqrt(variance) as unknown as BigNumber,
    errors: columns.map((_, k) => exact.sqrt(exact.multiply(variance, inverse.get([k, k]) as BigNumber) as unknown as number) as unknown as BigNumber),
  };
};

test("polynomialFit(…) agrees with the normal equations solved in 80 digits, to 9 digits", () =>
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 4 }), fc.array(fc.tuple(real(0, 2), real(-5, 5)), { minLength: 8, maxLength: 20 }), (degree, points) => {
      const x = points.map(([step], i) => i + step / 4); // rising: no two alike
      const y = points.map(([, value]) => value);
      fc.pre(y.some((value) => Math.abs(value) > 0.01));
      const wanted = normalEquations(Array.from({ length: degree + 1 }, (_, k) => x.map((value) => value ** k)), y);
      const fit = polynomialFit({ x, y, degree });
      // a coefficient near 0 is known as far as its own error
      wanted.coefficients.forEach((value, k) => near(fit.coefficients[k], value, NINE_DIGITS, Math.abs(Number(value)) + Number(wanted.errors[k])));
      wanted.errors.forEach((value, k) => near(fit.standardErrors[k], value, NINE_DIGITS));
      near(fit.residualDeviation, wanted.deviation, NINE_DIGITS);
    }),
    CASES,
  ));

test("leastSquares(…) agrees with the normal equations solved in 80 digits, for columns of a common part a thousand times what tells them apart", () =>
  fc.assert(
    fc.property(fc.array(fc.tuple(real(-1, 1), real(-1, 1), real(-1, 1)), { minLength: 8, maxLength: 15 }), (rows) => {
      const columns = [rows.map(() => 1), rows.map(([u], i) => 1000 + u + i / 3), rows.map(([, v], i) => 1000 + v + (i % 3))];
      const y = rows.map(([u, v, w]) => 3 * u - v + w);
      fc.pre(rows.some(([, , w]) => Math.abs(w) > 0.01));
      const wanted = normalEquations(columns, y);
      const fit = leastSquares({ columns, y });
      wanted.coefficients.forEach((value, k) => near(fit.coefficients[k], value, NINE_DIGITS, Math.abs(Number(value)) + Number(wanted.errors[k])));
      wanted.errors.forEach((value, k) => near(fit.standardErrors[k], value, NINE_DIGITS));
    }),
    CASES,
  ));

test("summaryStatistics(…) agrees with mathjs in 80 digits, for values a million times their own spread", () =>
  fc.assert(
    fc.property(fc.array(real(-1, 1), { minLength: 3, maxLength: 40 }), real(-1e6, 1e6), (spread, common) => {
      const values = spread.map((value) => common + value);
      fc.pre(Math.max(...values) - Math.min(...values) > 1e-3);
      const wanted = bigs(values);
      const { mean, standardDeviation, standardError, median } = summaryStatistics({ values });
      near(mean, exact.mean(wanted) as unknown as BigNumber, ROUNDING, Math.abs(common) + 1);
      const deviation = exact.std(wanted, "unbiased") as unknown as BigNumber;
      near(standardDeviation, deviation, NINE_DIGITS);
      near(standardError, exact.divide(deviation, exact.sqrt(big(values.length)) as unknown as BigNumber) as BigNumber, NINE_DIGITS);
      near(median, exact.median(wanted) as unknown as BigNumber, ROUNDING, Math.abs(common) + 1);
    }),
    CASES,
  ));
