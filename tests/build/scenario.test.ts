import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { parseScenario, readScenario } from "../../build/scenario.ts";
import type { Scenario } from "../../shared/scenario/scenario.ts";

const DEMO = "shared/scenario/demo.yaml";
/** The demo without its opening comments, whose examples would be found first. */
const source = readFileSync(DEMO, "utf8").replace(/^[^]*?(?=^title:)/m, "");

const scenarioOf = (file: string): Scenario => {
  const reading = readScenario(file);
  if ("problems" in reading) throw new Error(JSON.stringify(reading.problems, null, 1));
  return reading.scenario;
};

/** The demo with one piece of text changed; refuses to test nothing. */
const changed = (from: string, to: string, in_ = source): string => {
  expect(in_).toContain(from);
  return in_.replace(from, to);
};

const problemsOf = (text: string): readonly string[] => {
  const reading = parseScenario(text, "show.yaml");
  return "problems" in reading ? reading.problems.map((p) => `${p.file}:${p.line}:${p.column}: ${p.message}`) : [];
};

/** line:column of a piece of text, counted by hand rather than by the reader under test. */
const placeOf = (text: string, piece: string): string => {
  const before = text.slice(0, text.indexOf(piece)).split("\n");
  return `${before.length}:${(before.at(-1) as string).length + 1}`;
};

describe("readScenario(demo)", () => {
  // The table of the invented demo; km/h and kN/m by hand to SI.
  it("gives the invented masses, speeds and fronts in SI", () => {
    const { a, b, title, file } = scenarioOf(DEMO);
    expect({ title, file }).toEqual({ title: "The Thornwick silo test", file: DEMO });
    expect([a.name, a.drawnAs, a.mass.value, a.speed.value, a.front.nose.value, a.front.cell.value, a.front.length.value]).toEqual(["Sprig", "hatch", 900, 15, 1.2e6, 4e6, 0.55]);
    expect([b.name, b.drawnAs, b.mass.value, b.speed.value, b.front.nose.value, b.front.cell.value, b.front.length.value]).toEqual(["Bollard", "estate", 1800, 10, 4.5e5, 4.5e5, 0.6]);
    expect(a.occupants[0]?.belt?.limit?.value).toBe(9000);
    expect(a.occupants[0]?.bag).not.toBeNull();
    expect(b.occupants[0]?.belt?.limit).toBeUndefined();
    expect(b.occupants[0]?.bag).toBeNull();
  });

  it("gives every measured value a give or take and a reason", () => {
    const missing: string[] = [];
    const walk = (at: unknown, path: string): void => {
      if (typeof at !== "object" || at === null) return;
      if ("value" in at) {
        const { give, reason } = at as unknown as { give: number; reason: string };
        if (!(give > 0) || reason === "") missing.push(path);
      } else for (const [key, value] of Object.entries(at)) walk(value, `${path}.${key}`);
    };
    const { a, b } = scenarioOf(DEMO);
    walk({ a, b }, "");
    expect(missing).toEqual([]);
  });
});

describe("readScenario(second example)", () => {
  it("reads tonnes, pounds, miles an hour, percent, anchors and the short form", () => {
    const { a, b } = scenarioOf("shared/scenario/cresswold.yaml");
    expect(a.mass.value).toBe(2300);
    // 1 mph = 0.44704 m/s exactly, 1 lb = 0.45359237 kg exactly (NIST SP 811, appendix B)
    expect(a.speed.value).toBeCloseTo(26 * 0.44704, 12);
    expect(a.occupants[1]?.torsoMass.value).toBeCloseTo(70 * 0.45359237, 12);
    expect(a.front.nose).toEqual({ value: 620e3, give: 124e3, reason: "" });
    expect(a.front.length.give).toBeCloseTo(0.04, 12);
    expect(a.occupants[1]?.counted).toBe("apart");
    expect(b.occupants[0]?.neck).toEqual(a.occupants[0]?.neck);
  });

  it("is unlike the demo in what decides roles", () => {
    const demo = scenarioOf(DEMO);
    const other = scenarioOf("shared/scenario/cresswold.yaml");
    const roles = ({ a, b }: Scenario) => [a.mass.value > b.mass.value, a.speed.value > b.speed.value, a.front.nose.value > b.front.nose.value];
    expect(roles(demo)).toEqual([false, true, true]);
    expect(roles(other)).toEqual([true, false, true]);
  });
});

describe("parseScenario(a wrong file) answers with line, column, rule and way out", () => {
  const cases: readonly [what: string, from: string, to: string, place: string, message: string][] = [
    ["an unknown key", "  speed: {", "  sped: {", "sped: {", 'a has no "sped"; the nearest is speed'],
    ["an unknown key far from any", "  drawnAs: hatch", "  paint: green\n  drawnAs: hatch", "paint: green", 'a has no "paint"; there are name, description, drawnAs, mass, speed, front, occupants'],
    ["a negative mass", "value: 900 kg", "value: -900 kg", "-900 kg", "a.mass must be > 0, got -900 kg"],
    ["a zero stiffness", "nose: { value: 450 kN/m", "nose: { value: 0 kN/m", "0 kN/m, give: 90", "b.front.nose must be > 0, got 0 kN/m"],
    ["a bare number", "value: 900 kg", "value: 900", "900, give", "a.mass must have a unit, like 900 kg ± 10 kg, got 900"],
    ["a unit of something else", "value: 900 kg", "value: 900 km/h", "900 km/h", "a.mass must be in one of kg, g, t, lb, got 900 km/h"],
    ["a mistyped unit", "value: 54 km/h", "value: 54 kmh", "54 kmh", 'a.speed has the unknown unit "kmh"; the nearest is km/h'],
    ["a decimal comma", "value: 0.55 m", 'value: "0,55 m"', '"0,55 m"', "a.front.length must be written with a decimal point and no commas, like 0.55 m, got 0,55 m"],
    ["words in place of a number", "value: 0.55 m", "value: about half", "about half", 'a.front.length must be a number with its unit, like 0.55 m, got "about half"'],
    ["a negative give", "give: 10 kg", "give: -10 kg", "-10 kg", "a.mass.give must be >= 0, got -10 kg"],
    ["a give as large as the value", "give: 10 kg", "give: 900 kg", "900 kg, reason", "a.mass.give must be smaller than the value itself, got 900 kg give or take 900 kg"],
    ["a give written twice", "value: 900 kg", "value: 900 kg ± 5 kg", "900 kg ± 5 kg", "a.mass has its give or take twice: after ± and under give"],
    ["an unknown outline", "drawnAs: hatch", "drawnAs: hach", "hach", 'a.drawnAs must be one of hatch, estate, got "hach"'],
    ["a word for the bag", "bag: none", "bag: no", "no\n      space", "b.occupants[1].bag must be none, or a group of keys"],
  ];
  for (const [what, from, to, piece, message] of cases)
    it(`${what}`, () => {
      const text = changed(from, to);
      expect(problemsOf(text)).toContain(`show.yaml:${placeOf(text, piece)}: ${message}`);
    });

  it("a missing key", () => {
    const [first] = problemsOf(changed("  name: Sprig\n", ""));
    expect(first).toContain('a needs "name"; its keys are name, description, drawnAs');
  });

  it("two vehicles of one name", () => expect(problemsOf(changed("name: Bollard", "name: Sprig"))[0]).toContain('b.name must differ from a.name, got "Sprig" for both'));

  it("occupants heavier than the vehicle that holds them", () =>
    expect(problemsOf(changed("value: 900 kg, give: 10 kg", "value: 50 kg, give: 1 kg"))[0]).toContain("a.mass must be more than the occupants counted inside it, got 50 kg with 52.5 kg of occupants"));

  it("a first vehicle that stands still", () => expect(problemsOf(changed("value: 54 km/h", "value: 0 km/h"))[0]).toContain("a.speed must be > 0"));

  it("YAML that does not parse", () => expect(problemsOf(changed("drawnAs: hatch", "drawnAs: [hatch"))[0]).toMatch(/^show\.yaml:\d+:\d+: /));

  it("lists every problem, in the order of the file", () => {
    const text = changed("value: 450 kN/m, give: 90", "value: 450 kN/q, give: 90", changed("value: 900 kg", "value: -1 kg", changed("  drawnAs: hatch", "  drawnAs: lorry")));
    const problems = problemsOf(text);
    expect(problems).toHaveLength(3);
    const lines = problems.map((p) => Number(p.split(":")[1]));
    expect(lines).toEqual([...lines].sort((p, q) => p - q));
  });

  it("an empty file", () => expect(problemsOf("")).toEqual(["show.yaml:1:1: a scenario must be a group of keys: title, a, b"]));
});

describe("readScenario(file)", () => {
  it("says that a file is not there", () => expect(readScenario("no-such-show.yaml")).toEqual({ problems: [{ file: "no-such-show.yaml", line: 1, column: 1, message: "there is no such file" }] }));

  it("names the file it was given", () => {
    const file = join(mkdtempSync(join(tmpdir(), "show-")), "mine.yaml");
    writeFileSync(file, source.replace("900 kg", "-900 kg"));
    const reading = readScenario(file);
    expect("problems" in reading && reading.problems[0]?.file).toBe(file);
  });
});
