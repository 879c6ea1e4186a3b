/** Numbers and units as they are said aloud, made from the text on screen: what is shown and what is said cannot differ. */
import { UNITS, type UnitName } from "../../lib/units.ts";
import { unitSpoken, unitText } from "../state/units.ts";

const SMALL = "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split(" ");
const TENS = "- - twenty thirty forty fifty sixty seventy eighty ninety".split(" ");
const GROUPS = ["", "thousand", "million", "billion", "trillion"];

const belowThousand = (n: number): string => {
  const hundreds = n >= 100 ? `${SMALL[Math.floor(n / 100)]} hundred` : "";
  const rest = n % 100;
  const words = rest < 20 ? (rest === 0 ? "" : (SMALL[rest] as string)) : `${TENS[Math.floor(rest / 10)]}${rest % 10 === 0 ? "" : `-${SMALL[rest % 10]}`}`;
  return hundreds !== "" && words !== "" ? `${hundreds} and ${words}` : hundreds + words;
};

const wholeWords = (digits: string): string => {
  const plain = digits.replace(/^0+(?=\d)/, "");
  if (plain === "0") return "zero";
  if (plain.length > 3 * GROUPS.length) return [...plain].map((digit) => SMALL[Number(digit)]).join(" ");
  const groups = (plain.padStart(Math.ceil(plain.length / 3) * 3, "0").match(/\d{3}/g) ?? []).map(Number);
  return groups
    .flatMap((n, i) => {
      const name = GROUPS[groups.length - 1 - i] as string;
      // "two thousand and five"
      const joint = i > 0 && i === groups.length - 1 && n > 0 && n < 100 ? "and " : "";
      return n === 0 ? [] : [`${joint}${belowThousand(n)}${name === "" ? "" : ` ${name}`}`];
    })
    .join(" ");
};

/** A number as written on screen in words: "-2.40" is "minus two point four zero". */
export const numberWords = (written: string): string => {
  const plain = written.replace(/[\s\u00a0\u202f]/g, "").replace("\u2212", "-").replace(",", ".");
  const [, sign, whole, fraction] = /^(-?)(\d+)(?:\.(\d+))?$/.exec(plain) ?? [];
  if (whole === undefined) throw new RangeError(`numberWords: written must be a plain number, got ${JSON.stringify(written)}`);
  return `${sign === "-" ? "minus " : ""}${wholeWords(whole)}${fraction === undefined ? "" : ` point ${[...fraction].map((digit) => SMALL[Number(digit)]).join(" ")}`}`;
};

/** Said aloud, where the unit's own table has only its sign. */
const ALOUD: Partial<Record<UnitName, string>> = { N: "newtons", "N s": "newton seconds", "kN s": "kilonewton seconds", cm: "centimetres", mm: "millimetres", in: "inches", "°": "degrees", "m/s^2": "metres per second squared", "N/m": "newtons per metre", "N s/m": "newton seconds per metre", "ft lbf": "foot-pounds", gn: "times standard gravity", "1": "" };

const SINGULAR: Readonly<Record<string, string>> = { feet: "foot", inches: "inch" };
/** "metres per second" -> "metre per second". */
const singular = (unit: string): string => unit.replace(/^(\w+?)(s?)(?=[\s-]|$)/, (word, stem: string, s: string) => SINGULAR[word] ?? (s === "s" && word !== "times" ? stem : word));

export const unitWords = (unit: UnitName, written: string): string => {
  const words = ALOUD[unit] ?? unitSpoken(unit);
  // A second unit in "newton seconds" carries the plural.
  return /^[-\u2212]?1$/.test(written.trim()) ? (/^(kilo)?newton seconds?\b/.test(words) ? words.replace("seconds", "second") : singular(words)) : words;
};

/** Signs of units as they stand on screen, the longest first. */
const SIGNS = (Object.keys(UNITS) as UnitName[])
  .filter((unit) => unit !== "1")
  .map((unit) => ({ unit, text: unitText(unit) }))
  .sort((p, q) => q.text.length - p.text.length);

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&");
const SPACE = "[ \\u00a0\\u202f]";
const NUMBER = `[-\\u2212]?\\d+(?:\\u202f\\d{3})*(?:[.,]\\d+)?`;
/** A number, and a unit if one follows at once; a letter before or after makes it part of a name. */
const QUANTITY = new RegExp(`(?<![\\p{L}\\d.])(${NUMBER})(?:(?:${SPACE})?(${SIGNS.map(({ text }) => escaped(text)).join("|")}|%)(?![\\p{L}\\d]))?(?![\\p{L}\\d])`, "gu");

/** A text with every number, and the unit that follows it, in words. */
export const inWords = (text: string): string =>
  text.replace(QUANTITY, (_, written: string, sign: string | undefined) => {
    if (sign === undefined) return numberWords(written);
    if (sign === "%") return `${numberWords(written)} percent`;
    const unit = (SIGNS.find((one) => one.text === sign) as { unit: UnitName }).unit;
    return `${numberWords(written)} ${unitWords(unit, written)}`;
  });
