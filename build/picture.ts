/** From a lesson at a state to pictures: which part, painted with the page's own style sheets, drawn as pixels. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Scene } from "../shared/lesson.ts";
import type { Figure } from "../shared/figures/figure.ts";
import { cautionFor } from "../shared/export/caution.ts";
import { figurePlate } from "../shared/export/figurePlate.ts";
import { type Painter, painter, readStyles, type Styles } from "../shared/export/paint.ts";
import { type Ground, paperOf, type Plate } from "../shared/export/plate.ts";
import { planScene, type ScenePlan, scenePlate } from "../shared/export/scenePlate.ts";
import { HOME } from "./home.ts";
import { wayOut } from "./nearest.ts";
import type { LessonAt } from "./oneLesson.ts";
import { Refusal } from "./refusal.ts";

const SHEETS = ["tokens", "drawing", "figure"];

let styles: Styles | undefined;

/** The page's style sheets as paint. */
export const painterFor = (ground: Ground): Painter => painter((styles ??= readStyles(SHEETS.map((name) => readFileSync(join(HOME, "shared/styles", `${name}.css`), "utf8")).join("\n"))), paperOf(ground));

export const sceneNamed = ({ lesson, slug }: LessonAt, name: string): Scene => {
  const scene = Object.hasOwn(lesson.scenes, name) ? lesson.scenes[name] : undefined;
  if (scene === undefined) throw new Refusal(`--scene: ${slug} has no scene ${name}${wayOut(name, Object.keys(lesson.scenes))}`);
  return scene as unknown as Scene;
};

export const planOf = (at: LessonAt, name: string, options: { readonly title?: string; readonly part?: number } = {}): ScenePlan => {
  try {
    return planScene({ scene: sceneNamed(at, name), state: at.state, write: at.write, names: at.names, caution: cautionFor(at.written.front.needs), ...options });
  } catch (error) {
    throw error instanceof RangeError ? new Refusal(error.message) : error;
  }
};

/** From the clock that a reader sees to the scene's own: it counts from first touch where there is one. */
export const clockOf = (at: LessonAt, name: string): { readonly from: number; readonly to: number; readonly touch: number } => {
  const scene = sceneNamed(at, name);
  const touch = scene.touch?.(at.state) ?? 0;
  return { from: -touch, to: scene.duration(at.state) - touch, touch };
};

export const figureOf = (at: LessonAt, name: string, paint: Painter, options: { readonly title?: string } = {}): Plate => {
  const make = Object.hasOwn(at.lesson.figures, name) ? at.lesson.figures[name] : undefined;
  if (make === undefined) throw new Refusal(`--figure: ${at.slug} has no figure ${name}${wayOut(name, Object.keys(at.lesson.figures))}`);
  return figurePlate({ figure: (make as (state: unknown) => Figure)(at.state), units: at.units, locale: at.locale, names: at.names, caution: cautionFor(at.written.front.needs), ...options }, paint);
};

export { scenePlate };
