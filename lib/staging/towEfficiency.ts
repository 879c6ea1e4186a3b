import { requireNonNegative, requirePositive, requireThat } from "../check.ts";
import { STANDARD_GRAVITY } from "../constants.ts";
import type { TowedVehicle } from "./gravityTow.ts";

/**
 * Efficiency of the lines, from the speed that a rehearsal reached.
 *
 * Model: as gravityTow, turned round for one efficiency that both lines share. Everything else that was lost, friction of the guide
 * included, is counted as the lines'. An answer above 1 means that the measurements contradict each other, not that the tow gains energy.
 *
 * @param drop > 0, fall of the mass until release [m]
 * @param fallingMass > 0 [kg]
 * @param a.speed > 0, measured at release [m/s]
 * @param a.mass >= 0, 0: nothing on that line [kg]
 * @param a.travelPerDrop > 0, travel of the vehicle for each unit of drop, by the reeving [1]
 * @param a.rollingResistance >= 0, share of weight [1]
 * @param b.mass >= 0, 0: nothing on that line [kg]
 * @param b.travelPerDrop > 0 [1]
 * @param b.rollingResistance >= 0, share of weight [1]
 * @param gravity > 0, default STANDARD_GRAVITY [m/s^2]
 * @returns efficiency pull at the vehicles over pull at the frame [1]
 * @returns frameSpeed of the mass itself at release [m/s]
 * @returns lost in the lines [J]
 * @throws RangeError outside those ranges, or for a speed that the frame would reach only above free fall
 * @equation frameSpeed = a.speed / a.travelPerDrop
 * @equation efficiency = (a.mass * (a.speed^2 / 2 + a.rollingResistance * gravity * a.travelPerDrop * drop) + b.mass * ((b.travelPerDrop * frameSpeed)^2 / 2 + b.rollingResistance * gravity * b.travelPerDrop * drop)) / (fallingMass * (gravity * drop - frameSpeed^2 / 2))
 * @equation lost = (1 - efficiency) * fallingMass * (gravity * drop - frameSpeed^2 / 2)
 * @source derived, energy of a falling mass shared out by the law of each part
 * @sample drop 8 30
 * @sample a.speed 4 10
 * @sample a.travelPerDrop 1 3
 * @sample b.travelPerDrop 1 3
 * @sample a.rollingResistance 0 0.05
 * @sample b.rollingResistance 0 0.05
 * @example towEfficiency({ drop: 10, fallingMass: 500, a: { speed: 10, mass: 500, travelPerDrop: 2, rollingResistance: 0 }, b: { mass: 1000, travelPerDrop: 1, rollingResistance: 0 }, gravity: 10 }).efficiency // 0.8571428571428571
 */
export const towEfficiency = ({ drop, fallingMass, a, b, gravity = STANDARD_GRAVITY }: { readonly drop: number; readonly fallingMass: number; readonly a: Omit<TowedVehicle, "efficiency"> & { readonly speed: number }; readonly b: Omit<TowedVehicle, "efficiency">; readonly gravity?: number }) => {
  requirePositive("towEfficiency", "drop", drop, "m");
  requirePositive("towEfficiency", "fallingMass", fallingMass, "kg");
  requirePositive("towEfficiency", "a.speed", a.speed, "m/s");
  for (const [name, vehicle] of [["a", a], ["b", b]] as const) {
    requireNonNegative("towEfficiency", `${name}.mass`, vehicle.mass, "kg");
    requirePositive("towEfficiency", `${name}.travelPerDrop`, vehicle.travelPerDrop);
    requireNonNegative("towEfficiency", `${name}.rollingResistance`, vehicle.rollingResistance);
  }
  requirePositive("towEfficiency", "gravity", gravity, "m/s^2");
  requireThat(a.mass + b.mass > 0, "towEfficiency", "a.mass + b.mass", "> 0 kg", a.mass + b.mass);
  const frameSpeed = a.speed / a.travelPerDrop;
  const fastest = a.travelPerDrop * Math.sqrt(2 * gravity * drop);
  requireThat(a.speed < fastest, "towEfficiency", "a.speed", `< ${fastest} m/s (free fall of the mass)`, a.speed);
  const arrived = [a, b].reduce((sum, { mass, travelPerDrop, rollingResistance }) => sum + mass * ((travelPerDrop * frameSpeed) ** 2 / 2 + rollingResistance * gravity * travelPerDrop * drop), 0);
  const given = fallingMass * (gravity * drop - frameSpeed ** 2 / 2);
  return { efficiency: arrived / given, frameSpeed, lost: given - arrived };
};
