/**
 * Kinds of quantity: what a number measures decides its SI unit, the units it is shown in and how many digits help.
 * A speed is unsigned, a velocity signed, a velocity change a difference: three kinds that never mix.
 */
import type { UnitName } from "../lib/units.ts";

export type UnitSystem = "metric" | "customary";

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

const kind = (id: string, si: UnitName, metric: UnitName, customary: UnitName, digits: number, signed = false): Kind => ({
  id,
  si,
  shown: { metric, customary },
  digits,
  signed,
});

export const KINDS = {
  mass: kind("mass", "kg", "kg", "lb", 0),
  speed: kind("speed", "m/s", "km/h", "mph", 1),
  velocity: kind("velocity", "m/s", "km/h", "mph", 1, true),
  velocityChange: kind("velocityChange", "m/s", "km/h", "mph", 1, true),
  distance: kind("distance", "m", "m", "ft", 3),
  duration: kind("duration", "s", "ms", "ms", 0),
  force: kind("force", "N", "kN", "lbf", 1),
  impulse: kind("impulse", "N s", "kN s", "N s", 2, true),
  stiffness: kind("stiffness", "N/m", "kN/m", "lbf/in", 0),
  energy: kind("energy", "J", "kJ", "ft lbf", 1),
  acceleration: kind("acceleration", "m/s^2", "gn", "gn", 1, true),
  ratio: kind("ratio", "1", "1", "1", 2),
} as const satisfies Record<string, Kind>;

export type KindId = keyof typeof KINDS;
