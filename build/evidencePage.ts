/** "How we know": every published value beside ours, made from the code of the same build. */
import type { Evidence } from "./evidence.ts";
import { formatSignificant } from "../shared/state/numbers.ts";
import { escapeHtml } from "./html.ts";
import { shell, type SiteFacts } from "./shell.ts";

const DIGITS = 7;
const number = (value: number): string => formatSignificant(value, DIGITS, "en");

/** A source is named by its id, then the place in it. */
const sourceOf = (site: SiteFacts, mention: string): string => {
  const [, id = mention, where = ""] = /^([^,\s]+),?\s*(.*)$/.exec(mention) ?? [];
  return `${escapeHtml(site.sources[id]?.title ?? id)}${where === "" ? "" : `, ${escapeHtml(where)}`}`;
};

const HEAD = ["check", "result", "ours", "published", "difference", "tolerance", "source"];

const rowHtml = (site: SiteFacts, { row, output, ours, published, expected, tolerance }: Evidence): string => {
  const wrong = expected !== published;
  return (
    `<tr><th scope="row">${escapeHtml(row.id)}</th><td>${escapeHtml(output)}</td><td>${number(ours)}</td><td>${number(published)}${wrong ? ` <strong>wrong; right is ${number(expected)}</strong>` : ""}</td>` +
    `<td>${number(ours - published)}</td><td>${number(tolerance)}</td><td>${sourceOf(site, row.source)} <span class="status">${escapeHtml(row.status)}</span>${row.note === undefined ? "" : ` <span class="note">${escapeHtml(row.note.replace(/^MISMATCH: /, ""))}</span>`}</td></tr>`
  );
};

const table = (site: SiteFacts, label: string, rows: readonly Evidence[]): string =>
  `<div class="table" tabindex="0" role="region" aria-label="${escapeHtml(label)}"><table class="evidence"><thead><tr>${HEAD.map((one) => `<th scope="col">${one}</th>`).join("")}</tr></thead><tbody>${rows.map((row) => rowHtml(site, row)).join("\n")}</tbody></table></div>`;

const count = (n: number, one: string): string => `${n} ${one}${n === 1 ? "" : "s"}`;

export const evidencePage = (site: SiteFacts, evidence: readonly Evidence[]): string => {
  const wrong = evidence.filter(({ expected, published }) => expected !== published);
  const outside = evidence.filter(({ within }) => !within);
  const kernels = [...new Set(evidence.map(({ row }) => row.kernel))].sort();
  const statuses = [...new Set(evidence.map(({ row }) => row.status))].map((status) => `${evidence.filter(({ row }) => row.status === status).length} ${status}`);
  const of = (kernel: string): Evidence[] => evidence.filter(({ row }) => row.kernel === kernel);
  const main = `<article class="index evidence"><h1>How we know</h1>
<p>${count(evidence.length, "published value")} beside what the code of this very build gives for the same inputs, all in SI units. How far each source was seen stands beside it: ${statuses.map(escapeHtml).join(", ")}. A tolerance is half a unit in the last printed figure, unless the note says why it is wider.</p>
<p>${outside.length === 0 ? "Every value lies within its tolerance." : `<strong>${count(outside.length, "value")} outside the tolerance.</strong>`}</p>
<p class="filter"><label for="kernel-filter">Show</label> <select id="kernel-filter" disabled><option value="">every kernel</option>${kernels.map((kernel) => `<option value="${kernel}">${kernel} (${of(kernel).length})</option>`).join("")}</select></p>
${outside.length === 0 ? "" : `<section data-kernel=""><h2>Outside the tolerance</h2>${table(site, "Outside the tolerance", outside)}</section>`}
<section data-kernel=""><h2 id="disagreements">Where a source is wrong</h2>${wrong.length === 0 ? "<p>No row.</p>" : `<p>Here the printed value does not follow from the printed inputs. Our value is tested against the right one.</p>${table(site, "Where a source is wrong", wrong)}`}</section>
${kernels.map((kernel) => `<section data-kernel="${kernel}"><h2 id="${kernel}"><code>${kernel}</code></h2><p><a href="reference.html#${kernel}">What it computes</a></p>${table(site, `Checks of ${kernel}`, of(kernel))}</section>`).join("\n")}
</article>`;
  return shell(site, { slug: "evidence", title: "How we know", main, scripts: ["evidence.js"], tools: "" });
};
