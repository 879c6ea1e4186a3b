/** Every kernel from its doc comment, grouped as the contents page of the library groups them. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { DocComment, DocValue } from "./docComments.ts";
import { escapeHtml } from "./html.ts";
import type { Kernels } from "./kernels.ts";
import { shell, type SiteFacts } from "./shell.ts";

interface Topic {
  readonly title: string;
  readonly kernels: readonly DocComment[];
}

/** Headings of lib/index.ts, each with the documented functions that it exports. */
export const topicsOf = (home: string, { docs }: Kernels): Topic[] => {
  const topics: { title: string; kernels: DocComment[] }[] = [];
  for (const line of readFileSync(join(home, "lib/index.ts"), "utf8").split("\n").slice(1)) {
    const title = /^\/\/ (.+)$/.exec(line)?.[1];
    if (title !== undefined) topics.push({ title, kernels: [] });
    const names = /^export \{(.+)\} from/.exec(line)?.[1] ?? "";
    for (const name of names.split(",").map((one) => one.trim())) if (Object.hasOwn(docs, name)) topics.at(-1)?.kernels.push(docs[name] as DocComment);
  }
  return topics.filter(({ kernels }) => kernels.length > 0);
};

const values = (title: string, list: readonly DocValue[]): string =>
  list.length === 0 ? "" : `<h4>${title}</h4><dl class="values">${list.map(({ name, text, unit }) => `<dt><code>${escapeHtml(name)}</code>${unit === "" || unit === "1" ? "" : ` [${escapeHtml(unit)}]`}</dt><dd>${escapeHtml(text)}</dd>`).join("")}</dl>`;

const kernelHtml = (site: SiteFacts, doc: DocComment, checks: number): string =>
  `<section class="kernel"><h3 id="${doc.name}"><code>${doc.name}</code></h3><p>${escapeHtml(doc.summary)}</p>${doc.model === "" ? "" : `<p class="model">${escapeHtml(doc.model)}</p>`}` +
  values("Takes", doc.params) +
  values("Gives", doc.returns) +
  (doc.throws.length === 0 ? "" : `<h4>Refuses</h4><ul>${doc.throws.map((one) => `<li>${escapeHtml(one)}</li>`).join("")}</ul>`) +
  (doc.equations.length === 0 ? "" : `<h4>Equations</h4><ul>${doc.equations.map(({ name, expression }) => `<li><code>${escapeHtml(name)} = ${escapeHtml(expression)}</code></li>`).join("")}</ul>`) +
  (doc.examples.length === 0 ? "" : `<h4>Example</h4>${doc.examples.map(({ code, value }) => `<pre tabindex="0"><code>${escapeHtml(code)} // ${escapeHtml(value)}</code></pre>`).join("")}`) +
  `<p class="kernel-facts">${doc.sources.map(({ id, where }) => `${escapeHtml(site.sources[id]?.title ?? id)}${where === "" ? "" : `, ${escapeHtml(where)}`} <span class="status">${escapeHtml(site.sources[id]?.status ?? "")}</span>`).join("; ")}${doc.sources.length > 0 ? " \u00b7 " : ""}<code>lib/${escapeHtml(doc.file)}:${doc.line}</code>${checks === 0 ? "" : ` \u00b7 <a href="evidence.html#${doc.name}">${checks} published ${checks === 1 ? "value" : "values"}</a>`}</p></section>`;

export const referencePage = (site: SiteFacts, topics: readonly Topic[], checks: Readonly<Record<string, number>>): string => {
  const main = `<article class="index reference"><h1>Kernels</h1>
<p>Pure functions, one readonly object in and one out, SI units throughout; made from the comments beside the code, whose examples and equations the tests run.</p>
<nav aria-label="Topics"><ul>${topics.map(({ title, kernels }) => `<li>${escapeHtml(title)}: ${kernels.map(({ name }) => `<a href="#${name}"><code>${name}</code></a>`).join(", ")}</li>`).join("")}</ul></nav>
${topics.map(({ title, kernels }) => `<h2>${escapeHtml(title)}</h2>${kernels.map((doc) => kernelHtml(site, doc, checks[doc.name] ?? 0)).join("\n")}`).join("\n")}
</article>`;
  return shell(site, { slug: "reference", title: "Kernels", main, scripts: [], tools: "" });
};
