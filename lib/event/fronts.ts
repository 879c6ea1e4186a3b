import { crushAt, seriesCurve, unloadingGive } from "../structure/forceCrushCurve.ts";
import type { CrashVehicle } from "./types.ts";

/**
 * The two fronts as one while the crash is stepped: force and each front's crush are straight lines of the overlap. Every
 * field is a number from the start, as in Seat.
 */
export class Fronts {
  /** Overlap, force and crush where straight parts begin. */
  readonly from: readonly number[];
  readonly forceFrom: readonly number[];
  readonly crushAFrom: readonly number[];
  readonly crushBFrom: readonly number[];
  /** The straight part being loaded. */
  part = 0;
  partFrom = NaN;
  partEnd = NaN;
  partForce = NaN;
  partCrushA = NaN;
  partCrushB = NaN;
  stiffness = NaN;
  shareA = NaN;
  shareB = NaN;
  readonly giveA: number = NaN;
  readonly giveB: number = NaN;
  /** Infinity: the fronts give nothing back. */
  readonly unloadStiffness: number = NaN;
  force = NaN;
  peakForce = NaN;
  peakOverlap = NaN;
  /** Largest crush of each. */
  crushA = NaN;
  crushB = NaN;
  /** Fronts that give nothing back hold together once they move as one. */
  locked = false;

  constructor(a: CrashVehicle, b: CrashVehicle) {
    const { crush, force } = seriesCurve(a.front, b.front);
    this.from = crush;
    this.forceFrom = force;
    this.crushAFrom = force.map((f) => crushAt(a.front, f));
    this.crushBFrom = force.map((f) => crushAt(b.front, f));
    this.giveA = unloadingGive(a.unloading);
    this.giveB = unloadingGive(b.unloading);
    this.unloadStiffness = 1 / (this.giveA + this.giveB);
    this.force = this.peakForce = this.peakOverlap = this.crushA = this.crushB = 0;
    begin(this, 0);
  }
}

const begin = (f: Fronts, part: number): void => {
  const { from, forceFrom, crushAFrom, crushBFrom } = f;
  const last = part + 2 === from.length;
  const wide = from[part + 1]! - from[part]!;
  f.part = part;
  f.partFrom = from[part]!;
  f.partForce = forceFrom[part]!;
  f.partCrushA = crushAFrom[part]!;
  f.partCrushB = crushBFrom[part]!;
  f.stiffness = (forceFrom[part + 1]! - f.partForce) / wide;
  f.shareA = (crushAFrom[part + 1]! - f.partCrushA) / wide;
  f.shareB = (crushBFrom[part + 1]! - f.partCrushB) / wide;
  f.partEnd = last ? Infinity : from[part + 1]!;
};

/** Takes the force at an overlap, loading further if it is the deepest yet. Below zero the fronts have come apart. */
export const press = (f: Fronts, overlap: number): void => {
  if (overlap > f.peakOverlap) {
    while (overlap > f.partEnd) begin(f, f.part + 1);
    const into = overlap - f.partFrom;
    f.peakOverlap = overlap;
    f.peakForce = f.force = f.partForce + f.stiffness * into;
    f.crushA = f.partCrushA + f.shareA * into;
    f.crushB = f.partCrushB + f.shareB * into;
  } else if (f.unloadStiffness === Infinity) f.force = f.peakForce;
  else f.force = f.peakForce - f.unloadStiffness * (f.peakOverlap - overlap);
};
