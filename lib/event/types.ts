import type { ForceCrushCurve, Unloading } from "../structure/forceCrushCurve.ts";

/** One value for each vehicle. */
export interface Pair<T> {
  readonly a: T;
  readonly b: T;
}

/** A vehicle as a mass behind a front. */
export interface CrashVehicle {
  /** Test mass, > 0 [kg]. */
  readonly mass: number;
  /** Speed towards the other, >= 0 [m/s]. */
  readonly speed: number;
  /** Resistance of the front; see noseThenCell. Crush beyond its noseLength takes cabin. */
  readonly front: ForceCrushCurve;
  /** How the front gives crush back: "none", or along a stiffness, >= its steepest loading slope [N/m]. */
  readonly unloading: Unloading;
}

export interface Belt {
  /** Travel of the torso before the belt is taut, >= 0 [m]. */
  readonly slack: number;
  /** > 0 [N/m] */
  readonly stiffness: number;
  /** Force at which the belt pays out; "none": it never does [N]. */
  readonly limit: number | "none";
}

export interface Bag {
  /** Time after touch at which it stands, >= 0 [s]. */
  readonly fireTime: number;
  /** Travel of the torso before it meets the bag, >= 0 [m]. */
  readonly torsoGap: number;
  /** >= 0 [N/m] */
  readonly torsoStiffness: number;
  /** Travel of the head before it meets the bag, >= 0 [m]. */
  readonly headGap: number;
  /** >= 0 [N/m] */
  readonly headStiffness: number;
}

/** An occupant as a torso and a head on a neck. Travel is forward, relative to the vehicle. */
export interface CrashOccupant {
  readonly torsoMass: number;
  readonly headMass: number;
  /** Whether the vehicle's test mass already holds this occupant. */
  readonly counted: "inside" | "apart";
  readonly belt: Belt | "none";
  readonly bag: Bag | "none";
  /** Free travel of the torso before it meets the interior, in the uncrushed cabin, >= 0 [m]. */
  readonly space: number;
  /** > 0 [N/m] */
  readonly interiorStiffness: number;
  readonly neck: { readonly stiffness: number; readonly damping: number };
}

/** A vehicle with up to two occupants. */
export interface OccupiedVehicle extends CrashVehicle {
  readonly occupants: readonly CrashOccupant[];
}

export interface CrashInput {
  readonly a: OccupiedVehicle;
  readonly b: OccupiedVehicle;
  /** Time step, default 0.00025 [s]. */
  readonly step?: number;
  /** Time followed after touch, default 0.15 [s]. */
  readonly duration?: number;
}

/** Where the energy is at one instant [J]. Every entry from its own law, none as a remainder; `sum` is their sum. */
export interface EnergyLedger {
  /** Of motion: vehicles, torsos and heads. */
  readonly kinetic: Pair<number>;
  /** Taken in by the fronts and not given back; includes what is still springing. */
  readonly fronts: Pair<number>;
  /** Held in stretched belts. */
  readonly beltStretch: number;
  /** Spent in belts paid out at their limit. */
  readonly beltPayout: number;
  /** Held in bags. */
  readonly bags: number;
  /** Held in the interiors that torsos met. */
  readonly interiors: number;
  /** Held in bent necks. */
  readonly neckSpring: number;
  /** Spent in the damping of necks. */
  readonly neckDamping: number;
  /** Negative: put in by bags that opened where an occupant already was. */
  readonly bagOpening: number;
  /** Negative: passed on by fronts to occupants through interiors pushed back at them (part of `fronts`, counted once). */
  readonly intrusion: number;
  readonly sum: number;
}

/** What one occupant went through. Accelerations are sizes; travel is relative to the vehicle. */
export interface OccupantOutputs {
  /** Largest chest acceleration [m/s^2]. */
  readonly chestPeak: number;
  /** Largest chest acceleration held without a break for 3 ms [m/s^2]. */
  readonly chestClip: number;
  /** Largest head acceleration [m/s^2]. */
  readonly headPeak: number;
  /** Head injury criterion over at most 15 ms and 36 ms, in its customary g^2.5 s. */
  readonly hic15: number;
  readonly hic36: number;
  /** Largest belt and bag forces on the torso [N]. */
  readonly beltPeak: number;
  readonly bagPeak: number;
  /** Belt paid out at its limit [m]. */
  readonly beltPayout: number;
  readonly rideDown: RideDown;
  /** First meeting of torso and interior. */
  readonly contact: { readonly met: false } | { readonly met: true; readonly time: number; readonly speed: number };
}

/** How the torso was stopped, seen from the centre of mass of everything, which moves on as before. */
export interface RideDown {
  /** Largest forward travel of the torso inside the vehicle [m]. */
  readonly travel: number;
  /** Smallest gap between torso and interior, after what the cabin lost; negative: pressed in [m]. */
  readonly spaceLeft: number;
  /** Whether the torso came to a stop within the duration. */
  readonly stopped: boolean;
  /** Time from touch until the torso stopped; the duration if it never did [s]. */
  readonly time: number;
  /** Distance covered in that time: the vehicle's and the travel inside it [m]. */
  readonly distance: number;
  /** Mean deceleration along that distance [m/s^2]. */
  readonly meanDeceleration: number;
  /** Share of the torso's energy taken while the vehicle itself was giving way: work along the vehicle's path over all work [1]. */
  readonly efficiency: number;
}

/** Times of the crash, located inside a step [s]; null: not within the duration. */
export interface CrashTimes {
  /** First instant of equal velocity. */
  readonly commonVelocity: number | null;
  /** First instant the force between the fronts is back at zero. */
  readonly separation: number | null;
}

/** What a crash comes to, without its traces. Each vehicle on its own forward axis, so slowing down is negative. */
export interface CrashOutputs {
  readonly step: number;
  readonly duration: number;
  /** Largest force between the fronts [N]. */
  readonly peakForce: number;
  /** Velocity at the end less velocity at touch [m/s]. */
  readonly deltaV: Pair<number>;
  /** Largest crush [m]. */
  readonly crush: Pair<number>;
  /** Crush beyond the nose [m]. */
  readonly cabinLoss: Pair<number>;
  /** Largest acceleration of the vehicle, as a size [m/s^2]. */
  readonly peakDeceleration: Pair<number>;
  readonly times: CrashTimes;
  /** Ledger at touch and at the end. */
  readonly energy: { readonly before: EnergyLedger; readonly after: EnergyLedger; /** (sum after - sum before) / sum before */ readonly error: number };
  readonly occupants: Pair<readonly OccupantOutputs[]>;
}

/** Histories on `time`, one value a step, all on each vehicle's own forward axis. */
export interface VehicleTrace {
  readonly position: Float64Array;
  readonly velocity: Float64Array;
  readonly acceleration: Float64Array;
  readonly crush: Float64Array;
  /** Crush beyond the nose, so far [m]. */
  readonly cabinLoss: Float64Array;
}

export interface OccupantTrace {
  /** Over the ground [m/s^2]. */
  readonly chestAcceleration: Float64Array;
  readonly headAcceleration: Float64Array;
  /** Over the ground [m/s]. */
  readonly chestVelocity: Float64Array;
  readonly headVelocity: Float64Array;
  /** Forward travel relative to the vehicle [m]. */
  readonly chestTravel: Float64Array;
  readonly headTravel: Float64Array;
  /** Forces on the torso [N]. */
  readonly beltForce: Float64Array;
  readonly bagForce: Float64Array;
  readonly interiorForce: Float64Array;
}

export interface CrashTraces {
  readonly time: Float64Array;
  /** Between the fronts [N]. */
  readonly force: Float64Array;
  readonly vehicles: Pair<VehicleTrace>;
  readonly occupants: Pair<readonly OccupantTrace[]>;
}

/** A crash with its traces. */
export interface Crash extends CrashOutputs {
  readonly traces: CrashTraces;
}
