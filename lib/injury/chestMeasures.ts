import { requireOneOf, requirePositive, requireSeries } from "../check.ts";
import { CLIP_DEFINITIONS, clip3ms, type ClipDefinition } from "./clip3ms.ts";

/**
 * Peak and 3 ms clip of a record of chest acceleration.
 *
 * Model: each sample counts by its size, so give the resultant, or the only component there is. Measures of a test dummy, not of a person.
 *
 * @param sampleInterval > 0 [s]
 * @param acceleration of the chest, shape (n,), spanning at least 3 ms [m/s^2]
 * @param definition of the clip: cumulative or contiguous
 * @param duration that the clip is held for, > 0, default 0.003 [s]
 * @returns peak >= 0 [m/s^2]
 * @returns peakTime [s]
 * @returns clip >= 0, see clip3ms [m/s^2]
 * @throws RangeError outside those ranges; TypeError for another definition
 * @source us-49cfr-571-208, S6.3
 * @example chestMeasures({ sampleInterval: 0.001, acceleration: [0, 300, 600, 600, 600, 300, 0], definition: "cumulative" }).peak // 600
 */
export const chestMeasures = ({ sampleInterval, acceleration, definition, duration = 0.003 }: { readonly sampleInterval: number; readonly acceleration: ArrayLike<number>; readonly definition: ClipDefinition; readonly duration?: number }) => {
  requirePositive("chestMeasures", "sampleInterval", sampleInterval, "s");
  requireSeries("chestMeasures", "acceleration", acceleration, 2, "m/s^2");
  requireOneOf("chestMeasures", "definition", definition, CLIP_DEFINITIONS);
  requirePositive("chestMeasures", "duration", duration, "s");
  let at = 0;
  for (let i = 1; i < acceleration.length; i++) if (Math.abs(acceleration[i] as number) > Math.abs(acceleration[at] as number)) at = i;
  return { peak: Math.abs(acceleration[at] as number), peakTime: at * sampleInterval, clip: clip3ms({ sampleInterval, acceleration, definition, duration }).value };
};
