import { requireNonNegative, requirePositive } from "../check.ts";

/**
 * How far something moves from one frame to the next, and how many frames fall into a pulse.
 *
 * Model: frames evenly spaced in time, a steady speed across the picture. Where the pulse starts between two frames is left to chance: it
 * catches the whole number below or above frames.
 *
 * @param captureRate frames taken in each second of the event, > 0 [1/s]
 * @param speed across the picture, >= 0 [m/s]
 * @param pulseDuration > 0 [s]
 * @returns frameInterval from one frame to the next [s]
 * @returns movementPerFrame >= 0 [m]
 * @returns frames in the pulse, on average > 0 [1]
 * @returns fewestFrames whole frames that are sure to fall in the pulse [1]
 * @throws RangeError outside those ranges
 * @equation frameInterval = 1 / captureRate
 * @equation movementPerFrame = speed / captureRate
 * @equation frames = captureRate * pulseDuration
 * @equation fewestFrames = floor(captureRate * pulseDuration)
 * @source derived, definition of a rate
 * @example framesInPulse({ captureRate: 1000, speed: 15, pulseDuration: 0.07 }).movementPerFrame // 0.015
 */
export const framesInPulse = ({ captureRate, speed, pulseDuration }: { readonly captureRate: number; readonly speed: number; readonly pulseDuration: number }) => {
  requirePositive("framesInPulse", "captureRate", captureRate, "1/s");
  requireNonNegative("framesInPulse", "speed", speed, "m/s");
  requirePositive("framesInPulse", "pulseDuration", pulseDuration, "s");
  const frames = captureRate * pulseDuration;
  return { frameInterval: 1 / captureRate, movementPerFrame: speed / captureRate, frames, fewestFrames: Math.floor(frames) };
};
