/** The course around the lessons, from `shared/course.yaml`: what they work against, and ways through them. */
import { readFileSync } from "node:fs";
import { isMap, isScalar, isSeq, LineCounter, parseDocument, type Node } from "yaml";
import type { Source } from "./kernels.ts";
import { wayOut } from "./nearest.ts";
import type { Problem } from "./problem.ts";
import { named, type WrittenLesson } from "./readLessons.ts";

export interface Misconception {
  readonly says: string;
  /** Source that found it; without one the page says so. */
  readonly study?: string;
}

export interface Path {
  readonly title: string;
  readonly lessons: readonly string[];
}

export interface Course {
  readonly misconceptions: Readonly<Record<string, Misconception>>;
  readonly paths: readonly Path[];
}

interface Placed {
  readonly text: string;
  readonly line: number;
  readonly column: number;
}

export interface ReadCourse extends Course {
  readonly problems: readonly Problem[];
  /** Lessons and sources named, with their places: checked once the lessons are known. */
  readonly named: readonly (Placed & { readonly what: "lesson" | "source" })[];
}

export const readCourse = (path: string): ReadCourse => {
  const file = named(path);
  const counter = new LineCounter();
  const document = parseDocument(readFileSync(path, "utf8"), { lineCounter: counter });
  const problems: Problem[] = [];
  const mentions: (Placed & { what: "lesson" | "source" })[] = [];
  const place = (node: unknown): { line: number; column: number } => {
    const at = counter.linePos((node as Node | null)?.range?.[0] ?? 0);
    return { line: at.line, column: at.col };
  };
  const report = (node: unknown, message: string): void => void problems.push({ file, ...place(node), message });
  for (const e of document.errors) problems.push({ file, line: e.linePos?.[0].line ?? 1, column: e.linePos?.[0].col ?? 1, message: e.message.split("\n")[0] as string });
  const entries = (node: unknown): [string, Node | null][] => (isMap(node) ? node.items.map((pair) => [String((pair.key as { value?: unknown }).value), pair.value as Node | null]) : []);
  const text = (node: Node | null, what: string): string => {
    if (isScalar(node) && typeof node.value === "string" && node.value.trim() !== "") return node.value.trim();
    report(node, `${what} must be a line of text`);
    return "";
  };

  const misconceptions: Record<string, Misconception> = {};
  const paths: Path[] = [];
  for (const [section, node] of entries(document.contents)) {
    if (section === "misconceptions")
      for (const [id, one] of entries(node)) {
        const parts = new Map(entries(one));
        for (const key of parts.keys()) if (key !== "says" && key !== "study") report(one, `${key} is not a key of a misconception${wayOut(key, ["says", "study"])}`);
        const study = parts.get("study");
        if (study !== undefined) mentions.push({ what: "source", text: text(study, "study"), ...place(study) });
        misconceptions[id] = { says: text(parts.get("says") ?? null, `says of ${id}`), ...(study !== undefined && { study: text(study, "study") }) };
      }
    else if (section === "paths")
      for (const [id, one] of entries(node)) {
        const parts = new Map(entries(one));
        const list = parts.get("lessons");
        if (!isSeq(list)) report(one, `path ${id} needs lessons: [one, two]`);
        const lessons = isSeq(list) ? list.items.map((item) => ({ text: text(item as Node, "a lesson"), ...place(item) })) : [];
        for (const lesson of lessons) mentions.push({ what: "lesson", ...lesson });
        paths.push({ title: text(parts.get("title") ?? null, `title of ${id}`), lessons: lessons.map((lesson) => lesson.text) });
      }
    else report(node, `${section} is not a part of the course${wayOut(section, ["misconceptions", "paths"])}`);
  }
  return { misconceptions, paths, problems, named: mentions };
};

/** The course without some lessons: its ways pass them by. */
export const without = (course: ReadCourse, slugs: readonly string[]): ReadCourse =>
  slugs.length === 0
    ? course
    : { ...course, paths: course.paths.map((way) => ({ ...way, lessons: way.lessons.filter((slug) => !slugs.includes(slug)) })), named: course.named.filter(({ what, text }) => what !== "lesson" || !slugs.includes(text)) };

/** Code of a curriculum -> source that holds it, and what it is about. */
export const curriculumCodes = (sources: Readonly<Record<string, Source>>): Readonly<Record<string, { readonly source: string; readonly about: string }>> =>
  Object.fromEntries(Object.entries(sources).flatMap(([source, { codes = {} }]) => Object.entries(codes).map(([code, about]) => [code, { source, about }])));

/** What lessons and course say of each other. */
export const checkCourse = (course: ReadCourse, path: string, lessons: readonly WrittenLesson[], sources: Readonly<Record<string, Source>>): Problem[] => {
  const file = named(path);
  const slugs = lessons.map(({ slug }) => slug);
  const problems: Problem[] = course.named.flatMap(({ what, text, line, column }) => {
    const known = what === "lesson" ? slugs : Object.keys(sources);
    return known.includes(text) ? [] : [{ file, line, column, message: what === "lesson" ? `${text} is not a lesson${wayOut(text, slugs)}` : `${text} is not in lib/sources.yaml${wayOut(text, known)}` }];
  });
  const codes = Object.keys(curriculumCodes(sources));
  const ids = Object.keys(course.misconceptions);
  for (const { file: lesson, front, prose } of lessons) {
    const at = (key: string): { line: number; column: number } => front.places[key] ?? { line: 1, column: 1 };
    for (const code of front.curriculum) if (!codes.includes(code)) problems.push({ file: lesson, ...at("curriculum"), message: `${code} is not a curriculum code of lib/sources.yaml${wayOut(code, codes)}` });
    for (const id of front.misconceptions) if (!ids.includes(id)) problems.push({ file: lesson, ...at("misconceptions"), message: `${id} is not a misconception of shared/course.yaml${wayOut(id, ids)}` });
    for (const { misconception, line, column } of prose.questions)
      if (misconception !== undefined && !front.misconceptions.includes(misconception)) problems.push({ file: lesson, line, column, message: `${misconception} is not among this lesson's misconceptions${wayOut(misconception, front.misconceptions)}` });
  }
  return problems;
};
