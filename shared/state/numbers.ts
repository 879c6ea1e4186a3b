/**
 * Numbers as readers write and read them: decimal sign of the locale, true minus, narrow groups from five digits on.
 * Reading takes a point or a comma; where both readings make sense it asks instead of guessing.
 */

const MINUS = "\u2212";
const NARROW = "\u202f";
/** Groups are set from this many digits before the decimal sign on, as the SI brochure asks. */
const GROUP_FROM = 5;

const signs = new Map<string, "." | ",">();

/** The decimal sign of a locale; other signs than point and comma do not occur in the locales that use these digits. */
export const decimalSign = (locale: string): "." | "," => {
  let sign = signs.get(locale);
  if (sign === undefined) {
    const part = new Intl.NumberFormat(locale).formatToParts(1.5).find((p) => p.type === "decimal")?.value;
    sign = part === "," ? "," : ".";
    signs.set(locale, sign);
  }
  return sign;
};

/** Drops the noise of binary arithmetic, so that every way of setting a value gives the same number. */
export const tidy = (value: number): number => (Number.isFinite(value) ? Number(value.toPrecision(12)) + 0 : value);

/** A number with a fixed count of digits after the decimal sign. */
export const formatNumber = (value: number, digits: number, locale: string): string => {
  if (!Number.isFinite(value)) return "\u2014";
  const [whole = "", fraction] = Math.abs(value).toFixed(digits).split(".");
  const grouped = whole.length < GROUP_FROM ? whole : whole.replace(/\B(?=(\d{3})+$)/g, NARROW);
  const text = fraction === undefined ? grouped : grouped + decimalSign(locale) + fraction;
  return value < 0 && /[1-9]/.test(text) ? MINUS + text : text;
};

/** A number with so many significant digits and no trailing zeros: for working numbers in an equation. */
export const formatSignificant = (value: number, significant: number, locale: string): string => {
  if (value === 0 || !Number.isFinite(value)) return formatNumber(value, 0, locale);
  const exponent = Math.floor(Math.log10(Math.abs(value)));
  if (exponent >= 7 || exponent < -4) return `${formatSignificant(value / 10 ** exponent, significant, locale)}\u00d710${[...String(exponent)].map((c) => (c === "-" ? "\u207b" : "\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079"[Number(c)])).join("")}`;
  const digits = Math.min(12, Math.max(0, significant - 1 - exponent));
  return formatNumber(value, (value.toFixed(digits).replace(/\.?0+$/, "").split(".")[1] ?? "").length, locale);
};

export type Parsed = { readonly value: number; readonly rest: string } | { readonly question: string };

const GROUPED = (sign: string): RegExp => new RegExp(`^\\d{1,3}(\\${sign}\\d{3})+$`);

/** Reads a number at the head of `text`; `rest` is what follows it (a unit, say). */
export const parseNumber = (text: string, locale: string): Parsed => {
  const plain = text.trim().replace(/^[\u2212\u2013\u2010-]\s*/, "-");
  const match = /^([-+]?)((?:\d|[.,](?=\d)|[\s'\u2019](?=\d)|\.(?!\S)|,(?!\S))+)(?:[eE]([-+\u2212]?\d+))?(.*)$/s.exec(plain);
  const body = match?.[2];
  if (!match || body === undefined || !/\d/.test(body)) return { question: plain === "" ? "Which number?" : `\u201c${text.trim()}\u201d is not a number. Type digits, such as 15 or 1.5.` };
  const [, sign, , exponent, rest = ""] = match;
  const done = (digits: string): Parsed => ({ value: Number(`${sign}${digits}${exponent === undefined ? "" : `e${exponent.replace(MINUS, "-")}`}`), rest: rest.trim() });
  const unclear = { question: `How is \u201c${body.trim()}\u201d meant? Type it without spaces and group signs.` };
  const spaced = /[\s'\u2019]/.test(body);
  if (spaced && !/^\d{1,3}([\s'\u2019]\d{3})+([.,]\d*)?$/.test(body)) return unclear;
  const digits = body.replace(/[\s'\u2019]/g, "");
  const points = digits.split(".").length - 1;
  const commas = digits.split(",").length - 1;
  if (points + commas === 0) return done(digits);
  if (points > 0 && commas > 0) {
    const decimal = digits.lastIndexOf(".") > digits.lastIndexOf(",") ? "." : ",";
    const group = decimal === "." ? "," : ".";
    const [whole = "", fraction, more] = digits.split(decimal);
    return more === undefined && GROUPED(group).test(whole) ? done(`${whole.split(group).join("")}.${fraction}`) : unclear;
  }
  const used = points > 0 ? "." : ",";
  if (points + commas > 1) return GROUPED(used).test(digits) ? done(digits.split(used).join("")) : unclear;
  const [whole = "", fraction = ""] = digits.split(used);
  if (fraction.length === 3 && /^[1-9]\d{0,2}$/.test(whole) && !spaced && used !== decimalSign(locale)) {
    const other = decimalSign(locale);
    return { question: `Is \u201c${digits}\u201d ${whole}${fraction} or ${whole}${other}${fraction}? Type one of these two.` };
  }
  return done(`${whole === "" ? "0" : whole}.${fraction === "" ? "0" : fraction}`);
};
