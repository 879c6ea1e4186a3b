import { requireBetween, requireNonNegative, requirePositive, requireThat } from "../check.ts";

export interface CrushedBody {
  /** > 0 [kg] */
  readonly mass: number;
  /** Kept in the crush that stays, >= 0 [J]: what springs back is not part of it. */
  readonly energy: number;
}

/**
 * Closing speed and changes of velocity, from the energy that both crushes took.
 *
 * Model: all the energy lost in a central impact is kept in the crush that stays; what the fronts give back is in the restitution.
 * Momentum is shared. Not where wheels, ground or a
 * third body took a part.
 *
 * @param a mass > 0 [kg], energy kept in its residual crush >= 0 [J]
 * @param b mass > 0 [kg], energy kept in its residual crush >= 0 [J]
 * @param restitution 0 to under 1 [1]
 * @returns closingSpeed [m/s], speedChange of each >= 0 [m/s]
 * @throws RangeError outside those ranges, or when both energies are 0
 * @equation closingSpeed = sqrt(2 * (a.energy + b.energy) * (a.mass + b.mass) / (a.mass * b.mass * (1 - restitution^2)))
 * @equation speedChange.a = (1 + restitution) * b.mass / (a.mass + b.mass) * sqrt(2 * (a.energy + b.energy) * (a.mass + b.mass) / (a.mass * b.mass * (1 - restitution^2)))
 * @equation speedChange.b = (1 + restitution) * a.mass / (a.mass + b.mass) * sqrt(2 * (a.energy + b.energy) * (a.mass + b.mass) / (a.mass * b.mass * (1 - restitution^2)))
 * @source derived, momentum and energy of a central impact
 * @example closingFromCrushEnergy({ a: { mass: 1200, energy: 90000 }, b: { mass: 1800, energy: 54000 }, restitution: 0 }).closingSpeed // 20
 */
export const closingFromCrushEnergy = ({ a, b, restitution }: { readonly a: CrushedBody; readonly b: CrushedBody; readonly restitution: number }) => {
  for (const [name, body] of [["a", a], ["b", b]] as const) {
    requirePositive("closingFromCrushEnergy", `${name}.mass`, body.mass, "kg");
    requireNonNegative("closingFromCrushEnergy", `${name}.energy`, body.energy, "J");
  }
  requireThat(a.energy + b.energy > 0, "closingFromCrushEnergy", "a.energy + b.energy", "> 0 J", a.energy + b.energy);
  requireBetween("closingFromCrushEnergy", "restitution", restitution, 0, 1);
  requireThat(restitution < 1, "closingFromCrushEnergy", "restitution", "< 1 (an elastic impact leaves no crush energy)", restitution);
  const total = a.mass + b.mass;
  const closingSpeed = Math.sqrt((2 * (a.energy + b.energy) * total) / (a.mass * b.mass * (1 - restitution ** 2)));
  return {
    closingSpeed,
    speedChange: { a: ((1 + restitution) * b.mass * closingSpeed) / total, b: ((1 + restitution) * a.mass * closingSpeed) / total },
  };
};
