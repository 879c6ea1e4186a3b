/**
 * `npm test`: type check, browser, build, tests; the last line is "N passed, N failed" alone.
 * Each step counts as one check. `npm test -- tests/lib/units.test.ts` runs only the test files whose path contains the words given.
 */
import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { createRequire } from "node:module";
import { closingLine, type Counts } from "./closingLine.ts";
import { findBrowser } from "./pages/browser.ts";
import { SECOND_SHOW } from "./secondShow.ts";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const require = createRequire(import.meta.url);
const filters = process.argv.slice(2);
const wantsPages = filters.length === 0 || filters.some((filter) => !filter.startsWith("-") && /(^|[\\/])pages([\\/]|$)/.test(filter));

let passed = 0;
let failed = 0;

/** Runs a step and counts it. A step that throws or answers false has failed. */
const step = async (name: string, run: () => boolean | Promise<boolean>): Promise<boolean> => {
  const start = performance.now();
  let ok = false;
  try {
    ok = await run();
  } catch (error) {
    console.error(error instanceof Error ? (error.stack ?? error.message) : error);
  }
  if (ok) passed++;
  else failed++;
  console.log(`${ok ? "ok    " : "FAILED"} ${name} (${((performance.now() - start) / 1000).toFixed(1)} s)`);
  return ok;
};

/** Steps run side by side, so what a program says is said in one piece when it ends; of a success only where it is wanted. */
const command = (program: string, args: readonly string[], wanted: "always" | "on failure" = "on failure"): Promise<boolean> =>
  new Promise((resolve) => {
    const said: Buffer[] = [];
    const child = spawn(program, args, { cwd: ROOT, stdio: ["ignore", "pipe", "pipe"] });
    for (const stream of [child.stdout, child.stderr]) stream.on("data", (chunk: Buffer) => said.push(chunk));
    child.on("error", (error) => said.push(Buffer.from(`${program}: ${error.message}\n`)));
    child.on("close", (code) => {
      if (code !== 0 || wanted === "always") process.stderr.write(Buffer.concat(said));
      resolve(code === 0);
    });
  });
const node = (...args: string[]): Promise<boolean> => command(process.execPath, args);
const inPackage = (name: string, file: string): string => join(dirname(require.resolve(`${name}/package.json`)), file);

const typeCheck = (...args: string[]): Promise<boolean> => node(inPackage("typescript", "bin/tsc"), "--noEmit", "--pretty", "false", ...args);

interface Fault {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly message: string;
}

/** Type check of the code inside lessons, with the line numbers of the lesson. */
const checkFences = async (): Promise<boolean> => {
  const { checkFences } = (await import(pathToFileURL(join(ROOT, "build/checkFences.ts")).href)) as { checkFences: (root: string) => Promise<Fault[]> };
  const faults = await checkFences(ROOT);
  for (const { file, line, column, message } of faults) console.error(`${file}:${line}:${column} ${message}`);
  return faults.length === 0;
};

/** Finds a browser, or gets one, and puts its path where the page tests look. */
const getBrowser = async (): Promise<boolean> => {
  const found = (): string | undefined => {
    const path = findBrowser();
    if (path) process.env["CHROMIUM_PATH"] = path;
    return path;
  };
  if (found()) return true;
  const isRoot = process.getuid?.() === 0;
  if (isRoot && existsSync("/etc/debian_version")) {
    console.log("No browser found; installing chromium-headless-shell with apt-get.");
    process.env["DEBIAN_FRONTEND"] = "noninteractive";
    if ((await command("apt-get", ["update"])) && (await command("apt-get", ["install", "-y", "--no-install-recommends", "chromium-headless-shell"])) && found()) return true;
  }
  console.log("No browser found; fetching the one that playwright-core offers.");
  if (await node(inPackage("playwright-core", "cli.js"), "install", ...(isRoot && process.platform === "linux" ? ["--with-deps"] : []), "chromium-headless-shell")) return true;
  console.error(
    "The page tests need a browser of the Chromium family. Install one (Debian, as root: apt-get install chromium-headless-shell;\n" +
      "elsewhere Chrome or Chromium), or set CHROMIUM_PATH to its program, and run npm test again.",
  );
  return false;
};

/** The whole build with every claim searched, in a folder of its own. */
const searchClaims = async (): Promise<boolean> => {
  const out = mkdtempSync(join(tmpdir(), "claims-"));
  try {
    return await node("--import", "tsx", "build/main.ts", "build", "--out", out);
  } finally {
    rmSync(out, { recursive: true, force: true });
  }
};

interface Ran {
  readonly counts: Counts | undefined;
  readonly code: number;
}

/** Runs test files, all that the words given name or one project of them; counts are undefined if the runner ended before counting. */
const runTests = (...args: string[]): Promise<Ran> =>
  new Promise((resolve) => {
    let counts: Counts | undefined;
    const child = spawn(process.execPath, [inPackage("vitest", "vitest.mjs"), "run", "--config", join(ROOT, "tests/vitest.config.ts"), ...args], {
      cwd: ROOT,
      stdio: ["ignore", "inherit", "inherit", "ipc"],
      env: { ...process.env, COUNTS_TO_PARENT: "1" },
    });
    child.on("message", (message) => (counts = message as Counts));
    child.on("error", (error) => {
      console.error(error.message);
      resolve({ counts, code: 1 });
    });
    child.on("close", (code) => resolve({ counts, code: code ?? 1 }));
  });

const types = async (): Promise<void> => {
  await step("type check", () => typeCheck());
  await step("type check of lib without a document or Node", () => typeCheck("-p", "lib"));
  await step("type check of the code in lessons", checkFences);
};
const site = async (): Promise<void> => {
  if (!wantsPages) return;
  await step("browser", getBrowser);
  const build = (...args: string[]): Promise<boolean> => command(process.execPath, ["--import", "tsx", "build/main.ts", "build", "--no-claims", ...args], "always");
  await step("build of the site", () => build());
  // Other tests of this show find here what was worked out for it.
  await step("build of the second show's site", () => build("--scenario", "shared/scenario/cresswold.yaml", "--out", SECOND_SHOW));
};

/** A small machine has two cores: one line of work on each. The search for counterexamples to the lessons' claims needs no browser. */
const everything = (): Promise<Ran[]> => {
  const one = (project: string): Promise<Ran> => runTests("--project", project, "--maxWorkers", "1");
  const withoutBrowser = async (): Promise<Ran> => {
    await types();
    return one("unit");
  };
  const withBrowser = async (): Promise<Ran> => {
    await site();
    // Browser tests wait as often as they work: the search has room beside them.
    const [ran] = await Promise.all([one("pages"), step("claims of every lesson", searchClaims)]);
    return ran;
  };
  return Promise.all([withoutBrowser(), withBrowser()]);
};
const named = async (): Promise<Ran[]> => {
  await Promise.all([types(), site()]);
  return [await runTests(...filters)];
};

for (const { counts, code } of await (filters.length === 0 ? everything() : named())) {
  passed += counts?.passed ?? 0;
  failed += counts?.failed ?? 0;
  if ((counts?.passed ?? 0) + (counts?.failed ?? 0) === 0) {
    console.error("No test ran.");
    failed++;
  } else if (code !== 0 && counts?.failed === 0) {
    console.error(`The test runner ended with exit code ${code} though no test failed.`);
    failed++;
  }
}
process.exitCode = failed > 0 ? 1 : 0;
process.stdout.write(`\n${closingLine({ passed, failed })}\n`);
