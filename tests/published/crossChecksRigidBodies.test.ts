/**
 * Impacts against planck 1.4.2, a general-purpose library of rigid bodies that solves each contact by sequential impulses.
 *
 * Kept within what that library documents: it takes restitution as 0 at closing speeds up to its velocityThreshold, 1 m/s, so every
 * case here closes in faster; it lets bodies overlap by its linearSlop, 5 mm, before it pushes them apart, so the bodies start at the
 * very point of contact and positions are not corrected (0 position iterations); it moves no body by more than its maxTranslation,
 * 2 m, in a step, so the step is a millisecond.
 */
import fc from "fast-check";
import { type Body, Circle, Settings, World } from "planck";
import { describe, expect, test } from "vitest";
import { centralImpact, planarImpact } from "../../lib/index.ts";
import type { PlanarImpactInput, RigidBody } from "../../lib/collision/planarImpact.ts";

/** Overlap at the start, so that the library sees the contact [m]. */
const TOUCH = 1e-9;
/** Of the closing speed: rounding, and what sequential impulses leave after ITERATIONS. */
const SOLVED = 1e-12;
/** One impulse, no iteration: rounding, of speeds up to 90 m/s [m/s]. */
const ROUNDING = 1e-13;
const STEP = 0.001;
const ITERATIONS = 300;
const CASES = { numRuns: 200, seed: 52 };

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const world = (): World => {
  const made = new World({ gravity: { x: 0, y: 0 }, allowSleep: false });
  made.setContinuousPhysics(false);
  made.setWarmStarting(false);
  return made;
};

/** A body whose rim is round where it is touched, wherever its mass centre lies; `rim` is the middle of that circle from the mass centre. */
const place = (into: World, body: RigidBody, at: { x: number; y: number }, rim: { x: number; y: number }, radius: number, { restitution, friction }: PlanarImpactInput): Body => {
  const made = into.createBody({ type: "dynamic", position: at, linearVelocity: body.velocity, angularVelocity: body.angularVelocity });
  made.createFixture({ shape: new Circle(rim, radius), density: 1, restitution, friction });
  made.setMassData({ mass: body.mass, I: body.inertia, center: { x: 0, y: 0 } });
  return made;
};

const RADIUS = 0.3;

const inLibrary = (input: PlanarImpactInput) => {
  const { a, b, normalAngle } = input;
  const n = { x: Math.cos(normalAngle), y: Math.sin(normalAngle) };
  const scene = world();
  // the point of contact is the origin
  const rim = (body: RigidBody, side: 1 | -1) => ({ x: body.contact.x - side * (RADIUS - TOUCH / 2) * n.x, y: body.contact.y - side * (RADIUS - TOUCH / 2) * n.y });
  const madeA = place(scene, a, { x: -a.contact.x, y: -a.contact.y }, rim(a, 1), RADIUS, input);
  const madeB = place(scene, b, { x: -b.contact.x, y: -b.contact.y }, rim(b, -1), RADIUS, input);
  scene.step(STEP, ITERATIONS, 0);
  return [madeA, madeB].map((body) => ({ velocity: body.getLinearVelocity(), angularVelocity: body.getAngularVelocity() }));
};

const rigid = fc.record({
  mass: real(500, 4000),
  inertia: real(500, 9000),
  velocity: fc.record({ x: real(-30, 30), y: real(-30, 30) }),
  angularVelocity: real(-3, 3),
  contact: fc.record({ x: real(-2.5, 2.5), y: real(-2.5, 2.5) }),
});
const closingOf = ({ a, b, normalAngle }: PlanarImpactInput): number => {
  const at = ({ velocity, angularVelocity, contact }: RigidBody) => ({ x: velocity.x - angularVelocity * contact.y, y: velocity.y + angularVelocity * contact.x });
  const [p, q] = [at(a), at(b)];
  return (p.x - q.x) * Math.cos(normalAngle) + (p.y - q.y) * Math.sin(normalAngle);
};
const impact = fc
  .record({ a: rigid, b: rigid, normalAngle: real(-Math.PI, Math.PI), restitution: real(0, 1), friction: real(0, 0.9) })
  .map((input): PlanarImpactInput => (closingOf(input) > 0 ? input : { ...input, normalAngle: input.normalAngle + Math.PI }))
  .filter((input) => closingOf(input) > 1.05 * Settings.velocityThreshold);

test("planck's documented thresholds are those that these cases keep to", () => {
  expect(Settings.velocityThreshold).toBe(1);
  expect(Settings.maxTranslation).toBeGreaterThan(45 * STEP);
});

describe("planarImpact(…)", () => {
  test("agrees with planck wherever the slip lasts to the end, or ends and is held", () => {
    const seen = { slides: 0, sticks: 0 };
    fc.assert(
      fc.property(impact, (input) => {
        const { contact, closingSpeed, after } = planarImpact(input);
        // where the slip starts again the other way the kernel follows friction through both; the library solves for the end alone
        if (contact === "turns") return;
        seen[contact]++;
        inLibrary(input).forEach(({ velocity, angularVelocity }, i) => {
          const ours = i === 0 ? after.a : after.b;
          for (const [got, want] of [[ours.velocity.x, velocity.x], [ours.velocity.y, velocity.y], [ours.angularVelocity, angularVelocity]] as const)
            expect(Math.abs(got - want), `${contact}: ${got}, planck ${want}`).toBeLessThanOrEqual(SOLVED * closingSpeed);
        });
      }),
      CASES,
    );
    expect(Math.min(seen.slides, seen.sticks)).toBeGreaterThan(25);
  });

  test("keeps the impulse along the normal of planck's where no friction acts, whichever way the slip goes", () =>
    fc.assert(
      fc.property(impact, (drawn) => {
        const input = { ...drawn, friction: 0 };
        const { after, closingSpeed } = planarImpact(input);
        const [a, b] = inLibrary(input);
        expect(Math.abs(after.a.angularVelocity - (a?.angularVelocity ?? NaN))).toBeLessThanOrEqual(SOLVED * closingSpeed);
        expect(Math.abs(after.b.velocity.x - (b?.velocity.x ?? NaN))).toBeLessThanOrEqual(SOLVED * closingSpeed);
      }),
      CASES,
    ));
});

test("centralImpact(…) agrees with planck to rounding, for 200 pairs and restitutions", () =>
  fc.assert(
    fc.property(real(0.5, 4000), real(0.5, 4000), real(-30, 30), real(1.05, 60), real(0, 1), (massA, massB, velocityB, closing, restitution) => {
      const line = { a: { mass: massA, velocity: velocityB + closing }, b: { mass: massB, velocity: velocityB }, restitution };
      const still = (mass: number, velocity: number, x: number): RigidBody => ({ mass, inertia: mass, velocity: { x: velocity, y: 0 }, angularVelocity: 0, contact: { x, y: 0 } });
      const [a, b] = inLibrary({ a: still(massA, line.a.velocity, 1), b: still(massB, velocityB, -1), normalAngle: 0, restitution, friction: 0 });
      const { after } = centralImpact(line);
      expect(Math.abs(after.a - (a?.velocity.x ?? NaN))).toBeLessThanOrEqual(ROUNDING);
      expect(Math.abs(after.b - (b?.velocity.x ?? NaN))).toBeLessThanOrEqual(ROUNDING);
    }),
    CASES,
  ));
