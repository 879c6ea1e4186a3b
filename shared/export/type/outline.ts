/** Words as outlines of the bundled family, and their exact measures: the same on every machine, with no font to install. */
import { type Glyph, INTER } from "./inter.ts";

export type Weight = "regular" | "bold";

/** Height of a capital letter, in heights of the type. */
export const CAP = INTER.capHeight / INTER.unitsPerEm;

/** Ink of a line of words about the start of its baseline, y downwards. */
export interface Ink {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface Line {
  /** From the start of this line to where the next word would begin. */
  readonly advance: number;
  readonly ink: Ink;
}

const glyphOf = (character: string, words: string, weight: Weight): Glyph => {
  const glyph = Object.hasOwn(INTER[weight], character) ? INTER[weight][character] : undefined;
  if (glyph !== undefined) return glyph;
  const code = `U+${(character.codePointAt(0) as number).toString(16).toUpperCase().padStart(4, "0")}`;
  throw new RangeError(`type: ${INTER.name} as bundled has no character ${character} (${code}), got ${JSON.stringify(words)}; write it with other letters, or add it to the characters of tests/export/makeType.ts and run that file`);
};

/** Some keyboards send a letter and its accent apart. */
const characters = (words: string): string[] => [...words.normalize("NFC")];

/** Measures of words set at `size`. */
export const measure = (words: string, size: number, weight: Weight): Line => {
  let pen = 0;
  let [left, bottom, right, top] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const character of characters(words)) {
    const [advance, l, b, r, t, d] = glyphOf(character, words, weight);
    if (d !== "") {
      [left, right] = [Math.min(left, pen + l), Math.max(right, pen + r)];
      [bottom, top] = [Math.min(bottom, b), Math.max(top, t)];
    }
    pen += advance;
  }
  const at = (value: number): number => (Number.isFinite(value) ? (value * size) / INTER.unitsPerEm : 0);
  return { advance: at(pen), ink: { left: at(left), top: -at(top), right: at(right), bottom: -at(bottom) } };
};

export const widthOf = (words: string, size: number, weight: Weight): number => measure(words, size, weight).advance;

/** Size of one em of the outlines. */
export const EM = INTER.unitsPerEm;

/** The outline of words in units of the em, baseline at 0, y upwards: place it by translate(x y) scale(s -s) with s = size/EM. */
export const outline = (words: string, weight: Weight): string => {
  let pen = 0;
  let path = "";
  for (const character of characters(words)) {
    const [advance, , , , , d] = glyphOf(character, words, weight);
    // Only the beginnings of contours are absolute.
    path += pen === 0 ? d : d.replace(/M(-?[\d.]+)/g, (_, x: string) => `M${Number(x) + pen}`);
    pen += advance;
  }
  return path;
};

/** Words broken into lines no wider than `width`; a word longer than that stays whole. A number and its unit hold together. */
export const broken = (words: string, size: number, weight: Weight, width: number): string[] => {
  const lines: string[] = [];
  for (const word of words.split(" ")) {
    const last = lines.at(-1);
    if (last !== undefined && widthOf(`${last} ${word}`, size, weight) <= width) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
};
