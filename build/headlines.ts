/** What a lesson predicts, and how sure it is of it at the start: made when the site is built, kept by content. */
import { createHash } from "node:crypto";
import { join } from "node:path";
import { findStudy, type StudySubject, type WholeStudy } from "../shared/card/wholeStudy.ts";
import type { Lesson } from "../shared/lesson.ts";
import { PAGE_RUNS } from "../shared/study.ts";
import { readCached, writeCached } from "./cache.ts";
import type { WrittenLesson } from "./readLessons.ts";

/** Numbers and verdicts that the lesson's page shows in its prose, in the order of the page; the answer to its prediction first. */
export const headlinesOf = ({ prose }: WrittenLesson, lesson: Lesson): string[] => {
  const shown = prose.parts.filter(({ scheme, bench }) => scheme === "output" && !bench).map(({ name }) => name);
  const all = [...(prose.prediction === undefined ? [] : [prose.prediction.verdict]), ...shown];
  return [...new Set(all)].filter((name) => ["quantity", "returned", "verdict"].includes(lesson.outputs[name]?.type ?? ""));
};

/** Raise it when the way a study is made changes: what an older code kept is then not read. */
const MADE = 2;

/** A study of a lesson, from the cache where its code and its inputs are the same; as many runs as the ranges in its prose, so that both say the same. */
export const cachedStudy = (subject: StudySubject, cache: string, slug: string, code: string, runs: number = PAGE_RUNS): WholeStudy => {
  const numbers = Object.entries(subject.lesson.inputs).map(([name, input]) => [name, input.type === "quantity" ? [input.from, input.to, input.give, input.shape] : input.type]);
  const key = createHash("sha256").update(JSON.stringify([MADE, code, subject.lesson.scale, numbers, subject.inputs, subject.outputs, runs])).digest("hex").slice(0, 20);
  const folder = join(cache, "studies");
  const name = `${slug}.${runs}.${key}.json`;
  const kept = readCached(folder, name);
  if (kept !== undefined) return JSON.parse(kept) as WholeStudy;
  const study = findStudy(subject, runs);
  writeCached(folder, `${slug}.${runs}`, name, JSON.stringify(study));
  return study;
};
