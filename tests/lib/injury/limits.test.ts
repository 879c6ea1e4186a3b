import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { parse } from "yaml";
import { INJURY_LIMITS, injuryLimit, type InjuryLimit, type InjuryLimitName } from "../../../lib/injury/limits.ts";

const SOURCES = parse(readFileSync(new URL("../../../lib/sources.yaml", import.meta.url), "utf8")) as Record<string, unknown>;

test.each(Object.keys(INJURY_LIMITS) as InjuryLimitName[])("injuryLimit({ limit: %j }) states all that its rule asks for", (limit) => {
  const found: InjuryLimit = injuryLimit({ limit });
  expect(SOURCES).toHaveProperty(found.source);
  expect(found.window !== undefined).toBe(found.measure === "head injury criterion");
  expect(found.definition !== undefined).toBe(found.measure.endsWith("3 ms"));
  expect([0.015, 0.036, undefined]).toContain(found.window);
});

test("injuryLimit(…) turns printed units to SI", () => {
  expect(injuryLimit({ limit: "us208ChestAcceleration" }).value).toBeCloseTo(60 * 9.80665, 10);
  expect(injuryLimit({ limit: "un94ChestDeflection" }).value).toBeCloseTo(0.042, 15);
  expect(injuryLimit({ limit: "us208HeadInjury15" }).value).toBe(700);
});

test("injuryLimit(…) refuses a rule it does not have", () => {
  expect(() => injuryLimit({ limit: "other" as never })).toThrow("injuryLimit: limit must be one of us208HeadInjury15");
});
