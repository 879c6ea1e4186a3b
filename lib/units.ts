/**
 * The only conversion factors of the project. Everything inside is SI; these convert at the edge.
 * A unit is its size in SI and its dimension as powers of kilogram, metre and second.
 *
 * @source nist-sp811
 */
import { STANDARD_GRAVITY } from "./constants.ts";

/** Powers of kilogram, metre and second. */
export type Dimension = readonly [kilogram: number, metre: number, second: number];

export interface Unit {
  /** SI value of one of this unit. */
  readonly size: number;
  readonly dimension: Dimension;
  /** The unit measures a ratio (percent, degrees …) and has no dimension. */
  readonly ratio?: boolean;
}

const FOOT = 0.3048;
const POUND = 0.45359237;
const HOUR = 3600;

const u = (size: number, kilogram: number, metre: number, second: number): Unit => ({ size, dimension: [kilogram, metre, second] });

const INCH = FOOT / 12;
const POUND_FORCE = POUND * STANDARD_GRAVITY;

/** Every unit the project can read or show, by its symbol. */
export const UNITS = {
  "1": u(1, 0, 0, 0),
  "%": u(0.01, 0, 0, 0),
  rad: u(1, 0, 0, 0),
  "°": u(Math.PI / 180, 0, 0, 0),
  "rad/s": u(1, 0, 0, -1),
  "°/s": u(Math.PI / 180, 0, 0, -1),
  kg: u(1, 1, 0, 0),
  g: u(0.001, 1, 0, 0),
  t: u(1000, 1, 0, 0),
  lb: u(POUND, 1, 0, 0),
  m: u(1, 0, 1, 0),
  cm: u(0.01, 0, 1, 0),
  mm: u(0.001, 0, 1, 0),
  in: u(INCH, 0, 1, 0),
  ft: u(FOOT, 0, 1, 0),
  s: u(1, 0, 0, 1),
  ms: u(0.001, 0, 0, 1),
  Hz: u(1, 0, 0, -1),
  "m/s": u(1, 0, 1, -1),
  "km/h": u(1000 / HOUR, 0, 1, -1),
  mph: u(1609.344 / HOUR, 0, 1, -1),
  "ft/s": u(FOOT, 0, 1, -1),
  "m/s^2": u(1, 0, 1, -2),
  /** Acceleration in multiples of standard gravity. Written gₙ on screen, so that no one reads grams. */
  gn: u(STANDARD_GRAVITY, 0, 1, -2),
  N: u(1, 1, 1, -2),
  kN: u(1000, 1, 1, -2),
  lbf: u(POUND_FORCE, 1, 1, -2),
  "N/m": u(1, 1, 0, -2),
  "kN/m": u(1000, 1, 0, -2),
  "lbf/in": u(POUND_FORCE / INCH, 1, 0, -2),
  "N s/m": u(1, 1, 0, -1),
  "N s": u(1, 1, 1, -1),
  "kN s": u(1000, 1, 1, -1),
  "kg m/s": u(1, 1, 1, -1),
  J: u(1, 1, 2, -2),
  kJ: u(1000, 1, 2, -2),
  "ft lbf": u(FOOT * POUND_FORCE, 1, 2, -2),
  W: u(1, 1, 2, -3),
} as const satisfies Record<string, Unit>;

export type UnitName = keyof typeof UNITS;

/** True when `name` is a unit the project knows. */
export const isUnit = (name: string): name is UnitName => Object.hasOwn(UNITS, name);

/** Other spellings in use, and the unit that each stands for. Case does not count. */
const SYNONYMS: Readonly<Record<string, UnitName>> = {
  ...{ kgs: "kg", kilo: "kg", kilos: "kg", kilogram: "kg", kilograms: "kg", gram: "g", grams: "g", gr: "g" },
  ...{ tonne: "t", tonnes: "t", lbs: "lb", pound: "lb", pounds: "lb" },
  ...{ kph: "km/h", kmh: "km/h", kmph: "km/h", "km/hr": "km/h", "km/hour": "km/h", "kms/h": "km/h", "mi/h": "mph", "mi/hr": "mph", "miles/h": "mph", mps: "m/s", "m/sec": "m/s", fps: "ft/s", "ft/sec": "ft/s" },
  ...{ "m/s2": "m/s^2", "m/s\u00b2": "m/s^2", "m/s/s": "m/s^2", "m/sec2": "m/s^2", "g\u2099": "gn" },
  ...{ metre: "m", metres: "m", meter: "m", meters: "m", inch: "in", inches: "in", '"': "in", "\u2033": "in", foot: "ft", feet: "ft", "'": "ft", "\u2032": "ft" },
  ...{ sec: "s", secs: "s", second: "s", seconds: "s", msec: "ms", msecs: "ms", millisecond: "ms", milliseconds: "ms" },
  ...{ newton: "N", newtons: "N", "lb/in": "lbf/in", "lbs/in": "lbf/in", "lbf/inch": "lbf/in" },
  ...{ "N*s/m": "N s/m", "N\u00b7s/m": "N s/m", "Ns/m": "N s/m", "N*s": "N s", "N\u00b7s": "N s", Ns: "N s", "kN\u00b7s": "kN s", kNs: "kN s", "kg\u00b7m/s": "kg m/s" },
  ...{ deg: "\u00b0", degree: "\u00b0", degrees: "\u00b0", "ft-lb": "ft lbf", "ft lb": "ft lbf", "ft-lbf": "ft lbf" },
};

/** What a spelling means where only one dimension is asked for: a pound that pulls, the g of an acceleration. */
const BY_DIMENSION: readonly (readonly [spelling: string, unit: UnitName])[] = [["g", "gn"], ["lb", "lbf"], ["lbs", "lbf"], ["fps", "Hz"]];

/** The unit of the dimension of `like` that a text stands for: by its symbol, a synonym, or either in other case. */
export const unitNamed = (text: string, like: UnitName): UnitName | undefined => {
  const plain = text.trim().replace(/\s+/g, " ");
  const fits = (unit: UnitName | undefined): unit is UnitName => unit !== undefined && sameDimension(unit, like);
  if (isUnit(plain) && fits(plain)) return plain;
  const low = plain.toLowerCase();
  const found: (UnitName | undefined)[] = [
    ...Object.entries(SYNONYMS).filter(([spelling]) => spelling.toLowerCase() === low).map(([, unit]) => unit),
    ...BY_DIMENSION.filter(([spelling]) => spelling === low).map(([, unit]) => unit),
    ...(Object.keys(UNITS) as UnitName[]).filter((unit) => unit.toLowerCase() === low),
  ];
  return found.find(fits);
};

/**
 * A number in `unit`, in SI.
 * @example toSI(54, "km/h") // 15
 */
export const toSI = (value: number, unit: UnitName): number => value * UNITS[unit].size;

/**
 * An SI number, in `unit`.
 * @example fromSI(15, "km/h") // 54
 */
export const fromSI = (value: number, unit: UnitName): number => value / UNITS[unit].size;

/** True when two units measure the same dimension. */
export const sameDimension = (a: UnitName, b: UnitName): boolean => UNITS[a].dimension.every((power, i) => power === UNITS[b].dimension[i]);
