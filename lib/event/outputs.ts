import { clip3ms } from "../injury/clip3ms.ts";
import { headInjuryCriterion } from "../injury/headInjuryCriterion.ts";
import { crushAt, energyAt, unloadingGive } from "../structure/forceCrushCurve.ts";
import type { Seat } from "./seat.ts";
import { bareMass } from "./stepping.ts";
import type { SeatRecord, Stepped, VehicleRecord } from "./stepping.ts";
import type { CrashInput, CrashOutputs, EnergyLedger, OccupantOutputs, OccupiedVehicle, Pair, RideDown } from "./types.ts";

/** Longest windows of the two usual forms of the head injury criterion [s]. */
const HIC_WINDOWS = { short: 0.015, long: 0.036 };

const largest = (values: Float64Array): number => {
  let peak = 0;
  for (let i = 0; i < values.length; i++) {
    const size = Math.abs(values[i] as number);
    if (size > peak) peak = size;
  }
  return peak;
};

/** Velocity of the centre of mass of everything, on the first vehicle's axis. */
const driftOf = (a: OccupiedVehicle, b: OccupiedVehicle): number => {
  const whole = (vehicle: OccupiedVehicle): number => vehicle.occupants.reduce((mass, o) => mass + o.torsoMass + o.headMass, bareMass(vehicle));
  const massA = whole(a);
  const massB = whole(b);
  return (massA * a.speed - massB * b.speed) / (massA + massB);
};

const rideDownOf = (speed: number, drift: number, step: number, seat: Seat, record: SeatRecord, vehicle: VehicleRecord): RideDown => {
  const { chestAcceleration, chestTravel, chestVelocity } = record;
  const { position, cabinLoss } = vehicle;
  const last = position.length - 1;
  let travel = 0;
  let spaceLeft = seat.space;
  for (let i = 0; i <= last; i++) {
    const forward = chestTravel[i] as number;
    if (forward > travel) travel = forward;
    const gap = seat.space - (cabinLoss[i] as number) - forward;
    if (gap < spaceLeft) spaceLeft = gap;
  }
  const start = speed - drift;
  let alongVehicle = 0;
  let i = 1;
  while (i <= last && (chestVelocity[i] as number) > drift) {
    const moved = (position[i] as number) - (position[i - 1] as number) - drift * step;
    alongVehicle -= (((chestAcceleration[i - 1] as number) + (chestAcceleration[i] as number)) / 2) * moved;
    i++;
  }
  const stopped = i <= last;
  const before = (chestVelocity[i - 1] as number) - drift;
  // the stop falls part way through a step, where velocity is taken as a straight line
  const part = stopped ? before / (before + drift - (chestVelocity[i] as number)) : 0;
  const time = (i - 1 + part) * step;
  const distance = (position[i - 1] as number) + (chestTravel[i - 1] as number) - drift * (i - 1) * step + (part * step * before) / 2;
  if (stopped) alongVehicle -= (chestAcceleration[i - 1] as number) * part * ((position[i] as number) - (position[i - 1] as number) - drift * step);
  const removed = stopped ? start ** 2 / 2 : (start ** 2 - before ** 2) / 2;
  return { travel, spaceLeft, stopped, time, distance, meanDeceleration: removed / distance, efficiency: removed > 0 ? alongVehicle / removed : 0 };
};

/** First meeting of torso and interior, on the parabola through the last three gaps, none of which a contact force has bent. */
const contactOf = (step: number, seat: Seat, { chestTravel }: SeatRecord, { cabinLoss }: VehicleRecord): OccupantOutputs["contact"] => {
  const gap = (i: number): number => (i < 0 ? seat.space : seat.space - (cabinLoss[i] as number) - (chestTravel[i] as number));
  let i = 0;
  while (i < chestTravel.length && gap(i) >= 0) i++;
  if (i === chestTravel.length) return { met: false };
  if (i === 0) return { met: true, time: 0, speed: 0 };
  const here = gap(i - 1);
  const rate = (gap(i) - gap(i - 2)) / 2;
  const bend = gap(i) - 2 * here + gap(i - 2);
  // here + rate x + bend x^2 / 2 = 0, the root between 0 and 1
  const root = Math.sqrt(Math.max(0, rate ** 2 - 2 * bend * here));
  const x = Math.min(1, (2 * here) / (root - rate));
  return { met: true, time: (i - 1 + x) * step, speed: -(rate + bend * x) / step };
};

const occupantOutputs = (speed: number, drift: number, step: number, seat: Seat, record: SeatRecord, vehicle: VehicleRecord): OccupantOutputs => ({
  chestPeak: largest(record.chestAcceleration),
  chestClip: clip3ms({ sampleInterval: step, acceleration: record.chestAcceleration, definition: "contiguous" }).value,
  headPeak: largest(record.headAcceleration),
  hic15: headInjuryCriterion({ sampleInterval: step, acceleration: record.headAcceleration, window: HIC_WINDOWS.short }).value,
  hic36: headInjuryCriterion({ sampleInterval: step, acceleration: record.headAcceleration, window: HIC_WINDOWS.long }).value,
  beltPeak: seat.beltPeak,
  bagPeak: seat.bagPeak,
  beltPayout: seat.payout,
  rideDown: rideDownOf(speed, drift, step, seat, record, vehicle),
  contact: contactOf(step, seat, record, vehicle),
});

const total = (ledger: Omit<EnergyLedger, "sum">): EnergyLedger => ({
  ...ledger,
  sum:
    ledger.kinetic.a + ledger.kinetic.b + ledger.fronts.a + ledger.fronts.b +
    ledger.beltStretch + ledger.beltPayout + ledger.bags + ledger.interiors + ledger.neckSpring + ledger.neckDamping + ledger.bagOpening + ledger.intrusion,
});

const ledgerBefore = ({ a, b }: CrashInput): EnergyLedger => {
  const kinetic = (vehicle: OccupiedVehicle): number =>
    (vehicle.occupants.reduce((mass, o) => mass + o.torsoMass + o.headMass, bareMass(vehicle)) * vehicle.speed ** 2) / 2;
  return total({ kinetic: { a: kinetic(a), b: kinetic(b) }, fronts: { a: 0, b: 0 }, beltStretch: 0, beltPayout: 0, bags: 0, interiors: 0, neckSpring: 0, neckDamping: 0, bagOpening: 0, intrusion: 0 });
};

const ledgerAfter = (vehicles: Pair<OccupiedVehicle>, stepped: Stepped): EnergyLedger => {
  const { force, peakForce } = stepped;
  const rigid = vehicles.a.unloading === "none" && vehicles.b.unloading === "none";
  const side = (name: "a" | "b") => {
    const { front, unloading } = vehicles[name];
    const seats = stepped.seats[name];
    let kinetic = (stepped.bareMass[name] * stepped.velocity[name] ** 2) / 2;
    for (const seat of seats) kinetic += (seat.torsoMass * seat.torsoVelocity ** 2 + seat.headMass * seat.headVelocity ** 2) / 2;
    const returned = rigid ? 0 : (unloadingGive(unloading) * (peakForce ** 2 - force ** 2)) / 2;
    return { kinetic, front: energyAt(front, crushAt(front, peakForce)) - returned };
  };
  const a = side("a");
  const b = side("b");
  const ledger = { kinetic: { a: a.kinetic, b: b.kinetic }, fronts: { a: a.front, b: b.front }, beltStretch: 0, beltPayout: 0, bags: 0, interiors: 0, neckSpring: 0, neckDamping: 0, bagOpening: 0, intrusion: 0 };
  for (const name of ["a", "b"] as const)
    for (const seat of stepped.seats[name]) {
      if (seat.beltStiffness > 0) ledger.beltStretch += seat.beltForce ** 2 / (2 * seat.beltStiffness);
      if (seat.payout > 0) ledger.beltPayout += seat.beltLimit * seat.payout;
      ledger.bags += seat.bagEnergy(stepped.position[name]);
      ledger.interiors += seat.interiorForce ** 2 / (2 * seat.interiorStiffness);
      ledger.neckSpring += (seat.neckStiffness * (seat.head - seat.torso) ** 2) / 2;
      ledger.neckDamping += seat.neckDamped;
      ledger.bagOpening -= seat.bagOpening;
      ledger.intrusion -= seat.intrusion;
    }
  return total(ledger);
};

/** Everything a stepped crash comes to. */
export const outputsOf = (input: CrashInput, stepped: Stepped): CrashOutputs => {
  const { a, b } = input;
  const { step, count, velocity, peakForce, seats, seatRecords, vehicleRecords } = stepped;
  const crush = { a: crushAt(a.front, peakForce), b: crushAt(b.front, peakForce) };
  const drift = driftOf(a, b);
  const occupants = (name: "a" | "b", speed: number, driftHere: number): OccupantOutputs[] =>
    seats[name].map((seat, i) => occupantOutputs(speed, driftHere, step, seat, seatRecords[name][i] as SeatRecord, vehicleRecords[name]));
  const before = ledgerBefore(input);
  const after = ledgerAfter({ a, b }, stepped);
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
    occupants: { a: occupants("a", a.speed, drift), b: occupants("b", b.speed, -drift) },
  };
};
