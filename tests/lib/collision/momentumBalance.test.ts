import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ballisticPendulumSpeed, ballisticPendulumSwing, pendulumRise } from "../../../lib/collision/ballisticPendulum.ts";
import { centralImpact } from "../../../lib/collision/centralImpact.ts";
import { momentumBalance } from "../../../lib/collision/momentumBalance.ts";
import { RESTITUTION_OBSERVED, restitutionAtClosingSpeed, restitutionFromBounce, restitutionFromVelocities } from "../../../lib/collision/restitution.ts";

const ROUNDING = 1e-12;
const CASES = { numRuns: 200, seed: 7 };
const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const body = fc.record({ mass: real(0.1, 50), velocity: fc.record({ x: real(-40, 40), y: real(-40, 40) }) });
const near = (x: number, y: number, scale: number, tolerance = ROUNDING): void => expect(Math.abs(x - y), `${x} against ${y}`).toBeLessThanOrEqual(tolerance * scale);

describe("momentumBalance(…)", () => {
  test("closes the balance for any number of pieces", () =>
    fc.assert(
      fc.property(fc.array(body, { minLength: 1, maxLength: 5 }), real(10, 100), (pieces, rest) => {
        const total = pieces.reduce((sum, { mass }) => sum + mass, rest);
        const whole = { mass: total, velocity: { x: 3, y: -2 } };
        const { mass, velocity, momentum, energy } = momentumBalance({ before: [whole], after: pieces });
        near(mass, rest, total);
        for (const axis of ["x", "y"] as const) {
          const after = pieces.reduce((sum, piece) => sum + piece.mass * piece.velocity[axis], mass * velocity[axis]);
          near(after, momentum[axis], total * 40);
          near(momentum[axis], total * whole.velocity[axis], total * 40);
        }
        expect(energy.change).toBeGreaterThanOrEqual(-ROUNDING * energy.before); // one body that comes apart cannot lose energy of motion
      }),
      CASES,
    ));

  test("agrees with centralImpact(…) on a capture and on a rebound", () =>
    fc.assert(
      fc.property(real(1, 50), real(1, 50), real(0.1, 60), real(0, 1), (massA, massB, closing, restitution) => {
        const a = { mass: massA, velocity: closing - 20 };
        const b = { mass: massB, velocity: -20 };
        const before = [a, b].map(({ mass, velocity }) => ({ mass, velocity: { x: velocity, y: 0 } }));
        const stuck = centralImpact({ a, b, restitution: 0 });
        const capture = momentumBalance({ before, after: [] });
        near(capture.velocity.x, stuck.commonVelocity, 100);
        near(capture.energy.change, -stuck.energy.dissipated, stuck.energy.before);
        const apart = centralImpact({ a, b, restitution });
        const rebound = momentumBalance({ before, after: [{ mass: massA, velocity: { x: apart.after.a, y: 0 } }] });
        near(rebound.velocity.x, apart.after.b, 100 * (1 + massA / massB));
      }),
      CASES,
    ));

  test("refuses when no mass is left over, and an empty start", () => {
    const one = { mass: 2, velocity: { x: 1, y: 0 } };
    expect(() => momentumBalance({ before: [one], after: [one] })).toThrow("momentumBalance: mass before less mass after must be > 0 kg, got 0");
    expect(() => momentumBalance({ before: [], after: [] })).toThrow("momentumBalance: before must be a list of at least one body");
    expect(() => momentumBalance({ before: [{ ...one, mass: -1 }], after: [] })).toThrow("momentumBalance: before[0].mass must be > 0 kg, got -1");
  });
});

describe("ballistic pendulum", () => {
  test("ballisticPendulumSpeed(…) reads ballisticPendulumSwing(…) backwards", () =>
    fc.assert(
      fc.property(real(0.001, 0.1), real(0.5, 10), real(20, 800), real(0.2, 3), (projectileMass, blockMass, speed, length) => {
        const { rise, energy } = ballisticPendulumSwing({ projectileMass, blockMass, speed });
        near(energy.before - energy.after, energy.dissipated, energy.before);
        fc.pre(rise < length);
        const angle = 2 * Math.asin(Math.sqrt(rise / (2 * length)));
        near(pendulumRise({ length, angle }).rise, rise, rise, 1e-11);
        near(ballisticPendulumSpeed({ projectileMass, blockMass, rise: pendulumRise({ length, angle }).rise }).speed, speed, speed, 1e-11);
      }),
      CASES,
    ));

  test("ballisticPendulumSwing(…) keeps in motion the projectile's share of the mass, of its energy", () => {
    const { energy } = ballisticPendulumSwing({ projectileMass: 1, blockMass: 3, speed: 10 });
    expect(energy.after / energy.before).toBeCloseTo(1 / 4, 12);
  });
});

describe("restitution", () => {
  test("restitutionFromVelocities(…) gives back what centralImpact(…) was told", () =>
    fc.assert(
      fc.property(real(1, 50), real(1, 50), real(0.5, 60), real(0, 0.999), (massA, massB, closing, restitution) => {
        const impact = { a: { mass: massA, velocity: closing }, b: { mass: massB, velocity: 0 }, restitution };
        near(restitutionFromVelocities({ before: { a: closing, b: 0 }, after: centralImpact(impact).after }).restitution, restitution, 1, 1e-11);
      }),
      CASES,
    ));

  test("restitutionFromVelocities(…) refuses the printed answer that sets energy free", () => {
    // two carts of University Physics Volume 1, chapter 9, additional problems: momentum is conserved, restitution would be 1.16
    expect(() => restitutionFromVelocities({ before: { a: 3.6, b: -2.4 }, after: { a: -7.2, b: -0.24 } })).toThrow("restitutionFromVelocities: restitution must be <= 1 (they part faster than they met: look for a wrong sign), got 1.16");
    expect(() => restitutionFromVelocities({ before: { a: 1, b: 2 }, after: { a: 0, b: 0 } })).toThrow("they never meet");
    expect(() => restitutionFromVelocities({ before: { a: 2, b: 1 }, after: { a: 1, b: 0 } })).toThrow("they cannot pass through each other");
    expect(() => restitutionFromBounce({ dropHeight: 1, bounceHeight: 1.1 })).toThrow("restitutionFromBounce: bounceHeight must be <= 1 m, the drop height, got 1.1");
  });

  test("restitutionAtClosingSpeed(…) falls with closing speed into what tests observed", () => {
    let before = Infinity;
    for (let closingSpeed = 0; closingSpeed <= 10; closingSpeed += 0.25) {
      const { restitution } = restitutionAtClosingSpeed({ closingSpeed });
      expect(restitution).toBeLessThan(before);
      before = restitution;
    }
    // SAE 931842, abstract: 0.2 to 0.4 for struck cars changing velocity by 2 to 5 mph. Like masses: change = (1 + e) / 2 x closing speed.
    // At the slow end the fit, as remembered, gives 0.45 and lies above that band: a fit and a band that disagree, or a memory that does.
    const [struck, fast] = RESTITUTION_OBSERVED;
    const at = (speedChange: number): number => {
      let closingSpeed = speedChange;
      for (let i = 0; i < 50; i++) closingSpeed = (2 * speedChange) / (1 + restitutionAtClosingSpeed({ closingSpeed }).restitution);
      return restitutionAtClosingSpeed({ closingSpeed }).restitution;
    };
    expect(at(struck.speedChange.from)).toBeCloseTo(0.452, 3);
    for (const speedChange of [(struck.speedChange.from + struck.speedChange.to) / 2, struck.speedChange.to]) {
      expect(at(speedChange)).toBeGreaterThan(struck.restitution.from);
      expect(at(speedChange)).toBeLessThan(struck.restitution.to);
    }
    // SAE 931842, abstract: approximately 0.1 at medium and high closing speeds; the band around it is ours. The fit ends at 0.094.
    expect(fast.about).toBe(0.1);
    expect(Math.abs(restitutionAtClosingSpeed({ closingSpeed: 10 }).restitution - fast.about)).toBeLessThan((fast.restitution.to - fast.restitution.from) / 2);
    expect(() => restitutionAtClosingSpeed({ closingSpeed: 10.1 })).toThrow("restitutionAtClosingSpeed: closingSpeed must be between 0 and 10 m/s, got 10.1");
  });
});
