import { requireNonNegative, requirePositive } from "../check.ts";

/**
 * How far an upright edge leans in the picture of a camera that reads its lines one after another.
 *
 * Model: lines read at an even pace from top to bottom, steady speed across the picture. A camera that exposes all lines at once
 * has no readout time and no lean.
 *
 * @param speed across the picture, >= 0 [m/s]
 * @param readoutTime from the first line to the last, >= 0 [s]
 * @param pixelSize what one pixel covers in the plane of motion, > 0 [m]
 * @returns lean over the whole height of the picture [m]
 * @returns leanPixels over the whole height of the picture [1]
 * @throws RangeError outside those ranges
 * @equation lean = speed * readoutTime
 * @equation leanPixels = speed * readoutTime / pixelSize
 * @source derived, definition of a speed
 * @example rollingShutterLean({ speed: 15, readoutTime: 0.008, pixelSize: 0.002 }).leanPixels // 60
 */
export const rollingShutterLean = ({ speed, readoutTime, pixelSize }: { readonly speed: number; readonly readoutTime: number; readonly pixelSize: number }) => {
  requireNonNegative("rollingShutterLean", "speed", speed, "m/s");
  requireNonNegative("rollingShutterLean", "readoutTime", readoutTime, "s");
  requirePositive("rollingShutterLean", "pixelSize", pixelSize, "m");
  const lean = speed * readoutTime;
  return { lean, leanPixels: lean / pixelSize };
};
