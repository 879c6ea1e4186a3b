/** What is typed after `stills` and `frames`, checked and carried out. */
import { join, resolve } from "node:path";
import { type Ground, GROUNDS, type Size, SIZES } from "../shared/export/plate.ts";
import { decimal, type Ratio, RATES, ratioText, toMicro, valueOf } from "../shared/export/rate.ts";
import { makeFrames } from "./frames.ts";
import { typed, WORK } from "./home.ts";
import { wayOut } from "./nearest.ts";
import { type LessonAt, lessonAt } from "./oneLesson.ts";
import { clockOf } from "./picture.ts";
import { type PICTURE_OPTIONS, RATE_NAMES } from "./pictureOptions.ts";
import { progressOf } from "./progress.ts";
import { Refusal } from "./refusal.ts";
import { makeStills } from "./stills.ts";

type Typed = { readonly [K in Exclude<keyof typeof PICTURE_OPTIONS, "state">]?: (typeof PICTURE_OPTIONS)[K]["type"] extends "boolean" ? boolean | undefined : string | undefined } & { readonly state?: readonly string[] | undefined; readonly scenario?: string | undefined; readonly out?: string | undefined; readonly lessons?: string | undefined };

const oneOf = <W extends string>(option: string, value: string | undefined, words: readonly W[], usual: W): W => {
  const found = words.find((word) => word === (value ?? usual));
  if (found === undefined) throw new Refusal(`--${option} must be one of ${words.join(", ")}, got ${value}`);
  return found;
};

const number = (option: string, value: string): Ratio => {
  const read = decimal(value);
  if (read === undefined) throw new Refusal(`--${option} must be a decimal number, got ${value}`);
  return read;
};

const common = async (slug: string | undefined, values: Typed) => {
  if (slug === undefined) throw new Refusal("which lesson?");
  const [link, further] = values.state ?? [];
  if (further !== undefined) throw new Refusal(`--state, once, not also ${further}`);
  const at: LessonAt = await lessonAt({ slug, ...(link !== undefined && { link }), lessons: resolve(values.lessons ?? join(WORK, "lessons")), scenario: values.scenario });
  const part = values.part === undefined ? undefined : Number(values.part);
  if (part !== undefined && !Number.isInteger(part)) throw new Refusal(`--part must be a whole number, got ${values.part}`);
  const size: Size = oneOf("size", values.size, Object.keys(SIZES) as Size[], "hd");
  const ground: Ground = oneOf("ground", values.ground, GROUNDS, "light");
  return { at, size, ground, allowOutside: values["allow-outside"] === true, ...(values.title !== undefined && { title: values.title }), ...(part !== undefined && { part }) };
};

const warn = (warnings: readonly string[]): void => {
  for (const warning of warnings) console.error(`warning: ${warning}`);
};

export const stillsCommand = async (slug: string | undefined, values: Typed): Promise<void> => {
  const wanted = await common(slug, values);
  if (values.scene !== undefined && values.figure !== undefined) throw new Refusal("--scene or --figure, not both");
  const out = resolve(values.out ?? join(WORK, "dist", "stills"));
  const { stills, warnings, list } = await makeStills({
    ...wanted,
    out,
    ...(values.scene !== undefined && { scene: values.scene }),
    ...(values.figure !== undefined && { figure: values.figure }),
    ...(values.at !== undefined && { instant: valueOf(number("at", values.at)) }),
  });
  warn(warnings);
  for (const { files, checks, leftOut, shows } of stills) console.log(`${join(out, files.png.name)} and .svg: capitals of ${checks.cap} px or more${leftOut.length === 0 ? "" : `; no room for ${leftOut.length} of the scene's readings${shows["part"] === undefined ? ", --part shows one part larger" : ""}`}`);
  console.log(`${stills.length} ${stills.length === 1 ? "still" : "stills"}; what was checked is in ${list}`);
};

export const framesCommand = async (slug: string | undefined, values: Typed): Promise<void> => {
  const { at, size, ground, ...rest } = await common(slug, values);
  const scenes = Object.keys(at.lesson.scenes);
  const scene = values.scene ?? (scenes.length === 1 ? scenes[0] : undefined);
  if (scene === undefined) throw new Refusal(`--scene must name a scene${wayOut("", scenes)}`);
  const rate = values.rate === undefined ? undefined : RATES[values.rate];
  if (rate === undefined) throw new Refusal(`--rate must be one of ${RATE_NAMES.join(", ")}, got ${values.rate ?? "none"}`);
  const slowed = number("slowed", values.slowed ?? "1");
  if (slowed.over <= 0n) throw new Refusal(`--slowed must be > 0, got ${values.slowed}`);
  const clock = clockOf(at, scene);
  if (clock.to - clock.from <= 0) throw new Refusal(`scene ${scene} stands still; ${typed("stills")} makes a picture of it`);
  const timing = { rate, slowed, from: values.from === undefined ? toMicro(clock.from) : number("from", values.from), to: values.to === undefined ? toMicro(clock.to) : number("to", values.to) };
  const out = resolve(values.out ?? join(WORK, "dist", "frames", `${at.slug}-${scene}-${values.rate}-${size}-${ground}`));
  let bar: ReturnType<typeof progressOf> | undefined;
  const begun = performance.now();
  const { count, kept, flashes, list, warnings } = await makeFrames({
    at,
    scene,
    timing,
    size,
    ground,
    out,
    ...rest,
    onProgress: (done, total, already) => {
      bar ??= progressOf(total, "frames", process.stderr, already);
      bar.at(done);
    },
  });
  bar?.end();
  warn(warnings);
  const seconds = (performance.now() - begun) / 1000;
  console.log(`${count} frames of ${values.rate} a second (${ratioText(rate)}), the event slowed ${ratioText(slowed)} times, in ${out}: ${count - kept} drawn in ${seconds.toFixed(1)} s${kept === 0 ? "" : `, ${kept} kept from before`}`);
  console.log(`flashes in any one second: general ${flashes.general.most}, red ${flashes.red.most}; at most ${(100 * flashes.general.area).toFixed(0)} % of the picture changes at once; what was checked is in ${list}`);
  if (!flashes.passes) throw new Refusal("more than three flashes in a second: not for viewers; slow the event further");
};
