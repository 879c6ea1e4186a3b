/** Rules of the house that no compiler checks. */
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, extname, join, relative, resolve, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const read = (path: string): string => readFileSync(join(ROOT, path), "utf8");
const json = (path: string) => JSON.parse(read(path)) as Record<string, Record<string, unknown>>;

const ignored = new Set(read(".gitignore").split("\n").map((line) => line.trim().replace(/\/$/, "")).filter((line) => line !== ""));

const walk = (folder: string): string[] =>
  readdirSync(join(ROOT, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = folder === "" ? entry.name : `${folder}/${entry.name}`;
    if (ignored.has(entry.name) || entry.name === ".git") return [];
    return entry.isDirectory() ? walk(path) : [path];
  });

const files = walk("");
const TEXT = new Set([".ts", ".md", ".json", ".yaml", ".yml", ".css", ".html", ".svg", ".txt", ".csv", ".npmrc", ""]);
const texts = files.filter((path) => TEXT.has(extname(path)) && path !== "package-lock.json");
const scripts = files.filter((path) => path.endsWith(".ts"));

/** What a source file imports: static, re-exported, for its side effect, or dynamic with a fixed name. */
const importsOf = (source: string): string[] => {
  const code = source.replace(/^\s*(?:\/\/|\*|\/\*).*$/gm, "");
  return [...code.matchAll(/^\s*(?:import|export)\b[^;"'`]*?\bfrom\s*["']([^"']+)["']|^\s*import\s*["']([^"']+)["']|\bimport\(\s*["']([^"']+)["']\s*\)/gm)].map((m) => (m[1] ?? m[2] ?? m[3]) as string);
};

/** Path from the root for a relative import, else the name as written. */
const target = (from: string, name: string): string => (name.startsWith(".") ? relative(ROOT, resolve(ROOT, dirname(from), name)).split(sep).join("/") : name);

describe("importsOf(…)", () => {
  test("finds every form of import and leaves comments alone", () => {
    const source = 'import { a } from "./a.ts";\nimport type {\n  B,\n} from "../b.ts";\nexport * from "./c.ts";\nimport "d";\nconst e = await import("e");\n// import "./f.ts"\n * import "./g.ts"\n';
    expect(importsOf(source)).toEqual(["./a.ts", "../b.ts", "./c.ts", "d", "e"]);
  });
});

describe("imports run one way", () => {
  const dependencies = Object.keys(json("package.json")["dependencies"] ?? {});
  // A scaffold in build quotes imports of the names a lesson may use; they are this project's own.
  const exported = Object.keys(json("package.json")["exports"] ?? {}).map((name) => name.replace(/^\./, "ridedown"));
  const isPackage = (name: string): boolean => dependencies.some((known) => name === known || name.startsWith(`${known}/`));
  const inside = (path: string, ...folders: string[]): boolean => folders.some((folder) => path.startsWith(`${folder}/`));
  const faults = (of: (path: string) => boolean, allowed: (target: string) => boolean): string[] =>
    scripts.filter(of).flatMap((path) => importsOf(read(path)).map((name) => target(path, name)).filter((to) => !allowed(to)).map((to) => `${path} imports ${to}`));

  test("lib imports only lib", () => expect(faults((path) => inside(path, "lib"), (to) => inside(to, "lib"))).toEqual([]));

  test("the ground of lib (math, units, constants, check) imports only itself", () => {
    const ground = (path: string): boolean => inside(path, "lib/math") || ["lib/units.ts", "lib/constants.ts", "lib/check.ts"].includes(path);
    expect(faults(ground, ground)).toEqual([]);
  });

  test("shared imports only shared, lib and packages", () => expect(faults((path) => inside(path, "shared"), (to) => inside(to, "shared", "lib") || isPackage(to))).toEqual([]));

  test("build imports only build, shared, lib, packages and Node", () =>
    expect(faults((path) => inside(path, "build"), (to) => inside(to, "build", "shared", "lib") || isPackage(to) || to.startsWith("node:") || exported.includes(to))).toEqual([]));

  test("lessons import only what package.json exports", () => {
    const lessons = files.filter((path) => inside(path, "lessons") && path.endsWith(".md"));
    const found = lessons.flatMap((path) => [...read(path).matchAll(/^```ts\b[^\n]*\n([\s\S]*?)^```/gm)].flatMap((fence) => importsOf(fence[1] as string)).filter((name) => !exported.includes(name)).map((name) => `${path} imports ${name}`));
    expect(found).toEqual([]);
  });

  test("every relative import names an existing file", () =>
    expect(scripts.flatMap((path) => importsOf(read(path)).filter((name) => name.startsWith(".")).map((name) => target(path, name)).filter((to) => !existsSync(join(ROOT, to))).map((to) => `${path} imports ${to}`))).toEqual([]));
});

describe("the house", () => {
  test("has nothing at its top that is not in the plan", () => {
    const plan = ["README.md", "DEVELOPERS.md", "package.json", "package-lock.json", "tsconfig.json", "lessons", "lib", "tests", "build", "shared"];
    expect(readdirSync(ROOT).filter((name) => !plan.includes(name) && !name.startsWith(".") && !ignored.has(name))).toEqual([]);
    expect(plan.filter((name) => !existsSync(join(ROOT, name)))).toEqual([]);
  });

  test("compiles lib without a document and without Node", () => {
    const options = json("lib/tsconfig.json")["compilerOptions"] as { lib: string[]; types: string[] };
    expect(options.lib.filter((name) => !/^es20\d\d$/i.test(name))).toEqual([]);
    expect(options.types).toEqual([]);
  });

  test("keeps lib without clock, chance or output", () => {
    const banned = /\b(?:Date\b|performance\.|Math\.random|console\.|process\.|globalThis)/;
    expect(scripts.filter((path) => path.startsWith("lib/")).flatMap((path) => read(path).split("\n").flatMap((line, i) => (!/^\s*(?:\*|\/\/|\/\*)/.test(line) && banned.test(line) ? [`${path}:${i + 1} ${line.trim()}`] : [])))).toEqual([]);
  });

  test("runs its test command in continuous integration", () => {
    expect(statSync(join(ROOT, ".ci/run")).mode & 0o111, ".ci/run can be run").not.toBe(0);
    expect(read(".ci/run")).toMatch(/npm ci[\s\S]*npm test/);
  });
});

describe("text", () => {
  test("holds no unfinished mark and no path of one machine", () => {
    // parted, so that this file does not find itself
    const banned = ["TO" + "DO", "FIX" + "ME", "X" + "XX", "/work" + "/main", "/work" + "/shared", "/ho" + "me/", "/ro" + "ot/", "/Us" + "ers/", "C:\\" + "Users"];
    const found = texts.flatMap((path) => read(path).split("\n").flatMap((line, i) => banned.filter((mark) => new RegExp(`(?<![\\w.])${mark.replace(/[\\/]/g, "\\$&")}`).test(line)).map((mark) => `${path}:${i + 1} ${mark}`)));
    expect(found).toEqual([]);
  });

  test("holds no mark of an unfinished merge", () => {
    expect(texts.filter((path) => /^(?:<{7} |>{7} |={7}$)/m.test(read(path)))).toEqual([]);
  });
});

describe.each(["README.md", "DEVELOPERS.md"])("%s", (page) => {
  const text = read(page);
  const quoted = [...text.matchAll(/`([^`\n]+)`/g)].map((m) => m[1] as string).concat([...text.matchAll(/^(?:npm|npx|node) .*$/gm)].map((m) => m[0]));

  test("names only paths that exist", () => {
    const paths = text.match(/(?<![\w./-])(?:lib|shared|lessons|build|tests|\.ci)\/[\w./-]*\w/g) ?? [];
    expect(paths.length).toBeGreaterThan(0);
    expect([...new Set(paths)].filter((path) => !existsSync(join(ROOT, path)))).toEqual([]);
  });

  test("names only scripts that package.json has", () => {
    const known = Object.keys(json("package.json")["scripts"] ?? {});
    const named = quoted.flatMap((code) => [...code.matchAll(/\bnpm (?:run ([\w:-]+)|(start|test)\b)/g)].map((m) => (m[1] ?? m[2]) as string));
    expect(named.length).toBeGreaterThan(0);
    expect([...new Set(named)].filter((name) => !known.includes(name))).toEqual([]);
  });
});

describe("DEVELOPERS.md", () => {
  test("gives every dependency its reason, and no reason to one that is gone", () => {
    const { dependencies = {}, devDependencies = {} } = json("package.json");
    const used = [...Object.keys(dependencies), ...Object.keys(devDependencies)].sort();
    const table = /## Dependencies\n([\s\S]*?)(?:\n## |$)/.exec(read("DEVELOPERS.md"))?.[1] ?? "";
    const named = [...table.matchAll(/^\| ([^|]+) \|/gm)].flatMap((m) => (m[1] as string).replace(/\(dev\)/, "").split(",").map((name) => name.trim())).filter((name) => name !== "package" && !/^-*$/.test(name)).sort();
    expect(named).toEqual(used);
  });
});
