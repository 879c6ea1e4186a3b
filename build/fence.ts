/** From the `ts` fence of a lesson to the lesson itself: bundled for Node with the file's own line numbers, then imported. */
import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { SourceMap } from "node:module";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { build, type Message, type Plugin } from "esbuild";
import type { Lesson } from "../shared/lesson.ts";
import type { Scenario } from "../shared/scenario/scenario.ts";
import { writeCached } from "./cache.ts";
import { runnable } from "./home.ts";
import type { Fence } from "./markdown.ts";
import { nearestName, wayOut } from "./nearest.ts";
import type { Problem } from "./problem.ts";

/** What a fence may import, and the file that stands behind each name. */
export const MODULES: Readonly<Record<string, string>> = {
  ridedown: "lib/index.ts",
  "ridedown/lesson": "shared/lesson.ts",
  "ridedown/scenario": "shared/scenario/index.ts",
  "ridedown/scenes": "shared/scenes/index.ts",
  "ridedown/figures": "shared/figures/index.ts",
};

/** The fence as a module of its own, on the lines it has in the Markdown file. */
export const fenceSource = (fence: Fence): string => "\n".repeat(fence.line - 1) + fence.code;

const SCENARIO_MODULE = (scenario: Scenario): string => `export const scenario = ${JSON.stringify(scenario)};
export const part = (name) => {
  if (scenario[name] === undefined) throw new Error("the scenario has no " + name + "; name it under needs: in the front matter");
  return scenario[name];
};`;

/** The scenario's data in place of the module that declares it. */
export const scenarioData = (scenario: Scenario): Plugin => ({
  name: "scenario",
  setup: ({ onLoad }) => {
    onLoad({ filter: /[\\/]shared[\\/]scenario[\\/]index\.ts$/ }, () => ({ contents: SCENARIO_MODULE(scenario), loader: "js" }));
  },
});

/** `entry` stands for the fence; its imports are limited to the names above. */
export const fenceModule = (home: string, file: string, fence: Fence): Plugin => ({
  name: "fence",
  setup: ({ onResolve, onLoad }) => {
    onResolve({ filter: /^fence$/ }, () => ({ path: file, namespace: "lesson" }));
    onResolve({ filter: /.*/, namespace: "lesson" }, ({ path }) => {
      if (Object.hasOwn(MODULES, path)) return { path: join(home, MODULES[path] as string), sideEffects: false };
      const near = nearestName(path, Object.keys(MODULES));
      return { errors: [{ text: `a lesson imports ${Object.keys(MODULES).join(", ")}; not ${path}${near === undefined ? "" : `; the nearest is ${near}`}` }] };
    });
    onLoad({ filter: /.*/, namespace: "lesson" }, () => ({ contents: fenceSource(fence), loader: "ts", resolveDir: home }));
  },
});

/** An esbuild message at its place in the Markdown file. */
export const problemOf = (message: Message, file: string): Problem => {
  const place = message.location;
  const inFence = place !== null && place.file.startsWith("lesson:");
  return {
    file: inFence || place === null ? file : place.file,
    line: place?.line ?? 1,
    column: (place?.column ?? 0) + 1,
    message: message.text,
  };
};

export interface Evaluated {
  readonly lesson: Lesson;
  /** Identifies everything that decides what the lesson computes: its code, the kernels it uses, the scenario. */
  readonly hash: string;
  /** Where in the Markdown file an error thrown by the lesson's code began. */
  readonly placeOf: (error: unknown) => { line: number; column: number } | undefined;
}

const isLesson = (value: unknown): value is Lesson => typeof value === "object" && value !== null && typeof (value as Lesson).run === "function" && typeof (value as Lesson).inputs === "object" && typeof (value as Lesson).claims === "object";

/** Adds the nearest export to the bundler's message on an import that is not there. */
const withNearest = async (problem: Problem): Promise<Problem> => {
  const [, module, name] = /^No matching export in "(.+)" for import "(.+)"$/.exec(problem.message) ?? [];
  if (module === undefined || name === undefined) return problem;
  const exported = Object.keys((await import(/* @vite-ignore */ runnable(module).href)) as object);
  return { ...problem, message: problem.message + wayOut(name, exported) };
};

export interface FenceOptions {
  readonly home: string;
  readonly cache: string;
  readonly file: string;
  readonly slug: string;
  readonly scenario: Scenario;
}

export const evaluateFence = async (fence: Fence, { home, cache, file, slug, scenario }: FenceOptions): Promise<Evaluated | { readonly problems: readonly Problem[] }> => {
  let text: string;
  let map: string;
  try {
    const built = await build({
      entryPoints: ["fence"],
      bundle: true,
      write: false,
      format: "esm",
      platform: "node",
      target: "node20",
      keepNames: true,
      sourcemap: "external",
      sourcesContent: false,
      outfile: "lesson.mjs",
      logLevel: "silent",
      absWorkingDir: home,
      plugins: [fenceModule(home, file, fence), scenarioData(scenario)],
    });
    text = built.outputFiles.find((f) => f.path.endsWith(".mjs"))?.text ?? "";
    map = built.outputFiles.find((f) => f.path.endsWith(".map"))?.text ?? "{}";
  } catch (error) {
    const messages = (error as { errors?: Message[] }).errors;
    if (messages === undefined) throw error;
    return { problems: await Promise.all(messages.map(async (m) => withNearest(problemOf(m, file)))) };
  }
  const hash = createHash("sha256").update(text).digest("hex").slice(0, 20);
  const folder = resolve(cache, "lessons");
  const name = `${slug}.${hash}.mjs`;
  const path = join(folder, name);
  if (!existsSync(path)) writeCached(folder, slug, name, text);
  const placeOf = (error: unknown): { line: number; column: number } | undefined => {
    if (!(error instanceof Error)) return undefined;
    const source = new SourceMap(JSON.parse(map));
    for (const found of (error.stack ?? "").matchAll(new RegExp(`${slug}\\.${hash}\\.mjs:(\\d+):(\\d+)`, "g"))) {
      const entry = source.findEntry(Number(found[1]) - 1, Number(found[2]) - 1);
      if ("originalSource" in entry && String(entry.originalSource).startsWith("lesson:")) return { line: entry.originalLine + 1, column: entry.originalColumn + 1 };
    }
    return undefined;
  };
  try {
    const exported = ((await import(/* @vite-ignore */ pathToFileURL(path).href)) as { default?: unknown }).default;
    if (!isLesson(exported)) return { problems: [{ file, line: fence.line, column: 1, message: "the fence must say: export default lesson({ … })" }] };
    return { lesson: exported, hash, placeOf };
  } catch (error) {
    const place = placeOf(error) ?? { line: fence.line, column: 1 };
    return { problems: [{ file, ...place, message: `the fence does not load: ${error instanceof Error ? error.message : String(error)}` }] };
  }
};
