/** The pages around the lessons: the index, and the table of misconceptions for teachers. */
import { type Course, curriculumCodes } from "./course.ts";
import type { FrontMatter } from "./frontMatter.ts";
import { escapeHtml } from "./html.ts";
import { whyLeftOut } from "./leftOut.ts";
import { type ListedLesson, shell, type SiteFacts } from "./shell.ts";

const LEVELS = { none: "no mathematics", ratios: "ratios", algebra: "algebra" } as const;

const linkTo = (lesson: ListedLesson): string => `<a href="${lesson.slug}.html">${escapeHtml(lesson.title)}</a>`;

const minutes = ({ minutes: n }: ListedLesson): string => `${n}\u00a0${n === 1 ? "minute" : "minutes"}`;

const benchLink = (lesson: ListedLesson): string => `<a href="${lesson.slug}-bench.html">bench\u00a0version</a>`;

/** On a narrow screen the bench version keeps the company of what stands before it. */
const facts = (lesson: ListedLesson): string => {
  const level = [...(lesson.mathematics === undefined ? [] : [LEVELS[lesson.mathematics].replaceAll(" ", "\u00a0")]), ...(lesson.bench ? [benchLink(lesson)] : [])];
  return [minutes(lesson), ...(level.length === 0 ? [] : [level.join("\u00a0\u00b7\u00a0")])].join(" \u00b7 ");
};

/** Lessons under a heading each, for those headings that have any. */
const grouped = (title: string, groups: readonly (readonly [string, readonly ListedLesson[]])[], item: (lesson: ListedLesson) => string = linkTo): string => {
  const filled = groups.filter(([, lessons]) => lessons.length > 0);
  return filled.length === 0 ? "" : `<section class="by"><h2>${escapeHtml(title)}</h2><dl>${filled.map(([words, lessons]) => `<dt>${words}</dt><dd>${lessons.map((lesson) => item(lesson)).join("; ")}</dd>`).join("")}</dl></section>`;
};

export const indexPage = (site: SiteFacts, course: Course): string => {
  const { lessons } = site;
  const items = lessons.map((l) => `<li><a href="${l.slug}.html"><span class="question">${escapeHtml(l.question)}</span> <span class="title">${escapeHtml(l.title)}</span></a> <span class="facts">${facts(l)}</span></li>`);
  const paths = course.paths.map(({ title, lessons: slugs }) => [escapeHtml(title), slugs.flatMap((slug) => lessons.find((l) => l.slug === slug) ?? [])] as const);
  const codes = Object.entries(curriculumCodes(site.sources)).map(([code, { source, about }]) => [`${escapeHtml(code)}: ${escapeHtml(about)} <span class="status">${escapeHtml(site.sources[source]?.status ?? "")}</span>`, lessons.filter((l) => l.curriculum.includes(code))] as const);
  const times = [...new Set(lessons.map((l) => l.minutes))].sort((p, q) => p - q).map((n) => [`${n}\u00a0minutes`, lessons.filter((l) => l.minutes === n)] as const);
  const levels = Object.entries(LEVELS).map(([level, words]) => [words, lessons.filter((l) => l.mathematics === level)] as const);
  const main = `<article class="index"><h1>${escapeHtml(site.scenarioTitle)}</h1>
<p>Lessons on the physics of a staged collision between two vehicles. Each asks a question; drag, step or type any number in it and see what follows.</p>
${grouped("Ways through", paths)}
<h2>By question</h2>
<ol class="lessons">${items.join("\n")}</ol>
${grouped("By minutes", times)}
${grouped("By mathematics asked for", levels)}
${grouped("By curriculum code", codes, (lesson) => `${linkTo(lesson)} (${minutes(lesson)})`)}
<p class="scenario">The values are those of the scenario \u201c${escapeHtml(site.scenarioTitle)}\u201d. Everything runs in the page: no network is used and nothing is sent.</p></article>`;
  return shell(site, { slug: "index", title: `${site.scenarioTitle}: lessons`, main, scripts: [], tools: "" });
};

/** A lesson that the scenario cannot show. */
interface Absent {
  readonly front: FrontMatter;
  readonly lacking: readonly string[];
}

/** What a teacher may meet, which lesson deals with it, and who found it. */
export const misconceptionsPage = (site: SiteFacts, course: Course, absent: readonly Absent[] = []): string => {
  const rows = Object.entries(course.misconceptions).map(([id, { says, study }]) => {
    const dealing = [
      ...site.lessons.filter((l) => l.misconceptions.includes(id)).map((l) => `${linkTo(l)}${l.bench ? ` (${benchLink(l)})` : ""}`),
      ...absent.filter(({ front }) => front.misconceptions.includes(id)).map(({ front, lacking }) => `${escapeHtml(front.title)}: left out of this show, since ${escapeHtml(whyLeftOut(lacking))}`),
    ];
    const source = study === undefined ? undefined : site.sources[study];
    const found = source === undefined ? "teaching experience; no study read" : `${escapeHtml(source.title)} <span class="status">${escapeHtml(source.status)}</span>`;
    return `<tr id="${id}"><th scope="row">${escapeHtml(says)}</th><td>${dealing.length === 0 ? "no lesson yet" : dealing.join("; ")}</td><td>${found}</td></tr>`;
  });
  const main = `<article class="index"><h1>What learners bring along</h1>
<p>Ideas that make sense from experience and are not so. A lesson asks for a prediction first: in one study those who predicted before a demonstration understood it better than those who only watched, who did no better than those who had not seen it (Crouch and others, 2004).</p>
<div class="table" tabindex="0" role="region" aria-label="Misconceptions"><table><thead><tr><th scope="col">The idea</th><th scope="col">The lesson</th><th scope="col">The study behind it</th></tr></thead><tbody>${rows.join("\n")}</tbody></table></div></article>`;
  return shell(site, { slug: "misconceptions", title: "What learners bring along", main, scripts: [], tools: "" });
};
