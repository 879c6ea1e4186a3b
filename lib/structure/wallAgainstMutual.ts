import { type CrushingBody, mutualCrush } from "./mutualCrush.ts";
import { requirePositive } from "../check.ts";

/**
 * Two vehicles into each other, set against each of them into a rigid wall.
 *
 * Model: as mutualCrush; linear fronts, central, full overlap, no rebound. Two like vehicles, each at speed v, do to each what a wall
 * does at v, since the plane between them stands still. A wall at the closing speed, 2 v, is another matter: one front then has to
 * take four times as much. For unlike vehicles the wall speed that does the same damage and the change of velocity differ.
 *
 * @param a.mass > 0 [kg]
 * @param a.stiffness > 0 [N/m]
 * @param b.mass > 0 [kg]
 * @param b.stiffness > 0 [N/m]
 * @param closingSpeed > 0 [m/s]
 * @returns speedChange.a until both move as one [m/s]
 * @returns speedChange.b until both move as one [m/s]
 * @returns wallSpeed.a into a rigid wall for the same crush, force and energy in the front of a [m/s]
 * @returns wallSpeed.b into a rigid wall for the same crush, force and energy in the front of b [m/s]
 * @returns overstatement.a energy that a wall at the closing speed would put into a, over what b puts into it [1]
 * @returns overstatement.b energy that a wall at the closing speed would put into b, over what a puts into it [1]
 * @throws RangeError outside those ranges
 * @equation speedChange.a = b.mass / (a.mass + b.mass) * closingSpeed
 * @equation speedChange.b = a.mass / (a.mass + b.mass) * closingSpeed
 * @equation wallSpeed.a = closingSpeed * sqrt(b.mass / (a.mass + b.mass) * b.stiffness / (a.stiffness + b.stiffness))
 * @equation wallSpeed.b = closingSpeed * sqrt(a.mass / (a.mass + b.mass) * a.stiffness / (a.stiffness + b.stiffness))
 * @equation overstatement.a = (closingSpeed / wallSpeed.a)^2
 * @equation overstatement.b = (closingSpeed / wallSpeed.b)^2
 * @source derived, reduced mass on two springs in series against mass on one spring
 * @example wallAgainstMutual({ a: { mass: 1400, stiffness: 800000 }, b: { mass: 1400, stiffness: 800000 }, closingSpeed: 28 }).wallSpeed.a // 14
 */
export const wallAgainstMutual = ({ a, b, closingSpeed }: { readonly a: CrushingBody; readonly b: CrushingBody; readonly closingSpeed: number }) => {
  for (const [name, body] of [["a", a], ["b", b]] as const) {
    requirePositive("wallAgainstMutual", `${name}.mass`, body.mass, "kg");
    requirePositive("wallAgainstMutual", `${name}.stiffness`, body.stiffness, "N/m");
  }
  requirePositive("wallAgainstMutual", "closingSpeed", closingSpeed, "m/s");
  const { equivalentWallSpeed: wallSpeed } = mutualCrush({ a, b, closingSpeed });
  const mass = a.mass + b.mass;
  return {
    speedChange: { a: (b.mass * closingSpeed) / mass, b: (a.mass * closingSpeed) / mass },
    wallSpeed,
    overstatement: { a: (closingSpeed / wallSpeed.a) ** 2, b: (closingSpeed / wallSpeed.b) ** 2 },
  };
};
