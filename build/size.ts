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

/** What a first load may weigh on a phone's connection; common practice, no source. */
const BUDGET = 300_000;

const kB = (bytes: number): string => `${(bytes / 1000).toFixed(1)} kB`;

/** One line: the heaviest page. Below it each page over the budget, with its heaviest part. */
export const writeWeights = (all: readonly Weight[], budget: number = BUDGET): string => {
  const [heaviest, ...rest] = [...all].sort((p, q) => q.bytes - p.bytes);
  if (heaviest === undefined) return "no pages";
  const over = [heaviest, ...rest].filter(({ bytes }) => bytes > budget);
  return [
    `heaviest first load of ${all.length} pages, after gzip -9: ${kB(heaviest.bytes)}  ${heaviest.page}`,
    ...over.map(({ page, bytes, parts }) => {
      const [name, part] = Object.entries(parts).reduce((most, one) => (one[1] > most[1] ? one : most));
      return `  ${kB(bytes)}  ${page}, over ${kB(budget)}; of it ${name} ${kB(part)}`;
    }),
  ].join("\n");
};
