#!/usr/bin/env node
/** The command line: build, serve, new, stills, frames. */
import { readdirSync, statSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { INSTALLED, typed, WORK } from "./home.ts";
import { nearestName } from "./nearest.ts";
import { PICTURE_OPTIONS, PICTURE_USAGE } from "./pictureOptions.ts";
import { BuildError, writeProblem } from "./problem.ts";
import { Refusal } from "./refusal.ts";
import { writeSite } from "./writeSite.ts";

const USAGE = `usage:
  ${typed("build")} [folder of lessons] [--scenario file.yaml] [--out dist]
  ${typed("serve")} [folder of lessons] [--scenario file.yaml] [--port 4173]
  ${typed("new")} "Title of the lesson" [--lessons folder]
  ${typed("pack-show")} [folder of lessons] [--scenario file.yaml] [--out dist/show] [--date 2031-05-17] [--by "who"] [--state "lesson.html#massA=900&…"]… [--no-stills]
${PICTURE_USAGE}`;

const COMMANDS = ["build", "serve", "new", "stills", "frames", "pack-show"];

const refuse = (message: string): never => {
  console.error(`${message}\n${USAGE}`);
  process.exit(1);
};

const readArguments = () => {
  try {
    return parseArgs({
      allowPositionals: true,
      options: {
        scenario: { type: "string" },
        out: { type: "string" },
        port: { type: "string" },
        lessons: { type: "string" },
        "no-claims": { type: "boolean" },
        date: { type: "string" },
        by: { type: "string" },
        "no-stills": { type: "boolean" },
        ...PICTURE_OPTIONS,
      },
    });
  } catch (error) {
    return refuse(error instanceof Error ? error.message : String(error));
  }
};

const { values, positionals } = readArguments();
const [command = "", ...rest] = positionals;

/** The one folder of lessons that a command is about. */
const lessonsFolder = (): string => {
  const [folder, further] = values.lessons === undefined ? rest : [values.lessons, ...rest];
  if (further !== undefined) refuse(`${command} takes one folder, not also ${further}`);
  const path = resolve(folder ?? join(WORK, "lessons"));
  if (!statSync(path, { throwIfNoEntry: false })?.isDirectory()) refuse(`there is no folder ${path}`);
  if (!readdirSync(path).some((name) => name.endsWith(".md"))) refuse(`there is no lesson in ${path}; ${typed("new")} "A title" --lessons ${folder ?? "lessons"} begins one`);
  return path;
};

if (command === "build") {
  const lessons = lessonsFolder();
  const begun = performance.now();
  const { Site } = await import("./site.ts");
  const { weights, writeWeights } = await import("./size.ts");
  const site = new Site({ scenario: values.scenario, lessons });
  const built = await site.build({ claims: !values["no-claims"] });
  for (const warning of built.warnings) console.error(writeProblem(warning));
  if (built.problems.length > 0) {
    for (const problem of built.problems) console.error(writeProblem(problem));
    console.error(`${built.problems.length} ${built.problems.length === 1 ? "problem" : "problems"}; nothing was written`);
    process.exit(1);
  }
  const out = resolve(values.out ?? join(WORK, "dist"));
  writeSite(out, built.files);
  console.log(`${built.lessons.length} ${built.lessons.length === 1 ? "lesson" : "lessons"} in ${(performance.now() - begun).toFixed(0)} ms; first load of each page, after gzip -9:`);
  for (const [slug, parts] of Object.entries(built.leftOut)) console.log(`left out: ${slug}, since the scenario has no ${parts.join(" and no ")}`);
  console.log(writeWeights(weights(built.files)));
  console.log(`open ${join(out, "index.html")}`);
} else if (command === "serve") {
  const { serve } = await import("./serve.ts");
  const port = values.port === undefined ? 4173 : Number(values.port);
  if (!Number.isInteger(port) || port < 0 || port > 65535) refuse(`--port must be a whole number from 0 to 65535, got ${values.port}`);
  await serve({ port, scenario: values.scenario, lessons: lessonsFolder() });
} else if (command === "pack-show") {
  const lessons = lessonsFolder();
  const { packShow } = await import("./packCommand.ts");
  const problem = await packShow({ lessons, scenario: values.scenario, out: resolve(values.out ?? join(WORK, "dist", "show")), date: values.date, by: values.by ?? "", claims: !values["no-claims"], stills: !values["no-stills"], states: values.state });
  if (problem !== undefined) refuse(problem);
} else if (command === "new") {
  const { newLesson } = await import("./new.ts");
  const made = newLesson(rest.join(" "), resolve(values.lessons ?? join(WORK, "lessons")));
  if ("problem" in made) refuse(made.problem);
  else console.log(`wrote ${made.path}; ${typed("serve").replace(/ --$/, "")}${INSTALLED ? ` ${dirname(made.path)}` : ""} shows it`);
} else if (command === "stills" || command === "frames") {
  const { stillsCommand, framesCommand } = await import("./pictureCommands.ts");
  if (rest.length > 1) refuse(`${command} takes one lesson, not also ${rest.slice(1).join(" ")}`);
  try {
    await (command === "stills" ? stillsCommand : framesCommand)(rest[0], values);
  } catch (error) {
    if (!(error instanceof Refusal || error instanceof BuildError)) throw error;
    console.error(error.message);
    process.exit(1);
  }
} else {
  const near = nearestName(command, COMMANDS);
  refuse(command === "" ? "which command?" : `${command} is not a command${near === undefined ? "" : `; the nearest is ${near}`}`);
}
