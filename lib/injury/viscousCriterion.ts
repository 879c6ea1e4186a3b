import { requirePositive, requireSeries } from "../check.ts";

/** Depth of the chest of each test dummy [m], as a standard's table gives it (second-hand). */
export const CHEST_DEPTHS = { midSizeMale: 0.229, smallFemale: 0.187, largeMale: 0.254, sixYearOld: 0.143, threeYearOld: 0.122 } as const;

/** Scale that the same table gives the mid-size male [1]. */
const MALE_SCALE = 1.3;

/**
 * Viscous criterion of a record of chest deflection: how far and how fast at once.
 *
 * Model: the largest product of the speed of compression and the compression as a share of the chest's depth, times a scale that
 * belongs to the dummy. Speed from five neighbouring samples, exact for a curve of the fourth degree; the two samples at each end
 * have none. Filter the deflection first, to the class that the rule names. It describes a test dummy's chest, not a person's.
 *
 * @param sampleInterval > 0 [s]
 * @param deflection of the breastbone against the spine, compression positive, shape (n,), n >= 5 [m]
 * @param depth of the dummy's chest, > 0, default 0.229 [m]
 * @param scale of the dummy, > 0, default 1.3 [1]
 * @returns value >= 0 [m/s]
 * @returns time at which it is reached; 0 when nothing is compressed [s]
 * @returns compression then, as a share of the depth [1]
 * @returns speed of compression then [m/s]
 * @throws RangeError outside those ranges; TypeError for under 5 samples
 * @equation value = scale * speed * compression
 * @source un-r94-rev4, annex 4
 * @source sae-j1727, table of chest depth and scale
 * @example viscousCriterion({ sampleInterval: 0.01, deflection: [0, 0.01, 0.02, 0.03, 0.04] }).value // 0.1135371179
 */
export const viscousCriterion = ({ sampleInterval, deflection, depth = CHEST_DEPTHS.midSizeMale, scale = MALE_SCALE }: {
  readonly sampleInterval: number;
  readonly deflection: ArrayLike<number>;
  readonly depth?: number;
  readonly scale?: number;
}) => {
  requirePositive("viscousCriterion", "sampleInterval", sampleInterval, "s");
  requireSeries("viscousCriterion", "deflection", deflection, 5, "m");
  requirePositive("viscousCriterion", "depth", depth, "m");
  requirePositive("viscousCriterion", "scale", scale);
  const d = (i: number): number => deflection[i] as number;
  let best = { value: 0, time: 0, compression: 0, speed: 0 };
  for (let i = 2; i < deflection.length - 2; i++) {
    const compression = d(i) / depth;
    const speed = (8 * (d(i + 1) - d(i - 1)) - (d(i + 2) - d(i - 2))) / (12 * sampleInterval);
    const value = scale * speed * compression;
    // A chest drawn out and speeding outwards would give a product above 0 too.
    if (compression > 0 && value > best.value) best = { value, time: i * sampleInterval, compression, speed };
  }
  return best;
};
