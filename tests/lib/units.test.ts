import { describe, expect, test } from "vitest";
import { fromSI, sameDimension, toSI, UNITS, type UnitName } from "../../lib/units.ts";

// NIST SP 811, appendix B (second-hand): exact factors.
const EXACT: readonly [UnitName, number][] = [
  ["in", 0.0254],
  ["ft", 0.3048],
  ["mph", 0.44704],
  ["lb", 0.45359237],
  ["lbf", 4.4482216152605],
  ["ft lbf", 1.3558179483314004],
  ["gn", 9.80665],
  ["km/h", 1 / 3.6],
];

/** Two roundings of a double. */
const ROUNDING = 4 * Number.EPSILON;

describe("units", () => {
  test.each(EXACT)("toSI(1, %s) is the exact factor of NIST SP 811", (unit, factor) => {
    expect(Math.abs(toSI(1, unit) / factor - 1)).toBeLessThanOrEqual(ROUNDING);
  });
  test("fromSI(toSI(x, unit), unit) returns x for every unit", () => {
    for (const unit of Object.keys(UNITS) as UnitName[]) expect(Math.abs(fromSI(toSI(17.25, unit), unit) / 17.25 - 1)).toBeLessThanOrEqual(ROUNDING);
  });
  test("lbf/in is the conversion printed for stiffness: 175.12684 N/m (closed form of the exact factors)", () => {
    expect(toSI(1, "lbf/in")).toBeCloseTo(175.12684, 5);
  });
  test("sameDimension tells speed from force", () => {
    expect(sameDimension("km/h", "mph")).toBe(true);
    expect(sameDimension("km/h", "kN")).toBe(false);
  });
});
