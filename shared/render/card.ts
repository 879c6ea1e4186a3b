/** The prediction card on screen and on paper, its check, and what came of it. */
import { type Card, codeOf, type KeptCard, plain, PUBLISH_FIRST } from "../card/card.ts";
import { type Comparison, tallyWords, unitWords } from "../card/compareCard.ts";
import { formatNumber } from "../state/numbers.ts";
import { capital, escape } from "./html.ts";

const DRAFT = "Draft: nothing is frozen yet, and there is no code to publish.";

const row = (head: string, cells: readonly string[]): string => `<tr><th scope="row">${head}</th>${cells.map((cell) => `<td>${escape(cell)}</td>`).join("")}</tr>`;

const table = (kind: string, label: string, head: readonly string[], rows: readonly string[]): string =>
  `<div class="table" tabindex="0" role="region" aria-label="${label}"><table class="${kind}"><caption>${label}</caption><thead><tr>${head.map((one) => `<th scope="col">${one}</th>`).join("")}</tr></thead><tbody>${rows.join("")}</tbody></table></div>`;

/** The code in groups that are read out one by one. */
const codeHtml = (code: string): string => `<span class="code">${code.split("-").map((group) => `<span>${group}</span>`).join("-")}</span>`;

/** A card; frozen where it comes with its hash. */
export const renderCard = (card: Card, kept?: KeptCard): string => {
  const seal =
    kept === undefined
      ? `<p class="draft">${DRAFT}</p>`
      : `<div class="seal"><p><span class="label">Frozen on</span> <time>${escape(card.frozen)}</time>${card.by === "" ? "" : ` <span class="label">by</span> ${escape(card.by)}`}</p>` +
        `<p><span class="label">Code to publish</span> ${codeHtml(codeOf(kept.hash))}</p><p><span class="label">Hash of the printed values, SHA-256</span> <span class="hash">${kept.hash}</span></p><p class="publish">${PUBLISH_FIRST}</p></div>`;
  return (
    `<section class="prediction" aria-label="Prediction card"><header><p class="kicker">Prediction card</p><h2>${escape(card.question)}</h2><p class="facts">${escape(card.scenario)} \u00b7 ${escape(card.title)} \u00b7 ridedown ${escape(card.version)}</p></header>` +
    seal +
    (card.verdicts.length === 0 ? "" : `<ul class="verdicts">${card.verdicts.map(({ label, answers }) => `<li><b>${escape(capital(label))}</b>: ${answers.map(({ answer, share }) => `${escape(answer)} (${escape(share)})`).join("; ")}.</li>`).join("")}</ul>`) +
    table("predicted", "Predicted", ["quantity", "low", "likely", "high", "unit"], card.outputs.map(({ label, low, likely, high, unit }) => row(escape(capital(label)), [low, likely, high, unitWords(unit)]))) +
    table("given", "From these inputs", ["input", "value", "give or take", "reason"], card.inputs.map(({ label, value, give, reason }) => row(escape(capital(label)), [value, give === "" ? "exact" : give, reason]))) +
    `<p class="made">${escape(card.study)}</p></section>`
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
