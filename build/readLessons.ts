/** The lessons of a folder as written: front matter and prose, before their code is run. */
import { readdirSync, readFileSync } from "node:fs";
import { basename, join, relative, sep } from "node:path";
import { type FrontMatter, readFrontMatter } from "./frontMatter.ts";
import { type Prose, readProse } from "./markdown.ts";
import type { Problem } from "./problem.ts";

export interface WrittenLesson {
  readonly slug: string;
  /** As named in messages. */
  readonly file: string;
  readonly path: string;
  readonly source: string;
  readonly front: FrontMatter;
  readonly prose: Prose;
  readonly problems: readonly Problem[];
}

/** Names that other files of the site have. */
const TAKEN = ["index", "misconceptions", "evidence", "reference", "page", "gate", "plot", "reload", "card", "study", "show"];

/** A path as messages name it: from the working folder, with forward slashes. */
export const named = (path: string): string => {
  const from = relative(process.cwd(), path);
  return (from.startsWith("..") ? path : from).split(sep).join("/");
};

export const lessonFiles = (folder: string): string[] =>
  readdirSync(folder)
    .filter((f) => f.endsWith(".md"))
    .sort()
    .map((f) => join(folder, f));

export const lessonText = (path: string): string => readFileSync(path, "utf8").replace(/^\uFEFF/, "");

export const readLesson = (path: string): WrittenLesson => {
  const file = named(path);
  const slug = basename(path, ".md");
  const source = lessonText(path);
  const head = readFrontMatter(source, file);
  const prose = readProse(head.rest, file);
  const problems = [...head.problems, ...prose.problems];
  if (!/^[a-z][a-z0-9-]*$/.test(slug)) problems.push({ file, line: 1, column: 1, message: `a lesson's file name holds lower-case letters, digits and hyphens, got ${slug}.md` });
  if (TAKEN.includes(slug)) problems.push({ file, line: 1, column: 1, message: `the name ${slug} is taken by the site itself; choose another` });
  return { slug, file, path, source, front: head.front, prose, problems };
};

export const readLessons = (folder: string): WrittenLesson[] => lessonFiles(folder).map(readLesson);
