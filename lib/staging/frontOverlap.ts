import { requireBetween, requireFinite, requirePositive } from "../check.ts";

export interface Front {
  /** > 0 [m] */
  readonly width: number;
  /** Angle between the vehicle's own axis and the line of approach, more than -pi/2 and less than pi/2 [rad]. */
  readonly yaw: number;
}

/** Keeps a front from lying along the line of approach. */
const MOST_YAW = Math.PI / 2;

/**
 * Overlap of two fronts that meet head-on.
 *
 * Model: each front is a straight line, seen along the line of approach; the offset is between their middles, across that line. An overlap under
 * 100 % or any yaw turns both vehicles: arithmetic along one line then no longer tells what happens (see planar impact).
 *
 * @param a.width > 0 [m]
 * @param a.yaw > -1.5707 and < 1.5707, between its axis and the line of approach [rad]
 * @param b the same
 * @param offset any sign, between the middles of the fronts, across the line of approach [m]
 * @returns overlap width in common, 0 if they pass [m]
 * @returns share of each front's own width as seen, 0 to 1 [1]
 * @returns lever of the middle of the common width about the middle of each front, as a size [m]
 * @throws RangeError outside those ranges
 * @equation overlap = max(0, min(a.width * cos(a.yaw), b.width * cos(b.yaw), (a.width * cos(a.yaw) + b.width * cos(b.yaw)) / 2 - abs(offset)))
 * @equation share.a = overlap / (a.width * cos(a.yaw))
 * @equation share.b = overlap / (b.width * cos(b.yaw))
 * @source derived, projection of both fronts
 * @sample offset -2 2
 * @sample a.yaw -0.5 0.5
 * @sample b.yaw -0.5 0.5
 * @example frontOverlap({ a: { width: 1.6, yaw: 0 }, b: { width: 1.8, yaw: 0 }, offset: 0.9 }).share.a // 0.5
 */
export const frontOverlap = ({ a, b, offset }: { readonly a: Front; readonly b: Front; readonly offset: number }) => {
  for (const [name, front] of [["a", a], ["b", b]] as const) {
    requirePositive("frontOverlap", `${name}.width`, front.width, "m");
    requireBetween("frontOverlap", `${name}.yaw`, front.yaw, -MOST_YAW, MOST_YAW, "rad");
  }
  requireFinite("frontOverlap", "offset", offset, "m");
  const seenA = a.width * Math.cos(a.yaw);
  const seenB = b.width * Math.cos(b.yaw);
  const aside = Math.abs(offset);
  const overlap = Math.max(0, Math.min(seenA, seenB, (seenA + seenB) / 2 - aside));
  // edges of the common width, measured from the middle of a towards the middle of b
  const middle = (Math.max(-seenA / 2, aside - seenB / 2) + Math.min(seenA / 2, aside + seenB / 2)) / 2;
  return {
    overlap,
    share: { a: overlap / seenA, b: overlap / seenB },
    lever: overlap > 0 ? { a: Math.abs(middle), b: Math.abs(middle - aside) } : { a: 0, b: 0 },
  };
};
