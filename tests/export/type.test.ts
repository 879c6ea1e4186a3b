// The bundled type against the font files it was taken from, read by opentype.js and by the renderer's own font reader.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { Resvg } from "@resvg/resvg-js";
import { describe, expect, test } from "vitest";
import { HOME } from "../../build/home.ts";
import { CAP, EM, measure, outline, broken, type Weight } from "../../shared/export/type/outline.ts";
import { CHARACTERS, FONT_FILES, makeType, readFont, TYPE_FILE } from "./makeType.ts";

const WEIGHTS = ["regular", "bold"] as const satisfies readonly Weight[];
const STRINGS = ["Sprig pushes Bollard", "km/h, m/s\u00b2, kN\u00b7s", "\u0394v = \u221a(2Eh) \u2264 \u03c0 \u2212 \u03bc", "\u00c5ngstr\u00f6m, \u017b\u00f3\u0142w, \u010capek", "10\u207b\u2079 \u2192 \u25cf \u25a0 \u2026"];

type Place = readonly [letter: string, ...coordinates: number[]];

/** An outline of ours as absolute moves, lines and curves. */
const absolute = (d: string): Place[] => {
  let [x, y] = [0, 0];
  return [...d.matchAll(/([Mlhvqz])([^Mlhvqz]*)/g)].flatMap(([, letter, inner]): Place[] => {
    const n = ((inner as string).match(/-?[\d.]+/g) ?? []).map(Number) as [number, number, number, number];
    if (letter === "z") return [["Z"]];
    if (letter === "q") {
      const curve: Place = ["Q", x + n[0], y + n[1], x + n[2], y + n[3]];
      [x, y] = [x + n[2], y + n[3]];
      return [curve];
    }
    if (letter === "M") [x, y] = [n[0], n[1]];
    else if (letter === "l") [x, y] = [x + n[0], y + n[1]];
    else if (letter === "h") x += n[0];
    else y += n[0];
    return [[letter === "M" ? "M" : "L", x, y]];
  });
};

describe("shared/export/type/inter.ts", () => {
  test("is what makeType() writes", () => expect(readFileSync(TYPE_FILE, "utf8") === makeType()).toBe(true));

  test("stands beside the licence of the family", () => expect(readFileSync(join(TYPE_FILE, "../LICENSE.txt"), "utf8")).toMatch(/Inter Project Authors[\s\S]*SIL OPEN FONT LICENSE Version 1\.1/));

  test("has every character of every lesson", () => {
    const known = new Set([...CHARACTERS, "\u2099", "\n"]);
    const lacking = readdirSync(join(HOME, "lessons")).filter((name) => name.endsWith(".md")).flatMap((name) => [...new Set(readFileSync(join(HOME, "lessons", name), "utf8").normalize("NFC"))].filter((c) => !known.has(c)).map((c) => `${name}: ${c}`));
    expect(lacking).toEqual([]);
  });
});

describe("outline(…)", () => {
  // opentype.js 2.0.0: glyph outlines and widths of the font file itself, set one after the other.
  test.each(WEIGHTS.flatMap((weight) => STRINGS.map((words) => [weight, words] as const)))("gives the outlines that opentype.js reads, %s %s", (weight, words) => {
    const font = readFont(weight);
    const tabular = new Map(font.substitution.getSingle("tnum").map(({ sub, by }) => [sub, by]));
    let pen = 0;
    const theirs = [...words].flatMap((character): Place[] => {
      const plain = font.charToGlyph(character);
      const glyph = /\d/.test(character) ? font.glyphs.get(tabular.get(plain.index) ?? plain.index) : plain;
      const at = pen;
      pen += glyph.advanceWidth;
      return glyph.path.commands.map((c): Place => (c.type === "Z" ? ["Z"] : c.type === "Q" ? ["Q", at + c.x1, c.y1, at + c.x, c.y] : [c.type, at + c.x, c.y]));
    });
    expect(absolute(outline(words, weight))).toEqual(theirs);
    expect(measure(words, EM, weight).advance).toBe(pen);
  });

  // The renderer reads fonts with a reader of its own: its text, letter by letter at our places, is our outlines to the pixel.
  test.each(WEIGHTS)("draws what the renderer draws from the font file, %s", (weight) => {
    const size = 62;
    for (const words of STRINGS) {
      const letters = [...words];
      const places = letters.map((_, i) => 20 + measure(letters.slice(0, i).join(""), size, weight).advance);
      const sheet = (inner: string): string => `<svg xmlns="http://www.w3.org/2000/svg" width="1200" height="100"><rect width="1200" height="100" fill="#fff"/>${inner}</svg>`;
      const draw = (svg: string): Uint8Array => new Resvg(svg, { font: { loadSystemFonts: false, fontFiles: Object.values(FONT_FILES), defaultFontFamily: "Inter" } }).render().pixels;
      const escaped = words.replace(/&/g, "&amp;").replace(/</g, "&lt;");
      // Figures are left out: theirs are not of one width.
      if (/\d/.test(words)) continue;
      const theirs = draw(sheet(`<text x="${places.join(" ")}" y="70" font-family="Inter" font-size="${size}" font-weight="${weight === "bold" ? 700 : 400}" xml:space="preserve">${escaped}</text>`));
      const ours = draw(sheet(`<path transform="translate(20 70) scale(${size / EM} ${-size / EM})" d="${outline(words, weight)}"/>`));
      let [ink, off] = [0, 0];
      for (let i = 0; i < ours.length; i += 4) {
        if (ours[i] !== 255) ink++;
        if (Math.abs((ours[i] as number) - (theirs[i] as number)) > 24) off++;
      }
      expect(ink).toBeGreaterThan(1000);
      // Edges may be shaded a little otherwise.
      expect(off / ink).toBeLessThan(0.005);
    }
  });
});

describe("measure(…)", () => {
  test("gives figures one width, so that a running number does not shake", () => {
    for (const weight of WEIGHTS) expect(new Set([..."0123456789"].map((figure) => measure(figure, 62, weight).advance)).size).toBe(1);
  });

  test("bounds the pixels of the drawn words, to a pixel", () => {
    for (const weight of WEIGHTS) {
      const { ink } = measure("Qy\u00c5 350.3 kN\u00b7s", 62, weight);
      const pixels = new Resvg(`<svg xmlns="http://www.w3.org/2000/svg" width="700" height="120"><path transform="translate(20 80) scale(${62 / EM} ${-62 / EM})" d="${outline("Qy\u00c5 350.3 kN\u00b7s", weight)}"/></svg>`).render().pixels;
      const lit = Array.from({ length: 700 * 120 }, (_, i) => i).filter((i) => (pixels[4 * i + 3] as number) > 0);
      const [xs, ys] = [lit.map((i) => i % 700), lit.map((i) => Math.floor(i / 700))];
      const extent = (values: readonly number[]): [number, number] => values.reduce(([low, high], v) => [Math.min(low, v), Math.max(high, v)] as [number, number], [Infinity, -Infinity]);
      expect(Math.abs(extent(xs)[0] - (20 + ink.left))).toBeLessThanOrEqual(1);
      expect(Math.abs(extent(xs)[1] + 1 - (20 + ink.right))).toBeLessThanOrEqual(1);
      expect(Math.abs(extent(ys)[0] - (80 + ink.top))).toBeLessThanOrEqual(1);
      expect(Math.abs(extent(ys)[1] + 1 - (80 + ink.bottom))).toBeLessThanOrEqual(1);
    }
  });

  test("takes a capital H as high as the family says", () => expect(-measure("H", 1000, "regular").ink.top).toBeCloseTo(1000 * CAP, 9));

  test("takes a letter and its accent sent apart as one", () => expect(measure("A\u030a", 62, "regular")).toEqual(measure("\u00c5", 62, "regular")));

  test("refuses a character that is not bundled, and says what to do", () => expect(() => measure("\u8eca", 62, "bold")).toThrow(/^type: Inter [\d.]+ as bundled has no character \u8eca \(U\+8ECA\), got "\u8eca"; write it with other letters, or add it/));
});

describe("broken(…)", () => {
  test("keeps every line within its width, and a number with its unit", () => {
    const lines = broken("Bollard pushes Sprig: 333.2\u00a0kN", 62, "regular", 600);
    expect(lines.join(" ")).toBe("Bollard pushes Sprig: 333.2\u00a0kN");
    for (const line of lines) expect(measure(line, 62, "regular").advance).toBeLessThanOrEqual(600);
    expect(lines.at(-1)).toMatch(/333\.2\u00a0kN$/);
  });
});
