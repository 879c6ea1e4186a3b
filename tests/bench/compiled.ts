/** C programs beside the bench, built with one compiler and one set of flags. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** Without contraction both sides do the same arithmetic to the last bit. */
export const FLAGS = ["-O3", "-ffp-contract=off"];

const folder = mkdtempSync(join(tmpdir(), "bench-"));
process.on("exit", () => rmSync(folder, { recursive: true, force: true }));

/** Asks a program with numbers and reads its numbers. Null, with a line that says so, where it cannot be built. */
export const compiled = (source: string): ((question: readonly number[]) => number[]) | null => {
  const program = join(folder, source.replace(".c", ""));
  const { error, status, stderr } = spawnSync("cc", [...FLAGS, "-o", program, fileURLToPath(new URL(source, import.meta.url)), "-lm"], { encoding: "utf8" });
  if (error || status !== 0) {
    console.log(error ? "No C compiler named cc here: rows of C are left out." : `cc could not build ${source}: its rows are left out.\n${stderr}`);
    return null;
  }
  return (question) => {
    const input = question.map((value) => (value === Infinity ? "inf" : String(value))).join(" ");
    return spawnSync(program, { input, encoding: "utf8", maxBuffer: 2 ** 26 }).stdout.trim().split(/\s+/).map(Number);
  };
};
