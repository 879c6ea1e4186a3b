/** Scripts and styles of the site. Classic scripts only: a page opens from disk, where modules and fetching are blocked. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { build, transform, type Message, type Plugin } from "esbuild";
import type { Scenario } from "../shared/scenario/scenario.ts";
import { MODULES, fenceSource, problemOf, scenarioData } from "./fence.ts";
import { scriptJson } from "./html.ts";
import type { Fence } from "./markdown.ts";
import { BuildError } from "./problem.ts";

export type Files = Readonly<Record<string, string>>;

/** The page script's global that stands behind each name a fence may import. */
const GLOBALS: Readonly<Record<string, string>> = {
  ridedown: "ridedown.lib",
  "ridedown/lesson": "ridedown.lesson",
  "ridedown/scenario": "{ scenario: ridedown.scenario }",
  "ridedown/scenes": "ridedown.scenes",
  "ridedown/figures": "ridedown.figures",
};

const COMMON = { bundle: true, write: false, format: "iife", target: "es2022", minify: true, legalComments: "none", charset: "utf8", logLevel: "silent" } as const;

/** Scripts that every lesson shares, by the file they come from. */
const SHARED: Readonly<Record<string, string>> = { "gate.js": "shared/gate.ts", "page.js": "shared/page.ts", "plot.js": "shared/plot.ts" };

const script = async (home: string, entry: string, scenario: Scenario): Promise<string> => {
  try {
    // keepNames: "where this comes from" finds a kernel by its name.
    const built = await build({ ...COMMON, entryPoints: [join(home, entry)], absWorkingDir: home, keepNames: entry !== "shared/plot.ts" && entry !== "shared/gate.ts", plugins: [scenarioData(scenario)] });
    return built.outputFiles[0]?.text ?? "";
  } catch (error) {
    const messages = (error as { errors?: Message[] }).errors;
    if (messages === undefined) throw error;
    throw new BuildError(messages.map((m) => problemOf(m, entry)));
  }
};

/** page.js, gate.js, plot.js and page.css: the same for every lesson of a scenario. */
export const sharedFiles = async (home: string, scenario: Scenario): Promise<Files> => {
  const scripts = Object.entries(SHARED).filter(([, entry]) => existsSync(join(home, entry)));
  const built = await Promise.all(scripts.map(async ([name, entry]) => [name, await script(home, entry, scenario)] as const));
  return { ...Object.fromEntries(built), "page.css": await styles(home) };
};

/** Style sheets in the order tokens, page, elements, then the rest, then print. */
const ORDER = ["tokens.css", "page.css", "elements.css"];
const styles = async (home: string): Promise<string> => {
  const folder = join(home, "shared/styles");
  if (!existsSync(folder)) return "";
  const rank = (f: string): number => (f === "print.css" ? 99 : ORDER.includes(f) ? ORDER.indexOf(f) : ORDER.length);
  const files = readdirSync(folder).filter((f) => f.endsWith(".css")).sort((p, q) => rank(p) - rank(q) || (p < q ? -1 : 1));
  const text = files.map((f) => readFileSync(join(folder, f), "utf8")).join("\n");
  return (await transform(text, { loader: "css", minify: true, legalComments: "none", target: "es2022" })).code;
};

const fenceForPage = (file: string, fence: Fence, data: object): Plugin => ({
  name: "fenceForPage",
  setup: ({ onResolve, onLoad }) => {
    onResolve({ filter: /^start$/ }, () => ({ path: "start", namespace: "start" }));
    onResolve({ filter: /^fence$/, namespace: "start" }, () => ({ path: file, namespace: "lesson" }));
    onResolve({ filter: /.*/, namespace: "lesson" }, ({ path }) => (Object.hasOwn(MODULES, path) ? { path, namespace: "global" } : null));
    onLoad({ filter: /.*/, namespace: "start" }, () => ({ contents: `import lesson from "fence"; ridedown.start(lesson, ${scriptJson(data)});`, loader: "js" }));
    onLoad({ filter: /.*/, namespace: "lesson" }, () => ({ contents: fenceSource(fence), loader: "ts" }));
    onLoad({ filter: /.*/, namespace: "global" }, ({ path }) => ({ contents: `module.exports = ${GLOBALS[path] as string};`, loader: "js" }));
  },
});

/** The small script of one lesson: its fence, and what only this page needs. */
export const lessonScript = async (file: string, fence: Fence, data: object): Promise<string> => {
  const built = await build({ ...COMMON, entryPoints: ["start"], outfile: "lesson.js", plugins: [fenceForPage(file, fence, data)] });
  return built.outputFiles[0]?.text ?? "";
};

