/** Numbers as they are said aloud: few figures, but never so few that a comparison or a sum is lost. */
import { fromSI, type UnitName } from "../../lib/units.ts";
import { FEWEST_FIGURES, spokenFigures } from "../card/spokenFigures.ts";
import { unitFor } from "../state/units.ts";
import type { View } from "../view.ts";

/** Significant digits for output `name`, beside every other output in its unit that is said. */
export const spokenDigits = (view: View, name: string): number => {
  const quantity = (of: string): { unit: UnitName; value: number } | undefined => {
    const output = view.lesson.outputs[of];
    const si = view.state.outputs[of];
    if ((output?.type !== "quantity" && output?.type !== "returned") || typeof si !== "number") return undefined;
    const unit = unitFor(output.kind, view.units);
    return { unit, value: fromSI(si, unit) };
  };
  const own = quantity(name);
  if (own === undefined) return FEWEST_FIGURES;
  const others = (view.spoken ?? []).flatMap((of) => (of === name ? [] : (quantity(of) ?? []))).filter(({ unit }) => unit === own.unit);
  return spokenFigures([own, ...others].map(({ value }) => value))[0] as number;
};
