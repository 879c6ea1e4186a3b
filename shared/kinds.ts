/**
 * Kinds of quantity: what a number measures decides its SI unit, the units it is shown in and how many digits help.
 * A speed is unsigned, a velocity signed, a velocity change a difference: three kinds that never mix.
 */
import type { UnitName } from "../lib/units.ts";

/** What a reader chooses between at road scale; at bench scale everybody reads laboratory units. */
export type ReaderUnits = "metric" | "customary";
export type UnitSystem = ReaderUnits | "laboratory";

export interface Kind {
  readonly id: string;
  /** SI unit, as it stands in the doc comments of the kernels. */
  readonly si: UnitName;
  /** Unit on screen in each system. */
  readonly shown: Readonly<Record<UnitSystem, UnitName>>;
  /** Digits after the decimal sign, in the metric unit on screen. */
  readonly digits: number;
  /** Signed values carry a direction; the sign is said in words where it can be. */
  readonly signed: boolean;
}

const kind = (id: string, si: UnitName, metric: UnitName, customary: UnitName, laboratory: UnitName, digits: number, signed = false): Kind => ({
  id,
  si,
  shown: { metric, customary, laboratory },
  digits,
  signed,
});

export const KINDS = {
  mass: kind("mass", "kg", "kg", "lb", "kg", 0),
  speed: kind("speed", "m/s", "km/h", "mph", "m/s", 1),
  velocity: kind("velocity", "m/s", "km/h", "mph", "m/s", 1, true),
  velocityChange: kind("velocityChange", "m/s", "km/h", "mph", "m/s", 1, true),
  distance: kind("distance", "m", "m", "ft", "cm", 3),
  duration: kind("duration", "s", "ms", "ms", "ms", 0),
  force: kind("force", "N", "kN", "lbf", "N", 1),
  impulse: kind("impulse", "N s", "kN s", "N s", "N s", 2, true),
  stiffness: kind("stiffness", "N/m", "kN/m", "lbf/in", "N/m", 0),
  energy: kind("energy", "J", "kJ", "ft lbf", "J", 1),
  acceleration: kind("acceleration", "m/s^2", "gn", "gn", "m/s^2", 1, true),
  ratio: kind("ratio", "1", "1", "1", "1", 2),
  length: kind("length", "m", "m", "ft", "cm", 1),
  time: kind("time", "s", "s", "s", "s", 2),
  angle: kind("angle", "rad", "°", "°", "°", 1, true),
  turning: kind("turning", "rad/s", "°/s", "°/s", "°/s", 0),
  damping: kind("damping", "N s/m", "N s/m", "N s/m", "N s/m", 0),
  frequency: kind("frequency", "Hz", "Hz", "Hz", "Hz", 0),
  count: kind("count", "1", "1", "1", "1", 0),
  gravity: kind("gravity", "m/s^2", "m/s^2", "m/s^2", "m/s^2", 3),
} as const satisfies Record<string, Kind>;

export type KindId = keyof typeof KINDS;
