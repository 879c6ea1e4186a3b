/** Quantities for the reader: which unit, how many digits, how the unit is written, and reading them back. */
import { fromSI, isUnit, sameDimension, toSI, UNITS, type UnitName } from "../../lib/units.ts";
import { KINDS, type Kind, type UnitSystem } from "../kinds.ts";
import type { Write } from "../lesson.ts";
import { formatNumber, parseNumber, tidy } from "./numbers.ts";

/** What `?unit=…&digits=…` asks for. */
export interface ShowOptions {
  readonly unit?: UnitName;
  readonly digits?: number;
}

/** No-break space: a number and its unit stay on one line. */
const NBSP = "\u00a0";

const WRITTEN: Partial<Record<UnitName, string>> = {
  "1": "",
  "m/s^2": "m/s\u00b2",
  gn: "g\u2099",
  "kN s": "kN\u00b7s",
  "N s": "N\u00b7s",
  "N s/m": "N\u00b7s/m",
  "kg m/s": "kg\u00b7m/s",
  "ft lbf": "ft\u00b7lbf",
};

const SPOKEN: Partial<Record<UnitName, string>> = {
  kg: "kilograms",
  lb: "pounds",
  "km/h": "kilometres per hour",
  mph: "miles per hour",
  "m/s": "metres per second",
  m: "metres",
  ft: "feet",
  ms: "milliseconds",
  s: "seconds",
  kN: "kilonewtons",
  "kN/m": "kilonewtons per metre",
  "lbf/in": "pounds-force per inch",
  lbf: "pounds-force",
  gn: "times standard gravity",
  kJ: "kilojoules",
  J: "joules",
};

/** A unit as it stands beside a number. `gₙ` is the multiple of standard gravity, so that no one reads grams. */
export const unitText = (unit: UnitName): string => WRITTEN[unit] ?? unit;

/** A unit said aloud. */
export const unitSpoken = (unit: UnitName): string => SPOKEN[unit] ?? unitText(unit);

/** The unit on screen. An author's own unit stands in metric; in the other system the kind's unit does, where it has one of its own. */
export const unitFor = (kind: Kind, units: UnitSystem, options: ShowOptions = {}): UnitName => {
  const unit = kind.shown[units];
  return options.unit !== undefined && (units === "metric" || unit === kind.shown.metric) ? options.unit : unit;
};

/** Digits after the decimal sign that keep the resolution the kind has in its metric unit. */
export const digitsFor = (kind: Kind, unit: UnitName): number => Math.max(0, Math.round(kind.digits + Math.log10(UNITS[unit].size / UNITS[kind.shown.metric].size)));

/** Below one of these the next smaller unit keeps its digits: a bench trial is in joules, a road crash in kilojoules. */
const SMALLER: Partial<Record<UnitName, UnitName>> = { kJ: "J", kN: "N", "kN s": "N s", "kN/m": "N/m" };

export interface Shown {
  readonly number: string;
  readonly unit: UnitName;
  /** Number, no-break space, unit. */
  readonly text: string;
}

const joined = (number: string, unit: UnitName): string => {
  const text = unitText(unit);
  return text === "" ? number : number + (unit === "°" ? "" : NBSP) + text;
};

/** A quantity in the reader's unit and locale. */
export const show = (kind: Kind, si: number, units: UnitSystem, locale: string, options: ShowOptions = {}): Shown => {
  let unit = unitFor(kind, units, options);
  let value = fromSI(si, unit);
  let digits = options.digits ?? digitsFor(kind, unit);
  const smaller = SMALLER[unit];
  if (options.unit === undefined && smaller !== undefined && value !== 0 && Math.abs(value) < 1) {
    unit = smaller;
    value = fromSI(si, unit);
    digits = Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : 2;
  } else if (options.digits === undefined && digits === 0 && value !== 0 && Math.abs(value) < 10) digits = Math.abs(value) < 1 ? 2 : 1;
  const number = formatNumber(value, digits, locale);
  return { number, unit, text: joined(number, unit) };
};

/** Digits that an input needs: those of its step, and more where a typed value has more. */
const MOST_DIGITS = 6;
const digitsNeeded = (value: number): number => {
  for (let digits = 0; digits < MOST_DIGITS; digits++) if (Math.abs(Number(value.toFixed(digits)) - value) <= 1e-9 * Math.max(1, Math.abs(value))) return digits;
  return MOST_DIGITS;
};

/** A set value in the reader's unit: as many digits as its step has, more where the reader typed more. */
export const showSet = (kind: Kind, si: number, step: number, units: UnitSystem, locale: string, options: ShowOptions = {}): Shown => {
  const unit = unitFor(kind, units, options);
  const value = fromSI(si, unit);
  const least = units === "metric" ? Math.min(digitsNeeded(fromSI(step, unit)), 3) : digitsFor(kind, unit);
  const number = formatNumber(value, options.digits ?? Math.max(least, units === "metric" ? Math.min(digitsNeeded(value), 4) : 0), locale);
  return { number, unit, text: joined(number, unit) };
};

/** Writes quantities for one reader. */
export const makeWrite =
  (units: UnitSystem, locale: string): Write =>
  (kind, si, options = {}) =>
    show(KINDS[kind], si, units, locale, options).text;

const ALIASES: Readonly<Record<string, UnitName>> = { kph: "km/h", "km/hr": "km/h", "mi/h": "mph", lbs: "lb", "m/s2": "m/s^2", "m/s²": "m/s^2" };

const named = (text: string): UnitName | undefined => {
  const plain = text.replace(/\s+/g, " ");
  if (isUnit(plain)) return plain;
  if (Object.hasOwn(ALIASES, plain)) return ALIASES[plain];
  return (Object.keys(WRITTEN) as UnitName[]).find((unit) => unit !== "1" && WRITTEN[unit] === plain);
};

export type Read = { readonly value: number } | { readonly question: string };

/** Reads a quantity typed by the reader; a unit may follow the number and is then obeyed. */
export const readQuantity = (text: string, kind: Kind, units: UnitSystem, locale: string, options: ShowOptions = {}): Read => {
  const parsed = parseNumber(text, locale);
  if ("question" in parsed) return parsed;
  const expected = unitFor(kind, units, options);
  if (parsed.rest === "") return { value: tidy(toSI(parsed.value, expected)) };
  // A bare g after an acceleration can only be the multiple of standard gravity.
  const unit = parsed.rest === "g" && kind.si === "m/s^2" ? "gn" : named(parsed.rest);
  if (unit === undefined || !sameDimension(unit, kind.si)) return { question: `\u201c${parsed.rest}\u201d does not fit here. Type a number${unitText(expected) === "" ? " alone" : ` in ${unitText(expected)}`}.` };
  return { value: tidy(toSI(parsed.value, unit)) };
};
