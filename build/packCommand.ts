/** `pack-show` on the command line: makes the pack, writes it, and says what is in it and what is not. */
import { join } from "node:path";
import type { Card } from "../shared/card/card.ts";
import { WORK } from "./home.ts";
import { writeProblem } from "./problem.ts";
import { Refusal } from "./refusal.ts";
import { makeShow, type Show, writeStills } from "./showPack.ts";
import { readStates, type ShownSheet } from "./showStates.ts";
import { writeSite } from "./writeSite.ts";

export interface PackWanted {
  readonly lessons: string;
  readonly scenario: string | undefined;
  readonly out: string;
  readonly date: string | undefined;
  readonly by: string;
  readonly claims: boolean;
  readonly stills: boolean;
  /** Addresses of lessons' pages at the states that they are shown at. */
  readonly states?: readonly string[] | undefined;
}

const pad = (n: number): string => String(n).padStart(2, "0");
const today = (now = new Date()): string => `${now.getFullYear()}-${pad(now.getMonth() + 1)}-${pad(now.getDate())}`;

/** A day of the calendar, written year first. */
const isDay = (text: string): boolean => /^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(Date.parse(`${text}T00:00:00Z`)) && new Date(`${text}T00:00:00Z`).toISOString().startsWith(text);

/** Answers with what is wrong with the wish, if anything; a show with mistakes ends the process with status 1. */
export const packShow = async ({ lessons, scenario, out, date = today(), by, claims, stills, states = [] }: PackWanted): Promise<string | undefined> => {
  if (!isDay(date)) return `--date must be a day such as 2031-05-17, got ${date}`;
  const cache = join(WORK, ".cache");
  const where = { lessons, cache, ...(scenario !== undefined && { scenario }) };
  const pictures = async (sheet: ShownSheet, held: Card): Promise<{ readonly names: readonly string[]; readonly warnings: readonly string[] }> => {
    if (!stills) return { names: [], warnings: [] };
    try {
      return await writeStills(sheet, held, join(out, "stills"), where);
    } catch (error) {
      return { names: [], warnings: [`no stills: ${error instanceof Error ? error.message : String(error)}`] };
    }
  };
  let show: Show;
  try {
    show = await makeShow({ ...where, date, by, claims, states: readStates(states), onStep: (words) => console.error(words) }, pictures);
  } catch (error) {
    if (error instanceof Refusal) return error.message;
    throw error;
  }
  for (const warning of show.warnings) console.error(writeProblem(warning));
  if (show.problems.length > 0) {
    for (const problem of show.problems) console.error(writeProblem(problem));
    console.error(`${show.problems.length} ${show.problems.length === 1 ? "problem" : "problems"}; no pack was written`);
    process.exit(1);
  }
  writeSite(out, show.files);
  for (const words of show.leftOut) console.log(`left out: ${words}`);
  console.log(`${show.lessons.length} prediction ${show.lessons.length === 1 ? "card" : "cards"} frozen on ${date}; one code for all: ${show.code}`);
  console.log(`publish it before the take (${join(out, "codes.txt")}); open ${join(out, "index.html")}`);
  return undefined;
};
