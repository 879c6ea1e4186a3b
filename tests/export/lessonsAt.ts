/** Every picture of every lesson at its start, and at its bench scale. */
import { basename, join } from "node:path";
import { HOME } from "../../build/home.ts";
import { type LessonAt, lessonAt } from "../../build/oneLesson.ts";
import { figureOf, painterFor, planOf, scenePlate } from "../../build/picture.ts";
import { lessonFiles } from "../../build/readLessons.ts";
import type { Ground, Plate } from "../../shared/export/plate.ts";

export const SLUGS = lessonFiles(join(HOME, "lessons")).map((file) => basename(file, ".md"));

export const SCENARIOS = ["shared/scenario/demo.yaml", "shared/scenario/cresswold.yaml"] as const;

/** Shares of a scene's duration at which it is looked at. */
const INSTANTS = [0, 0.55, 1];

export interface Shown {
  readonly name: string;
  readonly plate: Plate;
}

/** Scenes at some instants, each part by itself too, and figures. */
export const platesOf = (at: LessonAt, ground: Ground, parts = true): Shown[] => {
  const paint = painterFor(ground);
  const scenes = Object.entries(at.lesson.scenes).flatMap(([name, scene]): Shown[] => {
    const duration = (scene.duration as (state: unknown) => number)(at.state);
    const plan = planOf(at, name);
    const shown = INSTANTS.slice(0, duration > 0 ? INSTANTS.length : 1).map((share) => ({ name: `${name} at ${share}`, plate: scenePlate(plan, share * duration, paint) }));
    const single = parts ? Array.from({ length: plan.parts }, (_, i) => ({ name: `${name} part ${i + 1}`, plate: scenePlate(planOf(at, name, { part: i + 1 }), 0.5 * duration, paint) })) : [];
    return [...shown, ...single];
  });
  return [...scenes, ...Object.keys(at.lesson.figures).map((name) => ({ name, plate: figureOf(at, name, paint) }))];
};

/** The lesson with a show's own data, where the show has what it needs; and on the bench, where it has one. */
export const lessonEverywhere = async (slug: string, cache: string): Promise<LessonAt[]> => {
  const at: LessonAt[] = [];
  for (const scenario of SCENARIOS) {
    try {
      at.push(await lessonAt({ slug, cache, scenario: join(HOME, scenario) }));
    } catch (error) {
      if (!/needs .* which the scenario/.test(String(error))) throw error;
    }
  }
  if (at[0]?.written.front.scales["bench"] !== undefined) at.push(await lessonAt({ slug, cache, link: "#page.scale=bench" }));
  return at;
};
