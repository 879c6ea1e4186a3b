import type { CrashOccupant } from "./types.ts";

/**
 * One occupant while the crash is stepped: constants first, then the present state.
 * Positions and velocities are over the ground on the vehicle's forward axis; travel is relative to the vehicle.
 */
export class Seat {
  readonly torsoMass: number;
  readonly headMass: number;
  readonly slack: number;
  readonly beltStiffness: number;
  readonly beltLimit: number;
  /** Stretch at which the belt pays out. */
  readonly beltReach: number;
  readonly fireTime: number;
  readonly torsoGap: number;
  readonly torsoBagStiffness: number;
  readonly headGap: number;
  readonly headBagStiffness: number;
  readonly space: number;
  readonly interiorStiffness: number;
  readonly neckStiffness: number;
  readonly neckDamping: number;
  /** Rate at which the damper alone slows the head against the torso [1/s]. */
  readonly dampingRate: number;

  torso = 0;
  head = 0;
  torsoVelocity: number;
  headVelocity: number;
  torsoAcceleration = 0;
  headAcceleration = 0;
  payout = 0;
  /** 1 once the bag stands, else 0. */
  bag = 0;
  beltForce = 0;
  bagForce = 0;
  interiorForce = 0;
  beltPeak = 0;
  bagPeak = 0;
  /** Cabin lost when the interior force was last taken. */
  loss = 0;
  neckDamped = 0;
  bagOpening = 0;
  intrusion = 0;

  constructor({ torsoMass, headMass, belt, bag, space, interiorStiffness, neck }: CrashOccupant, speed: number) {
    this.torsoMass = torsoMass;
    this.headMass = headMass;
    this.slack = belt === "none" ? 0 : belt.slack;
    this.beltStiffness = belt === "none" ? 0 : belt.stiffness;
    this.beltLimit = belt === "none" || belt.limit === "none" ? Infinity : belt.limit;
    this.beltReach = belt === "none" ? Infinity : this.beltLimit / belt.stiffness;
    this.fireTime = bag === "none" ? Infinity : bag.fireTime;
    this.torsoGap = bag === "none" ? 0 : bag.torsoGap;
    this.torsoBagStiffness = bag === "none" ? 0 : bag.torsoStiffness;
    this.headGap = bag === "none" ? 0 : bag.headGap;
    this.headBagStiffness = bag === "none" ? 0 : bag.headStiffness;
    this.space = space;
    this.interiorStiffness = interiorStiffness;
    this.neckStiffness = neck.stiffness;
    this.neckDamping = neck.damping;
    this.dampingRate = neck.damping * (1 / torsoMass + 1 / headMass);
    this.torsoVelocity = speed;
    this.headVelocity = speed;
  }

  /**
   * Moves the occupant on by h, the vehicle having reached `vehicle` with `loss` of its cabin gone, and returns the
   * forward push on the vehicle. With h = 0 only the forces are taken anew. The neck's damper, the one force that depends
   * on velocity, is taken at the end of the step, where its equation is linear.
   */
  advance(h: number, vehicle: number, loss: number): number {
    const half = h / 2;
    const wasNodding = this.headVelocity - this.torsoVelocity;
    const torsoHalfway = this.torsoVelocity + half * this.torsoAcceleration;
    const headHalfway = this.headVelocity + half * this.headAcceleration;
    const torso = this.torso + h * torsoHalfway;
    const head = this.head + h * headHalfway;
    const travel = torso - vehicle;
    const headTravel = head - vehicle;

    let stretch = travel - this.slack - this.payout;
    if (stretch > this.beltReach) {
      this.payout = travel - this.slack - this.beltReach;
      stretch = this.beltReach;
    }
    const belt = stretch > 0 ? this.beltStiffness * stretch : 0;
    const intoBag = travel - this.torsoGap;
    const bagForce = intoBag > 0 ? this.bag * this.torsoBagStiffness * intoBag : 0;
    const headIntoBag = headTravel - this.headGap;
    const headBagForce = headIntoBag > 0 ? this.bag * this.headBagStiffness * headIntoBag : 0;
    const intoInterior = travel - this.space + loss;
    const interior = intoInterior > 0 ? this.interiorStiffness * intoInterior : 0;
    const neck = this.neckStiffness * (headTravel - travel);

    const torsoPull = (neck - belt - bagForce - interior) / this.torsoMass;
    const headPull = (-neck - headBagForce) / this.headMass;
    const nodding = (headHalfway - torsoHalfway + half * (headPull - torsoPull)) / (1 + half * this.dampingRate);
    const damping = this.neckDamping * nodding;
    const torsoAcceleration = torsoPull + damping / this.torsoMass;
    const headAcceleration = headPull - damping / this.headMass;

    this.neckDamped += half * this.neckDamping * (wasNodding * wasNodding + nodding * nodding);
    if (loss !== this.loss) {
      this.intrusion += ((this.interiorForce + interior) / 2) * (loss - this.loss);
      this.loss = loss;
    }
    this.torso = torso;
    this.head = head;
    this.torsoAcceleration = torsoAcceleration;
    this.headAcceleration = headAcceleration;
    this.torsoVelocity = torsoHalfway + half * torsoAcceleration;
    this.headVelocity = headHalfway + half * headAcceleration;
    this.beltForce = belt;
    this.bagForce = bagForce;
    this.interiorForce = interior;
    if (belt > this.beltPeak) this.beltPeak = belt;
    if (bagForce > this.bagPeak) this.bagPeak = bagForce;
    return belt + bagForce + interior + headBagForce;
  }

  /** The bag stands from now on; whatever it already presses on is energy put in. */
  fire(vehicle: number): void {
    this.bag = 1;
    this.bagOpening = this.bagEnergy(vehicle);
  }

  bagEnergy(vehicle: number): number {
    const into = Math.max(0, this.torso - vehicle - this.torsoGap);
    const headInto = Math.max(0, this.head - vehicle - this.headGap);
    return (this.bag * (this.torsoBagStiffness * into * into + this.headBagStiffness * headInto * headInto)) / 2;
  }
}
