import { requireBetween, requireThat } from "../check.ts";
import { requireBody, type TwoBodies } from "./body.ts";

export interface CentralImpactInput extends TwoBodies {
  /** Separation speed over closing speed: 0 they stay together, 1 nothing is lost. */
  readonly restitution: number;
}

/**
 * Velocities after two bodies meet on one line, with the impulse and the energy that it takes.
 *
 * Model: momentum is conserved and the bodies part at a fixed share of the speed they met at (Newton's restitution). The contact is
 * so short that roads, tyres and weight change nothing. Not for offset or slanting impacts, nor while a third body pushes.
 * a comes from behind: it closes in on b when a.velocity > b.velocity.
 *
 * @param a.mass > 0 [kg]
 * @param a.velocity before, signed along the common line [m/s]
 * @param b.mass > 0 [kg]
 * @param b.velocity before, signed along the common line, <= a.velocity [m/s]
 * @param restitution 0 to 1 [1]
 * @returns closingSpeed >= 0 [m/s]
 * @returns commonVelocity while they move as one, signed [m/s]
 * @returns separationSpeed >= 0 [m/s]
 * @returns after.a velocity after, signed [m/s]
 * @returns after.b velocity after, signed [m/s]
 * @returns deltaV.a change of velocity, signed, never forwards [m/s]
 * @returns deltaV.b change of velocity, signed, never backwards [m/s]
 * @returns impulse on b, >= 0; a receives as much the other way [N s]
 * @returns energy.before of motion, >= 0 [J]
 * @returns energy.after of motion, >= 0 [J]
 * @returns energy.dissipated >= 0 [J]
 * @returns momentum.before of both, signed [kg m/s]
 * @returns momentum.after of both, signed [kg m/s]
 * @returns massRatio of a to b, > 0 [1]
 * @returns deltaVRatio of a to b, sizes only, > 0 [1]
 * @throws RangeError outside those ranges, or when b runs away from a
 * @equation closingSpeed = a.velocity - b.velocity
 * @equation commonVelocity = (a.mass * a.velocity + b.mass * b.velocity) / (a.mass + b.mass)
 * @equation separationSpeed = restitution * (a.velocity - b.velocity)
 * @equation after.a = a.velocity - (1 + restitution) * b.mass / (a.mass + b.mass) * (a.velocity - b.velocity)
 * @equation after.b = b.velocity + (1 + restitution) * a.mass / (a.mass + b.mass) * (a.velocity - b.velocity)
 * @equation deltaV.a = -(1 + restitution) * b.mass / (a.mass + b.mass) * (a.velocity - b.velocity)
 * @equation deltaV.b = (1 + restitution) * a.mass / (a.mass + b.mass) * (a.velocity - b.velocity)
 * @equation impulse = (1 + restitution) * a.mass * b.mass / (a.mass + b.mass) * (a.velocity - b.velocity)
 * @equation energy.before = a.mass * a.velocity^2 / 2 + b.mass * b.velocity^2 / 2
 * @equation energy.after = (a.mass * a.velocity + b.mass * b.velocity)^2 / (2 * (a.mass + b.mass)) + restitution^2 * a.mass * b.mass / (a.mass + b.mass) * (a.velocity - b.velocity)^2 / 2
 * @equation energy.dissipated = a.mass * b.mass / (a.mass + b.mass) * (1 - restitution^2) * (a.velocity - b.velocity)^2 / 2
 * @equation momentum.before = a.mass * a.velocity + b.mass * b.velocity
 * @equation momentum.after = a.mass * a.velocity + b.mass * b.velocity
 * @equation massRatio = a.mass / b.mass
 * @equation deltaVRatio = b.mass / a.mass
 * @source openstax-college-physics-2e, sections 8.3 to 8.5
 * @example centralImpact({ a: { mass: 900, velocity: 15 }, b: { mass: 1800, velocity: -10 }, restitution: 0 }).deltaV.a // -16.666666666666668
 */
export const centralImpact = ({ a, b, restitution }: CentralImpactInput) => {
  requireBody("centralImpact", "a", a);
  requireBody("centralImpact", "b", b);
  requireBetween("centralImpact", "restitution", restitution, 0, 1);
  requireThat(a.velocity >= b.velocity, "centralImpact", "a.velocity", `>= ${b.velocity} m/s, the velocity of b (they never meet: name the one behind a, or turn the line round)`, a.velocity);
  const mass = a.mass + b.mass;
  const shareA = a.mass / mass;
  const shareB = b.mass / mass;
  const reducedMass = Math.min(a.mass, b.mass) * Math.max(shareA, shareB);
  const closingSpeed = a.velocity - b.velocity;
  const given = (1 + restitution) * closingSpeed;
  const deltaV = { a: -shareB * given, b: shareA * given };
  const after = { a: a.velocity + deltaV.a, b: b.velocity + deltaV.b };
  return {
    closingSpeed,
    commonVelocity: (a.mass * a.velocity + b.mass * b.velocity) / mass,
    separationSpeed: restitution * closingSpeed,
    after,
    deltaV,
    impulse: reducedMass * given,
    energy: {
      before: 0.5 * a.mass * a.velocity ** 2 + 0.5 * b.mass * b.velocity ** 2,
      after: 0.5 * a.mass * after.a ** 2 + 0.5 * b.mass * after.b ** 2,
      dissipated: 0.5 * reducedMass * (1 - restitution) * (1 + restitution) * closingSpeed ** 2,
    },
    momentum: { before: a.mass * a.velocity + b.mass * b.velocity, after: a.mass * after.a + b.mass * after.b },
    massRatio: a.mass / b.mass,
    deltaVRatio: b.mass / a.mass,
  };
};
