/** The HTML of a lesson: complete before any script runs. */
import type { Env, Token } from "markdown-it";
import type { UnitName } from "../lib/units.ts";
import type { Lesson, State } from "../shared/lesson.ts";
import { figureOf, outputText, renderClaim, renderControls, renderFigure, renderInput, renderName, renderOutput, renderPredict, renderScene, renderUnitSwitch } from "../shared/render.ts";
import { showSet, type ShowOptions } from "../shared/state/units.ts";
import { type Provenance, type View, writeOf } from "../shared/view.ts";
import { sameText } from "./check.ts";
import type { ClaimResult } from "./claims.ts";
import { drawFigure } from "./figures.ts";
import { escapeHtml } from "./html.ts";
import type { Source } from "./kernels.ts";
import { md, type Prediction } from "./markdown.ts";
import type { Problem } from "./problem.ts";
import type { WrittenLesson } from "./readLessons.ts";
import type { LivePart } from "./rules/live.ts";

/** `connect-src` is opened only while serving, for the reload stream. */
export const contentPolicy = (serving: boolean): string =>
  ["default-src 'none'", "script-src 'self'", "style-src 'self'", "img-src 'self' data: blob:", "worker-src blob:", ...(serving ? ["connect-src 'self'"] : []), "base-uri 'none'", "form-action 'none'"].join("; ");

const CAUTIONS = [
  "A teaching and planning aid; not for legal or insurance reconstruction, evidence or fault.",
  "Not for choosing, rating or modifying a vehicle.",
  "Not medical advice; no injury probability is computed here.",
];
const INVENTED = "Vehicles, people and site are invented; any likeness is coincidence.";

export interface SiteFacts {
  readonly version: string;
  readonly scenarioTitle: string;
  /** The scenario is the one that the project ships. */
  readonly invented: boolean;
  /** Every lesson of the site, in order. */
  readonly lessons: readonly { readonly slug: string; readonly title: string; readonly question: string; readonly minutes: number }[];
  readonly sources: Readonly<Record<string, Source>>;
  readonly serving: boolean;
}

const shell = (facts: SiteFacts, page: { slug: string; title: string; main: string; scripts: readonly string[]; tools: string }): string => `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${contentPolicy(facts.serving)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta name="referrer" content="no-referrer">
<title>${escapeHtml(page.title)}</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="page.css">
<script src="gate.js"></script>
${[...page.scripts, ...(facts.serving ? ["reload.js"] : [])].map((s) => `<script src="${s}" defer></script>`).join("\n")}
</head>
<body data-page="${page.slug}">
<a class="skip" href="#main">Skip to the lesson</a>
<header class="site">
<nav aria-label="Lessons"><a class="home" href="index.html"${page.slug === "index" ? ' aria-current="page"' : ""}>All lessons</a><ol>${facts.lessons
  .map((l) => `<li><a href="${l.slug}.html"${l.slug === page.slug ? ' aria-current="page"' : ""}>${escapeHtml(l.title)}</a></li>`)
  .join("")}</ol></nav>
${page.tools}</header>
<main id="main">
${page.main}
</main>
<footer class="site">
<ul class="cautions">${[...CAUTIONS, facts.invented ? INVENTED : `Vehicles, people and values are as the author of “${escapeHtml(facts.scenarioTitle)}” gave them.`].map((c) => `<li>${c}</li>`).join("")}</ul>
<p class="version">ridedown ${escapeHtml(facts.version)} · ${escapeHtml(facts.scenarioTitle)}</p>
</footer>
</body>
</html>
`;

const TITLES: Readonly<Record<string, string>> = { caution: "Caution", try: "Try", words: "In words", limits: "What this leaves out" };

interface Drawn {
  readonly written: WrittenLesson;
  readonly view: View;
  readonly claims: Readonly<Record<string, ClaimResult>>;
  readonly facts: SiteFacts;
  readonly problems: Problem[];
  controls: boolean;
}

const optionsOf = (part: LivePart): ShowOptions => ({ ...(part.options["unit"] !== undefined && { unit: part.options["unit"] as UnitName }), ...(part.options["digits"] !== undefined && { digits: Number(part.options["digits"]) }) });

/** What the page shows in place of the link text, where that is a computed text. */
const computedText = (part: LivePart, view: View): string | undefined => {
  if (part.scheme === "name") return view.lesson.names[part.name];
  if (part.scheme === "output") {
    // A whole table cannot stand in a link text: that is its caption for other viewers.
    const type = view.lesson.outputs[part.name]?.type;
    return type === "table" || type === "trace" ? undefined : outputText(view, part.name, optionsOf(part));
  }
  if (part.scheme !== "input") return undefined;
  const input = view.lesson.inputs[part.name];
  const value = view.state.inputs[part.name];
  if (input?.type === "quantity") return showSet(input.kind, value as number, input.step, view.units, view.locale, optionsOf(part)).text;
  return input?.type === "choice" ? input.words[value as string] : undefined;
};

const liveHtml = (drawn: Drawn, part: LivePart): string => {
  const { view, written } = drawn;
  const computed = computedText(part, view);
  // The prose is written for the shipped scenario; another one has other numbers.
  if (drawn.facts.invented && computed !== undefined && !sameText(part.text, computed))
    drawn.problems.push({ file: written.file, line: part.line, column: part.column, message: `the text of ${part.scheme}:${part.name} is "${part.text}", but the lesson computes "${computed.replace(/[\u00a0\u202f]/g, " ")}"` });
  switch (part.scheme) {
    case "input":
      return renderInput(view, part.name, optionsOf(part), part.id);
    case "output":
      return renderOutput(view, part.name, optionsOf(part), part.id);
    case "name":
      return renderName(view, part.name);
    case "claim":
      return renderClaim(view, part.name, md.renderer.renderInline([...part.inner], md.options, {}), drawn.claims[part.name], part.id);
    case "figure": {
      const figure = figureOf(view, part.name);
      return renderFigure(view, part.name, escapeHtml(part.text), part.id, figure === undefined ? "" : drawFigure(figure, writeOf(view)));
    }
    case "scene": {
      const first = !drawn.controls;
      drawn.controls = true;
      return renderScene(view, part.name, part.text, part.id) + (first ? renderControls(view) : "");
    }
  }
};

const predictHtml = (drawn: Drawn, prediction: Prediction, env: Env): string =>
  renderPredict(
    drawn.view,
    prediction.verdict,
    md.renderer.render(prediction.question, md.options, env),
    prediction.choices.map((c) => ({
      word: c.word,
      textHtml: md.renderer.render(c.text, md.options, env),
      ...(c.reply.length > 0 && { replyHtml: md.renderer.render(c.reply, md.options, env) }),
    })),
    "predict",
  );

md.renderer.rules["live"] = (tokens, i, _options, env) => liveHtml((env as unknown as { drawn: Drawn }).drawn, (tokens[i] as Token).meta?.["part"] as LivePart);
md.renderer.rules["prediction"] = (_tokens, _i, _options, env) => {
  const { drawn } = env as unknown as { drawn: Drawn };
  return drawn.written.prose.prediction === undefined ? "" : predictHtml(drawn, drawn.written.prose.prediction, env as Env);
};
md.renderer.rules["source_list"] = (tokens, i, _options, env) => {
  const { facts } = (env as unknown as { drawn: Drawn }).drawn;
  const ids = (tokens[i] as Token).meta?.["ids"] as readonly string[];
  const item = (id: string): string => `<li id="source-${id}">${escapeHtml(facts.sources[id]?.title ?? id)} <span class="status">${escapeHtml(facts.sources[id]?.status ?? "")}</span></li>`;
  return `<section class="sources"><h2>Sources</h2><ul>${ids.map(item).join("")}</ul></section>\n`;
};
md.renderer.rules["container_open"] = (tokens, i) => {
  const name = (tokens[i] as Token).info;
  if (name === "reveal") return `<section class="reveal" data-reveal><h2 id="answer">Answer</h2>\n`;
  return `<section class="${name}"${name === "caution" ? ' role="note"' : ""} aria-label="${TITLES[name] ?? name}"><p class="kicker">${TITLES[name] ?? name}</p>\n`;
};
md.renderer.rules["container_close"] = () => "</section>\n";

export interface DrawnPage {
  readonly html: string;
  readonly problems: readonly Problem[];
}

export const lessonPage = (written: WrittenLesson, lesson: Lesson, state: State, provenance: Provenance, scales: readonly string[], claims: Readonly<Record<string, ClaimResult>>, facts: SiteFacts): DrawnPage => {
  const { front, prose, slug } = written;
  const view: View = { slug, title: front.title, lesson, state, units: "metric", locale: "en", provenance, ...(scales.length > 0 && { scales }) };
  const drawn: Drawn = { written, view, claims, facts, problems: [], controls: !prose.parts.some((p) => p.scheme === "scene") };
  const withoutScene = drawn.controls;
  const body = md.renderer.render(prose.tokens, md.options, { drawn } as never);
  const at = facts.lessons.findIndex((l) => l.slug === slug);
  const neighbour = (offset: number, rel: string, words: string): string => {
    const other = facts.lessons[at + offset];
    return other === undefined || at < 0 ? "" : `<a rel="${rel}" href="${other.slug}.html">${words}: ${escapeHtml(other.title)}</a>`;
  };
  const main = `<article class="lesson">
<h1>${escapeHtml(front.title)}</h1>
<p class="question">${escapeHtml(front.question)}</p>
<p class="facts">${front.minutes} minutes${front.curriculum.length > 0 ? ` · ${front.curriculum.map(escapeHtml).join(", ")}` : ""}</p>
${withoutScene ? renderControls(view) : ""}
${body}
<details class="code"><summary>The code of this lesson</summary>
<pre tabindex="0"><code>${escapeHtml(prose.fence?.code ?? "")}</code></pre>
</details>
</article>
<nav class="course" aria-label="Next and previous lesson">${neighbour(-1, "prev", "Before this")}${neighbour(1, "next", "Next")}</nav>`;
  return { html: shell(facts, { slug, title: front.title, main, scripts: ["page.js", `${slug}.js`], tools: `${renderUnitSwitch()}\n` }), problems: drawn.problems };
};

export const indexPage = (facts: SiteFacts): string => {
  const items = facts.lessons.map((l) => `<li><a href="${l.slug}.html"><span class="question">${escapeHtml(l.question)}</span> <span class="title">${escapeHtml(l.title)}</span></a> <span class="facts">${l.minutes} minutes</span></li>`);
  const main = `<article class="index"><h1>${escapeHtml(facts.scenarioTitle)}</h1>
<p>Lessons on the physics of a staged collision between two vehicles. Each asks a question; drag, step or type any number in it and see what follows.</p>
<ol class="lessons">${items.join("\n")}</ol>
<p class="scenario">The values are those of the scenario “${escapeHtml(facts.scenarioTitle)}”. Everything runs in the page: no network is used and nothing is sent.</p></article>`;
  return shell(facts, { slug: "index", title: `${facts.scenarioTitle}: lessons`, main, scripts: [], tools: "" });
};

/** What a lesson's script hands to the page beside the lesson itself. */
export const pageData = (written: WrittenLesson, provenance: Provenance, scales: Readonly<Record<string, unknown>>): object => ({
  slug: written.slug,
  title: written.front.title,
  provenance,
  ...(Object.keys(scales).length > 0 && { scales }),
});
