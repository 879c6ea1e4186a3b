import { requirePositive } from "../check.ts";

/**
 * Stretch of a line or a rod under a steady pull.
 *
 * Model: uniform, linear elastic, small stretch. A laid rope is softer than a rod of its metal and its stiffness changes with use: give the
 * modulus measured for that rope. Not for the design of lifting gear: the responsible engineer sets factors.
 *
 * @param pull > 0 [N]
 * @param length > 0, unstretched [m]
 * @param area > 0, of the load-bearing section [m^2]
 * @param modulus > 0, of the line along itself [Pa]
 * @returns stiffness [N/m]
 * @returns stretch [m]
 * @returns stress [Pa]
 * @returns energy held in the stretch, set free if the line parts [J]
 * @throws RangeError outside those ranges
 * @equation stiffness = modulus * area / length
 * @equation stretch = pull * length / (modulus * area)
 * @equation stress = pull / area
 * @equation energy = pull * stretch / 2
 * @source openstax-university-physics-1, section 12.3
 * @example lineStretch({ pull: 5000, length: 40, area: 0.0001, modulus: 1e11 }).stretch // 0.02
 */
export const lineStretch = ({ pull, length, area, modulus }: { readonly pull: number; readonly length: number; readonly area: number; readonly modulus: number }) => {
  requirePositive("lineStretch", "pull", pull, "N");
  requirePositive("lineStretch", "length", length, "m");
  requirePositive("lineStretch", "area", area, "m^2");
  requirePositive("lineStretch", "modulus", modulus, "Pa");
  const stiffness = (modulus * area) / length;
  const stretch = pull / stiffness;
  return { stiffness, stretch, stress: pull / area, energy: (pull * stretch) / 2 };
};
