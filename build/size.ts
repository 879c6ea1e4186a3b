/** What a page weighs: everything its first load fetches, as a server would send it. */
import { gzipSync } from "node:zlib";
import type { Files } from "./bundle.ts";

export interface Weight {
  readonly page: string;
  /** Bytes after gzip -9, of the page and all it loads at first. */
  readonly bytes: number;
  readonly parts: Readonly<Record<string, number>>;
}

const packed = new Map<string, number>();
const weigh = (text: string): number => {
  let bytes = packed.get(text);
  if (bytes === undefined) packed.set(text, (bytes = gzipSync(text, { level: 9 }).length));
  return bytes;
};

const LOADED = /<(?:script[^>]* src|link rel="stylesheet" href)="([^"]+)"/g;

export const weights = (files: Files): Weight[] =>
  Object.keys(files)
    .filter((name) => name.endsWith(".html"))
    .sort()
    .map((page) => {
      const html = files[page] as string;
      const loaded = [...html.matchAll(LOADED)].map((m) => m[1] as string).filter((name) => files[name] !== undefined);
      const parts = Object.fromEntries([page, ...loaded].map((name) => [name, weigh(files[name] as string)]));
      return { page, bytes: Object.values(parts).reduce((sum, n) => sum + n, 0), parts };
    });

export const writeWeights = (all: readonly Weight[]): string =>
  all.map(({ page, bytes, parts }) => `  ${(bytes / 1000).toFixed(1).padStart(6)} kB  ${page}  (${Object.entries(parts).map(([name, n]) => `${name} ${(n / 1000).toFixed(1)}`).join(", ")})`).join("\n");
