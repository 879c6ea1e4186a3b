/** What the give or take of the inputs leaves of an output, in words. */
import { fromSI } from "../../lib/units.ts";
import type { Kind } from "../kinds.ts";
import { formatNumber } from "../state/numbers.ts";
import { show, type ShowOptions, unitFor, unitText } from "../state/units.ts";
import type { View } from "../view.ts";

/** Digits that tell the ends of a range apart: two in its width. */
const digitsOf = (width: number, least: number): number => (width > 0 ? Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(width)))) : least);

/** "59.2 to 60.8 km/h"; one value where nothing varies; `undefined` until it is worked out. */
export const rangeText = (view: View, name: string, kind: Kind, options: ShowOptions): string | undefined => {
  const range = view.ranges?.[name];
  if (range === undefined || !("low" in range)) return undefined;
  const unit = unitFor(kind, view.units, options);
  const [low, high] = [fromSI(range.low, unit), fromSI(range.high, unit)];
  const one = show(kind, range.likely, view.units, view.locale, options);
  if (low === high) return one.text;
  const digits = options.digits ?? digitsOf(high - low, 0);
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
