import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { pulseComparison } from "../../../lib/pulse/pulseComparison.ts";

const ROUNDING = 1e-12;
const CASES = { numRuns: 200, seed: 5 };
const sampleInterval = 0.001;
/** Whole periods of a sine, without the sample that would begin the next: sums over it are exact. */
const SAMPLES = 240;
const wave = (phase: number, size = 100): number[] => Array.from({ length: SAMPLES }, (_, i) => size * Math.sin((4 * Math.PI * i) / SAMPLES + phase));
const halfSine = (from: number, size = 200, length = 80): number[] => Array.from({ length: 200 }, (_, i) => (i >= from && i <= from + length ? size * Math.sin((Math.PI * (i - from)) / length) : 0));
const records = fc.array(fc.tuple(fc.double({ min: -500, max: 500, noNaN: true }), fc.double({ min: -500, max: 500, noNaN: true })), { minLength: 3, maxLength: 40 }).filter((pairs) => pairs.some(([x]) => Math.abs(x) > 1) && pairs.some(([, y]) => Math.abs(y) > 1));

describe("pulseComparison(…)", () => {
  test("finds no error between a pulse and itself", () => {
    expect(pulseComparison({ sampleInterval, reference: halfSine(40), compared: halfSine(40) })).toMatchObject({ magnitude: 0, phase: 0, comprehensive: 0, lag: 0, shape: 0 });
  });

  test("gives the size alone as magnitude error, and 1 as phase error of the opposite", () => {
    const { magnitude, phase } = pulseComparison({ sampleInterval, reference: halfSine(40), compared: halfSine(40, 250) });
    expect(magnitude).toBeCloseTo(0.25, 12);
    expect(phase).toBeLessThan(ROUNDING);
    expect(pulseComparison({ sampleInterval, reference: halfSine(40), compared: halfSine(40, -200) }).phase).toBe(1);
  });

  // closed form: sines a phase apart have a normalised product of cos(phase), so the error is the phase over half a turn
  test.each([0.01, 0.5, 1, 2, 3])("finds a phase error of %d / pi between sines that far apart", (phase) => {
    const found = pulseComparison({ sampleInterval, reference: wave(0), compared: wave(phase) });
    expect(found.phase).toBeCloseTo(phase / Math.PI, 12);
    expect(found.magnitude).toBeCloseTo(0, 12);
    expect(found.comprehensive).toBeCloseTo(phase / Math.PI, 12);
  });

  test("equals the printed form with an arc cosine, for any records", () =>
    fc.assert(
      // Sprague and Geers (2004), from memory: M = sqrt(Icc / Imm) - 1, P = acos(Imc / sqrt(Imm Icc)) / pi, C = sqrt(M^2 + P^2)
      fc.property(records, (pairs) => {
        const sum = (of: (x: number, y: number) => number): number => pairs.reduce((total, [x, y]) => total + of(x, y), 0);
        const [mm, cc, mc] = [sum((x) => x * x), sum((_, y) => y * y), sum((x, y) => x * y)];
        const found = pulseComparison({ sampleInterval, reference: pairs.map(([x]) => x), compared: pairs.map(([, y]) => y) });
        const phase = Math.acos(Math.max(-1, Math.min(1, mc / Math.sqrt(mm * cc)))) / Math.PI;
        expect(Math.abs(found.magnitude - (Math.sqrt(cc / mm) - 1))).toBeLessThan(ROUNDING * (1 + Math.sqrt(cc / mm)));
        expect(Math.abs(found.phase - phase)).toBeLessThan(1e-7); // the arc cosine itself keeps half the digits near 1
        expect(found.shape).toBeLessThanOrEqual(found.phase + ROUNDING);
      }),
      CASES,
    ));

  test.each([-25, -1, 7, 30])("finds a pulse that comes %d ms later, and its shape alike", (late) => {
    const found = pulseComparison({ sampleInterval, reference: halfSine(50), compared: halfSine(50 + late) });
    expect(found.lag).toBeCloseTo(late * sampleInterval, 12);
    expect(found.shape).toBeLessThan(ROUNDING);
    expect(found.phase).toBeGreaterThan(0.01);
  });

  test("leaves a shape error where no shift helps, and shifts no further than it is told", () => {
    const square = halfSine(50).map((value) => (value > 0 ? 150 : 0));
    const found = pulseComparison({ sampleInterval, reference: halfSine(50), compared: square });
    // half-sine against a square of its length: normalised product 2 sqrt 2 / pi
    expect(found.shape).toBeCloseTo(Math.acos((2 * Math.SQRT2) / Math.PI) / Math.PI, 2); // two figures: 81 samples
    expect(pulseComparison({ sampleInterval, reference: halfSine(50), compared: halfSine(80), longestShift: 0.01 }).lag).toBeCloseTo(0.01, 12);
    const unmoved = pulseComparison({ sampleInterval, reference: halfSine(50), compared: halfSine(80), longestShift: 0 });
    expect(unmoved.lag).toBe(0);
    expect(unmoved.shape).toBe(unmoved.phase);
  });

  test("refuses a record of nothing and records of different length", () => {
    expect(() => pulseComparison({ sampleInterval, reference: [0, 0], compared: [1, 2] })).toThrow("pulseComparison: reference must be other than 0 m/s^2 somewhere");
    expect(() => pulseComparison({ sampleInterval, reference: [1, 2, 3], compared: [1, 2] })).toThrow("pulseComparison: reference and compared must have the same length, got 3 and 2");
  });
});
