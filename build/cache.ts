/** Files kept from earlier builds: named by content, so that a name is either right or not there. */
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";

/** Earlier states of a lesson kept beside the present one: going back and forth stays quick. */
const KEPT = 8;

export const readCached = (folder: string, file: string): string | undefined => {
  try {
    return readFileSync(join(folder, file), "utf8");
  } catch {
    return undefined;
  }
};

/** Writes `file`, whole or not at all, and drops the oldest others whose names begin with `family`. */
export const writeCached = (folder: string, family: string, file: string, text: string): void => {
  mkdirSync(folder, { recursive: true });
  const part = join(folder, `.${file}.${process.pid}`);
  writeFileSync(part, text);
  renameSync(part, join(folder, file));
  const age = (name: string): number => statSync(join(folder, name), { throwIfNoEntry: false })?.mtimeMs ?? 0;
  const others = readdirSync(folder).filter((name) => name.startsWith(`${family}.`));
  for (const old of others.sort((p, q) => age(q) - age(p)).slice(KEPT)) rmSync(join(folder, old), { force: true });
};
