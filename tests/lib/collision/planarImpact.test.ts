import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { centralImpact } from "../../../lib/collision/centralImpact.ts";
import { planarImpact, type PlanarImpactInput, type RigidBody } from "../../../lib/collision/planarImpact.ts";

/** Sums of a few products in doubles, against their largest term. */
const ROUNDING = 1e-12;
/** The same through one ill-conditioned division: slender levers make the contact's compliances differ by a few hundred. */
const SOLVED = 1e-9;
const CASES = { numRuns: 300, seed: 31 };

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const planar = (size: number) => fc.record({ x: real(-size, size), y: real(-size, size) });
const body = fc.record({ mass: real(500, 4000), inertia: real(500, 9000), velocity: planar(30), angularVelocity: real(-4, 4), contact: planar(2.5) });
const closingOf = (input: PlanarImpactInput): number => {
  const at = ({ velocity, angularVelocity, contact }: RigidBody) => ({ x: velocity.x - angularVelocity * contact.y, y: velocity.y + angularVelocity * contact.x });
  const [a, b] = [at(input.a), at(input.b)];
  return (a.x - b.x) * Math.cos(input.normalAngle) + (a.y - b.y) * Math.sin(input.normalAngle);
};
/** Bodies that close in by more than a crawl, so that rounding cannot turn it round: where they part, the normal is turned. */
const impact = fc
  .record({ a: body, b: body, normalAngle: real(-Math.PI, Math.PI), restitution: real(0, 1), friction: real(0, 3) })
  .filter((input) => Math.abs(closingOf(input)) > 0.1)
  .map((input): PlanarImpactInput => (closingOf(input) > 0 ? input : { ...input, normalAngle: input.normalAngle + Math.PI }));
const near = (x: number, y: number, scale: number, tolerance = ROUNDING): void => expect(Math.abs(x - y), `${x} against ${y}`).toBeLessThanOrEqual(tolerance * scale);
const speedScale = ({ a, b }: PlanarImpactInput): number => 100 + Math.abs(a.angularVelocity * 4) + Math.abs(b.angularVelocity * 4);
const each = (check: (input: PlanarImpactInput, result: ReturnType<typeof planarImpact>) => void): void => fc.assert(fc.property(impact, (input) => check(input, planarImpact(input))), CASES);

/** Turns the whole scene by an angle. */
const turned = (input: PlanarImpactInput, angle: number): PlanarImpactInput => {
  const turn = ({ x, y }: { x: number; y: number }) => ({ x: x * Math.cos(angle) - y * Math.sin(angle), y: x * Math.sin(angle) + y * Math.cos(angle) });
  const one = (rigid: RigidBody): RigidBody => ({ ...rigid, velocity: turn(rigid.velocity), contact: turn(rigid.contact) });
  return { ...input, a: one(input.a), b: one(input.b), normalAngle: input.normalAngle + angle };
};

describe("planarImpact(…)", () => {
  test("conserves momentum and angular momentum about the point of contact", () =>
    each((input, { after }) => {
      const scale = (input.a.mass + input.b.mass) * speedScale(input);
      for (const axis of ["x", "y"] as const)
        near(input.a.mass * after.a.velocity[axis] + input.b.mass * after.b.velocity[axis], input.a.mass * input.a.velocity[axis] + input.b.mass * input.b.velocity[axis], scale);
      // the contact is the origin, so a mass centre lies at -contact
      const spin = (rigid: RigidBody, { velocity, angularVelocity }: Pick<RigidBody, "velocity" | "angularVelocity">) =>
        rigid.inertia * angularVelocity - rigid.mass * (rigid.contact.x * velocity.y - rigid.contact.y * velocity.x);
      near(spin(input.a, after.a) + spin(input.b, after.b), spin(input.a, input.a) + spin(input.b, input.b), 10 * scale);
    }));

  test("never creates energy, across or along the contact, and loses what its own law says", () =>
    each((_, { energy }) => {
      expect(energy.normal).toBeGreaterThanOrEqual(0);
      expect(energy.tangential).toBeGreaterThanOrEqual(0);
      near(energy.before - energy.after, energy.dissipated, energy.before, SOLVED);
    }));

  test("parts along the normal at the restitution's share of the closing speed", () =>
    each((input, { after, closingSpeed }) => {
      const at = (velocity: { x: number; y: number }, angularVelocity: number, contact: { x: number; y: number }) =>
        (velocity.x - angularVelocity * contact.y) * Math.cos(input.normalAngle) + (velocity.y + angularVelocity * contact.x) * Math.sin(input.normalAngle);
      const separation = at(after.b.velocity, after.b.angularVelocity, input.b.contact) - at(after.a.velocity, after.a.angularVelocity, input.a.contact);
      near(separation, input.restitution * closingSpeed, speedScale(input), SOLVED);
    }));

  test("stays within friction, ends the slip, and opposes the slip that is left", () => {
    const seen = { slides: 0, sticks: 0, turns: 0 };
    each((input, { contact, impulse, impulseRatio, slip }) => {
      seen[contact]++;
      expect(impulse.normal).toBeGreaterThanOrEqual(0);
      expect(Math.abs(impulse.tangential)).toBeLessThanOrEqual(input.friction * impulse.normal * (1 + ROUNDING) + Number.MIN_VALUE / ROUNDING);
      if (contact === "sticks") expect(slip.after).toBe(0);
      if (contact === "slides") {
        near(Math.abs(impulseRatio), input.friction, 1);
        expect(slip.after * slip.before).toBeGreaterThanOrEqual(0);
        expect(impulse.tangential * slip.before).toBeGreaterThanOrEqual(0);
      }
      if (contact === "turns") expect(slip.after * slip.before).toBeLessThanOrEqual(0);
    });
    // all three outcomes are among the cases
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(10);
  });

  test("would create energy with the tangential impulse the wrong way, in the case of the published check", () => {
    const input = { a: { mass: 1400, inertia: 2200, velocity: { x: 15, y: 0 }, angularVelocity: 0, contact: { x: 1.8, y: -0.4 } }, b: { mass: 1200, inertia: 1800, velocity: { x: 0, y: 9 }, angularVelocity: 0, contact: { x: -0.3, y: 0.9 } }, normalAngle: (20 * Math.PI) / 180, restitution: 0.1, friction: 0.3 };
    const { compliance, closingSpeed, slip, impulseRatio, energy } = planarImpact(input);
    expect(impulseRatio).toBe(-0.3);
    const normal = ((1 + input.restitution) * closingSpeed) / (compliance.normal + 0.3 * compliance.coupled);
    const along = 0.3 * normal * (slip.before - (compliance.coupled * normal + compliance.tangential * 0.3 * normal) / 2);
    expect(along).toBeLessThan(0);
    expect(energy.tangential).toBeGreaterThan(0);
  });

  test("reduces to centralImpact(…) when the contact lies on the line of both mass centres", () =>
    fc.assert(
      fc.property(impact, real(0.1, 60), (input, closing) => {
        const { a, b, restitution } = input;
        const line = { a: { mass: a.mass, velocity: b.velocity.x + closing }, b: { mass: b.mass, velocity: b.velocity.x }, restitution };
        const inPlane = planarImpact({
          ...input,
          normalAngle: 0,
          a: { ...a, velocity: { x: line.a.velocity, y: 0 }, angularVelocity: 0, contact: { x: Math.abs(a.contact.x), y: 0 } },
          b: { ...b, velocity: { x: line.b.velocity, y: 0 }, angularVelocity: 0, contact: { x: -Math.abs(b.contact.x), y: 0 } },
        });
        const central = centralImpact(line);
        near(inPlane.after.a.velocity.x, central.after.a, 200);
        near(inPlane.after.b.velocity.x, central.after.b, 200);
        near(inPlane.impulse.normal, central.impulse, central.impulse);
        near(inPlane.energy.dissipated, central.energy.dissipated, central.energy.before);
        expect(inPlane.after.a.angularVelocity).toBeCloseTo(0, 12);
      }),
      CASES,
    ));

  test("gives the same changes to every steady observer, however turned", () =>
    fc.assert(
      fc.property(impact, planar(40), real(-3, 3), (input, by, angle) => {
        const seen = (rigid: RigidBody): RigidBody => ({ ...rigid, velocity: { x: rigid.velocity.x - by.x, y: rigid.velocity.y - by.y } });
        const here = planarImpact(input);
        const there = planarImpact(turned({ ...input, a: seen(input.a), b: seen(input.b) }, angle));
        // on the very edge between two outcomes rounding may choose either; the impulse is the same there
        near(there.impulse.normal, here.impulse.normal, here.impulse.normal + 1, 1e-7);
        near(there.deltaV.a, here.deltaV.a, here.deltaV.a + 1, 1e-7);
        near(there.energy.dissipated, here.energy.dissipated, here.energy.before, 1e-7);
      }),
      CASES,
    ));

  test("mirrors, and swaps a with b", () =>
    each((input, here) => {
      const flip = (rigid: RigidBody): RigidBody => ({ ...rigid, velocity: { x: rigid.velocity.x, y: -rigid.velocity.y }, contact: { x: rigid.contact.x, y: -rigid.contact.y }, angularVelocity: -rigid.angularVelocity });
      const mirrored = planarImpact({ ...input, a: flip(input.a), b: flip(input.b), normalAngle: -input.normalAngle });
      near(mirrored.impulse.normal, here.impulse.normal, here.impulse.normal, SOLVED);
      near(mirrored.impulse.tangential, -here.impulse.tangential, here.impulse.normal, SOLVED);
      near(mirrored.after.a.angularVelocity, -here.after.a.angularVelocity, speedScale(input), SOLVED);
      const swapped = planarImpact({ ...input, a: input.b, b: input.a, normalAngle: input.normalAngle + Math.PI });
      near(swapped.impulse.normal, here.impulse.normal, here.impulse.normal, SOLVED);
      near(swapped.deltaV.b, here.deltaV.a, here.deltaV.a, SOLVED);
      near(swapped.after.b.angularVelocity, here.after.a.angularVelocity, speedScale(input), SOLVED);
    }));

  test("agrees with Coulomb friction followed through the impulse in small steps, wherever no energy would appear", () => {
    // A second route: the normal impulse grows bit by bit and each bit of friction opposes the slip of that moment.
    const STEPS = 4000;
    const MARCHED = 3 / STEPS; // of the normal impulse: a step or two more or less
    const counted = { slides: 0, sticks: 0, turns: 0, cut: 0 };
    each((input, { contact, impulse, compliance, closingSpeed, slip, energy }) => {
      if (contact === "turns" && energy.dissipated < SOLVED * energy.before) return void counted.cut++;
      counted[contact]++;
      const bit = impulse.normal / STEPS;
      let normal = 0;
      let tangential = 0;
      let closing = closingSpeed;
      let sliding = slip.before;
      while (closing > -input.restitution * closingSpeed) {
        const holding = (sliding - compliance.coupled * bit) / compliance.tangential;
        const push = Math.min(Math.abs(holding), input.friction * bit) * Math.sign(holding);
        normal += bit;
        tangential += push;
        closing -= compliance.normal * bit + compliance.coupled * push;
        sliding -= compliance.coupled * bit + compliance.tangential * push;
      }
      // near a jam a bit of normal impulse hardly slows the closing, and the count of bits is that much rougher
      const slowest = Math.min(compliance.normal, compliance.normal - Math.abs(compliance.coupled) * Math.min(input.friction, Math.abs(compliance.coupled) / compliance.tangential)) / compliance.normal;
      near(normal, impulse.normal, impulse.normal, MARCHED / slowest);
      near(tangential, impulse.tangential, impulse.normal * Math.max(1, input.friction), MARCHED / slowest);
    });
    for (const count of [counted.slides, counted.sticks, counted.turns]) expect(count).toBeGreaterThan(5);
    expect(counted.cut).toBeLessThan(CASES.numRuns / 10);
  });

  test("holds fronts that catch with any slip before, a hair's breadth either side of none", () => {
    const at = (slip: number, restitution: number) => planarImpact({ a: { mass: 900, inertia: 1100, velocity: { x: 15, y: slip }, angularVelocity: 0, contact: { x: 1.7, y: -0.2 } }, b: { mass: 1800, inertia: 3900, velocity: { x: -10, y: 0 }, angularVelocity: 0, contact: { x: -2.4, y: 0.2 } }, normalAngle: 0, restitution, friction: 0.8 });
    for (const restitution of [0, 0.3, 1]) {
      const [left, none, right] = [at(-1e-6, restitution), at(0, restitution), at(1e-6, restitution)];
      expect(none.contact).toBe("sticks");
      for (const side of [left, right]) near(side.after.a.angularVelocity, none.after.a.angularVelocity, 1, 1e-5);
    }
  });

  test("cuts the tangential impulse where restitution and a slip turned round would make energy appear", () => {
    const input = { a: { mass: 2830, inertia: 570, velocity: { x: -5.4, y: 18.7 }, angularVelocity: 0, contact: { x: -2.2, y: 2.2 } }, b: { mass: 3275, inertia: 8570, velocity: { x: -26.6, y: -3.8 }, angularVelocity: 0, contact: { x: -1.3, y: 1.8 } }, normalAngle: 0, restitution: 0.42, friction: 2.3 };
    const { contact, impulse, closingSpeed, slip, energy, stickingRatio } = planarImpact(input);
    expect(contact).toBe("turns");
    near(energy.before, energy.after, energy.before);
    expect(energy.dissipated).toBeGreaterThanOrEqual(0);
    // friction could hold the slip, and would then add energy
    expect(Math.abs(stickingRatio as number)).toBeLessThan(input.friction);
    const held = { normal: impulse.normal, tangential: (stickingRatio as number) * impulse.normal };
    expect(0.5 * held.normal * closingSpeed * (1 - input.restitution) + 0.5 * held.tangential * slip.before).toBeLessThan(0);
  });

  test("takes more tangential impulse with more friction, until the slip ends", () => {
    const at = (friction: number) => planarImpact({ a: { mass: 900, inertia: 1100, velocity: { x: 15, y: 3 }, angularVelocity: 0, contact: { x: 1.5, y: 0.5 } }, b: { mass: 1800, inertia: 3200, velocity: { x: -10, y: -4 }, angularVelocity: 0, contact: { x: -2, y: -0.4 } }, normalAngle: 0, restitution: 0.1, friction });
    const limit = at(5).stickingRatio as number;
    expect(at(5).contact).toBe("sticks");
    let before = -1;
    for (let share = 0; share < 1; share += 0.1) {
      const { contact, impulse } = at(share * limit);
      expect(contact).toBe("slides");
      expect(impulse.tangential).toBeGreaterThan(before);
      before = impulse.tangential;
    }
    expect(at(limit * 1.0001).impulse).toEqual(at(5).impulse);
  });

  test("gives the force's direction as that of the change of velocity", () =>
    each((input, { after, forceDirection, deltaV }) => {
      near(after.a.velocity.x - input.a.velocity.x, deltaV.a * Math.cos(forceDirection.a), speedScale(input));
      near(after.a.velocity.y - input.a.velocity.y, deltaV.a * Math.sin(forceDirection.a), speedScale(input));
    }));

  test("leaves a body of huge mass as it was", () =>
    each((input) => {
      const { after } = planarImpact({ ...input, b: { ...input.b, mass: 1e18, inertia: 1e18 } });
      near(after.b.velocity.x, input.b.velocity.x, 1);
      near(after.b.angularVelocity, input.b.angularVelocity, 1);
    }));

  test("refuses bodies that part, and each input out of its range by name", () => {
    const input = { a: { mass: 1, inertia: 1, velocity: { x: -1, y: 0 }, angularVelocity: 0, contact: { x: 1, y: 0 } }, b: { mass: 1, inertia: 1, velocity: { x: 0, y: 0 }, angularVelocity: 0, contact: { x: -1, y: 0 } }, normalAngle: 0, restitution: 0, friction: 0 };
    expect(() => planarImpact(input)).toThrow("planarImpact: closing speed along normalAngle must be >= 0 m/s (they move apart there: turn the normal round, or swap a and b), got -1");
    expect(() => planarImpact({ ...input, normalAngle: Math.PI, b: { ...input.b, inertia: 0 } })).toThrow("planarImpact: b.inertia must be > 0 kg m^2, got 0");
    expect(() => planarImpact({ ...input, restitution: 1.2 })).toThrow("restitution must be between 0 and 1");
    expect(() => planarImpact({ ...input, friction: -0.1 })).toThrow("planarImpact: friction must be >= 0, got -0.1");
  });
});
