import fc from "fast-check";
import { expect, test } from "vitest";
import { interpolateLinear } from "../../../lib/math/interpolation.ts";
import { normalQuantile } from "../../../lib/math/normalQuantile.ts";
import { cumulativeTrapezoid, trapezoid } from "../../../lib/math/quadrature.ts";
import { normal, philox, uniform } from "../../../lib/math/random.ts";
import { brent } from "../../../lib/math/rootFinding.ts";

/** A handful of double roundings. */
const ROUNDING = 1e-13;

test("brent(…) finds the root of x^3 - 2x - 5, worked by Newton and Wallis: 2.0945514815", () => {
  expect(brent((x) => x ** 3 - 2 * x - 5, 2, 3)).toBeCloseTo(2.0945514815423265, 13);
});

test("brent(…) finds every root of a cubic from any bracket around it", () => {
  fc.assert(
    fc.property(fc.double({ min: -50, max: 50, noNaN: true }), fc.double({ min: 0.01, max: 30, noNaN: true }), fc.double({ min: 0.01, max: 30, noNaN: true }), (root, below, above) => {
      const found = brent((x) => (x - root) * (1 + (x - root) ** 2), root - below, root + above);
      expect(Math.abs(found - root)).toBeLessThanOrEqual(ROUNDING * Math.max(1, Math.abs(root)));
    }),
    { numRuns: 100, seed: 1 },
  );
});

test("brent(…) takes an end that is a root, and refuses a bracket without a change of sign", () => {
  expect(brent((x) => x, 0, 1)).toBe(0);
  expect(() => brent((x) => x * x + 1, -1, 1)).toThrow("brent: f(to) must be of the other sign than f(from) = 2 (widen the bracket), got 2");
});

test("trapezoid(…) is exact for straight lines and its error falls as the square of the spacing", () => {
  expect(trapezoid([0, 0.3, 2], [1, 1.6, 5])).toBeCloseTo(6, 14);
  const error = (n: number): number => {
    const x = Array.from({ length: n + 1 }, (_, i) => (Math.PI * i) / n);
    return 2 - trapezoid(x, x.map(Math.sin));
  };
  expect(error(50) / error(100)).toBeCloseTo(4, 2);
});

test("cumulativeTrapezoid(…) begins at 0 and ends at trapezoid(…)", () => {
  const x = [0, 1, 1.5, 4];
  const y = [2, -1, 0.5, 3];
  const total = cumulativeTrapezoid(x, y);
  expect(total[0]).toBe(0);
  expect(total[3]).toBeCloseTo(trapezoid(x, y), 14);
  expect(() => cumulativeTrapezoid([0, 0], [1, 1])).toThrow("cumulativeTrapezoid: x[1] must be > 0 (values must rise), got 0");
});

test("interpolateLinear(…) meets the samples, stays between them and refuses the outside", () => {
  const x = [0, 1, 3];
  const y = [5, -2, 0.1];
  x.forEach((at, i) => expect(interpolateLinear(x, y, at)).toBe(y[i]));
  expect(interpolateLinear(x, y, 2)).toBeCloseTo(-0.95, 14);
  expect(() => interpolateLinear(x, y, 3.01)).toThrow("interpolateLinear: at must be between 0 and 3, got 3.01");
});

// Known-answer vectors that the authors of the generator publish with it (Salmon et al. 2011, Random123); from memory.
test.each([
  [[0, 0, 0, 0], [0, 0], [0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8]],
  [[0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff], [0xffffffff, 0xffffffff], [0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd]],
  [[0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344], [0xa4093822, 0x299f31d0], [0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1]],
] as const)("philox(%j, %j) returns the published words", (counter, key, words) => {
  expect(philox(counter, key)).toEqual(words);
});

test("uniform(…) is pure, inside 0 to 1, and other for every seed, index and stream", () => {
  expect(uniform(7, 3, 2)).toBe(uniform(7, 3, 2));
  const seen = new Set<number>();
  for (let i = 0; i < 1000; i++) for (const stream of [0, 1]) for (const seed of [1, 2]) seen.add(uniform(seed, i, stream));
  expect(seen.size).toBe(4000);
  for (const u of seen) expect(u > 0 && u < 1).toBe(true);
  expect(() => uniform(-1, 0)).toThrow("uniform: seed must be a whole number from 0 to 4294967295, got -1");
});

test("normal(…) has mean 0, standard deviation 1 and 95 % within 1.96 for 20000 draws", () => {
  const n = 20000;
  let sum = 0;
  let squares = 0;
  let within = 0;
  for (let i = 0; i < n; i++) {
    const z = normal(11, i);
    sum += z;
    squares += z * z;
    if (Math.abs(z) < 1.959964) within += 1;
  }
  // Four standard errors each.
  expect(Math.abs(sum / n)).toBeLessThan(4 / Math.sqrt(n));
  expect(Math.abs(squares / n - 1)).toBeLessThan(4 * Math.sqrt(2 / n));
  expect(Math.abs(within / n - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / n));
});

// Standard normal table: printed in any textbook of statistics; 16 digits recomputed with SciPy 1.17 (scipy.stats.norm.ppf).
test.each([
  [0.5, 0],
  [0.8413447460685429, 1],
  [0.975, 1.959963984540054],
  [0.01, -2.3263478740408408],
  [1e-10, -6.361340902404056],
  [1e-20, -9.262340089798408],
])("normalQuantile(%f) is %f", (share, z) => {
  expect(Math.abs(normalQuantile(share) - z)).toBeLessThanOrEqual(ROUNDING * Math.max(1, Math.abs(z)));
});
