/**
 * Writes shared/export/type/inter.ts: the outlines and widths of the bundled type, taken out of its font files once.
 * Run by hand after a change of the characters: npx tsx tests/export/makeType.ts
 */
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

type Command = { readonly type: "M" | "L" | "Q" | "Z"; readonly x: number; readonly y: number; readonly x1: number; readonly y1: number };
export interface FontGlyph {
  readonly index: number;
  readonly advanceWidth: number;
  readonly path: { readonly commands: readonly Command[] };
}
/** The part of opentype.js that is used here; the package has no types of its own. */
export interface Font {
  readonly unitsPerEm: number;
  readonly ascender: number;
  readonly descender: number;
  readonly tables: { readonly os2: { readonly sCapHeight: number }; readonly head: { readonly fontRevision: number } };
  readonly glyphs: { readonly get: (index: number) => FontGlyph };
  readonly substitution: { readonly getSingle: (feature: string) => readonly { readonly sub: number; readonly by: number }[] };
  readonly charToGlyph: (character: string) => FontGlyph;
}

const require = createRequire(import.meta.url);
const opentype = require("opentype.js") as { readonly parse: (data: ArrayBuffer) => Font };

export const FONT_FILES = {
  regular: require.resolve("@expo-google-fonts/inter/400Regular/Inter_400Regular.ttf"),
  bold: require.resolve("@expo-google-fonts/inter/700Bold/Inter_700Bold.ttf"),
} as const;

export const readFont = (weight: keyof typeof FONT_FILES): Font => {
  const bytes = readFileSync(FONT_FILES[weight]);
  return opentype.parse(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer);
};

const between = (from: number, to: number): string[] => Array.from({ length: to - from + 1 }, (_, i) => String.fromCodePoint(from + i));

/** Latin letters of most of Europe for the names of one's own show, Greek for quantities, and the signs that numbers and sentences need. */
export const CHARACTERS: readonly string[] = [
  ...between(0x20, 0x7e),
  ...between(0xa0, 0xff).filter((c) => c !== "\u00ad"),
  ...between(0x100, 0x17f).filter((c) => c !== "\u0149" && c !== "\u017f"),
  ..."\u0218\u0219\u021a\u021b\u1e9e",
  ..."\u0393\u0394\u0398\u039b\u039e\u03a0\u03a3\u03a6\u03a8\u03a9",
  ...between(0x3b1, 0x3c9),
  // spaces
  ..."\u2002\u2003\u2009\u202f",
  // marks
  ..."\u2010\u2011\u2013\u2014\u2018\u2019\u201a\u201c\u201d\u201e\u2022\u2026\u2032\u2033\u2030\u20ac",
  // superscripts and subscripts
  ..."\u2070\u2074\u2075\u2076\u2077\u2078\u2079\u207a\u207b\u2080\u2081\u2082\u2083\u2084\u2085\u2086\u2087\u2088\u2089",
  // arrows
  ..."\u2190\u2191\u2192\u2193\u2194\u2195",
  // operators
  ..."\u2202\u2206\u2211\u2212\u221a\u221e\u222b\u2248\u2260\u2264\u2265",
  // shapes
  ..."\u25a0\u25cf\u2713",
].sort();

/** A character that the family lacks, drawn from one that it has: the small n of standard gravity is set lower and smaller. */
const SUBSCRIPTS: Readonly<Record<string, { readonly of: string; readonly size: number; readonly down: number }>> = { "\u2099": { of: "n", size: 0.62, down: 240 } };

interface Outline {
  readonly advance: number;
  readonly commands: readonly Command[];
}

const written = ({ advance, commands }: Outline): string => {
  let [x, y] = [0, 0];
  let [left, bottom, right, top] = [Infinity, Infinity, -Infinity, -Infinity];
  const reach = (px: number, py: number): void => {
    [left, right] = [Math.min(left, px), Math.max(right, px)];
    [bottom, top] = [Math.min(bottom, py), Math.max(top, py)];
  };
  /** Where a quadratic turns round between its ends, along one axis. */
  const turn = (p: number, c: number, q: number): number => {
    const t = (p - c) / (p - 2 * c + q);
    return t > 0 && t < 1 ? (1 - t) ** 2 * p + 2 * t * (1 - t) * c + t * t * q : p;
  };
  let d = "";
  const number = (value: number): string => (value < 0 || /[A-Za-z]$/.test(d) || d === "" ? String(value) : ` ${value}`);
  const add = (letter: string, ...values: readonly number[]): void => {
    d += letter;
    for (const value of values) d += number(value);
  };
  for (const command of commands) {
    if (command.type === "Z") {
      d += "z";
      continue;
    }
    if (command.type === "M") add("M", command.x, command.y);
    else if (command.type === "L") {
      const [dx, dy] = [command.x - x, command.y - y];
      if (dy === 0) add("h", dx);
      else if (dx === 0) add("v", dy);
      else add("l", dx, dy);
    } else {
      add("q", command.x1 - x, command.y1 - y, command.x - x, command.y - y);
      reach(turn(x, command.x1, command.x), turn(y, command.y1, command.y));
    }
    [x, y] = [command.x, command.y];
    reach(x, y);
  }
  const box = Number.isFinite(left) ? [Math.floor(left), Math.floor(bottom), Math.ceil(right), Math.ceil(top)] : [0, 0, 0, 0];
  return `[${advance}, ${box.join(", ")}, "${d}"]`;
};

/** Figures stand in columns: each as wide as the next. */
const tabular = (font: Font): ReadonlyMap<number, number> => new Map(font.substitution.getSingle("tnum").map(({ sub, by }) => [sub, by]));

export const outlineOf = (font: Font, character: string): Outline => {
  const made = SUBSCRIPTS[character];
  const plain = font.charToGlyph(made?.of ?? character);
  if (plain.index === 0) throw new RangeError(`makeType: the family has no ${character} (U+${character.codePointAt(0)?.toString(16).padStart(4, "0")})`);
  const glyph = /\d/.test(character) ? font.glyphs.get(tabular(font).get(plain.index) ?? plain.index) : plain;
  if (made === undefined) return { advance: glyph.advanceWidth, commands: glyph.path.commands };
  const at = (value: number, down = 0): number => Math.round(value * made.size) - down;
  return { advance: at(glyph.advanceWidth), commands: glyph.path.commands.map((c) => ({ ...c, x: at(c.x), y: at(c.y, made.down), x1: at(c.x1), y1: at(c.y1, made.down) })) };
};

export const makeType = (): string => {
  const fonts = { regular: readFont("regular"), bold: readFont("bold") };
  const { unitsPerEm, ascender, descender, tables } = fonts.regular;
  const glyphs = (font: Font): string => [...CHARACTERS, ...Object.keys(SUBSCRIPTS)].map((c) => `    ${JSON.stringify(c)}: ${written(outlineOf(font, c))},`).join("\n");
  return `// Written by tests/export/makeType.ts. Outlines of Inter, Copyright 2020 The Inter Project Authors, SIL Open Font License 1.1: LICENSE.txt.

/** Advance; box from left, bottom to right, top; outline. In units of the em, y upwards. */
export type Glyph = readonly [advance: number, left: number, bottom: number, right: number, top: number, outline: string];

export const INTER = {
  name: "Inter ${tables.head.fontRevision}",
  unitsPerEm: ${unitsPerEm},
  capHeight: ${tables.os2.sCapHeight},
  ascender: ${ascender},
  descender: ${descender},
  regular: {
${glyphs(fonts.regular)}
  } as Readonly<Record<string, Glyph>>,
  bold: {
${glyphs(fonts.bold)}
  } as Readonly<Record<string, Glyph>>,
};
`;
};

export const TYPE_FILE = fileURLToPath(new URL("../../shared/export/type/inter.ts", import.meta.url));

if (process.argv[1] !== undefined && join(process.argv[1]) === fileURLToPath(import.meta.url)) writeFileSync(TYPE_FILE, makeType());
