/**
 * The state of a page in its address: `#massA=900&speedA=15`. Readable names, SI values, only what differs from the start.
 * Tables stay out of it: a reader's measurements never leave the page. What the page itself adds has a point in its name,
 * which no input can have.
 */
import type { ReaderUnits, UnitSystem } from "../kinds.ts";
import { type Input, type InputValue, type Lesson, startOf } from "../lesson.ts";
import { refusal } from "./inputs.ts";
import { tidy } from "./numbers.ts";
import { showInput } from "./units.ts";

export interface Linked {
  readonly inputs: Readonly<Record<string, InputValue>>;
  readonly units?: ReaderUnits;
  readonly scale?: string;
  /** What the link asked for and did not get, in words. */
  readonly problems: readonly string[];
}

const UNITS_KEY = "page.units";
const SCALE_KEY = "page.scale";
/** A scene or figure to open on screen; no part of the state. */
export const SCREEN_KEY = "page.screen";
/** An element of the page to go to; no part of the state. */
export const PLACE_KEY = "page.place";

/** The scale that a link asks for: it decides which lesson its values are read against. */
export const scaleOfLink = (hash: string): string | undefined => new URLSearchParams(hash.replace(/^#/, "")).get(SCALE_KEY) ?? undefined;

/** An input's start value as the page shows it. */
const startText = (input: Input, units: UnitSystem, locale: string): string => (input.type === "quantity" ? showInput(input, input.start, units, locale).text : input.type === "choice" ? `\u201c${input.words[input.start] ?? input.start}\u201d` : "");

/**
 * Reads a link. Every value that does not fit falls back to the start value and is named, with the rule and what is shown instead,
 * in the units that the page is in. An anchor (`#answer`) is no state.
 */
export const readLink = (lesson: Lesson, hash: string, locale: string, shown: UnitSystem = "metric"): Linked => {
  const start = startOf(lesson);
  if (!hash.includes("=")) return { inputs: start, problems: [] };
  const inputs: Record<string, InputValue> = { ...start };
  const problems: string[] = [];
  let units: ReaderUnits | undefined;
  let scale: string | undefined;
  for (const [name, text] of new URLSearchParams(hash.replace(/^#/, ""))) {
    const input = Object.hasOwn(lesson.inputs, name) ? lesson.inputs[name] : undefined;
    if (name === UNITS_KEY) {
      if (text === "metric" || text === "customary") units = text;
      else problems.push(`\u201c${name}=${text}\u201d: there are no such units; the page keeps its own.`);
    } else if (name === SCALE_KEY) scale = text;
    else if (name === SCREEN_KEY || name === PLACE_KEY) continue;
    else if (input === undefined || input.type === "table") problems.push(`\u201c${name}=${text}\u201d: this page has no input of that name${input === undefined ? "" : " that a link can set"}; it is left out.`);
    else {
      const value = input.type === "quantity" ? (/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(text) ? tidy(Number(text)) : Number.NaN) : text;
      const system = shown === "laboratory" ? shown : (units ?? shown);
      const wrong = refusal(input, value, system, locale);
      if (wrong === undefined) inputs[name] = value;
      else problems.push(`\u201c${name}=${text}\u201d: ${wrong}; ${startText(input, system, locale)} is shown instead.`);
    }
  }
  return { inputs, problems, ...(units && { units }), ...(scale !== undefined && { scale }) };
};

/** The link to a state, with its `#`; empty where everything stands at the start. */
export const writeLink = (lesson: Lesson, inputs: Readonly<Record<string, InputValue>>, units: ReaderUnits, scale?: string, ownUnits: ReaderUnits = "metric"): string => {
  const parts: [string, string][] = [];
  if (scale !== undefined) parts.push([SCALE_KEY, scale]);
  if (units !== ownUnits) parts.push([UNITS_KEY, units]);
  for (const [name, input] of Object.entries(lesson.inputs)) {
    const value = inputs[name];
    if (input.type !== "table" && value !== input.start && value !== undefined) parts.push([name, String(value)]);
  }
  return parts.length === 0 ? "" : `#${new URLSearchParams(parts).toString()}`;
};
