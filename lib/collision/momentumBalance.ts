import { requirePositive, requireThat } from "../check.ts";
import { planarEnergy, requirePlanarBody, type PlanarBody } from "./planarBody.ts";

export interface MomentumBalanceInput {
  /** All that takes part, at least one body. */
  readonly before: readonly PlanarBody[];
  /** All but one of the bodies afterwards; the rest of the mass is the one asked for. */
  readonly after: readonly PlanarBody[];
}

/**
 * Velocity of the one body left over when all others are known, before and after an explosion, a recoil, a capture or a collision.
 *
 * Model: no mass and no momentum is lost: nothing outside pushes while it happens. The body asked for has the mass left over. Energy
 * may be set free (an explosion) or taken (a collision); which, and how much, is a result. Turning is not counted.
 *
 * @param before.mass of each body that takes part, > 0 [kg]
 * @param before.velocity.x of each [m/s]
 * @param before.velocity.y of each [m/s]
 * @param after.mass of each body known afterwards, > 0, in all less than before; the list may be empty [kg]
 * @param after.velocity.x of each [m/s]
 * @param after.velocity.y of each [m/s]
 * @returns mass of the body left over, > 0 [kg]
 * @returns velocity.x of the body left over [m/s]
 * @returns velocity.y of the body left over [m/s]
 * @returns speed of the body left over, >= 0 [m/s]
 * @returns direction in which it goes, anticlockwise from x, between -pi and pi; 0 at rest [rad]
 * @returns momentum.x of all together [kg m/s]
 * @returns momentum.y of all together [kg m/s]
 * @returns energy.before of motion, >= 0 [J]
 * @returns energy.after of motion, >= 0 [J]
 * @returns energy.change > 0 set free, < 0 taken [J]
 * @throws RangeError outside those ranges, or when no mass is left over
 * @equation speed = sqrt(velocity.x^2 + velocity.y^2)
 * @equation direction = atan2(velocity.y, velocity.x)
 * @equation energy.change = energy.after - energy.before
 * @source openstax-university-physics-1, sections 9.3 and 9.5
 * @example momentumBalance({ before: [{ mass: 3, velocity: { x: 0, y: 0 } }], after: [{ mass: 1, velocity: { x: 4, y: 0 } }] }).velocity.x // -2
 */
export const momentumBalance = ({ before, after }: MomentumBalanceInput) => {
  const kernel = "momentumBalance";
  requireThat(Array.isArray(before) && before.length > 0, kernel, "before", "a list of at least one body", before);
  requireThat(Array.isArray(after), kernel, "after", "a list of bodies, which may be empty", after);
  before.forEach((body, i) => requirePlanarBody(kernel, `before[${i}]`, body));
  after.forEach((body, i) => requirePlanarBody(kernel, `after[${i}]`, body));
  const total = (bodies: readonly PlanarBody[], of: (body: PlanarBody) => number): number => bodies.reduce((sum, body) => sum + of(body), 0);
  const massOf = ({ mass }: PlanarBody): number => mass;
  const mass = total(before, massOf) - total(after, massOf);
  requirePositive(kernel, "mass before less mass after", mass, "kg");
  const along = (axis: "x" | "y", bodies: readonly PlanarBody[]): number => total(bodies, (body) => body.mass * body.velocity[axis]);
  const momentum = { x: along("x", before), y: along("y", before) };
  const velocity = { x: (momentum.x - along("x", after)) / mass, y: (momentum.y - along("y", after)) / mass };
  const energyBefore = total(before, planarEnergy);
  const energyAfter = total(after, planarEnergy) + planarEnergy({ mass, velocity });
  return {
    mass,
    velocity,
    speed: Math.hypot(velocity.x, velocity.y),
    direction: Math.atan2(velocity.y, velocity.x),
    momentum,
    energy: { before: energyBefore, after: energyAfter, change: energyAfter - energyBefore },
  };
};
