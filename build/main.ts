#!/usr/bin/env node
/** The command line. */
import { readdirSync, statSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { INSTALLED, typed, WORK } from "./home.ts";
import { writeLeftOut } from "./leftOut.ts";
import { nearestName, wayOut } from "./nearest.ts";
import { PICTURE_OPTIONS, PICTURE_USAGE } from "./pictureOptions.ts";
import { BuildError, writeProblem } from "./problem.ts";
import { Refusal } from "./refusal.ts";
import { writeSite } from "./writeSite.ts";

const USAGES: Readonly<Record<string, string>> = {
  build: `  ${typed("build")} [folder of lessons] [--scenario file.yaml] [--out dist]`,
  serve: `  ${typed("serve")} [folder of lessons] [--scenario file.yaml] [--port 4173]`,
  new: `  ${typed("new")} "Title of the lesson" [--lessons folder]`,
  "pack-show": `  ${typed("pack-show")} [folder of lessons] [--scenario file.yaml] [--out dist/show] [--date 2031-05-17] [--by "who"] [--state "lesson.html#massA=900&…"]… [--no-stills]`,
  stills: PICTURE_USAGE,
  frames: PICTURE_USAGE,
};
const COMMANDS = Object.keys(USAGES);

/** Of one command, or of all. */
const usage = (command: string): string => `usage:\n${Object.hasOwn(USAGES, command) ? USAGES[command] : [...new Set(Object.values(USAGES))].join("\n")}`;

const refuse = (message: string, about: string): never => {
  console.error(`${message}\n${usage(about)}`);
  process.exit(1);
};

const OPTIONS = {
  help: { type: "boolean", short: "h" },
  scenario: { type: "string" },
  out: { type: "string" },
  port: { type: "string" },
  lessons: { type: "string" },
  "no-claims": { type: "boolean" },
  date: { type: "string" },
  by: { type: "string" },
  "no-stills": { type: "boolean" },
  ...PICTURE_OPTIONS,
} as const;

const readArguments = () => {
  try {
    return parseArgs({ allowPositionals: true, options: OPTIONS });
  } catch (error) {
    const about = process.argv[2] ?? "";
    const message = error instanceof Error ? error.message : String(error);
    // The runtime's own words for it advise what does not help here.
    const [, unknown] = /^Unknown option '(-[^']*)'/.exec(message) ?? [];
    if (unknown === undefined) return refuse(message, about);
    const near = nearestName(unknown, Object.keys(OPTIONS).map((name) => `--${name}`));
    return refuse(`there is no option ${unknown}${near === undefined ? "" : `; the nearest is ${near}`}`, about);
  }
};

const { values, positionals } = readArguments();
const [command = "", ...rest] = positionals;
if (values.help) {
  console.log(usage(command));
  process.exit(0);
}

/** The one folder of lessons that a command is about. */
const lessonsFolder = (): string => {
  const [folder, further] = values.lessons === undefined ? rest : [values.lessons, ...rest];
  if (further !== undefined) refuse(`${command} takes one folder, not also ${further}`, command);
  const path = resolve(folder ?? join(WORK, "lessons"));
  if (!statSync(path, { throwIfNoEntry: false })?.isDirectory()) refuse(`there is no folder ${path}`, command);
  if (!readdirSync(path).some((name) => name.endsWith(".md"))) refuse(`there is no lesson in ${path}; ${typed("new")} "A title" --lessons ${folder ?? "lessons"} begins one`, command);
  return path;
};

if (command === "build") {
  const lessons = lessonsFolder();
  const begun = performance.now();
  const { DEMO, HOME, Site } = await import("./site.ts");
  const { named } = await import("./readLessons.ts");
  const { weights, writeWeights } = await import("./size.ts");
  const site = new Site({ scenario: values.scenario, lessons });
  const built = await site.build({ claims: !values["no-claims"] });
  const warn = (): void => built.warnings.forEach((warning) => console.error(writeProblem(warning)));
  if (built.problems.length > 0) {
    warn();
    for (const problem of built.problems) console.error(writeProblem(problem));
    console.error(`${built.problems.length} ${built.problems.length === 1 ? "problem" : "problems"}; nothing was written`);
    process.exit(1);
  }
  const out = resolve(values.out ?? join(WORK, "dist"));
  writeSite(out, built.files);
  console.log(`${built.lessons.length} ${built.lessons.length === 1 ? "lesson" : "lessons"} in ${(performance.now() - begun).toFixed(0)} ms; open ${join(out, "index.html")}`);
  console.log(writeWeights(weights(built.files)));
  // Last, so that it is what one sees.
  for (const words of writeLeftOut(built.leftOut, named(resolve(values.scenario ?? join(HOME, DEMO))))) console.log(words);
  warn();
} else if (command === "serve") {
  const { serve } = await import("./serve.ts");
  const port = values.port === undefined ? 4173 : Number(values.port);
  if (!Number.isInteger(port) || port < 0 || port > 65535) refuse(`--port must be a whole number from 0 to 65535, got ${values.port}`, command);
  await serve({ port, scenario: values.scenario, lessons: lessonsFolder() });
} else if (command === "pack-show") {
  const lessons = lessonsFolder();
  const { packShow } = await import("./packCommand.ts");
  const problem = await packShow({ lessons, scenario: values.scenario, out: resolve(values.out ?? join(WORK, "dist", "show")), date: values.date, by: values.by ?? "", claims: !values["no-claims"], stills: !values["no-stills"], states: values.state });
  if (problem !== undefined) refuse(problem, command);
} else if (command === "new") {
  const { newLesson } = await import("./new.ts");
  const made = newLesson(rest.join(" "), resolve(values.lessons ?? join(WORK, "lessons")));
  if ("problem" in made) refuse(made.problem, command);
  else console.log(`wrote ${made.path}; ${typed("serve").replace(/ --$/, "")}${INSTALLED ? ` ${dirname(made.path)}` : ""} shows it`);
} else if (command === "stills" || command === "frames") {
  const { stillsCommand, framesCommand } = await import("./pictureCommands.ts");
  if (rest.length > 1) refuse(`${command} takes one lesson, not also ${rest.slice(1).join(" ")}`, command);
  try {
    await (command === "stills" ? stillsCommand : framesCommand)(rest[0], values);
  } catch (error) {
    if (!(error instanceof Refusal || error instanceof BuildError)) throw error;
    console.error(error.message);
    process.exit(1);
  }
} else {
  refuse(command === "" ? "which command?" : `${command} is not a command${wayOut(command, COMMANDS)}`, "");
}
