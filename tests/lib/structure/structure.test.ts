import { describe, expect, test } from "vitest";
import { closingFromCrushEnergy } from "../../../lib/structure/closingFromCrushEnergy.ts";
import { vehiclesAlone } from "../../../lib/event/vehiclesAlone.ts";
import { crushAt, crushForce, energyAt, forceAt, frontsInSeries, noseThenCell } from "../../../lib/structure/forceCrushCurve.ts";
import { mutualCrush } from "../../../lib/structure/mutualCrush.ts";
import { stiffnessFromWallTest, wallCrush } from "../../../lib/structure/wallCrush.ts";
import { REFERENCE_ALONE, referenceCrash } from "../event/referenceCrash.ts";

/** Rounding of a few operations. */
const EXACT = 1e-12;
const relative = (got: number, want: number): number => Math.abs(got / want - 1);
const depths = Array.from({ length: 41 }, (_, i) => i * 0.05);

describe("force-crush curves", () => {
  const { front } = referenceCrash.a;

  test("crushForce(…) passes through the curve's points and carries the last part on", () => {
    front.crush.forEach((crush, i) => expect(crushForce({ curve: front, crush }).force).toBeCloseTo(front.force[i] as number, 6));
    expect(crushForce({ curve: { crush: [0, 1], force: [0, 100] }, crush: 3 }).force).toBe(300);
  });

  test("crushAt and forceAt undo each other", () => {
    for (const depth of depths) expect(Math.abs(crushAt(front, forceAt(front, depth)) - depth)).toBeLessThan(EXACT);
  });

  test("energyAt equals the sum of thin slices of force", () => {
    const slices = 200000;
    const depth = 1.1;
    let sum = 0;
    for (let i = 0; i < slices; i++) sum += (forceAt(front, ((i + 0.5) * depth) / slices) * depth) / slices;
    expect(relative(energyAt(front, depth), sum)).toBeLessThan(1e-9); // the midpoint rule errs only in slices that hold a bend
  });

  test("noseThenCell(…) bends at the nose's length only", () => {
    const curve = noseThenCell({ noseStiffness: 1.2e6, cellStiffness: 4e6, noseLength: 0.55 });
    expect(forceAt(curve, 0.5)).toBeCloseTo(600000, 6);
    expect(forceAt(curve, 0.65)).toBeCloseTo(660000 + 400000, 6);
    expect(forceAt(curve, 2)).toBeCloseTo(660000 + 1.45 * 4e6, 6);
  });

  test("frontsInSeries(…) takes two roundings of one bend for one: every part has a width", () => {
    // the first front's end and the second's nose are 480000 N, and 480000.00000000006 N
    const a = noseThenCell({ noseStiffness: 790000, cellStiffness: 1130000, noseLength: 0.25 });
    const b = noseThenCell({ noseStiffness: 800000, cellStiffness: 2190000, noseLength: 0.6 });
    const pair = frontsInSeries({ a, b });
    for (let i = 1; i < pair.crush.length; i++) expect((pair.crush[i] as number) - (pair.crush[i - 1] as number)).toBeGreaterThan(1e-6);
    const alone = vehiclesAlone({ a: { mass: 3210, speed: 25 / 3.6, front: a, unloading: "none" }, b: { mass: 4600, speed: 68 / 3.6, front: b, unloading: "none" } });
    expect(alone.peakForce).toBeGreaterThan(0);
    expect(Number.isFinite(alone.times.commonVelocity)).toBe(true);
  });

  test("frontsInSeries(…) shares the force and adds the crushes, at any force", () => {
    const pair = frontsInSeries({ a: referenceCrash.a.front, b: referenceCrash.b.front });
    for (let force = 0; force < 3e6; force += 31000) expect(Math.abs(crushAt(pair, force) - crushAt(referenceCrash.a.front, force) - crushAt(referenceCrash.b.front, force))).toBeLessThan(EXACT);
    // overlap of the reference in extended precision, at its peak force
    expect(relative(crushAt(pair, REFERENCE_ALONE.peakForce), REFERENCE_ALONE.overlap)).toBeLessThan(EXACT);
  });

  test("refuses a curve that does not rise from nothing", () => {
    expect(() => crushForce({ curve: { crush: [0, 1, 2], force: [0, 10, 10] }, crush: 1 })).toThrow("crushForce: curve.force[2] must be > 10 N (force must rise), got 10");
    expect(() => frontsInSeries({ a: front, b: { crush: [0.1, 1], force: [0, 1] } })).toThrow("frontsInSeries: b.crush[0] must be 0 m");
    expect(() => noseThenCell({ noseStiffness: 0, cellStiffness: 1, noseLength: 1 })).toThrow(RangeError);
    expect(() => crushForce({ curve: { crush: [0, 1], force: [0] }, crush: 1 })).toThrow(TypeError);
  });
});

describe("mutualCrush(…)", () => {
  const pair = { a: { mass: 900, stiffness: 1.2e6 }, b: { mass: 1800, stiffness: 0.45e6 }, closingSpeed: 25 };

  test("gives the demo scenario's series stiffness, worked by hand", () => {
    expect(mutualCrush(pair).seriesStiffness).toBeCloseTo(327273, -1);
  });

  test("shares energy in the inverse ratio of stiffness and absorbs all that is lost", () => {
    const { energy } = mutualCrush(pair);
    expect(relative(energy.a / energy.b, 0.45 / 1.2)).toBeLessThan(EXACT);
    expect(relative(energy.a + energy.b, (600 * 25 ** 2) / 2)).toBeLessThan(EXACT);
  });

  test("sends like vehicles into each other as wallCrush sends one into a wall at half the closing speed", () => {
    const like = mutualCrush({ a: { mass: 1400, stiffness: 8e5 }, b: { mass: 1400, stiffness: 8e5 }, closingSpeed: 28 });
    const wall = wallCrush({ mass: 1400, speed: 14, stiffness: 8e5 });
    expect(relative(like.crush.a, wall.crush)).toBeLessThan(EXACT);
    expect(relative(like.duration, wall.duration)).toBeLessThan(EXACT);
    expect(relative(like.equivalentWallSpeed.b, 14)).toBeLessThan(EXACT);
  });

  test("agrees with closingFromCrushEnergy on the way back", () => {
    const { energy } = mutualCrush(pair);
    const back = closingFromCrushEnergy({ a: { mass: 900, energy: energy.a }, b: { mass: 1800, energy: energy.b }, restitution: 0 });
    expect(relative(back.closingSpeed, 25)).toBeLessThan(EXACT);
    expect(relative(back.speedChange.a, 2 * back.speedChange.b)).toBeLessThan(EXACT);
  });

  test("refuses nonsense", () => {
    expect(() => mutualCrush({ ...pair, closingSpeed: 0 })).toThrow("mutualCrush: closingSpeed must be > 0 m/s, got 0");
    expect(() => mutualCrush({ ...pair, b: { mass: 1, stiffness: Infinity } })).toThrow("mutualCrush: b.stiffness must be > 0 N/m, got Infinity");
    expect(() => closingFromCrushEnergy({ a: { mass: 1, energy: 1 }, b: { mass: 1, energy: 1 }, restitution: 1 })).toThrow("restitution must be < 1");
    expect(() => closingFromCrushEnergy({ a: { mass: 1, energy: 0 }, b: { mass: 1, energy: 0 }, restitution: 0 })).toThrow(RangeError);
  });
});

describe("wallCrush(…) and stiffnessFromWallTest(…)", () => {
  test("undo each other", () => {
    const { crush, peakDeceleration, duration } = wallCrush({ mass: 1500, speed: 15.6, stiffness: 1e6 });
    const back = stiffnessFromWallTest({ mass: 1500, speed: 15.6, crush });
    expect(relative(back.stiffness, 1e6)).toBeLessThan(EXACT);
    expect(relative(back.peakDeceleration, peakDeceleration)).toBeLessThan(EXACT);
    expect(relative(back.duration, duration)).toBeLessThan(EXACT);
  });
});
