/** A prediction card from a lesson's state and its study. */
import { fromSI } from "../../lib/units.ts";
import type { Input, InputValue, TableInput, TableValue } from "../lesson.ts";
import { rangeTexts, sharesOf, studyWords } from "../render/study.ts";
import { formatSignificant } from "../state/numbers.ts";
import { tableText } from "../state/table.ts";
import { showInput, unitFor, unitText } from "../state/units.ts";
import type { View } from "../view.ts";
import type { Card, CardInput } from "./card.ts";
import { sha256 } from "./sha256.ts";
import type { WholeStudy } from "./wholeStudy.ts";

export interface CardFacts {
  readonly question: string;
  readonly scenario: string;
  readonly version: string;
  /** Empty for a draft. */
  readonly frozen: string;
  readonly by: string;
  /** Numbers and verdicts, in the order they are printed. */
  readonly outputs: readonly string[];
  /** Inputs that start at what the lesson made up, not at what the show's file gives. */
  readonly madeUp?: readonly string[];
}

/** Card numbers are written one way, whatever the reader's locale: a card is read again elsewhere. */
const LOCALE = "en";
const GIVE_FIGURES = 2;

const unit = (view: View, input: Input): string => (input.type === "quantity" ? unitText(unitFor(input.kind, view.units)) : "");

/** Readings are too many to print: their count, and a seal of them all. */
const tableWords = (input: TableInput, value: TableValue): string => {
  const text = tableText(input, value, "metric", LOCALE, "si");
  return `${text.split("\n").length - 1} rows of readings, seal ${sha256(text).slice(0, 12)}`;
};

/** Said before the reason of an input that the lesson made up, unless it was set to another value. */
export const NOT_FROM_FILE = "not from the show's file";

const cardInput = (view: View, name: string, input: Input, value: InputValue, madeUp: boolean): CardInput => {
  if (input.type === "table") return { name, label: input.label, value: tableWords(input, value as TableValue), give: "", reason: "" };
  if (input.type === "choice") return { name, label: input.label, value: input.words[value as string] ?? String(value), give: "", reason: "chosen" };
  const give = input.give > 0 ? `${formatSignificant(fromSI(input.give, unitFor(input.kind, view.units)), GIVE_FIGURES, LOCALE)}\u00a0${unit(view, input)}`.trim() : "";
  return { name, label: input.label, value: showInput(input, value as number, view.units, LOCALE).text, give: give === "" ? "" : `${give}${input.shape === "flat" ? " at most" : ""}`, reason: madeUp && value === input.start ? `${NOT_FROM_FILE}: ${input.reason ?? ""}` : (input.reason ?? "") };
};

export const makeCard = (given: View, study: WholeStudy, { outputs, madeUp = [], ...facts }: CardFacts): Card => {
  const view: View = { ...given, locale: LOCALE };
  const { lesson, state, controls } = view;
  return {
    lesson: view.slug,
    title: view.title,
    ...facts,
    study: studyWords(view, study),
    inputs: Object.entries(lesson.inputs).flatMap(([name, input]) => (controls?.includes(name) ?? true ? [cardInput(view, name, input, state.inputs[name] as InputValue, madeUp.includes(name))] : [])),
    outputs: outputs.flatMap((name) => {
      const output = lesson.outputs[name];
      const range = Object.hasOwn(study.ranges, name) ? study.ranges[name] : undefined;
      return (output?.type === "quantity" || output?.type === "returned") && range !== undefined ? [{ name, label: output.label, ...rangeTexts(view, output.kind, range) }] : [];
    }),
    verdicts: outputs.flatMap((name) => {
      const output = lesson.outputs[name];
      return output?.type === "verdict" && Object.hasOwn(study.counts, name) ? [{ name, label: output.label, answers: sharesOf(study.counts[name] ?? {}, study.runs).map(({ word, share }) => ({ answer: output.words[word] ?? word, share })) }] : [];
    }),
  };
};
