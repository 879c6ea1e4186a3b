/** The HTML of a lesson: complete before any script runs. */
import type { Env, Token } from "markdown-it";
import type { UnitName } from "../lib/units.ts";
import type { ReaderUnits } from "../shared/kinds.ts";
import type { Lesson, State } from "../shared/lesson.ts";
import { STUDY_RUNS, type WholeStudy } from "../shared/card/wholeStudy.ts";
import { renderStudyPanel } from "../shared/render/study.ts";
import type { Ranges } from "../shared/study.ts";
import { figureOf, outputText, renderClaim, renderControls, renderFigure, renderInput, renderName, renderOutput, type PredictOption, renderPredict, renderQuestion, renderReplies, renderScene, renderUnitSwitch, statusLine } from "../shared/render.ts";
import { showInput, type ShowOptions } from "../shared/state/units.ts";
import { type Provenance, type View, writeOf } from "../shared/view.ts";
import { sameText } from "./check.ts";
import type { ClaimResult } from "./claims.ts";
import { drawFigure } from "./figures.ts";
import { headlinesOf } from "./headlines.ts";
import { escapeHtml } from "./html.ts";
import { md, type Prediction, type Question } from "./markdown.ts";
import type { Problem } from "./problem.ts";
import type { WrittenLesson } from "./readLessons.ts";
import type { LivePart } from "./rules/live.ts";
import { shell, type SiteFacts } from "./shell.ts";

/** The scale of the bench page. */
export const BENCH = "bench";

const TITLES: Readonly<Record<string, string>> = {
  caution: "Caution",
  try: "Try",
  words: "In words",
  say: "To say on screen",
  limits: "What this leaves out",
  apparatus: "Apparatus",
  steps: "Steps",
  hazards: "Hazards",
  worksheet: "Worksheet",
  key: "Answer key",
};
const ASKED: Readonly<Record<string, string>> = { explain: "Explain it", transfer: "The same elsewhere" };

interface Drawn {
  readonly written: WrittenLesson;
  readonly view: View;
  readonly claims: Readonly<Record<string, ClaimResult>>;
  readonly facts: SiteFacts;
  readonly problems: Problem[];
  controls: boolean;
  /** How sure: stands at the end of the answer. */
  readonly panel?: string;
}

export const optionsOf = (part: LivePart): ShowOptions => ({ ...(part.spoken && { spoken: true }), ...(part.options["show"] === "range" && { range: true }), ...(part.options["unit"] !== undefined && { unit: part.options["unit"] as UnitName }), ...(part.options["digits"] !== undefined && { digits: Number(part.options["digits"]) }) });

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
  if (input?.type === "quantity") return showInput(input, value as number, view.units, view.locale, optionsOf(part)).text;
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
      const drawing = (size: "wide" | "narrow"): string => (figure === undefined ? "" : drawFigure(figure, writeOf(view), size, view.units));
      return renderFigure(view, part.name, escapeHtml(part.text), part.id, drawing("wide"), drawing("narrow"));
    }
    case "scene": {
      // Nothing moves before the prediction, so the panel stands after it.
      const here = !drawn.controls && (part.bench || written.prose.prediction === undefined);
      if (here) drawn.controls = true;
      return renderScene(view, part.name, part.text, part.id) + (here ? renderControls(view) : "");
    }
  }
};

const optionsOfPrediction = (prediction: Prediction, env: Env): PredictOption[] =>
  prediction.choices.map((c) => ({
    word: c.word,
    textHtml: md.renderer.render(c.text, md.options, env),
    ...(c.reply.length > 0 && { replyHtml: md.renderer.render(c.reply, md.options, env) }),
  }));

const panelOnce = (drawn: Drawn): string => {
  if (drawn.controls) return "";
  drawn.controls = true;
  return renderControls(drawn.view);
};

const predictHtml = (prediction: Prediction, env: Env): string =>
  renderPredict(prediction.verdict, md.renderer.render(prediction.question, md.options, env), optionsOfPrediction(prediction, env), "predict");

/** Punctuation right behind a part that stands in the line. */
const closing = (tokens: readonly Token[], i: number): string => {
  const [part, after] = [tokens[i], tokens[i + 1]];
  const scheme = part?.type === "live" ? (part.meta?.["part"] as LivePart).scheme : undefined;
  return after?.type === "text" && (scheme === "input" || scheme === "output" || scheme === "claim") ? (/^[,.;:!?)\u201d\u2019]+/.exec(after.content)?.[0] ?? "") : "";
};
md.renderer.rules["live"] = (tokens, i, _options, env) => {
  const html = liveHtml((env as unknown as { drawn: Drawn }).drawn, (tokens[i] as Token).meta?.["part"] as LivePart);
  const kept = closing(tokens, i);
  // A line may break behind a box even before a comma.
  return kept === "" ? html : `<span class="kept">${html}${escapeHtml(kept)}</span>`;
};
md.renderer.rules["text"] = (tokens, i) => escapeHtml((tokens[i] as Token).content.slice(closing(tokens, i - 1).length));
md.renderer.rules["prediction"] = (_tokens, _i, _options, env) => {
  const { drawn } = env as unknown as { drawn: Drawn };
  return drawn.written.prose.prediction === undefined ? "" : predictHtml(drawn.written.prose.prediction, env as Env) + panelOnce(drawn);
};
md.renderer.rules["question"] = (tokens, i, _options, env) => {
  const { question, number } = (tokens[i] as Token).meta as { question: Question; number: number };
  return (
    renderQuestion(
      {
        kind: question.kind,
        kicker: ASKED[question.kind] ?? question.kind,
        questionHtml: md.renderer.render(question.question, md.options, env as Env),
        answers: question.choices.map(({ holds, text, reply }) => ({ holds, textHtml: md.renderer.render(text, md.options, env as Env), replyHtml: md.renderer.render(reply, md.options, env as Env) })),
      },
      `${question.kind}-${number}`,
    ) + "\n"
  );
};
md.renderer.rules["source_list"] = (tokens, i, _options, env) => {
  const { facts } = (env as unknown as { drawn: Drawn }).drawn;
  const ids = (tokens[i] as Token).meta?.["ids"] as readonly string[];
  const item = (id: string): string => `<li id="source-${id}">${escapeHtml(facts.sources[id]?.title ?? id)} <span class="status">${escapeHtml(facts.sources[id]?.status ?? "")}</span></li>`;
  const words = statusLine(ids.flatMap((id) => facts.sources[id]?.status ?? []));
  return `<section class="sources"><h2>Sources</h2><ul>${ids.map(item).join("")}</ul>${words === "" ? "" : `<p class="status-words">${escapeHtml(words)}</p>`}</section>\n`;
};
md.renderer.rules["container_open"] = (tokens, i, _options, env) => {
  const name = (tokens[i] as Token).info;
  const prediction = name === "reveal" ? (env as unknown as { drawn?: Drawn }).drawn?.written.prose.prediction : undefined;
  if (name === "reveal") return `<section class="reveal" data-reveal><h2 id="answer">Answer</h2>\n${prediction === undefined ? "" : renderReplies(optionsOfPrediction(prediction, env as Env))}\n`;
  if (name === "handover") return `<section class="hand-over" aria-label="To hand over">\n`;
  if (name === "algebra") return `<details class="algebra"><summary>With algebra</summary>\n`;
  return `<section class="${name}"${name === "caution" ? ' role="note"' : ""} aria-label="${TITLES[name] ?? name}"><p class="kicker">${TITLES[name] ?? name}</p>\n`;
};
md.renderer.rules["container_close"] = (tokens, i, _options, env) => {
  const name = (tokens[i] as Token).info;
  return name === "algebra" ? "</details>\n" : `${name === "reveal" ? ((env as unknown as { drawn?: Drawn }).drawn?.panel ?? "") : ""}</section>\n`;
};

/** Some of a lesson's prose, for a sheet made of it: no panel of inputs, and what the page itself is checked for is not checked again. */
export const renderProse = (written: WrittenLesson, view: View, facts: SiteFacts, tokens: readonly Token[]): string =>
  md.renderer.render([...tokens], md.options, { drawn: { written, view, claims: {}, facts: { ...facts, invented: false }, problems: [], controls: true } satisfies Drawn } as never);

export interface DrawnPage {
  readonly html: string;
  readonly problems: readonly Problem[];
}

/** A lesson at one of its scales, as its page needs it. */
export interface AtScale {
  readonly lesson: Lesson;
  readonly state: State;
  readonly ranges: Ranges;
}

/** Outputs said aloud on the lesson's page, and whether a page shows ranges. */
const spokenBy = ({ prose }: WrittenLesson): string[] => [...new Set(prose.parts.filter((p) => p.spoken).map((p) => p.name))];
/** Inputs of the lesson's page: all but those that only the bench page speaks of. */
const roadControls = ({ prose }: WrittenLesson, lesson: Lesson): string[] => {
  const named = (bench: boolean): string[] => prose.parts.filter((p) => p.scheme === "input" && p.bench === bench).map((p) => p.name);
  return Object.keys(lesson.inputs).filter((name) => named(false).includes(name) || !named(true).includes(name));
};
/** Inputs of the bench page: those that the apparatus has numbers for, and those that the page speaks of. */
const benchControls = ({ prose, front }: WrittenLesson, lesson: Lesson): string[] =>
  Object.keys(lesson.inputs).filter((name) => Object.hasOwn(front.scales[BENCH] ?? {}, name) || prose.parts.some((p) => p.scheme === "input" && p.bench && p.name === name));

/** Whether the lesson's page, or its bench page, shows what the give or take leaves. */
export const showsRanges = ({ prose }: WrittenLesson, bench: boolean): boolean => prose.parts.some((p) => p.options["show"] === "range" && p.bench === bench);

/** A lesson's own page as it is at first. */
export const roadView = (written: WrittenLesson, { lesson, state, ranges }: AtScale, provenance: Provenance, scales: readonly string[], facts: SiteFacts): View => {
  // A scale that has a page of its own is not switched to here.
  const switched = scales.filter((scale) => scale !== BENCH || written.prose.bench === undefined);
  return { slug: written.slug, title: written.front.title, lesson, state, ranges, units: facts.units, locale: "en", provenance, spoken: spokenBy(written), controls: roadControls(written, lesson), ...(switched.length > 0 && { scales: switched }) };
};

export const lessonPage = (written: WrittenLesson, { lesson, state, ranges }: AtScale, provenance: Provenance, scales: readonly string[], claims: Readonly<Record<string, ClaimResult>>, facts: SiteFacts, study?: WholeStudy): DrawnPage => {
  const { front, prose, slug } = written;
  const view = roadView(written, { lesson, state, ranges }, provenance, scales, facts);
  const panel = study === undefined ? "" : renderStudyPanel(view, study, headlinesOf(written, lesson), STUDY_RUNS, prose.containers.some(({ name }) => name === "say"));
  const drawn: Drawn = { written, view, claims, facts, problems: [], controls: !prose.parts.some((p) => p.scheme === "scene" && !p.bench), panel };
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
<p class="facts">${front.minutes} ${front.minutes === 1 ? "minute" : "minutes"}${front.curriculum.length > 0 ? ` · ${front.curriculum.map(escapeHtml).join(", ")}` : ""}</p>
<link-notice role="status"></link-notice>
${withoutScene ? renderControls(view) : ""}
${body}
${prose.prediction === undefined ? panel : ""}
${prose.bench === undefined ? "" : `<p class="to-bench"><a href="${slug}-bench.html">Bench version: apparatus, steps, hazards, worksheet and answer key</a></p>`}
<details class="code"><summary>The code of this lesson</summary>
<pre tabindex="0"><code>${escapeHtml(prose.fence?.code ?? "")}</code></pre>
</details>
</article>
<nav class="course" aria-label="Next and previous lesson">${neighbour(-1, "prev", "Before this")}${neighbour(1, "next", "Next")}</nav>`;
  return { html: shell(facts, { slug, title: front.title, main, scripts: ["page.js", `${slug}.js`], tools: `${renderUnitSwitch(facts.units)}\n` }), problems: drawn.problems };
};

/** The bench version: the teacher's sheet, at bench scale from the start, with worksheet and key on sheets of their own. */
export const benchPage = (written: WrittenLesson, { lesson, state, ranges }: AtScale, provenance: Provenance, claims: Readonly<Record<string, ClaimResult>>, facts: SiteFacts): DrawnPage => {
  const { front, prose, slug } = written;
  const view: View = { slug, title: front.title, lesson, state, ranges, units: "laboratory", locale: "en", provenance, controls: benchControls(written, lesson), scale: BENCH };
  const bench = prose.bench ?? [];
  const drawn: Drawn = { written, view, claims, facts, problems: [], controls: !prose.parts.some((p) => p.scheme === "scene" && p.bench) };
  const withoutScene = drawn.controls;
  const body = md.renderer.render(bench, md.options, { drawn } as never);
  const main = `<article class="lesson bench">
<h1>Bench version: ${escapeHtml(front.title)}</h1>
<p class="question">${escapeHtml(front.question)}</p>
<p class="facts">For the teacher: this page holds the answers. <a href="${slug}.html">The lesson</a> asks first.</p>
<link-notice role="status"></link-notice>
${withoutScene ? renderControls(view) : ""}
${body}
</article>`;
  return { html: shell(facts, { slug: `${slug}-bench`, title: `Bench version: ${front.title}`, main, scripts: ["page.js", `${slug}.js`], tools: "", scale: BENCH }), problems: drawn.problems };
};

/** What a lesson's script hands to the page beside the lesson itself. */
export const pageData = (written: WrittenLesson, provenance: Provenance, scales: Readonly<Record<string, unknown>>, units: ReaderUnits): object => ({
  slug: written.slug,
  title: written.front.title,
  provenance,
  spoken: spokenBy(written),
  ...(written.front.needs.length > 0 && { needs: written.front.needs }),
  ranged: { road: showsRanges(written, false), bench: showsRanges(written, true) },
  ...(units !== "metric" && { units }),
  ...(Object.keys(scales).length > 0 && { scales }),
});
