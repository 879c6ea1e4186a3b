/** Stills of a lesson: each scene and figure asked for, as SVG and as PNG, with a list of what they are and what was checked. */
import { createHash } from "node:crypto";
import { mkdirSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { checkPlate, type PlateReport } from "../shared/export/checks.ts";
import { instantText, stateText, stillName } from "../shared/export/fileNames.ts";
import { type Ground, HEIGHT, isClear, type Plate, type Size, SIZES, WIDTH, writePlate } from "../shared/export/plate.ts";
import type { ScenePlan } from "../shared/export/scenePlate.ts";
import { INTER } from "../shared/export/type/inter.ts";
import type { LessonAt } from "./oneLesson.ts";
import { clockOf, figureOf, painterFor, planOf, scenePlate } from "./picture.ts";
import { drawPixels, pngOf, type Renderer } from "./raster.ts";
import { Refusal } from "./refusal.ts";

/** A still is looked at for long and sent about. */
const LEVEL = 9;

export interface StillWanted {
  readonly at: LessonAt;
  /** Left out, all scenes and figures of the page. */
  readonly scene?: string;
  readonly figure?: string;
  /** On the clock that a reader sees [s]; left out, the beginning, and of all scenes the end too. */
  readonly instant?: number;
  readonly title?: string;
  readonly part?: number;
  readonly size: Size;
  readonly ground: Ground;
  readonly out: string;
  /** Words out of the safe area are reported, and do not fail. */
  readonly allowOutside?: boolean;
}

export interface Still {
  readonly name: string;
  readonly shows: Readonly<Record<string, string | number>>;
  readonly title: string;
  readonly says: string;
  /** Words of the scene that had no room: `--part` gives each part of a scene a picture of its own. */
  readonly leftOut: readonly string[];
  readonly files: Readonly<Record<"svg" | "png", { readonly name: string; readonly sha256: string }>>;
  readonly checks: PlateReport;
}

export const shaOf = (bytes: string | Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

export const writeWhole = (path: string, bytes: string | Uint8Array): void => {
  writeFileSync(`${path}.part`, bytes);
  renameSync(`${path}.part`, path);
};

/** Facts that every list of pictures begins with. */
export const headOf = (at: LessonAt, size: Size, ground: Ground) => ({
  made: `ridedown ${at.version}`,
  lesson: at.slug,
  title: at.written.front.title,
  scenario: at.scenario.title,
  inputs: Object.fromEntries(Object.entries(at.state.inputs).filter(([, value]) => typeof value !== "object")),
  state: at.link,
  units: at.units,
  width: WIDTH * SIZES[size],
  height: HEIGHT * SIZES[size],
  ground,
  alpha: isClear(ground) ? "straight" : "opaque",
  colour: "sRGB",
  type: `${INTER.name}, outlined`,
});

/** What is wrong with the words of a plate, said to the person who asked for it. */
export const faultsOf = ({ outside, small, leastCap }: PlateReport): { readonly outside: string[]; readonly small: string[] } => ({
  outside: outside.map(({ words, by }) => `\u201c${words}\u201d reaches ${by} px out of the graphics-safe area`),
  small: small.map(({ words, cap }) => `\u201c${words}\u201d has capitals of ${cap} px, under ${leastCap} px`),
});

/** Scenes or figures of the page that the state belongs to: what a class measured is drawn on the bench page alone. */
const partsOf = ({ written: { prose }, lesson }: LessonAt, scheme: "scene" | "figure"): string[] => {
  const onBench = lesson.scale !== undefined && prose.bench !== undefined;
  const shown = prose.parts.flatMap((part) => (part.scheme === scheme && part.bench === onBench ? [part.name] : []));
  return Object.keys(scheme === "scene" ? lesson.scenes : lesson.figures).filter((name) => shown.includes(name));
};

export const makeStills = async ({ at, scene, figure, instant, size, ground, out, allowOutside = false, ...options }: StillWanted): Promise<{ readonly stills: readonly Still[]; readonly warnings: readonly string[]; readonly list: string }> => {
  const paint = painterFor(ground);
  const wanted: { name: string; shows: Record<string, string | number>; plate: Plate; leftOut: readonly string[] }[] = [];
  const all = scene === undefined && figure === undefined;
  for (const name of scene !== undefined ? [scene] : all ? partsOf(at, "scene") : []) {
    const { from, to, touch } = clockOf(at, name);
    const times = instant !== undefined ? [instant] : all && to > 0 ? [0, to] : [0];
    // The last instant is rounded where it is shown.
    for (const time of times) if (time < from - 5e-4 || time > to + 5e-4) throw new Refusal(`--at must be from ${from.toFixed(3)} to ${to.toFixed(3)} s for scene ${name}, got ${time}`);
    const draw = (part: number | undefined, instants: readonly number[]): ScenePlan => {
      const plan = planOf(at, name, { ...options, ...(part !== undefined && { part }) });
      for (const time of instants) wanted.push({ name: `${name}${to > from ? `-${instantText(time)}` : ""}${part === undefined ? "" : `-part${part}`}`, shows: { scene: name, at: time, ...(part !== undefined && { part }) }, plate: scenePlate(plan, Math.max(0, time + touch), paint), leftOut: plan.leftOut });
      return plan;
    };
    const { leftOut, parts } = draw(options.part, times);
    // What the whole has no room for, its parts have.
    if (all && options.part === undefined && leftOut.length > 0 && parts > 1) for (let part = 1; part <= parts; part++) draw(part, times.slice(-1));
  }
  for (const name of figure !== undefined ? [figure] : all ? partsOf(at, "figure") : []) wanted.push({ name, shows: { figure: name }, plate: figureOf(at, name, paint, options), leftOut: [] });

  const checked = wanted.map(({ plate }) => checkPlate(plate, size));
  const faults = checked.map(faultsOf);
  const outside = faults.flatMap((each, i) => each.outside.map((words) => `${wanted[i]?.name}: ${words}`));
  if (outside.length > 0 && !allowOutside) throw new Refusal(`${outside.join("\n")}\nnothing was written; shorten the words, or add --allow-outside`);

  const { Resvg } = (await import("@resvg/resvg-js")) as unknown as { Resvg: Renderer };
  mkdirSync(out, { recursive: true });
  const named = { slug: at.slug, state: stateText(at.link), size, ground, version: at.version };
  const stills = wanted.map(({ name, shows, plate, leftOut }, i): Still => {
    const base = stillName({ ...named, shows: name });
    const svg = writePlate(plate, paint, ground, size);
    const png = pngOf(drawPixels(Resvg, svg), LEVEL);
    writeWhole(join(out, `${base}.svg`), svg);
    writeWhole(join(out, `${base}.png`), png);
    return { name: base, shows, title: plate.title, says: plate.says, leftOut, files: { svg: { name: `${base}.svg`, sha256: shaOf(svg) }, png: { name: `${base}.png`, sha256: shaOf(png) } }, checks: checked[i] as PlateReport };
  });
  const list = join(out, `${stillName({ ...named, shows: "stills" })}.json`);
  writeWhole(list, `${JSON.stringify({ ...headOf(at, size, ground), stills }, null, 2)}\n`);
  return { stills, warnings: [...(allowOutside ? outside : []), ...faults.flatMap((each, i) => each.small.map((words) => `${wanted[i]?.name}: ${words}`))], list };
};
