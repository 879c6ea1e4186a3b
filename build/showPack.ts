/**
 * A show, from its scenario file alone, as one folder: frozen prediction cards, cue cards, captions, stills, the plans of its staging
 * with their cautions, what is handed over to licensed people, and an index with version and date.
 */
import { mkdirSync } from "node:fs";
import type { Token } from "markdown-it";
import { type Card, type CardInput, cardFile, codeOf, freeze, type KeptCard, PUBLISH_FIRST } from "../shared/card/card.ts";
import { spokenVerdicts } from "../shared/card/cue.ts";
import { findHeld } from "../shared/card/held.ts";
import { makeCard } from "../shared/card/makeCard.ts";
import { sha256 } from "../shared/card/sha256.ts";
import { STUDY_RUNS } from "../shared/card/wholeStudy.ts";
import { firstOf, partCard } from "../shared/render/card.ts";
import { PARTS, type Scenario } from "../shared/scenario/scenario.ts";
import type { Files } from "./bundle.ts";
import { cameraPlan } from "./cameraPlan.ts";
import { cardName, cardPage } from "./cardPage.ts";
import { OPEN_QUESTIONS, STAGING_CAUTIONS } from "./cautions.ts";
import { captionFile, captionsName, cueLines, cueName, cuePage, stillMadeUp } from "./cuePage.ts";
import { cachedStudy, headlinesOf } from "./headlines.ts";
import { escapeHtml } from "./html.ts";
import { closing } from "./markdown.ts";
import { optionsOf, renderProse } from "./page.ts";
import type { Problem } from "./problem.ts";
import { crashMasses, madeUpInputs, type ScenarioGroup, scenarioInputs } from "./scenarioInputs.ts";
import { shell, type SiteFacts } from "./shell.ts";
import { type ShownSheet, sheetsAt } from "./showStates.ts";
import { type Built, Site } from "./site.ts";

export interface ShowOptions {
  readonly scenario?: string | undefined;
  readonly lessons?: string;
  readonly home?: string;
  readonly cache: string;
  /** Day of the freeze, 2031-05-17. */
  readonly date: string;
  readonly by: string;
  readonly claims: boolean;
  /** Lessons that are not at their start: slug -> hash of a share link. */
  readonly states?: Readonly<Record<string, string>>;
  /** Runs behind each card. */
  readonly runs?: number;
  readonly onStep?: (words: string) => void;
}

export interface Show {
  readonly files: Files;
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
  readonly lessons: readonly string[];
  /** What is not in the pack, and why. */
  readonly leftOut: readonly string[];
  /** One code for all cards of the show. */
  readonly code: string;
}

interface Frozen {
  readonly sheet: ShownSheet;
  readonly kept: KeptCard;
  /** Inputs that start at what the lesson made up. */
  readonly madeUp: readonly string[];
  readonly stills: readonly string[];
}

/** A pack's own pages, by the name of their file. */
const INDEX = "index.html";
const HAND_OVER = "hand-over.html";
const CAMERAS = "camera-plan.html";
const SHEET = "sheet-of-the-day.html";
const CODES = "codes.txt";
const handedName = (slug: string): string => `${slug}-hand-over.html`;
const planName = (slug: string): string => `${slug}-plan.html`;

/** What is for learners, not for a plan. */
const LEARNING = ["try", "words", "say", "algebra", "explain", "transfer"];

/** A lesson's prose without what is for learners: numbers, tables and drawings with the cautions that stand beside them. */
const planTokens = (tokens: readonly Token[]): Token[] => {
  const kept: Token[] = [];
  for (let i = 0; i < tokens.length; i++) {
    const token = tokens[i] as Token;
    if (token.type === "prediction" || token.type === "question") continue;
    if (token.type === "container_open" && LEARNING.includes(token.info)) i = closing(tokens, i);
    else if (!(token.type.startsWith("container_") && token.info === "reveal")) kept.push(token);
  }
  return kept;
};

/** What stands in a lesson's container of that name; nothing where it has none. */
const partIn = (tokens: readonly Token[], name: string): readonly Token[] => {
  const at = tokens.findIndex(({ type, info }) => type === "container_open" && info === name);
  return at < 0 ? [] : tokens.slice(at + 1, closing(tokens, at));
};

/** The part of a lesson under a heading that begins so, up to the next heading or question. */
const partUnder = (tokens: readonly Token[], heading: RegExp): Token[] => {
  const at = tokens.findIndex((token, i) => token.type === "heading_open" && heading.test(tokens[i + 1]?.content ?? ""));
  if (at < 0) return [];
  const from = closing(tokens, at) + 1;
  const length = tokens.slice(from).findIndex(({ type }) => type === "heading_open" || type === "question" || type === "prediction" || type === "container_open" || type === "source_list");
  return tokens.slice(from, length < 0 ? undefined : from + length);
};

const cautionsHtml = (ids: readonly string[] = Object.keys(STAGING_CAUTIONS)): string =>
  `<section class="caution" role="note" aria-label="Caution"><p class="kicker">Caution</p><ul>${ids.map((id) => `<li id="${id}">${id}. ${escapeHtml(STAGING_CAUTIONS[id] ?? "")}</li>`).join("")}</ul></section>`;

const inputsTable = (inputs: readonly CardInput[], label: string): string =>
  `<div class="table" tabindex="0" role="region" aria-label="${escapeHtml(label)}"><table class="given"><caption>${escapeHtml(label)}</caption><thead><tr><th scope="col">input</th><th scope="col">value</th><th scope="col">give or take</th><th scope="col">reason</th></tr></thead><tbody>${inputs
    .map(({ label: name, value, give, reason }) => `<tr><th scope="row">${escapeHtml(name)}</th><td>${escapeHtml(value)}</td><td>${give === "" ? "taken as exact" : escapeHtml(give)}</td><td>${escapeHtml(reason)}</td></tr>`)
    .join("")}</tbody></table></div>`;

const stamp = (facts: SiteFacts, date: string): string => `<p class="facts">${escapeHtml(facts.scenarioTitle)} \u00b7 ridedown ${escapeHtml(facts.version)} \u00b7 ${escapeHtml(date)}</p>`;

const sheetPage = (facts: SiteFacts, date: string, slug: string, title: string, question: string, body: string): string =>
  shell(facts, { slug, title: `${title}: ${facts.scenarioTitle}`, main: `<article class="lesson for-show plan">\n<h1>${escapeHtml(title)}</h1>\n<p class="question">${escapeHtml(question)}</p>\n${stamp(facts, date)}\n${body}\n</article>`, scripts: [], tools: "", styles: ["card.css"] });

const planPage = ({ sheet, kept }: Frozen, date: string): string => {
  const { written, view, facts } = sheet;
  const title = `Plan: ${written.front.title}`;
  // The lesson's own cautions stand beside its numbers; above them, those that it leaves to others.
  const own = Object.keys(STAGING_CAUTIONS).filter((id) => new RegExp(`^- ${id}\\. `, "m").test(written.source));
  const others = Object.keys(STAGING_CAUTIONS).filter((id) => !own.includes(id));
  const body = `${others.length === 0 ? "" : cautionsHtml(others)}
<p>For a talk with the people who plan, check and supervise such work. The numbers are of these inputs; their ranges stand on the <a href="${cardName(written.slug)}">prediction card</a>.</p>
${inputsTable(kept.card.inputs, "What it starts from")}
${renderProse(written, view, facts, planTokens(written.prose.tokens))}`;
  return sheetPage(facts, date, `${written.slug}-plan`, title, written.front.question, body);
};

const cameraPage = (facts: SiteFacts, date: string, plan: string): string => sheetPage(facts, date, "camera-plan", "Plan: cameras", "What will each camera see?", `${cautionsHtml(["C1", "C3", "C7", "C8", "C11", "C13"])}\n${plan}`);

/** Places to write in, each with what belongs there. */
const blanks = (...labels: readonly string[]): string => `<span class="blanks">${labels.map((label) => `<span class="to-fill">${escapeHtml(label)}: <span class="blank"></span></span>`).join(" ")}</span>`;

/** The lesson whose sheet of the day stands on a page of its own, to be printed, filled in and signed. */
const dayOf = (frozen: readonly Frozen[]): { readonly one: Frozen; readonly part: readonly Token[] } | undefined => {
  for (const one of frozen) {
    const part = partUnder(one.sheet.written.prose.tokens, /^The sheet of the day/i);
    if (part.length > 0) return { one, part };
  }
  return undefined;
};

const dayPage = ({ one: { sheet }, part }: { readonly one: Frozen; readonly part: readonly Token[] }, date: string): string => {
  const { written, view, facts } = sheet;
  return sheetPage(facts, date, "sheet-of-the-day", "Go or no-go", "Is any row open?", `${cautionsHtml(["C1", "C11"])}\n<section class="one-sheet day">${renderProse(written, view, facts, part)}</section>\n<p>Made with the pack: on paper a row goes stale all the same. A limit taken from another test is no limit for yours.</p>\n<p>${blanks("In charge", "Date", "Hour")}</p>`);
};

const SIGNED = blanks("Checked by", "Date");

/** What one lesson of staging hands over, on a page of its own; nothing where it hands nothing over. */
const handedPage = ({ sheet: { written, view, facts } }: Frozen, date: string): string | undefined => {
  const part = partIn(written.prose.tokens, "handover");
  if (part.length === 0) return undefined;
  const heading = part.findIndex(({ type }) => type === "heading_close");
  const handed = renderProse(written, view, facts, part.slice(heading + 1));
  return sheetPage(facts, date, `${written.slug}-hand-over`, `To hand over: ${written.front.title}`, "What do the people who decide need to know?", `${/\bC1: /.test(handed) ? "" : cautionsHtml(["C1"])}\n<section class="one-sheet handed">${handed}</section>\n<p>${SIGNED}</p>`);
};

/** The lists under a lesson's limits as ordered ones, which number on from `before`; and how many entries they have. */
const numberedLimits = (tokens: readonly Token[], before: number): { readonly list: readonly Token[]; readonly count: number } => {
  const inside = partIn(tokens, "limits");
  let count = 0;
  const list = inside.map((token) => {
    if (token.type === "list_item_open" && token.level === (inside[0]?.level ?? 0) + 1) count++;
    if (token.type !== "bullet_list_open" && token.type !== "bullet_list_close") return token;
    const open = token.type === "bullet_list_open";
    return Object.assign(Object.create(Object.getPrototypeOf(token) as object), token, { type: open ? "ordered_list_open" : "ordered_list_close", tag: "ol", attrs: open ? [["start", String(before + count + 1)]] : null }) as Token;
  });
  return { list, count };
};

const scenarioTable = ({ label, rows }: ScenarioGroup): string => inputsTable(rows.map((row, i) => ({ name: String(i), ...row })), label);

/** One row for each vehicle: what it brings into the crash. */
const massTable = (scenario: Scenario): string =>
  `<section class="handover masses"><h2>Mass in the crash</h2><div class="table" tabindex="0" role="region" aria-label="Mass in the crash"><table class="given"><thead><tr>${["vehicle", "as weighed", "dummies counted apart", "total in the crash", "give or take"].map((head) => `<th scope="col">${head}</th>`).join("")}</tr></thead><tbody>${crashMasses(scenario)
    .map(({ name, weighed, apart, total, give }) => `<tr><th scope="row">${escapeHtml(name)}</th>${[weighed, apart, total, give].map((text) => `<td>${escapeHtml(text)}</td>`).join("")}</tr>`)
    .join("")}</tbody></table></div><p>A dummy counted apart is the torso and the head that the file gives; what else there is of it has to be in the mass as weighed. Only the page on the better seat adds it to what crashes; tow, arrival and the other lessons take the mass as weighed. Where each centre of mass lies, this pack does not know: it is among the questions.</p></section>`;

/** Every sheet of the pack that people outside it decide by: what was put in, what is assumed, what is asked. */
const handOverPage = (facts: SiteFacts, date: string, scenario: Scenario | undefined, frozen: readonly Frozen[], staged: readonly Frozen[], cameras: string | undefined): string => {
  const own = staged.flatMap(({ sheet: { written, view }, kept }) => {
    const handed = partIn(written.prose.tokens, "handover");
    return [`<section><h3>${escapeHtml(written.front.title)}</h3>\n${inputsTable(kept.card.inputs, `Inputs of \u201c${written.front.title}\u201d`)}\n${renderProse(written, view, facts, handed)}</section>`];
  });
  let assumed = 0;
  const assumptions = frozen.flatMap(({ sheet: { written, view } }) => {
    const { list, count } = numberedLimits(written.prose.tokens, assumed);
    assumed += count;
    return count === 0 ? [] : [`<h3>${escapeHtml(written.front.title)}</h3>${renderProse(written, view, facts, list)}`];
  });
  let asked = 0;
  const questions = Object.entries(OPEN_QUESTIONS).map(([who, list]) => {
    const from = asked + 1;
    asked += list.length;
    return `<h3>${escapeHtml(who)}</h3><ol start="${from}">${list.map((question) => `<li>${escapeHtml(question)} ${blanks("Answer", "By", "Date")}</li>`).join("")}</ol>`;
  });
  const body = `${cautionsHtml()}
<p>Cautions keep their numbers from page to page; C12 is for the bench alone, and stands with the lessons.</p>
<p>This is the hand-over sheet: where the page ends and licensed work begins. It lists what was put in, what is assumed, and what is asked. It decides nothing: as long as any line is open the answer is no, and when none is open the named people decide.</p>
<section class="handover questions"><h2>Questions for the people who decide</h2>${questions.join("")}</section>
${scenario === undefined ? "" : `${massTable(scenario)}\n<section class="handover inputs"><h2>Inputs</h2><p>All that the scenario file puts in. A give or take is what its author would bet on nineteen times in twenty.</p>${scenarioInputs(scenario).map(scenarioTable).join("\n")}<p>${SIGNED}</p></section>`}
${own.length === 0 ? "" : `<section class="handover"><h2>Of the staging</h2>${own.join("\n")}</section>`}
<section class="handover assumptions"><h2>Assumptions</h2><p>What the lessons of this pack leave out, numbered through.</p>${assumptions.join("\n")}<p>${SIGNED}</p></section>
${cameras === undefined ? "" : `<section><h2>Cameras</h2>${cameras}</section>`}`;
  return sheetPage(facts, date, "hand-over", "To hand over", "What do the people who decide need to know?", body);
};

const link = (name: string, words: string): string => `<a href="${escapeHtml(name)}">${escapeHtml(words)}</a>`;

/** What a still shows, by the name of its file. */
const stillWords = (slug: string, name: string): string => name.replace(`${slug}-`, "").replace(/-(?:hd|uhd)-.*$/, "").replace(/(\d+)ms\b/, (_, ms: string) => `${Number(ms)}\u00a0ms`).replace(/part(\d)/, "part\u00a0$1").replace(/-(?!\d)/g, " ");

/** What of a lesson is not at its start. */
const setOtherwise = ({ sheet: { view }, kept }: Frozen): string => {
  const set = kept.card.inputs.filter(({ name }) => view.state.inputs[name] !== view.lesson.inputs[name]?.start);
  return set.length === 0 ? "" : `<br><span class="set">${escapeHtml(set.map(({ label, value }) => `${label} ${value}`).join("; "))}</span>`;
};

/** What the show's file does not give, lesson by lesson. */
const supposedHtml = (frozen: readonly Frozen[]): string => {
  const items = frozen.flatMap(({ sheet: { view }, madeUp }) => {
    const labels = stillMadeUp(view, madeUp);
    return labels.length === 0 ? [] : [`<li>${escapeHtml(view.title)}: ${escapeHtml(labels.join("; "))}</li>`];
  });
  return items.length === 0 ? "" : `<section class="made-up"><h2>Not from the show's file</h2><p>Values that a lesson made up. Each card marks them. Measure yours and set them, or say "suppose".</p><ul>${items.join("")}</ul></section>\n`;
};

const indexPage = (facts: SiteFacts, { date, by }: Pick<ShowOptions, "date" | "by">, frozen: readonly Frozen[], plans: readonly (readonly [string, string])[], files: Files, leftOut: readonly string[], code: string): string => {
  const rows = frozen.map((one) => {
    const { sheet, kept, stills } = one;
    const { slug, front } = sheet.written;
    const cue = Object.hasOwn(files, cueName(slug)) ? `${link(cueName(slug), "cue card")}, ${link(captionsName(slug), "captions")}` : "nothing to say";
    return `<tr><th scope="row">${link(`${slug}.html${sheet.link}`, front.title)}${setOtherwise(one)}</th><td>${link(cardName(slug), "card")}, ${link(`${slug}-card.json`, "file")}</td><td class="code">${codeOf(kept.hash)}</td><td>${cue}</td><td>${stills.length === 0 ? "\u2014" : stills.map((name) => link(`stills/${name}`, stillWords(slug, name))).join(", ")}</td></tr>`;
  });
  const main = `<article class="index for-show"><h1>${escapeHtml(facts.scenarioTitle)}: show pack</h1>
${stamp(facts, date)}${by === "" ? "" : `<p>Frozen by ${escapeHtml(by)}.</p>`}
${cautionsHtml(["C1", "C8", "C11", "C13"])}
<div class="seal"><p><span class="label">One code for all the cards</span> <span class="code">${code}</span></p><p class="publish">${PUBLISH_FIRST}</p></div>
<h2>Lesson by lesson</h2>
<div class="table" tabindex="0" role="region" aria-label="Lesson by lesson"><table class="pack"><thead><tr><th scope="col">lesson</th><th scope="col">prediction</th><th scope="col">code to publish</th><th scope="col">to say</th><th scope="col">stills</th></tr></thead><tbody>${rows.join("\n")}</tbody></table></div>
${supposedHtml(frozen)}<h2>Plans and what is handed over</h2>
<ul>${[...plans, [HAND_OVER, "To hand over: every input, assumption and question, for licensed people"] as const].map(([name, words]) => `<li>${link(name, words)}</li>`).join("")}</ul>
${leftOut.length === 0 ? "" : `<h2>Left out, or warned of</h2><ul>${leftOut.map((words) => `<li>${escapeHtml(words)}</li>`).join("")}</ul>`}
<p>${link("evidence.html", "How we know")}: every published value beside ours. ${link("reference.html", "Kernels")}: what computes the numbers.</p>
</article>`;
  return shell(facts, { slug: "index", title: `${facts.scenarioTitle}: show pack`, main, scripts: [], tools: "", styles: ["card.css"] });
};

/** What a missing part of the scenario takes out of the pack. */
const lacking = (scenario: Scenario | undefined, leftOut: Readonly<Record<string, readonly string[]>>): string[] => [
  ...Object.entries(leftOut).map(([slug, parts]) => `${slug}, its card, its cue card and its plan: the scenario has no ${parts.join(" and no ")}.`),
  ...(scenario !== undefined && scenario.cameras === undefined ? ["the camera plan: the scenario has no cameras."] : []),
];

/** Names of a lesson's stills, with the ranges of the rows that its card holds up, and what was not drawn or is odd about them. */
type StillsOf = (sheet: ShownSheet, held: Card) => Promise<{ readonly names: readonly string[]; readonly warnings: readonly string[] }>;

export const makeShow = async (options: ShowOptions, stillsOf?: StillsOf): Promise<Show> => {
  const { scenario, lessons, home, cache, claims, onStep } = options;
  const site = new Site({ scenario, cache, ...(lessons !== undefined && { lessons }), ...(home !== undefined && { home }) });
  onStep?.("building the pages");
  return packOf(site, await site.build({ claims }), options, stillsOf);
};

/** The pack of a built site as files; stills, which are no text, are made by `stillsOf` and named here. */
export const packOf = async (site: Site, built: Built, options: Omit<ShowOptions, "claims">, stillsOf: StillsOf = () => Promise.resolve({ names: [], warnings: [] })): Promise<Show> => {
  const { cache, date, by, states = {}, runs = STUDY_RUNS, onStep = () => undefined } = options;
  const leftOut = lacking(site.scenario, built.leftOut);
  if (built.problems.length > 0) return { files: {}, problems: built.problems, warnings: built.warnings, lessons: [], leftOut, code: "" };
  const files: Record<string, string> = { ...built.files };
  const frozen: Frozen[] = [];
  for (const sheet of sheetsAt(site.sheets(), states, cache)) {
    const { written, view, code, facts, link: at } = sheet;
    const { slug, front } = written;
    onStep(`freezing ${slug}`);
    const outputs = headlinesOf(written, view.lesson);
    const study = cachedStudy({ lesson: view.lesson, inputs: view.state.inputs, outputs }, cache, slug, code, runs);
    const madeUp = madeUpInputs(view.lesson, site.scenario);
    const kept = freeze(makeCard(view, study, { question: front.question, scenario: facts.scenarioTitle, version: facts.version, frozen: date, by, outputs, madeUp }));
    files[cardName(slug)] = cardPage(view, front.question, outputs, study, facts, Object.hasOwn(files, cueName(slug)), { kept, at, madeUp });
    files[`${slug}-card.json`] = cardFile(kept);
    if (Object.hasOwn(files, cueName(slug))) {
      // What is said is as sure as the card that is frozen says, by the same runs; a verdict that the card leaves out is counted apart.
      const lines = cueLines(written, optionsOf);
      const held = spokenVerdicts(view, lines).every((name) => Object.hasOwn(study.counts, name)) ? study : findHeld({ lesson: view.lesson, inputs: view.state.inputs, outputs: spokenVerdicts(view, lines) }, runs);
      files[cueName(slug)] = cuePage(view, lines, facts, { at, date, madeUp }, held);
      files[captionsName(slug)] = captionFile(view, lines, facts, held, date);
    }
    const { names: stills, warnings } = await stillsOf(sheet, { ...kept.card, ...partCard(kept.card, firstOf(view, outputs)).first });
    leftOut.push(...warnings.map((words) => `${slug}, a picture: ${words}`));
    frozen.push({ sheet, kept, madeUp, stills });
  }
  const facts = frozen[0]?.sheet.facts;
  if (facts === undefined) return { files: {}, problems: [], warnings: built.warnings, lessons: [], leftOut, code: "" };
  const staged = frozen.filter(({ sheet }) => sheet.written.front.needs.some((part) => (PARTS as readonly string[]).includes(part)));
  const plans: [string, string][] = [];
  for (const one of staged) {
    const { slug, front } = one.sheet.written;
    files[planName(slug)] = planPage(one, date);
    plans.push([planName(slug), `Plan: ${front.title} (${front.needs.join(", ")})`]);
    const handed = handedPage(one, date);
    if (handed === undefined) continue;
    files[handedName(slug)] = handed;
    plans.push([handedName(slug), `To hand over: ${front.title}, on one page`]);
  }
  const cameras = site.scenario === undefined ? undefined : cameraPlan(site.scenario);
  if (cameras !== undefined) {
    files[CAMERAS] = cameraPage(facts, date, cameras);
    plans.push([CAMERAS, "Plan: cameras"]);
  }
  const day = dayOf(staged);
  if (day !== undefined) {
    files[SHEET] = dayPage(day, date);
    plans.push([SHEET, "Sheet of the day: go or no-go, on one page"]);
  }
  files[HAND_OVER] = handOverPage(facts, date, site.scenario, frozen, staged, cameras);
  const list = frozen.map(({ sheet, kept }) => `${sheet.written.slug} ${kept.hash}\n`).join("");
  const code = codeOf(sha256(list));
  files[CODES] = `Prediction cards of \u201c${facts.scenarioTitle}\u201d, ridedown ${facts.version}, frozen on ${date}\n\n${PUBLISH_FIRST}\n\nOne code for all: ${code}\n(the first 80 bits of the SHA-256 of the lines below, in base 32, each line ended by one line feed)\n\n${list}`;
  files[INDEX] = indexPage(facts, options, frozen, plans, files, leftOut, code);
  return { files, problems: [], warnings: built.warnings, lessons: frozen.map(({ sheet }) => sheet.written.slug), leftOut, code };
};

/** Stills of a lesson's ranges, scenes and figures at the state it is shown at, in `folder`; their names, and what is odd about them. */
export const writeStills = async ({ written: { slug }, link }: ShownSheet, card: Card, folder: string, { scenario, lessons, home, cache }: Pick<ShowOptions, "scenario" | "lessons" | "home" | "cache">): Promise<{ readonly names: readonly string[]; readonly warnings: readonly string[] }> => {
  const { lessonAt } = await import("./oneLesson.ts");
  const { makeStills } = await import("./stills.ts");
  mkdirSync(folder, { recursive: true });
  const at = await lessonAt({ slug, cache, link, ...(scenario !== undefined && { scenario }), ...(lessons !== undefined && { lessons }), ...(home !== undefined && { home }) });
  const { stills, warnings } = await makeStills({ at, size: "hd", ground: "light", out: folder, leaveOut: true, card });
  return { names: stills.map(({ files }) => files.png.name), warnings };
};
