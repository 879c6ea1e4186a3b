import { requireNonNegative, requirePositive, requireThat } from "../check.ts";

/**
 * Speed that a steady force gives a body over a distance, from rest.
 *
 * Model: the force, less a steady resistance, works along the whole distance. For a drum or pulley take its inertia over radius squared as
 * the mass and the speed of its rim.
 *
 * @param force > 0 [N]
 * @param resistance >= 0, against the motion, below the force [N]
 * @param mass > 0 [kg]
 * @param distance > 0 [m]
 * @returns speed at the end [m/s]
 * @returns acceleration [m/s^2]
 * @returns time [s]
 * @returns energy of motion at the end [J]
 * @throws RangeError outside those ranges, or for a force that the resistance holds
 * @equation acceleration = (force - resistance) / mass
 * @equation speed = sqrt(2 * acceleration * distance)
 * @equation time = 2 * distance / speed
 * @equation energy = (force - resistance) * distance
 * @source openstax-university-physics-1, section 7.3
 * @sample force 200 400
 * @sample resistance 0 100
 * @example steadyPull({ force: 90, resistance: 10, mass: 20, distance: 2 }).speed // 4
 */
export const steadyPull = ({ force, resistance, mass, distance }: { readonly force: number; readonly resistance: number; readonly mass: number; readonly distance: number }) => {
  requirePositive("steadyPull", "force", force, "N");
  requireNonNegative("steadyPull", "resistance", resistance, "N");
  requireThat(force > resistance, "steadyPull", "force", `> ${resistance} N (less is held by the resistance)`, force);
  requirePositive("steadyPull", "mass", mass, "kg");
  requirePositive("steadyPull", "distance", distance, "m");
  const acceleration = (force - resistance) / mass;
  const speed = Math.sqrt(2 * acceleration * distance);
  return { speed, acceleration, time: (2 * distance) / speed, energy: (force - resistance) * distance };
};
