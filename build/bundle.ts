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

/** The page script's global that stands behind a name a fence may import. The others are taken into the lesson's own script, as far as it uses them. */
const GLOBALS: Readonly<Record<string, string>> = {
  "ridedown/lesson": "ridedown.lesson",
  "ridedown/scenario": "ridedown.scenario",
};

/** Modules are strict, and stay so as scripts, whatever tsconfig lies about. */
const COMMON = { tsconfigRaw: { compilerOptions: { alwaysStrict: true } }, bundle: true, write: false, format: "iife", target: "es2022", minify: true, legalComments: "none", charset: "utf8", logLevel: "silent" } as const;

/** Scripts that every lesson shares, by the file they come from. */
const SHARED: Readonly<Record<string, string>> = { "gate.js": "shared/gate.ts", "page.js": "shared/page.ts", "plot.js": "shared/plot.ts", "evidence.js": "shared/evidence.ts", "card.js": "shared/cardTool.ts", "screen.js": "shared/onScreenTool.ts" };

/** What a worker runs before a lesson's own script: it travels as the text of a function. */
const WORKER: Readonly<Record<string, string>> = { "study.js": "shared/studyTool.ts" };
const asFunction = (text: string): string => `ridedown.studyCode=function(){${text.trimEnd()}\n};\n`;

/** Style sheets that a picture is painted with, and the version that its name carries: a script cannot read them off the page. */
export const PAINTS = ["tokens", "drawing", "figure"];
const givenTo = (home: string): Record<string, string> => {
  const paints = PAINTS.map((name) => join(home, "shared/styles", `${name}.css`)).filter(existsSync);
  return {
    RIDEDOWN_STYLES: JSON.stringify(paints.map((path) => readFileSync(path, "utf8")).join("\n")),
    RIDEDOWN_VERSION: JSON.stringify((JSON.parse(readFileSync(join(home, "package.json"), "utf8")) as { version: string }).version),
  };
};

const script = async (home: string, entry: string, scenario: Scenario): Promise<string> => {
  try {
    const built = await build({ ...COMMON, define: givenTo(home), entryPoints: [join(home, entry)], absWorkingDir: home, plugins: [scenarioData(scenario)] });
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
  const carried = await Promise.all(Object.entries(WORKER).map(async ([name, entry]) => [name, asFunction(await script(home, entry, scenario))] as const));
  return { ...Object.fromEntries([...built, ...carried]), "page.css": await styles(home), "card.css": await styles(home, "shared/styles/show") };
};

/** Style sheets in the order tokens, page, elements, then the rest, then print. */
const ORDER = ["tokens.css", "page.css", "elements.css"];
const styles = async (home: string, from = "shared/styles"): Promise<string> => {
  const folder = join(home, from);
  if (!existsSync(folder)) return "";
  const rank = (f: string): number => (f === "print.css" ? 99 : ORDER.includes(f) ? ORDER.indexOf(f) : ORDER.length);
  const files = readdirSync(folder).filter((f) => f.endsWith(".css")).sort((p, q) => rank(p) - rank(q) || (p < q ? -1 : 1));
  const text = files.map((f) => readFileSync(join(folder, f), "utf8")).join("\n");
  return (await transform(text, { loader: "css", minify: true, legalComments: "none", target: "es2022" })).code;
};

const fenceForPage = (home: string, file: string, fence: Fence, data: object): Plugin => ({
  name: "fenceForPage",
  setup: ({ onResolve, onLoad }) => {
    onResolve({ filter: /^start$/ }, () => ({ path: "start", namespace: "start" }));
    onResolve({ filter: /^fence$/, namespace: "start" }, () => ({ path: file, namespace: "lesson" }));
    onResolve({ filter: /.*/, namespace: "lesson" }, ({ path }) => (Object.hasOwn(GLOBALS, path) ? { path, namespace: "global" } : { path: join(home, MODULES[path] as string), sideEffects: false }));
    onLoad({ filter: /.*/, namespace: "start" }, () => ({ contents: `import lesson from "fence"; ridedown.start(lesson, ${scriptJson(data)});`, loader: "js" }));
    onLoad({ filter: /.*/, namespace: "lesson" }, () => ({ contents: fenceSource(fence), loader: "ts", resolveDir: home }));
    onLoad({ filter: /.*/, namespace: "global" }, ({ path }) => ({ contents: `module.exports = ${GLOBALS[path] as string};`, loader: "js" }));
  },
});

/** The small script of one lesson: its fence, and what only this page needs; as a function, so that a worker can be given it too. */
export const lessonScript = async (home: string, file: string, fence: Fence, scenario: Scenario, data: object): Promise<string> => {
  // keepNames: "where this comes from" finds a kernel by its name.
  const built = await build({ ...COMMON, entryPoints: ["start"], outfile: "lesson.js", absWorkingDir: home, keepNames: true, plugins: [fenceForPage(home, file, fence, data), scenarioData(scenario)] });
  return `ridedown.load(function(ridedown){${(built.outputFiles[0]?.text ?? "").trimEnd()}\n});\n`;
};

