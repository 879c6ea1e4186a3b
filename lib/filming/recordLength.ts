import { requirePositive } from "../check.ts";

/**
 * How many frames fit into a camera's memory, how long they last, and what memory a wanted record needs.
 *
 * Model: every frame takes pixels times bits, uncompressed, with nothing else stored. A frame is kept whole or not at all.
 *
 * @param memory in bytes of 8 bits, > 0 [1]
 * @param pixelsAcross > 0 [1]
 * @param pixelsDown > 0 [1]
 * @param bitsPerPixel > 0 [1]
 * @param captureRate frames taken in each second of the event, > 0 [1/s]
 * @param wantedDuration of the event to be kept, > 0, default 1 [s]
 * @returns bytesPerFrame [1]
 * @returns frames whole, that fit [1]
 * @returns duration of the event that fits [s]
 * @returns wantedMemory in bytes, for wantedDuration [1]
 * @throws RangeError outside those ranges
 * @equation bytesPerFrame = pixelsAcross * pixelsDown * bitsPerPixel / 8
 * @equation frames = floor(memory / bytesPerFrame)
 * @equation duration = frames / captureRate
 * @equation wantedMemory = ceil(wantedDuration * captureRate) * bytesPerFrame
 * @source derived, count of bits
 * @example recordLength({ memory: 4294967296, pixelsAcross: 1024, pixelsDown: 1024, bitsPerPixel: 8, captureRate: 1000 }).duration // 4.096
 */
export const recordLength = ({ memory, pixelsAcross, pixelsDown, bitsPerPixel, captureRate, wantedDuration = 1 }: {
  readonly memory: number;
  readonly pixelsAcross: number;
  readonly pixelsDown: number;
  readonly bitsPerPixel: number;
  readonly captureRate: number;
  readonly wantedDuration?: number;
}) => {
  requirePositive("recordLength", "memory", memory, "bytes");
  requirePositive("recordLength", "pixelsAcross", pixelsAcross);
  requirePositive("recordLength", "pixelsDown", pixelsDown);
  requirePositive("recordLength", "bitsPerPixel", bitsPerPixel);
  requirePositive("recordLength", "captureRate", captureRate, "1/s");
  requirePositive("recordLength", "wantedDuration", wantedDuration, "s");
  const bytesPerFrame = (pixelsAcross * pixelsDown * bitsPerPixel) / 8;
  const frames = Math.floor(memory / bytesPerFrame);
  return { bytesPerFrame, frames, duration: frames / captureRate, wantedMemory: Math.ceil(wantedDuration * captureRate) * bytesPerFrame };
};
