import { STANDARD_GRAVITY } from "../constants.ts";
import { crushAt, energyAt, unloadingGive } from "../structure/forceCrushCurve.ts";
import { headCriteria, heldLevel, peakAt } from "./measures.ts";
import type { SeatRecord } from "./log.ts";
import type { Seat } from "./seat.ts";
import { bareMass, ROUNDING } from "./stepping.ts";
import type { Stepped } from "./stepping.ts";
import type { CrashInput, CrashOccupant, CrashOutputs, EnergyLedger, OccupantOutputs, OccupiedVehicle, RideDown, VehicleTrace } from "./types.ts";

/** Longest windows of the two usual forms of the head injury criterion [s]. */
const HIC_WINDOWS = { short: 0.015, long: 0.036 };
/** Time that the clip must be held [s]. */
export const CLIP = 0.003;

/** Mass of the vehicle with all its occupants. */
const wholeMass = (vehicle: OccupiedVehicle): number => {
  let mass = bareMass(vehicle);
  for (const { torsoMass, headMass } of vehicle.occupants) mass += torsoMass + headMass;
  return mass;
};

/** Velocity of the centre of mass of everything, on the first vehicle's axis. */
const driftOf = (a: OccupiedVehicle, b: OccupiedVehicle): number => {
  const massA = wholeMass(a);
  const massB = wholeMass(b);
  return (massA * a.speed - massB * b.speed) / (massA + massB);
};

/** Forces on a torso at a forward travel: the laws that the stepping sums up. */
export const beltForce = ({ belt }: CrashOccupant, travel: number, payout: number): number => {
  if (belt === "none") return 0;
  const force = Math.max(0, belt.stiffness * (travel - belt.slack - payout));
  return belt.limit === "none" ? force : Math.min(belt.limit, force);
};

export const bagForce = ({ bag }: CrashOccupant, travel: number, time: number): number =>
  bag === "none" || time < bag.fireTime ? 0 : bag.torsoStiffness * Math.max(0, travel - bag.torsoGap);

export const interiorForce = ({ space, interiorStiffness }: CrashOccupant, travel: number, loss: number): number => interiorStiffness * Math.max(0, travel - space + loss);

const payoutOf = ({ belt }: CrashOccupant, { taut }: Seat): number => (belt === "none" ? 0 : taut - belt.slack);

interface Ridden {
  readonly occupant: CrashOccupant;
  readonly seat: Seat;
  readonly record: SeatRecord;
  readonly vehicle: VehicleTrace;
  readonly step: number;
  /** Speed at touch, and velocity of the centre of mass of everything on this vehicle's axis. */
  readonly speed: number;
  readonly drift: number;
}

/** Furthest forward, and nearest to the interior. */
interface Reach {
  readonly travel: number;
  /** While the bag stands. */
  readonly travelIntoBag: number;
  readonly spaceLeft: number;
}

const reachOf = ({ occupant: { bag }, seat: { space }, record: { chestTravel }, vehicle: { cabinLoss }, step }: Ridden): Reach => {
  const standing = bag === "none" ? Infinity : Math.ceil(bag.fireTime / step - ROUNDING);
  let travel = 0;
  let travelIntoBag = 0;
  let spaceLeft = space;
  for (let i = 0; i < chestTravel.length; i++) {
    const forward = chestTravel[i]!;
    const gap = space - cabinLoss[i]! - forward;
    if (forward > travel) travel = forward;
    if (forward > travelIntoBag && i >= standing) travelIntoBag = forward;
    if (gap < spaceLeft) spaceLeft = gap;
  }
  return { travel, travelIntoBag, spaceLeft };
};

const rideDownOf = ({ record, vehicle, step, speed, drift }: Ridden, { travel, spaceLeft }: Reach): RideDown => {
  const { chestAcceleration, chestTravel, chestVelocity } = record;
  const { position } = vehicle;
  const last = position.length - 1;
  const start = speed - drift;
  let alongVehicle = 0;
  let i = 1;
  while (i <= last && chestVelocity[i]! > drift) {
    const moved = position[i]! - position[i - 1]! - drift * step;
    alongVehicle -= ((chestAcceleration[i - 1]! + chestAcceleration[i]!) / 2) * moved;
    i++;
  }
  const stopped = i <= last;
  const before = chestVelocity[i - 1]! - drift;
  // the stop falls part way through a step, where velocity is taken as a straight line
  const part = stopped ? before / (before + drift - chestVelocity[i]!) : 0;
  const time = (i - 1 + part) * step;
  const distance = position[i - 1]! + chestTravel[i - 1]! - drift * (i - 1) * step + (part * step * before) / 2;
  if (stopped) alongVehicle -= chestAcceleration[i - 1]! * part * (position[i]! - position[i - 1]! - drift * step);
  const removed = stopped ? start ** 2 / 2 : (start ** 2 - before ** 2) / 2;
  return { travel, spaceLeft, stopped, time, distance, meanDeceleration: removed / distance, efficiency: removed > 0 ? alongVehicle / removed : 0 };
};

const gapAt = ({ seat: { space }, record: { chestTravel }, vehicle: { cabinLoss } }: Ridden, i: number): number => (i < 0 ? space : space - cabinLoss[i]! - chestTravel[i]!);

/** First meeting of torso and interior, on the parabola through the last three gaps, none of which a contact force has bent. */
const contactOf = (ridden: Ridden): OccupantOutputs["contact"] => {
  const { record, step } = ridden;
  let i = 0;
  while (i < record.chestTravel.length && gapAt(ridden, i) >= 0) i++;
  if (i === record.chestTravel.length) return { met: false };
  if (i === 0) return { met: true, time: 0, speed: 0 };
  const before = gapAt(ridden, i - 2);
  const here = gapAt(ridden, i - 1);
  const after = gapAt(ridden, i);
  const rate = (after - before) / 2;
  const bend = after - 2 * here + before;
  // here + rate x + bend x^2 / 2 = 0, the root between 0 and 1
  const root = Math.sqrt(Math.max(0, rate ** 2 - 2 * bend * here));
  const x = Math.min(1, (2 * here) / (root - rate));
  return { met: true, time: (i - 1 + x) * step, speed: -(rate + bend * x) / step };
};

const occupantOutputs = (ridden: Ridden): OccupantOutputs => {
  const { occupant, seat, record, step } = ridden;
  const { chestAcceleration, headAcceleration } = record;
  const chestTop = peakAt(chestAcceleration);
  const head = headCriteria(headAcceleration, step, HIC_WINDOWS.short, HIC_WINDOWS.long, STANDARD_GRAVITY);
  const reach = reachOf(ridden);
  return {
    chestPeak: Math.abs(chestAcceleration[chestTop]!),
    chestClip: heldLevel(chestAcceleration, step, CLIP, chestTop),
    headPeak: head.peak,
    hic15: head.short,
    hic36: head.long,
    beltPeak: beltForce(occupant, reach.travel, payoutOf(occupant, seat)),
    bagPeak: bagForce(occupant, reach.travelIntoBag, Infinity),
    beltPayout: payoutOf(occupant, seat),
    rideDown: rideDownOf(ridden, reach),
    contact: reach.spaceLeft < 0 ? contactOf(ridden) : { met: false },
  };
};

/** Work done on a torso by an interior pushed back at it, on straight lines between samples. */
const intrusionWork = (occupant: CrashOccupant, { chestTravel }: SeatRecord, { cabinLoss }: VehicleTrace): number => {
  let work = 0;
  for (let i = 1; i < chestTravel.length; i++) {
    const pushed = cabinLoss[i]! - cabinLoss[i - 1]!;
    if (pushed > 0) work += ((interiorForce(occupant, chestTravel[i - 1]!, cabinLoss[i - 1]!) + interiorForce(occupant, chestTravel[i]!, cabinLoss[i]!)) / 2) * pushed;
  }
  return work;
};

const total = (ledger: Omit<EnergyLedger, "sum">): EnergyLedger => ({
  ...ledger,
  sum:
    ledger.kinetic.a + ledger.kinetic.b + ledger.fronts.a + ledger.fronts.b +
    ledger.beltStretch + ledger.beltPayout + ledger.bags + ledger.interiors + ledger.neckSpring + ledger.neckDamping + ledger.bagOpening + ledger.intrusion,
});

const ledgerBefore = ({ a, b }: CrashInput): EnergyLedger =>
  total({ kinetic: { a: (wholeMass(a) * a.speed ** 2) / 2, b: (wholeMass(b) * b.speed ** 2) / 2 }, fronts: { a: 0, b: 0 }, beltStretch: 0, beltPayout: 0, bags: 0, interiors: 0, neckSpring: 0, neckDamping: 0, bagOpening: 0, intrusion: 0 });

const ledgerAfter = (input: CrashInput, stepped: Stepped): EnergyLedger => {
  const { count, step, force, peakForce, vehicles } = stepped;
  const rigid = input.a.unloading === "none" && input.b.unloading === "none";
  const ledger = { kinetic: { a: 0, b: 0 }, fronts: { a: 0, b: 0 }, beltStretch: 0, beltPayout: 0, bags: 0, interiors: 0, neckSpring: 0, neckDamping: 0, bagOpening: 0, intrusion: 0 };
  for (const name of ["a", "b"] as const) {
    const { front, unloading, occupants } = input[name];
    const { cabinLoss } = vehicles[name];
    const returned = rigid ? 0 : (unloadingGive(unloading) * (peakForce ** 2 - force ** 2)) / 2;
    ledger.fronts[name] = energyAt(front, crushAt(front, peakForce)) - returned;
    ledger.kinetic[name] = (stepped.bareMass[name] * stepped.velocity[name] ** 2) / 2;
    occupants.forEach((occupant, k) => {
      const { torsoMass, headMass, belt, bag, neck, interiorStiffness } = occupant;
      const seat = stepped.seats[name][k]!;
      const record = seat.record;
      const travel = record.chestTravel[count]!;
      ledger.kinetic[name] += (torsoMass * seat.torsoVelocity ** 2 + headMass * seat.headVelocity ** 2) / 2;
      if (belt !== "none") {
        ledger.beltStretch += beltForce(occupant, travel, payoutOf(occupant, seat)) ** 2 / (2 * belt.stiffness);
        if (belt.limit !== "none") ledger.beltPayout += belt.limit * payoutOf(occupant, seat);
      }
      if (bag !== "none" && count * step >= bag.fireTime) {
        ledger.bags += (bag.torsoStiffness * Math.max(0, travel - bag.torsoGap) ** 2 + bag.headStiffness * Math.max(0, (seat.head - vehicles[name].position[count]!) - bag.headGap) ** 2) / 2;
        ledger.bagOpening -= seat.bagOpening;
      }
      ledger.interiors += interiorForce(occupant, travel, cabinLoss[count]!) ** 2 / (2 * interiorStiffness);
      ledger.neckSpring += (neck.stiffness * (seat.head - seat.torso) ** 2) / 2;
      ledger.neckDamping += neck.damping * seat.nodded;
      if (cabinLoss[count]! > 0) ledger.intrusion -= intrusionWork(occupant, record, vehicles[name]);
    });
  }
  return total(ledger);
};

/** Everything a stepped crash comes to. */
export const outputsOf = (input: CrashInput, stepped: Stepped): CrashOutputs => {
  const { a, b } = input;
  const { step, count, peakForce, velocity, vehicles, seats } = stepped;
  const crush = { a: crushAt(a.front, peakForce), b: crushAt(b.front, peakForce) };
  const driftA = driftOf(a, b);
  const occupants = (name: "a" | "b", drift: number): OccupantOutputs[] =>
    input[name].occupants.map((occupant, k) => occupantOutputs({ occupant, seat: seats[name][k]!, record: seats[name][k]!.record, vehicle: vehicles[name], step, speed: input[name].speed, drift }));
  const before = ledgerBefore(input);
  const after = ledgerAfter(input, stepped);
  return {
    step,
    duration: step * count,
    peakForce,
    deltaV: { a: velocity.a - a.speed, b: velocity.b - b.speed },
    crush,
    cabinLoss: { a: Math.max(0, crush.a - (a.front.noseLength ?? Infinity)), b: Math.max(0, crush.b - (b.front.noseLength ?? Infinity)) },
    peakDeceleration: stepped.peakDeceleration,
    times: { commonVelocity: stepped.commonVelocity, separation: stepped.separation },
    energy: { before, after, error: (after.sum - before.sum) / before.sum },
    occupants: { a: occupants("a", driftA), b: occupants("b", -driftA) },
  };
};
