import fc from "fast-check";
import { expect, test } from "vitest";
import { centralImpact } from "../../../lib/collision/centralImpact.ts";
import { centreOfMass } from "../../../lib/collision/centreOfMass.ts";
import { kineticEnergy } from "../../../lib/collision/kineticEnergy.ts";
import { momentum } from "../../../lib/collision/momentum.ts";
import { observedFrom } from "../../../lib/collision/observedFrom.ts";

/** Momentum is a sum of two products: a few double roundings of its larger term. */
const ROUNDING = 1e-12;
const CASES = { numRuns: 200, seed: 20 };

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const impact = fc
  .record({ massA: real(0.1, 40000), massB: real(0.1, 40000), velocityB: real(-60, 60), closing: real(0.01, 120), restitution: real(0, 1) })
  .map(({ massA, massB, velocityB, closing, restitution }) => ({ a: { mass: massA, velocity: velocityB + closing }, b: { mass: massB, velocity: velocityB }, restitution }));

/** Size against which a momentum or an energy is rounded. */
const momentumScale = ({ a, b }: { a: { mass: number; velocity: number }; b: { mass: number; velocity: number } }): number => a.mass * Math.abs(a.velocity) + b.mass * Math.abs(b.velocity) + Math.min(a.mass, b.mass) * (a.velocity - b.velocity);
const near = (x: number, y: number, scale: number, tolerance = ROUNDING): void => expect(Math.abs(x - y)).toBeLessThanOrEqual(tolerance * scale);

test("centralImpact(…) conserves momentum for 200 seeded cases", () => {
  fc.assert(
    fc.property(impact, (input) => {
      const { momentum: p } = centralImpact(input);
      near(p.after, p.before, momentumScale(input));
    }),
    CASES,
  );
});

test("centralImpact(…) never creates energy, and before less after is what its own law says is dissipated", () => {
  fc.assert(
    fc.property(impact, (input) => {
      const { energy } = centralImpact(input);
      expect(energy.dissipated).toBeGreaterThanOrEqual(0);
      near(energy.before - energy.after, energy.dissipated, energy.before);
      expect(energy.after).toBeLessThanOrEqual(energy.before * (1 + ROUNDING));
    }),
    CASES,
  );
});

test("centralImpact(…) parts the bodies at the restitution's share of the closing speed", () => {
  fc.assert(
    fc.property(impact, (input) => {
      const { after, separationSpeed, closingSpeed } = centralImpact(input);
      near(after.b - after.a, separationSpeed, Math.abs(input.a.velocity) + Math.abs(input.b.velocity));
      expect(separationSpeed).toBe(input.restitution * closingSpeed);
    }),
    CASES,
  );
});

test("centralImpact(…) gives every steady observer the same closing speed, changes of velocity, impulse and loss", () => {
  fc.assert(
    fc.property(impact, real(-100, 100), (input, observerVelocity) => {
      const still = centralImpact(input);
      const moving = centralImpact({ ...observedFrom({ a: input.a, b: input.b, observerVelocity }), restitution: input.restitution });
      const scale = Math.abs(input.a.velocity) + Math.abs(input.b.velocity) + Math.abs(observerVelocity);
      near(moving.closingSpeed, still.closingSpeed, scale);
      near(moving.deltaV.a, still.deltaV.a, scale);
      near(moving.deltaV.b, still.deltaV.b, scale);
      near(moving.commonVelocity + observerVelocity, still.commonVelocity, scale);
      const lesser = Math.min(input.a.mass, input.b.mass);
      near(moving.impulse, still.impulse, lesser * scale);
      near(moving.energy.dissipated, still.energy.dissipated, lesser * scale ** 2);
    }),
    CASES,
  );
});

test("centralImpact(…) is mirrored when the line is turned round and the bodies change names", () => {
  fc.assert(
    fc.property(impact, ({ a, b, restitution }) => {
      const there = centralImpact({ a, b, restitution });
      const back = centralImpact({ a: { mass: b.mass, velocity: -b.velocity }, b: { mass: a.mass, velocity: -a.velocity }, restitution });
      const scale = Math.abs(a.velocity) + Math.abs(b.velocity);
      near(back.after.a, -there.after.b, scale);
      near(back.after.b, -there.after.a, scale);
      near(back.deltaV.a, -there.deltaV.b, scale);
      near(back.impulse, there.impulse, there.impulse);
      near(back.energy.dissipated, there.energy.dissipated, there.energy.before);
      near(back.massRatio * there.massRatio, 1, 1);
    }),
    CASES,
  );
});

test("centralImpact(…) swaps the two changes of velocity when only the masses are swapped", () => {
  fc.assert(
    fc.property(impact, ({ a, b, restitution }) => {
      const one = centralImpact({ a, b, restitution });
      const other = centralImpact({ a: { mass: b.mass, velocity: a.velocity }, b: { mass: a.mass, velocity: b.velocity }, restitution });
      near(other.deltaV.a, -one.deltaV.b, one.closingSpeed);
      near(other.deltaV.b, -one.deltaV.a, one.closingSpeed);
    }),
    CASES,
  );
});

test("centralImpact(…) splits the change of velocity as the inverse of the masses, with equal and opposite impulses", () => {
  fc.assert(
    fc.property(impact, (input) => {
      const { deltaV, deltaVRatio, massRatio, impulse } = centralImpact(input);
      near(Math.abs(deltaV.a / deltaV.b), deltaVRatio, deltaVRatio);
      near(deltaVRatio * massRatio, 1, 1);
      near(input.b.mass * deltaV.b, impulse, impulse);
      near(-input.a.mass * deltaV.a, impulse, impulse);
    }),
    CASES,
  );
});

test("centralImpact(…) tends to a rigid wall as b grows without bound", () => {
  const { after, deltaV, energy } = centralImpact({ a: { mass: 900, velocity: 15 }, b: { mass: 1e18, velocity: 0 }, restitution: 0.2 });
  expect(after.a).toBeCloseTo(-3, 12);
  expect(deltaV.a).toBeCloseTo(-18, 12);
  expect(deltaV.b).toBeCloseTo(0, 12);
  expect(energy.dissipated).toBeCloseTo(0.5 * 900 * 15 ** 2 * (1 - 0.2 ** 2), 6);
});

test("centralImpact(…) exchanges the velocities of equal masses without loss, and dissipates all about the centre when they stick", () => {
  const elastic = centralImpact({ a: { mass: 2, velocity: 4 }, b: { mass: 2, velocity: -5 }, restitution: 1 });
  expect(elastic.after).toEqual({ a: -5, b: 4 });
  expect(elastic.energy.dissipated).toBe(0);
  const pair = { a: { mass: 900, velocity: 15 }, b: { mass: 1800, velocity: -10 } };
  const stuck = centralImpact({ ...pair, restitution: 0 });
  expect(stuck.energy.dissipated).toBeCloseTo(centreOfMass(pair).energy.about, 8);
  expect(stuck.after.a).toBeCloseTo(stuck.commonVelocity, 12);
});

test("centralImpact(…) of two bodies at one velocity is no impact", () => {
  const { closingSpeed, deltaV, impulse, energy } = centralImpact({ a: { mass: 3, velocity: 7 }, b: { mass: 2, velocity: 7 }, restitution: 0.5 });
  expect([closingSpeed, Math.abs(deltaV.a), deltaV.b, impulse, energy.dissipated]).toEqual([0, 0, 0, 0, 0]);
});

const PAIR = { a: { mass: 900, velocity: 15 }, b: { mass: 1800, velocity: -10 } };
test.each([
  ["a mass of 0", () => centralImpact({ ...PAIR, a: { mass: 0, velocity: 15 }, restitution: 0 }), "centralImpact: a.mass must be > 0 kg, got 0"],
  ["a velocity that is not a number", () => centralImpact({ ...PAIR, b: { mass: 1, velocity: Number.NaN }, restitution: 0 }), "centralImpact: b.velocity must be finite m/s, got NaN"],
  ["bodies that run apart", () => centralImpact({ a: PAIR.b, b: PAIR.a, restitution: 0 }), "centralImpact: a.velocity must be >= 15 m/s, the velocity of b (they never meet: name the one behind a, or turn the line round), got -10"],
  // RES-05: OpenStax University Physics 1, chapter 9, prints a final velocity that would need a restitution of 1.16, which creates energy.
  ["a restitution that creates energy", () => centralImpact({ a: { mass: 1, velocity: 3.6 }, b: { mass: 5, velocity: -2.4 }, restitution: 1.16 }), "centralImpact: restitution must be between 0 and 1, got 1.16"],
  ["an observer at no velocity", () => observedFrom({ ...PAIR, observerVelocity: Infinity }), "observedFrom: observerVelocity must be finite m/s, got Infinity"],
  ["a negative mass", () => momentum({ mass: -1, velocity: 2 }), "momentum: mass must be > 0 kg, got -1"],
])("%s is refused", (_, call, message) => {
  expect(call).toThrow(new RangeError(message));
});

test("centreOfMass(…) sees no momentum, and its two energies add up to those of the bodies", () => {
  fc.assert(
    fc.property(impact, ({ a, b }) => {
      const centre = centreOfMass({ a, b });
      const scale = momentumScale({ a, b });
      near(a.mass * centre.relative.a + b.mass * centre.relative.b, 0, scale);
      near(centre.velocity + centre.relative.a, a.velocity, Math.abs(a.velocity) + Math.abs(b.velocity));
      const energy = kineticEnergy(a).energy + kineticEnergy(b).energy;
      near(centre.energy.carried + centre.energy.about, energy, energy);
      near(centre.mass * centre.velocity, momentum(a).momentum + momentum(b).momentum, scale);
    }),
    CASES,
  );
});

test("observedFrom(…) at the centre's velocity finds no momentum and the least energy", () => {
  const centre = centreOfMass(PAIR);
  const seen = observedFrom({ ...PAIR, observerVelocity: centre.velocity });
  expect(seen.momentum).toBeCloseTo(0, 9);
  expect(seen.energy).toBeCloseTo(centre.energy.about, 8);
  for (const off of [-3, -0.1, 0.1, 3]) expect(observedFrom({ ...PAIR, observerVelocity: centre.velocity + off }).energy).toBeGreaterThan(seen.energy);
});
