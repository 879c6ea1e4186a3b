/** Where this code runs: from source in the repository, or compiled in an installed package. */
import { existsSync } from "node:fs";
import { dirname, extname, join } from "node:path";
import { fileURLToPath } from "node:url";

const EXTENSION = extname(import.meta.url);

export const INSTALLED = EXTENSION === ".js";

const nearestPackage = (folder: string): string => (existsSync(join(folder, "package.json")) ? folder : nearestPackage(dirname(folder)));

/** Folder of the package: `lib` and `shared` lie in it as written, for pages quote them. */
export const HOME = nearestPackage(dirname(fileURLToPath(import.meta.url)));

/** Folder that pages and kept files go to: nobody looks for them inside an installed package. */
export const WORK = INSTALLED ? process.cwd() : HOME;

/** A module of this project by its path in the repository, as it can be run here. */
export const runnable = (path: string): URL => new URL(`../${path.replace(/\.ts$/, EXTENSION)}`, import.meta.url);

/** A command of ours as a person types it here. */
export const typed = (command: string): string => (INSTALLED ? `ridedown ${command}` : command === "serve" ? "npm start --" : `npm run ${command} --`);
