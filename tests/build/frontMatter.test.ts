import { describe, expect, test } from "vitest";
import { readFrontMatter } from "../../build/frontMatter.ts";
import { readScales } from "../../build/scales.ts";
import { choice, lesson, mass, ratio, sentence } from "../../shared/lesson.ts";

const HEAD = "title: A title\nquestion: Why?\nminutes: 5\n";
const read = (lines: string) => readFrontMatter(`---\n${lines}---\ntext\n`, "case.md");
const wrong = (lines: string): string[] => read(lines).problems.map((p) => `${p.line}:${p.column}: ${p.message}`);

describe("readFrontMatter(source)", () => {
  test("reads every key and keeps the line numbers of what follows", () => {
    const { front, rest, problems } = read(`${HEAD}order: 2\nmisconceptions: [one, two]\ncurriculum:\n  - NGSS HS-PS2-3\n`);
    expect(problems).toEqual([]);
    expect(front).toMatchObject({ title: "A title", question: "Why?", minutes: 5, order: 2, misconceptions: ["one", "two"], curriculum: ["NGSS HS-PS2-3"] });
    expect(rest.split("\n").indexOf("text")).toBe(9);
  });

  test("keeps line numbers with Windows line ends", () => {
    expect(readFrontMatter("---\r\ntitle: T\r\nquestion: Q\r\nminutes: 1\r\n---\r\ntext", "case.md").rest.split("\n")[5]).toBe("text");
  });

  test("refuses unknown keys with the nearest one", () => {
    expect(wrong(`${HEAD}minuts: 3\n`)).toEqual(["5:1: minuts is not a key of the front matter; the nearest is minutes"]);
  });

  test("lists everything that is wrong at its place", () => {
    expect(wrong("title: \nminutes: none\nmisconceptions: one\n")).toEqual([
      "2:1: title must be a line of text",
      "3:1: minutes must be a number >= 1, got none",
      "4:17: misconceptions must be a list, such as [one, two]",
      "1:1: front matter lacks question",
    ]);
  });

  test("reports YAML that is none, at its line", () => {
    expect(wrong("title: [\nquestion: x\n")[0]).toBe("2:8: front matter: this [ is never closed; end the line with ]");
  });

  test("asks for the block where there is none, and where it is not at the head", () => {
    for (const source of ["text", "\n---\ntitle: T\n---\n"]) expect(readFrontMatter(source, "case.md").problems[0]?.message).toMatch(/^a lesson starts with a front matter block/);
  });

  test("says that a comma splits a value inside braces", () => {
    expect(wrong(`${HEAD}scales: { bench: { massA: { start: 0,5 kg, to: 2,5 kg } } }\n`)).toEqual(["5:36: a comma splits the value here; write 0.5 kg", "5:48: a comma splits the value here; write 2.5 kg"]);
  });

  test("refuses options of a scale that no input has", () => {
    expect(wrong(`${HEAD}scales: { bench: { massA: { strat: 0.5 kg } } }\n`)).toEqual(["5:29: strat is not an option of an input; the nearest is start"]);
  });
});

describe("readScales(lesson, scales, file)", () => {
  const declared = lesson({
    inputs: { massA: mass("m", { start: 900, from: 100, to: 2000, step: 10 }), share: ratio("s", { start: 0, from: 0, to: 1, step: 0.1 }), way: choice("w", { start: "x", words: { x: "X", y: "Y" } }) },
    outputs: { said: sentence("s") },
    run: () => ({ said: "" }),
  });
  const scales = (text: string) => readScales(declared, read(`${HEAD}scales: ${text}\n`).front.scales, "case.md");
  const refused = (text: string): string[] => scales(text).problems.map((p) => `${p.line}:${p.column}: ${p.message}`);

  test("lays numbers with units over those of the fence, in SI", () => {
    const { road, others, problems } = scales("{ bench: { massA: { start: 500 g, from: 0.2 kg, to: 2 kg, step: 50 g }, share: { start: 0.5 }, way: { start: y } } }");
    expect(problems).toEqual([]);
    expect(road).toBe(declared);
    expect(others["bench"]?.lesson.inputs).toMatchObject({ massA: { start: 0.5, from: 0.2, to: 2, step: 0.05, label: "m" }, share: { start: 0.5, to: 1 }, way: { start: "y" } });
    expect(others["bench"]?.values).toEqual({ massA: { reason: "", start: 0.5, from: 0.2, to: 2, step: 0.05 }, share: { reason: "", start: 0.5 }, way: { start: "y" } });
  });

  test("lets the scale named road change the fence's own numbers", () => {
    const { road, others } = scales("{ road: { massA: { start: 1 t } } }");
    expect(road.inputs["massA"]).toMatchObject({ start: 1000, from: 100 });
    expect(others).toEqual({});
  });

  test("refuses unknown inputs, units that do not fit, words that are none, and ranges that are none", () => {
    expect(refused("{ bench: { masA: { start: 1 kg } } }")).toEqual(["5:20: masA: the lesson has no such input; the nearest is massA"]);
    expect(refused("{ bench: { massA: { start: 1 km } } }")).toEqual(["5:36: massA: start has an unknown unit km; the nearest is kg"]);
    expect(refused("{ bench: { massA: { start: 1 m } } }")).toEqual(["5:36: massA: start must be in one of kg, g, t, lb, got m"]);
    expect(refused("{ bench: { massA: { start: 900 } } }")).toEqual(["5:36: massA: start lacks its unit; there are kg, g, t, lb"]);
    expect(refused("{ bench: { massA: { start: some } } }")).toEqual(['5:36: massA: start must be a number with its unit, such as 1 kg, got "some"']);
    expect(refused("{ bench: { way: { start: z } } }")).toEqual(["5:34: way: start z is not one of its words; the nearest is x"]);
    expect(refused("{ bench: { way: { step: 1 } } }")).toEqual(["5:33: way: step does not fit a choice input"]);
    expect(refused("{ bench: { massA: { to: 50 kg } } }")).toEqual(["5:20: massA: from must be < to, got 100 and 50 kg"]);
    expect(refused("{ bench: { massA: { start: 3 t } } }")).toEqual(["5:20: massA: start must be between 100 and 2000 kg, got 3000"]);
  });
});
