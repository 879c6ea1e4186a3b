/** The cue card of a lesson: its lines to say, their numbers, and the captions. */
import type { Token } from "markdown-it";
import { captionsOf, SPEAKING_PACE, writeVtt } from "../shared/card/captions.ts";
import { type CueLine, type CuePart, lineText, spokenVerdicts } from "../shared/card/cue.ts";
import { findHeld, type Held } from "../shared/card/held.ts";
import { renderCue } from "../shared/render/cue.ts";
import { renderUnitSwitch } from "../shared/render.ts";
import type { ShowOptions } from "../shared/state/units.ts";
import { PAGE_RUNS } from "../shared/study.ts";
import type { View } from "../shared/view.ts";
import { escapeHtml } from "./html.ts";
import type { WrittenLesson } from "./readLessons.ts";
import type { LivePart } from "./rules/live.ts";
import { shell, type SiteFacts } from "./shell.ts";

export const cueName = (slug: string): string => `${slug}-cue.html`;
export const captionsName = (slug: string): string => `${slug}.vtt`;

type OptionsOf = (part: LivePart) => ShowOptions;

const lineOf = (inline: Token, optionsOf: OptionsOf): CueLine => {
  const line: (string | CuePart)[] = [];
  const say = (text: string): void => {
    if (text === "") return;
    const last = line.at(-1);
    if (typeof last === "string") line[line.length - 1] = last + text;
    else line.push(text);
  };
  const read = (tokens: readonly Token[]): void => {
    for (const token of tokens) {
      const part = token.type === "live" ? (token.meta?.["part"] as LivePart) : undefined;
      if (part === undefined) say(token.type === "softbreak" || token.type === "hardbreak" ? " " : token.content);
      else if (part.scheme === "claim") read(part.inner);
      else if (part.scheme === "output" || part.scheme === "input" || part.scheme === "name") line.push({ scheme: part.scheme, name: part.name, options: optionsOf(part), anchor: part.id });
    }
  };
  read(inline.children ?? []);
  return line;
};

/** The lines of `::: say`, in order: each of its paragraphs and list items is one. */
export const cueLines = ({ prose }: WrittenLesson, optionsOf: OptionsOf): CueLine[] => {
  const lines: CueLine[] = [];
  let depth = 0;
  for (const token of prose.tokens) {
    if (token.type === "container_open" && (token.info === "say" || depth > 0)) depth++;
    else if (token.type === "container_close" && depth > 0) depth--;
    else if (depth > 0 && token.type === "inline") lines.push(lineOf(token, optionsOf));
  }
  return lines;
};

/** What a cue card and its captions carry beside their lines. */
export interface CueFacts {
  /** The state of a cue card that is not of the start, as a share link. */
  readonly at?: string;
  /** Day on which the pack was made, 2031-05-17; a site has none. */
  readonly date?: string;
  /** Inputs that start at what the lesson made up, not at what the show's file gives. */
  readonly madeUp?: readonly string[];
}

/** Which show, code and day the captions come from. */
export const captionNote = (view: View, facts: SiteFacts, date = ""): string => [view.title, facts.scenarioTitle, `ridedown ${facts.version}`, date].filter((part) => part !== "").join(". ") + ".";

/** How often what is said holds: of as many runs, and so the same, as the study of the lesson's page. */
export const heldOn = (view: View, lines: readonly CueLine[]): Held => {
  const outputs = spokenVerdicts(view, lines);
  return outputs.length === 0 ? { runs: 0, counts: {} } : findHeld({ lesson: view.lesson, inputs: view.state.inputs, outputs }, PAGE_RUNS);
};

export const captionFile = (view: View, lines: readonly CueLine[], facts: SiteFacts, held: Held = heldOn(view, lines), date = ""): string => writeVtt(captionsOf(lines.map((line) => lineText(view, line, held))), captionNote(view, facts, date));

/** Labels of the inputs that a lesson made up and that stand at their start. */
export const stillMadeUp = ({ lesson, state }: View, madeUp: readonly string[]): string[] =>
  madeUp.flatMap((name) => {
    const input = lesson.inputs[name];
    return input?.type === "quantity" && state.inputs[name] === input.start ? [input.label] : [];
  });

export const cuePage = (view: View, lines: readonly CueLine[], facts: SiteFacts, { at = "", date = "", madeUp = [] }: CueFacts = {}, whole: Held = heldOn(view, lines)): string => {
  const there = escapeHtml(at);
  const held: Held = { runs: whole.runs, counts: Object.fromEntries(spokenVerdicts(view, lines).flatMap((name) => (Object.hasOwn(whole.counts, name) ? [[name, whole.counts[name] ?? {}]] : []))) };
  const captions = captionsOf(lines.map((line) => lineText(view, line, held)));
  const supposed = stillMadeUp(view, madeUp);
  const main = `<article class="lesson for-show">
<h1>Cue card: ${escapeHtml(view.title)}</h1>
<p class="question">What to say</p>
<p class="facts">For the presenter: this page holds the answers. <a class="with-state" href="${view.slug}.html${there}">The lesson</a> asks first. <a class="with-state" href="${view.slug}-card.html${there}">Prediction card</a><br>${escapeHtml([facts.scenarioTitle, `ridedown ${facts.version}`, date].filter((part) => part !== "").join(" \u00b7 "))}</p>${supposed.length === 0 ? "" : `\n<p class="made-up">Not from the show's file, but made up by the lesson: ${escapeHtml(supposed.join("; "))}. Measure yours, or say "suppose".</p>`}
<cue-card${at === "" ? "" : ` data-state="${there}"`} data-lines="${escapeHtml(JSON.stringify(lines))}" data-held="${escapeHtml(JSON.stringify(held))}" data-note="${escapeHtml(captionNote(view, facts, date))}">
<div class="cue-place">${renderCue(view, lines, captions, held, at)}</div>
<section class="scripted-only" aria-labelledby="caption-file"><h2 id="caption-file">Caption file</h2><div class="fields"><label>Words a minute, spoken <input id="cue-pace" type="text" inputmode="decimal" value="${SPEAKING_PACE}" autocomplete="off"></label><label>First words after, in seconds <input id="cue-start" type="text" inputmode="decimal" value="0" autocomplete="off"></label></div><p class="card-bar"><button type="button" data-do="captions" disabled>Keep the captions (WebVTT)</button></p></section>
</cue-card>
</article>`;
  return shell(facts, { slug: `${view.slug}-cue`, title: `Cue card: ${view.title}`, main, scripts: ["page.js", `${view.slug}.js`, "card.js"], tools: `${renderUnitSwitch(facts.units)}\n`, styles: ["card.css"] });
};
