// Captions: valid WebVTT, read back, and slow enough to read.
import { describe, expect, test } from "vitest";
import { uniform } from "../../lib/math/random.ts";
import { brokenLines, captionProblems, captionsOf, LINE_LENGTH, MOST_LINES, MOST_WORDS_A_MINUTE, wordsOf, writeVtt } from "../../shared/card/captions.ts";
import { readVtt } from "./vtt.ts";

const SEED = 13;
const LINES = ["Same push on both cars. The velocity of the Sprig changes by about 60\u00a0km/h, that of the Bollard by about 30\u00a0km/h.", "Is 3\u00a0<\u00a04 & 5\u00a0>\u00a02? Yes --> it is.", "Short."];
const WORDS = ["mass", "a", "deceleration", "60\u00a0km/h,", "the", "1\u202f200\u00a0kN/m.", "momentum", "of;", "car"];
const words = (text: string): string[] => text.split(/[ \n]+/).filter((word) => word !== "");

describe("captionsOf(lines)", () => {
  test("loses no word, splits no number from its unit, and passes its own check for 300 seeded scripts", () => {
    for (let i = 0; i < 300; i++) {
      const lines = Array.from({ length: 1 + Math.floor(uniform(SEED, i, 0) * 4) }, (_, l) => Array.from({ length: 1 + Math.floor(uniform(SEED, i, 10 + l) * 40) }, (__, w) => WORDS[Math.floor(uniform(SEED, i, 100 + 50 * l + w) * WORDS.length)]).join(" "));
      const captions = captionsOf(lines);
      expect(captionProblems(captions)).toEqual([]);
      expect(captions.flatMap(({ lines: text }) => text.flatMap(words))).toEqual(lines.flatMap(words));
      expect(captions.every(({ lines: text }) => text.length <= MOST_LINES && text.every((line) => line.length <= LINE_LENGTH))).toBe(true);
    }
  });

  test("gives a spoken number the time of its words", () => expect(wordsOf("60\u00a0km/h")).toBe(4));

  test("starts when told, and at the pace told", () => {
    const [first] = captionsOf(["one two three four five six seven eight nine ten"], { start: 60, pace: 100 });
    expect(first).toMatchObject({ from: 60, to: 66 });
  });

  test("keeps to the limits of subtitling: words a minute, lines, length of a line", () => {
    // 180 words a minute and two lines: subtitling practice as quoted by several broadcasters, read second-hand; 42 characters: common practice, no source
    expect([MOST_WORDS_A_MINUTE, MOST_LINES, LINE_LENGTH]).toEqual([180, 2, 42]);
  });
});

describe("captionProblems(captions)", () => {
  test("names what is too fast, too short, too long, or overlaps", () => {
    const fast = captionProblems(captionsOf([LINES[0] as string], { pace: 300 }));
    expect(fast[0]).toMatch(/^Caption 1\.1 asks for 300 words a minute; 180 is the most/);
    const long = "x".repeat(LINE_LENGTH + 1);
    const found = captionProblems([
      { id: "a", from: 0, to: 1, lines: ["one"] },
      { id: "b", from: 0.5, to: 9, lines: ["one", "two", "three"] },
      { id: "c", from: 9, to: 8, lines: [long] },
    ]).join(" ");
    for (const words of ["Caption a stands for less than 2 s", "Caption b has 3 lines", "Caption b begins before", "Caption c ends before it begins", `Caption c has a line of ${LINE_LENGTH + 1} characters`]) expect(found).toContain(words);
  });
});

describe("writeVtt(captions)", () => {
  test("is valid WebVTT that reads back as written, marks of the format in the text included", () => {
    const captions = captionsOf(LINES, { start: 3599 });
    const file = writeVtt(captions, "made --> here");
    expect(readVtt(file)).toEqual(captions);
    expect(file).toMatch(/^WEBVTT\n\nNOTE\n.*\n\n1\.1\n00:59:59\.000 --> 01:00:/);
  });
});

describe("brokenLines(text)", () => {
  test("gives a word that is longer than a line its own line", () => expect(brokenLines(`a ${"x".repeat(60)} b`)).toEqual(["a", "x".repeat(60), "b"]));
});
