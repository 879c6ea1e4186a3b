import { requireNonNegative, requirePositive, requireSameLength, requireSeries } from "../check.ts";

/** Critical forces and moments of the neck criterion of a mid-size male dummy (from memory; read second-hand): forces in N, moments in N m. */
export const NECK_CRITICAL = { tension: 6806, compression: 6160, flexion: 310, extension: 135 } as const;

/** From the upper neck cell up to the occipital condyles of a mid-size male dummy [m]. */
export const CONDYLE_DISTANCE = 0.01778;

export type NeckLoad = "tension and flexion" | "tension and extension" | "compression and flexion" | "compression and extension";

/**
 * Neck criterion of records from an upper neck load cell: force along the neck and bending at the top of it, together.
 *
 * Model: at each moment the force as a share of its critical value plus the moment at the occipital condyles as a share of its own,
 * each with the critical value of its sense; the criterion is the largest sum. Tension and flexion are positive, forwards shear is
 * positive. Records that are filtered as the rule asks. It describes a test dummy's neck, not a person's.
 *
 * @param axialForce at the cell, tension positive, shape (n,), n >= 1 [N]
 * @param moment at the cell, flexion positive, shape (n,) [N m]
 * @param shear at the cell, shape (n,); left out: the moment is that at the condyles [N]
 * @param distance from the cell to the condyles, >= 0, default 0.01778 [m]
 * @param critical.tension > 0, default 6806 [N]
 * @param critical.compression > 0, default 6160 [N]
 * @param critical.flexion > 0, default 310 [N m]
 * @param critical.extension > 0, default 135 [N m]
 * @returns value >= 0 [1]
 * @returns load which of the four combinations gives it
 * @returns sample at which, counted from 0 [1]
 * @returns force along the neck at that sample, tension positive [N]
 * @returns condyleMoment at that sample, flexion positive [N m]
 * @returns peak.tension over the record, >= 0 [N]
 * @returns peak.compression over the record, >= 0 [N]
 * @throws RangeError outside those ranges; TypeError for records of different length
 * @equation value = max(force / critical.tension, -force / critical.compression) + max(condyleMoment / critical.flexion, -condyleMoment / critical.extension)
 * @source us-49cfr-571-208, S6.6
 * @source us-49cfr-572-123, moment at the occipital condyles
 * @example neckCriterion({ axialForce: [3000], moment: [-60], critical: { tension: 6806, compression: 6160, flexion: 310, extension: 135 } }).value // 0.8852320
 */
export const neckCriterion = ({ axialForce, moment, shear, distance = CONDYLE_DISTANCE, critical = NECK_CRITICAL }: {
  readonly axialForce: ArrayLike<number>;
  readonly moment: ArrayLike<number>;
  readonly shear?: ArrayLike<number>;
  readonly distance?: number;
  readonly critical?: { readonly tension: number; readonly compression: number; readonly flexion: number; readonly extension: number };
}) => {
  const kernel = "neckCriterion";
  requireSeries(kernel, "axialForce", axialForce, 1, "N");
  requireSeries(kernel, "moment", moment, 1, "N m");
  requireSameLength(kernel, "axialForce", axialForce, "moment", moment);
  if (shear !== undefined) {
    requireSeries(kernel, "shear", shear, 1, "N");
    requireSameLength(kernel, "axialForce", axialForce, "shear", shear);
  }
  requireNonNegative(kernel, "distance", distance, "m");
  requirePositive(kernel, "critical.tension", critical.tension, "N");
  requirePositive(kernel, "critical.compression", critical.compression, "N");
  requirePositive(kernel, "critical.flexion", critical.flexion, "N m");
  requirePositive(kernel, "critical.extension", critical.extension, "N m");
  let best = { value: -1, sample: 0, force: 0, condyleMoment: 0 };
  const peak = { tension: 0, compression: 0 };
  for (let i = 0; i < axialForce.length; i++) {
    const force = axialForce[i] as number;
    const condyleMoment = (moment[i] as number) - distance * (shear?.[i] ?? 0);
    const value = Math.abs(force) / (force < 0 ? critical.compression : critical.tension) + Math.abs(condyleMoment) / (condyleMoment < 0 ? critical.extension : critical.flexion);
    if (value > best.value) best = { value, sample: i, force, condyleMoment };
    peak.tension = Math.max(peak.tension, force);
    peak.compression = Math.max(peak.compression, -force);
  }
  const load: NeckLoad = `${best.force < 0 ? "compression" : "tension"} and ${best.condyleMoment < 0 ? "extension" : "flexion"}`;
  return { ...best, load, peak };
};
