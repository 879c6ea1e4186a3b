import { requireBetween, requireNonNegative, requirePositive, requireThat } from "../check.ts";
import { STANDARD_GRAVITY } from "../constants.ts";

/** A vehicle on its line. */
export interface TowedVehicle {
  /** >= 0; 0: nothing on that line [kg] */
  readonly mass: number;
  /** Travel of the vehicle for each unit that the mass falls, by the line's reeving, > 0 [1]. */
  readonly travelPerDrop: number;
  /** Rolling resistance over weight, >= 0 [1]. */
  readonly rollingResistance: number;
  /** Pull at the vehicle over pull where the line leaves the frame, > 0 and <= 1 [1]. */
  readonly efficiency: number;
}

interface Tow {
  readonly a: TowedVehicle;
  readonly b: TowedVehicle;
  readonly drop: number;
  readonly gravity: number;
}

/** Refuses what is not a vehicle on a line. */
export const requireTowed = (kernel: string, name: string, { mass, travelPerDrop, rollingResistance, efficiency }: TowedVehicle): void => {
  requireNonNegative(kernel, `${name}.mass`, mass, "kg");
  requirePositive(kernel, `${name}.travelPerDrop`, travelPerDrop);
  requireNonNegative(kernel, `${name}.rollingResistance`, rollingResistance);
  requirePositive(kernel, `${name}.efficiency`, efficiency);
  requireBetween(kernel, `${name}.efficiency`, efficiency, 0, 1);
};

/** Mass that a vehicle adds to the falling one, and force that its rolling takes from the weight, both felt at the frame. */
export const atFrame = ({ mass, travelPerDrop, rollingResistance, efficiency }: TowedVehicle, gravity: number) => ({
  inertia: (travelPerDrop ** 2 * mass) / efficiency,
  resistance: (travelPerDrop * rollingResistance * mass * gravity) / efficiency,
});

/** Steady acceleration of the frame; refuses a mass that the rolling resistance would hold. */
export const steadyAcceleration = (kernel: string, fallingMass: number, towed: readonly TowedVehicle[], gravity: number): number => {
  let inertia = fallingMass;
  let resistance = 0;
  for (const vehicle of towed) {
    const felt = atFrame(vehicle, gravity);
    inertia += felt.inertia;
    resistance += felt.resistance;
  }
  requireThat(fallingMass * gravity > resistance, kernel, "fallingMass", `> ${resistance / gravity} kg (less is held by the rolling resistance)`, fallingMass);
  return (fallingMass * gravity - resistance) / inertia;
};

/** Everything about a steady tow whose acceleration is known. Each entry of the energy budget from its own law. */
const towed = ({ a, b, drop, gravity }: Tow, fallingMass: number, frameAcceleration: number) => {
  const frameSpeed = Math.sqrt(2 * frameAcceleration * drop);
  const of = ({ mass, travelPerDrop, rollingResistance, efficiency }: TowedVehicle) => {
    const acceleration = travelPerDrop * frameAcceleration;
    const speed = travelPerDrop * frameSpeed;
    const travel = travelPerDrop * drop;
    const pull = mass * (acceleration + rollingResistance * gravity);
    const linePull = pull / efficiency;
    return { acceleration, speed, travel, pull, linePull, kinetic: (mass * speed ** 2) / 2, rolling: rollingResistance * mass * gravity * travel, line: (linePull - pull) * travel };
  };
  const ofA = of(a);
  const ofB = of(b);
  const energy = {
    weight: fallingMass * gravity * drop,
    frame: (fallingMass * frameSpeed ** 2) / 2,
    kinetic: { a: ofA.kinetic, b: ofB.kinetic },
    rolling: { a: ofA.rolling, b: ofB.rolling },
    line: { a: ofA.line, b: ofB.line },
  };
  return {
    fallingMass,
    speed: { a: ofA.speed, b: ofB.speed },
    frameSpeed,
    time: (2 * drop) / frameSpeed,
    travel: { a: ofA.travel, b: ofB.travel },
    acceleration: { a: ofA.acceleration, b: ofB.acceleration },
    frameAcceleration,
    pull: { a: ofA.pull, b: ofB.pull },
    linePull: { a: ofA.linePull, b: ofB.linePull },
    framePull: a.travelPerDrop * ofA.linePull + b.travelPerDrop * ofB.linePull,
    energy: { ...energy, sum: energy.frame + ofA.kinetic + ofB.kinetic + ofA.rolling + ofB.rolling + ofA.line + ofB.line },
  };
};

/**
 * Two vehicles pulled by one guided falling mass: speeds at release.
 *
 * Model: lines without mass or stretch, each with its own reeving, so that both vehicles keep the ratio of their travels and
 * are released at one instant. Each line's pull at its vehicle is a fixed share of its pull at the frame; rolling resistance is
 * a fixed share of weight; no air drag, no friction of the guide. Steady pulls only: the start-up overshoot and slack are left
 * out (see towMotion and takeUp), so these are never the largest pulls. A mass of 0 leaves a line idle: one vehicle alone, or the
 * tow with a line parted at the start. A pulley's own inertia I is a mass I / r^2 without rolling resistance on a line of its own.
 * Not for the design of lifting gear: the responsible engineer sets factors.
 *
 * @param drop > 0, fall of the mass until release [m]
 * @param fallingMass > 0 [kg]
 * @param a.mass >= 0, 0: nothing on that line [kg]
 * @param a.travelPerDrop > 0, travel of the vehicle for each unit of drop, by the reeving [1]
 * @param a.rollingResistance >= 0, share of weight [1]
 * @param a.efficiency > 0 and <= 1, pull at the vehicle over pull at the frame [1]
 * @param b the same
 * @param gravity > 0, default STANDARD_GRAVITY [m/s^2]
 * @returns fallingMass [kg]
 * @returns speed of each at release [m/s]
 * @returns frameSpeed of the mass itself at release, for the arrester to take [m/s]
 * @returns time until release [s]
 * @returns travel of each until release [m]
 * @returns acceleration of each [m/s^2]
 * @returns frameAcceleration of the mass [m/s^2]
 * @returns pull of each line at its vehicle, steady [N]
 * @returns linePull of each line where it leaves the frame, steady [N]
 * @returns framePull of all parts of both lines on the frame, steady [N]
 * @returns energy.weight weight times drop [J]
 * @returns energy.frame kinetic energy of the mass [J]
 * @returns energy.kinetic of each vehicle [J]
 * @returns energy.rolling spent in rolling by each [J]
 * @returns energy.line lost in the pulleys of each line [J]
 * @returns energy.sum of all parts but the weight's [J]
 * @throws RangeError outside those ranges, or for a mass that the rolling resistance holds
 * @equation frameAcceleration = gravity * (fallingMass - a.travelPerDrop * a.rollingResistance * a.mass / a.efficiency - b.travelPerDrop * b.rollingResistance * b.mass / b.efficiency) / (fallingMass + a.travelPerDrop^2 * a.mass / a.efficiency + b.travelPerDrop^2 * b.mass / b.efficiency)
 * @equation frameSpeed = sqrt(2 * frameAcceleration * drop)
 * @equation time = 2 * drop / frameSpeed
 * @equation speed.a = a.travelPerDrop * frameSpeed
 * @equation speed.b = b.travelPerDrop * frameSpeed
 * @equation pull.a = a.mass * (a.travelPerDrop * frameAcceleration + a.rollingResistance * gravity)
 * @equation pull.b = b.mass * (b.travelPerDrop * frameAcceleration + b.rollingResistance * gravity)
 * @equation linePull.a = pull.a / a.efficiency
 * @equation linePull.b = pull.b / b.efficiency
 * @equation framePull = a.travelPerDrop * linePull.a + b.travelPerDrop * linePull.b
 * @source derived, energy of a falling mass shared out by the law of each part
 * @sample fallingMass 800 4000
 * @sample a.travelPerDrop 1 3
 * @sample b.travelPerDrop 1 3
 * @sample a.rollingResistance 0 0.05
 * @sample b.rollingResistance 0 0.05
 * @sample a.efficiency 0.6 1
 * @sample b.efficiency 0.6 1
 * @example gravityTow({ drop: 10, fallingMass: 1000, a: { mass: 500, travelPerDrop: 2, rollingResistance: 0, efficiency: 1 }, b: { mass: 1000, travelPerDrop: 1, rollingResistance: 0, efficiency: 1 }, gravity: 10 }).speed.a // 14.142135623730951
 */
export const gravityTow = ({ drop, fallingMass, a, b, gravity = STANDARD_GRAVITY }: { readonly drop: number; readonly fallingMass: number; readonly a: TowedVehicle; readonly b: TowedVehicle; readonly gravity?: number }) => {
  requirePositive("gravityTow", "drop", drop, "m");
  requirePositive("gravityTow", "fallingMass", fallingMass, "kg");
  requireTowed("gravityTow", "a", a);
  requireTowed("gravityTow", "b", b);
  requirePositive("gravityTow", "gravity", gravity, "m/s^2");
  return towed({ a, b, drop, gravity }, fallingMass, steadyAcceleration("gravityTow", fallingMass, [a, b], gravity));
};

/**
 * Falling mass that brings two vehicles to their speeds.
 *
 * Model: as gravityTow, turned round: what the vehicles, their rolling and their lines take, over what each kilogram of the
 * mass gives after its own energy of motion. The speed of a is chosen; that of b follows from the reeving.
 * Not for the design of lifting gear: the responsible engineer sets factors.
 *
 * @param drop > 0, fall of the mass until release [m]
 * @param a.speed > 0, wanted at release [m/s]
 * @param a.mass >= 0, 0: nothing on that line [kg]
 * @param a.travelPerDrop > 0, travel of the vehicle for each unit of drop, by the reeving [1]
 * @param a.rollingResistance >= 0, share of weight [1]
 * @param a.efficiency > 0 and <= 1, pull at the vehicle over pull at the frame [1]
 * @param b.mass >= 0, 0: nothing on that line [kg]
 * @param b.travelPerDrop > 0 [1]
 * @param b.rollingResistance >= 0, share of weight [1]
 * @param b.efficiency > 0 and <= 1 [1]
 * @param gravity > 0, default STANDARD_GRAVITY [m/s^2]
 * @returns fallingMass [kg]
 * @returns speed of each at release [m/s]
 * @returns frameSpeed of the mass itself at release, for the arrester to take [m/s]
 * @returns time until release [s]
 * @returns travel of each until release [m]
 * @returns acceleration of each [m/s^2]
 * @returns frameAcceleration of the mass [m/s^2]
 * @returns pull of each line at its vehicle, steady [N]
 * @returns linePull of each line where it leaves the frame, steady [N]
 * @returns framePull of all parts of both lines on the frame, steady [N]
 * @returns energy.weight weight times drop [J]
 * @returns energy.frame kinetic energy of the mass [J]
 * @returns energy.kinetic of each vehicle [J]
 * @returns energy.rolling spent in rolling by each [J]
 * @returns energy.line lost in the pulleys of each line [J]
 * @returns energy.sum of all parts but the weight's [J]
 * @throws RangeError outside those ranges, or for a speed that the frame would reach only above free fall
 * @equation frameSpeed = a.speed / a.travelPerDrop
 * @equation speed.b = b.travelPerDrop * frameSpeed
 * @equation fallingMass = (a.mass * (a.speed^2 / 2 + a.rollingResistance * gravity * a.travelPerDrop * drop) / a.efficiency + b.mass * (speed.b^2 / 2 + b.rollingResistance * gravity * b.travelPerDrop * drop) / b.efficiency) / (gravity * drop - frameSpeed^2 / 2)
 * @equation time = 2 * drop / frameSpeed
 * @equation frameAcceleration = frameSpeed^2 / (2 * drop)
 * @equation pull.a = a.mass * (a.travelPerDrop * frameAcceleration + a.rollingResistance * gravity)
 * @equation pull.b = b.mass * (b.travelPerDrop * frameAcceleration + b.rollingResistance * gravity)
 * @equation framePull = a.travelPerDrop * pull.a / a.efficiency + b.travelPerDrop * pull.b / b.efficiency
 * @source derived, energy of a falling mass shared out by the law of each part
 * @sample drop 8 30
 * @sample a.speed 4 10
 * @sample a.travelPerDrop 1 3
 * @sample b.travelPerDrop 1 3
 * @sample a.rollingResistance 0 0.05
 * @sample b.rollingResistance 0 0.05
 * @sample a.efficiency 0.6 1
 * @sample b.efficiency 0.6 1
 * @example gravityTowMass({ drop: 10, a: { speed: 10, mass: 500, travelPerDrop: 2, rollingResistance: 0, efficiency: 1 }, b: { mass: 1000, travelPerDrop: 1, rollingResistance: 0, efficiency: 1 }, gravity: 10 }).fallingMass // 428.57142857142856
 */
export const gravityTowMass = ({ drop, a, b, gravity = STANDARD_GRAVITY }: { readonly drop: number; readonly a: TowedVehicle & { readonly speed: number }; readonly b: TowedVehicle; readonly gravity?: number }) => {
  requirePositive("gravityTowMass", "drop", drop, "m");
  requirePositive("gravityTowMass", "a.speed", a.speed, "m/s");
  requireTowed("gravityTowMass", "a", a);
  requireTowed("gravityTowMass", "b", b);
  requirePositive("gravityTowMass", "gravity", gravity, "m/s^2");
  requireThat(a.mass + b.mass > 0, "gravityTowMass", "a.mass + b.mass", "> 0 kg", a.mass + b.mass);
  const frameAcceleration = (a.speed / a.travelPerDrop) ** 2 / (2 * drop);
  const fastest = a.travelPerDrop * Math.sqrt(2 * gravity * drop);
  requireThat(frameAcceleration < gravity, "gravityTowMass", "a.speed", `< ${fastest} m/s (free fall of the mass)`, a.speed);
  const feltA = atFrame(a, gravity);
  const feltB = atFrame(b, gravity);
  const fallingMass = (feltA.resistance + feltB.resistance + (feltA.inertia + feltB.inertia) * frameAcceleration) / (gravity - frameAcceleration);
  return towed({ a, b, drop, gravity }, fallingMass, frameAcceleration);
};
