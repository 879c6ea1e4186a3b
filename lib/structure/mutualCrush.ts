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
 * @param a mass > 0 [kg], stiffness > 0 [N/m]
 * @param b mass > 0 [kg], stiffness > 0 [N/m]
 * @param closingSpeed > 0 [m/s]
 * @returns seriesStiffness [N/m], peakForce [N], crush of each [m], energy of each [J], duration to common velocity [s],
 *   peakDeceleration of each [m/s^2], equivalentWallSpeed of each: the speed into a rigid wall that its front would absorb as much at [m/s]
 * @throws RangeError outside those ranges
 * @equation seriesStiffness = a.stiffness * b.stiffness / (a.stiffness + b.stiffness)
 * @equation peakForce = closingSpeed * sqrt(a.mass * b.mass / (a.mass + b.mass) * a.stiffness * b.stiffness / (a.stiffness + b.stiffness))
 * @equation crush.a = closingSpeed * sqrt(a.mass * b.mass / (a.mass + b.mass) * a.stiffness * b.stiffness / (a.stiffness + b.stiffness)) / a.stiffness
 * @equation crush.b = closingSpeed * sqrt(a.mass * b.mass / (a.mass + b.mass) * a.stiffness * b.stiffness / (a.stiffness + b.stiffness)) / b.stiffness
 * @equation energy.a = closingSpeed^2 / 2 * a.mass * b.mass / (a.mass + b.mass) * b.stiffness / (a.stiffness + b.stiffness)
 * @equation energy.b = closingSpeed^2 / 2 * a.mass * b.mass / (a.mass + b.mass) * a.stiffness / (a.stiffness + b.stiffness)
 * @equation duration = pi / 2 * sqrt(a.mass * b.mass / (a.mass + b.mass) * (a.stiffness + b.stiffness) / (a.stiffness * b.stiffness))
 * @equation peakDeceleration.a = closingSpeed * sqrt(a.mass * b.mass / (a.mass + b.mass) * a.stiffness * b.stiffness / (a.stiffness + b.stiffness)) / a.mass
 * @equation peakDeceleration.b = closingSpeed * sqrt(a.mass * b.mass / (a.mass + b.mass) * a.stiffness * b.stiffness / (a.stiffness + b.stiffness)) / b.mass
 * @equation equivalentWallSpeed.a = closingSpeed * sqrt(b.mass / (a.mass + b.mass) * b.stiffness / (a.stiffness + b.stiffness))
 * @equation equivalentWallSpeed.b = closingSpeed * sqrt(a.mass / (a.mass + b.mass) * a.stiffness / (a.stiffness + b.stiffness))
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
