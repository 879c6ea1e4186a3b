/** The prediction card of a lesson: a draft for the start values that prints without scripts; frozen, kept and checked on the page. */
import { type KeptCard, PUBLISH_FIRST } from "../shared/card/card.ts";
import { makeCard } from "../shared/card/makeCard.ts";
import { STUDY_RUNS, type WholeStudy } from "../shared/card/wholeStudy.ts";
import { firstOf, renderCard } from "../shared/render/card.ts";
import { renderReasons } from "../shared/render/study.ts";
import { renderUnitSwitch } from "../shared/render.ts";
import type { View } from "../shared/view.ts";
import { escapeHtml } from "./html.ts";
import { shell, type SiteFacts } from "./shell.ts";

/** Where the files of a lesson's card and cue lie. */
export const cardName = (slug: string): string => `${slug}-card.html`;

const FREEZE = `<section class="freeze scripted-only" aria-labelledby="freeze-head"><h2 id="freeze-head">Freeze it</h2>
<p>The card takes the values of the link that opened this page; set others on the lesson's page and come back by its link. Freezing runs the lesson thousands of times and seals what is printed.</p>
<div class="fields"><label>Day of the freeze <input id="card-day" type="text" inputmode="numeric" placeholder="2031-05-17" autocomplete="off"></label><label>Who freezes it, and for what <input id="card-by" type="text" autocomplete="off"></label></div>
<p class="card-bar"><button type="button" data-do="freeze" disabled>Freeze</button> <button type="button" data-do="cancel" hidden>Cancel</button> <progress max="1" value="0" hidden aria-label="Runs done"></progress> <button type="button" data-do="keep" disabled>Keep the file</button> <button type="button" data-do="print">Print</button> <button type="button" data-do="thaw" disabled>Begin another</button> <span class="freeze-status" role="status"></span></p>
<p>${PUBLISH_FIRST}</p></section>`;

const CHECK = `<section class="check scripted-only" aria-labelledby="check-head"><h2 id="check-head">Open a kept card</h2>
<div class="fields"><label>File of the card <input id="card-file" type="file" accept=".json,application/json"></label><label>Code that was published <input id="card-code" type="text" autocomplete="off" autocapitalize="characters" spellcheck="false"></label></div>
<div class="check-found" role="status"></div></section>`;

const MEASURE = `<section class="after" aria-labelledby="after-head"><h2 id="after-head">After the take</h2>
<p class="unscripted-only">With scripts on, what was measured is set beside what was predicted here.</p>
<p class="measure-wait scripted-only">Freeze a card or open a kept one first; then what was measured can be set beside what was predicted.</p>
<div class="measure-open" hidden><div class="measure-fields scripted-only"></div>
<details class="scripted-only"><summary>Paste or open measurements</summary><p>One line each: name as on the card; value; give or take. A unit may follow the value.</p><label>Measurements <textarea id="card-measurements" rows="5" spellcheck="false"></textarea></label><p class="card-bar"><button type="button" data-do="read" disabled>Read these</button> <label>or open a file <input id="card-results" type="file" accept=".csv,.txt,text/csv"></label> <span class="measure-status" role="status"></span></p></details>
<div class="compared-place" aria-live="polite"></div>
<p class="card-bar scripted-only"><button type="button" data-do="keep-result" disabled>Keep the result</button></p></div></section>`;

const HOW = `<details class="how"><summary>How the hash is made</summary><p>The canonical text of a card begins with the line <code>ridedown prediction card 1</code>. One line follows for each printed value, <code>path = text</code>, in the order of the card: page, title, question, scenario, version, day, who, runs; then the inputs (name, value, give or take, reason), the outputs (name, low, likely, high, unit), and the verdicts (name, then answers and their shares). In every text a run of spaces of any kind is one space, the minus is a hyphen, letters are composed (Unicode form C). Lines end with one line feed; the text is UTF-8. The hash is SHA-256 of it (FIPS 180-4). The code is the first 80 bits of the hash in base 32 (RFC 4648), in groups of four. The file is JSON: the values, the hash, and for each line the first twelve digits of its own hash, by which a change is found.</p></details>`;

/** `at`: the state of a card that is not of the start, as a share link. `madeUp`: inputs that start at what the lesson made up. */
export const cardPage = (view: View, question: string, outputs: readonly string[], study: WholeStudy, facts: SiteFacts, cue: boolean, { kept, at = "", madeUp = [] }: { readonly kept?: KeptCard; readonly at?: string; readonly madeUp?: readonly string[] } = {}): string => {
  const about = { question, scenario: facts.scenarioTitle, version: facts.version };
  const card = kept?.card ?? makeCard(view, study, { ...about, frozen: "", by: "", outputs, madeUp });
  const first = firstOf(view, outputs);
  const reasons = renderReasons(view, study, outputs);
  const more = reasons === "" ? "" : `<section class="ranking" aria-labelledby="ranking-head"><h2 id="ranking-head">What matters, at the ${at === "" ? "start values" : "values of this card"}</h2>${reasons}</section>`;
  const data = Object.entries({ ...about, outputs: outputs.join(" "), first: first.join(" "), inputs: (view.controls ?? Object.keys(view.lesson.inputs)).join(" "), runs: String(STUDY_RUNS), ...(madeUp.length > 0 && { "made-up": madeUp.join(" ") }), ...(kept && { kept: JSON.stringify(kept) }), ...(at !== "" && { state: at }) });
  const there = escapeHtml(at);
  const main = `<article class="lesson for-show">
<h1>Prediction card: ${escapeHtml(view.title)}</h1>
<p class="question">What we say before the take</p>
<p class="facts">For the presenter: this page holds the answers. <a class="with-state" href="${view.slug}.html${there}">The lesson</a> asks first.${cue ? ` <a class="with-state" href="${view.slug}-cue.html${there}">Cue card</a>` : ""}</p>
<prediction-card${data.map(([name, value]) => ` data-${name}="${escapeHtml(value)}"`).join("")}>
<p class="draft-of scripted-only" hidden>The draft below is of the start values; the link asks for others, and freezing takes those.</p>
<div class="card-place">${renderCard(card, kept, first, more)}</div>
${FREEZE}
${MEASURE}
${CHECK}
${HOW}
</prediction-card>
</article>`;
  return shell(facts, { slug: `${view.slug}-card`, title: `Prediction card: ${view.title}`, main, scripts: ["page.js", `${view.slug}.js`, "card.js"], tools: `${renderUnitSwitch(facts.units)}\n`, styles: ["card.css"] });
};
