import { requireBetween, requireNonNegative, requirePositive } from "../check.ts";
import { profileMeans, requireProfile, type CrushProfile } from "./crushProfile.ts";

/** Force per unit of width = a + b x depth. */
export interface CrushStiffness {
  /** At no depth, >= 0: what a front bears without lasting damage [N/m] */
  readonly a: number;
  /** Growth with depth, > 0 [N/m^2] */
  readonly b: number;
}

/** A damaged width, as measured, with what it bears. */
export interface Damage extends CrushProfile {
  readonly stiffness: CrushStiffness;
  /** Between the force and the perpendicular of the damaged face; left out: 0 [rad] */
  readonly forceAngle?: number;
}

/** Where practice stops correcting: the factor is 2 there. */
const STEEPEST = Math.PI / 4;

/** Refuses what is not damage. */
export const requireDamage = (kernel: string, name: string, damage: Damage): void => {
  const prefix = name === "" ? "" : `${name}.`;
  requireProfile(kernel, name, damage);
  requireNonNegative(kernel, `${prefix}stiffness.a`, damage.stiffness.a, "N/m");
  requirePositive(kernel, `${prefix}stiffness.b`, damage.stiffness.b, "N/m^2");
  requireBetween(kernel, `${prefix}forceAngle`, damage.forceAngle ?? 0, -STEEPEST, STEEPEST, "rad");
};

/** crushEnergy of damage already checked. */
export const absorbed = ({ profile, width, stiffness: { a, b }, forceAngle = 0 }: Damage) => {
  const { depth, square } = profileMeans(profile);
  const threshold = a ** 2 / (2 * b);
  const obliqueFactor = 1 + Math.tan(forceAngle) ** 2;
  return {
    energy: obliqueFactor * width * (a * depth + (b * square) / 2 + threshold),
    threshold,
    obliqueFactor,
    force: width * (a + b * depth),
    meanDepth: depth,
    meanSquareDepth: square,
  };
};

/**
 * Energy absorbed in crush, from a measured crush profile.
 *
 * Model: force per unit of width grows linearly with depth, a + b c, above a threshold that leaves no lasting damage; straight lines
 * between the stations, integrated exactly; the threshold counts over the whole width, also where the depth is 0. A force at an angle
 * to the perpendicular of the face adds 1 + tan^2, up to 45 degrees, where practice stops; later writers argue for less. Holds for
 * faces like those that a and b were measured on. Not for deep, narrow or overridden damage, nor for wheels and hard points.
 *
 * @param profile residual crush depth at equally spaced stations, shape (n,), n >= 2, each >= 0 [m]
 * @param width > 0, spanned by the stations [m]
 * @param stiffness.a force per unit of width at no depth, >= 0 [N/m]
 * @param stiffness.b its growth with depth, > 0 [N/m^2]
 * @param forceAngle between the force and the perpendicular of the face, between -0.7853981633974483 and 0.7853981633974483, default 0 [rad]
 * @returns energy >= 0 [J]
 * @returns threshold energy per unit of width taken before damage lasts, often written G [N]
 * @returns obliqueFactor 1 to 2 [1]
 * @returns force across the face at the depth measured, perpendicular to it [N]
 * @returns meanDepth [m]
 * @returns meanSquareDepth mean of the square of the depth [m^2]
 * @throws RangeError outside those ranges; TypeError for under 2 stations
 * @equation threshold = stiffness.a^2 / (2 * stiffness.b)
 * @equation obliqueFactor = 1 + tan(forceAngle)^2
 * @equation energy = obliqueFactor * width * (stiffness.a * meanDepth + stiffness.b * meanSquareDepth / 2 + threshold)
 * @equation force = width * (stiffness.a + stiffness.b * meanDepth)
 * @source dot-hs-805-732, energy of a crush profile
 * @source campbell-1974, linear force against crush
 * @example crushEnergy({ profile: [0.2, 0.3, 0.4], width: 1.5, stiffness: { a: 50000, b: 600000 } }).energy // 67625
 */
export const crushEnergy = (damage: Damage) => {
  requireDamage("crushEnergy", "", damage);
  return absorbed(damage);
};
