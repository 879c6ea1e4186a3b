/** Names of files that are taken away: the same from the page and from the command line. */

const LEAST_DIGITS = 5;

/** An instant on the reader's clock: 0056ms, and m0056ms before first touch. */
export const instantText = (seconds: number): string => `${seconds < 0 ? "m" : ""}${String(Math.round(Math.abs(seconds) * 1000)).padStart(4, "0")}ms`;

/** Frame `frame`, from 0, of `count`: numbered from 1 with digits that stay. */
export const frameFile = (slug: string, scene: string, frame: number, count: number): string => `${slug}-${scene}-${String(frame + 1).padStart(Math.max(LEAST_DIGITS, String(count).length), "0")}.png`;

/** Longest that a file name says of a state before it is cut to a sum of it. */
const LONGEST = 60;

/** What sets a state apart from the start, as a part of a file name: `massA-1000`; nothing at the start. */
export const stateText = (link: string): string => {
  const text = decodeURIComponent(link.replace(/^#/, "")).replace(/[^\w.+]+/g, "-").replace(/^-|-$/g, "");
  if (text.length <= LONGEST) return text;
  let sum = 0x811c9dc5;
  for (const character of text) sum = Math.imul(sum ^ (character.codePointAt(0) as number), 0x01000193) >>> 0;
  return `state-${sum.toString(16).padStart(8, "0")}`;
};

/** A still: lesson, what it shows, its state, size, ground and version. */
export const stillName = ({ slug, shows, state, size, ground, version }: { readonly slug: string; readonly shows: string; readonly state: string; readonly size: string; readonly ground: string; readonly version: string }): string =>
  [slug, shows, state, size, ground, `v${version}`].filter((part) => part !== "").join("-");
