import { crushAt, seriesCurve, unloadingGive } from "../structure/forceCrushCurve.ts";
import { advance, BAG_OPENING, FIRE_TIME, HEAD, HEAD_ACCELERATION, HEAD_BAG, HEAD_GAP, HEAD_VELOCITY, seatOf, TORSO, TORSO_ACCELERATION, TORSO_BAG, TORSO_GAP, TORSO_VELOCITY } from "./seat.ts";
import type { Seat } from "./seat.ts";
import type { CrashInput, CrashOccupant, OccupantTrace, OccupiedVehicle, Pair, VehicleTrace } from "./types.ts";

/** Time step unless one is asked for [s]. */
export const DEFAULT_STEP = 0.00025;
/** Time followed after touch unless one is asked for [s]. */
export const DEFAULT_DURATION = 0.15;

/** Share of a step that rounding of the time may take: no bag waits for an instant that has passed. */
export const ROUNDING = 1e-9;

/** Motion of one occupant, one value a step. */
export type SeatRecord = Pick<OccupantTrace, "chestAcceleration" | "headAcceleration" | "chestVelocity" | "headVelocity" | "chestTravel" | "headTravel">;

export interface Stepped {
  readonly step: number;
  readonly count: number;
  readonly bareMass: Pair<number>;
  /** Between the fronts at the end, and the largest. */
  readonly force: number;
  readonly peakForce: number;
  readonly peakDeceleration: Pair<number>;
  readonly commonVelocity: number | null;
  readonly separation: number | null;
  readonly vehicles: Pair<VehicleTrace>;
  readonly forces: Float64Array;
  readonly seats: Pair<readonly Seat[]>;
  readonly records: Pair<readonly SeatRecord[]>;
}

/** Mass of the vehicle without the occupants, who are stepped on their own. */
export const bareMass = ({ mass, occupants }: OccupiedVehicle): number => {
  let bare = mass;
  for (const occupant of occupants) if (occupant.counted === "inside") bare -= occupant.torsoMass + occupant.headMass;
  return bare;
};

/** Columns of numbers for outputs without traces, used again by the next crash of the same length. */
let spare: Float64Array[] = [];

const columns = (size: number, keep: boolean): (() => Float64Array) => {
  if (keep) return () => new Float64Array(size);
  if (spare.length > 0 && (spare[0] as Float64Array).length !== size) spare = [];
  let next = 0;
  return () => (spare[next++] ??= new Float64Array(size));
};

/**
 * The whole crash, velocity Verlet of fixed step: second order. Shorter steps end at the instant of equal velocity and
 * where a bag opens, so that no jump of force falls inside one. Columns that are not kept belong to the next call.
 */
export const stepCrash = (input: CrashInput, keep: boolean): Stepped => {
  const { a, b, step: longest = DEFAULT_STEP, duration = DEFAULT_DURATION } = input;
  // the duration is kept, the step shortened to divide it
  const count = Math.max(1, Math.ceil(duration / longest - ROUNDING));
  const step = duration / count;
  const column = columns(count + 1, keep);
  const vehicleRecord = (): VehicleTrace => ({ position: column(), velocity: column(), acceleration: column(), crush: column(), cabinLoss: column() });
  const seatRecord = (): SeatRecord => ({ chestAcceleration: column(), headAcceleration: column(), chestVelocity: column(), headVelocity: column(), chestTravel: column(), headTravel: column() });
  const recordA = vehicleRecord();
  const recordB = vehicleRecord();
  const forces = column();
  const occupants = [...a.occupants, ...b.occupants];
  const inA = a.occupants.length;
  const seats = occupants.map((occupant, k) => seatOf(occupant, k < inA ? a.speed : b.speed));
  const records = occupants.map(seatRecord);
  const inAll = seats.length;

  // the two fronts as one: force and each front's crush are straight lines of the overlap
  const curve = seriesCurve(a.front, b.front);
  const parts = curve.force.length - 1;
  const from = Float64Array.from(curve.crush);
  const forceFrom = Float64Array.from(curve.force);
  const crushAFrom = forceFrom.map((f) => crushAt(a.front, f));
  const crushBFrom = forceFrom.map((f) => crushAt(b.front, f));
  const giveA = unloadingGive(a.unloading);
  const giveB = unloadingGive(b.unloading);
  const give = giveA + giveB;
  const rigid = give === 0;
  const unloadStiffness = rigid ? Infinity : 1 / give;
  const noseA = a.front.noseLength ?? Infinity;
  const noseB = b.front.noseLength ?? Infinity;
  const massA = bareMass(a);
  const massB = bareMass(b);
  const reducedMass = (massA * massB) / (massA + massB);

  // the straight part being loaded
  let part = 0;
  let partFrom = 0;
  let partEnd = parts > 1 ? from[1]! : Infinity;
  let partForce = 0;
  let partCrushA = 0;
  let partCrushB = 0;
  let stiffness = forceFrom[1]! / from[1]!;
  let shareA = crushAFrom[1]! / from[1]!;
  let shareB = crushBFrom[1]! / from[1]!;

  let positionA = 0;
  let positionB = 0;
  let velocityA = a.speed;
  let velocityB = b.speed;
  let accelerationA = 0;
  let accelerationB = 0;
  let force = 0;
  let peakForce = 0;
  let peakOverlap = 0;
  let crushA = 0;
  let crushB = 0;
  let lossA = 0;
  let lossB = 0;
  let peakA = 0;
  let peakB = 0;
  /** Fronts that give nothing back hold together once they move as one. */
  let locked = false;
  let commonVelocity = -1;
  let separation = -1;
  let nextFire = Infinity;
  for (const s of seats) nextFire = Math.min(nextFire, s[FIRE_TIME]!);

  for (let i = 0; i <= count; i++) {
    let time = i === 0 ? 0 : (i - 1) * step;
    let left = i === 0 ? 0 : step;
    let mayMeet = true;
    let jumped = false;
    for (;;) {
      // how far to go: to the end of the step or an event before it; nowhere just after an event, to take the forces anew
      let h = jumped ? 0 : left;
      let meets = false;
      if (mayMeet && !jumped && !locked && peakForce > 0) {
        const closing = velocityA + velocityB;
        const slowing = -(accelerationA + accelerationB);
        if (closing <= 0) meets = rigid && force > 0;
        else meets = positionA + positionB >= peakOverlap && closing <= slowing * h;
        if (meets) h = closing <= 0 ? 0 : closing / slowing;
      }
      jumped = false;
      const fires = nextFire - time <= h;
      if (fires) {
        h = Math.max(0, nextFire - time);
        meets = false;
      }

      velocityA += (h / 2) * accelerationA;
      velocityB += (h / 2) * accelerationB;
      positionA += h * velocityA;
      positionB += h * velocityB;
      const overlap = positionA + positionB;
      const wasForce = force;
      if (!locked) {
        if (overlap > peakOverlap) {
          while (overlap > partEnd) {
            part++;
            partFrom = from[part]!;
            partForce = forceFrom[part]!;
            partCrushA = crushAFrom[part]!;
            partCrushB = crushBFrom[part]!;
            const wide = from[part + 1]! - partFrom;
            stiffness = (forceFrom[part + 1]! - partForce) / wide;
            shareA = (crushAFrom[part + 1]! - partCrushA) / wide;
            shareB = (crushBFrom[part + 1]! - partCrushB) / wide;
            partEnd = part + 1 < parts ? from[part + 1]! : Infinity;
          }
          peakOverlap = overlap;
          force = partForce + stiffness * (overlap - partFrom);
          peakForce = force;
          crushA = partCrushA + shareA * (overlap - partFrom);
          crushB = partCrushB + shareB * (overlap - partFrom);
          if (crushA > noseA) lossA = crushA - noseA;
          if (crushB > noseB) lossB = crushB - noseB;
        } else if (rigid) force = peakForce;
        else {
          force = peakForce - unloadStiffness * (peakOverlap - overlap);
          if (force < 0) {
            if (wasForce > 0 && separation < 0) separation = time + (h * wasForce) / (wasForce - force);
            force = 0;
          }
        }
      }

      let pushA = 0;
      let pushB = 0;
      for (let k = 0; k < inA; k++) pushA += advance(seats[k]!, h, positionA, lossA);
      for (let k = inA; k < inAll; k++) pushB += advance(seats[k]!, h, positionB, lossB);
      if (locked) {
        // what holds them together, until it would crush them on
        force = reducedMass * (pushA / massA + pushB / massB);
        if (force > peakForce) {
          force = peakForce;
          locked = false;
        }
      }
      accelerationA = (pushA - force) / massA;
      accelerationB = (pushB - force) / massB;
      velocityA += (h / 2) * accelerationA;
      velocityB += (h / 2) * accelerationB;
      if (accelerationA > peakA) peakA = accelerationA;
      else if (-accelerationA > peakA) peakA = -accelerationA;
      if (accelerationB > peakB) peakB = accelerationB;
      else if (-accelerationB > peakB) peakB = -accelerationB;

      left -= h;
      time += h;
      if (meets) {
        mayMeet = false;
        jumped = true;
        if (commonVelocity < 0) commonVelocity = time;
        if (rigid) {
          // the little that is left of the closing speed, shared by momentum
          const closing = velocityA + velocityB;
          velocityA -= (closing * reducedMass) / massA;
          velocityB -= (closing * reducedMass) / massB;
          locked = true;
        }
      } else if (fires) {
        jumped = true;
        nextFire = Infinity;
        for (let k = 0; k < inAll; k++) nextFire = Math.min(nextFire, fire(seats[k]!, occupants[k]!, time + ROUNDING * step, k < inA ? positionA : positionB));
      } else if (left <= 0) break;
    }

    recordA.position[i] = positionA;
    recordB.position[i] = positionB;
    recordA.velocity[i] = velocityA;
    recordB.velocity[i] = velocityB;
    recordA.acceleration[i] = accelerationA;
    recordB.acceleration[i] = accelerationB;
    const released = locked ? 0 : peakForce - force;
    recordA.crush[i] = crushA - giveA * released;
    recordB.crush[i] = crushB - giveB * released;
    recordA.cabinLoss[i] = lossA;
    recordB.cabinLoss[i] = lossB;
    forces[i] = force;
    for (let k = 0; k < inAll; k++) {
      const s = seats[k]!;
      const record = records[k]!;
      const vehicle = k < inA ? positionA : positionB;
      record.chestAcceleration[i] = s[TORSO_ACCELERATION]!;
      record.headAcceleration[i] = s[HEAD_ACCELERATION]!;
      record.chestVelocity[i] = s[TORSO_VELOCITY]!;
      record.headVelocity[i] = s[HEAD_VELOCITY]!;
      record.chestTravel[i] = s[TORSO]! - vehicle;
      record.headTravel[i] = s[HEAD]! - vehicle;
    }
  }

  return {
    step,
    count,
    bareMass: { a: massA, b: massB },
    force,
    peakForce,
    peakDeceleration: { a: peakA, b: peakB },
    commonVelocity: commonVelocity < 0 ? null : commonVelocity,
    separation: separation < 0 ? null : separation,
    vehicles: { a: recordA, b: recordB },
    forces,
    seats: { a: seats.slice(0, inA), b: seats.slice(inA) },
    records: { a: records.slice(0, inA), b: records.slice(inA) },
  };
};

/** Opens the bag if its time has come; returns the time still to wait for, Infinity if none. What it then presses on is energy put in. */
const fire = (s: Seat, { bag }: CrashOccupant, time: number, vehicle: number): number => {
  if (bag === "none" || s[FIRE_TIME] === Infinity) return Infinity;
  if (s[FIRE_TIME]! > time) return s[FIRE_TIME]!;
  s[FIRE_TIME] = Infinity;
  s[TORSO_BAG] = bag.torsoStiffness;
  s[HEAD_BAG] = bag.headStiffness;
  const into = Math.max(0, s[TORSO]! - vehicle - s[TORSO_GAP]!);
  const headInto = Math.max(0, s[HEAD]! - vehicle - s[HEAD_GAP]!);
  s[BAG_OPENING] = (bag.torsoStiffness * into ** 2 + bag.headStiffness * headInto ** 2) / 2;
  return Infinity;
};
