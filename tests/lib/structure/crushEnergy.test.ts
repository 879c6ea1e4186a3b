import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { centralImpact } from "../../../lib/collision/centralImpact.ts";
import { closingFromDamage } from "../../../lib/structure/closingFromDamage.ts";
import { crushEnergy } from "../../../lib/structure/crushEnergy.ts";
import { crushProfile } from "../../../lib/structure/crushProfile.ts";
import { equivalentBarrierSpeed } from "../../../lib/structure/equivalentBarrierSpeed.ts";
import { mutualCrush } from "../../../lib/structure/mutualCrush.ts";
import { stiffnessFromSpeeds, stiffnessFromTests } from "../../../lib/structure/stiffnessFromTests.ts";
import { wallAgainstMutual } from "../../../lib/structure/wallAgainstMutual.ts";
import { wallCrush } from "../../../lib/structure/wallCrush.ts";

const ROUNDING = 1e-11;
const CASES = { numRuns: 200, seed: 12 };
const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const near = (x: number, y: number, tolerance = ROUNDING): void => expect(Math.abs(x - y), `${x} against ${y}`).toBeLessThanOrEqual(tolerance * Math.max(Math.abs(x), Math.abs(y), 1e-6));
const damage = fc.record({
  profile: fc.array(real(0.01, 0.8), { minLength: 2, maxLength: 12 }),
  width: real(0.3, 2),
  stiffness: fc.record({ a: real(0, 1e5), b: real(1e5, 2e6) }),
  forceAngle: real(-0.78, 0.78),
});

describe("crushEnergy(…)", () => {
  test("equals the formula printed for six stations", () =>
    fc.assert(
      // DOT HS 805 732 (1981), from memory
      fc.property(fc.array(real(0, 0.8), { minLength: 6, maxLength: 6 }), real(0.3, 2), real(0, 1e5), real(1e5, 2e6), (profile, width, a, b) => {
        const [c1, c2, c3, c4, c5, c6] = profile as [number, number, number, number, number, number];
        const linear = (a / 2) * (c1 + 2 * c2 + 2 * c3 + 2 * c4 + 2 * c5 + c6);
        const square = (b / 6) * (c1 ** 2 + 2 * c2 ** 2 + 2 * c3 ** 2 + 2 * c4 ** 2 + 2 * c5 ** 2 + c6 ** 2 + c1 * c2 + c2 * c3 + c3 * c4 + c4 * c5 + c5 * c6);
        near(crushEnergy({ profile, width, stiffness: { a, b } }).energy, (width / 5) * (linear + square + (5 * a ** 2) / (2 * b)));
      }),
      CASES,
    ));

  test("equals thin strips added up", () => {
    const { profile, width, stiffness } = { profile: [0, 0.3, 0.1, 0.5], width: 1.2, stiffness: { a: 4e4, b: 7e5 } };
    const strips = 30000; // a multiple of the zones, so that no strip holds a bend
    let sum = 0;
    for (let i = 0; i < strips; i++) {
      const at = ((i + 0.5) * 3) / strips;
      const zone = Math.floor(at);
      const depth = (profile[zone] as number) + (at - zone) * ((profile[zone + 1] as number) - (profile[zone] as number));
      sum += ((stiffness.a * depth + (stiffness.b * depth ** 2) / 2 + stiffness.a ** 2 / (2 * stiffness.b)) * width) / strips;
    }
    near(crushEnergy({ profile, width, stiffness }).energy, sum, 1e-8); // the midpoint rule errs with the square of the strip
  });

  test("does not change when stations are added on the straight lines, nor when the profile is read from the other end", () =>
    fc.assert(
      fc.property(damage, (input) => {
        const finer = input.profile.flatMap((depth, i) => (i === 0 ? [depth] : [((input.profile[i - 1] as number) + depth) / 2, depth]));
        const { energy } = crushEnergy(input);
        near(crushEnergy({ ...input, profile: finer }).energy, energy);
        near(crushEnergy({ ...input, profile: input.profile.toReversed() }).energy, energy);
      }),
      CASES,
    ));

  test("grows with every depth and with the angle of the force, and keeps the threshold over the whole width", () => {
    const flat = { profile: [0, 0, 0], width: 1.5, stiffness: { a: 5e4, b: 5e5 } };
    expect(crushEnergy(flat).energy).toBeCloseTo(1.5 * 2500, 9);
    expect(crushEnergy({ ...flat, profile: [0, 0.1, 0] }).energy).toBeGreaterThan(crushEnergy(flat).energy);
    expect(crushEnergy({ ...flat, forceAngle: Math.PI / 4 }).energy).toBeCloseTo(2 * 1.5 * 2500, 9);
  });

  test("refuses a depth below 0, one station and a force too steep", () => {
    const input = { profile: [0.1, 0.2], width: 1, stiffness: { a: 1, b: 1 } };
    expect(() => crushEnergy({ ...input, profile: [0.1, -0.2] })).toThrow("crushEnergy: profile[1] must be >= 0 m, got -0.2");
    expect(() => crushEnergy({ ...input, profile: [0.1] })).toThrow("crushEnergy: profile must have at least 2 values, got 1");
    expect(() => crushEnergy({ ...input, width: -1.5 })).toThrow("crushEnergy: width must be > 0 m, got -1.5");
    expect(() => crushEnergy({ ...input, forceAngle: 1 })).toThrow("crushEnergy: forceAngle must be between");
  });
});

describe("crushProfile(…)", () => {
  test("finds the centroid of a rectangle and of a triangle", () => {
    const even = crushProfile({ profile: [0.3, 0.3, 0.3], width: 2 });
    expect(even.area).toBeCloseTo(0.6, 12);
    expect(even.centroid.depth).toBeCloseTo(0.15, 12);
    expect(even.centroid.lateral).toBeCloseTo(1, 12);
    const corner = crushProfile({ profile: [0.6, 0], width: 1.5 }); // a third of the way from the deep end, a third of the depth
    expect(corner.centroid.depth).toBeCloseTo(0.2, 12);
    expect(corner.centroid.lateral).toBeCloseTo(0.5, 12);
  });

  test("mirrors the lateral position", () =>
    fc.assert(
      fc.property(damage, ({ profile, width }) => {
        near(crushProfile({ profile, width }).centroid.lateral + crushProfile({ profile: profile.toReversed(), width }).centroid.lateral, width);
      }),
      CASES,
    ));

  test("refuses a profile without crush", () => expect(() => crushProfile({ profile: [0, 0], width: 1 })).toThrow("deeper than 0 m somewhere"));
});

describe("stiffness and speed", () => {
  const vehicle = { mass: real(700, 3000), width: real(1, 2), intercept: real(0, 4), slope: real(8, 50) };

  test("equivalentBarrierSpeed(…) of even crush gives back the speed that the coefficients were made from", () =>
    fc.assert(
      fc.property(vehicle.mass, vehicle.width, vehicle.intercept, vehicle.slope, real(0, 0.9), (mass, width, intercept, slope, crush) => {
        const { stiffness } = stiffnessFromSpeeds({ mass, width, intercept, slope });
        near(equivalentBarrierSpeed({ mass, profile: [crush, crush], width, stiffness }).speed, intercept + slope * crush);
      }),
      CASES,
    ));

  test("stiffnessFromTests(…) recovers a line, and leaves residuals that no other line betters", () =>
    fc.assert(
      fc.property(vehicle.mass, vehicle.width, real(1, 4), vehicle.slope, fc.array(real(-0.3, 0.3), { minLength: 4, maxLength: 4 }), (mass, width, intercept, slope, off) => {
        const crush = [0.1, 0.25, 0.4, 0.7];
        const speed = crush.map((depth) => intercept + slope * depth);
        const exact = stiffnessFromTests({ mass, width, speed, crush });
        near(exact.intercept, intercept, 1e-9);
        near(exact.slope, slope);
        expect(exact.residual).toBeLessThan(1e-9);
        const scattered = speed.map((v, i) => v + (off[i] as number));
        const fit = stiffnessFromTests({ mass, width, speed: scattered, crush });
        const misses = (b0: number, b1: number): number => crush.reduce((sum, depth, i) => sum + ((scattered[i] as number) - b0 - b1 * depth) ** 2, 0);
        const least = misses(fit.intercept, fit.slope);
        near(Math.sqrt(least / 4), fit.residual, 1e-9);
        for (const [d0, d1] of [[0.01, 0], [-0.01, 0], [0, 0.05], [0, -0.05]] as const) expect(misses(fit.intercept + d0, fit.slope + d1)).toBeGreaterThan(least);
      }),
      CASES,
    ));

  test("stiffnessFromTests(…) refuses tests that leave the line open or make it absurd", () => {
    const input = { mass: 1500, width: 1.6 };
    expect(() => stiffnessFromTests({ ...input, speed: [10, 12], crush: [0.3, 0.3] })).toThrow("one depth leaves the slope open");
    expect(() => stiffnessFromTests({ ...input, speed: [12, 10], crush: [0.3, 0.4] })).toThrow("slope of speed against crush must be > 0 1/s");
    expect(() => stiffnessFromTests({ ...input, speed: [5, 20], crush: [0.3, 0.6] })).toThrow("stiffnessFromTests: speed at no crush must be >= 0 m/s");
    expect(() => stiffnessFromTests({ ...input, speed: [5], crush: [0.3] })).toThrow(TypeError);
  });
});

describe("both vehicles", () => {
  const front = fc.record({ mass: real(700, 3000), stiffness: real(2e5, 3e6) });

  test("closingFromDamage(…) gives back the closing speed of mutualCrush(…), with one force on both", () =>
    fc.assert(
      fc.property(front, front, real(5, 40), (a, b, closingSpeed) => {
        const { crush, energy } = mutualCrush({ a, b, closingSpeed });
        const width = 1.5;
        const damaged = ({ mass, stiffness }: typeof a, depth: number) => ({ mass, profile: [depth, depth, depth], width, stiffness: { a: 0, b: stiffness / width } });
        const found = closingFromDamage({ a: damaged(a, crush.a), b: damaged(b, crush.b), restitution: 0 });
        near(found.closingSpeed, closingSpeed);
        near(found.energy.a, energy.a);
        near(found.force.a, found.force.b);
        near(found.speedChange.a, Math.abs(centralImpact({ a: { mass: a.mass, velocity: closingSpeed }, b: { mass: b.mass, velocity: 0 }, restitution: 0 }).deltaV.a));
      }),
      CASES,
    ));

  test("closingFromDamage(…) refuses damage that took no energy, and an elastic impact", () => {
    const none = { mass: 1000, profile: [0, 0], width: 1, stiffness: { a: 0, b: 1 } };
    expect(() => closingFromDamage({ a: none, b: none, restitution: 0 })).toThrow("closingFromDamage: energy of both must be > 0 J, got 0");
    expect(() => closingFromDamage({ a: { ...none, profile: [1, 1] }, b: none, restitution: 1 })).toThrow("< 1 (an elastic impact leaves no crush energy)");
  });

  test("wallAgainstMutual(…) gives wall speeds at which wallCrush(…) does the same", () =>
    fc.assert(
      fc.property(front, front, real(5, 40), (a, b, closingSpeed) => {
        const mutual = mutualCrush({ a, b, closingSpeed });
        const { wallSpeed, overstatement } = wallAgainstMutual({ a, b, closingSpeed });
        for (const [body, side] of [[a, "a"], [b, "b"]] as const) {
          const wall = wallCrush({ ...body, speed: wallSpeed[side] });
          near(wall.crush, mutual.crush[side]);
          near(wall.peakForce, mutual.peakForce);
          near(wallCrush({ ...body, speed: closingSpeed }).energy, overstatement[side] * mutual.energy[side]);
        }
      }),
      CASES,
    ));

  test("wallAgainstMutual(…) of like vehicles: a wall at v, never a wall at 2 v", () =>
    fc.assert(
      fc.property(front, real(3, 30), (a, speed) => {
        const { wallSpeed, speedChange, overstatement } = wallAgainstMutual({ a, b: a, closingSpeed: 2 * speed });
        near(wallSpeed.a, speed);
        near(speedChange.a, speed);
        near(overstatement.a, 4);
      }),
      CASES,
    ));
});
