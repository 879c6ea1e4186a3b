// Numbers in words, read back by a reader written apart, and a table of spoken English (common usage, no source).
import { describe, expect, test } from "vitest";
import { uniform } from "../../lib/math/random.ts";
import { UNITS, type UnitName } from "../../lib/units.ts";
import { inWords, numberWords, unitWords } from "../../shared/card/numberWords.ts";
import { formatNumber } from "../../shared/state/numbers.ts";
import { backToNumber } from "./backToNumber.ts";

const SEED = 11;

describe("numberWords(written)", () => {
  test.each([
    ["0", "zero"],
    ["13", "thirteen"],
    ["40", "forty"],
    ["99", "ninety-nine"],
    ["100", "one hundred"],
    ["101", "one hundred and one"],
    ["350", "three hundred and fifty"],
    ["1800", "one thousand eight hundred"],
    ["2005", "two thousand and five"],
    ["12\u202f345", "twelve thousand three hundred and forty-five"],
    ["1\u202f000\u202f000", "one million"],
    ["\u22122.40", "minus two point four zero"],
    ["0,12", "zero point one two"],
  ])("says %s as %s", (written, words) => expect(numberWords(written)).toBe(words));

  test("can be read back for 2000 seeded numbers, digit by digit, as locales write them", () => {
    for (let i = 0; i < 2000; i++) {
      const value = (uniform(SEED, i, 0) - 0.3) * 10 ** Math.floor(1 + uniform(SEED, i, 1) * 8);
      const digits = Math.floor(uniform(SEED, i, 2) * 4);
      const written = formatNumber(value, digits, i % 2 === 0 ? "en" : "de");
      expect(backToNumber(numberWords(written)), written).toBe(written.replace("\u2212", "-").replace(/\u202f/g, "").replace(",", "."));
    }
  });

  test("refuses what is no plain number", () => {
    for (const written of ["", "1e3", "12 km", "1.2.3"]) expect(() => numberWords(written)).toThrow(/^numberWords: written must be/);
  });
});

describe("unitWords(unit, written)", () => {
  test("has words for every unit: no sign is left to be read out", () => {
    // ft/s, g, t, mi, h and the like never stand on screen of their own accord; those that do must be words
    for (const unit of ["kg", "lb", "km/h", "mph", "m/s", "m", "ft", "cm", "ms", "s", "kN", "N", "lbf", "kN s", "N s", "kN/m", "lbf/in", "N/m", "kJ", "J", "ft lbf", "gn", "m/s^2", "\u00b0", "N s/m"] as UnitName[]) {
      expect(Object.hasOwn(UNITS, unit), unit).toBe(true);
      expect(unitWords(unit, "2"), unit).toMatch(/^[a-z][a-z -]+$/);
      expect(unitWords(unit, "2").length, unit).toBeGreaterThan(3);
    }
  });
  test("keeps the singular to one", () => {
    expect([unitWords("km/h", "1"), unitWords("ft", "1"), unitWords("N s", "1"), unitWords("gn", "1"), unitWords("km/h", "1.0"), unitWords("m", "0.12")]).toEqual(["kilometre per hour", "foot", "newton second", "times standard gravity", "kilometres per hour", "metres"]);
  });
});

describe("inWords(text)", () => {
  test("replaces numbers with their units and leaves names alone", () => {
    expect(inWords("About 60\u00a0km/h, not 1\u202f200\u00a0kN/m; 26\u00a0g\u2099 for 0.12\u00a0m. A340 and page2 stay; 5\u00a0% does not.")).toBe(
      "About sixty kilometres per hour, not one thousand two hundred kilonewtons per metre; twenty-six times standard gravity for zero point one two metres. A340 and page2 stay; five percent does not.",
    );
  });
});
