import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { femurForce } from "../../../lib/injury/femurForce.ts";
import { headInjuryCriterion } from "../../../lib/injury/headInjuryCriterion.ts";
import { NECK_CRITICAL, neckCriterion } from "../../../lib/injury/neckCriterion.ts";
import { severityIndex } from "../../../lib/injury/severityIndex.ts";
import { tibiaIndex } from "../../../lib/injury/tibiaIndex.ts";
import { CHEST_DEPTHS, viscousCriterion } from "../../../lib/injury/viscousCriterion.ts";

const CASES = { numRuns: 150, seed: 3 };
const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe("viscousCriterion(…)", () => {
  test("is exact for a deflection of the fourth degree", () => {
    const at = (t: number): number => 0.05 * t ** 4 + 0.02 * t;
    const speed = (t: number): number => 0.2 * t ** 3 + 0.02;
    const { value, time, compression } = viscousCriterion({ sampleInterval: 0.1, deflection: Array.from({ length: 11 }, (_, i) => at(i / 10)) });
    expect(time).toBeCloseTo(0.8, 12); // the last sample with two to come; it grows throughout
    expect(value).toBeCloseTo((1.3 * speed(0.8) * at(0.8)) / 0.229, 12);
    expect(compression).toBeCloseTo(at(0.8) / 0.229, 12);
  });

  test("grows with the square of the deflection and falls with the depth of the chest", () => {
    const deflection = [0, 0.01, 0.03, 0.04, 0.045, 0.04];
    const { value } = viscousCriterion({ sampleInterval: 0.005, deflection });
    expect(viscousCriterion({ sampleInterval: 0.005, deflection: deflection.map((d) => 2 * d) }).value).toBeCloseTo(4 * value, 12);
    expect(viscousCriterion({ sampleInterval: 0.005, deflection, depth: CHEST_DEPTHS.smallFemale }).value).toBeGreaterThan(value);
    expect(viscousCriterion({ sampleInterval: 0.005, deflection: deflection.toReversed() }).value).toBeLessThan(value);
  });

  test("is 0 for a chest that is only drawn out", () => expect(viscousCriterion({ sampleInterval: 0.01, deflection: [0, -0.01, -0.02, -0.03, -0.04] }).value).toBe(0));

  // SAE J1727 (2015), table, second-hand
  test("knows the depths of the standard's table", () => expect(Object.values(CHEST_DEPTHS)).toEqual([0.229, 0.187, 0.254, 0.143, 0.122]));
});

describe("neckCriterion(…)", () => {
  test("is never below what either load gives alone, and picks the right critical values", () =>
    fc.assert(
      fc.property(real(-8000, 8000), real(-400, 400), (force, moment) => {
        const { value, load } = neckCriterion({ axialForce: [force], moment: [moment] });
        const byForce = neckCriterion({ axialForce: [force], moment: [0] }).value;
        const byMoment = neckCriterion({ axialForce: [0], moment: [moment] }).value;
        expect(value).toBeCloseTo(byForce + byMoment, 12);
        expect(load).toBe(`${force < 0 ? "compression" : "tension"} and ${moment < 0 ? "extension" : "flexion"}`);
        expect(byMoment).toBeCloseTo(Math.abs(moment) / (moment < 0 ? NECK_CRITICAL.extension : NECK_CRITICAL.flexion), 12);
      }),
      CASES,
    ));

  test("takes force and moment at the same moment, not their peaks", () => {
    const { value, sample, peak } = neckCriterion({ axialForce: [3403, 0, -1540], moment: [0, 62, 155] });
    expect(value).toBeCloseTo(0.25 + 0.5, 12);
    expect(sample).toBe(2);
    expect(peak).toEqual({ tension: 3403, compression: 1540 });
  });

  test("moves the moment to the condyles with the sign of 49 CFR 572.123: forwards shear takes from it", () => {
    expect(neckCriterion({ axialForce: [0], moment: [60], shear: [800] }).condyleMoment).toBeCloseTo(60 - 0.01778 * 800, 12);
  });
});

describe("femurForce(…)", () => {
  test("tells a short blow from a force that is held", () => {
    const blow = femurForce({ sampleInterval: 0.001, axialForce: [0, 0, 0, -9000, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0] });
    expect(blow).toEqual({ peak: 9000, peakTime: 0.003, held: 0 });
    const held = femurForce({ sampleInterval: 0.001, axialForce: [0, ...Array.from({ length: 12 }, () => -7000), 0] });
    expect(held.held).toBe(7000);
  });
  test("counts no tension", () => expect(femurForce({ sampleInterval: 0.01, axialForce: [0, 5000, 0] })).toEqual({ peak: 0, peakTime: 0, held: 0 }));
  test("refuses a record shorter than the duration", () => expect(() => femurForce({ sampleInterval: 0.001, axialForce: [0, -1] })).toThrow("femurForce: duration must be <= 0.001 s, the length of the record, got 0.01"));
});

test("tibiaIndex(…) does not know which way the leg bends, nor which sign compression has", () => {
  const { value } = tibiaIndex({ moment: { x: 60, y: -80 }, axialForce: -3590 });
  expect(value).toBeCloseTo(100 / 225 + 0.1, 12);
  expect(tibiaIndex({ moment: { x: -80, y: 60 }, axialForce: 3590 }).value).toBeCloseTo(value, 12);
});

describe("severityIndex(…)", () => {
  test("is never below the head injury criterion of any window, and equal for a square pulse", () => {
    fc.assert(
      // Chou and Nyquist, SAE 740082 (1974), p. 398
      fc.property(fc.array(real(0, 1500), { minLength: 4, maxLength: 30 }), real(0.002, 0.05), (acceleration, window) => {
        const index = severityIndex({ sampleInterval: 0.001, acceleration }).value;
        expect(headInjuryCriterion({ sampleInterval: 0.001, acceleration, window }).value).toBeLessThanOrEqual(index * (1 + 1e-12) + 1e-12);
      }),
      CASES,
    );
    const square = Array.from({ length: 11 }, () => 980.665);
    expect(severityIndex({ sampleInterval: 0.001, acceleration: square }).value).toBeCloseTo(headInjuryCriterion({ sampleInterval: 0.001, acceleration: square, window: 0.015 }).value, 9);
  });

  test("has no seam where neighbouring samples grow alike", () => {
    const between = (gap: number): number => severityIndex({ sampleInterval: 1, acceleration: [100, 100 * (1 + gap)], gravity: 1 }).value;
    expect(between(1.01e-5) / between(0.99e-5) - 1).toBeLessThan(1e-6);
    expect(Math.abs(between(1.01e-5) / 1e5 - (1 + 1.25 * 1.01e-5))).toBeLessThan(1e-9);
  });
});
