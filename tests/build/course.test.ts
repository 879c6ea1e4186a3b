// The parts of a lesson beside its core: questions, bench page, lines to speak, and the course around the lessons.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { checkCourse, curriculumCodes, readCourse } from "../../build/course.ts";
import { readKernels } from "../../build/kernels.ts";
import { readProse } from "../../build/markdown.ts";
import { wayOut } from "../../build/nearest.ts";
import { readLesson } from "../../build/readLessons.ts";
import { HOME, Site } from "../../build/site.ts";

const FIXTURE = readFileSync(join(HOME, "tests/build/fixtures/lessons/fixture.md"), "utf8");
mkdirSync(join(HOME, ".cache"), { recursive: true });
const work = mkdtempSync(join(HOME, ".cache/course-test-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

const REST = `
::: transfer bigger-pushes-harder elsewhere
Two skaters push off from each other. Who is pushed harder?

- right: Neither.

  One push has two ends.
- wrong: The heavier.

  Look at the arrows.
:::

::: say
- The first changes by about [60 km/h](output:changeA).
:::

::: bench
Expect [X](output:changeB?show=range).

::: apparatus
- two trolleys
:::

::: key
It is [0.250 m/s](output:changeB).
:::
:::
`;
const front = (source: string): string => source.replace("minutes: 3\n", "minutes: 3\nmisconceptions: [bigger-pushes-harder]\ncurriculum: [NGSS HS-PS2-2]\n");
const build = async (name: string, source: string) => {
  const lessons = join(work, name);
  mkdirSync(lessons);
  writeFileSync(join(lessons, "fixture.md"), source);
  return new Site({ lessons, cache: join(work, "cache") }).build({ claims: false });
};

describe("new Site(…).build() of a lesson with all its parts", () => {
  test("makes the bench page at bench scale, in laboratory units, with ranges", async () => {
    const first = await build("first", front(FIXTURE) + REST);
    // what the link texts ought to be, by the builder's own word
    const texts = Object.fromEntries(first.problems.map((p) => [p.message.replace(/ is ".*/, ""), /computes "(.*)"$/.exec(p.message)?.[1] ?? ""]));
    const range = texts["the text of output:changeB"] ?? "";
    expect(first.problems.map((p) => p.message).join("\n")).toMatch(/the text of output:changeB is "X", but the lesson computes "[\d.]+ to [\d.]+ m\/s"/);
    let source = front(FIXTURE) + REST.replace("[X]", `[${range}]`);
    const wrong = (await build("wrong", source)).problems;
    for (const { message } of wrong) {
      const [, was = "", is = ""] = /is "(.*)", but the lesson computes "(.*)"$/.exec(message) ?? [];
      source = source.replaceAll(`[${was}](output`, `[${is}](output`);
    }
    const { files, problems } = await build("right", source);
    expect(problems).toEqual([]);
    const bench = files["fixture-bench.html"] as string;
    const lesson = files["fixture.html"] as string;
    expect(bench).toContain('data-scale="bench"');
    expect(bench).toMatch(/[\d.]+ to [\d.]+\u00a0m\/s/);
    expect(bench).toContain("Answer key");
    expect(lesson).not.toContain("Answer key");
    expect(lesson).toContain('href="fixture-bench.html"');
    // said aloud: two digits, and the sign left to the words around it
    expect(lesson).toMatch(/data-show="spoken"[^>]*>(?:<[^>]+>)*[−-]?60\u00a0km\/h/);
    expect(lesson).toContain("Two skaters push off");
    // the teachers' page leads to the teacher's sheet
    expect(files["misconceptions.html"]).toContain('<a href="fixture.html">A meeting of two trolleys</a> (<a href="fixture-bench.html">bench\u00a0version</a>)');
    expect(files["misconceptions.html"]).toContain("no lesson yet");
    expect(files["index.html"]).toMatch(/<dt>NGSS HS-PS2-2:.*?<\/dt><dd><a href="fixture.html">A meeting of two trolleys<\/a> \(3\u00a0minutes\)<\/dd>/);
    // no place to break a line before the bench version, unless it would follow the minutes alone
    expect(files["index.html"]).toContain('<span class="facts">3\u00a0minutes \u00b7 <a href="fixture-bench.html">bench\u00a0version</a></span>');
  });

  const refused: readonly [what: string, source: string, message: RegExp][] = [
    ["a misconception that the course does not know", FIXTURE.replace("minutes: 3\n", "minutes: 3\nmisconceptions: [biger-pushes-harder]\n"), /biger-pushes-harder is not a misconception of shared\/course.yaml; the nearest is bigger-pushes-harder/],
    ["a curriculum code without a source", FIXTURE.replace("minutes: 3\n", "minutes: 3\ncurriculum: [NGSS HS-PS2-9]\n"), /NGSS HS-PS2-9 is not a curriculum code of lib\/sources.yaml; the nearest is NGSS HS-PS2/],
    ["a transfer question on a misconception that the lesson does not name", FIXTURE + REST.split("::: say")[0], /bigger-pushes-harder is not among this lesson's misconceptions/],
    ["a bench page without the numbers of the apparatus", FIXTURE.replace(/scales:[\s\S]*?---/, "---") + "\n::: bench\nx\n:::\n", /::: bench needs the numbers of the apparatus/],
  ];
  for (const [what, source, message] of refused)
    test(`refuses ${what}`, async () => {
      const { problems } = await build(`refused-${refused.findIndex(([one]) => one === what)}`, source);
      expect(problems.map((p) => p.message).join("\n")).toMatch(message);
    });
});

describe("indexPage(site, course)", () => {
  test("keeps the bench version on the line of what stands before it", async () => {
    const { files } = await build("facts", front(FIXTURE).replace("minutes: 3\n", "minutes: 1\nmathematics: none\n") + REST);
    expect(files["index.html"]).toContain('<span class="facts">1\u00a0minute \u00b7 no\u00a0mathematics\u00a0\u00b7\u00a0<a href="fixture-bench.html">bench\u00a0version</a></span>');
  });
});

describe("wayOut(name, names)", () => {
  const ids = Object.keys(readKernels(HOME).sources);
  test("names the nearest, or else those first that share most words", () => {
    expect(wayOut("crouch-2005", ids)).toBe("; the nearest is crouch-2004");
    expect(wayOut("ngss", ids)).toMatch(/^; there are ngss-2013, ngss-2013-middle, /);
    expect(wayOut("openstax", ids)).toMatch(/^; there are openstax-/);
    // With no word in common the list stays as it is.
    expect(wayOut("zzzzzzzzzzzzzzzzzzzzzzz", ids)).toBe(`; there are ${ids.slice(0, 12).join(", ")}, …`);
  });
});

describe("readProse(markdown) of questions", () => {
  const messages = (text: string): string[] => readProse(text, "case.md").problems.map((p) => p.message).filter((m) => !/ts fence/.test(m));
  test("refuses an answer without a reply, a question without a right answer, and unknown words", () => {
    expect(messages("::: explain\nWhy?\n\n- fits: So.\n\n  Yes.\n- misses: Not so.\n:::")).toEqual(["each answer has a reply: a paragraph of its own in the same list item"]);
    expect(messages("::: explain\nWhy?\n\n- misses: A.\n\n  No.\n- misses: B.\n\n  No.\n:::")).toEqual(["one answer of ::: explain must be fits:"]);
    expect(messages("::: explain\nWhy?\n\n- fits: A.\n\n  Yes.\n- wrong: B.\n\n  No.\n:::")).toEqual(["an answer of ::: explain starts with fits: or misses:, got wrong:"]);
    expect(messages("::: transfer\nWho?\n\n- right: A.\n\n  Yes.\n- wrong: B.\n\n  No.\n:::")[0]).toMatch(/^::: transfer names the misconception/);
    expect(messages("::: key\nx\n:::")).toEqual(["::: key stands inside ::: bench"]);
  });
});

describe("shared/course.yaml", () => {
  const course = readCourse(join(HOME, "shared/course.yaml"));
  const { sources } = readKernels(HOME);
  test("names lessons, sources and codes that are there", () => {
    const lessons = ["sharing-out-a-change-of-velocity", "buying-time-with-crumple", "lighter-yet-maybe-the-better-seat"].map((slug) => readLesson(join(HOME, `lessons/${slug}.md`)));
    expect(course.problems).toEqual([]);
    const others = course.named.filter(({ what }) => what === "source");
    expect(checkCourse({ ...course, named: others }, join(HOME, "shared/course.yaml"), lessons, sources)).toEqual([]);
    expect(Object.keys(curriculumCodes(sources))).toContain("NGSS HS-PS2-2");
  });

  test("is answered with the place of what it names wrongly", () => {
    const path = join(work, "course.yaml");
    writeFileSync(path, "misconceptions:\n  one: { says: A thing., study: nobody-1900 }\npaths:\n  p: { title: A way, lessons: [nowhere] }\nextra: 1\n");
    const read = readCourse(path);
    const found = [...read.problems, ...checkCourse(read, path, [], sources)].map((p) => `${p.line}:${p.column} ${p.message.split(";")[0]}`);
    expect(found).toEqual(["5:8 extra is not a part of the course", "2:33 nobody-1900 is not in lib/sources.yaml", "4:32 nowhere is not a lesson"]);
  });
});
