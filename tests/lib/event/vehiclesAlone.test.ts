import { describe, expect, test } from "vitest";
import { vehiclesAlone, vehiclesAloneTraces } from "../../../lib/event/vehiclesAlone.ts";
import type { CrashVehicle } from "../../../lib/event/types.ts";
import { noseThenCell } from "../../../lib/structure/forceCrushCurve.ts";
import { mutualCrush } from "../../../lib/structure/mutualCrush.ts";
import { fromSI } from "../../../lib/units.ts";
import { REFERENCE_ALONE, referenceCrash } from "./referenceCrash.ts";

/** Rounding only, in a closed form of some twenty operations. */
const EXACT = 1e-12;
/** Half a unit in the last figure of the hand-worked values. */
const relative = (got: number, want: number): number => Math.abs(got / want - 1);

const sprig: CrashVehicle = { mass: 900, speed: 15, front: noseThenCell({ noseStiffness: 1.2e6, cellStiffness: 4e6, noseLength: 0.55 }), unloading: "none" };
const bollard: CrashVehicle = { mass: 1800, speed: 10, front: noseThenCell({ noseStiffness: 0.45e6, cellStiffness: 0.45e6, noseLength: 0.6 }), unloading: "none" };

describe("vehiclesAlone(…)", () => {
  test("agrees with the reference worked out in extended precision to 1e-12", () => {
    const { deltaV, peakForce, crush, times, separationSpeed } = vehiclesAlone(referenceCrash);
    expect(relative(deltaV.a, REFERENCE_ALONE.deltaV[0] as number)).toBeLessThan(EXACT);
    expect(relative(deltaV.b, REFERENCE_ALONE.deltaV[1] as number)).toBeLessThan(EXACT);
    expect(relative(peakForce, REFERENCE_ALONE.peakForce)).toBeLessThan(EXACT);
    expect(relative(crush.a + crush.b, REFERENCE_ALONE.overlap)).toBeLessThan(EXACT);
    expect(relative(times.commonVelocity as number, REFERENCE_ALONE.commonVelocity)).toBeLessThan(EXACT);
    expect(relative(times.separation as number, REFERENCE_ALONE.separation)).toBeLessThan(EXACT);
    expect(relative(separationSpeed, REFERENCE_ALONE.separationSpeed)).toBeLessThan(EXACT);
  });

  test("gives the demo scenario's figures, worked by hand", () => {
    const r = vehiclesAlone({ a: sprig, b: bollard });
    expect(fromSI(r.energy.dissipated, "kJ")).toBeCloseTo(187.5, 9);
    expect(fromSI(r.energy.kineticBefore.a + r.energy.kineticBefore.b, "kJ")).toBeCloseTo(191.25, 9);
    expect(r.commonVelocity.b).toBeCloseTo(1.667, 3);
    expect(fromSI(r.deltaV.a, "km/h")).toBeCloseTo(-60, 9);
    expect(fromSI(r.deltaV.b, "km/h")).toBeCloseTo(-30, 9);
    expect(fromSI(r.peakForce, "kN")).toBeCloseTo(350.3, 1);
    expect(r.crush.a).toBeCloseTo(0.292, 3);
    expect(r.crush.b).toBeCloseTo(0.778, 3);
    expect(fromSI(r.energy.absorbed.a, "kJ")).toBeCloseTo(51.1, 1);
    expect(fromSI(r.energy.absorbed.b, "kJ")).toBeCloseTo(136.4, 1);
    expect(fromSI(r.equivalentWallSpeed.a, "km/h")).toBeCloseTo(38.4, 1);
    expect(fromSI(r.equivalentWallSpeed.b, "km/h")).toBeCloseTo(44.3, 1);
    expect(fromSI(r.peakDeceleration.a, "gn")).toBeCloseTo(39.7, 1);
    expect(fromSI(r.peakDeceleration.b, "gn")).toBeCloseTo(19.8, 1);
    expect(fromSI(r.times.commonVelocity as number, "ms")).toBeCloseTo(67.3, 1);
    expect(r.cabinLoss.b).toBeCloseTo(0.178, 3);
    expect(r.cabinLoss.a).toBe(0);
    expect(r.times.separation).toBeNull();
  });

  test("flips the cabin verdict when whole structures are swapped", () => {
    const swapped = vehiclesAlone({ a: { ...sprig, front: bollard.front }, b: { ...bollard, front: sprig.front } });
    expect(swapped.cabinLoss.a).toBeGreaterThan(0);
    expect(swapped.cabinLoss.b).toBe(0);
  });

  test("agrees with mutualCrush where both fronts stay linear", () => {
    const alone = vehiclesAlone({ a: sprig, b: bollard });
    const linear = mutualCrush({ a: { mass: 900, stiffness: 1.2e6 }, b: { mass: 1800, stiffness: 0.45e6 }, closingSpeed: 25 });
    expect(relative(alone.peakForce, linear.peakForce)).toBeLessThan(EXACT);
    expect(relative(alone.energy.absorbed.a, linear.energy.a)).toBeLessThan(EXACT);
    expect(relative(alone.times.commonVelocity as number, linear.duration)).toBeLessThan(EXACT);
    expect(relative(alone.equivalentWallSpeed.b, linear.equivalentWallSpeed.b)).toBeLessThan(EXACT);
  });

  test("closes its energy ledger, every entry from its own law", () => {
    for (const input of [referenceCrash, { a: sprig, b: bollard }, { a: sprig, b: referenceCrash.b }]) {
      const { kineticBefore, kineticAfter, dissipated } = vehiclesAlone(input).energy;
      const before = kineticBefore.a + kineticBefore.b;
      expect(Math.abs((kineticAfter.a + kineticAfter.b + dissipated) / before - 1)).toBeLessThan(EXACT);
    }
  });

  test("keeps momentum and mirrors when the vehicles change places", () => {
    const { a, b } = referenceCrash;
    const r = vehiclesAlone({ a, b });
    const mirrored = vehiclesAlone({ a: b, b: a });
    expect(relative(a.mass * r.deltaV.a, b.mass * r.deltaV.b)).toBeLessThan(EXACT);
    expect(relative(mirrored.deltaV.b, r.deltaV.a)).toBeLessThan(EXACT);
    expect(relative(mirrored.residualCrush.a, r.residualCrush.b)).toBeLessThan(EXACT);
  });

  test("takes one front that gives back and one that does not", () => {
    const { a, b } = referenceCrash;
    const r = vehiclesAlone({ a: { ...a, unloading: "none" }, b });
    expect(r.residualCrush.a).toBe(r.crush.a);
    expect(r.residualCrush.b).toBeLessThan(r.crush.b);
    expect(r.restitution).toBeGreaterThan(0);
  });

  test("refuses what is not a crash", () => {
    const { a, b } = referenceCrash;
    expect(() => vehiclesAlone({ a: { ...a, mass: 0 }, b })).toThrow(/^vehiclesAlone: a\.mass must be > 0 kg, got 0$/);
    expect(() => vehiclesAlone({ a: { ...a, speed: 0 }, b: { ...b, speed: 0 } })).toThrow(/a\.speed \+ b\.speed must be > 0 m\/s/);
    expect(() => vehiclesAlone({ a: { ...a, unloading: { stiffness: 1e6 } }, b })).toThrow(/a\.unloading\.stiffness must be >= /);
    expect(() => vehiclesAlone({ a: { ...a, front: { crush: [0, 0.5], force: [10, 20] } }, b })).toThrow(/a\.front\.force\[0\]/);
    expect(() => vehiclesAlone({ a: { ...a, front: { crush: [0, 0.5, 0.5], force: [0, 10, 20] } }, b })).toThrow(/a\.front\.crush\[2\]/);
    expect(() => vehiclesAlone({ a: { ...a, speed: Number.NaN }, b })).toThrow(RangeError);
  });
});

describe("vehiclesAloneTraces(…)", () => {
  test("differentiates into itself: velocity from position, acceleration from velocity", () => {
    // central differences of 1 microsecond: truncation about 1e-8, rounding about 1e-9 of a value of order 10
    const apart = 1e-6;
    const TOLERANCE = 1e-6;
    for (const centre of [0.01, 0.03, 0.06, 0.08, 0.12]) {
      const { vehicles } = vehiclesAloneTraces({ ...referenceCrash, time: [centre - apart, centre, centre + apart] });
      for (const { position, velocity, acceleration } of [vehicles.a, vehicles.b]) {
        expect(Math.abs(((position[2] as number) - (position[0] as number)) / (2 * apart) - (velocity[1] as number))).toBeLessThan(TOLERANCE);
        expect(relative(((velocity[2] as number) - (velocity[0] as number)) / (2 * apart) + 1000, (acceleration[1] as number) + 1000)).toBeLessThan(TOLERANCE);
      }
    }
  });

  test("meets the outputs of vehiclesAlone at their instants", () => {
    const r = vehiclesAlone(referenceCrash);
    const common = r.times.commonVelocity as number;
    const { force, vehicles } = vehiclesAloneTraces({ ...referenceCrash, time: [0, common, r.times.separation as number, 0.15] });
    expect(relative(force[1] as number, r.peakForce)).toBeLessThan(EXACT);
    expect(relative(vehicles.a.crush[1] as number, r.crush.a)).toBeLessThan(EXACT);
    expect(relative(vehicles.a.crush[3] as number, r.residualCrush.a)).toBeLessThan(EXACT);
    expect(relative((vehicles.b.velocity[3] as number) - (vehicles.b.velocity[0] as number), r.deltaV.b)).toBeLessThan(EXACT);
  });
});
