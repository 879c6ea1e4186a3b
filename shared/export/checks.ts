/** What a plate must keep to on a screen: its words inside what every set shows, and tall enough to be read. */
import { CAP } from "./type/outline.ts";
import { GRAPHICS_SAFE, inkOf, LEAST_CAP, type Plate, SIZES, type Size } from "./plate.ts";

export interface PlateReport {
  /** Words whose ink reaches out of the graphics-safe area, and by how many pixels. */
  readonly outside: readonly { readonly words: string; readonly by: number }[];
  /** Words whose capitals are lower than they should be, and their height in pixels. */
  readonly small: readonly { readonly words: string; readonly cap: number }[];
  /** Least height of a capital on the plate, and what it should be, in pixels. */
  readonly cap: number;
  readonly leastCap: number;
  /** The graphics-safe area in pixels. */
  readonly safe: { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number };
}

/** Half a pixel of an edge is grey and is not counted. */
const EDGE = 0.5;
const tenth = (value: number): number => Math.round(value * 10) / 10;

export const checkPlate = (plate: Plate, size: Size): PlateReport => {
  const scale = SIZES[size];
  const { left, top, right, bottom } = GRAPHICS_SAFE;
  const outside = plate.words.flatMap((line) => {
    const ink = inkOf(line);
    const by = Math.max(left - ink.left, top - ink.top, ink.right - right, ink.bottom - bottom);
    return by > EDGE ? [{ words: line.words, by: tenth(by * scale) }] : [];
  });
  const capOf = (type: number): number => type * CAP * scale;
  const small = plate.words.flatMap((line) => (capOf(line.size) < LEAST_CAP * scale - 1e-9 ? [{ words: line.words, cap: tenth(capOf(line.size)) }] : []));
  return {
    outside,
    small,
    cap: tenth(Math.min(...plate.words.map((line) => capOf(line.size)))),
    leastCap: LEAST_CAP * scale,
    safe: { left: left * scale, top: top * scale, right: right * scale, bottom: bottom * scale },
  };
};
