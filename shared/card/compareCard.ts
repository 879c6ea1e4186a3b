/** After the take: the range that was predicted against the value that was measured, misses included. */
import { predictionVerdict } from "../../lib/measuring/predictionVerdict.ts";
import { fromSI, sameDimension, toSI, unitNamed, isUnit, type UnitName } from "../../lib/units.ts";
import { formatNumber, parseNumber, tidy } from "../state/numbers.ts";
import { unitText } from "../state/units.ts";
import { type Card, type CardOutput, plain } from "./card.ts";

/** In the unit of its output on the card. */
export interface Measured {
  readonly value: number;
  readonly give: number;
}

export interface Comparison {
  readonly output: CardOutput;
  readonly measured: Measured;
  readonly verdict: "inside" | "outside" | "open";
  /** Negative below the range, 0 inside. */
  readonly beyond: number;
  readonly words: string;
}

/** A printed number of a card; the card writes points. */
export const printedNumber = (text: string): number => {
  const read = parseNumber(plain(text), "en");
  return "value" in read && read.rest === "" ? read.value : Number.NaN;
};

export const unitWords = (unit: string): string => (isUnit(unit) ? unitText(unit) : unit);

const joined = (value: number, digits: number, unit: string): string => `${formatNumber(value, digits, "en")}${unitWords(unit) === "" ? "" : `\u00a0${unitWords(unit)}`}`;

const digitsOf = (text: string): number => plain(text).split(".")[1]?.length ?? 0;

const wordsOf = (output: CardOutput, beyond: number, verdict: Comparison["verdict"]): string => {
  if (verdict === "inside") return "inside the range";
  const away = joined(Math.abs(beyond), digitsOf(output.low) + 1, output.unit);
  if (verdict === "open") return "so near an end of the range that its own give or take reaches across: it cannot be told";
  return `missed: ${away} ${beyond < 0 ? "below" : "above"} the range`;
};

export const compareCard = (card: Card, measured: Readonly<Record<string, Measured>>): Comparison[] =>
  card.outputs.flatMap((output) => {
    const one = Object.hasOwn(measured, output.name) ? measured[output.name] : undefined;
    const [low, high] = [printedNumber(output.low), printedNumber(output.high)];
    if (one === undefined || !(low <= high)) return [];
    const { verdict, beyond } = predictionVerdict({ low, high, measured: one.value, give: one.give });
    return [{ output, measured: one, verdict, beyond, words: wordsOf(output, beyond, verdict) }];
  });

const count = (n: number, what: string): string => `${n} ${what}`;

/** The whole in one sentence; a miss is never left out, nor what was not measured. */
export const tallyWords = (card: Card, compared: readonly Comparison[]): string => {
  if (compared.length === 0) return "Nothing has been measured yet.";
  const of = (verdict: Comparison["verdict"]): number => compared.filter((one) => one.verdict === verdict).length;
  const left = card.outputs.length - compared.length;
  return `Of ${count(compared.length, compared.length === 1 ? "measured value" : "measured values")}, ${of("inside")} inside the range, ${of("outside")} missed, ${of("open")} too near an end to tell; ${left} predicted but not measured.`;
};

const MOST_LINES = 500;

/** A number in the unit of the card's output; another unit of the same kind may follow it. */
const inUnit = (text: string, unit: string, locale: string): number | string => {
  const read = parseNumber(text, locale);
  if ("question" in read) return read.question;
  if (read.rest === "" || !isUnit(unit) || read.rest === unitText(unit)) return read.value;
  const given: UnitName | undefined = unitNamed(read.rest, unit);
  if (given === undefined || !sameDimension(given, unit)) return `\u201c${read.rest}\u201d does not fit here; type a number${unitText(unit) === "" ? " alone" : ` in ${unitText(unit)}`}.`;
  return tidy(fromSI(toSI(read.value, given), unit));
};

/** One measured value as typed: "58.3", "58.3 km/h", "36 mph"; and its give or take, which may be empty. */
export const readMeasured = (value: string, give: string, output: CardOutput, locale: string): Measured | { readonly question: string } => {
  const measured = inUnit(value, output.unit, locale);
  if (typeof measured === "string") return { question: measured };
  const around = give.trim() === "" ? 0 : inUnit(give.replace(/^\s*(\u00b1|\+\/?-)/, ""), output.unit, locale);
  if (typeof around === "string") return { question: `Give or take: ${around}` };
  return around < 0 ? { question: "A give or take is a number of at least 0." } : { value: measured, give: around };
};

/** Pasted measurements: one line each, `name; value; give or take`, parted by semicolons or tabs; the name as on the card, or its short name. */
export const readMeasurements = (text: string, card: Card, locale: string): { readonly measured: Readonly<Record<string, Measured>>; readonly questions: readonly string[] } => {
  const measured: Record<string, Measured> = {};
  const questions: string[] = [];
  const lines = text.replace(/^\ufeff/, "").split(/\r\n?|\n/);
  if (lines.length > MOST_LINES) return { measured, questions: [`${lines.length} lines are too many; at most ${MOST_LINES}.`] };
  lines.forEach((line, i) => {
    if (line.trim() === "") return;
    const [name = "", value = "", give = ""] = line.split(line.includes("\t") ? "\t" : ";").map((cell) => cell.trim());
    const output = card.outputs.find((one) => one.name === name || plain(one.label).toLowerCase() === plain(name).toLowerCase());
    if (output === undefined) {
      // a header
      if (i > 0 || /\d/.test(value)) questions.push(`Line ${i + 1}: the card predicts no \u201c${name}\u201d.`);
      return;
    }
    const read = readMeasured(value, give, output, locale);
    if ("question" in read) questions.push(`Line ${i + 1}, ${output.label}: ${read.question}`);
    else if (Object.hasOwn(measured, output.name)) questions.push(`Line ${i + 1}: ${output.label} is given twice.`);
    else measured[output.name] = read;
  });
  return { measured, questions };
};
