/** The prediction card on screen and on paper, its check, and what came of it. */
import { type Card, codeOf, type KeptCard, plain, PUBLISH_FIRST } from "../card/card.ts";
import { type Comparison, tallyWords, unitWords } from "../card/compareCard.ts";
import type { View } from "../view.ts";
import { tieWords } from "./study.ts";
import { formatNumber } from "../state/numbers.ts";
import { capital, escape } from "./html.ts";

const DRAFT = "Draft: nothing is frozen yet, and there is no code to publish.";

const row = (head: string, cells: readonly string[]): string => `<tr><th scope="row">${head}</th>${cells.map((cell) => `<td>${escape(cell)}</td>`).join("")}</tr>`;

const table = (kind: string, label: string, head: readonly string[], rows: readonly string[]): string =>
  `<div class="table" tabindex="0" role="region" aria-label="${label}"><table class="${kind}"><caption>${label}</caption><thead><tr>${head.map((one) => `<th scope="col">${one}</th>`).join("")}</tr></thead><tbody>${rows.join("")}</tbody></table></div>`;

/** The code in groups that are read out one by one. */
const codeHtml = (code: string): string => `<span class="code">${code.split("-").map((group) => `<span>${group}</span>`).join("-")}</span>`;

/** Rows held up where nothing says which they are. */
const MOST_FIRST = 5;

/** What is held up: the answer to the lesson's prediction, which comes first of its outputs, and the numbers and verdicts of its lines to say. */
export const firstOf = (view: View, outputs: readonly string[]): string[] => outputs.filter((name, i) => view.spoken?.includes(name) || (i === 0 && view.lesson.outputs[name]?.type === "verdict"));

/** The rows to hold up, and the others: those named; where no number or no verdict is, the first of them. */
export const partCard = ({ outputs, verdicts }: Card, first: readonly string[]): { readonly first: Pick<Card, "outputs" | "verdicts">; readonly rest: Pick<Card, "outputs" | "verdicts"> } => {
  const split = <T extends { readonly name: string }>(all: readonly T[]): [T[], T[]] => {
    const named = all.filter(({ name }) => first.includes(name));
    const held = named.length > 0 ? named : all.slice(0, MOST_FIRST);
    return [held, all.filter((one) => !held.includes(one))];
  };
  const [[own, others], [held, left]] = [split(outputs), split(verdicts)];
  return { first: { outputs: own, verdicts: held }, rest: { outputs: others, verdicts: left } };
};

/** "5000 runs", as the card itself says how its ranges were made. */
export const runsOf = ({ study }: Pick<Card, "study">): string => /^[\d\u202f\u00a0 ,.]*\d runs/.exec(study)?.[0] ?? "";

/** Counts of the shares printed, of the runs printed; what is no number is nothing. */
export const countsOf = (answers: Card["verdicts"][number]["answers"], runs: string): number[] => {
  const all = Number(runs.replace(/\D/g, ""));
  return answers.map(({ share }) => (Number(/^in (\d+) of 100$/.exec(plain(share))?.[1] ?? 0) * all) / 100);
};

const verdictsHtml = (card: Card, verdicts: Card["verdicts"]): string => {
  const runs = runsOf(card);
  const items = verdicts.map(({ label, answers }) => `<li><b>${escape(capital(label))}</b>: ${escape(runs === "" ? "" : tieWords(countsOf(answers, runs), runs))}${answers.map(({ answer, share }) => `${escape(answer)} (${escape(share)})`).join("; ")}${runs === "" ? "" : `, of ${escape(runs)}`}.</li>`);
  return items.length === 0 ? "" : `<ul class="verdicts">${items.join("")}</ul>`;
};

const outputsHtml = (label: string, outputs: Card["outputs"], measured = false): string =>
  outputs.length === 0
    ? ""
    : table(measured ? "predicted to-measure" : "predicted", label, ["quantity", "low", "likely", "high", "unit", ...(measured ? ["measured"] : [])], outputs.map(({ label: what, low, likely, high, unit }) => row(escape(capital(what)), [low, likely, high, unitWords(unit), ...(measured ? [""] : [])])));

/**
 * A card; frozen where it comes with its hash. What is held up stands first, on a sheet of its own: `first`, the outputs that lead the
 * card, with room for what is measured. All other rows, the inputs and `more` follow as its appendix.
 */
export const renderCard = (card: Card, kept?: KeptCard, first: readonly string[] = [], more = ""): string => {
  const seal =
    kept === undefined
      ? `<p class="draft">${DRAFT}</p>`
      : `<div class="seal"><p><span class="label">Frozen on</span> <time>${escape(card.frozen)}</time>${card.by === "" ? "" : ` <span class="label">by</span> ${escape(card.by)}`}</p>` +
        `<p><span class="label">Code to publish</span> ${codeHtml(codeOf(kept.hash))}</p><p><span class="label">Hash of all printed values, the appendix with them, SHA-256</span> <span class="hash">${kept.hash}</span></p><p class="publish">${PUBLISH_FIRST}</p></div>`;
  const { first: shown, rest } = partCard(card, first);
  const left = rest.outputs.length + rest.verdicts.length;
  return (
    `<section class="prediction" aria-label="Prediction card"><header><p class="kicker">Prediction card</p><h2>${escape(card.question)}</h2><p class="facts">${escape(card.scenario)} \u00b7 ${escape(card.title)} \u00b7 ridedown ${escape(card.version)}</p></header>` +
    verdictsHtml(card, shown.verdicts) +
    outputsHtml("Predicted, and to be measured", shown.outputs, true) +
    seal +
    `<p class="made">${escape(card.study)}</p>` +
    `<details class="appendix" open><summary>Appendix: ${left === 0 ? "" : `${left} more predicted ${left === 1 ? "answer" : "answers"}, `}what it starts from${more === "" ? "" : ", and what matters"}</summary>` +
    verdictsHtml(card, rest.verdicts) +
    outputsHtml("Also predicted", rest.outputs) +
    table("given", "From these inputs", ["input", "value", "give or take", "reason"], card.inputs.map(({ label, value, give, reason }) => row(escape(capital(label)), [value, give === "" ? "exact" : give, reason]))) +
    `${more}</details></section>`
  );
};

/** As measured, but not finer than a tenth of what the card prints: a value converted from another unit has digits without end. */
const measuredText = (value: number, like: string): string => formatNumber(value, Math.min((String(value).split(".")[1] ?? "").length, (plain(like).split(".")[1] ?? "").length + 1), "en");

/** Every predicted number beside what was measured; misses in their place among the hits. */
export const renderComparison = (card: Card, compared: readonly Comparison[]): string => {
  const rows = card.outputs.map((output) => {
    const one = compared.find((c) => c.output.name === output.name);
    const unit = unitWords(output.unit);
    const range = `${output.low} to ${output.high}${unit === "" ? "" : `\u00a0${unit}`}`;
    const head = escape(capital(output.label));
    if (one === undefined) return row(head, [range, "\u2014", "not measured"]);
    const give = one.measured.give > 0 ? ` \u00b1 ${measuredText(one.measured.give, output.low)}` : "";
    return `<tr class="${one.verdict}"><th scope="row">${head}</th><td>${escape(range)}</td><td>${escape(measuredText(one.measured.value, output.low) + give)}${unit === "" ? "" : `\u00a0${escape(unit)}`}</td><td>${escape(one.words)}</td></tr>`;
  });
  return `<p class="tally">${escape(tallyWords(card, compared))}</p>${compared.length === 0 ? "" : table("compared", "Predicted and measured", ["quantity", "predicted", "measured", "verdict"], rows)}`;
};
