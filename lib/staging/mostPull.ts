import { requireNonNegative, requirePositive } from "../check.ts";
import { STANDARD_GRAVITY } from "../constants.ts";
import { atFrame, requireTowed, steadyAcceleration, type TowedVehicle } from "./gravityTow.ts";
import type { TowedOnLine } from "./towStepping.ts";

/** Swing round a steady pull, damper's share included, for the energy that is there to stretch the line. */
const swing = ({ stiffness, damping }: TowedOnLine, give: number, energy: number): number => Math.sqrt(2 * (stiffness + damping ** 2 * give) * energy);

/**
 * Most that each line of a gravity tow can pull: both whole, the other parted, or its vehicle stuck.
 *
 * Model: the energy that the steady pulls give to the stretching of both lines from the start, all of it in one line at the worst moment, so
 * that no run of towMotion goes beyond, however the lines swing and whatever their damping. High rather than low: the pull itself is nearer
 * to takeUp for a line alone. alone holds whenever the other line parts. stuck holds for a vehicle that stops dead when the mass has
 * fallen by fall. Lines without mass; no wave along them, no knot, no bend.
 * Not for the design of lifting gear: the responsible engineer sets factors.
 *
 * @param fallingMass > 0 [kg]
 * @param fall >= 0, of the mass when a vehicle sticks [m]
 * @param a.mass >= 0, 0: nothing on that line [kg]
 * @param a.travelPerDrop > 0, travel of the vehicle for each unit of drop, by the reeving [1]
 * @param a.rollingResistance >= 0, share of weight [1]
 * @param a.efficiency > 0 and <= 1, pull at the vehicle over pull at the frame [1]
 * @param a.stiffness > 0, of the line at the vehicle [N/m]
 * @param a.damping >= 0, of the line at the vehicle [N s/m]
 * @param a.slack >= 0, line to be taken up first, at the vehicle [m]
 * @param b the same
 * @param gravity > 0, default STANDARD_GRAVITY [m/s^2]
 * @returns steady pull of each line at its vehicle, both lines whole [N]
 * @returns steadyAlone pull of each with the other line gone [N]
 * @returns whole most that each pulls if nothing fails [N]
 * @returns alone most that each pulls if the other line parts, at whatever moment [N]
 * @returns stuck most that each pulls if its vehicle sticks at that fall [N]
 * @throws RangeError outside those ranges, or for a mass that the rolling resistance holds
 * @law no more energy in the stretch of both lines, and in their rate of stretch, than the steady pulls have done work on them since the start
 * @limit takeUp, for one line without damping
 * @source derived, energy of the motion beside the steady one
 * @sample fallingMass 800 4000
 * @sample a.travelPerDrop 1 3
 * @sample b.travelPerDrop 1 3
 * @sample a.rollingResistance 0 0.05
 * @sample b.rollingResistance 0 0.05
 * @sample a.efficiency 0.6 1
 * @sample b.efficiency 0.6 1
 * @example mostPull({ fallingMass: 1000, fall: 0, a: { mass: 1000, travelPerDrop: 1, rollingResistance: 0, efficiency: 1, stiffness: 50000, damping: 0, slack: 0.15 }, b: { mass: 0, travelPerDrop: 1, rollingResistance: 0, efficiency: 1, stiffness: 50000, damping: 0, slack: 0 }, gravity: 10 }).whole.a // 15000
 */
export const mostPull = ({ fallingMass, fall, a, b, gravity = STANDARD_GRAVITY }: { readonly fallingMass: number; readonly fall: number; readonly a: TowedOnLine; readonly b: TowedOnLine; readonly gravity?: number }) => {
  requirePositive("mostPull", "fallingMass", fallingMass, "kg");
  requireNonNegative("mostPull", "fall", fall, "m");
  const lines = { a, b };
  for (const [name, line] of Object.entries(lines)) {
    requireTowed("mostPull", name, line);
    requirePositive("mostPull", `${name}.stiffness`, line.stiffness, "N/m");
    requireNonNegative("mostPull", `${name}.damping`, line.damping, "N s/m");
    requireNonNegative("mostPull", `${name}.slack`, line.slack, "m");
  }
  requirePositive("mostPull", "gravity", gravity, "m/s^2");
  const frameAcceleration = steadyAcceleration("mostPull", fallingMass, [a, b], gravity);
  const steadyOf = ({ mass, travelPerDrop, rollingResistance }: TowedVehicle, acceleration: number): number => mass * (travelPerDrop * acceleration + rollingResistance * gravity);
  /** Work of a steady pull on a line that stretches to its steady stretch, slack first. */
  const given = (pull: number, { stiffness, slack }: TowedOnLine): number => pull ** 2 / (2 * stiffness) + pull * slack;
  const weight = fallingMass * gravity;
  const inertia = fallingMass + atFrame(a, gravity).inertia + atFrame(b, gravity).inertia;
  const both = { a: steadyOf(a, frameAcceleration), b: steadyOf(b, frameAcceleration) };
  const heldAtFrame = { a: given(both.a, a) / a.efficiency, b: given(both.b, b) / b.efficiency };
  // the frame itself swings about its steady speed
  const fastest = Math.sqrt(2 * frameAcceleration * fall) + Math.sqrt(2 * (heldAtFrame.a + heldAtFrame.b) * Math.max(0, 1 / fallingMass - 1 / inertia));
  const of = (side: "a" | "b") => {
    const line = lines[side];
    if (line.mass === 0) return { steady: 0, steadyAlone: 0, whole: 0, alone: 0, stuck: 0 };
    const { mass, travelPerDrop, efficiency, stiffness, slack } = line;
    const steady = both[side];
    const other = heldAtFrame[side === "a" ? "b" : "a"] * efficiency;
    const frameGive = travelPerDrop ** 2 / (fallingMass * efficiency);
    const give = 1 / mass + frameGive;
    const steadyAlone = steadyOf(line, steadyAcceleration("mostPull", fallingMass, [line], gravity));
    const whole = steady + swing(line, give, given(steady, line) + other);
    const alone = steadyAlone + swing(line, give, given(steadyAlone, line) + (other * steadyAlone) / steady);
    // held fast, the line has the whole weight on it, and takes what the mass and the stretch bring
    const hung = (weight * efficiency) / travelPerDrop;
    const stretch = (steady + Math.sqrt(2 * stiffness * (given(steady, line) + other))) / stiffness;
    const brought = (efficiency * fallingMass * fastest ** 2) / 2 + Math.max(hung * slack, (stiffness * stretch ** 2) / 2 - hung * stretch);
    return { steady, steadyAlone, whole, alone, stuck: hung + swing(line, frameGive, hung ** 2 / (2 * stiffness) + brought) };
  };
  const [ofA, ofB] = [of("a"), of("b")];
  const pair = (key: keyof typeof ofA) => ({ a: ofA[key], b: ofB[key] });
  return { steady: pair("steady"), steadyAlone: pair("steadyAlone"), whole: pair("whole"), alone: pair("alone"), stuck: pair("stuck") };
};
