/** "How we know": every published value beside ours, made from the code of the same build. */
import type { CheckRow, Evidence } from "./evidence.ts";
import * as lib from "../lib/index.ts";
import * as units from "../lib/units.ts";
import { statusMeaning } from "../shared/render/status.ts";
import { formatSignificant } from "../shared/state/numbers.ts";
import { escapeHtml } from "./html.ts";
import { RISK_KERNELS, riskSection } from "./riskSection.ts";
import { shell, type SiteFacts } from "./shell.ts";

const DIGITS = 7;
const number = (value: number, digits = DIGITS): string => formatSignificant(value, digits, "en");
/** A difference is mostly rounding: its size is what matters. */
const DIFFERENCE_DIGITS = 3;

/** Sources are named by their ids in lib/sources.yaml, with the place in each. */
const sourceOf = (site: SiteFacts, mention: string): string =>
  // "derived" and the like are ids only at the head: elsewhere they are words
  escapeHtml(mention).replace(/[a-z0-9]+(?:-[a-z0-9]+)+|^[a-z]+/g, (word) => (Object.hasOwn(site.sources, word) ? escapeHtml(site.sources[word]?.title ?? word) : word));

const capital = (text: string): string => `${text[0]?.toUpperCase() ?? ""}${text.slice(1)}`;

/** Most of a record is left out: its length says what it is. */
const FEW = 8;
/** Inputs as they were put in, SI throughout. */
const written = (value: unknown): string => {
  if (Array.isArray(value)) return value.length > FEW && value.every((one) => typeof one === "number") ? `[${value.slice(0, 2).map(written).join(", ")}, \u2026 ${value.length} values]` : `[${value.map(written).join(", ")}]`;
  if (typeof value === "object" && value !== null) return `{ ${Object.entries(value).map(([key, one]) => `${key}: ${written(one)}`).join(", ")} }`;
  return typeof value === "number" ? number(value) : String(value);
};
const inputsOf = ({ inputs }: CheckRow): string => Object.entries(inputs as object).map(([key, one]) => `${key} ${written(one)}`).join(", ");

const HEAD = ["check", "result", "ours", "published", "difference", "tolerance", "source"];

const rowHtml = (site: SiteFacts, { row, output, unit, ours, published, expected, tolerance }: Evidence): string => {
  const wrong = expected !== published;
  return (
    `<tr><th scope="row">${escapeHtml(row.id)}</th><td>${escapeHtml(output)}${unit === "" ? "" : ` [${escapeHtml(unit.replaceAll(" ", "\u00a0"))}]`}</td><td>${number(ours)}</td><td>${number(published)}${wrong ? ` <strong>wrong; right is ${number(expected)}</strong>` : ""}</td>` +
    `<td>${number(ours - published, DIFFERENCE_DIGITS)}</td><td>${number(tolerance)}</td><td>${sourceOf(site, row.source)} <span class="status">${escapeHtml(row.status)}</span>${row.note === undefined ? "" : ` <span class="note">${sourceOf(site, capital(row.note.replace(/^MISMATCH: /, "")))}</span>`}<code class="with">${escapeHtml(`${row.kernel}: ${inputsOf(row)}`)}</code></td></tr>`
  );
};

/** Outside the tolerance first, then where the source is wrong. */
const inOrder = (rows: readonly Evidence[]): Evidence[] => {
  const rank = ({ within, expected, published }: Evidence): number => (within ? (expected === published ? 2 : 1) : 0);
  return rows.toSorted((p, q) => rank(p) - rank(q));
};

const table = (site: SiteFacts, label: string, rows: readonly Evidence[]): string =>
  `<div class="table" tabindex="0" role="region" aria-label="${escapeHtml(label)}"><table class="evidence"><thead><tr>${HEAD.map((one) => `<th scope="col">${one}</th>`).join("")}</tr></thead><tbody>${inOrder(rows).map((row) => rowHtml(site, row)).join("\n")}</tbody></table></div>`;

const count = (n: number, one: string): string => `${n} ${one}${n === 1 ? "" : "s"}`;

/** How far a source was seen, in the order of trust. */
const STATUSES = ["read", "second-hand", "from memory", "common practice", "derived"];

/** Kernels that no row calls. */
const unpublished = (evidence: readonly Evidence[]): string[] => {
  const called = new Set(evidence.map(({ row }) => row.kernel));
  return Object.entries(lib).flatMap(([name, value]) => (typeof value === "function" && !Object.hasOwn(units, name) && !called.has(name) ? [name] : [])).sort();
};

export const evidencePage = (site: SiteFacts, evidence: readonly Evidence[]): string => {
  const wrong = evidence.filter(({ expected, published }) => expected !== published);
  const outside = evidence.filter(({ within }) => !within);
  const disagree = evidence.filter(({ row }) => row.disagrees === true);
  const kernels = [...new Set(evidence.map(({ row }) => row.kernel))].sort();
  const of = (kernel: string): Evidence[] => evidence.filter(({ row }) => row.kernel === kernel);
  const withStatus = (status: string): number => evidence.filter(({ row }) => row.status === status).length;
  const curves = (kernel: string): string => ((RISK_KERNELS as readonly string[]).includes(kernel) ? ' \u00b7 <a href="#injury-risk">The published curves</a>' : "");
  const main = `<article class="index evidence"><h1>How we know</h1>
<p>${count(evidence.length - withStatus("derived"), "published value")}, and ${withStatus("derived")} worked out by a second route, beside what the code of this very build gives for the same inputs, all in SI units. A tolerance is half a unit in the last printed figure, unless the note says why it is wider. How far each source was seen stands beside it:</p>
<ul>${STATUSES.filter((status) => withStatus(status) > 0).map((status) => `<li><span class="status">${status}</span> ${statusMeaning(status)}: ${withStatus(status)}</li>`).join("")}</ul>
<p>${outside.length === 0 ? "Every value lies within its tolerance of the true one." : `<strong>${count(outside.length, "value")} outside the tolerance.</strong>`}</p>
<nav aria-label="On this page"><ul><li><a href="#wrong">Where a source is wrong</a> (${count(wrong.length, "value")})</li><li><a href="#disagree">Where sources disagree</a> (${count(disagree.length, "value")})</li><li><a href="#every">Every value, by kernel</a></li><li><a href="#unpublished">Kernels without a value from outside</a> (${unpublished(evidence).length})</li><li><a href="#injury-risk">Published curves of injury risk</a></li></ul></nav>
<p class="filter"><label for="kernel-filter">Show</label> <select id="kernel-filter" disabled><option value="">every kernel</option>${kernels.map((kernel) => `<option value="${kernel}">${kernel} (${of(kernel).length})</option>`).join("")}</select></p>
${outside.length === 0 ? "" : `<section data-kernel=""><h2>Outside the tolerance</h2>${table(site, "Outside the tolerance", outside)}</section>`}
<section data-kernel=""><h2 id="wrong">Where a source is wrong</h2>${wrong.length === 0 ? "<p>No row.</p>" : `<p>Here the printed value does not follow from the printed inputs. Our value is tested against the right one.</p>${table(site, "Where a source is wrong", wrong)}`}</section>
<section data-kernel=""><h2 id="disagree">Where sources disagree</h2>${disagree.length === 0 ? "<p>No row.</p>" : `<p>Each value follows from the inputs printed with it; another source, or another line of the same one, does not go with it. The note says what. Published <a href="#injury-risk">curves of injury risk</a> stand side by side below.</p>${table(site, "Where sources disagree", disagree)}`}</section>
<div id="every">
${kernels.map((kernel) => `<section data-kernel="${kernel}"><h2 id="${kernel}"><code>${kernel}</code></h2><p><a href="reference.html#${kernel}">What it computes</a>${curves(kernel)}</p>${table(site, `Checks of ${kernel}`, of(kernel))}</section>`).join("\n")}
</div>
<section data-kernel=""><h2 id="unpublished">Without a value from outside</h2><p>For these no value of another's was found. Tests hold them to their equations and examples, to the scaling of units and to their refusals; where there is one, to a law, to a general library or to a second route.</p><p>${unpublished(evidence).map((kernel) => `<a href="reference.html#${kernel}"><code>${kernel}</code></a>`).join(", ")}</p></section>
${riskSection(site)}
</article>`;
  return shell(site, { slug: "evidence", title: "How we know", main, scripts: ["evidence.js"], tools: "" });
};
