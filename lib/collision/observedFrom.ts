import { requireFinite } from "../check.ts";
import { requireBody, type TwoBodies } from "./body.ts";

/**
 * Two bodies on one line as an observer sees them who moves along that line.
 *
 * Model: steady observer, classical addition of velocities. Masses, closing speed and changes of velocity are the same for every
 * such observer; velocities, momentum and energy of motion are not.
 *
 * @param a.mass > 0 [kg]
 * @param a.velocity signed along the common line [m/s]
 * @param b.mass > 0 [kg]
 * @param b.velocity signed along the common line [m/s]
 * @param observerVelocity signed along the common line [m/s]
 * @returns a.mass as given [kg]
 * @returns a.velocity as the observer sees it, signed [m/s]
 * @returns b.mass as given [kg]
 * @returns b.velocity as the observer sees it, signed [m/s]
 * @returns momentum of both, as the observer finds it, signed [kg m/s]
 * @returns energy of motion of both, as the observer finds it, >= 0 [J]
 * @throws RangeError outside those ranges
 * @equation momentum = a.mass * (a.velocity - observerVelocity) + b.mass * (b.velocity - observerVelocity)
 * @equation energy = a.mass * (a.velocity - observerVelocity)^2 / 2 + b.mass * (b.velocity - observerVelocity)^2 / 2
 * @source openstax-university-physics-1, section 4.5
 * @example observedFrom({ a: { mass: 900, velocity: 15 }, b: { mass: 1800, velocity: -10 }, observerVelocity: -10 }).a.velocity // 25
 */
export const observedFrom = ({ a, b, observerVelocity }: TwoBodies & { readonly observerVelocity: number }) => {
  requireBody("observedFrom", "a", a);
  requireBody("observedFrom", "b", b);
  requireFinite("observedFrom", "observerVelocity", observerVelocity, "m/s");
  const seenA = a.velocity - observerVelocity;
  const seenB = b.velocity - observerVelocity;
  return {
    a: { mass: a.mass, velocity: seenA },
    b: { mass: b.mass, velocity: seenB },
    momentum: a.mass * seenA + b.mass * seenB,
    energy: 0.5 * a.mass * seenA * seenA + 0.5 * b.mass * seenB * seenB,
  };
};
