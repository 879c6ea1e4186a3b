import { requireBetween, requirePositive } from "../check.ts";
import { STANDARD_GRAVITY } from "../constants.ts";
import { requireTowed, steadyAcceleration, type TowedVehicle } from "./gravityTow.ts";

/**
 * Gravity tow of two vehicles when one line parts on the way: the other is pulled too fast.
 *
 * Model: as gravityTow until the line parts, then the whole falling mass on the line that is left. Steady pulls: the jerk of the
 * parting and the recoil of the line are left out. The parted vehicle coasts on from its own speed (see coast).
 * Not for the design of lifting gear: the responsible engineer sets factors.
 *
 * @param drop > 0, fall of the mass until release [m]
 * @param partedAt >= 0 and <= drop, fall of the mass at which the line parts; 0: at the start [m]
 * @param fallingMass > 0 [kg]
 * @param parted.mass >= 0, of the vehicle whose line parts [kg]
 * @param parted.travelPerDrop > 0, travel of the vehicle for each unit of drop, by the reeving [1]
 * @param parted.rollingResistance >= 0, share of weight [1]
 * @param parted.efficiency > 0 and <= 1, pull at the vehicle over pull at the frame [1]
 * @param kept.mass >= 0, of the vehicle whose line holds [kg]
 * @param kept.travelPerDrop > 0 [1]
 * @param kept.rollingResistance >= 0, share of weight [1]
 * @param kept.efficiency > 0 and <= 1 [1]
 * @param gravity > 0, default STANDARD_GRAVITY [m/s^2]
 * @returns speed of the kept vehicle at release [m/s]
 * @returns intendedSpeed that it has if no line parts [m/s]
 * @returns overspeed share above the intended speed [1]
 * @returns partedSpeed of the vehicle set loose, as its line parts [m/s]
 * @returns frameSpeed of the mass itself at release [m/s]
 * @returns frameSpeedAtParting [m/s]
 * @returns time until release [s]
 * @returns timeAtParting [s]
 * @returns accelerationBefore of the mass, both lines whole [m/s^2]
 * @returns accelerationAfter of the mass, one line left [m/s^2]
 * @returns pullBefore of the kept line at its vehicle, steady [N]
 * @returns pullAfter of the kept line at its vehicle, steady [N]
 * @throws RangeError outside those ranges, or for a mass that the rolling resistance holds
 * @equation accelerationBefore = gravity * (fallingMass - parted.travelPerDrop * parted.rollingResistance * parted.mass / parted.efficiency - kept.travelPerDrop * kept.rollingResistance * kept.mass / kept.efficiency) / (fallingMass + parted.travelPerDrop^2 * parted.mass / parted.efficiency + kept.travelPerDrop^2 * kept.mass / kept.efficiency)
 * @equation accelerationAfter = gravity * (fallingMass - kept.travelPerDrop * kept.rollingResistance * kept.mass / kept.efficiency) / (fallingMass + kept.travelPerDrop^2 * kept.mass / kept.efficiency)
 * @equation frameSpeedAtParting = sqrt(2 * accelerationBefore * partedAt)
 * @equation frameSpeed = sqrt(frameSpeedAtParting^2 + 2 * accelerationAfter * (drop - partedAt))
 * @equation speed = kept.travelPerDrop * frameSpeed
 * @equation intendedSpeed = kept.travelPerDrop * sqrt(2 * accelerationBefore * drop)
 * @equation overspeed = speed / intendedSpeed - 1
 * @equation partedSpeed = parted.travelPerDrop * frameSpeedAtParting
 * @equation time = frameSpeedAtParting / accelerationBefore + (frameSpeed - frameSpeedAtParting) / accelerationAfter
 * @equation pullAfter = kept.mass * (kept.travelPerDrop * accelerationAfter + kept.rollingResistance * gravity)
 * @source derived, energy of a falling mass before and after
 * @sample drop 12 30
 * @sample partedAt 0 12
 * @sample fallingMass 800 4000
 * @sample parted.travelPerDrop 1 3
 * @sample kept.travelPerDrop 1 3
 * @sample parted.rollingResistance 0 0.05
 * @sample kept.rollingResistance 0 0.05
 * @sample parted.efficiency 0.6 1
 * @sample kept.efficiency 0.6 1
 * @example lineParts({ drop: 10, partedAt: 0, fallingMass: 1000, parted: { mass: 1000, travelPerDrop: 1, rollingResistance: 0, efficiency: 1 }, kept: { mass: 500, travelPerDrop: 2, rollingResistance: 0, efficiency: 1 }, gravity: 9.6 }).speed // 16
 */
export const lineParts = ({ drop, partedAt, fallingMass, parted, kept, gravity = STANDARD_GRAVITY }: { readonly drop: number; readonly partedAt: number; readonly fallingMass: number; readonly parted: TowedVehicle; readonly kept: TowedVehicle; readonly gravity?: number }) => {
  requirePositive("lineParts", "drop", drop, "m");
  requireBetween("lineParts", "partedAt", partedAt, 0, drop, "m");
  requirePositive("lineParts", "fallingMass", fallingMass, "kg");
  requireTowed("lineParts", "parted", parted);
  requireTowed("lineParts", "kept", kept);
  requirePositive("lineParts", "gravity", gravity, "m/s^2");
  const accelerationBefore = steadyAcceleration("lineParts", fallingMass, [parted, kept], gravity);
  const accelerationAfter = steadyAcceleration("lineParts", fallingMass, [kept], gravity);
  const frameSpeedAtParting = Math.sqrt(2 * accelerationBefore * partedAt);
  const frameSpeed = Math.sqrt(frameSpeedAtParting ** 2 + 2 * accelerationAfter * (drop - partedAt));
  const timeAtParting = frameSpeedAtParting / accelerationBefore;
  const speed = kept.travelPerDrop * frameSpeed;
  const intendedSpeed = kept.travelPerDrop * Math.sqrt(2 * accelerationBefore * drop);
  const pullAt = (frameAcceleration: number): number => kept.mass * (kept.travelPerDrop * frameAcceleration + kept.rollingResistance * gravity);
  return {
    speed,
    intendedSpeed,
    overspeed: speed / intendedSpeed - 1,
    partedSpeed: parted.travelPerDrop * frameSpeedAtParting,
    frameSpeed,
    frameSpeedAtParting,
    time: timeAtParting + (frameSpeed - frameSpeedAtParting) / accelerationAfter,
    timeAtParting,
    accelerationBefore,
    accelerationAfter,
    pullBefore: pullAt(accelerationBefore),
    pullAfter: pullAt(accelerationAfter),
  };
};
