import type { Log, SeatRecord } from "./log.ts";
import type { CrashOccupant, OccupiedVehicle, VehicleTrace } from "./types.ts";

/**
 * One occupant while the crash is stepped: what it is made of, then its present motion. Positions and velocities are over the
 * ground on the vehicle's forward axis; travel is relative to the vehicle. Every field is a number from the start, so that all
 * occupants have one shape: this is where nearly all the time of a study goes.
 */
export class Seat {
  readonly torsoMass: number = NaN;
  readonly headMass: number = NaN;
  /** 1 / mass. */
  readonly torsoEase: number = NaN;
  readonly headEase: number = NaN;
  readonly beltStiffness: number = NaN;
  /** Stretch at which the belt pays out. */
  readonly beltReach: number = NaN;
  /** Infinity: no bag, or it stands. */
  fireTime = NaN;
  readonly torsoGap: number = NaN;
  readonly headGap: number = NaN;
  readonly torsoBagStiffness: number = NaN;
  readonly headBagStiffness: number = NaN;
  /** 0 until the bag stands. */
  torsoBag = NaN;
  headBag = NaN;
  readonly space: number = NaN;
  readonly interiorStiffness: number = NaN;
  readonly neckStiffness: number = NaN;
  /** Rates at which the neck's damper stills torso and head: damping / mass. */
  readonly torsoStilling: number = NaN;
  readonly headStilling: number = NaN;
  torso = NaN;
  head = NaN;
  torsoVelocity: number = NaN;
  headVelocity: number = NaN;
  torsoAcceleration = NaN;
  headAcceleration = NaN;
  /** Travel at which the belt is taut: its slack, and what it has paid out. */
  taut = NaN;
  /** Rate of nodding squared, over the time so far: what the neck's damper has spent, for each unit of damping. */
  nodded = NaN;
  /** Energy put in by the bag opening where the occupant already was. */
  bagOpening = NaN;

  readonly record: SeatRecord;
  /** Where its columns begin in the log's block. */
  readonly at: number;

  /** At touch. The bag does not stand yet. */
  constructor({ torsoMass, headMass, belt, bag, space, interiorStiffness, neck }: CrashOccupant, speed: number, log: Log, place: number) {
    this.torsoMass = torsoMass;
    this.headMass = headMass;
    this.torsoEase = 1 / torsoMass;
    this.headEase = 1 / headMass;
    this.beltStiffness = belt === "none" ? 0 : belt.stiffness;
    this.beltReach = belt === "none" || belt.limit === "none" ? Infinity : belt.limit / belt.stiffness;
    this.fireTime = bag === "none" ? Infinity : bag.fireTime;
    this.torsoGap = bag === "none" ? Infinity : bag.torsoGap;
    this.headGap = bag === "none" ? Infinity : bag.headGap;
    this.torsoBagStiffness = bag === "none" ? 0 : bag.torsoStiffness;
    this.headBagStiffness = bag === "none" ? 0 : bag.headStiffness;
    this.space = space;
    this.interiorStiffness = interiorStiffness;
    this.neckStiffness = neck.stiffness;
    this.torsoStilling = neck.damping / torsoMass;
    this.headStilling = neck.damping / headMass;
    this.torsoVelocity = speed;
    this.headVelocity = speed;
    this.torsoBag = this.headBag = this.torso = this.head = this.torsoAcceleration = this.headAcceleration = 0;
    this.taut = belt === "none" ? 0 : belt.slack;
    this.nodded = this.bagOpening = 0;
    this.record = log.seats[place]!;
    this.at = log.seatBegins(place);
  }
}

/** A vehicle while the crash is stepped, without its occupants, who are stepped on their own. */
export class Mover {
  /** 1 / bare mass. */
  readonly ease: number = NaN;
  readonly noseLength: number = NaN;
  position = NaN;
  velocity = NaN;
  acceleration = NaN;
  peak = NaN;
  /** Of the cabin, taken by crush beyond the nose. */
  loss = NaN;
  /** Of the occupants on the vehicle, forward. */
  push = NaN;
  readonly seats: readonly Seat[];
  readonly record: VehicleTrace;
  /** Where its columns begin in the log's block. */
  readonly at: number;

  constructor({ speed, front }: OccupiedVehicle, bareMass: number, seats: readonly Seat[], record: VehicleTrace, at: number) {
    this.ease = 1 / bareMass;
    this.noseLength = front.noseLength ?? Infinity;
    this.velocity = speed;
    this.position = this.acceleration = this.peak = this.loss = this.push = 0;
    this.seats = seats;
    this.record = record;
    this.at = at;
  }
}

/** Part of a step. */
export interface Part {
  readonly h: number;
  readonly log: Log;
}

/**
 * Moves the occupants of a vehicle on by h, the vehicle having moved before them, and takes their push on it. With h = 0 only
 * the forces are taken anew. The neck's damper, the one force that depends on velocity, is taken at the end of the step, where
 * its equation is linear. Of several parts of step i the last one stands in the record.
 */
export const advance = ({ h, log: { block, size } }: Part, vehicle: Mover, i: number): void => {
  const { position, loss, seats } = vehicle;
  const half = h / 2;
  let push = 0;
  for (let k = 0; k < seats.length; k++) {
    const s = seats[k]!;
    const { torsoVelocity, headVelocity, torsoStilling, headStilling, beltReach } = s;
    const torsoHalfway = torsoVelocity + half * s.torsoAcceleration;
    const headHalfway = headVelocity + half * s.headAcceleration;
    const torso = s.torso + h * torsoHalfway;
    const head = s.head + h * headHalfway;
    const travel = torso - position;
    const headTravel = head - position;

    let stretch = travel - s.taut;
    if (stretch > beltReach) {
      s.taut += stretch - beltReach;
      stretch = beltReach;
    }
    const intoBag = travel - s.torsoGap;
    const headIntoBag = headTravel - s.headGap;
    const intoInterior = travel - s.space + loss;
    let hold = stretch > 0 ? s.beltStiffness * stretch : 0;
    if (intoBag > 0) hold += s.torsoBag * intoBag;
    if (intoInterior > 0) hold += s.interiorStiffness * intoInterior;
    const headHold = headIntoBag > 0 ? s.headBag * headIntoBag : 0;

    const neck = s.neckStiffness * (headTravel - travel);
    const torsoPull = (neck - hold) * s.torsoEase;
    const headPull = -(neck + headHold) * s.headEase;
    const settle = 1 / (1 + half * (torsoStilling + headStilling));
    const nodding = (headHalfway - torsoHalfway + half * (headPull - torsoPull)) * settle;
    const torsoAcceleration = torsoPull + torsoStilling * nodding;
    const headAcceleration = headPull - headStilling * nodding;
    const wasNodding = headVelocity - torsoVelocity;
    const torsoVelocityAfter = torsoHalfway + half * torsoAcceleration;
    const headVelocityAfter = headHalfway + half * headAcceleration;

    s.torso = torso;
    s.head = head;
    s.torsoAcceleration = torsoAcceleration;
    s.headAcceleration = headAcceleration;
    s.torsoVelocity = torsoVelocityAfter;
    s.headVelocity = headVelocityAfter;
    s.nodded += half * (wasNodding * wasNodding + nodding * nodding);
    push += hold + headHold;

    const at = s.at + i;
    block[at] = torsoAcceleration;
    block[at + size] = headAcceleration;
    block[at + 2 * size] = torsoVelocityAfter;
    block[at + 3 * size] = travel;
  }
  vehicle.push = push;
};
