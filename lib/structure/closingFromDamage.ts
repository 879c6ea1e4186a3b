import { requireBetween, requirePositive, requireThat } from "../check.ts";
import { closingFromCrushEnergy } from "./closingFromCrushEnergy.ts";
import { absorbed, requireDamage, type Damage } from "./crushEnergy.ts";

/** A vehicle with its measured damage. */
export interface DamagedBody extends Damage {
  /** > 0 [kg] */
  readonly mass: number;
}

/**
 * Closing speed and changes of velocity, from the crush measured on both vehicles.
 *
 * Model: the crush energy of each by crushEnergy, all the energy lost in a central impact being in the two; momentum is shared. Both
 * fronts bore one force, so force.a and force.b ought to agree: how far they do not is how far profile and coefficients contradict
 * each other. Not for offset impacts that turn the vehicles, nor where wheels, ground or a third body took a part.
 *
 * @param a.mass > 0 [kg]
 * @param a.profile residual crush depth at equally spaced stations, shape (n,), n >= 2, each >= 0 [m]
 * @param a.width > 0, spanned by the stations [m]
 * @param a.stiffness.a force per unit of width at no depth, >= 0 [N/m]
 * @param a.stiffness.b its growth with depth, > 0 [N/m^2]
 * @param a.forceAngle between the force and the perpendicular of the face, between -0.7853981633974483 and 0.7853981633974483, default 0 [rad]
 * @param b.mass > 0 [kg]
 * @param b.profile residual crush depth at equally spaced stations, shape (n,), n >= 2, each >= 0 [m]
 * @param b.width > 0, spanned by the stations [m]
 * @param b.stiffness.a force per unit of width at no depth, >= 0 [N/m]
 * @param b.stiffness.b its growth with depth, > 0 [N/m^2]
 * @param b.forceAngle between the force and the perpendicular of the face, between -0.7853981633974483 and 0.7853981633974483, default 0 [rad]
 * @param restitution 0 to under 1 [1]
 * @returns closingSpeed [m/s]
 * @returns speedChange.a >= 0 [m/s]
 * @returns speedChange.b >= 0 [m/s]
 * @returns energy.a absorbed in the crush of a [J]
 * @returns energy.b absorbed in the crush of b [J]
 * @returns equivalentBarrierSpeed.a speed into a rigid wall at which a would absorb as much [m/s]
 * @returns equivalentBarrierSpeed.b speed into a rigid wall at which b would absorb as much [m/s]
 * @returns force.a across the face of a at the depth measured [N]
 * @returns force.b across the face of b at the depth measured [N]
 * @throws RangeError outside those ranges, or when neither took energy; TypeError for under 2 stations
 * @equation closingSpeed = sqrt(2 * (energy.a + energy.b) * (a.mass + b.mass) / (a.mass * b.mass * (1 - restitution^2)))
 * @equation speedChange.a = (1 + restitution) * b.mass / (a.mass + b.mass) * closingSpeed
 * @equation speedChange.b = (1 + restitution) * a.mass / (a.mass + b.mass) * closingSpeed
 * @equation equivalentBarrierSpeed.a = sqrt(2 * energy.a / a.mass)
 * @equation equivalentBarrierSpeed.b = sqrt(2 * energy.b / b.mass)
 * @source dot-hs-805-732, energy of both profiles
 * @source derived, momentum and energy of a central impact
 * @sample restitution 0 0.4
 * @example closingFromDamage({ a: { mass: 1500, profile: [0.4, 0.4], width: 1.6, stiffness: { a: 51562.5, b: 585937.5 } }, b: { mass: 1500, profile: [0.4, 0.4], width: 1.6, stiffness: { a: 51562.5, b: 585937.5 } }, restitution: 0 }).closingSpeed // 24.4
 */
export const closingFromDamage = ({ a, b, restitution }: { readonly a: DamagedBody; readonly b: DamagedBody; readonly restitution: number }) => {
  for (const [name, body] of [["a", a], ["b", b]] as const) {
    requirePositive("closingFromDamage", `${name}.mass`, body.mass, "kg");
    requireDamage("closingFromDamage", name, body);
  }
  requireBetween("closingFromDamage", "restitution", restitution, 0, 1);
  requireThat(restitution < 1, "closingFromDamage", "restitution", "< 1 (an elastic impact leaves no crush energy)", restitution);
  const crushA = absorbed(a);
  const crushB = absorbed(b);
  requirePositive("closingFromDamage", "energy of both", crushA.energy + crushB.energy, "J");
  const energy = { a: crushA.energy, b: crushB.energy };
  return {
    ...closingFromCrushEnergy({ a: { mass: a.mass, energy: energy.a }, b: { mass: b.mass, energy: energy.b }, restitution }),
    energy,
    equivalentBarrierSpeed: { a: Math.sqrt((2 * energy.a) / a.mass), b: Math.sqrt((2 * energy.b) / b.mass) },
    force: { a: crushA.force, b: crushB.force },
  };
};
