import { Fronts, press } from "./fronts.ts";
import { Log } from "./log.ts";
import { advance, Mover, Seat } from "./seat.ts";
import type { CrashInput, OccupiedVehicle, Pair, VehicleTrace } from "./types.ts";

/** Time step unless one is asked for [s]. */
export const DEFAULT_STEP = 0.00025;
/** Time followed after touch unless one is asked for [s]. */
export const DEFAULT_DURATION = 0.15;

/** Share of a step that rounding of the time may take: no bag waits for an instant that has passed. */
export const ROUNDING = 1e-9;

export interface Stepped {
  readonly step: number;
  readonly count: number;
  readonly bareMass: Pair<number>;
  /** At the end. */
  readonly velocity: Pair<number>;
  /** Between the fronts at the end, and the largest. */
  readonly force: number;
  readonly peakForce: number;
  readonly peakDeceleration: Pair<number>;
  readonly commonVelocity: number | null;
  readonly separation: number | null;
  readonly vehicles: Pair<VehicleTrace>;
  readonly forces: Float64Array;
  readonly seats: Pair<readonly Seat[]>;
}

/** Mass of the vehicle without the occupants, who are stepped on their own. */
export const bareMass = ({ mass, occupants }: OccupiedVehicle): number => {
  let bare = mass;
  for (const occupant of occupants) if (occupant.counted === "inside") bare -= occupant.torsoMass + occupant.headMass;
  return bare;
};

/** Log for outputs without traces, used again by the next crash of the same length. */
let spare = new Log(0, 0);

const spareLog = (size: number, seats: number): Log => {
  if (spare.size !== size || spare.seats.length < seats) spare = new Log(size, seats);
  return spare;
};

/** Everything that moves, and the events to come. */
class Motion {
  readonly a: Mover;
  readonly b: Mover;
  readonly fronts: Fronts;
  readonly reducedMass: number = NaN;
  readonly step: number = NaN;
  readonly log: Log;
  /** Time at the start of the part of a step being taken, and its length. */
  time = NaN;
  h = NaN;
  /** Infinity: no bag is waiting. */
  nextFire = NaN;
  /** Infinity: not yet. */
  commonVelocity = NaN;
  separation = NaN;

  constructor(a: Mover, b: Mover, fronts: Fronts, step: number, log: Log) {
    this.a = a;
    this.b = b;
    this.fronts = fronts;
    this.reducedMass = 1 / (a.ease + b.ease);
    this.step = step;
    this.log = log;
    this.time = this.h = 0;
    this.nextFire = this.commonVelocity = this.separation = Infinity;
    for (const s of a.seats) this.nextFire = Math.min(this.nextFire, s.fireTime);
    for (const s of b.seats) this.nextFire = Math.min(this.nextFire, s.fireTime);
  }
}

/** Moves everything on by h, to the end of step i or a part of the way. With h = 0 only the forces are taken anew. */
const move = (m: Motion, i: number): void => {
  const { a, b, fronts, h, log: { block, size } } = m;
  const half = h / 2;
  const velocityA = a.velocity + half * a.acceleration;
  const velocityB = b.velocity + half * b.acceleration;
  const positionA = a.position + h * velocityA;
  const positionB = b.position + h * velocityB;
  a.position = positionA;
  b.position = positionB;
  if (!fronts.locked) {
    const wasForce = fronts.force;
    press(fronts, positionA + positionB);
    if (fronts.force < 0) {
      if (wasForce > 0 && m.separation === Infinity) m.separation = m.time + (h * wasForce) / (wasForce - fronts.force);
      fronts.force = 0;
    }
    if (fronts.crushA > a.noseLength) a.loss = fronts.crushA - a.noseLength;
    if (fronts.crushB > b.noseLength) b.loss = fronts.crushB - b.noseLength;
  }
  block[a.at + i] = positionA;
  block[b.at + i] = positionB;
  block[a.at + size + i] = a.loss;
  block[b.at + size + i] = b.loss;
  advance(m, a, i);
  advance(m, b, i);
  if (fronts.locked) {
    // what holds them together, until it would crush them on
    fronts.force = m.reducedMass * (a.push * a.ease + b.push * b.ease);
    if (fronts.force > fronts.peakForce) {
      fronts.force = fronts.peakForce;
      fronts.locked = false;
    }
  }
  const { force } = fronts;
  const accelerationA = (a.push - force) * a.ease;
  const accelerationB = (b.push - force) * b.ease;
  a.acceleration = accelerationA;
  b.acceleration = accelerationB;
  a.velocity = velocityA + half * accelerationA;
  b.velocity = velocityB + half * accelerationB;
  if (Math.abs(accelerationA) > a.peak) a.peak = Math.abs(accelerationA);
  if (Math.abs(accelerationB) > b.peak) b.peak = Math.abs(accelerationB);
};

/** Time until both move as one, if that is no later than h; Infinity if not. */
const untilMeeting = ({ a, b, fronts }: Motion, h: number): number => {
  const closing = a.velocity + b.velocity;
  const slowing = -(a.acceleration + b.acceleration);
  if (closing > slowing * h || fronts.locked || fronts.peakForce === 0) return Infinity;
  if (closing <= 0) return fronts.unloadStiffness === Infinity && fronts.force > 0 ? 0 : Infinity;
  return a.position + b.position >= fronts.peakOverlap ? closing / slowing : Infinity;
};

/** Step i, cut short where a bag opens and at equal velocity, after which the forces are taken anew. */
const stepOn = (m: Motion, i: number): void => {
  m.time = (i - 1) * m.step;
  m.h = m.step;
  let meeting = untilMeeting(m, m.h);
  if (meeting <= m.h || m.nextFire - m.time <= m.h) {
    const end = m.time + m.h;
    let left = m.h;
    while (meeting <= left || m.nextFire - m.time <= left) {
      const fires = m.nextFire - m.time <= Math.min(meeting, left);
      m.h = fires ? Math.max(0, m.nextFire - m.time) : meeting;
      move(m, i);
      left -= m.h;
      m.time = end - left;
      if (fires) fireBags(m);
      else meet(m);
      m.h = 0;
      move(m, i);
      meeting = fires ? untilMeeting(m, left) : Infinity;
    }
    m.h = left;
  }
  move(m, i);
};

/** At equal velocity, fronts that give nothing back begin to hold together. */
const meet = (m: Motion): void => {
  const { a, b, fronts } = m;
  m.commonVelocity = Math.min(m.commonVelocity, m.time);
  if (fronts.unloadStiffness !== Infinity) return;
  // the little that is left of the closing speed, shared by momentum
  const shared = (a.velocity + b.velocity) * m.reducedMass;
  a.velocity -= shared * a.ease;
  b.velocity -= shared * b.ease;
  fronts.locked = true;
};

/** Opens the bags whose time has come. What they then press on is energy put in. */
const fireBags = (m: Motion): void => {
  m.nextFire = Infinity;
  for (const vehicle of [m.a, m.b])
    for (const s of vehicle.seats) {
      if (s.fireTime <= m.time + ROUNDING * m.step) {
        s.fireTime = Infinity;
        s.torsoBag = s.torsoBagStiffness;
        s.headBag = s.headBagStiffness;
        const into = Math.max(0, s.torso - vehicle.position - s.torsoGap);
        const headInto = Math.max(0, s.head - vehicle.position - s.headGap);
        s.bagOpening = (s.torsoBag * into ** 2 + s.headBag * headInto ** 2) / 2;
      }
      m.nextFire = Math.min(m.nextFire, s.fireTime);
    }
};

/** What only traces need. */
const recordTraces = ({ a, b, fronts, log }: Motion, i: number): void => {
  const released = fronts.locked ? 0 : fronts.peakForce - fronts.force;
  a.record.crush[i] = fronts.crushA - fronts.giveA * released;
  b.record.crush[i] = fronts.crushB - fronts.giveB * released;
  log.force[i] = fronts.force;
  for (const vehicle of [a, b]) {
    vehicle.record.velocity[i] = vehicle.velocity;
    vehicle.record.acceleration[i] = vehicle.acceleration;
    for (const s of vehicle.seats) {
      s.record.headVelocity[i] = s.headVelocity;
      s.record.headTravel[i] = s.head - vehicle.position;
    }
  }
};

const seatsOf = ({ occupants, speed }: OccupiedVehicle, log: Log, first: number): Seat[] => {
  const seats: Seat[] = [];
  for (const occupant of occupants) seats.push(new Seat(occupant, speed, log, first + seats.length));
  return seats;
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
  const inA = a.occupants.length;
  const inAll = inA + b.occupants.length;
  const log = keep ? new Log(count + 1, inAll) : spareLog(count + 1, inAll);
  const massA = bareMass(a);
  const massB = bareMass(b);
  const seatsA = seatsOf(a, log, 0);
  const seatsB = seatsOf(b, log, inA);
  const moverA = new Mover(a, massA, seatsA, log.a, log.vehicleBegins(0));
  const moverB = new Mover(b, massB, seatsB, log.b, log.vehicleBegins(1));
  const fronts = new Fronts(a, b);
  const motion = new Motion(moverA, moverB, fronts, step, log);

  if (motion.nextFire === 0) fireBags(motion);
  move(motion, 0);
  if (keep) recordTraces(motion, 0);
  for (let i = 1; i <= count; i++) {
    stepOn(motion, i);
    if (keep) recordTraces(motion, i);
  }

  return {
    step,
    count,
    bareMass: { a: massA, b: massB },
    velocity: { a: moverA.velocity, b: moverB.velocity },
    force: fronts.force,
    peakForce: fronts.peakForce,
    peakDeceleration: { a: moverA.peak, b: moverB.peak },
    commonVelocity: motion.commonVelocity === Infinity ? null : motion.commonVelocity,
    separation: motion.separation === Infinity ? null : motion.separation,
    vehicles: { a: log.a, b: log.b },
    forces: log.force,
    seats: { a: seatsA, b: seatsB },
  };
};
