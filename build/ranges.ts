/** What the give or take leaves of a lesson's outputs at its start, kept by content: as many runs as a page shows, once. */
import { createHash } from "node:crypto";
import { join } from "node:path";
import type { Lesson, State, Write } from "../shared/lesson.ts";
import { findRanges, PAGE_RUNS, type Ranges, uncertainInputs } from "../shared/study.ts";
import { readCached, writeCached } from "./cache.ts";

/** `hash` identifies the lesson's code, `name` the lesson and its scale. */
export const cachedRanges = (lesson: Lesson, { inputs }: State, write: Write, cache: string, name: string, hash: string): Ranges => {
  const key = createHash("sha256").update(JSON.stringify([hash, PAGE_RUNS, inputs, uncertainInputs(lesson, inputs)])).digest("hex").slice(0, 20);
  const folder = join(cache, "ranges");
  const file = `${name}.${key}.json`;
  const kept = readCached(folder, file);
  if (kept !== undefined) return JSON.parse(kept) as Ranges;
  const ranges = findRanges(lesson, inputs, write);
  writeCached(folder, name, file, JSON.stringify(ranges));
  return ranges;
};
