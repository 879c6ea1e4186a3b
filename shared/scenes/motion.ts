/** What moves in a collision scene, and how it is read off the histories of a kernel. */
import type { CrashTraces } from "../../lib/event/types.ts";

export interface OccupantMoment {
  /** Forward travel relative to the seat [m]. */
  readonly torsoTravel: number;
  readonly headTravel: number;
  /** Whether the bag stands; left out where the seat has none. */
  readonly bagStands?: boolean;
  /** Force of the belt on the torso; left out where there is no belt [N]. */
  readonly beltForce?: number;
}

/** One body at one instant, on its own forward axis: a faces right, b faces left. */
export interface BodyMoment {
  /** Forward travel since first touch [m]. */
  readonly travel: number;
  /** Signed, forward [m/s]. */
  readonly velocity: number;
  /** Depth that the front is crushed, >= 0 [m]. */
  readonly crush: number;
  /** How far the cabin has been shortened, >= 0; 0 where left out [m]. */
  readonly cabinLoss?: number;
  readonly occupants?: readonly OccupantMoment[];
}

/** Everything that moves, at one instant. `b` is left out where the other body is a wall. */
export interface Moment {
  /** Size of the force between the two [N]. */
  readonly force: number;
  readonly a: BodyMoment;
  readonly b?: BodyMoment;
}

/** A collision from first touch on. The scene adds the approach at the velocities of first touch. */
export interface Motion {
  /** Time after first touch that can be shown [s]. */
  readonly duration: number;
  /** Largest force, where it is known; left out, the scene looks for it [N]. */
  readonly peakForce?: number;
  /** @param time since first touch, 0 to duration [s] */
  readonly at: (time: number) => Moment;
}

/** What the drawing needs beside the traces. */
export interface TraceOptions {
  /** Crush at which each cabin begins to shorten; left out: what the traces say [m]. */
  readonly noseLength?: { readonly a: number; readonly b: number };
  /** Time at which the bag of each occupant stands; null: no bag [s]. */
  readonly bagTimes?: { readonly a: readonly (number | null)[]; readonly b: readonly (number | null)[] };
  /** Seats without a belt, by number. */
  readonly unbelted?: { readonly a: readonly number[]; readonly b: readonly number[] };
}

/** The traces of a whole crash as a motion: straight lines between the samples. */
export const motionOfTraces = (traces: CrashTraces, options: TraceOptions = {}): Motion => {
  const last = traces.time.length - 1;
  const duration = traces.time[last] ?? 0;
  const body = (side: "a" | "b", sample: (series: ArrayLike<number>) => number, time: number): BodyMoment => {
    const vehicle = traces.vehicles[side];
    const crush = sample(vehicle.crush);
    const nose = options.noseLength?.[side];
    return {
      travel: sample(vehicle.position),
      velocity: sample(vehicle.velocity),
      crush,
      cabinLoss: nose === undefined ? sample(vehicle.cabinLoss) : Math.max(0, crush - nose),
      occupants: traces.occupants[side].map((occupant, seat) => {
        const bag = options.bagTimes?.[side][seat];
        return {
          torsoTravel: sample(occupant.chestTravel),
          headTravel: sample(occupant.headTravel),
          ...(bag === undefined || bag === null ? {} : { bagStands: time >= bag }),
          ...(options.unbelted?.[side].includes(seat) ? {} : { beltForce: sample(occupant.beltForce) }),
        };
      }),
    };
  };
  let peakForce = 0;
  for (const force of traces.force) peakForce = Math.max(peakForce, force);
  return {
    duration,
    peakForce,
    at: (time) => {
      const place = duration > 0 ? Math.min(last, Math.max(0, (time / duration) * last)) : 0;
      const i = Math.min(last - 1, Math.floor(place));
      const share = place - i;
      const sample = (series: ArrayLike<number>): number => {
        const from = series[Math.max(0, i)] ?? 0;
        return from + share * ((series[i + 1] ?? from) - from);
      };
      return { force: sample(traces.force), a: body("a", sample, time), b: body("b", sample, time) };
    },
  };
};
