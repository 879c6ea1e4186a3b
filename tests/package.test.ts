// The packed package as others meet it: unpacked far from the repository, first with nothing beside it, then with its dependencies.
import { spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, realpathSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { MODULES } from "../build/fence.ts";
import { Site } from "../build/site.ts";
import * as lib from "../lib/index.ts";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
/** Room for a slow machine that does other work as well; alone, packing takes three seconds and each step one or two. */
const SLOW = 120_000;

interface Manifest {
  readonly version: string;
  readonly bin: { readonly ridedown: string };
  readonly dependencies: Readonly<Record<string, string>>;
  readonly exports: Readonly<Record<string, Readonly<Record<string, string>>>>;
}

const work = realpathSync(mkdtempSync(join(tmpdir(), "ridedown-package-")));
const user = join(work, "user");
const installed = join(user, "node_modules", "ridedown");
const author = join(work, "author");
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** Runs a program as someone who knows nothing of the test runner's settings. */
const run = (cwd: string, program: string, ...args: string[]): { code: number | null; out: string; err: string } => {
  const env = Object.fromEntries(Object.entries(process.env).filter(([name]) => !/^(?:NODE_OPTIONS|NODE_PATH|VITEST.*|npm_.*)$/.test(name)));
  const { status, stdout, stderr, error } = spawnSync(program, args, { cwd, encoding: "utf8", env });
  if (error) throw error;
  return { code: status, out: stdout, err: stderr };
};
const node = (cwd: string, ...args: string[]): ReturnType<typeof run> => run(cwd, process.execPath, ...args);
const manifest = (): Manifest => JSON.parse(readFileSync(join(installed, "package.json"), "utf8")) as Manifest;
const inside = (): string[] => readdirSync(installed, { recursive: true, encoding: "utf8" }).map((path) => path.replaceAll("\\", "/"));

const README = readFileSync(join(ROOT, "README.md"), "utf8");
/** The README's example of the library, and the lines that its comments say it prints. */
const example = /^```ts\n(import [\s\S]*? from "ridedown";[\s\S]*?)^```/m.exec(README)?.[1] ?? "";
const promised = [...example.matchAll(/^console\.log\(.*\); \/\/ (.+)$/gm)].map((m) => m[1] as string);

const NPM = process.platform === "win32" ? "npm.cmd" : "npm";

beforeAll(() => {
  const packed = run(ROOT, NPM, "pack", "--pack-destination", work);
  expect(packed.code, packed.err).toBe(0);
  mkdirSync(installed, { recursive: true });
  const { code, err } = run(work, "tar", "-xzf", packed.out.trim().split("\n").at(-1) as string, "-C", installed, "--strip-components=1");
  expect(code, err).toBe(0);
  writeFileSync(join(user, "package.json"), JSON.stringify({ type: "module" }));
}, SLOW);

describe("npm pack", () => {
  test("packs what it exports, README, licence and data, and no tests", () => {
    const { bin, exports } = manifest();
    const files = inside();
    const promisedFiles = [bin.ridedown, ...Object.values(exports).flatMap((one) => Object.values(one))].map((path) => path.replace("./", ""));
    expect(files).toEqual(expect.arrayContaining([...promisedFiles, "README.md", "lib/sources.yaml", "lib/collision/checks.yaml", "shared/scenario/demo.yaml", "shared/course.yaml", "shared/styles/page.css"]));
    expect(files.filter((path) => /(^|\/)(tests?|lessons|node_modules|\.cache)(\/|$)|\.test\.|tsconfig|package-lock/.test(path))).toEqual([]);
    expect(manifest()).toMatchObject({ license: "MIT", sideEffects: false, version: (JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8")) as Manifest).version });
  });

  test("exports what a lesson may import, from the same sources", () => {
    const sources = Object.entries(manifest().exports).map(([name, one]) => [name.replace(/^\./, "ridedown"), one["ridedown-source"]?.replace("./", "")]);
    expect(Object.fromEntries(sources)).toEqual(MODULES);
  });

  test("packs each kernel as a file of its own, with its types", () => {
    const sources = inside().filter((path) => /^dist\/package\/lib\/.*\.js$/.test(path));
    expect(sources).toContain("dist/package/lib/collision/centralImpact.js");
    expect(sources.map((path) => path.replace(/\.js$/, ".d.ts")).filter((path) => !existsSync(join(installed, path)))).toEqual([]);
  });
});

describe("import of ridedown, with no other package there", () => {
  test("runs the example of README.md, which prints what its comments say", () => {
    expect(promised.length).toBeGreaterThan(0);
    writeFileSync(join(user, "example.js"), example);
    const { code, out, err } = node(user, "example.js");
    expect(err).toBe("");
    expect(code).toBe(0);
    expect(out.trim().split("\n")).toEqual(promised);
  });

  test("offers every name that lib/index.ts exports", () => {
    const { out } = node(user, "--input-type=module", "--eval", 'console.log(JSON.stringify(Object.keys(await import("ridedown"))))');
    expect((JSON.parse(out) as string[]).sort()).toEqual(Object.keys(lib).sort());
  });

  test("loads what lessons import too", () => {
    const names = Object.keys(manifest().exports).map((name) => name.replace(/^\./, "ridedown"));
    const { code, err } = node(user, "--input-type=module", "--eval", names.map((name) => `await import("${name}");`).join("\n"));
    expect(err).toBe("");
    expect(code).toBe(0);
  });

  test("keeps files apart that are not exported", () => {
    const { code, err } = node(user, "--input-type=module", "--eval", 'await import("ridedown/build/site.js")');
    expect(code).not.toBe(0);
    expect(err).toContain("ERR_PACKAGE_PATH_NOT_EXPORTED");
  });
});

describe("npm install of the packed file", () => {
  test("in an empty folder makes the example of README.md run, and the command be there", { timeout: SLOW }, ({ skip }) => {
    const empty = join(work, "empty");
    mkdirSync(empty);
    writeFileSync(join(empty, "package.json"), JSON.stringify({ type: "module" }));
    const tarball = readdirSync(work).find((name) => name.endsWith(".tgz")) as string;
    const { code, err } = run(empty, NPM, "install", "--prefer-offline", "--ignore-scripts", "--no-audit", "--no-fund", join(work, tarball));
    // its dependencies may be neither kept here nor to be had: no fault of the package
    skip(code !== 0 && /ENOTCACHED|ENOTFOUND|ECONNREFUSED|ECONNRESET|EAI_AGAIN|ETIMEDOUT/.test(err), "no registry can be reached");
    expect(code, err).toBe(0);
    writeFileSync(join(empty, "example.mjs"), example);
    expect(node(empty, "example.mjs").out.trim().split("\n")).toEqual(promised);
    expect(existsSync(join(empty, "node_modules", ".bin", process.platform === "win32" ? "ridedown.cmd" : "ridedown"))).toBe(true);
  });
});

describe("a bundle of one kernel", () => {
  test("leaves the other kernels out and needs nothing else", async () => {
    const bundle = async (code: string): Promise<{ text: string; inputs: string[] }> => {
      const built = await build({ stdin: { contents: code, resolveDir: user }, bundle: true, write: false, format: "esm", minify: true, metafile: true, absWorkingDir: user, logLevel: "silent" });
      const used = Object.values(built.metafile.outputs).flatMap(({ inputs }) => Object.entries(inputs).filter(([, { bytesInOutput }]) => bytesInOutput > 0).map(([path]) => path));
      return { text: built.outputFiles[0]?.text ?? "", inputs: used.map((path) => path.replace("node_modules/ridedown/dist/package/", "")) };
    };
    const one = await bundle('import { centralImpact } from "ridedown"; console.log(centralImpact);');
    const all = await bundle('import * as all from "ridedown"; console.log(all);');
    expect(one.inputs).toEqual(expect.arrayContaining(["<stdin>", "lib/collision/centralImpact.js", "lib/check.js"]));
    expect(one.inputs.filter((path) => !/^(<stdin>|lib\/(collision\/\w+|check|constants|units)\.js)$/.test(path))).toEqual([]);
    expect(one.text).not.toContain("headInjuryCriterion");
    expect(all.text).toContain("headInjuryCriterion");
    expect(all.inputs.filter((path) => path !== "<stdin>" && !path.startsWith("lib/"))).toEqual([]);
  });
});

describe("types of the package", () => {
  const compiler = join(dirname(createRequire(import.meta.url).resolve("typescript/package.json")), "bin", "tsc");
  const STRICT = { target: "es2022", module: "nodenext", strict: true, noUncheckedIndexedAccess: true, exactOptionalPropertyTypes: true, skipLibCheck: false, noEmit: true, types: [] };
  const diagnose = (name: string, source: string, options: object): string => {
    const folder = join(user, name);
    mkdirSync(folder);
    writeFileSync(join(folder, "main.ts"), source);
    writeFileSync(join(folder, "tsconfig.json"), JSON.stringify({ compilerOptions: { ...STRICT, ...options }, files: ["main.ts"] }));
    return node(folder, compiler, "--pretty", "false", "--project", folder).out;
  };

  test("hold under strict settings, without a document and without Node", () => {
    const source = `${example.replaceAll("console.log", "show")}
declare function show(text: string): void;
const spread: number = impact.energy.dissipated;
show(spread.toFixed(0));
`;
    expect(diagnose("kernels", source, { lib: ["es2022"] })).toBe("");
  });

  test("refuse a misspelt field and a text for a number", () => {
    const source = `import { centralImpact } from "ridedown";
export const impact = centralImpact({ a: { mass: "900", velocity: 15 }, b: { mass: 1800, velocity: -10 }, restitution: 0 });
export const change = impact.deltaW;
`;
    const said = diagnose("mistakes", source, { lib: ["es2022"] });
    expect(said).toMatch(/main\.ts\(2,\d+\): error TS2322/);
    expect(said).toMatch(/main\.ts\(3,\d+\): error TS2551/);
  });

  test("cover what a fence may import", () => {
    const source = `import { centralImpact } from "ridedown";
import { lesson, mass, velocityChange } from "ridedown/lesson";
import { scenario } from "ridedown/scenario";
import * as scenes from "ridedown/scenes";
import * as figures from "ridedown/figures";

export default lesson({
  inputs: { massA: mass(\`mass of \${scenario.a.name}\`, { start: 900, from: 100, to: 2000, step: 10 }) },
  outputs: { change: velocityChange("its change of velocity", { from: centralImpact, field: "deltaV.a" }) },
  run: ({ massA }, call) => {
    call(centralImpact, { a: { mass: massA, velocity: 15 }, b: { mass: 1800, velocity: -10 }, restitution: 0 });
    return {};
  },
});
export const names: string[] = [...Object.keys(scenes), ...Object.keys(figures)];
`;
    expect(diagnose("fence", source, { lib: ["es2023", "dom", "dom.iterable"] })).toBe("");
  });
});

describe("ridedown", () => {
  const lessons = join(author, "lessons");
  const ridedown = (...args: string[]): ReturnType<typeof run> => node(author, join(author, "node_modules", "ridedown", manifest().bin.ridedown), ...args);

  beforeAll(() => {
    // What an install would put there: the package, and the packages it depends on.
    cpSync(installed, join(author, "node_modules", "ridedown"), { recursive: true });
    for (const name of Object.keys(manifest().dependencies)) {
      mkdirSync(dirname(join(author, "node_modules", name)), { recursive: true });
      symlinkSync(join(ROOT, "node_modules", name), join(author, "node_modules", name), "junction");
    }
  });

  test("new writes a lesson, build makes the same pages of it as the repository does", { timeout: SLOW }, async () => {
    const made = ridedown("new", "A push has two ends", "--lessons", "lessons");
    expect(made.err).toBe("");
    expect(made.out).toBe("wrote lessons/a-push-has-two-ends.md; ridedown serve lessons shows it\n");
    const built = ridedown("build", "lessons", "--out", "pages");
    expect(built.err).toBe("");
    expect(built.out).toMatch(/^1 lesson in \d+ ms/);
    expect(built.code).toBe(0);
    const page = readFileSync(join(author, "pages", "a-push-has-two-ends.html"), "utf8");
    expect(page).toContain("36.0");
    // what the page opens beside a number names the kernel's file; so does the reference page, for readers without scripts
    expect(readFileSync(join(author, "pages", "a-push-has-two-ends.js"), "utf8")).toContain("lib/collision/centralImpact.ts");
    expect(readFileSync(join(author, "pages", "reference.html"), "utf8")).toContain("lib/collision/centralImpact.ts");

    const { files, problems } = await new Site({ lessons, cache: join(work, "cache") }).build();
    expect(problems).toEqual([]);
    expect(Object.keys(files).filter((name) => readFileSync(join(author, "pages", name), "utf8") !== files[name])).toEqual([]);
    // Nothing is kept inside the package.
    expect(readdirSync(author).sort()).toEqual([".cache", "lessons", "node_modules", "pages"]);
    expect(readdirSync(join(author, "node_modules", "ridedown")).sort()).toEqual(readdirSync(installed).sort());
  });

  test("build takes a show of one's own", { timeout: SLOW }, () => {
    const show = readFileSync(join(ROOT, "shared/scenario/demo.yaml"), "utf8");
    const title = /^title: (.*)$/m.exec(show)?.[1] ?? "";
    writeFileSync(join(author, "my-show.yaml"), show.replace(title, "Two carts of ours"));
    const built = ridedown("build", "lessons", "--scenario", "my-show.yaml", "--out", "shown", "--no-claims");
    expect(built.err).toBe("");
    expect(readFileSync(join(author, "shown", "index.html"), "utf8")).toContain("Two carts of ours");
  });

  test("build answers mistakes with their place, a folder that is not there, and one without lessons", { timeout: SLOW }, () => {
    const wrong = join(author, "wrong");
    mkdirSync(wrong);
    mkdirSync(join(author, "empty"));
    const source = readFileSync(join(lessons, "a-push-has-two-ends.md"), "utf8");
    writeFileSync(join(wrong, "wrong.md"), source.replaceAll("centralImpact", "centralImpct"));
    const { code, err } = ridedown("build", "wrong", "--out", "nothing");
    expect(code).toBe(1);
    expect(err).toMatch(/^wrong\/wrong\.md:\d+:\d+: .*the nearest is centralImpact$/m);
    expect(existsSync(join(author, "nothing"))).toBe(false);
    expect(ridedown("build", "nowhere").err).toMatch(/^there is no folder .*nowhere\nusage:\n {2}ridedown build/);
    expect(ridedown("build", "empty").err).toMatch(/^there is no lesson in .*; ridedown new "A title" --lessons empty begins one\n/);
  });
});
