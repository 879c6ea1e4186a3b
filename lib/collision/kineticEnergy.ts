import { type Body, requireBody } from "./body.ts";

/**
 * Energy of motion of a body that does not spin.
 *
 * Model: classical mechanics. It depends on who looks: see observedFrom.
 *
 * @param mass > 0 [kg]
 * @param velocity signed [m/s]
 * @returns energy >= 0 [J]
 * @throws RangeError outside those ranges
 * @equation energy = mass * velocity^2 / 2
 * @source openstax-university-physics-1, section 7.2
 * @example kineticEnergy({ mass: 900, velocity: 15 }).energy // 101250
 */
export const kineticEnergy = ({ mass, velocity }: Body) => {
  requireBody("kineticEnergy", "", { mass, velocity });
  return { energy: 0.5 * mass * velocity * velocity };
};
