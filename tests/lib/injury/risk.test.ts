import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { combinedThoracicIndex, THORACIC_INTERCEPTS } from "../../../lib/injury/combinedThoracicIndex.ts";
import { fourthPowerRisk, massRatioRisk } from "../../../lib/injury/populationRisk.ts";
import { injuryRisk, injuryRisksSideBySide, jointInjuryRisk, RISK_CURVES, type RiskCurve, type RiskCurveName } from "../../../lib/injury/riskCurves.ts";
import { toSI } from "../../../lib/units.ts";

const ROOT = new URL("../../../", import.meta.url);
const SOURCES = parse(readFileSync(new URL("lib/sources.yaml", ROOT), "utf8")) as Record<string, unknown>;
const CASES = { numRuns: 100, seed: 9 };
const names = Object.keys(RISK_CURVES) as RiskCurveName[];
const curveOf = (name: RiskCurveName): RiskCurve => RISK_CURVES[name];
const age = (name: RiskCurveName) => (curveOf(name).years === undefined ? {} : { age: 50 });

describe.each(names)("RISK_CURVES.%s", (name) => {
  test("names a known source and rises from 0 to 1, through one half at its median", () => {
    expect(SOURCES).toHaveProperty(curveOf(name).source);
    const { median } = injuryRisk({ curve: name, value: 1, ...age(name) });
    expect(injuryRisk({ curve: name, value: median, ...age(name) }).probability).toBeCloseTo(0.5, 9);
    let before = 0;
    for (let share = 0; share <= 3; share += 0.125) {
      const { probability } = injuryRisk({ curve: name, value: share * median, ...age(name) });
      expect(probability).toBeGreaterThanOrEqual(before);
      expect(probability).toBeLessThanOrEqual(1);
      before = probability;
    }
    expect(before).toBeGreaterThan(0.9);
  });
});

// Coefficients as transcribed apart from lib, from public transcriptions of 73 FR 40016 (2008), Kuppa (2004) and the expanded set (second-hand).
test.each<[RiskCurveName, ...number[]]>([
  ["headAis2Lognormal", 6.96352, 0.84664],
  ["headAis3Lognormal", 7.45231, 0.73998],
  ["headAis4Lognormal", 7.65605, 0.6058],
  ["chestDeflectionAis3Male", 10.5456, 1.568, 0.4612],
  ["chestDeflectionAis3Female", 10.5456, 1.7212, 0.4612],
  ["neckAis3", 3.2269, 1.9688],
  ["neckForceAis3Male", 10.9745, 2.375],
  ["neckForceAis3Female", 10.958, 3.77],
  ["femurAis2Male", 5.795, 0.5196],
  ["femurAis2Female", 5.7949, 0.7619],
  ["headAis1Expanded", 1.54, 0.0065],
  ["headAis2Expanded", 2.49, 0.00483],
  ["headAis3Expanded", 3.39, 0.00372],
  ["headAis4Expanded", 4.9, 0.00351],
  ["headAis5Expanded", 7.82, 0.00429],
  ["headAis6Expanded", 12.24, 0.00565],
])("RISK_CURVES.%s has the published coefficients", (name, ...coefficients) => {
  const { c1, c2, c3 } = curveOf(name);
  expect([c1, c2, c3].slice(0, coefficients.length)).toEqual(coefficients);
});

test("injuryRisk(…) gives less for graver injury, on curves of one family, as far as they do not cross", () =>
  fc.assert(
    fc.property(fc.double({ min: 250, max: 3500, noNaN: true }), (value) => {
      for (const family of [["headAis2Lognormal", "headAis3Lognormal"], ["headAis1Expanded", "headAis2Expanded", "headAis3Expanded", "headAis4Expanded", "headAis5Expanded"]] as const) {
        const risks = family.map((curve) => injuryRisk({ curve, value }).probability);
        risks.slice(1).forEach((risk, i) => expect(risk).toBeLessThanOrEqual(risks[i] as number));
      }
    }),
    CASES,
  ));

test("injuryRisk(…) asks for an age where the curve has one, and nowhere else", () => {
  expect(() => injuryRisk({ curve: "chestDeflectionAis3ByAge", value: 0.04 })).toThrow("injuryRisk: age must be given: chestDeflectionAis3ByAge needs it, got \"nothing\"");
  expect(() => injuryRisk({ curve: "femurAis2Male", value: 1, age: 40 })).toThrow("injuryRisk: age must be left out: femurAis2Male has none, got 40");
  expect(() => injuryRisk({ curve: "chestDeflectionAis3ByAge", value: 0.04, age: 215 })).toThrow("injuryRisk: age must be <= 120 years, got 215");
  expect(injuryRisk({ curve: "chestDeflectionAis3ByAge", value: 0.04, age: 120 }).median).toBeGreaterThan(0);
  expect(() => injuryRisk({ curve: "headAis9" as RiskCurveName, value: 1 })).toThrow(TypeError);
});

test("injuryRisksSideBySide(…) lists every source that disagrees, none of them alone", () => {
  const { curves, lowest, highest } = injuryRisksSideBySide({ measure: "head injury criterion", severity: 4, value: 1000 });
  expect(curves.map(({ curve }) => curve).sort()).toEqual(["headAis4Expanded", "headAis4First", "headAis4Lognormal"]);
  expect(highest / lowest).toBeGreaterThan(1.6); // 18.1 against 10.8 per cent
  expect(() => injuryRisksSideBySide({ measure: "femur force", severity: 6, value: 1 })).toThrow("one that a curve of femur force is known for");
});

test("jointInjuryRisk(…) is at least its worst part, at most their sum, and mostly the neck curve when nothing is loaded", () => {
  const none = jointInjuryRisk({ headInjury: 0, chestDeflection: 0, neck: 0, neckTension: 0, neckCompression: 0, femurForce: 0 });
  expect(none.head).toBe(0);
  expect(none.neckProbability / none.joint).toBeGreaterThan(0.9);
  const some = jointInjuryRisk({ headInjury: 600, chestDeflection: 0.03, neck: 0.5, neckTension: 2000, neckCompression: 500, femurForce: 4000 });
  const parts = [some.head, some.chest, some.neckProbability, some.femur];
  expect(some.joint).toBeGreaterThan(Math.max(...parts));
  expect(some.joint).toBeLessThan(parts.reduce((sum, part) => sum + part));
});

test("combinedThoracicIndex(…) is 1 at each intercept alone, by edition", () => {
  for (const edition of ["1998", "1999"] as const) {
    const intercept = THORACIC_INTERCEPTS[edition];
    expect(combinedThoracicIndex({ acceleration: toSI(intercept.acceleration, "gn"), deflection: 0, edition }).value).toBeCloseTo(1, 12);
    expect(combinedThoracicIndex({ acceleration: 0, deflection: toSI(intercept.deflection, "mm"), edition }).value).toBeCloseTo(1, 12);
  }
  expect(() => combinedThoracicIndex({ acceleration: 0, deflection: 0, edition: "2000" as "1998" })).toThrow(TypeError);
});

test("massRatioRisk(…) is 1 between like cars and undone by no exponent; fourthPowerRisk(…) stops at 1", () => {
  expect(massRatioRisk({ massRatio: 1, exponent: 3.58 })).toEqual({ ratio: 1, increase: 0 });
  expect(() => massRatioRisk({ massRatio: 0.5, exponent: 3 })).toThrow("massRatioRisk: massRatio must be >= 1 (of the heavier to the lighter), got 0.5");
  expect(fourthPowerRisk({ speedChange: 100 }).probability).toBe(1);
});

test("no lesson and nothing in shared uses a risk curve: they are for the evidence page only", () => {
  const risky = /\b(?:injuryRisk|injuryRisksSideBySide|jointInjuryRisk|RISK_CURVES|combinedThoracicIndex|fourthPowerRisk|massRatioRisk)\b/;
  const users = ["lessons", "shared"].flatMap((folder) =>
    readdirSync(new URL(`${folder}/`, ROOT), { recursive: true, encoding: "utf8" })
      .filter((path) => /\.(?:ts|md)$/.test(path))
      .filter((path) => risky.test(readFileSync(new URL(`${folder}/${path}`, ROOT), "utf8"))),
  );
  expect(users).toEqual([]);
});
