/** Stills of a lesson: each scene and figure asked for, as SVG and as PNG, with a list of what they are and what was checked. */
import { createHash } from "node:crypto";
import { mkdirSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Card } from "../shared/card/card.ts";
import { cautionFor } from "../shared/export/caution.ts";
import { checkPlate, type PlateReport } from "../shared/export/checks.ts";
import { instantText, stateText, stillName } from "../shared/export/fileNames.ts";
import type { Painter } from "../shared/export/paint.ts";
import { type Ground, HEIGHT, isClear, type Plate, type Size, SIZES, WIDTH, writePlate } from "../shared/export/plate.ts";
import { rangePlates } from "../shared/export/rangePlate.ts";
import { isWhole, type ScenePlan } from "../shared/export/scenePlate.ts";
import { INTER } from "../shared/export/type/inter.ts";
import type { TraceValue } from "../shared/lesson.ts";
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
  /** On the clock that a reader sees [s]; left out, the beginning, and of all scenes the instant that matters and the end too. */
  readonly instant?: number;
  readonly title?: string;
  readonly part?: number;
  readonly size: Size;
  readonly ground: Ground;
  readonly out: string;
  /** Words out of the safe area are reported, and do not fail. */
  readonly allowOutside?: boolean;
  /** A picture with words out of the safe area is not written, and costs no other. */
  readonly leaveOut?: boolean;
  /** A frozen card, of the rows that it holds up: they become a picture of their ranges, and its day stands in the list. */
  readonly card?: Card;
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
export const headOf = (at: LessonAt, size: Size, ground: Ground, day = "") => ({
  made: `ridedown ${at.version}`,
  ...(day !== "" && { day }),
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

/** A push that is as good as the largest: just past it, a pair that locks has let go. */
const NEARLY = 0.99;
/** An instant no further from the beginning or the end than this share of the whole looks like it. */
const NEAR = 0.1;

/** The instant that a scene is about, on the reader's clock: of the largest push, where the lesson traces one over time, else the one half way. */
const heightOf = ({ lesson, state }: LessonAt, { from, to }: { readonly from: number; readonly to: number }): number => {
  for (const [name, output] of Object.entries(lesson.outputs)) {
    if (output.type !== "trace" || output.axis.kind.id !== "duration") continue;
    const { axis, series } = state.outputs[name] as TraceValue;
    const pushes = Object.entries(output.series).flatMap(([key, { kind }]) => (kind.id === "force" ? [Array.from(series[key] ?? [], Math.abs)] : []));
    const largest = Math.max(0, ...pushes.flat());
    const at = axis[Array.from(axis).findIndex((_, i) => pushes.some((push) => largest > 0 && (push[i] ?? 0) >= NEARLY * largest))];
    const near = NEAR * (to - from);
    if (at !== undefined && at >= Math.max(0, from) + near && at <= to - near) return at;
  }
  // Where a clicker stops.
  return (Math.max(0, from) + to) / 2;
};

interface Wanted {
  readonly name: string;
  readonly shows: Readonly<Record<string, string | number>>;
  readonly plate: Plate;
  readonly leftOut: readonly string[];
}

/** Ranges of a card, on as many plates as they need. */
const rangesOf = (at: LessonAt, card: Card, paint: Painter): Wanted[] => {
  const plates = rangePlates({ card, caution: cautionFor(at.written.front.needs) }, paint);
  // Its day is on it: another day's is another file.
  const name = `ranges${card.frozen === "" ? "" : `-${card.frozen}`}`;
  return plates.map(({ plate }, i) => ({ name: plates.length === 1 ? name : `${name}-part${i + 1}`, shows: { ranges: plates.length === 1 ? "all" : `part ${i + 1} of ${plates.length}` }, plate, leftOut: [] }));
};

export const makeStills = async ({ at, scene, figure, instant, size, ground, out, allowOutside = false, leaveOut = false, card, ...options }: StillWanted): Promise<{ readonly stills: readonly Still[]; readonly warnings: readonly string[]; readonly list: string }> => {
  const paint = painterFor(ground);
  const all = scene === undefined && figure === undefined;
  const failed: string[] = [];
  /** Of all the pictures of a lesson, one that has no room costs no other. */
  const attempt = <T>(name: string, make: () => T): T | undefined => {
    try {
      return make();
    } catch (error) {
      if (!all || !(error instanceof RangeError)) throw error;
      failed.push(`${name}: not drawn: ${error.message}`);
      return undefined;
    }
  };
  const wanted: Wanted[] = (card !== undefined && attempt("ranges", () => rangesOf(at, card, paint))) || [];
  for (const name of scene !== undefined ? [scene] : all ? partsOf(at, "scene") : []) {
    const clock = clockOf(at, name);
    const { from, to, touch } = clock;
    const times = instant !== undefined ? [instant] : all && to > 0 ? [0, heightOf(at, clock), to] : [0];
    // The last instant is rounded where it is shown.
    for (const time of times) if (time < from - 5e-4 || time > to + 5e-4) throw new Refusal(`--at must be from ${from.toFixed(3)} to ${to.toFixed(3)} s for scene ${name}, got ${time}`);
    const draw = (part: number | undefined, instants: readonly number[]): ScenePlan => {
      const plan = planOf(at, name, { ...options, ...(part !== undefined && { part }) });
      for (const time of instants) wanted.push({ name: `${name}${to > from ? `-${instantText(time)}` : ""}${part === undefined ? "" : `-part${part}`}`, shows: { scene: name, at: time, ...(part !== undefined && { part }) }, plate: scenePlate(plan, Math.max(0, time + touch), paint), leftOut: plan.leftOut });
      return plan;
    };
    const plan = attempt(name, () => draw(options.part, times));
    // What the whole has no room for, its parts have.
    if (plan !== undefined && all && options.part === undefined && !isWhole(plan)) for (let part = 1; part <= plan.parts; part++) attempt(`${name}, part ${part}`, () => draw(part, times.slice(-1)));
  }
  for (const name of figure !== undefined ? [figure] : all ? partsOf(at, "figure") : []) attempt(name, () => wanted.push({ name, shows: { figure: name }, plate: figureOf(at, name, paint, options), leftOut: [] }));

  const checked = wanted.map((one) => {
    const checks = checkPlate(one.plate, size);
    return { ...one, checks, faults: faultsOf(checks) };
  });
  const outside = checked.flatMap(({ name, faults }) => faults.outside.map((words) => `${name}: ${words}`));
  if (outside.length > 0 && !allowOutside && !leaveOut) throw new Refusal(`${outside.join("\n")}\nnothing was written; shorten the words, or add --allow-outside`);

  const { Resvg } = (await import("@resvg/resvg-js")) as unknown as { Resvg: Renderer };
  mkdirSync(out, { recursive: true });
  const named = { slug: at.slug, state: stateText(at.link), size, ground, version: at.version };
  /** Scene and picture: a part that shows no more than its whole, or an instant at which nothing differs, is not a picture of its own. */
  const drawn = new Set<string>();
  const stills = checked.flatMap(({ name, shows, plate, leftOut, checks, faults }): Still[] => {
    if (leaveOut && faults.outside.length > 0) return [];
    const base = stillName({ ...named, shows: name });
    const svg = writePlate(plate, paint, ground, size);
    const png = pngOf(drawPixels(Resvg, svg), LEVEL);
    const sha = shaOf(png);
    const key = `${shows["scene"]} ${sha}`;
    if (shows["scene"] !== undefined && drawn.has(key)) return [];
    drawn.add(key);
    writeWhole(join(out, `${base}.svg`), svg);
    writeWhole(join(out, `${base}.png`), png);
    return [{ name: base, shows, title: plate.title, says: plate.says, leftOut, files: { svg: { name: `${base}.svg`, sha256: shaOf(svg) }, png: { name: `${base}.png`, sha256: sha } }, checks }];
  });
  const list = join(out, `${stillName({ ...named, shows: "stills" })}.json`);
  writeWhole(list, `${JSON.stringify({ ...headOf(at, size, ground, card?.frozen), stills }, null, 2)}\n`);
  return { stills, warnings: [...failed, ...(allowOutside ? outside : leaveOut ? outside.map((words) => `${words}; not drawn`) : []), ...checked.flatMap(({ name, faults }) => faults.small.map((words) => `${name}: ${words}`))], list };
};
