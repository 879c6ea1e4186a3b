/** The whole site: read, evaluate, check, render. Returns the files and everything that is wrong; writes nothing but the cache. */
import { readFileSync } from "node:fs";
import { basename, join, resolve } from "node:path";
import { evaluateWhole, type Lesson, startOf, type State } from "../shared/lesson.ts";
import { makeWrite } from "../shared/state/units.ts";
import { cachedRanges } from "./ranges.ts";
import { PARTS, type Scenario } from "../shared/scenario/scenario.ts";
import type { Provenance, View } from "../shared/view.ts";
import { type Files, lessonScript, sharedFiles } from "./bundle.ts";
import { checkLinks, checkProse, checkRanges } from "./check.ts";
import { cachedClaims, type ClaimResult, FEWEST_SAMPLES } from "./claims.ts";
import { evaluateFence, type Evaluated } from "./fence.ts";
import type { Fence } from "./markdown.ts";
import { firstState, LOCALE, thrown, write } from "./firstRender.ts";
import { HOME, WORK } from "./home.ts";
import { type Kernels, provenanceOf, readKernels } from "./kernels.ts";
import { cardName, cardPage } from "./cardPage.ts";
import { captionFile, captionsName, cueLines, cueName, cuePage } from "./cuePage.ts";
import { cachedStudy, headlinesOf } from "./headlines.ts";
import { type AtScale, BENCH, benchPage, lessonPage, optionsOf, pageData, roadView, showsRanges } from "./page.ts";
import { checkCourse, readCourse, without } from "./course.ts";
import { indexPage, misconceptionsPage } from "./coursePages.ts";
import { type LeftOut, noStart } from "./leftOut.ts";
import { evidencePage } from "./evidencePage.ts";
import { referencePage, topicsOf } from "./referencePage.ts";
import type { SiteFacts } from "./shell.ts";
import { BuildError, inOrder, type Problem } from "./problem.ts";
import { lessonFiles, lessonText, named, readLesson, readLessons, type WrittenLesson } from "./readLessons.ts";
import { readScales, type Scales } from "./scales.ts";
import { readScenario } from "./scenario.ts";
import { madeUpInputs } from "./scenarioInputs.ts";

export { HOME };
export const DEMO = "shared/scenario/demo.yaml";
const COURSE = "shared/course.yaml";

export interface SiteOptions {
  readonly home?: string;
  readonly lessons?: string;
  readonly cache?: string;
  readonly scenario?: string | undefined;
  readonly serving?: boolean;
}

/** The code of a lesson, run at the start of each of its scales. */
interface Run {
  /** What it was made from: fence and scales. */
  readonly from: string;
  readonly evaluated: Evaluated;
  readonly scales: Scales;
  readonly state: State;
  readonly provenance: Provenance;
}

/** A lesson read, run and found right, but not yet tested for its claims. */
interface Ready extends Run {
  readonly written: WrittenLesson;
}

interface Kept {
  readonly source: string;
  readonly ready: Ready | undefined;
  readonly problems: readonly Problem[];
  /** Why a presenter's scenario has no start for it: no mistake of the lesson's. */
  readonly beyond?: string;
}

interface Page {
  readonly ready: Ready;
  /** What the page depends on beside its lesson. */
  readonly around: string;
  readonly files: Files;
  readonly problems: readonly Problem[];
  /** As for a lesson: why it cannot be drawn with a presenter's scenario. */
  readonly beyond?: string;
  readonly sheet?: Sheet;
}

/** A built lesson, for what is made of it beside its pages. */
export interface Sheet {
  readonly written: WrittenLesson;
  /** Its page at the start. */
  readonly view: View;
  /** Identifies what it computes. */
  readonly code: string;
  readonly facts: SiteFacts;
}

interface Prepared {
  readonly scenario: Scenario;
  readonly warnings: readonly Problem[];
  readonly files: Files;
  readonly kernels: Kernels;
  readonly version: string;
  /** Pages that no lesson changes, once they are made. */
  pages?: Files;
}

export interface Built {
  /** Path in the site -> content. */
  readonly files: Files;
  readonly problems: readonly Problem[];
  readonly lessons: readonly string[];
  /** What is odd in the scenario, but no mistake. */
  readonly warnings: readonly Problem[];
  readonly leftOut: LeftOut;
}

/** Builds a site, and builds it again quickly: lessons whose text has not changed are kept. */
export class Site {
  readonly #home: string;
  readonly #folder: string;
  readonly #cache: string;
  readonly #serving: boolean;
  readonly #scenarioPath: string;
  readonly #invented: boolean;
  readonly #written = new Map<string, WrittenLesson>();
  readonly #kept = new Map<string, Kept>();
  /** The last good run of each lesson: a slip in the prose does not cost it. */
  readonly #runs = new Map<string, Run>();
  readonly #pages = new Map<string, Page>();
  #shared: Prepared | undefined;
  #claims: Readonly<Record<string, Readonly<Record<string, ClaimResult>>>> = {};

  constructor(options: SiteOptions = {}) {
    this.#home = options.home ?? HOME;
    this.#folder = options.lessons ?? join(this.#home, "lessons");
    this.#cache = options.cache ?? join(options.home ?? WORK, ".cache");
    this.#serving = options.serving ?? false;
    this.#scenarioPath = options.scenario ?? join(this.#home, DEMO);
    this.#invented = options.scenario === undefined || resolve(options.scenario) === resolve(this.#home, DEMO);
  }

  /** Forgets the scenario, so that the next build reads it again. */
  forget(): void {
    this.#shared = undefined;
    this.#kept.clear();
    this.#runs.clear();
    this.#pages.clear();
  }

  async #prepare(): Promise<Prepared> {
    if (this.#shared !== undefined) return this.#shared;
    const reading = readScenario(this.#scenarioPath);
    const whole = (p: Problem): Problem => ({ ...p, file: named(resolve(p.file)) });
    if ("problems" in reading) throw new BuildError(reading.problems.map(whole));
    // Only the file's own name goes into the pages: the same show gives the same bytes wherever it is kept.
    const scenario = { ...reading.scenario, file: this.#scenarioPath.split(/[\\/]/).at(-1) as string };
    const version = (JSON.parse(readFileSync(join(this.#home, "package.json"), "utf8")) as { version: string }).version;
    this.#shared = { scenario, warnings: reading.warnings.map(whole), files: await sharedFiles(this.#home, scenario), kernels: readKernels(this.#home), version };
    return this.#shared;
  }

  /** The lesson as written, parsed once for each of its texts. */
  #read(path: string): WrittenLesson {
    const before = this.#written.get(path);
    if (before !== undefined && before.source === lessonText(path)) return before;
    const written = readLesson(path);
    this.#written.set(path, written);
    return written;
  }

  async #ready(path: string): Promise<Kept> {
    const { scenario, kernels } = await this.#prepare();
    const written = this.#read(path);
    const before = this.#kept.get(path);
    if (before !== undefined && before.source === written.source && (before.ready ?? before.beyond) !== undefined) return before;
    const kept = await prepareLesson(written, written.source, { home: this.#home, cache: this.#cache, scenario, kernels, invented: this.#invented }, this.#runs.get(path));
    if (kept.ready !== undefined) this.#runs.set(path, kept.ready);
    this.#kept.set(path, kept);
    return kept;
  }

  /** Pages and scripts. With `claims`, the claims are searched too, and a counterexample is a problem. */
  async build({ claims = true }: { claims?: boolean } = {}): Promise<Built> {
    let shared: Prepared;
    try {
      shared = await this.#prepare();
    } catch (error) {
      // Without a scenario no lesson runs; what is wrong in the prose can still be said.
      if (error instanceof BuildError) return { files: {}, problems: inOrder([...error.problems, ...readLessons(this.#folder).flatMap((lesson) => lesson.problems)]), lessons: [], warnings: [], leftOut: {} };
      throw error;
    }
    const every = lessonFiles(this.#folder);
    const leftOut: Record<string, readonly string[]> = {};
    const runnable = every.filter((path) => {
      const lacking = this.#read(path).front.needs.filter((part) => PARTS.includes(part) && shared.scenario[part] === undefined);
      if (lacking.length > 0) leftOut[slugOf(path)] = lacking;
      return lacking.length === 0;
    });
    const all = await Promise.all(runnable.map((path) => this.#ready(path)));
    all.forEach(({ beyond }, i) => {
      if (beyond !== undefined) leftOut[slugOf(runnable[i] as string)] = [noStart(beyond)];
    });
    const able = all.flatMap((kept) => (kept.ready === undefined ? [] : [kept.ready]));
    return this.#assemble(shared, every, leftOut, all.flatMap((kept) => kept.problems), able.sort(byOrder), claims);
  }

  /** The site of the lessons that run; where one of them cannot be drawn with a presenter's scenario, the site without it. */
  async #assemble(shared: Prepared, every: readonly string[], leftOut: LeftOut, found: readonly Problem[], ready: readonly Ready[], claims: boolean): Promise<Built> {
    const problems = [...found];
    for (const slug of Object.keys(leftOut)) this.#pages.delete(slug);
    const paths = every.filter((path) => !Object.hasOwn(leftOut, slugOf(path)));
    for (const { written } of ready) problems.push(...checkLinks(written, every.map(slugOf), Object.keys(leftOut)));

    if (claims) {
      const searched = searchAll(ready, this.#cache);
      this.#claims = searched.results;
      problems.push(...searched.problems);
    }
    const course = readCourse(join(this.#home, COURSE));
    // What keeps a lesson from being built is said at its own place, and only there.
    const broken = paths.map(slugOf).filter((slug) => !ready.some(({ written }) => written.slug === slug));
    // The ways lead through the project's own lessons; other folders have the misconceptions only.
    const own = resolve(this.#folder) === resolve(this.#home, "lessons");
    const ways = own ? without(course, [...Object.keys(leftOut), ...broken]) : { ...course, paths: [], named: course.named.filter(({ what }) => what !== "lesson") };
    problems.push(...course.problems, ...checkCourse(ways, join(this.#home, COURSE), ready.map(({ written }) => written), shared.kernels.sources));
    const facts: SiteFacts = {
      version: shared.version,
      scenarioTitle: shared.scenario.title,
      units: shared.scenario.units,
      invented: this.#invented,
      lessons: ready.map(({ written: { slug, front, prose } }) => ({
        slug,
        title: front.title,
        question: front.question,
        minutes: front.minutes,
        mathematics: front.mathematics,
        curriculum: front.curriculum,
        misconceptions: front.misconceptions,
        bench: prose.bench !== undefined,
      })),
      sources: shared.kernels.sources,
      serving: this.#serving,
    };
    const files: Record<string, string> = {
      ...shared.files,
      ...(shared.pages ??= { "evidence.html": evidencePage(facts, shared.kernels.evidence), "reference.html": referencePage(facts, topicsOf(this.#home, shared.kernels), shared.kernels.checks) }),
      "index.html": indexPage(facts, ways),
      "misconceptions.html": misconceptionsPage(facts, ways, every.filter((path) => Object.hasOwn(leftOut, slugOf(path))).map((path) => ({ front: this.#read(path).front, lacking: leftOut[slugOf(path)] ?? [] }))),
    };
    const pages = await Promise.all(ready.map((one) => this.#page(one, facts)));
    const beyond = Object.fromEntries(pages.flatMap((page) => (page.beyond === undefined ? [] : [[page.ready.written.slug, [noStart(page.beyond)]]])));
    if (Object.keys(beyond).length > 0) return this.#assemble(shared, every, { ...leftOut, ...beyond }, found, ready.filter(({ written }) => !Object.hasOwn(beyond, written.slug)), claims);
    for (const page of pages) {
      Object.assign(files, page.files);
      problems.push(...page.problems);
    }
    return { files, problems: inOrder(problems), lessons: ready.map(({ written }) => written.slug), warnings: shared.warnings, leftOut };
  }

  /** The lessons that the last build drew. */
  sheets(): readonly Sheet[] {
    return [...this.#pages.values()].flatMap(({ sheet }) => (sheet === undefined ? [] : [sheet])).sort(byOrder);
  }

  /** The scenario of the last build. */
  get scenario(): Scenario | undefined {
    return this.#shared?.scenario;
  }

  async #page(ready: Ready, facts: SiteFacts): Promise<Page> {
    const { written, evaluated, scales, state, provenance } = ready;
    const { slug, file } = written;
    const results = this.#claims[slug] ?? {};
    const around = JSON.stringify([facts.lessons, facts.units, results]);
    const before = this.#pages.get(slug);
    if (before !== undefined && before.ready === ready && before.around === around) return before;
    const values = Object.fromEntries(Object.entries(scales.others).map(([name, scale]) => [name, scale.values]));
    let page: Page;
    try {
      // The start state is kept in metric words; a page in other units has its sentences written anew.
      const shown = facts.units === "metric" ? state : evaluateWhole(scales.road, startOf(scales.road), makeWrite(facts.units, LOCALE));
      const atScale = (lesson: Lesson, at: State, bench = false): AtScale => ({ lesson, state: at, ranges: showsRanges(written, bench) ? cachedRanges(lesson, at, write, this.#cache, `${slug}${bench ? "-bench" : ""}`, evaluated.hash) : {} });
      const outputs = headlinesOf(written, scales.road);
      const study = cachedStudy({ lesson: scales.road, inputs: shown.inputs, outputs }, this.#cache, slug, evaluated.hash);
      const road = atScale(scales.road, shown);
      const drawn = lessonPage(written, road, provenance, Object.keys(values), results, facts, study);
      const view = roadView(written, road, provenance, Object.keys(values), facts);
      const lines = cueLines(written, optionsOf);
      const madeUp = madeUpInputs(scales.road, (await this.#prepare()).scenario);
      const cards: Files = { [cardName(slug)]: cardPage(view, written.front.question, outputs, study, facts, lines.length > 0, { madeUp }), ...(lines.length > 0 && { [cueName(slug)]: cuePage(view, lines, facts, { madeUp }, study), [captionsName(slug)]: captionFile(view, lines, facts, study) }) };
      const script = await lessonScript(this.#home, file, written.prose.fence as Fence, (await this.#prepare()).scenario, pageData(written, provenance, { ...scales.roadValues, ...values }, facts.units));
      const bench = scales.others[BENCH]?.lesson;
      const sheet = written.prose.bench === undefined || bench === undefined ? undefined : benchPage(written, atScale(bench, evaluateWhole(bench, startOf(bench), benchWrite), true), provenance, results, facts);
      page = { ready, around, files: { [`${slug}.html`]: drawn.html, ...(sheet && { [`${slug}-bench.html`]: sheet.html }), ...cards, [`${slug}.js`]: script }, problems: [...drawn.problems, ...(sheet?.problems ?? [])], sheet: { written, view, code: evaluated.hash, facts } };
    } catch (error) {
      const problem = thrown(written, evaluated, "the page cannot be drawn", error);
      page = { ready, around, files: {}, ...(this.#invented ? { problems: [problem] } : { problems: [], beyond: problem.message }) };
    }
    this.#pages.set(slug, page);
    return page;
  }
}

const benchWrite = makeWrite("laboratory", LOCALE);

const slugOf = (path: string): string => basename(path, ".md");

const byOrder = (p: { readonly written: WrittenLesson }, q: { readonly written: WrittenLesson }): number => p.written.front.order - q.written.front.order || (p.written.slug < q.written.slug ? -1 : 1);

interface Surroundings {
  readonly home: string;
  readonly cache: string;
  readonly scenario: Scenario;
  readonly kernels: Kernels;
  /** The scenario is the one that the lessons are written with. */
  readonly invented: boolean;
}

const prepareLesson = async (written: WrittenLesson, source: string, { home, cache, scenario, kernels, invented }: Surroundings, before: Run | undefined): Promise<Kept> => {
  const problems: Problem[] = [...written.problems];
  const stop = (): Kept => ({ source, ready: undefined, problems });
  // Where the lesson itself reads well, what its start lacks is owed to the values of another scenario than its own.
  const startless = (outcome?: string): Kept => (invented ? stop() : { source, ready: undefined, problems: [], beyond: outcome ?? (problems[0] as Problem).message });
  const { fence } = written.prose;
  if (fence === undefined) return stop();
  // The line of the fence is part of it: messages name it.
  const from = JSON.stringify([fence, written.front.scales]);
  const same = before?.from === from ? before : undefined;
  const evaluated = same?.evaluated ?? (await evaluateFence(fence, { home, cache, file: written.file, slug: written.slug, scenario }));
  if ("problems" in evaluated) {
    problems.push(...evaluated.problems);
    return stop();
  }
  problems.push(...checkProse(written, evaluated.lesson, Object.keys(kernels.sources)));
  const scales = readScales(evaluated.lesson, written.front.scales, written.file);
  problems.push(...scales.problems);
  const readsWell = problems.length === 0;
  problems.push(...checkRanges(written, evaluated.lesson));
  if (problems.length > 0) return readsWell ? startless() : stop();
  if (same !== undefined) return { source, ready: { ...same, written }, problems };
  const first = firstState(written, evaluated, scales.road, kernels);
  problems.push(...first.problems);
  if (first.state === undefined) return startless(first.outcome);
  const states = [first.state];
  for (const [name, scale] of Object.entries(scales.others)) {
    const other = firstState(written, evaluated, scale.lesson, kernels);
    problems.push(...other.problems.map((p) => ({ ...p, message: `at ${name} scale: ${p.message}` })));
    if (other.state !== undefined) states.push(other.state);
  }
  if (problems.length > 0) return startless();
  return { source, ready: { written, from, evaluated, scales, state: first.state, provenance: provenanceOf(scales.road, states, kernels) }, problems };
};

const searchAll = (ready: readonly Ready[], cache: string): { results: Record<string, Record<string, ClaimResult>>; problems: Problem[] } => {
  const results: Record<string, Record<string, ClaimResult>> = {};
  const problems: Problem[] = [];
  for (const { written, evaluated, scales } of ready) {
    const mine: Record<string, ClaimResult> = {};
    const all: [string, Lesson][] = [["", scales.road], ...Object.entries(scales.others).map(([name, s]): [string, Lesson] => [name, s.lesson])];
    for (const [scale, lesson] of all) {
      const search = cachedClaims(lesson, write, cache, `${written.slug}${scale === "" ? "" : `-${scale}`}`, evaluated.hash);
      const where = scale === "" ? "" : ` at ${scale} scale`;
      const placeOf = (claim: string): { line: number; column: number } => {
        const part = written.prose.parts.find((p) => p.scheme === "claim" && p.name === claim);
        return part ?? { line: written.prose.fence?.line ?? 1, column: 1 };
      };
      const report = (claim: string, message: string): void => {
        const { line, column } = placeOf(claim);
        problems.push({ file: written.file, line, column, message });
      };
      for (const [claim, failure] of Object.entries(search.failures))
        report(claim, claim === "" ? `run fails${where} at ${failure.words}: ${failure.message}` : `claim ${claim} fails${where} at ${failure.words}: ${failure.message}; mend the sentence or its margin, say in when which states it is about, or narrow the from and to of the inputs`);
      for (const [claim, result] of Object.entries(search.results)) {
        if (search.failures[claim] === undefined && result.samples < FEWEST_SAMPLES) report(claim, `claim ${claim}: only ${result.samples} states${where} meet its when; ${FEWEST_SAMPLES} are needed to say anything`);
        const before = mine[claim];
        mine[claim] = before === undefined ? result : { samples: before.samples + result.samples, smallestMargin: Math.min(before.smallestMargin, result.smallestMargin) };
      }
    }
    results[written.slug] = mine;
  }
  return { results, problems };
};
