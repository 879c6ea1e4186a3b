/** Text fixtures: cases that anyone can add without knowing the code. */
import { readFileSync } from "node:fs";

export interface FixtureCase {
  readonly title: string;
  readonly input: string;
  readonly expected: string;
}

/** Cases of `title`, `.`, input, `.`, expected, `.`; text between cases is a note. */
export const readCases = (name: string): FixtureCase[] => {
  const text = readFileSync(new URL(`fixtures/${name}`, import.meta.url), "utf8");
  return [...text.matchAll(/^(.+)\n\.\n([\s\S]*?)\n\.\n([\s\S]*?)\n\.$/gm)].map(([, title, input, expected]) => ({ title: title as string, input: input as string, expected: expected as string }));
};
