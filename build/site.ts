/** The whole site: read, evaluate, check, render. Returns the files and everything that is wrong; writes nothing but the cache. */
import { readFileSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import type { Lesson, State } from "../shared/lesson.ts";
import type { Scenario } from "../shared/scenario/scenario.ts";
import type { Provenance } from "../shared/view.ts";
import { type Files, lessonScript, sharedFiles } from "./bundle.ts";
import { checkLinks, checkProse } from "./check.ts";
import { cachedClaims, type ClaimResult, FEWEST_SAMPLES } from "./claims.ts";
import { evaluateFence, type Evaluated } from "./fence.ts";
import type { Fence } from "./markdown.ts";
import { firstState, thrown, write } from "./firstRender.ts";
import { type Kernels, provenanceOf, readKernels } from "./kernels.ts";
import { indexPage, lessonPage, pageData, type SiteFacts } from "./page.ts";
import { BuildError, inOrder, type Problem } from "./problem.ts";
import { lessonFiles, named, readLesson, readLessons, type WrittenLesson } from "./readLessons.ts";
import { readScales, type Scales } from "./scales.ts";
import { readScenario } from "./scenario.ts";

/** Folder of the project. */
export const HOME = resolve(dirname(fileURLToPath(import.meta.url)), "..");
export const DEMO = "shared/scenario/demo.yaml";

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
}

interface Page {
  readonly ready: Ready;
  /** What the page depends on beside its lesson. */
  readonly around: string;
  readonly files: Files;
  readonly problems: readonly Problem[];
}

interface Prepared {
  readonly scenario: Scenario;
  readonly files: Files;
  readonly kernels: Kernels;
  readonly version: string;
}

export interface Built {
  /** Path in the site -> content. */
  readonly files: Files;
  readonly problems: readonly Problem[];
  readonly lessons: readonly string[];
}

/** Builds a site, and builds it again quickly: lessons whose text has not changed are kept. */
export class Site {
  readonly #home: string;
  readonly #folder: string;
  readonly #cache: string;
  readonly #serving: boolean;
  readonly #scenarioPath: string;
  readonly #invented: boolean;
  readonly #kept = new Map<string, Kept>();
  /** The last good run of each lesson: a slip in the prose does not cost it. */
  readonly #runs = new Map<string, Run>();
  readonly #pages = new Map<string, Page>();
  #shared: Prepared | undefined;
  #claims: Readonly<Record<string, Readonly<Record<string, ClaimResult>>>> = {};

  constructor(options: SiteOptions = {}) {
    this.#home = options.home ?? HOME;
    this.#folder = options.lessons ?? join(this.#home, "lessons");
    this.#cache = options.cache ?? join(this.#home, ".cache");
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
    if ("problems" in reading) throw new BuildError(reading.problems.map((p) => ({ ...p, file: named(resolve(p.file)) })));
    // Only the file's own name goes into the pages: the same show gives the same bytes wherever it is kept.
    const scenario = { ...reading.scenario, file: this.#scenarioPath.split(/[\\/]/).at(-1) as string };
    const version = (JSON.parse(readFileSync(join(this.#home, "package.json"), "utf8")) as { version: string }).version;
    this.#shared = { scenario, files: await sharedFiles(this.#home, scenario), kernels: readKernels(this.#home), version };
    return this.#shared;
  }

  async #ready(path: string): Promise<Kept> {
    const { scenario, kernels } = await this.#prepare();
    const source = readFileSync(path, "utf8");
    const before = this.#kept.get(path);
    if (before !== undefined && before.source === source && before.ready !== undefined) return before;
    const kept = await prepareLesson(readLesson(path), source, { home: this.#home, cache: this.#cache, scenario, kernels }, this.#runs.get(path));
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
      if (error instanceof BuildError) return { files: {}, problems: inOrder([...error.problems, ...readLessons(this.#folder).flatMap((lesson) => lesson.problems)]), lessons: [] };
      throw error;
    }
    const paths = lessonFiles(this.#folder);
    const all = await Promise.all(paths.map((path) => this.#ready(path)));
    const problems = all.flatMap((kept) => kept.problems);
    const ready = all.flatMap((kept) => (kept.ready === undefined ? [] : [kept.ready])).sort((p, q) => p.written.front.order - q.written.front.order || (p.written.slug < q.written.slug ? -1 : 1));
    for (const { written } of ready) problems.push(...checkLinks(written, paths.map((path) => basename(path, ".md"))));

    if (claims) {
      const found = searchAll(ready, this.#cache);
      this.#claims = found.results;
      problems.push(...found.problems);
    }
    const facts: SiteFacts = {
      version: shared.version,
      scenarioTitle: shared.scenario.title,
      invented: this.#invented,
      lessons: ready.map(({ written: { slug, front } }) => ({ slug, title: front.title, question: front.question, minutes: front.minutes })),
      sources: shared.kernels.sources,
      serving: this.#serving,
    };
    const files: Record<string, string> = { ...shared.files, "index.html": indexPage(facts) };
    for (const page of await Promise.all(ready.map((one) => this.#page(one, facts)))) {
      Object.assign(files, page.files);
      problems.push(...page.problems);
    }
    return { files, problems: inOrder(problems), lessons: ready.map(({ written }) => written.slug) };
  }

  async #page(ready: Ready, facts: SiteFacts): Promise<Page> {
    const { written, evaluated, scales, state, provenance } = ready;
    const { slug, file } = written;
    const results = this.#claims[slug] ?? {};
    const around = JSON.stringify([facts.lessons, results]);
    const before = this.#pages.get(slug);
    if (before !== undefined && before.ready === ready && before.around === around) return before;
    const values = Object.fromEntries(Object.entries(scales.others).map(([name, scale]) => [name, scale.values]));
    let page: Page;
    try {
      const drawn = lessonPage(written, scales.road, state, provenance, Object.keys(values), results, facts);
      const script = await lessonScript(file, written.prose.fence as Fence, pageData(written, provenance, { ...scales.roadValues, ...values }));
      page = { ready, around, files: { [`${slug}.html`]: drawn.html, [`${slug}.js`]: script }, problems: drawn.problems };
    } catch (error) {
      page = { ready, around, files: {}, problems: [thrown(written, evaluated, "the page cannot be drawn", error)] };
    }
    this.#pages.set(slug, page);
    return page;
  }
}

interface Surroundings {
  readonly home: string;
  readonly cache: string;
  readonly scenario: Scenario;
  readonly kernels: Kernels;
}

const prepareLesson = async (written: WrittenLesson, source: string, { home, cache, scenario, kernels }: Surroundings, before: Run | undefined): Promise<Kept> => {
  const problems: Problem[] = [...written.problems];
  const stop = (): Kept => ({ source, ready: undefined, problems });
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
  if (problems.length > 0) return stop();
  if (same !== undefined) return { source, ready: { ...same, written }, problems };
  const first = firstState(written, evaluated, scales.road, kernels);
  problems.push(...first.problems);
  if (first.state === undefined) return stop();
  const states = [first.state];
  for (const [name, scale] of Object.entries(scales.others)) {
    const other = firstState(written, evaluated, scale.lesson, kernels);
    problems.push(...other.problems.map((p) => ({ ...p, message: `at ${name} scale: ${p.message}` })));
    if (other.state !== undefined) states.push(other.state);
  }
  if (problems.length > 0) return stop();
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
        report(claim, claim === "" ? `run fails${where} at ${failure.words}: ${failure.message}` : `claim ${claim} fails${where} at ${failure.words}: ${failure.message}`);
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
