/** The numbers of the front matter laid over those of the fence: one lesson for each scale. */
import { isUnit, sameDimension, toSI, unitNamed, UNITS, type UnitName } from "../lib/units.ts";
import { type Input, type Lesson, OWN_SCALE, type QuantityInput } from "../shared/lesson.ts";
import { type Placed, SCALE_TEXTS, type WrittenScales } from "./frontMatter.ts";
import { wayOut } from "./nearest.ts";
import type { Problem } from "./problem.ts";

/** Named in the front matter, the fence's own scale changes the fence's numbers. */
const ROAD = OWN_SCALE;

/** What the page needs to switch: input -> the options that differ, in SI. */
export type ScaleValues = Readonly<Record<string, Readonly<Record<string, number | string>>>>;

export interface Scales {
  /** The lesson at road scale, and at each other scale by name. */
  readonly road: Lesson;
  /** Road scale too, where the front matter changes it. */
  readonly roadValues: Readonly<Record<string, ScaleValues>>;
  readonly others: Readonly<Record<string, { readonly lesson: Lesson; readonly values: ScaleValues }>>;
  readonly problems: readonly Problem[];
}

const QUANTITY = /^([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)\s*(.*)$/;

const readQuantity = (text: string, input: QuantityInput): number | string => {
  const [, number, unit = ""] = QUANTITY.exec(text.trim()) ?? [];
  const fitting = (Object.keys(UNITS) as UnitName[]).filter((u) => sameDimension(u, input.kind.si));
  const example = `such as 1 ${input.kind.si}`;
  if (number === undefined) return `must be a number with its unit, ${example}, got ${JSON.stringify(text)}`;
  if (unit === "") return input.kind.si === "1" ? Number(number) : `lacks its unit; there are ${fitting.join(", ")}`;
  if (!isUnit(unit)) return `has an unknown unit ${unit}${wayOut(unitNamed(unit, input.kind.si) ?? unit, fitting)}`;
  if (!sameDimension(unit, input.kind.si)) return `must be in one of ${fitting.join(", ")}, got ${unit}`;
  return toSI(Number(number), unit);
};

const placeOfInput = (name: string, file: string, at: { line: number; column: number }, message: string): Problem => ({ file, line: at.line, column: at.column, message: `${name}: ${message}` });

export const readScales = (lesson: Lesson, written: WrittenScales, file: string): Scales => {
  const problems: Problem[] = [];
  const others: Record<string, { lesson: Lesson; values: ScaleValues }> = {};
  let road = lesson;

  const laidOver = (base: Lesson, scale: string, entries: WrittenScales[string]): { lesson: Lesson; values: ScaleValues } => {
    const inputs: Record<string, Input> = { ...base.inputs };
    const values: Record<string, Record<string, number | string>> = {};
    for (const [name, entry] of Object.entries(entries)) {
      const input = Object.hasOwn(base.inputs, name) ? base.inputs[name] : undefined;
      const refuse = (at: Placed<unknown>, message: string): void => void problems.push(placeOfInput(name, file, at, message));
      if (input === undefined) {
        refuse(entry, `the lesson has no such input${wayOut(name, Object.keys(base.inputs))}`);
        continue;
      }
      // Why a value of the fence is what it is says nothing of the apparatus on a bench.
      const changed: Record<string, number | string> = input.type === "quantity" && scale !== ROAD ? { reason: "" } : {};
      for (const [option, text] of Object.entries(entry.value)) {
        if (SCALE_TEXTS.includes(option)) {
          if (input.type === "table" || (option === "reason" && input.type !== "quantity")) refuse(text, `${option} does not fit a ${input.type} input`);
          else changed[option] = text.value;
        } else if (input.type === "quantity") {
          const value = readQuantity(text.value, input);
          if (typeof value === "string") refuse(text, `${option} ${value}`);
          else changed[option] = value;
        } else if (input.type === "choice" && option === "start") {
          if (Object.hasOwn(input.words, text.value)) changed[option] = text.value;
          else refuse(text, `start ${text.value} is not one of its words${wayOut(text.value, Object.keys(input.words))}`);
        } else refuse(text, `${option} does not fit a ${input.type} input`);
      }
      const made = { ...input, ...changed } as Input;
      const wrong = rangeProblem(made);
      if (wrong !== undefined) refuse(entry, wrong);
      inputs[name] = made;
      values[name] = changed;
    }
    return { lesson: { ...base, inputs, ...(scale !== ROAD && { scale }) }, values };
  };

  let roadValues: Record<string, ScaleValues> = {};
  if (written[ROAD] !== undefined) {
    const laid = laidOver(lesson, ROAD, written[ROAD]);
    road = laid.lesson;
    roadValues = { [ROAD]: laid.values };
  }
  for (const [scale, entries] of Object.entries(written)) if (scale !== ROAD) others[scale] = laidOver(road, scale, entries);
  return { road, roadValues, others, problems };
};

/** What is wrong with an input's numbers, in words. */
export const rangeProblem = (input: Input): string | undefined => {
  if (input.type === "choice") return Object.hasOwn(input.words, input.start) ? undefined : `start ${input.start} is not one of its words`;
  if (input.type !== "quantity") return undefined;
  const { start, from, to, step, give } = input;
  if (![start, from, to, step, give].every(Number.isFinite)) return `start, from, to, step and give must be finite numbers`;
  if (!(from < to)) return `from must be < to, got ${from} and ${to} ${input.kind.si}`;
  if (!(start >= from && start <= to)) return `start must be between ${from} and ${to} ${input.kind.si}, got ${start}`;
  if (!(step > 0 && step <= to - from)) return `step must be > 0 and no more than the range, got ${step} ${input.kind.si}`;
  if (!(give >= 0)) return `give must be >= 0, got ${give} ${input.kind.si}`;
  return undefined;
};
