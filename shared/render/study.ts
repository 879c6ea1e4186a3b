/** How sure: ranges of the headlines, what moves each most, and where a verdict turns. */
import { fromSI } from "../../lib/units.ts";
import { isTie, outOfHundred } from "../card/held.ts";
import { rankingOf, type WholeStudy } from "../card/wholeStudy.ts";
import type { Kind } from "../kinds.ts";
import type { FlipPoint, FlipValue } from "../lesson.ts";
import { formatNumber } from "../state/numbers.ts";
import { show, showInput, unitFor, unitText } from "../state/units.ts";
import type { View } from "../view.ts";
import { capital, escape } from "./html.ts";
import { isNil, rangeDigits } from "./range.ts";
import { outputText } from "./value.ts";

export interface RangeTexts {
  readonly unit: string;
  readonly low: string;
  readonly likely: string;
  readonly high: string;
}

/** A range in the reader's unit, as printed; one that is no range as the number is on the page. */
export const rangeTexts = (view: View, kind: Kind, range: { readonly low: number; readonly likely: number; readonly high: number }): RangeTexts => {
  if (isNil(kind, range)) {
    const { number, unit } = show(kind, range.likely, view.units, view.locale);
    return { unit, low: number, likely: number, high: number };
  }
  const unit = unitFor(kind, view.units);
  const [low, likely, high] = [range.low, range.likely, range.high].map((value) => fromSI(value, unit)) as [number, number, number];
  const digits = rangeDigits(high - low, kind.digits);
  const text = (value: number): string => formatNumber(value, digits, view.locale);
  return { unit, low: text(low), likely: text(likely), high: text(high) };
};

/** Some labels bring their article. */
const withThe = (label: string): string => (/^the /i.test(label) ? label : `the ${label}`);

const withUnit = (text: string, unit: string): string => (unit === "" ? text : `${text}\u00a0${unit}`);

const kindOf = (view: View, name: string): { readonly label: string; readonly kind: Kind } | undefined => {
  const output = view.lesson.outputs[name];
  return output?.type === "quantity" || output?.type === "returned" ? output : undefined;
};

/** Kernels whose results say themselves how sure something is, and parts of a result that do: a range of these would be a give of a give. */
const OF_GIVES = ["propagate", "sensitivityBars", "study"];
const GIVE_FIELD = /(?:^|\.)(?:give|\w+Give)(?:\.|$)/;

/** A number that some give or take moves. */
const isMoved = (view: View, study: WholeStudy, name: string): boolean => {
  const output = view.lesson.outputs[name];
  if ((output?.type !== "quantity" && output?.type !== "returned") || OF_GIVES.includes(output.from?.name ?? "") || (output.type === "quantity" && GIVE_FIELD.test(output.field))) return false;
  return Object.hasOwn(study.ranges, name) && !isNil(output.kind, study.ranges[name] as { low: number; high: number });
};

/** A verdict that is not the same in every run. */
const isOpen = (study: WholeStudy, name: string): boolean => Object.values(study.counts[name] ?? {}).filter((count) => count > 0).length > 1;

/** Shares of all runs, the commonest first. */
export const sharesOf = (counts: Readonly<Record<string, number>>, runs: number): { readonly word: string; readonly share: string }[] =>
  Object.entries(counts)
    .filter(([, count]) => count > 0)
    .sort(([, p], [, q]) => q - p)
    .map(([word, count]) => ({ word, share: `in ${outOfHundred(count, runs)}` }));

const runsWords = (runs: number, locale: string): string => `${formatNumber(runs, 0, locale)} runs`;

/** Said before the answers of a verdict whose two commonest so many runs cannot tell apart; else nothing. */
export const tieWords = (counts: readonly number[], runs: string): string => {
  const [first = 0, second = 0] = [...counts].sort((p, q) => q - p);
  return second > 0 && isTie(first, second) ? `a tie, as far as ${runs} can tell: ` : "";
};

/** How the ranges were made, in words. */
export const studyWords = (view: View, study: WholeStudy): string => {
  const count = (n: number): string => formatNumber(n, 0, view.locale);
  const varied = study.effects.length;
  const reasons = Object.keys(study.without);
  const lost = Object.values(study.without).reduce((sum, n) => sum + n, 0);
  const without = lost === 0 ? "" : ` ${count(lost)} of the runs gave no result (${reasons[0]}${reasons.length > 1 ? "; and other reasons" : ""}) and ${lost === 1 ? "is" : "are"} not in the ranges.`;
  return `${count(study.runs)} runs, ${varied === 0 ? "no input with a give or take" : varied === 1 ? "one input drawn from its give or take" : `${varied} inputs drawn at once, each from its give or take`}. Low and high: one run in forty lies below, one in forty above; likely: half lie below.${without}`;
};

const WIDTH = 200;
const HEIGHT = 14;

/** A dimension line from `from` to `to` of 1, with a tick at `at`. */
const strip = (from: number, to: number, at: number): string => {
  const x = (share: number): string => (2 + share * (WIDTH - 4)).toFixed(0);
  const middle = HEIGHT / 2;
  const tick = (share: number, tall: number): string => `M${x(share)} ${middle - tall}V${middle + tall}`;
  return `<svg class="strip" viewBox="0 0 ${WIDTH} ${HEIGHT}" aria-hidden="true"><path class="span" d="M${x(from)} ${middle}H${x(to)}"/><path d="${tick(from, 3)}${tick(to, 3)}${tick(at, 6)}"/></svg>`;
};

const MOST_BARS = 4;

const rankingHtml = (view: View, study: WholeStudy, name: string): string => {
  const headline = kindOf(view, name);
  const value = view.state.outputs[name];
  if (headline === undefined || typeof value !== "number") return "";
  const ranking = rankingOf(study, name);
  const unit = unitFor(headline.kind, view.units);
  const shown = ranking.slice(0, MOST_BARS);
  const ends = shown.flatMap(({ low, high }) => [low, high].filter((end) => end !== null)).concat(value);
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const share = (end: number): number => (most > least ? (end - least) / (most - least) : 0.5);
  const digits = rangeDigits(fromSI(most - least, unit), headline.kind.digits);
  const at = (end: number | null): string => (end === null ? "no result" : withUnit(formatNumber(fromSI(end, unit), digits, view.locale), unitText(unit)));
  const rows = shown.map(({ effect, low, high }) => {
    const input = view.lesson.inputs[effect.input];
    if (input?.type !== "quantity") return "";
    const end = (si: number): string => showInput(input, si, view.units, view.locale).text;
    const [from, to] = [Math.min(low ?? value, high ?? value, value), Math.max(low ?? value, high ?? value, value)];
    return `<li><span class="name">${escape(input.label)}</span>${strip(share(from), share(to), share(value))}<span class="ends">${escape(end(effect.low))} gives ${escape(at(low))}; ${escape(end(effect.high))} gives ${escape(at(high))}</span></li>`;
  });
  const left = ranking.length - shown.length;
  if (shown.length === 0) return `<li>${escape(capital(headline.label))}: no input with a give or take moves it.</li>`;
  return `<li><details><summary>${escape(capital(headline.label))}: most by ${escape(withThe(view.lesson.inputs[shown[0]?.effect.input ?? ""]?.label ?? ""))}</summary><ol class="bars">${rows.join("")}</ol>${left > 0 ? `<p class="left">${left} more ${left === 1 ? "moves" : "move"} it less.</p>` : ""}</details></li>`;
};

const flipSentence = (view: View, name: string): string => {
  const output = view.lesson.outputs[name];
  const value = view.state.outputs[name] as FlipValue | undefined;
  if (output?.type !== "flip" || value === undefined || value.below === "") return "";
  const verdict = view.lesson.outputs[output.of];
  if (value.at === null) return "";
  const words = (word: string): string => (verdict?.type === "verdict" ? (verdict.words[word] ?? word) : word);
  const label = escape(capital(verdict?.label ?? output.of));
  const along = escape(view.lesson.inputs[output.along]?.label ?? output.along);
  return `<li><b>${label}</b> turns at ${escape(outputText(view, name) ?? "")}, ${along}: just below, ${escape(words(value.below))}; just above, ${escape(words(value.above))}.</li>`;
};

/** Turns shown of each verdict: those that its lesson asks for, then the nearest, measured in give or takes. */
const MOST_TURNS = 3;

const turnsOf = (view: View, study: WholeStudy, verdict: string): string[] => {
  const output = view.lesson.outputs[verdict];
  if (output?.type !== "verdict") return [];
  const asked = Object.values(view.lesson.outputs).flatMap((one) => (one.type === "flip" && one.of === verdict ? [one.along] : []));
  const turns = study.effects.flatMap(({ input: name, turns: found }) => {
    const turn = Object.hasOwn(found, verdict) ? found[verdict] : undefined;
    const input = view.lesson.inputs[name];
    return turn === undefined || input?.type !== "quantity" ? [] : [{ turn, input, asked: asked.includes(name) ? 0 : 1, away: Math.abs(turn.at - (view.state.inputs[name] as number)) / input.give }];
  });
  return turns
    .sort((p, q) => p.asked - q.asked || p.away - q.away)
    .slice(0, MOST_TURNS)
    .map(({ turn, input, away }) => {
      const unit = unitFor(input.kind, view.units);
      const place = withUnit(formatNumber(fromSI(turn.at, unit), Math.max(rangeDigits(fromSI(input.give, unit), 0), 0), view.locale), unitText(unit));
      return `<li><b>${escape(capital(output.label))}</b> turns where ${escape(withThe(input.label))} is ${escape(place)}${away <= 1 ? ", which its own give or take reaches" : ""}: just below, ${escape(output.words[turn.below] ?? turn.below)}; just above, ${escape(output.words[turn.above] ?? turn.above)}.</li>`;
    });
};

/** Whether a study has found the turn that a flip point looks for. */
const isTurn = (study: WholeStudy, { of, along }: FlipPoint): boolean => study.effects.some(({ input, turns }) => input === along && Object.hasOwn(turns, of) && turns[of] !== undefined);

/** What of the outputs named a study has something to say about, in their order. */
const foundIn = (view: View, study: WholeStudy, outputs: readonly string[]): { readonly numbers: readonly string[]; readonly counted: readonly string[]; readonly turned: readonly string[] } => {
  const verdicts = outputs.filter((name) => view.lesson.outputs[name]?.type === "verdict" && Object.hasOwn(study.counts, name));
  const flips = Object.entries(view.lesson.outputs).flatMap(([name, output]) => (output.type === "flip" && outputs.includes(output.of) && !isTurn(study, output) ? [flipSentence(view, name)] : []));
  return {
    numbers: outputs.filter((name) => isMoved(view, study, name)),
    counted: verdicts.filter((name) => isOpen(study, name)),
    turned: [...flips, ...verdicts.flatMap((name) => turnsOf(view, study, name))].filter((item) => item !== ""),
  };
};

const part = (title: string, html: string): string => (html === "" ? "" : `<h3>${title}</h3>${html}`);

const reasons = (view: View, study: WholeStudy, { numbers, counted, turned }: ReturnType<typeof foundIn>, most: number): string =>
  part("What would change the story", turned.length > 0 ? `<ul>${turned.join("")}</ul>` : counted.length > 0 ? "<p>Along no single input with a give or take does a verdict turn within the range of its slider.</p>" : "") +
  (numbers.length === 0 ? "" : `<div class="ranked">${part("What matters most", `<ul class="rankings">${numbers.slice(0, most).map((name) => rankingHtml(view, study, name)).join("")}</ul>`)}${numbers.length > most ? `<p>The other ${numbers.length - most} are ranked on the prediction card, and here once it is run.</p>` : ""}</div>`);

/** Everything a study says, of the outputs named, in their order. What no give or take moves is left out. With `most`, only so many are ranked. */
export const renderStudy = (view: View, study: WholeStudy, outputs: readonly string[], most = Number.POSITIVE_INFINITY): string => {
  const { numbers, counted, turned } = foundIn(view, study, outputs);
  const row = (name: string): string => {
    const { label, kind } = kindOf(view, name) as { label: string; kind: Kind };
    const { unit, low, likely, high } = rangeTexts(view, kind, study.ranges[name] as { low: number; likely: number; high: number });
    return `<tr><th scope="row">${escape(capital(label))}</th><td>${low}</td><td>${likely}</td><td>${high}</td><td class="unit">${escape(unitText(unit as never))}</td></tr>`;
  };
  const shares = counted.map((name) => {
    const output = view.lesson.outputs[name] as { label: string; words: Readonly<Record<string, string>> };
    const counts = study.counts[name] ?? {};
    const runs = runsWords(study.runs, view.locale);
    return `<li><b>${escape(capital(output.label))}</b>: ${tieWords(Object.values(counts), runs)}${sharesOf(counts, study.runs).map(({ word, share }) => `${escape(output.words[word] ?? word)} (${share})`).join("; ")}, of ${runs}.</li>`;
  });
  return (
    `<p class="study-says">${escape(studyWords(view, study))}${numbers.length + counted.length + turned.length === 0 ? " They all came to the same." : ""}</p>` +
    (numbers.length === 0
      ? ""
      : `<div class="table" tabindex="0" role="region" aria-label="Low, likely and high"><table class="ranges"><thead><tr><th scope="col">Predicted</th><th scope="col">low</th><th scope="col">likely</th><th scope="col">high</th><th scope="col">unit</th></tr></thead><tbody>${numbers.map(row).join("")}</tbody></table></div>`) +
    part("How often each verdict", shares.length === 0 ? "" : `<ul>${shares.join("")}</ul>`) +
    reasons(view, study, { numbers, counted, turned }, most)
  );
};

/** What a study says beside the ranges and shares that stand on a card: where its verdicts turn, and what moves its numbers. Nothing where nothing does. */
export const renderReasons = (view: View, study: WholeStudy, outputs: readonly string[]): string => reasons(view, study, foundIn(view, study, outputs), Number.POSITIVE_INFINITY);

/** A page is to stay light: what it cannot rank at first is on the card's page. */
const RANKED_AT_FIRST = 4;

/**
 * The panel on a lesson's page: what the build found for the start, and a button that runs it for the present values. Where nothing
 * varies, what a presenter goes to is all that is left of it.
 */
export const renderStudyPanel = (view: View, study: WholeStudy, outputs: readonly string[], runs: number, cue: boolean): string => {
  const { numbers, counted, turned } = foundIn(view, study, outputs);
  const found = `<section class="study" aria-labelledby="how-sure"><h2 id="how-sure">How sure</h2>
<p>Every input is known only to its give or take. This is what that leaves of the numbers. What no give or take moves is not listed; what the model itself leaves out is not in it.</p>
<div class="study-bar scripted-only"><button type="button" data-do="study">Run ${formatNumber(runs, 0, view.locale)} times at the present values</button><button type="button" data-do="cancel" hidden>Cancel</button><progress max="1" value="0" hidden aria-label="Runs done"></progress><span class="study-status" role="status"></span><span class="study-stale"></span></div>
<div class="study-found">${renderStudy(view, study, outputs, RANKED_AT_FIRST)}</div></section>`;
  const forShow = `<p class="for-presenter">For a show, at the present values: <a class="with-state" href="${view.slug}-card.html">prediction card</a> to freeze before the take${cue ? `, <a class="with-state" href="${view.slug}-cue.html">cue card</a> with captions` : ""}.</p>`;
  return `<study-panel data-outputs="${outputs.join(" ")}" data-runs="${runs}">${numbers.length + counted.length + turned.length === 0 ? "" : found}${forShow}</study-panel>`;
};
