import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { STANDARD_GRAVITY } from "../../../lib/constants.ts";
import { headInjuryCriterion } from "../../../lib/injury/headInjuryCriterion.ts";
import { crashPulse } from "../../../lib/pulse/crashPulse.ts";
import type { PulseShape } from "../../../lib/pulse/pulseShape.ts";

/** The search judges the same windows as the plain one: only the order of roundings differs. */
const ROUNDING = 1e-12;
/** 2000 samples a pulse: the peak of the criterion is flat, the trapezoidal rule is good to about (pi/2000)^2. */
const SAMPLING = 2e-5;

/** Every window, one by one, straight from the definition. */
const plainSearch = (time: readonly number[], acceleration: readonly number[], window: number): number => {
  let best = 0;
  for (let i = 0; i < time.length; i++) {
    let gained = 0;
    for (let j = i + 1; j < time.length; j++) {
      const step = (time[j] as number) - (time[j - 1] as number);
      gained += (step * (Math.abs(acceleration[j] as number) + Math.abs(acceleration[j - 1] as number))) / 2;
      const length = (time[j] as number) - (time[i] as number);
      if (length > window * (1 + 1e-9)) break;
      best = Math.max(best, length * (gained / length / STANDARD_GRAVITY) ** 2.5);
    }
  }
  return best;
};

/** To the thousandth, so that no power of it underflows. */
const level = (min: number) => fc.integer({ min: 1000 * min, max: 1500000 }).map((thousandths) => thousandths / 1000);
const record = fc.array(level(0), { minLength: 2, maxLength: 220 });

test("headInjuryCriterion(…) finds what a search of every window finds, for 300 noisy records", () => {
  fc.assert(
    fc.property(record, fc.double({ min: 0.0002, max: 0.04, noNaN: true }), (acceleration, window) => {
      const sampleInterval = 0.0002;
      const { value, from, to } = headInjuryCriterion({ sampleInterval, acceleration, window });
      const plain = plainSearch(acceleration.map((_, i) => i * sampleInterval), acceleration, window);
      expect(Math.abs(value - plain)).toBeLessThanOrEqual(ROUNDING * plain);
      expect(to - from).toBeLessThanOrEqual(window * (1 + 1e-8));
    }),
    { numRuns: 300, seed: 31 },
  );
});

test("headInjuryCriterion(…) finds it at uneven times too", () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(fc.double({ min: 0.0001, max: 0.004, noNaN: true }), level(-900)), { minLength: 3, maxLength: 120 }), (samples) => {
      let now = 0.3;
      const time = samples.map(([step]) => (now += step));
      const acceleration = samples.map(([, a]) => a);
      const { value } = headInjuryCriterion({ time, acceleration, window: 0.015 });
      const plain = plainSearch(time, acceleration, 0.015);
      expect(Math.abs(value - plain)).toBeLessThanOrEqual(ROUNDING * plain);
    }),
    { numRuns: 200, seed: 32 },
  );
});

test("headInjuryCriterion(…) finds it for records that leave little to skip: level, ramp, zeros, spikes", () => {
  const n = 700;
  const shapes: readonly ((i: number) => number)[] = [() => 500, (i) => i, () => 0, (i) => (i % 97 === 0 ? 900 : 3), (i) => 400 + 0.01 * Math.sin(i)];
  for (const shape of shapes) {
    const acceleration = Array.from({ length: n }, (_, i) => shape(i));
    const { value } = headInjuryCriterion({ sampleInterval: 0.0001, acceleration, window: 0.015 });
    const plain = plainSearch(acceleration.map((_, i) => i * 0.0001), acceleration, 0.015);
    expect(Math.abs(value - plain)).toBeLessThanOrEqual(ROUNDING * plain);
  }
});

// Closed forms with no limit on the window: value = C A^2.5 T. Principle: Chou & Nyquist, SAE 740082 (1974), abstract (equal ends, mean 5/3
// of them); constants derived to 12 digits.
describe.each<[PulseShape, number, number]>([
  [{ shape: "square" }, 1, 1],
  [{ shape: "halfSine" }, 0.414645649542, 0.67022966365],
  [{ shape: "triangle" }, 0.246400657355, 4 / 7],
  [{ shape: "triangle", peakPosition: 0 }, 0.246400657355, 4 / 7],
  [{ shape: "triangle", peakPosition: 0.8 }, 0.246400657355, 4 / 7],
  [{ shape: "haversine" }, 0.302938854958, 0.507591812423],
])("headInjuryCriterion(…) of %j", (form, constant, width) => {
  const { series, peakDeceleration } = crashPulse({ ...form, deltaV: 10, duration: 0.02, samples: 2001 });
  const result = headInjuryCriterion({ time: series.time, acceleration: series.deceleration, window: 0.02 });
  test("is its closed form", () => {
    const closed = constant * (peakDeceleration / STANDARD_GRAVITY) ** 2.5 * 0.02;
    expect(Math.abs(result.value - closed)).toBeLessThan(SAMPLING * closed);
  });
  test("wins over the known share of the pulse, to one sample", () => {
    expect(Math.abs((result.to - result.from) / 0.02 - width)).toBeLessThan(1 / 1000);
  });
});

test("headInjuryCriterion(…) has equal ends, 3/5 of the mean, when no limit binds", () => {
  const { series } = crashPulse({ shape: "halfSine", deltaV: 10, duration: 0.02, samples: 4001 });
  const { from, to, mean } = headInjuryCriterion({ time: series.time, acceleration: series.deceleration, window: 0.02 });
  const at = (t: number): number => series.deceleration[Math.round((t / 0.02) * 4000)] as number;
  // One sample off moves an end by under 0.1 %.
  expect(Math.abs(mean / at(from) - 5 / 3)).toBeLessThan(2e-3);
  expect(Math.abs(mean / at(to) - 5 / 3)).toBeLessThan(2e-3);
});

test("headInjuryCriterion(…) grows with the 2.5th power of the acceleration and in proportion to the time", () => {
  fc.assert(
    fc.property(record, fc.double({ min: 0.1, max: 5, noNaN: true }), (acceleration, by) => {
      const one = headInjuryCriterion({ sampleInterval: 0.001, acceleration, window: 0.015 }).value;
      expect(Math.abs(headInjuryCriterion({ sampleInterval: 0.001, acceleration: acceleration.map((a) => by * a), window: 0.015 }).value - by ** 2.5 * one)).toBeLessThanOrEqual(1e-9 * by ** 2.5 * one);
      expect(Math.abs(headInjuryCriterion({ sampleInterval: 0.002, acceleration, window: 0.03 }).value - 2 * one)).toBeLessThanOrEqual(1e-9 * one);
    }),
    { numRuns: 100, seed: 33 },
  );
});

test("headInjuryCriterion(…) never falls when the window may be longer, and is blind to direction in time and to sign", () => {
  fc.assert(
    fc.property(record, (acceleration) => {
      const of = (values: readonly number[], window: number) => headInjuryCriterion({ sampleInterval: 0.001, acceleration: values, window }).value;
      const short = of(acceleration, 0.015);
      expect(of(acceleration, 0.036)).toBeGreaterThanOrEqual(short);
      expect(Math.abs(of([...acceleration].reverse(), 0.015) - short)).toBeLessThanOrEqual(1e-9 * short);
      expect(of(acceleration.map((a) => -a), 0.015)).toBe(short);
    }),
    { numRuns: 100, seed: 34 },
  );
});

test("headInjuryCriterion(…) is 0, over no window, for a record that is still wherever a window fits", () => {
  expect(headInjuryCriterion({ sampleInterval: 0.001, acceleration: [0, 0, 0], window: 0.015 })).toEqual({ value: 0, from: 0, to: 0, mean: 0 });
  expect(headInjuryCriterion({ time: [0, 1, 2, 2.01], acceleration: [90, 90, 0, 0], window: 0.015 })).toEqual({ value: 0, from: 0, to: 0, mean: 0 });
});

const BASE = { sampleInterval: 0.001, acceleration: [0, 100, 0], window: 0.015 };
test.each([
  ["no times at all", () => headInjuryCriterion({ acceleration: [1, 2], window: 0.015 }), "headInjuryCriterion: sampleInterval must be given alone, or the times alone, got \"neither\""],
  ["a window shorter than a step", () => headInjuryCriterion({ ...BASE, window: 0.0005 }), "headInjuryCriterion: window must be >= 0.001 s, the shortest step of the record, got 0.0005"],
  ["a value that is not a number", () => headInjuryCriterion({ ...BASE, acceleration: [0, Number.NaN] }), "headInjuryCriterion: acceleration[1] must be finite m/s^2, got NaN"],
  ["one sample", () => headInjuryCriterion({ ...BASE, acceleration: [1] }), "headInjuryCriterion: acceleration must have at least 2 values, got 1"],
  ["a step of 0", () => headInjuryCriterion({ ...BASE, sampleInterval: 0 }), "headInjuryCriterion: sampleInterval must be > 0 s, got 0"],
])("headInjuryCriterion(…) refuses %s", (_, call, message) => {
  expect(call).toThrow(message);
});
