/** The lines to say: their text as on screen, in words, and each number in them. */
import { fromSI } from "../../lib/units.ts";
import type { InputValue } from "../lesson.ts";
import { outputText } from "../render/value.ts";
import { type ShowOptions, showSet, unitFor } from "../state/units.ts";
import type { View } from "../view.ts";
import { type Held, heldWords } from "./held.ts";
import { inWords } from "./numberWords.ts";
import { addsUp, MOST_FIGURES, sumsIn } from "./spokenFigures.ts";

/** A live part of a spoken line, and the place of it on the lesson's page. */
export interface CuePart {
  readonly scheme: "output" | "input" | "name";
  readonly name: string;
  readonly options: ShowOptions;
  readonly anchor: string;
}

/** Text and live parts, in order. */
export type CueLine = readonly (string | CuePart)[];

const choiceWords = (view: View, name: string, value: InputValue | undefined): string => {
  const input = view.lesson.inputs[name];
  return input?.type === "choice" ? (input.words[value as string] ?? String(value)) : String(value);
};

/** A part exactly as the page shows it. */
export const partText = (view: View, { scheme, name, options }: CuePart): string => {
  if (scheme === "name") return view.lesson.names[name] ?? name;
  // How often a verdict holds is said behind it, by its own rule: `partHeld`.
  if (scheme === "output") return outputText(view, name, view.lesson.outputs[name]?.type === "verdict" ? { ...options, range: false } : options) ?? "\u2026";
  const input = view.lesson.inputs[name];
  const value = view.state.inputs[name];
  return input?.type === "quantity" ? showSet(input.kind, value as number, input.step, view.units, view.locale, options).text : choiceWords(view, name, value);
};

/** The verdicts that the lines state, each once. */
export const spokenVerdicts = (view: View, lines: readonly CueLine[]): string[] => [...new Set(lines.flat().flatMap((part) => (typeof part !== "string" && part.scheme === "output" && view.lesson.outputs[part.name]?.type === "verdict" ? [part.name] : [])))];

/** How often a part holds, where it is a verdict that is not settled. */
export const partHeld = (view: View, { scheme, name }: CuePart, held: Held): string => (scheme === "output" && view.lesson.outputs[name]?.type === "verdict" ? heldWords(held, name, String(view.state.outputs[name])) : "");

/** A line as shown on screen and in the caption: behind each verdict that is not settled, how often it holds. */
export const lineText = (view: View, line: CueLine, held: Held): string => line.map((part) => (typeof part === "string" ? part : partText(view, part) + partHeld(view, part, held))).join("");

/** The same line as it is said. */
export const lineWords = (view: View, line: CueLine, held: Held): string => inWords(lineText(view, line, held));

export interface CueNumber {
  readonly part: CuePart;
  readonly label: string;
  /** On screen, in the caption and in words. */
  readonly shown: string;
  readonly words: string;
  /** Not rounded, in SI. */
  readonly value: number;
}

/** The numbers of the lines, each once. */
export const cueNumbers = (view: View, lines: readonly CueLine[]): CueNumber[] => {
  const found: CueNumber[] = [];
  for (const part of lines.flat()) {
    if (typeof part === "string" || part.scheme === "name" || found.some((one) => one.part.name === part.name && one.part.scheme === part.scheme)) continue;
    const declared = part.scheme === "output" ? view.lesson.outputs[part.name] : view.lesson.inputs[part.name];
    const value = part.scheme === "output" ? view.state.outputs[part.name] : view.state.inputs[part.name];
    if (declared === undefined || typeof value !== "number" || !("kind" in declared)) continue;
    const shown = partText(view, part);
    found.push({ part, label: declared.label, shown, words: inWords(shown), value });
  }
  return found;
};

/** The number that a text shows, in the unit it is shown in, as a share of one. */
const shownNumber = (text: string): number => Number(/^[-\u2212]?[\d\u202f]+(?:[.,]\d+)?/.exec(text)?.[0].replace("\u2212", "-").replace(/\u202f/g, "").replace(",", ".") ?? Number.NaN);

const unitOf = (text: string): string => text.replace(/^[-\u2212\d\u202f.,]+\u00a0?/, "");

/** Not rounded, in the unit it is shown in. */
const inUnit = (view: View, { part, value }: CueNumber): number => {
  const declared = part.scheme === "output" ? view.lesson.outputs[part.name] : view.lesson.inputs[part.name];
  return declared !== undefined && "kind" in declared ? fromSI(value, unitFor(declared.kind, view.units, part.options)) : Number.NaN;
};

/** Pairs whose order rounding loses or turns round: the larger would sound no larger. Beyond the figures of speech two are the same. */
const lostOrders = (view: View, group: readonly CueNumber[]): string[] =>
  group.flatMap((one, i) =>
    group.slice(i + 1).flatMap((other) => {
      const [p, q] = [one, other].map((n) => Number(inUnit(view, n).toPrecision(MOST_FIGURES))) as [number, number];
      return Math.sign(p - q) === Math.sign(shownNumber(one.shown) - shownNumber(other.shown)) ? [] : [`${one.label} (${one.shown}) and ${other.label} (${other.shown}) differ, but rounding hides which is larger.`];
    }),
  );

/** Sums that are said and that rounding spoils. */
const lostSums = (view: View, group: readonly CueNumber[]): string[] =>
  sumsIn(group.map((n) => inUnit(view, n))).flatMap((places) => {
    const [one, two, sum] = places.map((i) => group[i]) as [CueNumber, CueNumber, CueNumber];
    return addsUp([shownNumber(one.shown), shownNumber(two.shown), shownNumber(sum.shown)], inUnit(view, sum)) ? [] : [`${one.label} (${one.shown}) and ${two.label} (${two.shown}) make up ${sum.label} (${sum.shown}), but not as rounded.`];
  });

/** What rounding would make a listener believe that is not so, of numbers in one unit. */
export const crossings = (view: View, numbers: readonly CueNumber[]): string[] => {
  const groups = [...new Set(numbers.map(({ shown }) => unitOf(shown)))].map((unit) => numbers.filter(({ shown }) => unitOf(shown) === unit));
  return groups.flatMap((group) => [...lostOrders(view, group), ...lostSums(view, group)]);
};
