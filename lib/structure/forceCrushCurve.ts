import { requireNonNegative, requirePositive, requireSameLength, requireSeries, requireThat } from "../check.ts";

/**
 * Resistance of a front while it is loaded: straight lines between points, the last one carried on without end.
 * The first point is the untouched front, crush 0 and force 0. Force rises with crush.
 */
export interface ForceCrushCurve {
  /** Crush depth at each point, rising [m]. */
  readonly crush: readonly number[];
  /** Force at each point, rising [N]. */
  readonly force: readonly number[];
  /** Crush at which the nose is used up and the cabin begins to give; left out: the cabin never gives [m]. */
  readonly noseLength?: number;
}

/** How a front gives its crush back: not at all, or along a straight line from its deepest crush. */
export type Unloading = "none" | { readonly stiffness: number };

/** Refuses a curve that two fronts cannot share a force on. */
export const requireCurve = (kernel: string, name: string, curve: ForceCrushCurve): void => {
  requireSeries(kernel, `${name}.crush`, curve.crush, 2, "m");
  requireSeries(kernel, `${name}.force`, curve.force, 2, "N");
  requireSameLength(kernel, `${name}.crush`, curve.crush, `${name}.force`, curve.force);
  requireThat(curve.crush[0] === 0, kernel, `${name}.crush[0]`, "0 m (the untouched front)", curve.crush[0]);
  requireThat(curve.force[0] === 0, kernel, `${name}.force[0]`, "0 N (the untouched front)", curve.force[0]);
  for (let i = 1; i < curve.crush.length; i++) {
    // the rules are worded only for a point that breaks one: this stands in the way of every crash
    if ((curve.crush[i] as number) > (curve.crush[i - 1] as number) && (curve.force[i] as number) > (curve.force[i - 1] as number)) continue;
    requireThat((curve.crush[i] as number) > (curve.crush[i - 1] as number), kernel, `${name}.crush[${i}]`, `> ${curve.crush[i - 1]} m (crush must rise)`, curve.crush[i]);
    requireThat((curve.force[i] as number) > (curve.force[i - 1] as number), kernel, `${name}.force[${i}]`, `> ${curve.force[i - 1]} N (force must rise)`, curve.force[i]);
  }
  if (curve.noseLength !== undefined) requireNonNegative(kernel, `${name}.noseLength`, curve.noseLength, "m");
};

/** Refuses an unloading stiffness that is not steeper than every part of the curve. */
export const requireUnloading = (kernel: string, name: string, unloading: Unloading, curve: ForceCrushCurve): void => {
  if (unloading === "none") return;
  requirePositive(kernel, `${name}.stiffness`, unloading.stiffness, "N/m");
  const steepest = steepestSlope(curve);
  requireThat(unloading.stiffness >= steepest, kernel, `${name}.stiffness`, `>= ${steepest} N/m (the steepest loading slope)`, unloading.stiffness);
};

const slope = (curve: ForceCrushCurve, i: number): number =>
  ((curve.force[i] as number) - (curve.force[i - 1] as number)) / ((curve.crush[i] as number) - (curve.crush[i - 1] as number));

/** Give of an unloading front: crush returned for each newton taken off [m/N]. */
export const unloadingGive = (unloading: Unloading): number => (unloading === "none" ? 0 : 1 / unloading.stiffness);

/** Steepest straight part of a curve [N/m]. */
export const steepestSlope = (curve: ForceCrushCurve): number => {
  let steepest = 0;
  for (let i = 1; i < curve.crush.length; i++) steepest = Math.max(steepest, slope(curve, i));
  return steepest;
};

/** Index of the point that ends the straight part holding `value` of `series`; the last part has no end. */
const partHolding = (series: readonly number[], value: number): number => {
  let i = 1;
  while (i < series.length - 1 && value > (series[i] as number)) i++;
  return i;
};

/**
 * Force needed to hold a front at a crush depth, while it is being loaded.
 *
 * Model: straight lines between the curve's points, the last one carried on. No rate effect. Not for unloading.
 *
 * @param curve points, both rising, from 0 and 0
 * @param curve.crush crush at the points, shape (n,), n >= 2 [m]
 * @param curve.force force at the points, shape (n,) [N]
 * @param crush >= 0 [m]
 * @returns force >= 0 [N]
 * @throws RangeError outside those ranges
 * @source derived
 * @example crushForce({ curve: { crush: [0, 0.5, 1], force: [0, 250000, 1250000] }, crush: 0.6 }).force // 450000
 */
export const crushForce = ({ curve, crush }: { readonly curve: ForceCrushCurve; readonly crush: number }): { readonly force: number } => {
  requireCurve("crushForce", "curve", curve);
  requireNonNegative("crushForce", "crush", crush, "m");
  return { force: forceAt(curve, crush) };
};

/** Force at a crush depth, unchecked. */
export const forceAt = (curve: ForceCrushCurve, crush: number): number => {
  const i = partHolding(curve.crush, crush);
  return (curve.force[i - 1] as number) + slope(curve, i) * (crush - (curve.crush[i - 1] as number));
};

/** Crush depth at a force, unchecked: the inverse of forceAt. */
export const crushAt = (curve: ForceCrushCurve, force: number): number => {
  const i = partHolding(curve.force, force);
  return (curve.crush[i - 1] as number) + (force - (curve.force[i - 1] as number)) / slope(curve, i);
};

/** Energy taken in while loading from 0 to a crush depth, unchecked [J]. */
export const energyAt = (curve: ForceCrushCurve, crush: number): number => {
  let energy = 0;
  const last = partHolding(curve.crush, crush);
  for (let i = 1; i <= last; i++) {
    const from = curve.crush[i - 1] as number;
    const to = i === last ? crush : (curve.crush[i] as number);
    energy += ((forceAt(curve, from) + forceAt(curve, to)) / 2) * (to - from);
  }
  return energy;
};

/**
 * Front made of a nose of one stiffness and, behind it, the cell of another.
 *
 * Model: two straight lines that meet at the nose's length; beyond it crush takes cabin. Stiffnesses are the user's own:
 * no table by vehicle class is meant.
 *
 * @param noseStiffness > 0 [N/m]
 * @param cellStiffness > 0 [N/m]
 * @param noseLength > 0, crush at which the cell is reached [m]
 * @returns crush crush at the points of the curve [m]
 * @returns force force at the points of the curve [N]
 * @returns noseLength crush at which the cell is reached [m]
 * @throws RangeError outside those ranges
 * @source derived
 * @example noseThenCell({ noseStiffness: 1200000, cellStiffness: 4000000, noseLength: 0.55 }).force[1] // 660000
 */
export const noseThenCell = ({ noseStiffness, cellStiffness, noseLength }: { readonly noseStiffness: number; readonly cellStiffness: number; readonly noseLength: number }): ForceCrushCurve => {
  requirePositive("noseThenCell", "noseStiffness", noseStiffness, "N/m");
  requirePositive("noseThenCell", "cellStiffness", cellStiffness, "N/m");
  requirePositive("noseThenCell", "noseLength", noseLength, "m");
  const reached = noseStiffness * noseLength;
  return { crush: [0, noseLength, 2 * noseLength], force: [0, reached, reached + cellStiffness * noseLength], noseLength };
};

/**
 * Two fronts pressed together, as one front.
 *
 * Model: the force is shared and the crushes add, so the pair is again straight lines. Exact while both are being loaded.
 *
 * @param a curve of one front
 * @param a.crush crush at its points [m]
 * @param a.force force at its points [N]
 * @param b curve of the other
 * @param b.crush crush at its points [m]
 * @param b.force force at its points [N]
 * @returns crush crush of both together, at the points of the joint curve [m]
 * @returns force force at those points [N]
 * @throws RangeError for a curve that does not rise
 * @source derived
 * @example frontsInSeries({ a: { crush: [0, 1], force: [0, 300000] }, b: { crush: [0, 1], force: [0, 600000] } }).crush[1] // 1.5
 */
export const frontsInSeries = ({ a, b }: { readonly a: ForceCrushCurve; readonly b: ForceCrushCurve }): ForceCrushCurve => {
  requireCurve("frontsInSeries", "a", a);
  requireCurve("frontsInSeries", "b", b);
  return seriesCurve(a, b);
};

/** Forces nearer than this share of themselves are one bend: two roundings of the same number. */
const ALIKE = 1e-12;

/** Two fronts as one, unchecked: a point at every force where either bends. */
export const seriesCurve = (a: ForceCrushCurve, b: ForceCrushCurve): ForceCrushCurve => {
  const force: number[] = [];
  let i = 0;
  let j = 0;
  while (i < a.force.length || j < b.force.length) {
    const next = Math.min(a.force[i] ?? Infinity, b.force[j] ?? Infinity);
    force.push(next);
    while ((a.force[i] ?? Infinity) <= next * (1 + ALIKE)) i++;
    while ((b.force[j] ?? Infinity) <= next * (1 + ALIKE)) j++;
  }
  return { crush: force.map((f) => crushAt(a, f) + crushAt(b, f)), force };
};
