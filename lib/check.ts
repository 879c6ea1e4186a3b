/**
 * Refusals. The only place in `lib` that words an error, so that every one reads
 * "kernel: name must be <rule> <unit>, got <value>" and names the way out.
 *
 * RangeError: a number outside its range (NaN and infinities included). TypeError: wrong kind or shape.
 */

const text = (value: unknown): string =>
  typeof value === "number" ? String(value) : typeof value === "string" ? JSON.stringify(value) : Array.isArray(value) ? `an array of ${value.length}` : value === null ? "null" : typeof value;

const withUnit = (unit: string): string => (unit === "" || unit === "1" ? "" : ` ${unit}`);

const refuse = (kernel: string, name: string, rule: string, value: unknown): never => {
  throw new RangeError(`${kernel}: ${name} must be ${rule}, got ${text(value)}`);
};

function requireNumber(kernel: string, name: string, value: unknown, rule: string): asserts value is number {
  if (typeof value !== "number") throw new TypeError(`${kernel}: ${name} must be a number ${rule}, got ${text(value)}`);
}

/** Refuses anything but a finite number. */
export const requireFinite = (kernel: string, name: string, value: number, unit = ""): void => {
  requireNumber(kernel, name, value, `in ${unit === "" ? "1" : unit}`);
  if (!Number.isFinite(value)) refuse(kernel, name, `finite${withUnit(unit)}`, value);
};

/** Refuses anything but a finite number > 0. */
export const requirePositive = (kernel: string, name: string, value: number, unit = ""): void => {
  requireNumber(kernel, name, value, `> 0${withUnit(unit)}`);
  if (!(value > 0 && Number.isFinite(value))) refuse(kernel, name, `> 0${withUnit(unit)}`, value);
};

/** Refuses anything but a finite number >= 0. */
export const requireNonNegative = (kernel: string, name: string, value: number, unit = ""): void => {
  requireNumber(kernel, name, value, `>= 0${withUnit(unit)}`);
  if (!(value >= 0 && Number.isFinite(value))) refuse(kernel, name, `>= 0${withUnit(unit)}`, value);
};

/** Refuses anything but from <= value <= to. */
export const requireBetween = (kernel: string, name: string, value: number, from: number, to: number, unit = ""): void => {
  const rule = `between ${from} and ${to}${withUnit(unit)}`;
  requireNumber(kernel, name, value, rule);
  if (!(value >= from && value <= to)) refuse(kernel, name, rule, value);
};

/** Refuses a value that breaks a rule no other helper words; `rule` completes "must be …". */
export const requireThat = (holds: boolean, kernel: string, name: string, rule: string, value: unknown): void => {
  if (!holds) refuse(kernel, name, rule, value);
};

/** Refuses anything but an array (typed or plain) of at least `least` finite numbers. */
export const requireSeries = (kernel: string, name: string, values: ArrayLike<number>, least: number, unit = ""): void => {
  if (!(Array.isArray(values) || ArrayBuffer.isView(values))) throw new TypeError(`${kernel}: ${name} must be an array of numbers, got ${text(values)}`);
  if (values.length < least) throw new TypeError(`${kernel}: ${name} must have at least ${least} values, got ${values.length}`);
  // The name of an entry is worded only for a broken one: this runs over long records.
  for (let i = 0; i < values.length; i++) if (!Number.isFinite(values[i])) requireFinite(kernel, `${name}[${i}]`, values[i] as number, unit);
};

/** Refuses two series of different length. */
export const requireSameLength = (kernel: string, first: string, a: ArrayLike<number>, second: string, b: ArrayLike<number>): void => {
  if (a.length !== b.length) throw new TypeError(`${kernel}: ${first} and ${second} must have the same length, got ${a.length} and ${b.length}`);
};

/** Refuses a series that does not rise at every step. */
export const requireIncreasing = (kernel: string, name: string, values: ArrayLike<number>, unit = ""): void => {
  for (let i = 1; i < values.length; i++)
    if (!((values[i] as number) > (values[i - 1] as number))) refuse(kernel, `${name}[${i}]`, `> ${values[i - 1]}${withUnit(unit)} (values must rise)`, values[i]);
};

/** Refuses a word that is not in a closed list. */
export const requireOneOf = (kernel: string, name: string, value: unknown, words: readonly string[]): void => {
  if (typeof value !== "string" || !words.includes(value)) throw new TypeError(`${kernel}: ${name} must be one of ${words.join(", ")}, got ${text(value)}`);
};
