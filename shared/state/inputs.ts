/** How a quantity input moves: one grid for dragging, tapping, stepping and keys, so that every way lands on the same values. */
import { fromSI, toSI } from "../../lib/units.ts";
import type { UnitSystem } from "../kinds.ts";
import type { Input, InputValue, QuantityInput, TableInput, TableValue } from "../lesson.ts";
import { tidy } from "./numbers.ts";
import { show } from "./units.ts";

/** Steps that Page Up and Page Down take. */
const PAGE = 10;

const nice = (size: number): number => {
  const power = 10 ** Math.floor(Math.log10(size));
  const head = size / power;
  return (head < 1.5 ? 1 : head < 3.5 ? 2 : head < 7.5 ? 5 : 10) * power;
};

/** Step of the grid in SI. In customary units it is the nearest round step of the unit on screen. */
export const gridStep = (input: QuantityInput, units: UnitSystem): number => {
  const unit = input.kind.shown[units];
  return units !== "customary" || unit === input.kind.shown.metric ? input.step : toSI(nice(fromSI(input.step, unit)), unit);
};

const within = (input: QuantityInput, value: number): number => Math.min(input.to, Math.max(input.from, value));

/** The value of the grid nearest to `value`; the ends of the range are on it. */
export const snap = (input: QuantityInput, value: number, units: UnitSystem): number => {
  const step = gridStep(input, units);
  return tidy(within(input, Math.round(value / step) * step));
};

/** `steps` of the grid up or down; a value off the grid goes to its neighbour on the grid first. */
export const stepped = (input: QuantityInput, value: number, steps: number, units: UnitSystem): number => {
  const step = gridStep(input, units);
  const at = value / step;
  // A millionth of a step: tells a value on the grid from one beside it despite binary arithmetic.
  const index = steps > 0 ? Math.floor(at + 1e-6) : Math.ceil(at - 1e-6);
  return tidy(within(input, (index + steps) * step));
};

/** Where a key leads, by the pattern of a slider; nothing for other keys. `turned` where the value grows leftwards or downwards. */
export const keyed = (input: QuantityInput, value: number, key: string, units: UnitSystem, turned: { x?: boolean; y?: boolean } = {}): number | undefined => {
  const x = turned.x ? -1 : 1;
  const y = turned.y ? -1 : 1;
  switch (key) {
    case "ArrowRight":
      return stepped(input, value, x, units);
    case "ArrowLeft":
      return stepped(input, value, -x, units);
    case "ArrowUp":
      return stepped(input, value, y, units);
    case "ArrowDown":
      return stepped(input, value, -y, units);
    case "PageUp":
      return stepped(input, value, PAGE, units);
    case "PageDown":
      return stepped(input, value, -PAGE, units);
    case "Home":
      return tidy(input.from);
    case "End":
      return tidy(input.to);
    default:
      return undefined;
  }
};

const range = (input: QuantityInput, units: UnitSystem, locale: string): string => `between ${show(input.kind, input.from, units, locale).number} and ${show(input.kind, input.to, units, locale).text}`;

/** What is wrong with a table, if anything. */
const refuseTable = (input: TableInput, value: TableValue): string | undefined => {
  const columns = Object.keys(input.columns);
  const lengths = new Set(columns.map((column) => value[column]?.length ?? -1));
  if (lengths.size !== 1 || lengths.has(-1)) return `${input.label} needs the columns ${columns.join(", ")}, all of the same length`;
  for (const column of columns) if (!value[column]?.every(Number.isFinite)) return `${input.columns[column]?.label ?? column} must be numbers in every row`;
  return undefined;
};

/** Why a value cannot be set, in the reader's words and unit; nothing where it can. Nothing is clamped silently. */
export const refusal = (input: Input, value: InputValue, units: UnitSystem, locale: string): string | undefined => {
  if (input.type === "choice") return typeof value === "string" && Object.hasOwn(input.words, value) ? undefined : `${input.label} must be one of ${Object.values(input.words).join(", ")}`;
  if (input.type === "table") return typeof value === "object" ? refuseTable(input, value) : `${input.label} must be a table`;
  if (typeof value !== "number" || !Number.isFinite(value)) return `${input.label} must be a number`;
  // Ends are compared with the rounding of `tidy`.
  const slack = 1e-9 * Math.max(Math.abs(input.from), Math.abs(input.to));
  return value >= input.from - slack && value <= input.to + slack ? undefined : `${input.label} must be ${range(input, units, locale)}`;
};

/** Positions on a native slider: whole steps from `from`, so that the browser's own arithmetic never meets a fraction. */
export const slots = (input: QuantityInput, units: UnitSystem): { readonly count: number; readonly slotOf: (value: number) => number; readonly valueAt: (slot: number) => number } => {
  const step = gridStep(input, units);
  const count = Math.max(1, Math.round((input.to - input.from) / step));
  const size = (input.to - input.from) / count;
  return { count, slotOf: (value) => Math.round((value - input.from) / size), valueAt: (slot) => snap(input, input.from + slot * size, units) };
};

