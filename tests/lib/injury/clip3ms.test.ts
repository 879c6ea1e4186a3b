import fc from "fast-check";
import { expect, test } from "vitest";
import { chestMeasures } from "../../../lib/injury/chestMeasures.ts";
import { clip3ms } from "../../../lib/injury/clip3ms.ts";

/** Levels are found exactly for straight lines; checks walk the same lines with a few roundings. */
const ROUNDING = 1e-9;
const CASES = { numRuns: 200, seed: 41 };
const record = fc.array(fc.double({ min: 0, max: 900, noNaN: true }), { minLength: 12, maxLength: 120 });
/** Whole and broken numbers of samples in 3 ms. */
const interval = fc.constantFrom(0.001, 0.0005, 0.0007, 0.0004, 0.002);

/** Time at or above a level, straight from the lines between samples. */
const timeAbove = (values: readonly number[], interval: number, level: number): number => {
  let total = 0;
  for (let i = 1; i < values.length; i++) {
    const a = (values[i - 1] as number) - level;
    const b = (values[i] as number) - level;
    if (a >= 0 && b >= 0) total += interval;
    else if (a > 0 || b > 0) total += (interval * Math.max(a, b)) / Math.abs(a - b);
  }
  return total;
};

/** Longest spell at or above a level. */
const longestSpell = (values: readonly number[], interval: number, level: number): number => {
  let longest = 0;
  let spell = 0;
  for (let i = 1; i < values.length; i++) {
    const a = (values[i - 1] as number) - level;
    const b = (values[i] as number) - level;
    if (a >= 0 && b >= 0) spell += interval;
    else if (a >= 0) {
      longest = Math.max(longest, spell + (interval * a) / (a - b));
      spell = 0;
    } else if (b >= 0) spell = (interval * b) / (b - a);
  }
  return Math.max(longest, spell);
};

test("clip3ms(… cumulative) is held for 3 ms in all, and nothing above it is", () => {
  fc.assert(
    fc.property(record, interval, (acceleration, sampleInterval) => {
      const { value } = clip3ms({ sampleInterval, acceleration, definition: "cumulative" });
      expect(timeAbove(acceleration, sampleInterval, value - ROUNDING * 900)).toBeGreaterThanOrEqual(0.003 - 1e-12);
      expect(timeAbove(acceleration, sampleInterval, value + ROUNDING * 900)).toBeLessThanOrEqual(0.003 + 1e-12);
    }),
    CASES,
  );
});

test("clip3ms(… contiguous) is held for 3 ms without a break, and nothing above it is", () => {
  fc.assert(
    fc.property(record, interval, (acceleration, sampleInterval) => {
      const { value, from, to } = clip3ms({ sampleInterval, acceleration, definition: "contiguous" });
      expect(longestSpell(acceleration, sampleInterval, value - ROUNDING * 900)).toBeGreaterThanOrEqual(0.003 - 1e-12);
      expect(longestSpell(acceleration, sampleInterval, value + ROUNDING * 900)).toBeLessThanOrEqual(0.003 + 1e-12);
      expect(Math.abs(to - from - 0.003)).toBeLessThan(1e-12);
    }),
    CASES,
  );
});

test("clip3ms(…) is never lower cumulative than contiguous, never above the peak, and scales with the acceleration", () => {
  fc.assert(
    fc.property(record, interval, fc.double({ min: 0.1, max: 9, noNaN: true }), (acceleration, sampleInterval, by) => {
      for (const definition of ["cumulative", "contiguous"] as const) {
        const { value } = clip3ms({ sampleInterval, acceleration, definition });
        expect(value).toBeLessThanOrEqual(Math.max(...acceleration));
        expect(Math.abs(clip3ms({ sampleInterval, acceleration: acceleration.map((a) => -by * a), definition }).value - by * value)).toBeLessThanOrEqual(ROUNDING * by * 900);
      }
      const level = (definition: "cumulative" | "contiguous") => clip3ms({ sampleInterval, acceleration, definition }).value;
      expect(level("cumulative")).toBeGreaterThanOrEqual(level("contiguous") - ROUNDING * 900);
    }),
    CASES,
  );
});

test("clip3ms(…) of a half-sine is A cos(pi 3 ms / 2 T) by either definition", () => {
  const acceleration = Array.from({ length: 801 }, (_, i) => 686.4655 * Math.sin((Math.PI * i) / 800));
  const closed = 686.4655 * Math.cos((Math.PI * 0.003) / (2 * 0.08));
  for (const definition of ["cumulative", "contiguous"] as const) {
    const { value, from, to } = clip3ms({ sampleInterval: 0.0001, acceleration, definition });
    // Chords of the sine lie below it by at most A (pi/800)^2 / 8.
    expect(Math.abs(value - closed)).toBeLessThan(686.4655 * (Math.PI / 800) ** 2 * 0.125);
    expect(from).toBeCloseTo(0.0385, 9);
    expect(to).toBeCloseTo(0.0415, 9);
  }
});

test("clip3ms(…) adds up two spells only when cumulative", () => {
  // Two plateaus of 2 ms, 10 ms apart, above a level of half the height.
  const acceleration = Array.from({ length: 211 }, (_, i) => ((i >= 50 && i <= 70) || (i >= 150 && i <= 170) ? 700 : 350));
  const of = (definition: "cumulative" | "contiguous") => clip3ms({ sampleInterval: 0.0001, acceleration, definition });
  expect(of("cumulative").value).toBe(700);
  expect(of("contiguous").value).toBe(350);
  expect(of("cumulative").from).toBeCloseTo(0.005, 12);
  expect(of("cumulative").to).toBeCloseTo(0.017, 12);
});

test("clip3ms(…) of a steady record is that record, and of a whole record its lowest point", () => {
  expect(clip3ms({ sampleInterval: 0.001, acceleration: [5, 5, 5, 5, 5], definition: "cumulative" }).value).toBe(5);
  expect(clip3ms({ sampleInterval: 0.001, acceleration: [5, 5, 5, 5, 5], definition: "contiguous" }).value).toBe(5);
  expect(clip3ms({ sampleInterval: 0.001, acceleration: [7, 9, 6, 8], definition: "contiguous" }).value).toBe(6);
  expect(clip3ms({ sampleInterval: 0.001, acceleration: [7, 9, 6, 8], definition: "cumulative" }).value).toBe(6);
});

test.each([
  ["no definition", () => clip3ms({ sampleInterval: 0.001, acceleration: [1, 2, 3, 4], definition: undefined as never }), "clip3ms: definition must be one of cumulative, contiguous, got undefined"],
  ["a record under 3 ms", () => clip3ms({ sampleInterval: 0.001, acceleration: [1, 2, 3], definition: "cumulative" }), "clip3ms: acceleration must be a record of at least 0.003 s, got 0.002"],
  ["a step of 0", () => clip3ms({ sampleInterval: 0, acceleration: [1, 2, 3], definition: "cumulative" }), "clip3ms: sampleInterval must be > 0 s, got 0"],
])("clip3ms(…) refuses %s", (_, call, message) => {
  expect(call).toThrow(message);
});

test("chestMeasures(…) reads peak, its time and the clip", () => {
  const acceleration = [0, -300, -620, -600, -600, -300, 0];
  const chest = chestMeasures({ sampleInterval: 0.001, acceleration, definition: "contiguous" });
  expect(chest).toEqual({ peak: 620, peakTime: 0.002, clip: clip3ms({ sampleInterval: 0.001, acceleration, definition: "contiguous" }).value });
});
