/** `npm pack` runs this first: what package.json exports, and the command line, compiled into dist/package. */
import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { HOME } from "./home.ts";

const compiler = join(dirname(createRequire(import.meta.url).resolve("typescript/package.json")), "bin", "tsc");
const done = join(HOME, "dist", "package");
/** Compiled beside the last one and put in its place whole. */
const part = join(HOME, "dist", `.package-${process.pid}`);

const { status, error } = spawnSync(process.execPath, [compiler, "--project", join(HOME, "build/tsconfig.pack.json"), "--outDir", part, "--pretty", "false"], { stdio: ["ignore", 2, 2] });
if (error) throw error;
if (status === 0) {
  // Nobody imports the builder, so its types stay here; the compiler leaves `.ts` in the others, which not every reader of types takes.
  for (const path of readdirSync(part, { recursive: true, encoding: "utf8" })) {
    const file = join(part, path);
    if (!path.endsWith(".d.ts")) continue;
    if (/^build[\\/]/.test(path)) rmSync(file);
    else writeFileSync(file, readFileSync(file, "utf8").replace(/(\bfrom |\bimport\()"(\.[^"]+)\.ts"/g, '$1"$2.js"'));
  }
  rmSync(done, { recursive: true, force: true });
  renameSync(part, done);
} else {
  rmSync(part, { recursive: true, force: true });
  process.exitCode = 1;
}
