/** Quantities for the reader: which unit, how many digits, how the unit is written, and reading them back. */
import { fromSI, sameDimension, toSI, unitNamed, UNITS, type UnitName } from "../../lib/units.ts";
import { KINDS, type Kind, type UnitSystem } from "../kinds.ts";
import type { QuantityInput, Write } from "../lesson.ts";
import { formatNumber, parseNumber, tidy } from "./numbers.ts";

/** What `?unit=…&digits=…` asks for. */
export interface ShowOptions {
  readonly unit?: UnitName;
  readonly digits?: number;
  /** Rounded to so many significant digits, as one says a number aloud. */
  readonly significant?: number;
  /** As said aloud: rounded, but apart from the other numbers that are said. */
  readonly spoken?: boolean;
  /** The range that the give or take of the inputs leaves, in place of the point value. */
  readonly range?: boolean;
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
  "°/s": "degrees per second",
  gn: "times standard gravity",
  kJ: "kilojoules",
  J: "joules",
};

/** A unit as it stands beside a number. `gₙ` is the multiple of standard gravity, so that no one reads grams. */
export const unitText = (unit: UnitName): string => WRITTEN[unit] ?? unit;

/** A unit said aloud. */
export const unitSpoken = (unit: UnitName): string => SPOKEN[unit] ?? unitText(unit);

/** The unit on screen. An author's own unit stands in metric; in the other systems the kind's unit does, where it has one of its own. */
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
  if (options.significant !== undefined) {
    const place = value === 0 ? 0 : options.significant - 1 - Math.floor(Math.log10(Math.abs(value)));
    digits = Math.max(0, place);
    value = place < 0 ? Math.round(value * 10 ** place) / 10 ** place : value;
  } else if (units === "laboratory" && options.digits === undefined) digits = laboratoryDigits(value);
  const number = formatNumber(value, digits, locale);
  // What rounds to nought is written as nought is, whatever binary rounding left of it: in its kind's own unit and digits.
  if (si !== 0 && !/[1-9]/.test(number) && Number.isFinite(value)) return show(kind, 0, units, locale, options);
  return { number, unit, text: joined(number, unit) };
};

/** A school laboratory writes what it can measure: so many significant figures, down to a thousandth. */
const SIGNIFICANT = 3;
const laboratoryDigits = (value: number): number => (value === 0 ? 0 : Math.min(3, Math.max(0, SIGNIFICANT - 1 - Math.floor(Math.log10(Math.abs(value))))));

/** Nobody types more digits than these; a number that needs more was converted from another unit. */
const MOST_TYPED = 4;
const digitsNeeded = (value: number): number => {
  let digits = 0;
  while (digits <= MOST_TYPED && Math.abs(Number(value.toFixed(digits)) - value) > 1e-9 * Math.max(1, Math.abs(value))) digits++;
  return digits;
};

/** Digits of a step on the screen; of a step that is not round there, those of its kind. */
const digitsOfStep = (kind: Kind, step: number, unit: UnitName, units: UnitSystem): number => (units === "customary" ? digitsFor(kind, unit) : Math.min(digitsNeeded(fromSI(step, unit)), 3));

/** A set value in the reader's unit: as many digits as its step has, more where the reader typed more. */
export const showSet = (kind: Kind, si: number, step: number, units: UnitSystem, locale: string, options: ShowOptions = {}): Shown => {
  const unit = unitFor(kind, units, options);
  const value = fromSI(si, unit);
  const needed = digitsNeeded(value);
  const number = formatNumber(value, options.digits ?? Math.max(digitsOfStep(kind, step, unit, units), needed <= MOST_TYPED ? needed : 0), locale);
  return { number, unit, text: joined(number, unit) };
};

/**
 * The value of an input as it is shown. The start value may come from another unit (a mass weighed in pounds): it has the digits
 * that its step or its give or take warrants, and no more. What the reader typed keeps its digits.
 */
export const showInput = (input: QuantityInput, si: number, units: UnitSystem, locale: string, options: ShowOptions = {}): Shown => {
  const { kind, step, start, give } = input;
  if (options.digits !== undefined || si !== start || give === 0) return showSet(kind, si, step, units, locale, options);
  const unit = unitFor(kind, units, options);
  const value = fromSI(si, unit);
  const warranted = Math.max(digitsOfStep(kind, step, unit, units), -Math.floor(Math.log10(fromSI(give, unit)) + 1e-9));
  return digitsNeeded(value) <= warranted ? showSet(kind, si, step, units, locale, options) : showSet(kind, si, step, units, locale, { ...options, digits: warranted });
};

/** Writes quantities for one reader. */
export const makeWrite = (units: UnitSystem, locale: string): Write => Object.assign<Write, { units: UnitSystem }>((kind, si, options = {}) => show(KINDS[kind], si, units, locale, options).text, { units });

const named = (text: string, like: UnitName): UnitName | undefined => {
  const plain = text.replace(/\s+/g, " ");
  // As a unit stands on screen, so it can be typed.
  return unitNamed(plain, like) ?? (Object.keys(WRITTEN) as UnitName[]).find((unit) => unit !== "1" && WRITTEN[unit] === plain);
};

export type Read = { readonly value: number } | { readonly question: string };

/** Reads a quantity typed by the reader; a unit may follow the number and is then obeyed. */
export const readQuantity = (text: string, kind: Kind, units: UnitSystem, locale: string, options: ShowOptions = {}): Read => {
  const parsed = parseNumber(text, locale);
  if ("question" in parsed) return parsed;
  const expected = unitFor(kind, units, options);
  if (parsed.rest === "") return { value: tidy(toSI(parsed.value, expected)) };
  const unit = named(parsed.rest, kind.si);
  if (unit === undefined || !sameDimension(unit, kind.si)) return { question: `\u201c${parsed.rest}\u201d does not fit here. Type a number${unitText(expected) === "" ? " alone" : ` in ${unitText(expected)}`}.` };
  return { value: tidy(toSI(parsed.value, unit)) };
};
