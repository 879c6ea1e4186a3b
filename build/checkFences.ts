/** Type check of the `ts` fences, with the line numbers of the Markdown files that hold them. */
import { execFile } from "node:child_process";
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join, relative, resolve, sep } from "node:path";
import { fenceSource } from "./fence.ts";
import type { Problem } from "./problem.ts";
import { readLessons } from "./readLessons.ts";

/** `file(line,column): error TS1234: message`, with further lines indented. */
const DIAGNOSTIC = /^(\S.*?)\((\d+),(\d+)\): error (TS\d+: [\s\S]*?)(?=\n\S|$(?![\s\S]))/gm;

const compiler = (): string => join(dirname(createRequire(import.meta.url).resolve("typescript/package.json")), "bin", "tsc");

/** Type errors of every fence below `root`; `lessons` is the folder to look in. */
export const checkFences = async (root: string, lessons = join(root, "lessons")): Promise<Problem[]> => {
  // Below the project, so that "ridedown" means the project itself; by folder, so that two checks do not meet.
  const folder = join(root, ".cache", "fences", relative(root, lessons).replace(/[^A-Za-z0-9]+/g, "-") || "lessons");
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  const files = new Map<string, string>();
  for (const { slug, file, prose } of readLessons(lessons)) {
    if (prose.fence === undefined) continue;
    const path = join(folder, `${slug}.ts`);
    writeFileSync(path, fenceSource(prose.fence));
    files.set(resolve(path), file);
  }
  if (files.size === 0) return [];
  writeFileSync(join(folder, "tsconfig.json"), JSON.stringify({ extends: relative(folder, join(root, "tsconfig.json")).split(sep).join("/"), compilerOptions: { types: [] }, include: ["*.ts"] }));
  const output = await new Promise<string>((done) => {
    execFile(process.execPath, [compiler(), "--noEmit", "--pretty", "false", "-p", folder], { cwd: root, maxBuffer: 1 << 26 }, (_error, stdout, stderr) => done(stdout + stderr));
  });
  const all = [...output.matchAll(DIAGNOSTIC)];
  if (all.length === 0 && output.trim() !== "") throw new Error(`the type check did not run: ${output.trim()}`);
  // What is wrong in the files that a fence imports is the type check of the project's to say.
  const problems = all.flatMap(([, path, line, column, message]): Problem[] => {
    const file = files.get(resolve(root, path as string));
    return file === undefined ? [] : [{ file, line: Number(line), column: Number(column), message: (message as string).trim() }];
  });
  return problems;
};
