/** A lesson of the repository under one scenario, at each of its scales; evaluated once. */
import { evaluateFence } from "../../build/fence.ts";
import { readLesson } from "../../build/readLessons.ts";
import { readScales } from "../../build/scales.ts";
import { readScenario } from "../../build/scenario.ts";
import type { Lesson } from "../../shared/lesson.ts";

const evaluated = new Map<string, Promise<Readonly<Record<string, Lesson>>>>();

const read = async (slug: string, scenario: string): Promise<Readonly<Record<string, Lesson>>> => {
  const reading = readScenario(`shared/scenario/${scenario}.yaml`);
  if ("problems" in reading) throw new Error(JSON.stringify(reading.problems));
  const written = readLesson(`lessons/${slug}.md`);
  if (written.prose.fence === undefined) throw new Error(`${slug} has no fence`);
  const result = await evaluateFence(written.prose.fence, { home: process.cwd(), cache: ".cache", file: written.file, slug, scenario: reading.scenario });
  if ("problems" in result) throw new Error(JSON.stringify(result.problems));
  const { road, others, problems } = readScales(result.lesson, written.front.scales, written.file);
  if (problems.length > 0) throw new Error(JSON.stringify(problems));
  return { road, ...Object.fromEntries(Object.entries(others).map(([scale, { lesson }]) => [scale, lesson])) };
};

export const lessonAtScales = (slug: string, scenario = "demo"): Promise<Readonly<Record<string, Lesson>>> => {
  const key = `${slug} ${scenario}`;
  const found = evaluated.get(key) ?? read(slug, scenario);
  evaluated.set(key, found);
  return found;
};
