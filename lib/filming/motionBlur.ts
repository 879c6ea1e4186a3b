import { requireBetween, requirePositive } from "../check.ts";

/**
 * How far something smears across the picture while the shutter is open, and the exposure that keeps it to so many pixels.
 *
 * Model: steady speed across the picture, all of the picture exposed at once. A part that moves towards the camera smears less;
 * one nearer than the plane that pixelSize was taken in smears more.
 *
 * @param speed across the picture, > 0 [m/s]
 * @param exposure while the shutter is open, > 0 [s]
 * @param pixelSize what one pixel covers in the plane of motion, > 0 [m]
 * @param allowedPixels smear that the reader of the film accepts, > 0, default 1 [1]
 * @returns blur in the plane of motion [m]
 * @returns blurPixels in the picture [1]
 * @returns allowedExposure the longest that keeps to allowedPixels [s]
 * @throws RangeError outside those ranges
 * @equation blur = speed * exposure
 * @equation blurPixels = speed * exposure / pixelSize
 * @equation allowedExposure = allowedPixels * pixelSize / speed
 * @source derived, definition of a speed
 * @example motionBlur({ speed: 15, exposure: 0.0002, pixelSize: 0.002 }).blurPixels // 1.5
 */
export const motionBlur = ({ speed, exposure, pixelSize, allowedPixels = 1 }: { readonly speed: number; readonly exposure: number; readonly pixelSize: number; readonly allowedPixels?: number }) => {
  requirePositive("motionBlur", "speed", speed, "m/s");
  requirePositive("motionBlur", "exposure", exposure, "s");
  requirePositive("motionBlur", "pixelSize", pixelSize, "m");
  requirePositive("motionBlur", "allowedPixels", allowedPixels);
  const blur = speed * exposure;
  return { blur, blurPixels: blur / pixelSize, allowedExposure: (allowedPixels * pixelSize) / speed };
};

/**
 * Exposure that a shutter angle stands for, and the light it costs against a frame's whole time.
 *
 * Model: the shutter is open for that share of a full turn a frame. A stop is a factor of two in light.
 *
 * @param shutterAngle > 0 and <= 6.283185307179586 [rad]
 * @param captureRate frames taken in each second of the event, > 0 [1/s]
 * @returns exposure > 0 [s]
 * @returns stopsLost against a shutter open all the time, >= 0 [1]
 * @throws RangeError outside those ranges
 * @equation exposure = shutterAngle / (2 * pi * captureRate)
 * @equation stopsLost = log2(2 * pi / shutterAngle)
 * @source derived, definition of a shutter angle
 * @example shutterExposure({ shutterAngle: Math.PI, captureRate: 1000 }).exposure // 0.0005
 */
export const shutterExposure = ({ shutterAngle, captureRate }: { readonly shutterAngle: number; readonly captureRate: number }) => {
  requirePositive("shutterExposure", "shutterAngle", shutterAngle, "rad");
  requireBetween("shutterExposure", "shutterAngle", shutterAngle, 0, 2 * Math.PI, "rad");
  requirePositive("shutterExposure", "captureRate", captureRate, "1/s");
  return { exposure: shutterAngle / (2 * Math.PI * captureRate), stopsLost: Math.log2((2 * Math.PI) / shutterAngle) };
};

/**
 * Light lost when the exposure is cut, to be made up by lamps, lens or film speed.
 *
 * Model: light collected is proportional to the time the shutter is open. A stop is a factor of two.
 *
 * @param from exposure before, > 0 [s]
 * @param to exposure after, > 0 [s]
 * @returns lightRatio before to after, > 0 [1]
 * @returns stops lost; negative where light is gained [1]
 * @throws RangeError outside those ranges
 * @equation lightRatio = from / to
 * @equation stops = log2(from / to)
 * @source iso-2720, exposure value
 * @example exposureStops({ from: 0.02, to: 0.0001 }).stops // 7.643856189774724
 */
export const exposureStops = ({ from, to }: { readonly from: number; readonly to: number }) => {
  requirePositive("exposureStops", "from", from, "s");
  requirePositive("exposureStops", "to", to, "s");
  return { lightRatio: from / to, stops: Math.log2(from / to) };
};
