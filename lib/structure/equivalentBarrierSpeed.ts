import { requirePositive } from "../check.ts";
import { absorbed, requireDamage, type Damage } from "./crushEnergy.ts";

/**
 * Speed into a rigid wall at which a vehicle would absorb what its measured crush took.
 *
 * Model: as crushEnergy, with all of that energy coming from the vehicle's own motion into a wall that does not move. It is neither
 * the speed that the vehicle had nor its change of velocity, except into such a wall without rebound.
 *
 * @param mass > 0 [kg]
 * @param profile residual crush depth at equally spaced stations, shape (n,), n >= 2, each >= 0 [m]
 * @param width > 0, spanned by the stations [m]
 * @param stiffness.a force per unit of width at no depth, >= 0 [N/m]
 * @param stiffness.b its growth with depth, > 0 [N/m^2]
 * @param forceAngle between the force and the perpendicular of the face, between -0.7853981633974483 and 0.7853981633974483, default 0 [rad]
 * @returns speed >= 0 [m/s]
 * @returns energy >= 0 [J]
 * @throws RangeError outside those ranges; TypeError for under 2 stations
 * @equation speed = sqrt(2 * energy / mass)
 * @source dot-hs-805-732, equivalent barrier speed
 * @example equivalentBarrierSpeed({ mass: 1500, profile: [0.4, 0.4], width: 1.6, stiffness: { a: 51562.5, b: 585937.5 } }).speed // 12.2
 */
export const equivalentBarrierSpeed = ({ mass, ...damage }: Damage & { readonly mass: number }) => {
  requirePositive("equivalentBarrierSpeed", "mass", mass, "kg");
  requireDamage("equivalentBarrierSpeed", "", damage);
  const { energy } = absorbed(damage);
  return { speed: Math.sqrt((2 * energy) / mass), energy };
};
