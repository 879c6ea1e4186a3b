import { type Body, requireBody } from "./body.ts";

/**
 * Momentum of a moving body, signed as its velocity.
 *
 * Model: classical mechanics. Not near the speed of light.
 *
 * @param mass > 0 [kg]
 * @param velocity signed [m/s]
 * @returns momentum signed [kg m/s]
 * @throws RangeError outside those ranges
 * @equation momentum = mass * velocity
 * @source openstax-university-physics-1, section 9.1
 * @example momentum({ mass: 900, velocity: -15 }).momentum // -13500
 */
export const momentum = ({ mass, velocity }: Body) => {
  requireBody("momentum", "", { mass, velocity });
  return { momentum: mass * velocity };
};
