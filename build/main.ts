/** The command line: build, serve, new. */
import { mkdirSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { nearestName } from "./nearest.ts";
import { writeProblem } from "./problem.ts";

const USAGE = `usage:
  npm run build -- [--scenario file.yaml] [--out dist] [--lessons folder]
  npm start     -- [--scenario file.yaml] [--port 4173] [--lessons folder]
  npm run new   -- "Title of the lesson"`;

const COMMANDS = ["build", "serve", "new"];

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
      },
    });
  } catch (error) {
    return refuse(error instanceof Error ? error.message : String(error));
  }
};

/** Replaces what an earlier build wrote, and nothing else. */
const OURS = /\.(html|js|css)$/;
export const writeSite = (folder: string, files: Readonly<Record<string, string>>): void => {
  mkdirSync(folder, { recursive: true });
  for (const old of readdirSync(folder)) if (OURS.test(old) && !(old in files)) rmSync(join(folder, old));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
};

const { values, positionals } = readArguments();
const [command = "", ...rest] = positionals;
const lessons = values.lessons === undefined ? undefined : resolve(values.lessons);

if (command === "build") {
  if (rest.length > 0) refuse(`build takes no ${rest[0]}`);
  const begun = performance.now();
  const { Site, HOME } = await import("./site.ts");
  const { weights, writeWeights } = await import("./size.ts");
  const site = new Site({ scenario: values.scenario, ...(lessons !== undefined && { lessons }) });
  const built = await site.build({ claims: !values["no-claims"] });
  if (built.problems.length > 0) {
    for (const problem of built.problems) console.error(writeProblem(problem));
    console.error(`${built.problems.length} ${built.problems.length === 1 ? "problem" : "problems"}; nothing was written`);
    process.exit(1);
  }
  const out = resolve(values.out ?? join(HOME, "dist"));
  writeSite(out, built.files);
  console.log(`${built.lessons.length} ${built.lessons.length === 1 ? "lesson" : "lessons"} in ${(performance.now() - begun).toFixed(0)} ms; first load of each page, after gzip -9:`);
  console.log(writeWeights(weights(built.files)));
  console.log(`open ${join(out, "index.html")}`);
} else if (command === "serve") {
  const { serve } = await import("./serve.ts");
  const port = values.port === undefined ? 4173 : Number(values.port);
  if (!Number.isInteger(port) || port < 0 || port > 65535) refuse(`--port must be a whole number from 0 to 65535, got ${values.port}`);
  await serve({ port, scenario: values.scenario, lessons });
} else if (command === "new") {
  const { newLesson } = await import("./new.ts");
  const { HOME } = await import("./site.ts");
  const made = newLesson(rest.join(" "), lessons ?? join(HOME, "lessons"));
  if ("problem" in made) refuse(made.problem);
  else console.log(`wrote ${made.path}; npm start shows it`);
} else {
  const near = nearestName(command, COMMANDS);
  refuse(command === "" ? "which command?" : `${command} is not a command${near === undefined ? "" : `; the nearest is ${near}`}`);
}
