/**
 * The state of a page in its address: `#massA=900&speedA=15`. Readable names, SI values, only what differs from the start.
 * Tables stay out of it: a reader's measurements never leave the page. What the page itself adds has a point in its name,
 * which no input can have.
 */
import type { ReaderUnits } from "../kinds.ts";
import { type InputValue, type Lesson, startOf } from "../lesson.ts";
import { refusal } from "./inputs.ts";
import { tidy } from "./numbers.ts";

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

/** Reads a link. Every value that does not fit falls back to the start value and is named. An anchor (`#answer`) is no state. */
export const readLink = (lesson: Lesson, hash: string, locale: string): Linked => {
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
      else problems.push(`There are no units \u201c${text}\u201d; the page keeps its own.`);
    } else if (name === SCALE_KEY) scale = text;
    else if (name === SCREEN_KEY || name === PLACE_KEY) continue;
    else if (input === undefined || input.type === "table") problems.push(`This page has no input \u201c${name}\u201d${input === undefined ? "" : " that a link can set"}; the rest of the link is used.`);
    else {
      const value = input.type === "quantity" ? (/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(text) ? tidy(Number(text)) : Number.NaN) : text;
      const wrong = refusal(input, value, units ?? "metric", locale);
      if (wrong === undefined) inputs[name] = value;
      else problems.push(`${wrong.charAt(0).toUpperCase()}${wrong.slice(1)}, not \u201c${text}\u201d; it stands at its start value.`);
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
