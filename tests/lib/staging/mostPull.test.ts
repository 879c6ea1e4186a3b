import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { gravityTow, mostPull, takeUp, towMotion } from "../../../lib/index.ts";

const CASES = { numRuns: 60, seed: 11 };
/** What a step of the motion leaves open, as a share; a fourth-order scheme at a third of a radian a step. */
const STEPPING = 1e-3;
/** A few double roundings. */
const ROUNDING = 1e-12;
const RADIANS_A_STEP = 0.3;

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const line = fc.record({
  mass: real(300, 4000),
  travelPerDrop: fc.integer({ min: 1, max: 4 }),
  rollingResistance: real(0, 0.05),
  efficiency: real(0.6, 1),
  stiffness: real(15e3, 600e3),
  damping: fc.oneof(fc.constant(0), real(0, 3000)),
  slack: fc.oneof(fc.constant(0), real(0, 0.3)),
});
const tow = fc.record({ a: line, b: line, fallingMass: real(1500, 9000), drop: real(4, 20), share: fc.oneof(fc.constant(0), real(0, 1)) });
type Tow = typeof tow extends fc.Arbitrary<infer T> ? T : never;

const stepOf = ({ a, b, fallingMass }: Tow): number => {
  const felt = [a, b].map((v) => ({ ...v, give: 1 / v.mass + v.travelPerDrop ** 2 / (fallingMass * v.efficiency) }));
  return RADIANS_A_STEP / Math.max(Math.sqrt(felt.reduce((sum, v) => sum + v.stiffness * v.give, 0)), felt.reduce((sum, v) => sum + v.damping * v.give, 0));
};
const FAILURES = { whole: undefined, alone: { kind: "parts", vehicle: "b" }, stuck: { kind: "sticks", vehicle: "a" } } as const;

describe("mostPull(…)", () => {
  test.each(Object.keys(FAILURES) as (keyof typeof FAILURES)[])("is not passed by any run of towMotion, two lines of any slack and damping: %s", (which) => {
    const failed = FAILURES[which];
    fc.assert(
      fc.property(tow, (one) => {
        const { a, b, fallingMass, drop, share } = one;
        fc.pre(fallingMass > 2 * [a, b].reduce((sum, v) => sum + (v.travelPerDrop * v.rollingResistance * v.mass) / v.efficiency, 0));
        const motion = towMotion({ drop, fallingMass, a, b, ...(failed ? { failure: { ...failed, drop: share * drop } } : {}), step: stepOf(one), duration: 6 });
        expect(motion.peakPull.a).toBeLessThanOrEqual(mostPull({ fallingMass, fall: share * drop, a, b })[which].a * (1 + STEPPING));
      }),
      CASES,
    );
  });

  // J. E. Akin, Impact Load Factors for Static Analysis: 1 + sqrt(1 + 2 h / static stretch), here by takeUp.
  test("is takeUp(…) of the lone line where there is no other and no damping, and is reached by the motion", () => {
    fc.assert(
      fc.property(line, real(1500, 9000), (given, fallingMass) => {
        const a = { ...given, damping: 0, rollingResistance: 0 };
        const b = { ...a, mass: 0 };
        const { pull } = gravityTow({ drop: 10, fallingMass, a, b });
        const { whole, alone } = mostPull({ fallingMass, fall: 5, a, b });
        const { peakPull } = takeUp({ steadyPull: pull.a, stiffness: a.stiffness, slack: a.slack });
        for (const most of [whole.a, alone.a]) expect(Math.abs(most / peakPull - 1)).toBeLessThan(ROUNDING);
        const motion = towMotion({ drop: 10, fallingMass, a, b, step: stepOf({ a, b: { ...b, mass: 1 }, fallingMass, drop: 10, share: 0 }) / 2 });
        expect(Math.abs(motion.peakPull.a / peakPull - 1)).toBeLessThan(STEPPING);
      }),
      CASES,
    );
  });

  test("is more than takeUp(…) of the shared steady pull where the other line comes tight later", () => {
    const one = { mass: 900, travelPerDrop: 3, rollingResistance: 0.015, efficiency: 0.82, stiffness: 40e3, damping: 0, slack: 0.03 };
    const other = { mass: 1800, travelPerDrop: 2, rollingResistance: 0.015, efficiency: 0.82, stiffness: 60e3, damping: 0, slack: 0.15 };
    const { steady, whole } = mostPull({ fallingMass: 1859, fall: 0, a: one, b: other });
    const shared = takeUp({ steadyPull: steady.a, stiffness: one.stiffness, slack: one.slack }).peakPull;
    const drawn = towMotion({ drop: 15, fallingMass: 1859, a: one, b: other }).peakPull.a;
    expect(drawn).toBeGreaterThan(shared);
    expect(whole.a).toBeGreaterThanOrEqual(drawn);
  });

  test("is nothing on a line that leads to nothing", () => {
    const a = { mass: 900, travelPerDrop: 2, rollingResistance: 0, efficiency: 1, stiffness: 4e4, damping: 0, slack: 0 };
    const { whole, alone, stuck } = mostPull({ fallingMass: 2000, fall: 3, a, b: { ...a, mass: 0 } });
    expect([whole.b, alone.b, stuck.b]).toEqual([0, 0, 0]);
  });
});
