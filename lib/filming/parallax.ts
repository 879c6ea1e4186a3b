import { requireFinite, requirePositive, requireThat } from "../check.ts";

/**
 * Error of every length and speed on a marker that moves nearer to the camera, or farther, than the baseline its scale came from.
 *
 * Model: pinhole, both planes square to the line of sight.
 *
 * @param distance from the camera to the plane of the baseline, > 0 [m]
 * @param offset of the plane of motion towards the camera, < distance; negative behind the baseline [m]
 * @returns ratio apparent length to true length, > 0 [1]
 * @returns scaleError of apparent lengths and speeds, as a share of the true ones, signed [1]
 * @returns correction true length to apparent length: multiply by it [1]
 * @throws RangeError outside those ranges
 * @equation ratio = distance / (distance - offset)
 * @equation scaleError = offset / (distance - offset)
 * @equation correction = (distance - offset) / distance
 * @source derived, similar triangles
 * @example parallaxError({ distance: 12, offset: 0.9 }).ratio // 1.0810810810810811
 */
export const parallaxError = ({ distance, offset }: { readonly distance: number; readonly offset: number }) => {
  requirePositive("parallaxError", "distance", distance, "m");
  requireFinite("parallaxError", "offset", offset, "m");
  requireThat(offset < distance, "parallaxError", "offset", `< ${distance} m, the distance (the motion is behind the camera)`, offset);
  const left = distance - offset;
  return { ratio: distance / left, scaleError: offset / left, correction: left / distance };
};
