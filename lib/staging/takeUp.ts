import { requireNonNegative, requirePositive } from "../check.ts";
import { STANDARD_GRAVITY } from "../constants.ts";

/**
 * Largest pull of a line that a steady pull comes on suddenly, slack or not.
 *
 * Model: linear line without mass or damping; the pull that would be steady comes on at once, after the slack has run out under
 * the same steady forces. Exact for one falling mass and one vehicle free to move, with no other line: slack and stretch are then measured at
 * the vehicle. Twice the steady pull without slack, more with it. Too low for one of two lines on one mass, which carries all of it
 * while the other is slack: see mostPull. Not for a line still swinging from an earlier jerk, nor for the design of lifting gear: the
 * responsible engineer sets factors.
 *
 * @param steadyPull > 0 [N]
 * @param stiffness > 0, of the line [N/m]
 * @param slack >= 0, line to be taken up first [m]
 * @returns steadyStretch [m]
 * @returns factor peak over steady pull [1]
 * @returns peakPull [N]
 * @returns peakStretch [m]
 * @throws RangeError outside those ranges
 * @equation steadyStretch = steadyPull / stiffness
 * @equation factor = 1 + sqrt(1 + 2 * slack / steadyStretch)
 * @equation peakPull = factor * steadyPull
 * @equation peakStretch = factor * steadyStretch
 * @source akin-impact-factors, elastic impact of a falling load
 * @example takeUp({ steadyPull: 2400, stiffness: 48000, slack: 0 }).factor // 2
 */
export const takeUp = ({ steadyPull, stiffness, slack }: { readonly steadyPull: number; readonly stiffness: number; readonly slack: number }) => {
  requirePositive("takeUp", "steadyPull", steadyPull, "N");
  requirePositive("takeUp", "stiffness", stiffness, "N/m");
  requireNonNegative("takeUp", "slack", slack, "m");
  const steadyStretch = steadyPull / stiffness;
  const factor = 1 + Math.sqrt(1 + (2 * slack) / steadyStretch);
  return { steadyStretch, factor, peakPull: factor * steadyPull, peakStretch: factor * steadyStretch };
};

/**
 * Mass dropped on a carrier that hangs or stands on a spring.
 *
 * Model: the mass and the carrier move on together from the blow, which is short against the swing; linear spring without mass or
 * damping, already holding the carrier. A carrier without mass loses nothing in the blow. Not for a rebound.
 *
 * @param mass > 0, falling [kg]
 * @param carrierMass >= 0, at rest on the spring [kg]
 * @param fall >= 0, before the blow [m]
 * @param stiffness > 0 [N/m]
 * @param gravity > 0, default STANDARD_GRAVITY [m/s^2]
 * @returns staticDeflection under the mass, from where the carrier hung [m]
 * @returns factor deepest over static deflection [1]
 * @returns deflection deepest, from where the carrier hung [m]
 * @returns springForce at the deepest, carrier's weight included [N]
 * @returns energyLost in the blow [J]
 * @throws RangeError outside those ranges
 * @equation staticDeflection = mass * gravity / stiffness
 * @equation factor = 1 + sqrt(1 + 2 * fall / staticDeflection * mass / (mass + carrierMass))
 * @equation deflection = factor * staticDeflection
 * @equation springForce = carrierMass * gravity + stiffness * deflection
 * @equation energyLost = mass * gravity * fall * carrierMass / (mass + carrierMass)
 * @source derived, momentum in the blow and energy after it
 * @example dropOnSpring({ mass: 2, carrierMass: 0, fall: 0.15, stiffness: 200, gravity: 10 }).deflection // 0.3
 */
export const dropOnSpring = ({ mass, carrierMass, fall, stiffness, gravity = STANDARD_GRAVITY }: { readonly mass: number; readonly carrierMass: number; readonly fall: number; readonly stiffness: number; readonly gravity?: number }) => {
  requirePositive("dropOnSpring", "mass", mass, "kg");
  requireNonNegative("dropOnSpring", "carrierMass", carrierMass, "kg");
  requireNonNegative("dropOnSpring", "fall", fall, "m");
  requirePositive("dropOnSpring", "stiffness", stiffness, "N/m");
  requirePositive("dropOnSpring", "gravity", gravity, "m/s^2");
  const staticDeflection = (mass * gravity) / stiffness;
  const factor = 1 + Math.sqrt(1 + ((2 * fall) / staticDeflection) * (mass / (mass + carrierMass)));
  const deflection = factor * staticDeflection;
  return {
    staticDeflection,
    factor,
    deflection,
    springForce: carrierMass * gravity + stiffness * deflection,
    energyLost: (mass * gravity * fall * carrierMass) / (mass + carrierMass),
  };
};
