/** Options of a live part, as the page's HTML carries them. */
import { isUnit } from "../../lib/units.ts";
import type { ShowOptions } from "../state/units.ts";

export const optionsOf = (element: HTMLElement): ShowOptions => {
  const { unit, digits } = element.dataset;
  return { ...(unit !== undefined && isUnit(unit) && { unit }), ...(digits !== undefined && { digits: Number(digits) }) };
};
