/**
 * What a prediction card holds up first, as a plate: each headline with low, likely and high and a strip of them to scale, each verdict
 * with its share of the runs. Numbers and words are those that the card prints.
 */
import type { Card, CardOutput } from "../card/card.ts";
import { printedNumber, unitWords } from "../card/compareCard.ts";
import { node, type Node } from "../drawing.ts";
import { countsOf, runsOf } from "../render/card.ts";
import { capital } from "../render/html.ts";
import { tieWords } from "../render/study.ts";
import { cautionAt, withCaution } from "./caution.ts";
import type { Painter } from "./paint.ts";
import { column, LEADING, LIVE, type Plate, TEXT, THINNEST, titleOf, type Words } from "./plate.ts";
import { broken, widthOf } from "./type/outline.ts";

/** More numbers than this nobody reads off a screen. */
const MOST_NUMBERS = 6;
const COLUMNS = ["low", "likely", "high"] as const;
const COLUMN_GAP = 36;
const UNIT_GAP = 18;
/** From the names to their numbers. */
const NAME_GAP = 44;
/** A strip under its numbers: the room it takes, its bar, and the upright at the likely value. */
const STRIP = { room: 44, middle: 20, bar: 12, upright: 40, mark: 6, end: 22 } as const;
/** Rows stand no further apart than this. */
const MOST_AIR = 36;
const SAFE_WIDTH = LIVE.right - LIVE.left;

/** What strips are drawn to, said once. */
const SCALE = "strips: to scale, with a tick at 0";

export interface RangeRequest {
  /** A card as printed, narrowed to the rows that are held up: `partCard(card, ...).first`. */
  readonly card: Pick<Card, "question" | "version" | "frozen" | "study" | "outputs" | "verdicts">;
  /** In place of the question. */
  readonly title?: string;
  /** Set below everything else. */
  readonly caution?: string | undefined;
}

export interface RangePlate extends Plate {
  /** Names of numbers and verdicts that had no room: a card of these alone makes the next plate. */
  readonly leftOut: readonly string[];
}

interface Strip {
  readonly from: number;
  readonly to: number;
}

type Verdict = Card["verdicts"][number];

/** How many of the runs gave no result, as the card says. */
const withoutResult = (study: string): string => /(?:^|\s)(\d[\d\s.,]*) of the runs gave no result/u.exec(study)?.[1] ?? "";

/** A share keeps on one line. */
const whole = (share: string): string => share.replace(/ /g, "\u00a0");

/** A verdict and its answers, as on the card. */
const verdictText = ({ label, answers }: Verdict, runs: string): string =>
  `${capital(label)}: ${runs === "" ? "" : tieWords(countsOf(answers, runs), runs)}${answers.map(({ answer, share }) => `${answer} (${whole(share)})`).join("; ")}`;

/** A dash in place of a number has no place on a line. */
const isDrawn = (output: CardOutput): boolean => COLUMNS.every((key) => Number.isFinite(printedNumber(output[key])));

/** Numbers of one unit are drawn to one scale, with nought on it. */
const stripsOf = (outputs: readonly CardOutput[]): ReadonlyMap<string, Strip> => {
  const strips = new Map<string, Strip>();
  for (const { unit, low, high } of outputs.filter(isDrawn)) {
    const { from, to } = strips.get(unit) ?? { from: 0, to: 0 };
    strips.set(unit, { from: Math.min(from, printedNumber(low)), to: Math.max(to, printedNumber(high)) });
  }
  return strips;
};

const tenth = (value: number): number => Math.round(value * 10) / 10;

/** Low to high as a bar, likely as an upright over it, on a line from end to end of the scale with a tick at nought. */
const stripArt = ({ low, likely, high }: CardOutput, { from, to }: Strip, left: number, right: number, top: number): Node => {
  const x = (text: string | number): number => {
    const value = typeof text === "number" ? text : printedNumber(text);
    return tenth(to > from ? left + ((value - from) / (to - from)) * (right - left) : left);
  };
  const y = top + STRIP.middle;
  const tall = (name: string, at: number, height: number, width: number): Node => node("rect", { x: tenth(at - width / 2), y: tenth(y - height / 2), width, height, class: name });
  return node("g", { class: "strip" }, [
    node("line", { x1: left, y1: y, x2: right, y2: y, class: "line-other" }),
    node("line", { x1: x(0), y1: y - STRIP.end / 2, x2: x(0), y2: y + STRIP.end / 2, class: "zero" }),
    node("rect", { x: x(low), y: y - STRIP.bar / 2, width: tenth(x(high) - x(low)), height: STRIP.bar, class: "dots range" }),
    tall("dots likely", x(likely), STRIP.upright, STRIP.mark),
  ]);
};

export const rangePlate = ({ card, title = card.question, caution }: RangeRequest, { paint }: Painter): RangePlate => {
  if (card.outputs.length + card.verdicts.length === 0) throw new RangeError("plate: the card has nothing to hold up");
  const head = titleOf(title);
  const { words: cautionWords, floor } = cautionAt(caution);
  const [runs, without] = [runsOf(card), withoutResult(card.study)];

  // Columns are as wide as the widest number of any row that may be shown.
  const offered = card.outputs.slice(0, MOST_NUMBERS);
  const widths = COLUMNS.map((key) => Math.max(widthOf(key, TEXT, "regular"), ...offered.map((output) => widthOf(output[key], TEXT, key === "likely" ? "bold" : "regular"))));
  const unitWidth = Math.max(0, ...offered.map(({ unit }) => widthOf(unitWords(unit), TEXT, "regular")));
  const right = LIVE.right - (unitWidth > 0 ? unitWidth + UNIT_GAP : 0);
  const ends = COLUMNS.map((_, i) => right - widths.slice(i + 1).reduce((sum, width) => sum + width + COLUMN_GAP, 0));
  const left = right - widths.reduce((sum, width) => sum + width, 0) - COLUMN_GAP * (COLUMNS.length - 1);
  const nameWidth = left - NAME_GAP - LIVE.left;

  const footFor = (left: number): string[] => {
    const more = left === 0 ? "inputs and give or take" : `inputs, give or take and ${left} more ${left === 1 ? "answer" : "answers"}`;
    const lost = without === "" ? "" : `, ${without} without a result`;
    return broken(`${runs === "" ? "" : `of ${runs}${lost}; `}${more} on the prediction card; ridedown ${card.version}, ${card.frozen === "" ? "a draft, not frozen" : card.frozen}`, TEXT, "regular", SAFE_WIDTH);
  };
  /** Reserved as if something were left out: that line is the longest. */
  const bottom = floor - LEADING * footFor(card.outputs.length + card.verdicts.length).length;

  const verdictRow = (verdict: Verdict) => {
    const lines = broken(verdictText(verdict, runs), TEXT, "regular", SAFE_WIDTH);
    return { verdict, lines, height: lines.length * LEADING };
  };
  const outputRow = (output: CardOutput) => {
    const lines = broken(capital(output.label), TEXT, "regular", nameWidth);
    return { output, lines, height: Math.max(lines.length * LEADING, LEADING + STRIP.room) };
  };
  type Row = ReturnType<typeof verdictRow> | ReturnType<typeof outputRow>;
  const heightOf = (list: readonly Row[]): number => list.reduce((sum, { height }) => sum + height, list.some((row) => "output" in row) ? LEADING : 0);
  const fits = (...list: readonly Row[]): boolean => heightOf(list) <= bottom - head.foot;

  // The first verdict answers the question; numbers come next, in order, and further verdicts where there is room left.
  const [answer, ...verdicts] = card.verdicts.map(verdictRow);
  const shown: Row[] = answer !== undefined && fits(answer) ? [answer] : [];
  const numbers = offered.map(outputRow);
  const missing = numbers.findIndex((_, i) => !fits(...shown, ...numbers.slice(0, i + 1)));
  let count = missing < 0 ? numbers.length : missing;
  // What is said of one body does not stand without the same of the other, unless alone.
  const [last, next] = [numbers[count - 1]?.output.name, card.outputs[count]?.name];
  if (last !== undefined && /A$/.test(last) && next === last.replace(/A$/, "B") && shown.length + count > 1) count--;
  shown.push(...numbers.slice(0, count));
  for (const row of verdicts) if (fits(...shown, row)) shown.push(row);
  if (shown.length === 0) throw new RangeError(`plate: there is no room under the title for ${(answer ?? numbers[0])?.lines.join(" ")}`);
  const names = new Set(shown.map((row) => ("verdict" in row ? row.verdict.name : row.output.name)));
  const leftOut = [...card.verdicts, ...card.outputs].flatMap(({ name }) => (names.has(name) ? [] : [name]));
  const air = Math.min(MOST_AIR, (bottom - head.foot - heightOf(shown)) / (shown.length + 1));

  const strips = stripsOf(shown.flatMap((row) => ("output" in row ? [row.output] : [])));
  const words: Words[] = [...head.words];
  const art: Node[] = [];
  let y = head.foot + air;
  let headed = false;
  for (const row of shown) {
    if ("verdict" in row) {
      words.push(...column(row.lines, y, { role: "value", x: LIVE.left }).words);
      y += row.height + air;
      continue;
    }
    const { output, lines, height } = row;
    if (!headed) {
      headed = true;
      if (widthOf(SCALE, TEXT, "regular") <= nameWidth) words.push(...column([SCALE], y, { role: "axis", x: LIVE.left, tone: "soft" }).words);
      COLUMNS.forEach((key, i) => words.push(...column([key], y, { role: "axis", x: ends[i] as number, tone: "soft", anchor: "end" }).words));
      y += LEADING;
    }
    words.push(...column(lines, y, { role: "axis", x: LIVE.left }).words);
    COLUMNS.forEach((key, i) => words.push(...column([output[key]], y, { role: "value", x: ends[i] as number, anchor: "end", weight: key === "likely" ? "bold" : "regular" }).words));
    if (unitWords(output.unit) !== "") words.push(...column([unitWords(output.unit)], y, { role: "axis", x: right + UNIT_GAP }).words);
    if (isDrawn(output)) art.push(stripArt(output, strips.get(output.unit) as Strip, left, right, y + LEADING));
    y += height + air;
  }
  const foot = footFor(leftOut.length);
  words.push(...column(foot, floor - LEADING * foot.length, { role: "axis", x: LIVE.left, tone: "soft" }).words, ...cautionWords);

  const said = shown.map((row) => {
    if ("verdict" in row) return `${verdictText(row.verdict, runs)}.`;
    const { label, low, likely, high, unit } = row.output;
    return `${capital(label)}: low ${low}, likely ${likely}, high ${high}${unitWords(unit) === "" ? "" : `\u00a0${unitWords(unit)}`}.`;
  });
  return { title, says: withCaution([...said, `${capital(foot.join(" "))}.`].join(" "), caution), art: art.length === 0 ? [] : [paint(art, "figure-plot", THINNEST)], words, leftOut };
};

/** A card on as many plates as its rows need: what one has no room for stands on the next. Each plate with the card that it is made of. */
export const rangePlates = <C extends RangeRequest["card"]>({ card, ...request }: RangeRequest & { readonly card: C }, painter: Painter): readonly { readonly card: C; readonly plate: RangePlate }[] => {
  if (card.outputs.length + card.verdicts.length === 0) return [];
  const plate = rangePlate({ ...request, card }, painter);
  const isLeft = ({ name }: { readonly name: string }): boolean => plate.leftOut.includes(name);
  return [{ card, plate }, ...rangePlates({ ...request, card: { ...card, outputs: card.outputs.filter(isLeft), verdicts: card.verdicts.filter(isLeft) } }, painter)];
};
