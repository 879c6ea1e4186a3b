import { requireNonNegative, requirePositive, requireSeries, requireThat } from "../check.ts";
import { crushAt, energyAt, requireCurve, requireUnloading, seriesCurve, unloadingGive } from "../structure/forceCrushCurve.ts";
import type { CrashTimes, CrashVehicle, Pair, VehicleTrace } from "./types.ts";

export interface VehiclesAloneInput {
  readonly a: CrashVehicle;
  readonly b: CrashVehicle;
}

/** A stretch of loading on one straight part: the overlap is a sinusoid about where that part's line meets zero force. */
interface Stretch {
  readonly from: number;
  readonly overlap: number;
  readonly speed: number;
  readonly force: number;
  /** Stiffness of the part [N/m] and its angular frequency [1/s]. */
  readonly stiffness: number;
  readonly frequency: number;
}

interface Course {
  readonly reducedMass: number;
  readonly closingSpeed: number;
  readonly peakForce: number;
  readonly peakOverlap: number;
  readonly stretches: readonly Stretch[];
  readonly commonTime: number;
  /** Crush returned for each newton taken off, both fronts together [m/N]. */
  readonly give: number;
  readonly separationTime: number | null;
  readonly separationSpeed: number;
}

/** Refuses what is not a vehicle. */
export const requireVehicle = (kernel: string, name: string, vehicle: CrashVehicle): void => {
  requirePositive(kernel, `${name}.mass`, vehicle.mass, "kg");
  requireNonNegative(kernel, `${name}.speed`, vehicle.speed, "m/s");
  requireCurve(kernel, `${name}.front`, vehicle.front);
  requireUnloading(kernel, `${name}.unloading`, vehicle.unloading, vehicle.front);
};

const checked = (kernel: string, { a, b }: VehiclesAloneInput): void => {
  requireVehicle(kernel, "a", a);
  requireVehicle(kernel, "b", b);
  requireThat(a.speed + b.speed > 0, kernel, "a.speed + b.speed", "> 0 m/s (they must close in)", a.speed + b.speed);
};

/** The relative motion, part by part: speeds from energy, times from arctangents. */
const courseOf = ({ a, b }: VehiclesAloneInput): Course => {
  const reducedMass = (a.mass * b.mass) / (a.mass + b.mass);
  const closingSpeed = a.speed + b.speed;
  const curve = seriesCurve(a.front, b.front);
  const stretches: Stretch[] = [];
  let time = 0;
  let speed = closingSpeed;
  for (let i = 1; ; i++) {
    const overlap = curve.crush[i - 1] as number;
    const force = curve.force[i - 1] as number;
    const last = i === curve.crush.length - 1;
    const stiffness = ((curve.force[i] as number) - force) / ((curve.crush[i] as number) - overlap);
    const frequency = Math.sqrt(stiffness / reducedMass);
    stretches.push({ from: time, overlap, speed, force, stiffness, frequency });
    // a part's line meets zero force at overlap - force / stiffness; angles are measured from there
    const startAngle = Math.atan2((frequency * force) / stiffness, speed);
    const end = (curve.force[i] as number) / stiffness;
    const squared = speed ** 2 + frequency ** 2 * ((force / stiffness) ** 2 - end ** 2);
    if (last || squared <= 0) {
      const peakForce = Math.sqrt(force ** 2 + reducedMass * stiffness * speed ** 2);
      const commonTime = time + (Math.PI / 2 - startAngle) / frequency;
      const give = unloadingGive(a.unloading) + unloadingGive(b.unloading);
      return {
        reducedMass,
        closingSpeed,
        peakForce,
        peakOverlap: overlap + (peakForce - force) / stiffness,
        stretches,
        commonTime,
        give,
        separationTime: give === 0 ? null : commonTime + (Math.PI / 2) * Math.sqrt(reducedMass * give),
        separationSpeed: peakForce * Math.sqrt(give / reducedMass),
      };
    }
    const endSpeed = Math.sqrt(squared);
    time += (Math.atan2(frequency * end, endSpeed) - startAngle) / frequency;
    speed = endSpeed;
  }
};

/**
 * Head-on crash of two vehicles without occupants, exact.
 *
 * Model: central, full overlap; each front is straight lines of force against crush, the force is shared and the crushes
 * add. A front gives back nothing or unloads along a straight line from its deepest crush. No rate effect, no tyre force.
 * The relative motion is a sinusoid on each part: speeds from energy, times from arctangents, error that of rounding.
 * Each vehicle on its own forward axis, so slowing down is a negative change.
 *
 * @param a.mass > 0 [kg]
 * @param a.speed >= 0, towards the other [m/s]
 * @param a.front.crush rising from 0 [m]
 * @param a.front.force rising from 0 [N]
 * @param a.front.noseLength >= 0, crush at which the cabin begins to give; left out: it never does [m]
 * @param a.unloading.stiffness >= the steepest loading slope; or unloading "none" [N/m]
 * @param b.mass > 0 [kg]
 * @param b.speed >= 0, towards the other [m/s]
 * @param b.front.crush rising from 0 [m]
 * @param b.front.force rising from 0 [N]
 * @param b.front.noseLength >= 0, crush at which the cabin begins to give; left out: it never does [m]
 * @param b.unloading.stiffness >= the steepest loading slope; or unloading "none" [N/m]
 * @returns closingSpeed [m/s]
 * @returns commonVelocity of each, on its own axis [m/s]
 * @returns deltaV of each: velocity after less velocity before [m/s]
 * @returns peakForce [N]
 * @returns crush of each at the peak [m]
 * @returns residualCrush of each [m]
 * @returns cabinLoss of each: crush beyond the nose [m]
 * @returns peakDeceleration of each [m/s^2]
 * @returns times of equal velocity and of separation, null if they do not part [s]
 * @returns separationSpeed [m/s]
 * @returns restitution 0 to 1 [1]
 * @returns equivalentWallSpeed of each: the speed into a rigid wall at which its front would absorb as much [m/s]
 * @returns energy.kineticBefore of each [J]
 * @returns energy.kineticAfter of each [J]
 * @returns energy.absorbed by each front at the peak [J]
 * @returns energy.returned by each front afterwards [J]
 * @returns energy.dissipated in all [J]
 * @throws RangeError outside those ranges, or for an unloading stiffness below the steepest loading slope
 * @equation closingSpeed = a.speed + b.speed
 * @equation commonVelocity.a = (a.mass * a.speed - b.mass * b.speed) / (a.mass + b.mass)
 * @equation commonVelocity.b = (b.mass * b.speed - a.mass * a.speed) / (a.mass + b.mass)
 * @equation restitution = separationSpeed / closingSpeed
 * @equation deltaV.a = -b.mass / (a.mass + b.mass) * (1 + restitution) * closingSpeed
 * @equation deltaV.b = -a.mass / (a.mass + b.mass) * (1 + restitution) * closingSpeed
 * @equation peakDeceleration.a = peakForce / a.mass
 * @equation peakDeceleration.b = peakForce / b.mass
 * @equation equivalentWallSpeed.a = sqrt(2 * energy.absorbed.a / a.mass)
 * @equation equivalentWallSpeed.b = sqrt(2 * energy.absorbed.b / b.mass)
 * @equation energy.dissipated = energy.absorbed.a - energy.returned.a + energy.absorbed.b - energy.returned.b
 * @source derived, sinusoid on each straight part; stepped to 1e-11 by a second route
 * @example vehiclesAlone({ a: { mass: 1200, speed: 12, front: { crush: [0, 1], force: [0, 700000] }, unloading: "none" }, b: { mass: 1800, speed: 8, front: { crush: [0, 1], force: [0, 1000000] }, unloading: "none" } }).deltaV.a // -12
 */
export const vehiclesAlone = (input: VehiclesAloneInput) => {
  checked("vehiclesAlone", input);
  const { a, b } = input;
  const course = courseOf(input);
  const { reducedMass, closingSpeed, peakForce, separationSpeed } = course;
  const commonVelocity = (a.mass * a.speed - b.mass * b.speed) / (a.mass + b.mass);
  const exchanged = reducedMass * (closingSpeed + separationSpeed);
  const deltaV = { a: -exchanged / a.mass, b: -exchanged / b.mass };
  const crush = { a: crushAt(a.front, peakForce), b: crushAt(b.front, peakForce) };
  const give = { a: unloadingGive(a.unloading), b: unloadingGive(b.unloading) };
  const absorbed = { a: energyAt(a.front, crush.a), b: energyAt(b.front, crush.b) };
  const returned = { a: (peakForce ** 2 * give.a) / 2, b: (peakForce ** 2 * give.b) / 2 };
  const times: CrashTimes = { commonVelocity: course.commonTime, separation: course.separationTime };
  return {
    closingSpeed,
    commonVelocity: { a: commonVelocity, b: -commonVelocity },
    deltaV,
    peakForce,
    crush,
    residualCrush: { a: crush.a - peakForce * give.a, b: crush.b - peakForce * give.b },
    cabinLoss: { a: Math.max(0, crush.a - (a.front.noseLength ?? Infinity)), b: Math.max(0, crush.b - (b.front.noseLength ?? Infinity)) },
    peakDeceleration: { a: peakForce / a.mass, b: peakForce / b.mass },
    times,
    separationSpeed,
    restitution: separationSpeed / closingSpeed,
    equivalentWallSpeed: { a: Math.sqrt((2 * absorbed.a) / a.mass), b: Math.sqrt((2 * absorbed.b) / b.mass) },
    energy: {
      kineticBefore: { a: (a.mass * a.speed ** 2) / 2, b: (b.mass * b.speed ** 2) / 2 },
      kineticAfter: { a: (a.mass * (a.speed + deltaV.a) ** 2) / 2, b: (b.mass * (b.speed + deltaV.b) ** 2) / 2 },
      absorbed,
      returned,
      dissipated: absorbed.a - returned.a + (absorbed.b - returned.b),
    },
  };
};

/**
 * The same crash against time, exact at any instant from touch on.
 *
 * Model: as vehiclesAlone.
 *
 * @param a as vehiclesAlone
 * @param b as vehiclesAlone
 * @param time instants wanted, each >= 0, touch at 0 [s]
 * @returns time as given [s]
 * @returns force between the fronts [N]
 * @returns vehicles.a.position, vehicles.b.position since touch [m]
 * @returns vehicles.a.velocity, vehicles.b.velocity over the ground [m/s]
 * @returns vehicles.a.acceleration, vehicles.b.acceleration over the ground [m/s^2]
 * @returns vehicles.a.crush, vehicles.b.crush at the time [m]
 * @returns vehicles.a.cabinLoss, vehicles.b.cabinLoss so far [m]
 * @throws RangeError outside those ranges
 * @source derived, sinusoid on each straight part
 * @example vehiclesAloneTraces({ a: { mass: 1200, speed: 12, front: { crush: [0, 1], force: [0, 700000] }, unloading: "none" }, b: { mass: 1800, speed: 8, front: { crush: [0, 1], force: [0, 1000000] }, unloading: "none" }, time: [0, 1] }).vehicles.a.velocity[1] // 0
 */
export const vehiclesAloneTraces = ({ a, b, time }: VehiclesAloneInput & { readonly time: ArrayLike<number> }): { readonly time: Float64Array; readonly force: Float64Array; readonly vehicles: Pair<VehicleTrace> } => {
  const input = { a, b };
  checked("vehiclesAloneTraces", input);
  requireSeries("vehiclesAloneTraces", "time", time, 1, "s");
  const course = courseOf(input);
  const { reducedMass, stretches, commonTime, give, peakForce, peakOverlap, separationTime, separationSpeed } = course;
  const commonVelocity = (a.mass * a.speed - b.mass * b.speed) / (a.mass + b.mass);
  const giveA = unloadingGive(a.unloading);
  const giveB = unloadingGive(b.unloading);
  const peakA = crushAt(a.front, peakForce);
  const peakB = crushAt(b.front, peakForce);
  const noseA = a.front.noseLength ?? Infinity;
  const noseB = b.front.noseLength ?? Infinity;
  const size = time.length;
  const trace = (): VehicleTrace => ({ position: new Float64Array(size), velocity: new Float64Array(size), acceleration: new Float64Array(size), crush: new Float64Array(size), cabinLoss: new Float64Array(size) });
  const force = new Float64Array(size);
  const vehicles = { a: trace(), b: trace() };
  for (let n = 0; n < size; n++) {
    const t = time[n] as number;
    requireNonNegative("vehiclesAloneTraces", `time[${n}]`, t, "s");
    let overlap: number;
    let speed: number;
    let push: number;
    let crushA: number;
    let crushB: number;
    if (t < commonTime) {
      let i = stretches.length - 1;
      while (t < (stretches[i] as Stretch).from) i--;
      const part = stretches[i] as Stretch;
      const angle = part.frequency * (t - part.from);
      const reach = part.force / part.stiffness;
      overlap = part.overlap - reach + reach * Math.cos(angle) + (part.speed / part.frequency) * Math.sin(angle);
      speed = part.speed * Math.cos(angle) - part.frequency * reach * Math.sin(angle);
      push = part.force + part.stiffness * (overlap - part.overlap);
      crushA = crushAt(a.front, push);
      crushB = crushAt(b.front, push);
    } else {
      const springing = separationTime !== null && t < separationTime;
      const angle = springing ? (t - commonTime) / Math.sqrt(reducedMass * give) : Math.PI / 2;
      push = springing ? peakForce * Math.cos(angle) : 0;
      speed = -separationSpeed * Math.sin(angle);
      overlap = peakOverlap - give * (peakForce - push) + (separationTime !== null && !springing ? speed * (t - separationTime) : 0);
      crushA = peakA - giveA * (peakForce - push);
      crushB = peakB - giveB * (peakForce - push);
    }
    // relative motion split by mass about the centre of mass, which keeps its velocity
    const shareA = b.mass / (a.mass + b.mass);
    const { a: traceA, b: traceB } = vehicles;
    force[n] = push;
    traceA.position[n] = commonVelocity * t + shareA * overlap;
    traceB.position[n] = -commonVelocity * t + (1 - shareA) * overlap;
    traceA.velocity[n] = commonVelocity + shareA * speed;
    traceB.velocity[n] = -commonVelocity + (1 - shareA) * speed;
    traceA.acceleration[n] = -push / a.mass;
    traceB.acceleration[n] = -push / b.mass;
    traceA.crush[n] = crushA;
    traceB.crush[n] = crushB;
    traceA.cabinLoss[n] = Math.max(0, (t < commonTime ? crushA : peakA) - noseA);
    traceB.cabinLoss[n] = Math.max(0, (t < commonTime ? crushB : peakB) - noseB);
  }
  return { time: Float64Array.from(time), force, vehicles };
};
