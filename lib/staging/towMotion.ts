import { requireBetween, requireNonNegative, requireOneOf, requirePositive, requireThat } from "../check.ts";
import { STANDARD_GRAVITY } from "../constants.ts";
import { gravityTow, requireTowed, steadyAcceleration } from "./gravityTow.ts";
import { stepTow, type TowedOnLine, type TowFailure } from "./towStepping.ts";

/** Longest step as a share of the quickest swing's radian, so that the scheme stays stable with room to spare. */
const STEP_SHARE = 0.5;
const DEFAULT_STEP = 0.004;
const DEFAULT_DURATION = 20;

export interface TowMotionInput {
  readonly drop: number;
  readonly fallingMass: number;
  readonly a: TowedOnLine;
  readonly b: TowedOnLine;
  readonly failure?: TowFailure;
  readonly gravity?: number;
  readonly step?: number;
  readonly duration?: number;
}

const requireLine = (name: string, line: TowedOnLine): void => {
  requireTowed("towMotion", name, line);
  requirePositive("towMotion", `${name}.stiffness`, line.stiffness, "N/m");
  requireNonNegative("towMotion", `${name}.damping`, line.damping, "N s/m");
  requireNonNegative("towMotion", `${name}.slack`, line.slack, "m");
};

/** Quickest rate of any swing or damping: the sum over the lines bounds them all. */
const quickest = (fallingMass: number, lines: readonly TowedOnLine[]): number => {
  let swing = 0;
  let damping = 0;
  for (const line of lines) {
    if (line.mass === 0) continue;
    const give = 1 / line.mass + line.travelPerDrop ** 2 / (fallingMass * line.efficiency);
    swing += line.stiffness * give;
    damping += line.damping * give;
  }
  return Math.max(Math.sqrt(swing), damping);
};

/**
 * Two vehicles pulled by one guided falling mass, against time: start-up, slack, stretch, and failures on the way.
 *
 * Model: the mass is let go from rest at once, lines without tension. Each line is a spring and a damper, measured at its vehicle, without
 * mass; it pulls once its slack is taken up and never pushes. Its pull at the frame is its pull at the vehicle over the
 * efficiency while the mass goes down, and times it if the mass is thrown back up. A vehicle stands until the pull exceeds its rolling
 * resistance, and never rolls back. The tow ends when the mass has fallen by the drop. A failure: a line parts, or a vehicle stops dead
 * and is held, its line whole. No air drag, no friction of the guide, no wave along the line. As stiffness grows the motion tends to
 * gravityTow; the first peak of one line tends to takeUp.
 * Not for the design of lifting gear: the responsible engineer sets factors.
 *
 * @param drop > 0, fall of the mass until release [m]
 * @param fallingMass > 0 [kg]
 * @param a.mass >= 0, 0: nothing on that line [kg]
 * @param a.travelPerDrop > 0, travel of the vehicle for each unit of drop, by the reeving [1]
 * @param a.rollingResistance >= 0, share of weight [1]
 * @param a.efficiency > 0 and <= 1, pull at the vehicle over pull at the frame [1]
 * @param a.stiffness > 0, of the line at the vehicle [N/m]
 * @param a.damping >= 0, of the line at the vehicle [N s/m]
 * @param a.slack >= 0, line to be taken up first, at the vehicle [m]
 * @param b the same
 * @param failure left out: none
 * @param failure.kind "parts": the line of a vehicle parts; "sticks": the vehicle stops dead and is held
 * @param failure.vehicle "a" or "b"
 * @param failure.drop >= 0 and <= drop, fall of the mass when it happens [m]
 * @param gravity > 0, default STANDARD_GRAVITY [m/s^2]
 * @param step > 0, default 0.004 [s]
 * @param duration > 0, longest time followed, default 20 [s]
 * @returns outcome "released", or "not released" within the duration
 * @returns time at the end: release, or the duration [s]
 * @returns fall of the mass at the end [m]
 * @returns frameVelocity of the mass at the end, down [m/s]
 * @returns speed of each at the end [m/s]
 * @returns travel of each at the end [m]
 * @returns shortfall of each behind what the reeving alone would give [m]
 * @returns lag of each: time it takes to make up its shortfall at its own speed, null if it stands [s]
 * @returns steadyPull of each line at its vehicle, from gravityTow [N]
 * @returns peakPull of each line at its vehicle [N]
 * @returns peakTime of each [s]
 * @returns overshoot peak over steady pull of each, null for an idle line [1]
 * @returns peakAcceleration of each, as a size [m/s^2]
 * @returns energy.weight weight times fall [J]
 * @returns energy.frame kinetic energy of the mass [J]
 * @returns energy.kinetic of each vehicle [J]
 * @returns energy.rolling spent in rolling by each [J]
 * @returns energy.line lost in the pulleys of each line [J]
 * @returns energy.stretch held in each line [J]
 * @returns energy.damping lost in the stretching of each line [J]
 * @returns energy.recoil held in a line as it parted [J]
 * @returns energy.stopped lost by a vehicle that stopped dead [J]
 * @returns energy.sum of all parts but the weight's [J]
 * @returns energy.error sum less weight's, over weight's [1]
 * @returns traces.time [s]
 * @returns traces.fall [m]
 * @returns traces.frameVelocity [m/s]
 * @returns traces.travel of each [m]
 * @returns traces.velocity of each [m/s]
 * @returns traces.pull of each line at its vehicle [N]
 * @throws RangeError outside those ranges, for a mass that the rolling resistance holds, or a step too long for the stiffest line
 * @law fallingMass * acceleration of the mass = weight - sum of travelPerDrop * pull / efficiency; mass * acceleration of a vehicle = pull - rolling resistance; pull = stiffness * stretch + damping * rate of stretch
 * @scheme classical Runge-Kutta, fourth order, fixed step, cut where a line goes taut or slack, a vehicle starts or stops, the mass turns, a part fails, the tow ends
 * @limit gravityTow, for lines that do not stretch
 * @source derived, Newton's law for each mass
 * @sample fallingMass 1 3
 * @sample a.stiffness 300 900
 * @sample b.stiffness 300 900
 * @sample a.damping 0 8
 * @sample b.damping 0 8
 * @sample a.rollingResistance 0 0.05
 * @sample b.rollingResistance 0 0.05
 * @sample a.efficiency 0.7 1
 * @sample b.efficiency 0.7 1
 * @sample step 0.001 0.003
 * @sample duration 2 3
 * @example towMotion({ drop: 1, fallingMass: 2, a: { mass: 1, travelPerDrop: 1, rollingResistance: 0, efficiency: 1, stiffness: 600, damping: 0, slack: 0 }, b: { mass: 1, travelPerDrop: 1, rollingResistance: 0, efficiency: 1, stiffness: 600, damping: 0, slack: 0 }, gravity: 10 }).steadyPull.a // 5
 * @example towMotion({ drop: 1, fallingMass: 3, a: { mass: 1, travelPerDrop: 1, rollingResistance: 0, efficiency: 1, stiffness: 600, damping: 0, slack: 0.2 }, b: { mass: 0, travelPerDrop: 1, rollingResistance: 0, efficiency: 1, stiffness: 600, damping: 0, slack: 0 }, failure: { kind: "sticks", vehicle: "a", drop: 0 }, gravity: 10, step: 0.001, duration: 2 }).peakPull.a // 120
 */
export const towMotion = ({ drop, fallingMass, a, b, failure, gravity = STANDARD_GRAVITY, step = DEFAULT_STEP, duration = DEFAULT_DURATION }: TowMotionInput) => {
  requirePositive("towMotion", "drop", drop, "m");
  requirePositive("towMotion", "fallingMass", fallingMass, "kg");
  requireLine("a", a);
  requireLine("b", b);
  if (failure) {
    requireOneOf("towMotion", "failure.kind", failure.kind, ["parts", "sticks"]);
    requireOneOf("towMotion", "failure.vehicle", failure.vehicle, ["a", "b"]);
    requireBetween("towMotion", "failure.drop", failure.drop, 0, drop, "m");
  }
  requirePositive("towMotion", "gravity", gravity, "m/s^2");
  requirePositive("towMotion", "step", step, "s");
  requirePositive("towMotion", "duration", duration, "s");
  const rate = quickest(fallingMass, [a, b]);
  requireThat(step * rate <= STEP_SHARE, "towMotion", "step", `<= ${STEP_SHARE / rate} s (for the stiffest line here)`, step);
  steadyAcceleration("towMotion", fallingMass, [a, b], gravity);

  const { pull: steadyPull } = gravityTow({ drop, fallingMass, a, b, gravity });
  const { released, energy, trace, ...end } = stepTow({
    drop,
    fallingMass,
    lines: [a, b],
    failure: failure && { kind: failure.kind, line: failure.vehicle === "a" ? 0 : 1, drop: failure.drop },
    gravity,
    step,
    duration,
  });
  const parts = [energy.kinetic, energy.rolling, energy.line, energy.stretch, energy.damping, energy.recoil, energy.stopped];
  const sum = parts.reduce((total, part) => total + part.a + part.b, energy.frame);
  const shortfall = { a: a.travelPerDrop * end.fall - end.travel.a, b: b.travelPerDrop * end.fall - end.travel.b };
  const both = ([first, second]: readonly [number[], number[]]) => ({ a: Float64Array.from(first), b: Float64Array.from(second) });
  return {
    outcome: released ? ("released" as const) : ("not released" as const),
    ...end,
    shortfall,
    lag: { a: end.speed.a > 0 ? shortfall.a / end.speed.a : null, b: end.speed.b > 0 ? shortfall.b / end.speed.b : null },
    steadyPull,
    overshoot: { a: a.mass > 0 ? end.peakPull.a / steadyPull.a : null, b: b.mass > 0 ? end.peakPull.b / steadyPull.b : null },
    energy: { ...energy, sum, error: energy.weight === 0 ? 0 : (sum - energy.weight) / energy.weight },
    traces: { time: Float64Array.from(trace.time), fall: Float64Array.from(trace.fall), frameVelocity: Float64Array.from(trace.frameVelocity), travel: both(trace.travel), velocity: both(trace.velocity), pull: both(trace.pull) },
  };
};
