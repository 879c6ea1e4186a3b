import { requirePositive } from "../check.ts";

export interface CrushingBody {
  /** > 0 [kg] */
  readonly mass: number;
  /** > 0 [N/m] */
  readonly stiffness: number;
}

/**
 * Two linear fronts crushing each other, head-on, until both vehicles move as one.
 *
 * Model: each front is one straight line of force against crush; the force is shared, the crushes add, nothing springs
 * back. Holds for central, full-overlap impacts of two bodies. Not for a front that stiffens: see vehiclesAlone.
 *
 * @param a.mass > 0 [kg]
 * @param a.stiffness > 0 [N/m]
 * @param b.mass > 0 [kg]
 * @param b.stiffness > 0 [N/m]
 * @param closingSpeed > 0 [m/s]
 * @returns seriesStiffness of both fronts as one [N/m]
 * @returns peakForce [N]
 * @returns crush of each [m]
 * @returns energy absorbed by each [J]
 * @returns duration until both move as one [s]
 * @returns peakDeceleration of each [m/s^2]
 * @returns equivalentWallSpeed of each: the speed into a rigid wall at which its front would absorb as much [m/s]
 * @throws RangeError outside those ranges
 * @equation seriesStiffness = a.stiffness * b.stiffness / (a.stiffness + b.stiffness)
 * @equation peakForce = closingSpeed * sqrt(a.mass * b.mass / (a.mass + b.mass) * seriesStiffness)
 * @equation crush.a = peakForce / a.stiffness
 * @equation crush.b = peakForce / b.stiffness
 * @equation energy.a = peakForce^2 / (2 * a.stiffness)
 * @equation energy.b = peakForce^2 / (2 * b.stiffness)
 * @equation duration = pi / 2 * sqrt(a.mass * b.mass / (a.mass + b.mass) / seriesStiffness)
 * @equation peakDeceleration.a = peakForce / a.mass
 * @equation peakDeceleration.b = peakForce / b.mass
 * @equation equivalentWallSpeed.a = sqrt(2 * energy.a / a.mass)
 * @equation equivalentWallSpeed.b = sqrt(2 * energy.b / b.mass)
 * @source derived, reduced mass on two springs in series
 * @example mutualCrush({ a: { mass: 1200, stiffness: 700000 }, b: { mass: 1800, stiffness: 1000000 }, closingSpeed: 20 }).peakForce // 344366.426
 */
export const mutualCrush = ({ a, b, closingSpeed }: { readonly a: CrushingBody; readonly b: CrushingBody; readonly closingSpeed: number }) => {
  for (const [name, body] of [["a", a], ["b", b]] as const) {
    requirePositive("mutualCrush", `${name}.mass`, body.mass, "kg");
    requirePositive("mutualCrush", `${name}.stiffness`, body.stiffness, "N/m");
  }
  requirePositive("mutualCrush", "closingSpeed", closingSpeed, "m/s");
  const reducedMass = (a.mass * b.mass) / (a.mass + b.mass);
  const seriesStiffness = (a.stiffness * b.stiffness) / (a.stiffness + b.stiffness);
  const peakForce = closingSpeed * Math.sqrt(reducedMass * seriesStiffness);
  const energy = { a: peakForce ** 2 / (2 * a.stiffness), b: peakForce ** 2 / (2 * b.stiffness) };
  return {
    seriesStiffness,
    peakForce,
    crush: { a: peakForce / a.stiffness, b: peakForce / b.stiffness },
    energy,
    duration: (Math.PI / 2) * Math.sqrt(reducedMass / seriesStiffness),
    peakDeceleration: { a: peakForce / a.mass, b: peakForce / b.mass },
    equivalentWallSpeed: { a: Math.sqrt((2 * energy.a) / a.mass), b: Math.sqrt((2 * energy.b) / b.mass) },
  };
};
