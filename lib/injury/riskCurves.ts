import { requireNonNegative, requireOneOf, requirePositive, requireThat } from "../check.ts";
import { fromSI, toSI, type UnitName } from "../units.ts";
import { normalShare } from "../uncertainty/normalShare.ts";
import type { LimitStatus } from "./limits.ts";

/**
 * lognormal: normal share of (ln x - c1) / c2. logistic: 1 / (1 + exp(c1 - c2 x^c3)), c3 left out: 1, with years x age taken from c1
 * where there is an age. expanded: 1 / (1 + exp(c1 + 200 / x - c2 x)).
 */
export type RiskForm = "lognormal" | "logistic" | "expanded";

/** A published curve of injury risk. It describes test dummies and populations, never one person. */
export interface RiskCurve {
  readonly measure: "head injury criterion" | "chest deflection" | "chest acceleration" | "combined thoracic index" | "neck criterion" | "neck axial force" | "femur force";
  /** Severity on the abbreviated injury scale: this or more. 6 is fatal. */
  readonly severity: 1 | 2 | 3 | 4 | 5 | 6;
  readonly dummy: "any" | "mid-size male" | "small female";
  /** That the coefficients belong to. */
  readonly unit: UnitName;
  readonly form: RiskForm;
  readonly c1: number;
  readonly c2: number;
  readonly c3?: number;
  /** For each year of age. */
  readonly years?: number;
  /** In lib/sources.yaml. */
  readonly source: string;
  /** Of the coefficients. */
  readonly status: LimitStatus;
  readonly note?: string;
}

const NCAP = { source: "us-ncap-2008", status: "second-hand" } as const;
const HEAD = { measure: "head injury criterion", dummy: "any", unit: "1" } as const;
const LOGNORMAL = { ...HEAD, form: "lognormal", source: "kuppa-2004", status: "second-hand" } as const;
const EXPANDED = { ...HEAD, form: "expanded", source: "prasad-mertz-1985", status: "second-hand" } as const;
const CHEST = { ...NCAP, measure: "chest deflection", severity: 3, unit: "mm", form: "logistic", c3: 0.4612 } as const;
const NECK_FORCE = { ...NCAP, measure: "neck axial force", severity: 3, unit: "kN", form: "logistic" } as const;
const FEMUR = { ...NCAP, measure: "femur force", severity: 2, unit: "kN", form: "logistic" } as const;

/**
 * Published curves of injury risk, for the evidence page only. They describe test dummies and populations, never one person, and
 * sources disagree: none is to be shown without its name, nor beside the result of a scenario.
 */
export const RISK_CURVES = {
  headAis2Lognormal: { ...LOGNORMAL, severity: 2, c1: 6.96352, c2: 0.84664 },
  headAis3Lognormal: { ...LOGNORMAL, ...NCAP, severity: 3, c1: 7.45231, c2: 0.73998 },
  headAis4Lognormal: { ...LOGNORMAL, severity: 4, c1: 7.65605, c2: 0.6058 },
  headAis1Expanded: { ...EXPANDED, severity: 1, c1: 1.54, c2: 0.0065 },
  headAis2Expanded: { ...EXPANDED, severity: 2, c1: 2.49, c2: 0.00483 },
  headAis3Expanded: { ...EXPANDED, severity: 3, c1: 3.39, c2: 0.00372 },
  headAis4Expanded: { ...EXPANDED, severity: 4, c1: 4.9, c2: 0.00351 },
  headAis5Expanded: { ...EXPANDED, severity: 5, c1: 7.82, c2: 0.00429 },
  headAis6Expanded: { ...EXPANDED, severity: 6, c1: 12.24, c2: 0.00565, note: "Fatal." },
  headAis4First: { ...HEAD, severity: 4, form: "logistic", c1: 5.02, c2: 0.00351, source: "us-ncap-first", status: "from memory", note: "First generation of the consumer test." },
  chestDeflectionAis3Male: { ...CHEST, dummy: "mid-size male", c1: 10.5456, c2: 1.568 },
  chestDeflectionAis3Female: { ...CHEST, dummy: "small female", c1: 10.5456, c2: 1.7212 },
  chestDeflectionAis3ByAge: { ...CHEST, dummy: "mid-size male", c1: 12.597, c2: 1.568, years: 0.05861, source: "laituri-2005", note: "At 35 years the curve without an age." },
  chestAccelerationAis4First: { measure: "chest acceleration", severity: 4, dummy: "any", unit: "gn", form: "logistic", c1: 5.55, c2: 0.0693, source: "us-ncap-first", status: "from memory", note: "First generation of the consumer test." },
  thoracicIndexAis3: { measure: "combined thoracic index", severity: 3, dummy: "any", unit: "1", form: "logistic", c1: 8.224, c2: 7.125, source: "kleinberger-1998", status: "second-hand" },
  neckAis3: { ...NCAP, measure: "neck criterion", severity: 3, dummy: "any", unit: "1", form: "logistic", c1: 3.2269, c2: 1.9688, note: "Gives 3.8 % with no load at all; a published evaluation finds that it overstates neck injury tenfold." },
  neckForceAis3Male: { ...NECK_FORCE, dummy: "mid-size male", c1: 10.9745, c2: 2.375 },
  neckForceAis3Female: { ...NECK_FORCE, dummy: "small female", c1: 10.958, c2: 3.77 },
  femurAis2Male: { ...FEMUR, dummy: "mid-size male", c1: 5.795, c2: 0.5196 },
  femurAis2Female: { ...FEMUR, dummy: "small female", c1: 5.7949, c2: 0.7619 },
} as const satisfies Record<string, RiskCurve>;

export type RiskCurveName = keyof typeof RISK_CURVES;

const NAMES = Object.keys(RISK_CURVES) as RiskCurveName[];
const logistic = (exponent: number): number => 1 / (1 + Math.exp(exponent));
/** Years: far beyond any that the curve with an age was made from, short of where it would have no median. */
const OLDEST = 120;
/** The expanded curve's own constant. */
const AT_NONE = 200;

/** Share of a population injured at x, in the curve's unit. */
const shareAt = ({ form, c1, c2, c3 = 1 }: RiskCurve, x: number): number =>
  form === "lognormal" ? normalShare((Math.log(x) - c1) / c2) : form === "expanded" ? logistic(c1 + AT_NONE / x - c2 * x) : logistic(c1 - c2 * x ** c3);

/** Where half are injured, in the curve's unit. */
const medianOf = ({ form, c1, c2, c3 = 1 }: RiskCurve): number =>
  form === "lognormal" ? Math.exp(c1) : form === "expanded" ? (c1 + Math.sqrt(c1 ** 2 + 4 * AT_NONE * c2)) / (2 * c2) : (c1 / c2) ** (1 / c3);

/**
 * Share of a population that one published curve gives for a measure of a test dummy. For the evidence page only.
 *
 * Model: the curve that is named, as published. Such curves describe test dummies and populations, never one person; sources disagree,
 * so name the curve wherever its value is shown, and show it beside no scenario. A curve may give risk for no load at all.
 *
 * @units-fixed each curve's coefficients belong to its own unit, and severity is a number on a scale
 * @param curve a name in RISK_CURVES
 * @param value of the curve's measure in SI (deflection in m, force in N, acceleration in m/s^2, criteria as numbers), >= 0 [1]
 * @param age in years, > 0 and <= 120, for the one curve that has it, which cannot do without [1]
 * @returns probability of that severity or more, 0 to 1 [1]
 * @returns median value at which the curve gives one half, in SI as the value [1]
 * @throws RangeError outside those ranges; TypeError for another curve
 * @source us-ncap-2008, table of frontal curves
 * @source kuppa-2004, lognormal curves of the head
 * @source prasad-mertz-1985, expanded curves of the head
 * @example injuryRisk({ curve: "headAis4Lognormal", value: 1000 }).probability // 0.1083748
 */
export const injuryRisk = ({ curve: name, value, age }: { readonly curve: RiskCurveName; readonly value: number; readonly age?: number }) => {
  requireOneOf("injuryRisk", "curve", name, NAMES);
  requireNonNegative("injuryRisk", "value", value);
  const curve: RiskCurve = RISK_CURVES[name];
  requireThat((age === undefined) === (curve.years === undefined), "injuryRisk", "age", curve.years === undefined ? `left out: ${name} has none` : `given: ${name} needs it`, age ?? "nothing");
  if (age !== undefined) {
    requirePositive("injuryRisk", "age", age, "years");
    requireThat(age <= OLDEST, "injuryRisk", "age", `<= ${OLDEST} years`, age);
  }
  const aged: RiskCurve = { ...curve, c1: curve.c1 - (curve.years ?? 0) * (age ?? 0) };
  return { probability: shareAt(aged, fromSI(value, curve.unit)), median: toSI(medianOf(aged), curve.unit) };
};

/**
 * What every published curve of one measure and severity gives for one value, side by side. For the evidence page only.
 *
 * Model: as injuryRisk, for each curve in RISK_CURVES without an age. How far the entries differ is how far published sources
 * disagree; none is the right one. They describe test dummies and populations, never one person.
 *
 * @units-fixed each curve's coefficients belong to its own unit
 * @param measure a measure in RISK_CURVES
 * @param severity on the abbreviated injury scale, a whole number, 1 to 6 [1]
 * @param value of the measure in SI, >= 0 [1]
 * @returns curves.curve name in RISK_CURVES
 * @returns curves.dummy that the curve was made for
 * @returns curves.probability of that severity or more, 0 to 1 [1]
 * @returns curves.source in lib/sources.yaml
 * @returns curves.status how far its text was seen
 * @returns lowest probability of them [1]
 * @returns highest probability of them [1]
 * @throws RangeError outside those ranges, or where no curve is known; TypeError for another measure
 * @source kuppa-2004, lognormal curves of the head
 * @source prasad-mertz-1985, expanded curves of the head
 * @source us-ncap-first, logistic curve of the head
 * @example injuryRisksSideBySide({ measure: "head injury criterion", severity: 4, value: 1000 }).highest // 0.1809388
 */
export const injuryRisksSideBySide = ({ measure, severity, value }: { readonly measure: RiskCurve["measure"]; readonly severity: number; readonly value: number }) => {
  const kernel = "injuryRisksSideBySide";
  const all = NAMES.map((name) => ({ name, curve: RISK_CURVES[name] as RiskCurve }));
  requireOneOf(kernel, "measure", measure, [...new Set(all.map(({ curve }) => curve.measure))]);
  requirePositive(kernel, "severity", severity);
  requireNonNegative(kernel, "value", value);
  const found = all.filter(({ curve }) => curve.measure === measure && curve.severity === severity && curve.years === undefined);
  requireThat(found.length > 0, kernel, "severity", `one that a curve of ${measure} is known for`, severity);
  const curves = found.map(({ name, curve: { dummy, source, status } }) => ({ curve: name, dummy, probability: injuryRisk({ curve: name, value }).probability, source, status }));
  const probabilities = curves.map(({ probability }) => probability);
  return { curves, lowest: Math.min(...probabilities), highest: Math.max(...probabilities) };
};

/**
 * Joint injury probability of a mid-size male dummy, by the rule of the 2008 US consumer frontal test. For the evidence page only.
 *
 * Model: head, neck, chest and femur taken as independent; the neck counts by the worst of its three curves. The neck curve alone
 * gives 3.8 % with no load, so good results are mostly that. It rates a test with a dummy, never one person, and a rating needs the
 * rule's own test.
 *
 * @units-fixed the curves' coefficients belong to their own units
 * @param headInjury criterion with a window of 15 ms, >= 0 [1]
 * @param chestDeflection >= 0 [m]
 * @param neck criterion, >= 0 [1]
 * @param neckTension >= 0 [N]
 * @param neckCompression >= 0 [N]
 * @param femurForce the larger of both, >= 0 [N]
 * @param baseline that the result is set against, > 0, default 0.15 [1]
 * @returns head probability [1]
 * @returns chest probability [1]
 * @returns neckProbability the worst of three [1]
 * @returns femur probability [1]
 * @returns joint probability [1]
 * @returns relative joint probability over the baseline [1]
 * @throws RangeError outside those ranges
 * @equation joint = 1 - (1 - head) * (1 - chest) * (1 - neckProbability) * (1 - femur)
 * @equation relative = joint / baseline
 * @source us-ncap-2008, combined probability
 * @example jointInjuryRisk({ headInjury: 250, chestDeflection: 0.025, neck: 0.4, neckTension: 1500, neckCompression: 300, femurForce: 3000 }).joint // 0.1208473
 */
export const jointInjuryRisk = ({ headInjury, chestDeflection, neck, neckTension, neckCompression, femurForce, baseline = 0.15 }: {
  readonly headInjury: number;
  readonly chestDeflection: number;
  readonly neck: number;
  readonly neckTension: number;
  readonly neckCompression: number;
  readonly femurForce: number;
  readonly baseline?: number;
}) => {
  const kernel = "jointInjuryRisk";
  for (const [name, value, unit] of [["headInjury", headInjury, ""], ["chestDeflection", chestDeflection, "m"], ["neck", neck, ""], ["neckTension", neckTension, "N"], ["neckCompression", neckCompression, "N"], ["femurForce", femurForce, "N"]] as const)
    requireNonNegative(kernel, name, value, unit);
  requirePositive(kernel, "baseline", baseline);
  const at = (curve: RiskCurveName, value: number): number => injuryRisk({ curve, value }).probability;
  const head = at("headAis3Lognormal", headInjury);
  const chest = at("chestDeflectionAis3Male", chestDeflection);
  const neckProbability = Math.max(at("neckAis3", neck), at("neckForceAis3Male", neckTension), at("neckForceAis3Male", neckCompression));
  const femur = at("femurAis2Male", femurForce);
  const joint = 1 - (1 - head) * (1 - chest) * (1 - neckProbability) * (1 - femur);
  return { head, chest, neckProbability, femur, joint, relative: joint / baseline };
};
