import { crushAt, seriesCurve, unloadingGive } from "../structure/forceCrushCurve.ts";
import { Seat } from "./seat.ts";
import type { CrashInput, OccupiedVehicle, Pair } from "./types.ts";

/** Time step unless one is asked for [s]. */
export const DEFAULT_STEP = 0.00025;
/** Time followed after touch unless one is asked for [s]. */
export const DEFAULT_DURATION = 0.15;

/** One value a step; `traced` holds what only the traces need. */
export interface SeatRecord {
  readonly chestAcceleration: Float64Array;
  readonly headAcceleration: Float64Array;
  readonly chestTravel: Float64Array;
  readonly chestVelocity: Float64Array;
  readonly traced: null | {
    readonly headVelocity: Float64Array;
    readonly headTravel: Float64Array;
    readonly beltForce: Float64Array;
    readonly bagForce: Float64Array;
    readonly interiorForce: Float64Array;
  };
}

export interface VehicleRecord {
  readonly position: Float64Array;
  readonly cabinLoss: Float64Array;
  readonly traced: null | { readonly velocity: Float64Array; readonly acceleration: Float64Array; readonly crush: Float64Array; readonly force: Float64Array };
}

export interface Stepped {
  readonly step: number;
  readonly count: number;
  readonly bareMass: Pair<number>;
  readonly position: Pair<number>;
  readonly velocity: Pair<number>;
  /** Between the fronts at the end, and the largest. */
  readonly force: number;
  readonly peakForce: number;
  readonly peakDeceleration: Pair<number>;
  readonly commonVelocity: number | null;
  readonly separation: number | null;
  readonly seats: Pair<readonly Seat[]>;
  readonly seatRecords: Pair<readonly SeatRecord[]>;
  readonly vehicleRecords: Pair<VehicleRecord>;
}

/** Mass of the vehicle without the occupants, who are stepped on their own. */
export const bareMass = ({ mass, occupants }: OccupiedVehicle): number => {
  let bare = mass;
  for (const occupant of occupants) if (occupant.counted === "inside") bare -= occupant.torsoMass + occupant.headMass;
  return bare;
};

/** Columns for outputs without traces, used again by the next crash of the same length. */
let spare: Float64Array[] = [];

const columns = (size: number, keep: boolean): (() => Float64Array) => {
  if (keep) return () => new Float64Array(size);
  if (spare.length > 0 && (spare[0] as Float64Array).length !== size) spare = [];
  let next = 0;
  return () => (spare[next++] ??= new Float64Array(size));
};

/**
 * The whole crash, velocity Verlet of fixed step: second order. Shorter steps end at the instant of equal velocity and
 * where a bag opens, so that no jump of force falls inside one.
 */
export const stepCrash = (input: CrashInput, traced: boolean): Stepped => {
  const { a, b, step: longest = DEFAULT_STEP, duration = DEFAULT_DURATION } = input;
  // the duration is kept, the step shortened to divide it
  const count = Math.max(1, Math.ceil(duration / longest - ROUNDING));
  const step = duration / count;
  const column = columns(count + 1, traced);
  const vehicleRecord = (): VehicleRecord => ({
    position: column(),
    cabinLoss: column(),
    traced: traced ? { velocity: column(), acceleration: column(), crush: column(), force: column() } : null,
  });
  const seatRecord = (): SeatRecord => ({
    chestAcceleration: column(),
    headAcceleration: column(),
    chestTravel: column(),
    chestVelocity: column(),
    traced: traced ? { headVelocity: column(), headTravel: column(), beltForce: column(), bagForce: column(), interiorForce: column() } : null,
  });
  const recordA = vehicleRecord();
  const recordB = vehicleRecord();
  const seatRecordsA = a.occupants.map(seatRecord);
  const seatRecordsB = b.occupants.map(seatRecord);
  const seatsA = a.occupants.map((occupant) => new Seat(occupant, a.speed));
  const seatsB = b.occupants.map((occupant) => new Seat(occupant, b.speed));
  const inA = seatsA.length;
  const inB = seatsB.length;

  // the two fronts as one: force and each front's crush are straight lines of the overlap
  const curve = seriesCurve(a.front, b.front);
  const parts = curve.force.length - 1;
  const from = Float64Array.from(curve.crush);
  const forceFrom = Float64Array.from(curve.force);
  const crushAFrom = Float64Array.from(curve.force, (f) => crushAt(a.front, f));
  const crushBFrom = Float64Array.from(curve.force, (f) => crushAt(b.front, f));
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

  let part = 0;
  let partFrom = 0;
  let partEnd = parts > 1 ? (from[1] as number) : Infinity;
  let partForce = 0;
  let stiffness = ((forceFrom[1] as number) - 0) / (from[1] as number);
  let partCrushA = 0;
  let shareA = (crushAFrom[1] as number) / (from[1] as number);
  let shareB = (crushBFrom[1] as number) / (from[1] as number);
  let partCrushB = 0;

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
  for (let k = 0; k < inA; k++) nextFire = Math.min(nextFire, (seatsA[k] as Seat).fireTime);
  for (let k = 0; k < inB; k++) nextFire = Math.min(nextFire, (seatsB[k] as Seat).fireTime);

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
            partFrom = from[part] as number;
            partForce = forceFrom[part] as number;
            partCrushA = crushAFrom[part] as number;
            partCrushB = crushBFrom[part] as number;
            const wide = (from[part + 1] as number) - partFrom;
            stiffness = ((forceFrom[part + 1] as number) - partForce) / wide;
            shareA = ((crushAFrom[part + 1] as number) - partCrushA) / wide;
            shareB = ((crushBFrom[part + 1] as number) - partCrushB) / wide;
            partEnd = part + 1 < parts ? (from[part + 1] as number) : Infinity;
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
      for (let k = 0; k < inA; k++) pushA += (seatsA[k] as Seat).advance(h, positionA, lossA);
      for (let k = 0; k < inB; k++) pushB += (seatsB[k] as Seat).advance(h, positionB, lossB);
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
        for (let k = 0; k < inA; k++) nextFire = Math.min(nextFire, fire(seatsA[k] as Seat, time + ROUNDING * step, positionA));
        for (let k = 0; k < inB; k++) nextFire = Math.min(nextFire, fire(seatsB[k] as Seat, time + ROUNDING * step, positionB));
      } else if (left <= 0) break;
    }

    recordA.position[i] = positionA;
    recordB.position[i] = positionB;
    recordA.cabinLoss[i] = lossA;
    recordB.cabinLoss[i] = lossB;
    for (let k = 0; k < inA; k++) record(seatRecordsA[k] as SeatRecord, seatsA[k] as Seat, i, positionA);
    for (let k = 0; k < inB; k++) record(seatRecordsB[k] as SeatRecord, seatsB[k] as Seat, i, positionB);
    if (recordA.traced !== null && recordB.traced !== null) {
      const tracedA = recordA.traced;
      const tracedB = recordB.traced;
      const released = locked ? 0 : peakForce - force;
      tracedA.velocity[i] = velocityA;
      tracedB.velocity[i] = velocityB;
      tracedA.acceleration[i] = accelerationA;
      tracedB.acceleration[i] = accelerationB;
      tracedA.crush[i] = crushA - giveA * released;
      tracedB.crush[i] = crushB - giveB * released;
      tracedA.force[i] = force;
      tracedB.force[i] = force;
    }
  }

  return {
    step,
    count,
    bareMass: { a: massA, b: massB },
    position: { a: positionA, b: positionB },
    velocity: { a: velocityA, b: velocityB },
    force,
    peakForce,
    peakDeceleration: { a: peakA, b: peakB },
    commonVelocity: commonVelocity < 0 ? null : commonVelocity,
    separation: separation < 0 ? null : separation,
    seats: { a: seatsA, b: seatsB },
    seatRecords: { a: seatRecordsA, b: seatRecordsB },
    vehicleRecords: { a: recordA, b: recordB },
  };
};

/** Share of a step that rounding of the time may take: no bag waits for an instant that has passed. */
const ROUNDING = 1e-9;

/** Opens the bag if its time has come; returns the time still to wait for, Infinity if none. */
const fire = (seat: Seat, time: number, vehicle: number): number => {
  if (seat.bag === 1) return Infinity;
  if (seat.fireTime > time) return seat.fireTime;
  seat.fire(vehicle);
  return Infinity;
};

const record = (to: SeatRecord, seat: Seat, i: number, vehicle: number): void => {
  to.chestAcceleration[i] = seat.torsoAcceleration;
  to.headAcceleration[i] = seat.headAcceleration;
  to.chestTravel[i] = seat.torso - vehicle;
  to.chestVelocity[i] = seat.torsoVelocity;
  const { traced } = to;
  if (traced === null) return;
  traced.headVelocity[i] = seat.headVelocity;
  traced.headTravel[i] = seat.head - vehicle;
  traced.beltForce[i] = seat.beltForce;
  traced.bagForce[i] = seat.bagForce;
  traced.interiorForce[i] = seat.interiorForce;
};
