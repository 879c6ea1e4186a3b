/** Options of a live part, as the page's HTML carries them. */
import { isUnit } from "../../lib/units.ts";
import type { ShowOptions } from "../state/units.ts";

export const optionsOf = (element: HTMLElement): ShowOptions => {
  const { unit, digits, show } = element.dataset;
  return { ...(show === "spoken" && { spoken: true }), ...(show === "range" && { range: true }), ...(unit !== undefined && isUnit(unit) && { unit }), ...(digits !== undefined && { digits: Number(digits) }) };
};
