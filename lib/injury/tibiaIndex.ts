import { requireFinite, requirePositive } from "../check.ts";

/**
 * Tibia index of a mid-size male dummy's lower leg: bending and compression together, at one moment.
 *
 * Model: the resultant bending moment as a share of its critical value plus the compression as a share of its own. Take the largest
 * over the record. It describes a test dummy's leg, not a person's.
 *
 * @param moment.x at the cell [N m]
 * @param moment.y at the cell [N m]
 * @param axialForce at the cell, either sign [N]
 * @param critical.moment > 0, default 225 [N m]
 * @param critical.force > 0, default 35900 [N]
 * @returns value >= 0 [1]
 * @throws RangeError outside those ranges
 * @equation value = sqrt(moment.x^2 + moment.y^2) / critical.moment + abs(axialForce) / critical.force
 * @source un-r94-rev4, annex 4, 4
 * @example tibiaIndex({ moment: { x: 80, y: 150 }, axialForce: 4000, critical: { moment: 225, force: 35900 } }).value // 0.8669762
 */
export const tibiaIndex = ({ moment, axialForce, critical = { moment: 225, force: 35900 } }: {
  readonly moment: { readonly x: number; readonly y: number };
  readonly axialForce: number;
  readonly critical?: { readonly moment: number; readonly force: number };
}) => {
  requireFinite("tibiaIndex", "moment.x", moment.x, "N m");
  requireFinite("tibiaIndex", "moment.y", moment.y, "N m");
  requireFinite("tibiaIndex", "axialForce", axialForce, "N");
  requirePositive("tibiaIndex", "critical.moment", critical.moment, "N m");
  requirePositive("tibiaIndex", "critical.force", critical.force, "N");
  return { value: Math.hypot(moment.x, moment.y) / critical.moment + Math.abs(axialForce) / critical.force };
};
