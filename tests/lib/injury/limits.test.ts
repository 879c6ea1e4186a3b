import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { parse } from "yaml";
import { INJURY_LIMITS, type InjuryLimit, type InjuryLimitName } from "../../../lib/injury/limits.ts";
import { sameDimension } from "../../../lib/units.ts";

const SOURCES = parse(readFileSync(new URL("../../../lib/sources.yaml", import.meta.url), "utf8")) as Record<string, unknown>;
const UNIT = { "head injury criterion": "1", "head acceleration, 3 ms": "m/s^2", "chest acceleration, 3 ms": "m/s^2", "chest deflection": "m" } as const;

test.each(Object.keys(INJURY_LIMITS) as InjuryLimitName[])("INJURY_LIMITS.%s states all that its rule asks for", (name) => {
  const limit: InjuryLimit = INJURY_LIMITS[name];
  expect(SOURCES).toHaveProperty(limit.source);
  expect(sameDimension(limit.unit, UNIT[limit.measure])).toBe(true);
  expect(limit.window !== undefined).toBe(limit.measure === "head injury criterion");
  expect(limit.definition !== undefined).toBe(limit.measure.endsWith("3 ms"));
});

// 49 CFR 571.208 S6.2 to S6.4 and UN Regulation No. 94 Revision 4, 5.2.1 and annex 3, 5.2.1, as transcribed apart from lib.
test.each<[InjuryLimitName, number, Partial<InjuryLimit>]>([
  ["us208HeadInjury15", 700, { window: 0.015 }],
  ["us208HeadInjury36", 1000, { window: 0.036 }],
  ["us208ChestAcceleration", 60, { unit: "gn", definition: "cumulative" }],
  ["us208ChestDeflectionOlder", 76, { unit: "mm" }],
  ["us208ChestDeflection", 63, { unit: "mm" }],
  ["un94HeadInjury36", 1000, { window: 0.036, filterClass: 1000 }],
  ["un94HeadAcceleration", 80, { unit: "gn", definition: "cumulative", filterClass: 1000 }],
  ["un94ChestDeflection", 42, { unit: "mm" }],
])("INJURY_LIMITS.%s prints %d", (name, printed, rest) => {
  expect(INJURY_LIMITS[name]).toMatchObject({ printed, ...rest });
});
