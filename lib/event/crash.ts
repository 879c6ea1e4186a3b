import { requireNonNegative, requireOneOf, requirePositive, requireThat } from "../check.ts";
import { bagForce, beltForce, CLIP, interiorForce, outputsOf } from "./outputs.ts";
import { bareMass, DEFAULT_DURATION, DEFAULT_STEP, ROUNDING, stepCrash } from "./stepping.ts";
import type { Stepped } from "./stepping.ts";
import type { Crash, CrashInput, CrashOccupant, CrashOutputs, OccupantTrace, OccupiedVehicle } from "./types.ts";
import { requireVehicle } from "./vehiclesAlone.ts";

const MOST_OCCUPANTS = 2;

const requireOccupant = (kernel: string, name: string, occupant: CrashOccupant): void => {
  const { torsoMass, headMass, counted, belt, bag, space, interiorStiffness, neck } = occupant;
  requirePositive(kernel, `${name}.torsoMass`, torsoMass, "kg");
  requirePositive(kernel, `${name}.headMass`, headMass, "kg");
  requireOneOf(kernel, `${name}.counted`, counted, ["inside", "apart"]);
  if (belt !== "none") {
    requireNonNegative(kernel, `${name}.belt.slack`, belt.slack, "m");
    requirePositive(kernel, `${name}.belt.stiffness`, belt.stiffness, "N/m");
    if (belt.limit !== "none") requirePositive(kernel, `${name}.belt.limit`, belt.limit, "N");
  }
  if (bag !== "none") {
    requireNonNegative(kernel, `${name}.bag.fireTime`, bag.fireTime, "s");
    requireNonNegative(kernel, `${name}.bag.torsoGap`, bag.torsoGap, "m");
    requireNonNegative(kernel, `${name}.bag.torsoStiffness`, bag.torsoStiffness, "N/m");
    requireNonNegative(kernel, `${name}.bag.headGap`, bag.headGap, "m");
    requireNonNegative(kernel, `${name}.bag.headStiffness`, bag.headStiffness, "N/m");
  }
  requireNonNegative(kernel, `${name}.space`, space, "m");
  requirePositive(kernel, `${name}.interiorStiffness`, interiorStiffness, "N/m");
  requireNonNegative(kernel, `${name}.neck.stiffness`, neck.stiffness, "N/m");
  requireNonNegative(kernel, `${name}.neck.damping`, neck.damping, "N s/m");
};

const requireOccupied = (kernel: string, name: string, vehicle: OccupiedVehicle): void => {
  requireVehicle(kernel, name, vehicle);
  requireThat(Array.isArray(vehicle.occupants), kernel, `${name}.occupants`, "a list of occupants", vehicle.occupants);
  requireThat(vehicle.occupants.length <= MOST_OCCUPANTS, kernel, `${name}.occupants`, `at most ${MOST_OCCUPANTS} occupants`, vehicle.occupants);
  for (let i = 0; i < vehicle.occupants.length; i++) requireOccupant(kernel, `${name}.occupants[${i}]`, vehicle.occupants[i] as CrashOccupant);
  const bare = bareMass(vehicle);
  requireThat(bare > 0, kernel, `${name}.mass`, `> the ${vehicle.mass - bare} kg of the occupants counted inside it`, vehicle.mass);
};

/** Longest step as a share of the shortest motion's radian, so that the scheme stays stable with room to spare. */
const STEP_SHARE = 0.5;

/** Rate of the shortest motion there can be, 1 / s. */
const fastestOf = (vehicle: OccupiedVehicle): number => {
  const bare = bareMass(vehicle);
  let square = vehicle.unloading === "none" ? 0 : vehicle.unloading.stiffness / bare;
  for (const { torsoMass, belt, bag, interiorStiffness, neck } of vehicle.occupants) {
    const stiffness = interiorStiffness + neck.stiffness + (belt === "none" ? 0 : belt.stiffness) + (bag === "none" ? 0 : bag.torsoStiffness);
    square = Math.max(square, stiffness / Math.min(torsoMass, bare));
  }
  return Math.sqrt(square);
};

const checked = (kernel: string, input: CrashInput): void => {
  const { a, b, step = DEFAULT_STEP, duration = DEFAULT_DURATION } = input;
  requireOccupied(kernel, "a", a);
  requireOccupied(kernel, "b", b);
  requireThat(a.speed + b.speed > 0, kernel, "a.speed + b.speed", "> 0 m/s (they must close in)", a.speed + b.speed);
  requirePositive(kernel, "step", step, "s");
  requirePositive(kernel, "duration", duration, "s");
  requireThat(duration >= CLIP, kernel, "duration", `>= ${CLIP} s (the 3 ms clip needs as much)`, duration);
  const fastest = Math.max(fastestOf(a), fastestOf(b));
  requireThat(step * fastest <= STEP_SHARE, kernel, "step", `<= ${STEP_SHARE / fastest} s (for the stiffest part here)`, step);
};

/**
 * Head-on crash of two vehicles and their occupants, against time.
 *
 * Model: central, full overlap. Each front is straight lines of force against crush, shared force, added crushes, unloading
 * as given; fronts that give nothing back hold together. Crush beyond the nose pushes the interior back. Each occupant is a
 * torso and a head on a neck (spring and damper); the belt takes hold after its slack and pays out at its limit; the bag
 * presses from its fire time; the torso may meet the interior. Occupants push back on their vehicle. Each vehicle on its own
 * forward axis, so slowing down is negative. Belt, bag and interior are springs that give back what they took, short of the
 * belt's payout, so occupants rebound harder than from real ones. The bag stays where it was fitted when the interior moves in.
 * The head can meet nothing but the bag: without one, or past the interior, its figures mean nothing. Not for oblique or offset
 * impacts, for a cabin that loses more than the space in it, nor for a real person: the occupants are springs and masses.
 *
 * @units-fixed occupants.a.chestClip, occupants.b.chestClip, occupants.a.hic15, occupants.b.hic15, occupants.a.hic36, occupants.b.hic36: held for 3 ms, and windows of 15 and 36 ms, by their definitions
 * @param a.mass > 0, test mass [kg]
 * @param a.speed >= 0, towards the other [m/s]
 * @param a.front.crush rising from 0 [m]
 * @param a.front.force rising from 0 [N]
 * @param a.front.noseLength >= 0, crush at which the cabin begins to give; left out: it never does [m]
 * @param a.unloading.stiffness >= the steepest loading slope; or unloading "none" [N/m]
 * @param a.occupants at most 2
 * @param a.occupants.torsoMass > 0 [kg]
 * @param a.occupants.headMass > 0 [kg]
 * @param a.occupants.counted inside or apart from the vehicle's test mass
 * @param a.occupants.belt.slack >= 0; or belt "none" [m]
 * @param a.occupants.belt.stiffness > 0 [N/m]
 * @param a.occupants.belt.limit > 0, force at which it pays out; or "none" [N]
 * @param a.occupants.bag.fireTime >= 0, after touch; or bag "none" [s]
 * @param a.occupants.bag.torsoGap >= 0 [m]
 * @param a.occupants.bag.torsoStiffness >= 0 [N/m]
 * @param a.occupants.bag.headGap >= 0 [m]
 * @param a.occupants.bag.headStiffness >= 0 [N/m]
 * @param a.occupants.space >= 0, free travel of the torso in the uncrushed cabin [m]
 * @param a.occupants.interiorStiffness > 0 [N/m]
 * @param a.occupants.neck.stiffness >= 0 [N/m]
 * @param a.occupants.neck.damping >= 0 [N s/m]
 * @param b.mass > 0, test mass [kg]
 * @param b.speed >= 0, towards the other [m/s]
 * @param b.front.crush rising from 0 [m]
 * @param b.front.force rising from 0 [N]
 * @param b.front.noseLength >= 0, crush at which the cabin begins to give; left out: it never does [m]
 * @param b.unloading.stiffness >= the steepest loading slope; or unloading "none" [N/m]
 * @param b.occupants at most 2
 * @param b.occupants.torsoMass > 0 [kg]
 * @param b.occupants.headMass > 0 [kg]
 * @param b.occupants.counted inside or apart from the vehicle's test mass
 * @param b.occupants.belt.slack >= 0; or belt "none" [m]
 * @param b.occupants.belt.stiffness > 0 [N/m]
 * @param b.occupants.belt.limit > 0, force at which it pays out; or "none" [N]
 * @param b.occupants.bag.fireTime >= 0, after touch; or bag "none" [s]
 * @param b.occupants.bag.torsoGap >= 0 [m]
 * @param b.occupants.bag.torsoStiffness >= 0 [N/m]
 * @param b.occupants.bag.headGap >= 0 [m]
 * @param b.occupants.bag.headStiffness >= 0 [N/m]
 * @param b.occupants.space >= 0, free travel of the torso in the uncrushed cabin [m]
 * @param b.occupants.interiorStiffness > 0 [N/m]
 * @param b.occupants.neck.stiffness >= 0 [N/m]
 * @param b.occupants.neck.damping >= 0 [N s/m]
 * @param step > 0, longest time step, shortened to divide the duration, default 0.00025 [s]
 * @param duration time followed after touch, default 0.15 [s]
 * @returns step taken [s]
 * @returns duration followed [s]
 * @returns peakForce largest between the fronts [N]
 * @returns deltaV of each: velocity at the end less velocity at touch [m/s]
 * @returns crush of each, largest [m]
 * @returns cabinLoss of each: crush beyond the nose [m]
 * @returns peakDeceleration of each, largest size of its acceleration [m/s^2]
 * @returns times of equal velocity and of separation, null if not reached [s]
 * @returns energy.before at touch, every entry from its own law [J]
 * @returns energy.after at the end, every entry from its own law [J]
 * @returns energy.error of the sum after against the sum before [1]
 * @returns occupants.a.chestPeak, occupants.b.chestPeak largest chest acceleration [m/s^2]
 * @returns occupants.a.chestClip, occupants.b.chestClip largest chest acceleration held without a break for 3 ms [m/s^2]
 * @returns occupants.a.headPeak, occupants.b.headPeak largest head acceleration [m/s^2]
 * @returns occupants.a.hic15, occupants.b.hic15 head injury criterion over at most 15 ms [1]
 * @returns occupants.a.hic36, occupants.b.hic36 head injury criterion over at most 36 ms [1]
 * @returns occupants.a.beltPeak, occupants.b.beltPeak largest belt force [N]
 * @returns occupants.a.bagPeak, occupants.b.bagPeak largest bag force on the torso [N]
 * @returns occupants.a.beltPayout, occupants.b.beltPayout belt paid out at its limit [m]
 * @returns occupants.a.rideDown.travel, occupants.b.rideDown.travel largest forward travel inside the vehicle [m]
 * @returns occupants.a.rideDown.spaceLeft, occupants.b.rideDown.spaceLeft smallest gap to the interior, negative: pressed in [m]
 * @returns occupants.a.rideDown.time, occupants.b.rideDown.time from touch until stopped, seen from the centre of mass of everything [s]
 * @returns occupants.a.rideDown.distance, occupants.b.rideDown.distance covered until then, seen from there: the crush of both fronts can be part of it [m]
 * @returns occupants.a.rideDown.meanDeceleration, occupants.b.rideDown.meanDeceleration along that distance [m/s^2]
 * @returns occupants.a.rideDown.efficiency, occupants.b.rideDown.efficiency part of the torso's energy taken while the vehicle itself was giving way; below 0 or above 1 where the vehicle drives the torso on, or drifts past the common velocity [1]
 * @returns occupants.a.contact.time, occupants.b.contact.time when the torso met the interior [s]
 * @returns occupants.a.contact.speed, occupants.b.contact.speed of the torso against the interior then [m/s]
 * @returns traces.time from touch [s]
 * @returns traces.force between the fronts [N]
 * @returns traces.vehicles.a.position, traces.vehicles.b.position since touch [m]
 * @returns traces.vehicles.a.velocity, traces.vehicles.b.velocity over the ground [m/s]
 * @returns traces.vehicles.a.acceleration, traces.vehicles.b.acceleration over the ground [m/s^2]
 * @returns traces.vehicles.a.crush, traces.vehicles.b.crush at the time [m]
 * @returns traces.vehicles.a.cabinLoss, traces.vehicles.b.cabinLoss so far [m]
 * @returns traces.occupants.a.chestAcceleration, traces.occupants.b.chestAcceleration over the ground [m/s^2]
 * @returns traces.occupants.a.headAcceleration, traces.occupants.b.headAcceleration over the ground [m/s^2]
 * @returns traces.occupants.a.chestVelocity, traces.occupants.b.chestVelocity over the ground [m/s]
 * @returns traces.occupants.a.headVelocity, traces.occupants.b.headVelocity over the ground [m/s]
 * @returns traces.occupants.a.chestTravel, traces.occupants.b.chestTravel forward, relative to the vehicle [m]
 * @returns traces.occupants.a.headTravel, traces.occupants.b.headTravel forward, relative to the vehicle [m]
 * @returns traces.occupants.a.beltForce, traces.occupants.b.beltForce on the torso [N]
 * @returns traces.occupants.a.bagForce, traces.occupants.b.bagForce on the torso [N]
 * @returns traces.occupants.a.interiorForce, traces.occupants.b.interiorForce on the torso [N]
 * @throws RangeError outside those ranges, for a step too long for the stiffest part, or a duration under 3 ms
 * @law vehicle: mass * acceleration = -force between the fronts + belt + bag + interior forces of its occupants
 * @law torso: torsoMass * acceleration = neck - belt - bag - interior; head: headMass * acceleration = -neck - bag
 * @scheme velocity Verlet, fixed step, second order; the neck's damper is taken at the end of the step; equal velocity and bag
 *   opening end a step of their own; separation and contact are located inside a step
 * @limit without occupants it tends to vehiclesAlone
 * @source derived, Newton's law for each mass; compared with an independent integration at 0.25 microseconds
 * @example crash({
 *   a: { mass: 900, speed: 15, front: noseThenCell({ noseStiffness: 1200000, cellStiffness: 4000000, noseLength: 0.55 }), unloading: "none", occupants: [{ torsoMass: 34, headMass: 4.6, counted: "inside", belt: { slack: 0.03, stiffness: 90000, limit: 5000 }, bag: { fireTime: 0.025, torsoGap: 0.1, torsoStiffness: 40000, headGap: 0.15, headStiffness: 9000 }, space: 0.4, interiorStiffness: 260000, neck: { stiffness: 6000, damping: 95 } }] },
 *   b: { mass: 1800, speed: 10, front: noseThenCell({ noseStiffness: 450000, cellStiffness: 450000, noseLength: 0.6 }), unloading: "none", occupants: [{ torsoMass: 34, headMass: 4.6, counted: "inside", belt: { slack: 0.06, stiffness: 90000, limit: "none" }, bag: "none", space: 0.4, interiorStiffness: 260000, neck: { stiffness: 6000, damping: 95 } }] },
 * }).peakForce // 345465.86943
 * @example crash({ a: { mass: 1200, speed: 12, front: { crush: [0, 1], force: [0, 700000] }, unloading: { stiffness: 20000000 }, occupants: [] }, b: { mass: 1800, speed: 8, front: { crush: [0, 1], force: [0, 1000000] }, unloading: { stiffness: 20000000 }, occupants: [] } }).deltaV.a // -14.434834691
 */
export const crash = (input: CrashInput): Crash => {
  checked("crash", input);
  const stepped = stepCrash(input, true);
  return { ...outputsOf(input, stepped), traces: tracesOf(input, stepped) };
};

/**
 * What the same crash comes to, without its traces: the same stepping, quicker for a study of many.
 *
 * Model: as crash.
 *
 * @units-fixed occupants.a.chestClip, occupants.b.chestClip, occupants.a.hic15, occupants.b.hic15, occupants.a.hic36, occupants.b.hic36: held for 3 ms, and windows of 15 and 36 ms, by their definitions
 * @param a as crash
 * @param b as crash
 * @param step as crash
 * @param duration as crash
 * @returns step taken [s]
 * @returns duration followed [s]
 * @returns peakForce largest between the fronts [N]
 * @returns deltaV of each: velocity at the end less velocity at touch [m/s]
 * @returns crush of each, largest [m]
 * @returns cabinLoss of each: crush beyond the nose [m]
 * @returns peakDeceleration of each, largest size of its acceleration [m/s^2]
 * @returns times of equal velocity and of separation, null if not reached [s]
 * @returns energy.before at touch, every entry from its own law [J]
 * @returns energy.after at the end, every entry from its own law [J]
 * @returns energy.error of the sum after against the sum before [1]
 * @returns occupants.a.chestPeak, occupants.b.chestPeak largest chest acceleration [m/s^2]
 * @returns occupants.a.chestClip, occupants.b.chestClip largest chest acceleration held without a break for 3 ms [m/s^2]
 * @returns occupants.a.headPeak, occupants.b.headPeak largest head acceleration [m/s^2]
 * @returns occupants.a.hic15, occupants.b.hic15 head injury criterion over at most 15 ms [1]
 * @returns occupants.a.hic36, occupants.b.hic36 head injury criterion over at most 36 ms [1]
 * @returns occupants.a.beltPeak, occupants.b.beltPeak largest belt force [N]
 * @returns occupants.a.bagPeak, occupants.b.bagPeak largest bag force on the torso [N]
 * @returns occupants.a.beltPayout, occupants.b.beltPayout belt paid out at its limit [m]
 * @returns occupants.a.rideDown.travel, occupants.b.rideDown.travel largest forward travel inside the vehicle [m]
 * @returns occupants.a.rideDown.spaceLeft, occupants.b.rideDown.spaceLeft smallest gap to the interior, negative: pressed in [m]
 * @returns occupants.a.rideDown.time, occupants.b.rideDown.time from touch until stopped, seen from the centre of mass of everything [s]
 * @returns occupants.a.rideDown.distance, occupants.b.rideDown.distance covered until then, seen from there: the crush of both fronts can be part of it [m]
 * @returns occupants.a.rideDown.meanDeceleration, occupants.b.rideDown.meanDeceleration along that distance [m/s^2]
 * @returns occupants.a.rideDown.efficiency, occupants.b.rideDown.efficiency part of the torso's energy taken while the vehicle itself was giving way; below 0 or above 1 where the vehicle drives the torso on, or drifts past the common velocity [1]
 * @returns occupants.a.contact.time, occupants.b.contact.time when the torso met the interior [s]
 * @returns occupants.a.contact.speed, occupants.b.contact.speed of the torso against the interior then [m/s]
 * @throws RangeError as crash
 * @law as crash
 * @scheme as crash
 * @limit without occupants it tends to vehiclesAlone
 * @source derived, as crash
 * @example crashOutputs({
 *   a: { mass: 900, speed: 15, front: noseThenCell({ noseStiffness: 1200000, cellStiffness: 4000000, noseLength: 0.55 }), unloading: "none", occupants: [{ torsoMass: 34, headMass: 4.6, counted: "inside", belt: { slack: 0.03, stiffness: 90000, limit: 5000 }, bag: { fireTime: 0.025, torsoGap: 0.1, torsoStiffness: 40000, headGap: 0.15, headStiffness: 9000 }, space: 0.4, interiorStiffness: 260000, neck: { stiffness: 6000, damping: 95 } }] },
 *   b: { mass: 1800, speed: 10, front: noseThenCell({ noseStiffness: 450000, cellStiffness: 450000, noseLength: 0.6 }), unloading: "none", occupants: [{ torsoMass: 34, headMass: 4.6, counted: "inside", belt: { slack: 0.06, stiffness: 90000, limit: "none" }, bag: "none", space: 0.4, interiorStiffness: 260000, neck: { stiffness: 6000, damping: 95 } }] },
 * }).crush.b // 0.76770193208
 * @example crashOutputs({ a: { mass: 1200, speed: 12, front: { crush: [0, 1], force: [0, 700000] }, unloading: { stiffness: 20000000 }, occupants: [] }, b: { mass: 1800, speed: 8, front: { crush: [0, 1], force: [0, 1000000] }, unloading: { stiffness: 20000000 }, occupants: [] } }).deltaV.b // -9.6232231273
 */
export const crashOutputs = (input: CrashInput): CrashOutputs => {
  checked("crashOutputs", input);
  return outputsOf(input, stepCrash(input, false));
};

const tracesOf = (input: CrashInput, { step, count, vehicles, forces, seats }: Stepped): Crash["traces"] => {
  const occupants = (name: "a" | "b"): OccupantTrace[] =>
    input[name].occupants.map((occupant, k) => {
      const { record } = seats[name][k]!;
      const { cabinLoss } = vehicles[name];
      const trace = { ...record, beltForce: new Float64Array(count + 1), bagForce: new Float64Array(count + 1), interiorForce: new Float64Array(count + 1) };
      const reach = occupant.belt === "none" || occupant.belt.limit === "none" ? Infinity : occupant.belt.slack + occupant.belt.limit / occupant.belt.stiffness;
      let payout = 0;
      for (let i = 0; i <= count; i++) {
        const travel = record.chestTravel[i]!;
        payout = Math.max(payout, travel - reach);
        trace.beltForce[i] = beltForce(occupant, travel, payout);
        trace.bagForce[i] = bagForce(occupant, travel, (i + ROUNDING) * step);
        trace.interiorForce[i] = interiorForce(occupant, travel, cabinLoss[i]!);
      }
      return trace;
    });
  return { time: Float64Array.from({ length: count + 1 }, (_, i) => i * step), force: forces, vehicles, occupants: { a: occupants("a"), b: occupants("b") } };
};
