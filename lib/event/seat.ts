import type { CrashOccupant } from "./types.ts";

/**
 * One occupant while the crash is stepped, as a row of numbers: what it is made of, then its present motion. A typed array,
 * because this is where nearly all the time of a study goes. Positions and velocities are over the ground on the vehicle's
 * forward axis; travel is relative to the vehicle.
 */
export type Seat = Float64Array;

export const TORSO_MASS = 0;
export const HEAD_MASS = 1;
export const SLACK = 2;
export const BELT_STIFFNESS = 3;
/** Stretch at which the belt pays out. */
export const BELT_REACH = 4;
export const FIRE_TIME = 5;
export const TORSO_GAP = 6;
/** 0 until the bag stands. */
export const TORSO_BAG = 7;
export const HEAD_GAP = 8;
/** 0 until the bag stands. */
export const HEAD_BAG = 9;
export const SPACE = 10;
export const INTERIOR_STIFFNESS = 11;
export const NECK_STIFFNESS = 12;
export const NECK_DAMPING = 13;
export const TORSO = 14;
export const HEAD = 15;
export const TORSO_VELOCITY = 16;
export const HEAD_VELOCITY = 17;
export const TORSO_ACCELERATION = 18;
export const HEAD_ACCELERATION = 19;
export const PAYOUT = 20;
/** Energy spent in the neck's damper so far. */
export const NECK_DAMPED = 21;
/** Energy put in by the bag opening where the occupant already was. */
export const BAG_OPENING = 22;
const NUMBERS = 23;

/** An occupant at touch. The bag does not stand yet. */
export const seatOf = ({ torsoMass, headMass, belt, bag, space, interiorStiffness, neck }: CrashOccupant, speed: number): Seat => {
  const s = new Float64Array(NUMBERS);
  s[TORSO_MASS] = torsoMass;
  s[HEAD_MASS] = headMass;
  s[BELT_REACH] = Infinity;
  if (belt !== "none") {
    s[SLACK] = belt.slack;
    s[BELT_STIFFNESS] = belt.stiffness;
    if (belt.limit !== "none") s[BELT_REACH] = belt.limit / belt.stiffness;
  }
  s[FIRE_TIME] = bag === "none" ? Infinity : bag.fireTime;
  if (bag !== "none") {
    s[TORSO_GAP] = bag.torsoGap;
    s[HEAD_GAP] = bag.headGap;
  }
  s[SPACE] = space;
  s[INTERIOR_STIFFNESS] = interiorStiffness;
  s[NECK_STIFFNESS] = neck.stiffness;
  s[NECK_DAMPING] = neck.damping;
  s[TORSO_VELOCITY] = speed;
  s[HEAD_VELOCITY] = speed;
  return s;
};

/**
 * Moves an occupant on by h, the vehicle having reached `vehicle` with `loss` of its cabin gone, and returns the forward push
 * on the vehicle. With h = 0 only the forces are taken anew. The neck's damper, the one force that depends on velocity, is
 * taken at the end of the step, where its equation is linear.
 */
export const advance = (s: Seat, h: number, vehicle: number, loss: number): number => {
  const half = h / 2;
  const torsoVelocity = s[TORSO_VELOCITY]!;
  const headVelocity = s[HEAD_VELOCITY]!;
  const torsoHalfway = torsoVelocity + half * s[TORSO_ACCELERATION]!;
  const headHalfway = headVelocity + half * s[HEAD_ACCELERATION]!;
  const torso = s[TORSO]! + h * torsoHalfway;
  const head = s[HEAD]! + h * headHalfway;
  const travel = torso - vehicle;
  const headTravel = head - vehicle;

  let stretch = travel - s[SLACK]! - s[PAYOUT]!;
  const reach = s[BELT_REACH]!;
  if (stretch > reach) {
    s[PAYOUT] = s[PAYOUT]! + stretch - reach;
    stretch = reach;
  }
  const intoBag = travel - s[TORSO_GAP]!;
  const headIntoBag = headTravel - s[HEAD_GAP]!;
  const intoInterior = travel - s[SPACE]! + loss;
  let hold = stretch > 0 ? s[BELT_STIFFNESS]! * stretch : 0;
  if (intoBag > 0) hold += s[TORSO_BAG]! * intoBag;
  if (intoInterior > 0) hold += s[INTERIOR_STIFFNESS]! * intoInterior;
  const headHold = headIntoBag > 0 ? s[HEAD_BAG]! * headIntoBag : 0;

  const torsoEase = 1 / s[TORSO_MASS]!;
  const headEase = 1 / s[HEAD_MASS]!;
  const neck = s[NECK_STIFFNESS]! * (headTravel - travel);
  const torsoPull = (neck - hold) * torsoEase;
  const headPull = -(neck + headHold) * headEase;
  const dampingRate = s[NECK_DAMPING]!;
  const settle = 1 / (1 + half * dampingRate * (torsoEase + headEase));
  const nodding = (headHalfway - torsoHalfway + half * (headPull - torsoPull)) * settle;
  const damping = dampingRate * nodding;
  const torsoAcceleration = torsoPull + damping * torsoEase;
  const headAcceleration = headPull - damping * headEase;
  const wasNodding = headVelocity - torsoVelocity;

  s[TORSO] = torso;
  s[HEAD] = head;
  s[TORSO_ACCELERATION] = torsoAcceleration;
  s[HEAD_ACCELERATION] = headAcceleration;
  s[TORSO_VELOCITY] = torsoHalfway + half * torsoAcceleration;
  s[HEAD_VELOCITY] = headHalfway + half * headAcceleration;
  s[NECK_DAMPED] = s[NECK_DAMPED]! + half * dampingRate * (wasNodding * wasNodding + nodding * nodding);
  return hold + headHold;
};
