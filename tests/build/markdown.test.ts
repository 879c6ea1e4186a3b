// The grammar is the project's own (its text is lessons' documentation); CommonMark itself is markdown-it's affair.
import { describe, expect, test } from "vitest";
import { checkLinks, checkProse } from "../../build/check.ts";
import { md, readProse } from "../../build/markdown.ts";
import { inOrder } from "../../build/problem.ts";
import type { WrittenLesson } from "../../build/readLessons.ts";
import type { LivePart } from "../../build/rules/live.ts";
import "../../build/page.ts";
import { centralImpact } from "../../lib/index.ts";
import { choice, flipPoint, lesson, mass, velocityChange, verdict } from "../../shared/lesson.ts";
import { readCases } from "./fixtures.ts";

const NO_FENCE = /one ts fence/;

const sample = lesson({
  names: { a: "Sprig" },
  inputs: { massA: mass("mass", { start: 900, from: 100, to: 2000, step: 10 }), choice: choice("which", { start: "x", words: { x: "X", y: "Y" } }) },
  outputs: {
    changeA: velocityChange("change", { from: centralImpact, field: "deltaV.a" }),
    more: verdict("who", { a: "the first", b: "the second" }),
    turn: flipPoint("mass", "turning point", { of: "more", along: "massA" }),
  },
  run: ({ massA }, call) => {
    call(centralImpact, { a: { mass: massA, velocity: 1 }, b: { mass: 1, velocity: 0 }, restitution: 0 });
    return { more: "a" };
  },
  claims: { lighterChangesMore: { margin: () => 1 } },
  figures: { velocities: () => ({ title: "", x: { label: "", kind: { id: "mass", si: "kg", shown: { metric: "kg", customary: "lb", laboratory: "kg" }, digits: 0, signed: false } }, y: { label: "", kind: { id: "mass", si: "kg", shown: { metric: "kg", customary: "lb", laboratory: "kg" }, digits: 0, signed: false } }, series: [], says: "" }) },
  scenes: { road: { title: "", duration: () => 0, draw: () => ({ width: 1, height: 1, nodes: [], handles: [] }), describe: () => "" } },
});

describe("readProse(markdown) renders", () => {
  const live = (part: LivePart): string => {
    const query = Object.entries(part.options).map(([k, v]) => `${k}=${v}`).join("&");
    return `{${part.scheme}:${part.name}${query === "" ? "" : `?${query}`} "${part.text}"}`;
  };
  for (const { title, input, expected } of readCases("rules.txt"))
    test(title, () => {
      const prose = readProse(input, "case.md");
      expect(prose.problems.filter((p) => !NO_FENCE.test(p.message))).toEqual([]);
      const whole = md.renderer.rules["live"];
      md.renderer.rules["live"] = (tokens, i) => live(tokens[i]?.meta?.["part"] as LivePart);
      const html = md.renderer.render(prose.tokens, md.options, {});
      if (whole) md.renderer.rules["live"] = whole;
      expect(html.trim()).toBe(expected);
    });
});

describe("readProse(markdown) and checkProse(…) refuse", () => {
  for (const { title, input, expected } of readCases("refused.txt"))
    test(title, () => {
      const prose = readProse(input, "case.md");
      const written = { slug: "case", file: "case.md", prose } as WrittenLesson;
      const problems = inOrder([...prose.problems, ...checkProse(written, sample, ["derived", "nist-sp811"]), ...checkLinks(written, ["two-lessons"])]);
      const lines = problems.filter((p) => !NO_FENCE.test(p.message) && !/^no sentence marks/.test(p.message)).map((p) => `${p.line}:${p.column}: ${p.message}`);
      expect(lines.join("\n")).toBe(expected);
    });

  test("a lesson without a fence, and one with two", () => {
    expect(readProse("text", "case.md").problems.map((p) => p.message)).toEqual(["a lesson has one ts fence that exports lesson({ … }) as its default"]);
    const two = readProse("```ts\na\n```\n\n```ts\nb\n```\n", "case.md");
    expect(two.problems.map((p) => `${p.line}: ${p.message}`)).toEqual(["5: a lesson has one ts fence"]);
    expect(two.fence).toEqual({ code: "a\n", line: 2 });
  });

  test("a claim that no sentence marks", () => {
    const prose = readProse("```ts\n\nlesson({ claims: { lighterChangesMore: {} } })\n```\n", "case.md");
    const [problem] = checkProse({ slug: "case", file: "case.md", prose } as WrittenLesson, sample, []);
    expect(problem).toEqual({ file: "case.md", line: 3, column: 20, message: "no sentence marks the claim lighterChangesMore; write [the sentence](claim:lighterChangesMore)" });
  });
});

describe("readProse(hostile) ends in time", () => {
  /** Generous for a slow machine: a good parser takes a few hundredths of this. */
  const DEADLINE = 3000;
  const N = 20_000;
  const hostile: Readonly<Record<string, string>> = {
    "open brackets": "[".repeat(N),
    "open links": "[a](input:".repeat(N / 4),
    "nested links": `${"[".repeat(N / 10)}x${"](input:massA)".repeat(N / 10)}`,
    "stars": "*a **a ".repeat(N / 4),
    "one long name": `[x](input:${"a".repeat(N)})`,
    "one long unknown scheme": `[x](${"a".repeat(N)}:b)`,
    "open containers": "::: caution\n".repeat(N / 20),
    "open tags": "<a ".repeat(N),
    "many references": "[a][b] ".repeat(N / 10),
    "images in images": `${"![".repeat(N / 20)}x${"](figure:velocities)".repeat(N / 20)}`,
    "one long line of colons": ":".repeat(N),
  };
  for (const [what, text] of Object.entries(hostile))
    test(what, () => {
      const begun = performance.now();
      const prose = readProse(text, "case.md");
      checkProse({ slug: "case", file: "case.md", prose } as WrittenLesson, sample, []);
      expect(performance.now() - begun).toBeLessThan(DEADLINE);
    });
});
