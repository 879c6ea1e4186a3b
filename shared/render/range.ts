/** What the give or take of the inputs leaves of an output, in words. */
import { fromSI, toSI } from "../../lib/units.ts";
import type { Kind } from "../kinds.ts";
import { formatNumber } from "../state/numbers.ts";
import { show, type ShowOptions, unitFor, unitText } from "../state/units.ts";
import type { View } from "../view.ts";

const MOST_DIGITS = 6;

/** Digits after the decimal sign that tell the ends of a range apart: two figures of its width. */
export const rangeDigits = (width: number, least: number): number => (width > 0 ? Math.min(MOST_DIGITS, Math.max(0, 1 - Math.floor(Math.log10(width)))) : least);

/** Binary rounding over a run: as a share of the number, and of the last place that its kind is shown with. */
const ROUNDING = { share: 1e-9, place: 1e-6 };

/** No give or take moves it: what width there is comes of rounding. */
export const isNil = (kind: Kind, { low, high }: { readonly low: number; readonly high: number }): boolean =>
  high - low <= Math.max(ROUNDING.share * Math.max(Math.abs(low), Math.abs(high)), toSI(ROUNDING.place * 10 ** -kind.digits, kind.shown.metric));

/** "59.2 to 60.8 km/h"; one value where nothing varies; `undefined` until it is worked out. */
export const rangeText = (view: View, name: string, kind: Kind, options: ShowOptions): string | undefined => {
  const range = view.ranges?.[name];
  if (range === undefined || !("low" in range)) return undefined;
  const unit = unitFor(kind, view.units, options);
  const [low, high] = [fromSI(range.low, unit), fromSI(range.high, unit)];
  const one = show(kind, range.likely, view.units, view.locale, options);
  if (isNil(kind, range)) return one.text;
  const digits = options.digits ?? rangeDigits(high - low, 0);
  const text = unitText(unit);
  return `${formatNumber(low, digits, view.locale)} to ${formatNumber(high, digits, view.locale)}${text === "" ? "" : `\u00a0${text}`}`;
};

/** "the lighter changes more (in 100 of 100)"; every word that came up, the commonest first. */
export const countsText = (view: View, name: string): string | undefined => {
  const output = view.lesson.outputs[name];
  const range = view.ranges?.[name];
  if (range === undefined || !("counts" in range) || output?.type !== "verdict") return undefined;
  const words = Object.entries(range.counts).filter(([, count]) => count > 0).sort(([, p], [, q]) => q - p);
  return words.map(([word, count]) => `${output.words[word] ?? word} (in ${Math.round((100 * count) / range.runs)} of 100)`).join("; ");
};
