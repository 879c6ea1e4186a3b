import { requireFinite, requireNonNegative, requirePositive } from "../check.ts";

/**
 * Velocity from two places of a marker and the frames counted between them.
 *
 * Model: mean velocity over the frames counted. Errors of both places and of the capture rate are independent and small. The rate is that of the
 * camera while it filmed: neither that of the cut film nor that of the screen.
 *
 * @param from place of the marker in the first frame [m]
 * @param to place of the marker in the last frame [m]
 * @param frames counted from the first to the last, > 0 [1]
 * @param captureRate frames taken in each second of the event, > 0 [1/s]
 * @param placeGive give or take of each place, >= 0 [m]
 * @param rateGive give or take of the capture rate, >= 0 [1/s]
 * @returns velocity signed [m/s]
 * @returns give give or take of it [m/s]
 * @throws RangeError outside those ranges
 * @equation velocity = (to - from) * captureRate / frames
 * @equation give = sqrt(2 * (placeGive * captureRate / frames)^2 + ((to - from) * rateGive / frames)^2)
 * @source gum, section 5.1.2
 * @example velocityFromFrames({ from: 0, to: 0.3, frames: 20, captureRate: 1000, placeGive: 0.001, rateGive: 0 }).velocity // 15
 */
export const velocityFromFrames = ({ from, to, frames, captureRate, placeGive, rateGive }: {
  readonly from: number;
  readonly to: number;
  readonly frames: number;
  readonly captureRate: number;
  readonly placeGive: number;
  readonly rateGive: number;
}) => {
  const kernel = "velocityFromFrames";
  requireFinite(kernel, "from", from, "m");
  requireFinite(kernel, "to", to, "m");
  requirePositive(kernel, "frames", frames);
  requirePositive(kernel, "captureRate", captureRate, "1/s");
  requireNonNegative(kernel, "placeGive", placeGive, "m");
  requireNonNegative(kernel, "rateGive", rateGive, "1/s");
  const place = (placeGive * captureRate) / frames;
  return { velocity: ((to - from) * captureRate) / frames, give: Math.hypot(place, place, ((to - from) * rateGive) / frames) };
};
