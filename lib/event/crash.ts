import { requireNonNegative, requireOneOf, requirePositive, requireThat } from "../check.ts";
import { outputsOf } from "./outputs.ts";
import { bareMass, DEFAULT_DURATION, DEFAULT_STEP, stepCrash } from "./stepping.ts";
import type { SeatRecord, Stepped, VehicleRecord } from "./stepping.ts";
import type { Crash, CrashInput, CrashOccupant, CrashOutputs, OccupantTrace, OccupiedVehicle, VehicleTrace } from "./types.ts";
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

const checked = (kernel: string, input: CrashInput): void => {
  const { a, b, step = DEFAULT_STEP, duration = DEFAULT_DURATION } = input;
  requireOccupied(kernel, "a", a);
  requireOccupied(kernel, "b", b);
  requireThat(a.speed + b.speed > 0, kernel, "a.speed + b.speed", "> 0 m/s (they must close in)", a.speed + b.speed);
  requirePositive(kernel, "step", step, "s");
  requirePositive(kernel, "duration", duration, "s");
  const fastest = Math.max(...[a, b].flatMap((vehicle) => [
    vehicle.unloading === "none" ? 0 : Math.sqrt(vehicle.unloading.stiffness / bareMass(vehicle)),
    ...vehicle.occupants.map((o) =>
      Math.sqrt((o.interiorStiffness + o.neck.stiffness + (o.belt === "none" ? 0 : o.belt.stiffness) + (o.bag === "none" ? 0 : o.bag.torsoStiffness)) / Math.min(o.torsoMass, bareMass(vehicle)))),
  ]));
  requireThat(step * fastest <= STEP_SHARE, kernel, "step", `<= ${STEP_SHARE / fastest} s (for the stiffest part here)`, step);
};

/**
 * Head-on crash of two vehicles and their occupants, against time.
 *
 * Model: central, full overlap. Each front is straight lines of force against crush, shared force, added crushes, unloading
 * as given. Crush beyond the nose pushes the interior back. Each occupant is a torso and a head on a neck (spring and
 * damper); the belt takes hold after its slack and pays out at its limit; the bag presses from its fire time; the torso may
 * meet the interior. Occupants push back on their vehicle. Velocity Verlet, fixed step, second order; equal velocity and bag
 * opening end a step of their own; separation and contact are located inside a step. Not for oblique or offset impacts,
 * nor for a real person: the occupants are springs and masses.
 *
 * @param a mass > 0 [kg], speed >= 0 [m/s], front: crush [m] and force [N], noseLength [m], unloading "none" or stiffness [N/m], at most 2 occupants
 * @param b the same
 * @param step longest time step, default 0.00025, shortened to divide the duration [s]
 * @param duration time followed after touch, default 0.15 [s]
 * @returns step time step taken [s]
 * @returns duration time followed [s]
 * @returns peakForce largest force between the fronts [N]
 * @returns deltaV velocity at the end less velocity at touch, each vehicle on its own forward axis [m/s]
 * @returns crush largest crush [m]
 * @returns cabinLoss crush beyond the nose [m]
 * @returns peakDeceleration largest acceleration of the vehicle, as a size [m/s^2]
 * @returns times of equal velocity and of separation, null where not reached [s]
 * @returns energy the ledger before and after, each entry from its own law [J]
 * @returns energy.error change of the ledger's sum, relative to it [1]
 * @returns occupants per occupant: chestPeak, chestClip and headPeak [m/s^2], hic15 and hic36 in their customary unit, beltPeak and bagPeak [N],
 *   rideDown (travel, spaceLeft, distance [m], time [s], meanDeceleration [m/s^2], shareUsed [1]) and contact (time [s], speed [m/s])
 * @returns traces.time instants of the histories [s]
 * @returns traces.force between the fronts [N]
 * @returns traces.vehicles.a.position over the ground, own forward axis [m]
 * @returns traces.vehicles.a.velocity the same [m/s]
 * @returns traces.vehicles.a.acceleration the same [m/s^2]
 * @returns traces.vehicles.a.crush of its front [m]
 * @returns traces.vehicles.a.cabinLoss crush beyond the nose [m]
 * @returns traces.vehicles.b.position as a [m]
 * @returns traces.vehicles.b.velocity as a [m/s]
 * @returns traces.vehicles.b.acceleration as a [m/s^2]
 * @returns traces.vehicles.b.crush as a [m]
 * @returns traces.vehicles.b.cabinLoss as a [m]
 * @throws RangeError outside those ranges, for a step too long for the stiffest part, or an unloading stiffness below the steepest loading slope
 * @source derived, Newton's law for each mass; compared with an independent integration at 0.25 microseconds
 * @example crash({ a: { mass: 1200, speed: 12, front: { crush: [0, 1], force: [0, 700000] }, unloading: "none", occupants: [] }, b: { mass: 1800, speed: 8, front: { crush: [0, 1], force: [0, 1000000] }, unloading: "none", occupants: [] } }).deltaV.a // -12
 */
export const crash = (input: CrashInput): Crash => {
  checked("crash", input);
  const stepped = stepCrash(input, true);
  return { ...outputsOf(input, stepped), traces: tracesOf(stepped) };
};

/**
 * What the same crash comes to, without its traces: the same stepping, quicker for a study of many.
 *
 * Model: as crash.
 *
 * @param a as crash [kg, m/s, m, N]
 * @param b the same
 * @param step as crash [s]
 * @param duration as crash [s]
 * @returns step time step taken [s]
 * @returns duration time followed [s]
 * @returns peakForce largest force between the fronts [N]
 * @returns deltaV velocity at the end less velocity at touch, each vehicle on its own forward axis [m/s]
 * @returns crush largest crush [m]
 * @returns cabinLoss crush beyond the nose [m]
 * @returns peakDeceleration largest acceleration of the vehicle, as a size [m/s^2]
 * @returns times of equal velocity and of separation, null where not reached [s]
 * @returns energy the ledger before and after, each entry from its own law [J]
 * @returns energy.error change of the ledger's sum, relative to it [1]
 * @returns occupants per occupant: chestPeak, chestClip and headPeak [m/s^2], hic15 and hic36 in their customary unit, beltPeak and bagPeak [N],
 *   rideDown (travel, spaceLeft, distance [m], time [s], meanDeceleration [m/s^2], shareUsed [1]) and contact (time [s], speed [m/s])
 * @throws RangeError as crash
 * @source derived, as crash
 * @example crashOutputs({ a: { mass: 1200, speed: 12, front: { crush: [0, 1], force: [0, 700000] }, unloading: "none", occupants: [] }, b: { mass: 1800, speed: 8, front: { crush: [0, 1], force: [0, 1000000] }, unloading: "none", occupants: [] } }).deltaV.b // -8
 */
export const crashOutputs = (input: CrashInput): CrashOutputs => {
  checked("crashOutputs", input);
  return outputsOf(input, stepCrash(input, false));
};

const tracesOf = (stepped: Stepped): Crash["traces"] => {
  const { step, count, seatRecords, vehicleRecords } = stepped;
  const vehicle = ({ position, cabinLoss, traced }: VehicleRecord): VehicleTrace => {
    const { velocity, acceleration, crush } = traced as NonNullable<typeof traced>;
    return { position, velocity, acceleration, crush, cabinLoss };
  };
  const occupant = ({ traced, ...chest }: SeatRecord): OccupantTrace => ({ ...chest, ...(traced as NonNullable<typeof traced>) });
  return {
    time: Float64Array.from({ length: count + 1 }, (_, i) => i * step),
    force: (vehicleRecords.a.traced as NonNullable<VehicleRecord["traced"]>).force,
    vehicles: { a: vehicle(vehicleRecords.a), b: vehicle(vehicleRecords.b) },
    occupants: { a: seatRecords.a.map(occupant), b: seatRecords.b.map(occupant) },
  };
};
