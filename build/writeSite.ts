/** Puts the files of a site into a folder, in place of those that an earlier build put there; what else lies there stays. */
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";

/** Lists what was written: only that may be removed again. */
export const WRITTEN = ".written";

export const writeSite = (folder: string, files: Readonly<Record<string, string>>): void => {
  mkdirSync(folder, { recursive: true });
  const list = join(folder, WRITTEN);
  const before = existsSync(list) ? readFileSync(list, "utf8").split("\n") : [];
  for (const old of before) if (old !== "" && old === basename(old) && !Object.hasOwn(files, old)) rmSync(join(folder, old), { force: true });
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  writeFileSync(list, Object.keys(files).sort().map((name) => `${name}\n`).join(""));
};
