/** One lesson of a show at one state: what a picture of it is made from. */
import { readFileSync, statSync } from "node:fs";
import { join, resolve } from "node:path";
import { namesOf } from "../shared/export/names.ts";
import { evaluateWhole, type Lesson, OWN_SCALE, type State, type Write } from "../shared/lesson.ts";
import type { UnitSystem } from "../shared/kinds.ts";
import { PARTS, type Scenario } from "../shared/scenario/scenario.ts";
import { readLink, scaleOfLink, writeLink } from "../shared/state/link.ts";
import { makeWrite } from "../shared/state/units.ts";
import { evaluateFence } from "./fence.ts";
import { LOCALE } from "./firstRender.ts";
import { HOME, WORK } from "./home.ts";
import { wayOut } from "./nearest.ts";
import { BuildError } from "./problem.ts";
import { lessonFiles, named, readLesson, type WrittenLesson } from "./readLessons.ts";
import { Refusal } from "./refusal.ts";
import { readScales } from "./scales.ts";
import { readScenario } from "./scenario.ts";

const DEMO = "shared/scenario/demo.yaml";

export interface LessonAt {
  readonly slug: string;
  readonly written: WrittenLesson;
  readonly scenario: Scenario;
  /** The lesson at the scale of the state. */
  readonly lesson: Lesson;
  readonly state: State;
  readonly units: UnitSystem;
  readonly locale: string;
  readonly write: Write;
  /** The two bodies, where the lesson names them. */
  readonly names: Readonly<Partial<Record<"a" | "b", string>>>;
  /** The state as a share link; empty at the start. */
  readonly link: string;
  readonly version: string;
  /** Identifies the lesson's code, the kernels it uses and the scenario. */
  readonly hash: string;
}

export interface LessonWanted {
  readonly slug: string;
  /** As in a share link. */
  readonly link?: string;
  readonly lessons?: string;
  readonly scenario?: string | undefined;
  readonly home?: string;
  readonly cache?: string;
}

export const versionOf = (home: string): string => (JSON.parse(readFileSync(join(home, "package.json"), "utf8")) as { version: string }).version;

/** Reads, runs and sets a lesson to the state of a link. Anything that does not fit is refused: a picture has no place to say so. */
export const lessonAt = async ({ slug, link = "", home = HOME, cache = join(WORK, ".cache"), lessons = join(home, "lessons"), scenario: path = join(home, DEMO) }: LessonWanted): Promise<LessonAt> => {
  if (!statSync(lessons, { throwIfNoEntry: false })?.isDirectory()) throw new Refusal(`there is no folder ${lessons}`);
  const known = lessonFiles(lessons).map((file) => file.replace(/^.*[\\/]|\.md$/g, ""));
  if (!known.includes(slug)) throw new Refusal(`there is no lesson ${slug} in ${named(lessons) || "."}${wayOut(slug, known)}`);
  const written = readLesson(join(lessons, `${slug}.md`));
  if (written.problems.length > 0) throw new BuildError(written.problems);
  const reading = readScenario(path);
  if ("problems" in reading) throw new BuildError(reading.problems.map((p) => ({ ...p, file: named(resolve(p.file)) })));
  const { scenario } = reading;
  const lacking = written.front.needs.filter((part) => PARTS.includes(part) && scenario[part] === undefined);
  if (lacking.length > 0) throw new Refusal(`${slug} needs ${lacking.join(" and ")}, which the scenario ${named(resolve(path))} does not have`);
  const evaluated = await evaluateFence(written.prose.fence as NonNullable<typeof written.prose.fence>, { home, cache, file: written.file, slug, scenario: { ...scenario, file: path.split(/[\\/]/).at(-1) as string } });
  if ("problems" in evaluated) throw new BuildError(evaluated.problems);
  const scales = readScales(evaluated.lesson, written.front.scales, written.file);
  if (scales.problems.length > 0) throw new BuildError(scales.problems);

  const scale = scaleOfLink(link);
  const others = Object.keys(scales.others);
  if (scale !== undefined && scale !== OWN_SCALE && !others.includes(scale)) throw new Refusal(`--state: ${slug} has no scale ${scale}${wayOut(scale, [OWN_SCALE, ...others])}`);
  const lesson = scale === undefined || scale === OWN_SCALE ? scales.road : (scales.others[scale] as { lesson: Lesson }).lesson;
  if (link !== "" && !link.includes("=")) throw new Refusal(`--state must be a share link such as "#${Object.keys(lesson.inputs)[0] ?? "massA"}=900", got ${link}`);
  const linked = readLink(lesson, link.replace(/^[^#]*#/, "#"), LOCALE);
  if (linked.problems.length > 0) throw new Refusal(`--state: ${linked.problems.join(" ")}`);
  const units: UnitSystem = lesson.scale === undefined ? (linked.units ?? scenario.units) : "laboratory";
  const write = makeWrite(units, LOCALE);
  const state = evaluateWhole(lesson, linked.inputs, write);
  if (state.outcome !== undefined) throw new Refusal(`--state: at these inputs ${slug} has no picture: ${state.outcome}`);
  return { slug, written, scenario, lesson, state, units, locale: LOCALE, write, link: writeLink(lesson, linked.inputs, linked.units ?? scenario.units, lesson.scale, scenario.units), names: namesOf(lesson), version: versionOf(home), hash: evaluated.hash };
};
