/** Every lesson of the course has all that a lesson needs: nothing here knows what a lesson is about. */
import { describe, expect, it } from "vitest";
import { readLessons } from "../../build/readLessons.ts";

/** The core of a lesson; bench, transfer and algebra come on top. */
const MOST_MINUTES = 12;
const FEWEST_TRANSFERS = 2;
/** Words of harm belong to cautions and to cited records only. */
const HARM = /\b(surviv\w*|fatal\w*|injur\w*|killed|safe|safer|safest|approved|compliant)\b/i;
const HARM_ALLOWED = ["caution", "sources", "hazards"];
const FORCE_CONFUSED = /force of (?:the )?impact|impact force/i;

const lessons = readLessons("lessons");

describe.each(lessons.map((lesson) => ({ slug: lesson.slug, lesson })))("$slug", ({ lesson }) => {
  const { front, prose, source } = lesson;
  const has = (container: string): boolean => prose.containers.some(({ name }) => name === container);
  const parts = (scheme: string) => prose.parts.filter((part) => part.scheme === scheme);

  it("says its one idea, its level and its time", () => {
    expect(front.idea).toMatch(/\.$/);
    expect(front.mathematics).toBeDefined();
    expect(front.minutes).toBeLessThanOrEqual(MOST_MINUTES);
    expect(front.question).toMatch(/\?$/);
    expect(front.curriculum.length).toBeGreaterThan(0);
  });

  it("asks for a prediction, with a reply to every answer", () => {
    expect(prose.prediction?.choices.length).toBeGreaterThanOrEqual(2);
    for (const { word, reply } of prose.prediction?.choices ?? []) expect(reply.length, word).toBeGreaterThan(0);
  });

  it("has a scene to drag, figures and claims after the reveal", () => {
    expect(parts("scene").filter((part) => !part.bench).length).toBeGreaterThan(0);
    expect(parts("figure").filter((part) => part.revealed).length).toBeGreaterThan(0);
    expect(parts("claim").length).toBeGreaterThan(0);
  });

  it("asks why, and asks again elsewhere for each misconception", () => {
    expect(prose.questions.some(({ kind }) => kind === "explain")).toBe(true);
    expect(front.misconceptions.length).toBeGreaterThan(0);
    const transfers = prose.questions.filter(({ kind }) => kind === "transfer");
    for (const id of front.misconceptions) expect(transfers.filter(({ misconception }) => misconception === id).length, id).toBeGreaterThanOrEqual(FEWEST_TRANSFERS);
    expect(transfers.some(({ elsewhere }) => elsewhere)).toBe(true);
  });

  it("has its bench version whole", () => {
    for (const part of ["bench", "apparatus", "steps", "hazards", "worksheet", "key"]) expect(has(part), part).toBe(true);
    expect(prose.parts.some((part) => part.bench && part.options["show"] === "range"), "an expected range").toBe(true);
    expect(prose.parts.some((part) => part.bench && part.scheme === "scene"), "a drawing of the set-up, to scale").toBe(true);
  });

  it("says what to say on screen, the same in words, its limits, cautions and sources", () => {
    for (const part of ["say", "words", "limits", "caution", "sources"]) expect(has(part), part).toBe(true);
    expect(parts("output").some(({ spoken }) => spoken)).toBe(true);
  });

  it("takes no words of harm outside its cautions, and calls no momentum a force", () => {
    const text = source.split("\n");
    const allowed = new Set<number>();
    let open: string[] = [];
    text.forEach((line, i) => {
      const name = /^:::\s*(\S+)/.exec(line)?.[1];
      if (name !== undefined) open.push(name);
      else if (/^:::\s*$/.test(line)) open = open.slice(0, -1);
      if (open.some((one) => HARM_ALLOWED.includes(one))) allowed.add(i);
    });
    const found = text.flatMap((line, i) => (!allowed.has(i) && (HARM.test(line.replace(/misconceptions:.*|:::\s*transfer.*/, "")) || FORCE_CONFUSED.test(line)) ? [`${i + 1}: ${line.trim().slice(0, 100)}`] : []));
    expect(found).toEqual([]);
  });
});
