import { requireNonNegative, requireOneOf } from "../check.ts";
import { fromSI } from "../units.ts";

/** Intercepts of the index for a mid-size male dummy, by edition: acceleration in multiples of gravity, deflection in mm. */
export const THORACIC_INTERCEPTS = {
  1998: { acceleration: 90, deflection: 103, status: "second-hand" },
  1999: { acceleration: 85, deflection: 102, status: "from memory" },
} as const;

/**
 * Combined thoracic index: chest acceleration and chest deflection of a mid-size male dummy, each as a share of an intercept.
 *
 * Model: the sum of both shares. Two editions with different intercepts carry the one name, so the edition must be said. It describes
 * a test dummy's chest, not a person's.
 *
 * @units-fixed the intercepts are published in multiples of gravity and in millimetres
 * @param acceleration of the chest, 3 ms clip, >= 0 [m/s^2]
 * @param deflection of the chest, >= 0 [m]
 * @param edition 1998 or 1999, as a text
 * @returns value >= 0 [1]
 * @throws RangeError outside those ranges; TypeError for another edition
 * @source kleinberger-1998, combined thoracic index
 * @example combinedThoracicIndex({ acceleration: 490.3325, deflection: 0.04, edition: "1998" }).value // 0.9439051
 */
export const combinedThoracicIndex = ({ acceleration, deflection, edition }: { readonly acceleration: number; readonly deflection: number; readonly edition: `${keyof typeof THORACIC_INTERCEPTS}` }) => {
  requireNonNegative("combinedThoracicIndex", "acceleration", acceleration, "m/s^2");
  requireNonNegative("combinedThoracicIndex", "deflection", deflection, "m");
  requireOneOf("combinedThoracicIndex", "edition", edition, Object.keys(THORACIC_INTERCEPTS));
  const intercept = THORACIC_INTERCEPTS[edition];
  return { value: fromSI(acceleration, "gn") / intercept.acceleration + fromSI(deflection, "mm") / intercept.deflection };
};
