/** Numbers as they are said aloud: few digits, but never so few that a comparison is lost. */
import { fromSI } from "../../lib/units.ts";
import { unitFor } from "../state/units.ts";
import type { View } from "../view.ts";

/** An audience holds two digits; more only where two would make a larger and a smaller number sound alike. */
const FEWEST = 2;
const MOST = 4;

const rounded = (value: number, significant: number): number => Number(value.toPrecision(significant));

/** Significant digits for output `name`: the fewest that keep it apart from every other spoken output of its kind that differs. */
export const spokenDigits = (view: View, name: string): number => {
  const quantity = (of: string): { kind: string; value: number } | undefined => {
    const output = view.lesson.outputs[of];
    const si = view.state.outputs[of];
    return (output?.type === "quantity" || output?.type === "returned") && typeof si === "number" ? { kind: output.kind.id, value: fromSI(si, unitFor(output.kind, view.units)) } : undefined;
  };
  const own = quantity(name);
  if (own === undefined) return FEWEST;
  const others = (view.spoken ?? []).flatMap((of) => quantity(of) ?? []).filter(({ kind, value }) => kind === own.kind && rounded(value, MOST) !== rounded(own.value, MOST));
  for (let digits = FEWEST; digits < MOST; digits++) if (others.every(({ value }) => rounded(value, digits) !== rounded(own.value, digits))) return digits;
  return MOST;
};
