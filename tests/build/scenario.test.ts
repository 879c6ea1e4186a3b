import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { unit as mathUnit } from "mathjs";
import { afterAll, describe, expect, it } from "vitest";
import { writeLeftOut } from "../../build/leftOut.ts";
import { newLesson } from "../../build/new.ts";
import { parseScenario, readScenario } from "../../build/scenario.ts";
import { Site } from "../../build/site.ts";
import { unitNamed, type UnitName, UNITS } from "../../lib/units.ts";
import { KINDS } from "../../shared/kinds.ts";
import { lesson, mass, ratio } from "../../shared/lesson.ts";
import { PARTS, type Scenario } from "../../shared/scenario/scenario.ts";
import { Session } from "../../shared/state/session.ts";
import { readQuantity } from "../../shared/state/units.ts";

/** Room for a slow machine that does other work as well. */
const SLOW = 60_000;
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
    ["an unknown key far from any", "  drawnAs: hatch", "  paint: green\n  drawnAs: hatch", "paint: green", 'a has no "paint"; there are name, description, drawnAs, width, mass, speed, front, occupants'],
    ["a negative mass", "value: 900 kg", "value: -900 kg", "-900 kg", "a.mass must be > 0, got -900 kg"],
    ["a zero stiffness", "nose: { value: 450 kN/m", "nose: { value: 0 kN/m", "0 kN/m, give: 90", "b.front.nose must be > 0, got 0 kN/m"],
    ["a bare number", "value: 900 kg", "value: 900", "900, give", "a.mass must have a unit, like 900 kg ± 10 kg, got 900"],
    ["a unit of something else", "value: 900 kg", "value: 900 km/h", "900 km/h", "a.mass must be in one of kg, g, t, lb, got 900 km/h"],
    ["a mistyped unit", "value: 54 km/h", "value: 54 km/j", "54 km/j", 'a.speed has the unknown unit "km/j"; the nearest is km/h'],
    // By letters alone, the nearest to kph would be mph.
    ["kph", "value: 54 km/h", "value: 54 kph", "54 kph", 'a.speed has the unknown unit "kph"; the nearest is km/h'],
    ["kmh in the short form", "speed: { value: 36 km/h, give: 1 km/h,", "speed: { value: 36 km/h ± 1 kmh,", "36 km/h ± 1 kmh", 'b.speed.give has the unknown unit "kmh"; the nearest is km/h'],
    ["miles as mi/h", "value: 54 km/h", "value: 54 mi/h", "54 mi/h", 'a.speed has the unknown unit "mi/h"; the nearest is mph'],
    ["pounds as lbs", "value: 900 kg", "value: 900 lbs", "900 lbs", 'a.mass has the unknown unit "lbs"; the nearest is lb'],
    ["kgs in a give", "give: 10 kg", "give: 10 kgs", "10 kgs", 'a.mass.give has the unknown unit "kgs"; the nearest is kg'],
    ["a unit in capitals", "limit: { value: 9 kN", "limit: { value: 9 KN", "9 KN", 'a.occupants[1].belt.limit has the unknown unit "KN"; the nearest is kN'],
    ["seconds as sec", "delay: { value: 1 s", "delay: { value: 1 sec", "1 sec", 'site.braking.delay has the unknown unit "sec"; the nearest is s'],
    ["pounds for a force", "limit: { value: 9 kN", "limit: { value: 2000 lb", "2000 lb", "a.occupants[1].belt.limit must be in one of N, kN, lbf, got 2000 lb; the nearest is lbf"],
    ["g for an acceleration", "deceleration: { value: 0.7 gn", "deceleration: { value: 0.7 g", "0.7 g,", "site.braking.deceleration must be in one of m/s^2, gn, got 0.7 g; the nearest is gn"],
    ["a decimal comma in braces", "{ value: 900 kg, give: 10 kg", "{ value: 3483,5 lb, give: 20 lb", "3483,5 lb", "a.mass: a comma splits the value here; write 3483.5 lb"],
    ["a comma between thousands in braces", "{ value: 900 kg, give: 10 kg", "{ value: 3,483 lb, give: 20 lb", "3,483 lb", "a.mass: a comma splits the value here; write 3.483 lb, or 3483 lb without the comma"],
    ["a comma in a reason in braces", 'reason: "invented; across the front"', "reason: tape, twice, by two people", "tape, twice", 'a.width: put quotes around a text that has a comma: reason: "tape, twice, by two people"'],
    ["no space after a colon in braces", "{ value: 900 kg, give", "{ value:900 kg, give", "value:900", "a.mass: a key is followed by a colon and a space: value: 900 kg"],
    ["a text that starts with a # sign", "name: Sprig", "name: #1", "#1", "a.name must be text; what follows a # is a comment, so put a text with a # in quotes"],
    ["a mark that is not there", "name: Sprig", "name: *sprig", "*sprig", "nothing above is marked &sprig, so *sprig stands for nothing; put a text that starts with * in quotes"],
    ["a decimal comma", "value: 0.55 m", 'value: "0,55 m"', '"0,55 m"', "a.front.length must be written with a decimal point and no commas, like 0.55 m, got 0,55 m"],
    ["words in place of a number", "value: 0.55 m", "value: about half", "about half", 'a.front.length must be a number with its unit, like 0.55 m, got "about half"'],
    ["a negative give", "give: 10 kg", "give: -10 kg", "-10 kg", "a.mass.give must be >= 0, got -10 kg"],
    ["a give as large as the value", "give: 10 kg", "give: 900 kg", "900 kg, reason", "a.mass.give must be smaller than the value itself, got 900 kg give or take 900 kg"],
    ["a give written twice", "value: 900 kg", "value: 900 kg ± 5 kg", "900 kg ± 5 kg", "a.mass has its give or take twice: after ± and under give"],
    ["an unknown outline", "drawnAs: hatch", "drawnAs: hach", "hach", 'a.drawnAs must be one of hatch, estate, got "hach"'],
    ["a recoil area narrowed without a reason", "  drop: {", '  recoilArea: { reach: 20 m, by: "an engineer" }\n  drop: {', '{ reach: 20 m, by', 'tow.recoilArea needs "reason"; its keys are reach, by, reason'],
    ["a recoil area narrowed by nobody", "  drop: {", '  recoilArea: { reach: 20 m, by: "", reason: "screens along both lines" }\n  drop: {', '"", reason', "tow.recoilArea.by must be text"],
    ["a word for the bag", "bag: none", "bag: no", "no\n      space", "b.occupants[1].bag must be none, or a group of keys"],
  ];
  for (const [what, from, to, piece, message] of cases)
    it(`${what}`, () => {
      const text = changed(from, to);
      expect(problemsOf(text)).toEqual([`show.yaml:${placeOf(text, piece)}: ${message}`]);
    });

  it("two decimal commas in one pair of braces, each", () => {
    const text = changed("{ value: 900 kg, give: 10 kg", "{ value: 3483,5 lb, give: 20,5 lb");
    expect(problemsOf(text)).toEqual([`show.yaml:${placeOf(text, "3483,5")}: a.mass: a comma splits the value here; write 3483.5 lb`, `show.yaml:${placeOf(text, "20,5")}: a.mass: a comma splits the value here; write 20.5 lb`]);
  });

  it("a missing key", () => {
    const [first] = problemsOf(changed("  name: Sprig\n", ""));
    expect(first).toContain('a needs "name"; its keys are name, description, drawnAs');
  });

  it("two vehicles of one name", () => expect(problemsOf(changed("name: Bollard", "name: Sprig"))[0]).toContain('b.name must differ from a.name, got "Sprig" for both'));

  it("occupants heavier than the vehicle that holds them", () =>
    expect(problemsOf(changed("value: 900 kg, give: 10 kg", "value: 50 kg, give: 1 kg"))[0]).toContain("a.mass must be more than the occupants counted inside it, got 50 kg with 52.5 kg of occupants"));

  it("a first vehicle that stands still", () => expect(problemsOf(changed("value: 54 km/h", "value: 0 km/h"))[0]).toContain("a.speed must be > 0"));


  it("lists every problem, in the order of the file", () => {
    const text = changed("value: 450 kN/m, give: 90", "value: 450 kN/q, give: 90", changed("value: 900 kg", "value: -1 kg", changed("  drawnAs: hatch", "  drawnAs: lorry")));
    const problems = problemsOf(text);
    expect(problems).toHaveLength(3);
    const lines = problems.map((p) => Number(p.split(":")[1]));
    expect(lines).toEqual([...lines].sort((p, q) => p - q));
  });

  it("an empty file", () => expect(problemsOf("")).toEqual(["show.yaml:1:1: a scenario must be a group of keys: title, a, b, site, tow, cameras, markers"]));
});

describe("parseScenario(a file that is no YAML) says one thing for one slip, in plain words", () => {
  const COLUMN = "keys of one group start in the same column";
  const cases: readonly [what: string, change: (source: string) => string, piece: string, message: string][] = [
    ["a key that stands twice", (s) => changed("  drawnAs: hatch", "  name: Twig\n  drawnAs: hatch", s), "name: Twig", 'the key "name" stands twice in one group, first in line 6; keep one of them'],
    ["a colon in a text", (s) => changed("name: Sprig", "name: Tom: the car", s), "Tom:", 'a text with a colon in it needs quotes: "Tom: the car"'],
    ["a colon in a title", (s) => changed("title: The", "title: Show: The", s), "Show:", 'a text with a colon in it needs quotes: "Show: The Thornwick silo test"'],
    ["tabs on every line", (s) => s.replace(/^ {2}/gm, "\t"), "\tname: Sprig", "a tab stands here; indent with spaces, in this line and in all others"],
    ["a tab on one line", (s) => changed("  drawnAs: hatch", "\tdrawnAs: hatch", s), "\tdrawnAs", "a tab stands here; indent with spaces, in this line and in all others"],
    ["a brace left open", (s) => changed("{ value: 9 kN, give: 0.8 kN, reason:", "{ value: 9 kN\n      x:", s), "{ value: 9 kN", "this { is never closed; end the line with }"],
    ["a bracket left open", (s) => changed("drawnAs: hatch", "drawnAs: [hatch", s), "[hatch", "this [ is never closed; end the line with ]"],
    ["a brace that opens nowhere", (s) => changed("mass: { value: 900 kg", "mass: value: 900 kg", s), "value: 900 kg", 'the closing } has no { before it; write { value: 900 kg, give: 10 kg, reason: "in… }'],
    ["a quotation mark left open", (s) => changed("name: Sprig", 'name: "Sprig', s), '"Sprig', "this quotation mark is never closed on its line"],
    ["an apostrophe that opens a name", (s) => changed("name: Sprig", "name: 's Wagon", s), "'s Wagon\n", "this quotation mark is never closed on its line"],
    ["words after a closing quotation mark", (s) => changed("name: Sprig", 'name: "Sprig" the car', s), "the car\n", "nothing may follow a closing quotation mark; put the whole text in one pair of quotes"],
    ["a line too deep", (s) => changed("  drawnAs: hatch", "   drawnAs: hatch", s), "drawnAs: hatch", `this line stands deeper than the line above, which already has its value; ${COLUMN}`],
    ["a line not deep enough", (s) => changed("  drawnAs: hatch", " drawnAs: hatch", s), "drawnAs: hatch", `this line starts in column 2, the one above in column 3; ${COLUMN}`],
    ["a key without a colon", (s) => changed("name: Sprig", "name Sprig", s), "name Sprig", "after a key come a colon and a space: name: Sprig"],
    ["a key without a space", (s) => changed("name: Sprig", "name:Sprig", s), "name:Sprig", "after a key come a colon and a space: name: Sprig"],
    ["a dash without a space", (s) => changed("    - name: driver", "    -name: driver", s), "-name", "a dash that opens a list item has a space after it: - name: …"],
    ["a colon in a reason in braces", (s) => changed('"invented; across the front"', "weighed: twice", s), "weighed: twice", "inside { … } a comma parts the keys, and a text with a colon in it needs quotes"],
    ["a sign that opens a text", (s) => changed("name: Sprig", "name: @home", s), "@home", 'a text that starts with @ needs quotes: "@home"'],
    ["an ampersand that opens a text", (s) => changed("name: Sprig", "name: & Co", s), "& Co", 'a text that starts with & needs quotes: "& Co"'],
    ["a second document", (s) => changed("cameras:\n", "---\ncameras:\n", s), "---", "the file goes on after a line of ---; take that line out"],
  ];
  for (const [what, change, piece, message] of cases)
    it(`${what}`, () => {
      const text = change(source);
      const [line, column] = placeOf(text, piece).split(":");
      expect(problemsOf(text)).toEqual([`show.yaml:${line}:${column}: ${message}`]);
    });
});

describe("parseScenario(keys in the wrong column) says once where they belong", () => {
  const neck = /      neck:\n        (stiff.*)\n        (damp.*)\n/;
  const cases: readonly [what: string, change: (source: string) => string, piece: string, message: string][] = [
    ["a group too far out", (s) => s.replace(neck, "  neck:\n    $1\n    $2\n"), "neck:", "neck belongs under a.occupants[1]; indent it"],
    ["what is in a group too far out", (s) => s.replace(neck, "      neck:\n      $1\n      $2\n"), "stiffness: { value: 6", "stiffness, damping belong under a.occupants[1].neck; indent them"],
    ["a key too far in", (s) => changed("      space: { value: 0.45", "        space: { value: 0.45", s), "space: { value: 0.45", "space belongs under a.occupants[1]; indent it less"],
    ["an optional part too far in", (s) => s.replace(/^site:\n(( {2}.*\n)+)/m, (_, inside: string) => `  site:\n${inside.replace(/^/gm, "  ").trimEnd()}\n`), "site:", "site belongs to the whole file; start it in the first column"],
  ];
  for (const [what, change, piece, message] of cases)
    it(`${what}`, () => {
      const text = change(source);
      expect(text).not.toBe(source);
      expect(problemsOf(text)).toEqual([`show.yaml:${placeOf(text, piece)}: ${message}`]);
    });
});

describe("parseScenario(values beyond what the models are for)", () => {
  const cases: readonly [what: string, from: string, to: string, piece: string, message: string][] = [
    ["a mass of 112 t", "value: 900 kg", "value: 112 t", "112 t", "a.mass must be from 50 kg to 60 t, got 112 t"],
    ["a mass of 49 kg", "value: 900 kg", "value: 49 kg", "49 kg", "a.mass must be from 50 kg to 60 t, got 49 kg"],
    ["a speed of 260 km/h", "value: 54 km/h", "value: 260 km/h", "260 km/h", "a.speed must be from 0 m/s to 70 m/s, got 260 km/h"],
    ["a front of 0.4 kN/m", "nose: { value: 450 kN/m, give: 90 kN/m", "nose: { value: 0.4 kN/m, give: 0 kN/m", "0.4 kN/m", "b.front.nose must be from 1 kN/m to 100000 kN/m, got 0.4 kN/m"],
    ["a nose of 55 m", "length: { value: 0.55 m", "length: { value: 55 m", "55 m", "a.front.length must be from 0.01 m to 5 m, got 55 m"],
    ["a bag that fires after 15 s", "fireTime: { value: 15 ms", "fireTime: { value: 15 s", "15 s", "a.occupants[1].bag.fireTime must be from 0 ms to 1000 ms, got 15 s"],
    ["gravity in cm", "gravity: { value: 9.80665 m/s^2", "gravity: { value: 980.665 m/s^2", "980.665", "site.gravity must be from 1 m/s^2 to 30 m/s^2, got 980.665 m/s^2"],
    ["a yaw of 100 degrees", "yaw: { value: 0 °", "yaw: { value: 100 °", "100 °", "site.yaw must be from -90 ° to 90 °, got 100 °"],
  ];
  for (const [what, from, to, piece, message] of cases)
    it(`refuses ${what}`, () => {
      const text = changed(from, to);
      expect(problemsOf(text)).toEqual([`show.yaml:${placeOf(text, piece)}: ${message}, which is outside what the models are for`]);
    });

  it("takes the ends themselves, in any unit", () => {
    // 252 km/h = 70 m/s
    expect(problemsOf(changed("value: 54 km/h", "value: 252 km/h"))).toEqual([]);
    expect(problemsOf(changed("value: 900 kg", "value: 60 t"))).toEqual([]);
  });
});

describe("parseScenario(what is unlikely) reads it, and asks to check it", () => {
  const warningsOf = (text: string): readonly string[] => {
    const reading = parseScenario(text, "show.yaml");
    if ("problems" in reading) throw new Error(JSON.stringify(reading.problems));
    return reading.warnings.map((p) => `${p.file}:${p.line}:${p.column}: ${p.message}`);
  };
  const cases: readonly [what: string, from: string, to: string, piece: string, message: RegExp][] = [
    ["a mass over ten times the other", "value: 1800 kg", "value: 18 t", "{ value: 18 t", /the one mass is 20 times the other; over 10 is most often a slip of unit$/],
    ["a mass that no passenger car has", "value: 1800 kg", "value: 6000 kg", "{ value: 6000 kg", /6000 kg is heavy for a passenger car; most weigh 300 to 3500 kg$/],
    ["a mass that no passenger car is down to", "value: 900 kg", "value: 200 kg", "{ value: 200 kg", /200 kg is light for a passenger car/],
    // 252 + 36 km/h
    ["a closing speed of 288 km/h", "value: 54 km/h", "value: 252 km/h", "{ value: 252", /close in at 288 km\/h; over 202 km\/h/],
    // The softer nose alone: sqrt(600 kg / 4500 N/m) 25 m/s = 9.1 m, and the stiff one adds to it.
    ["a stiffness with its kilo forgotten", "nose: { value: 450 kN/m, give: 90 kN/m", "nose: { value: 4500 N/m, give: 90 N/m", "{ value: 4500", /would crush by 9\.15 m in all; N\/m may have been meant as kN\/m$/],
    ["a cell softer than its nose", "cell: { value: 450 kN/m", "cell: { value: 300 kN/m", "{ value: 300", /the cell is softer than the nose/],
    ["a belt that never takes hold", "slack: { value: 0.10 m", "slack: { value: 0.50 m", "{ value: 0.50 m", /this belt never takes hold/],
    ["a name with its article", "name: Sprig", "name: The Grandma's Wagon", "The Grandma", /"The Grandma's Wagon" would read "the The Grandma's Wagon"; leave the article out$/],
    ["an exposure longer than a picture", "exposure: { value: 0.5 ms", "exposure: { value: 5 ms", "{ value: 5 ms", /the exposure is longer than the time from one picture to the next/],
  ];
  for (const [what, from, to, piece, message] of cases)
    it(`${what}`, () => {
      const text = changed(from, to);
      const warnings = warningsOf(text);
      expect(warnings).toHaveLength(1);
      expect(warnings[0]).toMatch(new RegExp(`^show\\.yaml:${placeOf(text, piece)}: please check: `));
      expect(warnings[0]).toMatch(message);
    });

  it("has nothing to ask about the shows that come with the project", () => {
    expect(warningsOf(source)).toEqual([]);
    expect(warningsOf(readFileSync("shared/scenario/cresswold.yaml", "utf8"))).toEqual([]);
  });
});

describe("parseScenario(optional keys and parts)", () => {
  const read = (text: string): Scenario => {
    const reading = parseScenario(text, "show.yaml");
    if ("problems" in reading) throw new Error(JSON.stringify(reading.problems));
    return reading.scenario;
  };
  /** The demo without one of its parts. */
  const lacking = (part: string): string => {
    const text = source.replace(new RegExp(`^${part}:\\n(?:[ #].*\\n|\\n)*`, "m"), "");
    expect(text).not.toBe(source);
    return text;
  };

  it("occupants need no name", () => {
    const { a } = read(changed("    - name: driver dummy\n      torsoMass", "    - torsoMass"));
    expect(a.occupants[0]).not.toHaveProperty("name");
    expect(a.occupants[0]?.torsoMass.value).toBe(48);
  });

  for (const part of PARTS)
    it(`${part} may be left out`, () => {
      expect(read(source)[part]).toBeDefined();
      const scenario = read(lacking(part));
      expect(scenario[part]).toBeUndefined();
      expect(PARTS.filter((other) => scenario[other] === undefined)).toEqual([part]);
    });

  it("reads the demo's site, tow, cameras and markers in SI", () => {
    const { site, tow, cameras, markers } = read(source);
    // 0.7 of the standard 9.80665 m/s2; one degree in radians
    expect(site?.braking.deceleration.value).toBeCloseTo(0.7 * 9.80665, 12);
    expect(site?.yaw.give).toBeCloseTo(Math.PI / 180, 15);
    expect(site?.offset).toMatchObject({ value: 0, give: 0.05 });
    expect([tow?.fallingMass.value, tow?.drop.value, tow?.a.travel.value, tow?.b.travel.value, tow?.a.efficiency.value, tow?.a.stiffness.value]).toEqual([1859, 15, 3, 2, 0.82, 40e3]);
    expect(cameras).toHaveLength(2);
    expect([cameras?.[0]?.exposure.value, cameras?.[0]?.sensorWidth.value, cameras?.[0]?.memory.value, cameras?.[1]?.captureRate.value]).toEqual([0.0001, expect.closeTo(0.0256, 12), 32e9, 240]);
    expect(markers?.width.value).toBeCloseTo(0.12, 12);
  });

  const wrong: readonly [what: string, from: string, to: string, piece: string, message: string][] = [
    ["a share over one", "efficiency: { value: 0.82, give: 0.04, reason: \"invented; pull at the car over pull at the frame, five", "efficiency: { value: 1.2, give: 0.04, reason: \"invented; pull at the car over pull at the frame, five", "1.2, give", "tow.a.efficiency must be > 0 and <= 1, got 1.2"],
    ["a camera that watches neither", "watches: both\n    captureRate: { value: 240", "watches: c\n    captureRate: { value: 240", "c\n    captureRate", 'cameras[2].watches must be one of a, b, both, got "c"'],
    ["a travel with a unit", "travel: { value: 3,", "travel: { value: 3 m,", "3 m, reason: \"by the", "tow.a.travel must be in one of 1, %, rad, °, got 3 m"],
    ["markers without a baseline", '  baseline: { value: 2 m, give: 2 mm, reason: "surveyor\'s staff on the track" }\n', "", "width: { value: 12 cm", 'markers needs "baseline"; its keys are width, baseline, baselineOffset'],
    ["a camera that is no list", "cameras:\n  - name: high-speed, side on\n    watches: both", "cameras:\n    name: high-speed\n    watches: both", "name: high-speed", 'cameras must be a list (lines that open with "- ")'],
  ];
  for (const [what, from, to, piece, message] of wrong)
    it(`refuses ${what}`, () => {
      let text = changed(from, to);
      if (what === "a camera that is no list") text = text.replace(/ {2}- name: wide[^]*?(?=\nmarkers)/, "");
      expect(problemsOf(text)).toEqual([`show.yaml:${placeOf(text, piece)}: ${message}`]);
    });
});

describe("parseScenario(…).scenario.units", () => {
  const unitsOf = (text: string): string => {
    const reading = parseScenario(text, "show.yaml");
    if ("problems" in reading) throw new Error(JSON.stringify(reading.problems));
    return reading.scenario.units;
  };
  const masses = (s: string): string => changed("value: 1800 kg, give: 20 kg", "value: 4000 lb, give: 40 lb", changed("value: 900 kg, give: 10 kg", "value: 2000 lb, give: 20 lb", s));
  const speeds = (s: string): string => changed("value: 36 km/h, give: 1 km/h", "value: 22 mph, give: 1 mph", changed("value: 54 km/h, give: 1 km/h", "value: 34 mph, give: 1 mph", s));

  it("follows the masses and speeds, for the rest is often left as it was copied", () => expect(unitsOf(speeds(masses(source)))).toBe("customary"));
  it("is metric in the shows that come with the project", () => {
    expect(unitsOf(source)).toBe("metric");
    expect(unitsOf(readFileSync("shared/scenario/cresswold.yaml", "utf8"))).toBe("metric");
  });
  it("asks the rest of the file where masses and speeds are half and half", () => {
    expect(unitsOf(masses(source))).toBe("metric");
    expect(unitsOf(masses(source).replace(/: \{ value: ([\d.]+) kN\/m, give: [^,]+,/g, ": { value: $1 lbf/in,").replace(/: \{ value: ([\d.]+) m, give: [^,]+,/g, ": { value: $1 ft, give: 0 ft,"))).toBe("customary");
  });
});

describe("new Session(lesson, { units })", () => {
  it("starts in the units of the page, and its link names only the other system", () => {
    const made = lesson({ inputs: { m: mass("mass", { start: 1000, from: 500, to: 2000, step: 10 }) }, outputs: { same: ratio("one", { because: "one" }) }, run: () => ({ same: 1 }) });
    let hash = "";
    const session = (units?: "metric" | "customary", opened = "") =>
      new Session(made, { slug: "s", title: "S", provenance: {}, ...(units && { units }) }, { frame: (work) => work(), later: () => undefined, now: () => 0, hash: () => opened, setHash: (set) => void (hash = set) });
    const page = session("customary");
    expect([page.units, page.view.units, page.untouched]).toEqual(["customary", "customary", true]);
    page.useUnits("metric");
    expect([page.view.units, page.untouched, hash]).toEqual(["metric", false, "#page.units=metric"]);
    expect(session("customary", hash).units).toBe("metric");
    page.useUnits("customary");
    expect([page.untouched, hash]).toEqual([true, ""]);
    expect(session().units).toBe("metric");
  });
});

describe("unitNamed(text, like)", () => {
  // Spellings that a general library of units knows too: the same size in SI.
  const shared: readonly [text: string, like: UnitName][] = [["lbs", "kg"], ["kilograms", "kg"], ["grams", "kg"], ["tonne", "kg"], ["meters", "m"], ["inches", "m"], ["feet", "m"], ["seconds", "s"], ["secs", "s"], ["milliseconds", "s"], ["degrees", "rad"], ["km/hour", "m/s"], ["mi/h", "m/s"], ["lbf/inch", "N/m"]];
  for (const [text, like] of shared)
    it(`${text} is as large as mathjs has it`, () => {
      const named = unitNamed(text, like);
      expect(named).toBeDefined();
      expect(UNITS[named as UnitName].size).toBeCloseTo(mathUnit(1, text).toSI().toNumber(), 9);
    });

  it("takes symbols in other case, and each spelling for what is asked", () => {
    expect(["KG", "kgs"].map((text) => unitNamed(text, "kg"))).toEqual(["kg", "kg"]);
    expect(["KM/H", "KPH", "kmph", "MPH"].map((text) => unitNamed(text, "m/s"))).toEqual(["km/h", "km/h", "km/h", "mph"]);
    expect([unitNamed("g", "kg"), unitNamed("g", "m/s^2"), unitNamed("lb", "kg"), unitNamed("lb", "N"), unitNamed("fps", "m/s"), unitNamed("fps", "Hz")]).toEqual(["g", "gn", "lb", "lbf", "ft/s", "Hz"]);
    expect([unitNamed("kg", "m/s"), unitNamed("furlong", "m"), unitNamed("", "kg")]).toEqual([undefined, undefined, undefined]);
  });

  it("is what a page's own fields go by", () => {
    const typed = (text: string) => readQuantity(text, KINDS.mass, "metric", "en");
    expect(typed("3000 kgs")).toEqual({ value: 3000 });
    expect(typed("3000 KG")).toEqual({ value: 3000 });
    expect(readQuantity("36 kph", KINDS.speed, "metric", "en")).toEqual({ value: 10 });
    expect(readQuantity("2 g", KINDS.acceleration, "metric", "en")).toEqual({ value: 2 * 9.80665 });
    expect(typed("36 kph")).toHaveProperty("question");
  });
});

describe("new Site({ scenario }).build()", () => {
  const FIXTURE = readFileSync("tests/build/fixtures/lessons/fixture.md", "utf8");
  mkdirSync(".cache", { recursive: true });
  const work = mkdtempSync(".cache/scenario-test-");
  afterAll(() => rmSync(work, { recursive: true, force: true }));
  let count = 0;
  const build = (lesson: string, scenario: string) => {
    const folder = join(work, String(count++));
    mkdirSync(folder);
    writeFileSync(join(folder, "fixture.md"), lesson);
    writeFileSync(join(folder, "show.yaml"), scenario);
    return new Site({ lessons: folder, scenario: join(folder, "show.yaml"), cache: join(work, "cache") }).build({ claims: false });
  };
  const customary = source.replace("value: 1800 kg, give: 20 kg", "value: 4000 lb, give: 40 lb").replace("value: 900 kg, give: 10 kg", "value: 2000 lb, give: 20 lb").replace("value: 36 km/h, give: 1 km/h", "value: 22 mph, give: 1 mph");

  it("opens pages in the units of the scenario", async () => {
    const { files, problems } = await build(FIXTURE, customary);
    expect(problems).toEqual([]);
    const html = files["fixture.html"] as string;
    // 60 km/h = 37.28 mph (1 mile = 1.609344 km, NIST SP 811)
    expect(html).toContain("−37.3\u00a0mph");
    expect(html).toMatch(/value="customary" checked/);
    expect(html).not.toMatch(/value="metric" checked/);
    expect(files["fixture.js"]).toContain('units:"customary"');
    expect((await build(FIXTURE, source)).files["fixture.js"]).not.toContain('units:"customary"');
  }, SLOW);

  // The first trolley runs at 15 m/s; the second at this, which must be less for them to meet.
  const reaching = changed("start: -10, from: -20", "start: scenario.b.speed.value - 20, from: -20", changed('import { centralImpact }', 'import { scenario } from "ridedown/scenario";\nimport { centralImpact }', FIXTURE));
  const atSpeed = (speed: string): string => changed("value: 36 km/h, give", `value: ${speed}, give`);

  it("leaves out a lesson whose start has no outputs with a presenter's values, by name and with the reason, and builds the rest", async () => {
    const folder = join(work, "beyond");
    mkdirSync(folder);
    const teaching = (text: string): string => changed("minutes: 3\n", "minutes: 3\nmisconceptions: [bigger-pushes-harder]\n", text);
    writeFileSync(join(folder, "beyond.md"), teaching(changed("start: -10, from: -20", "start: 19, from: -20", FIXTURE)));
    writeFileSync(join(folder, "fixture.md"), `${FIXTURE}\nSee [the other](beyond.md).\n`);
    const show = join(folder, "show.yaml");
    writeFileSync(show, source);
    const site = new Site({ lessons: folder, scenario: show, cache: join(work, "cache") });
    const built = await site.build({ claims: false });
    expect(built.problems).toEqual([]);
    expect(built.lessons).toEqual(["fixture"]);
    expect(built.leftOut).toEqual({ beyond: [expect.stringMatching(/^start that this lesson can show: .*they never meet/)] });
    expect(writeLeftOut(built.leftOut, "show.yaml")).toEqual([expect.stringMatching(/^left out: beyond, since show\.yaml has no start that this lesson can show: /)]);
    expect(Object.keys(built.files).filter((name) => name.startsWith("beyond"))).toEqual([]);
    expect(built.files["fixture.html"]).toContain('<a href="index.html">the other</a>');
    expect(built.files["misconceptions.html"]).toMatch(/: left out of this show, since the scenario has no start that this lesson can show: .*they never meet/);
    expect(site.sheets().map(({ written }) => written.slug)).toEqual(["fixture"]);
    // The author who works with the shipped show is told the line instead.
    const own = await new Site({ lessons: folder, cache: join(work, "cache") }).build({ claims: false });
    expect(own.leftOut).toEqual({});
    expect(own.problems).toEqual([expect.objectContaining({ file: expect.stringMatching(/beyond\.md$/) as unknown, message: expect.stringMatching(/^the start state has no outputs: .*they never meet/) as unknown })]);
  }, SLOW);

  it("asks the scenario's values, not the lesson, whether there is a start", async () => {
    expect(await build(reaching, source)).toMatchObject({ problems: [], leftOut: {}, lessons: ["fixture"] });
    expect(await build(reaching, atSpeed("39 m/s"))).toMatchObject({ problems: [], lessons: [], leftOut: { fixture: [expect.stringMatching(/they never meet/)] } });
    expect(await build(reaching, atSpeed("50 m/s"))).toMatchObject({ problems: [], leftOut: { fixture: [expect.stringMatching(/: input velocityB: start must be between -20 and 20 m\/s, got 30$/)] } });
  }, SLOW);

  it("leaves out a lesson that cannot start at another of its scales, or cannot be drawn", async () => {
    const bench = await build(changed("restitution: 0 }", "restitution: massA < 10 ? 2 : 0 }", FIXTURE), source);
    expect(bench).toMatchObject({ problems: [], lessons: [], leftOut: { fixture: [expect.stringMatching(/: at bench scale: the lesson does not run at its start: .*restitution must be/)] } });
    const undrawn = await build(changed('says: "The first trolley is turned back."', 'says: ((): string => { throw new Error("no words for it"); })()', FIXTURE), source);
    expect(undrawn).toMatchObject({ problems: [], lessons: [], leftOut: { fixture: ["start that this lesson can show: the page cannot be drawn: no words for it"] } });
    expect(undrawn.files["index.html"]).not.toContain("fixture.html");
  }, SLOW);

  it("still answers a slip in the lesson itself with its place", async () => {
    const { problems, leftOut } = await build(changed("(input:massA)", "(input:masA)", reaching), source);
    expect(leftOut).toEqual({});
    expect(problems.map((p) => p.message)).toEqual(["there is no input masA; the nearest is massA"]);
  }, SLOW);

  it("leaves out a lesson whose part the scenario lacks, by name", async () => {
    const needing = changed("minutes: 3\n", "minutes: 3\nneeds: [tow, markers]\n", FIXTURE);
    const without = source.replace(/^tow:\n(?:[ #].*\n|\n)*/m, "");
    expect(without).not.toBe(source);
    const lacking = await build(needing, without);
    expect(lacking.problems).toEqual([]);
    expect(lacking.leftOut).toEqual({ fixture: ["tow"] });
    expect(lacking.lessons).toEqual([]);
    expect(Object.keys(lacking.files)).not.toContain("fixture.html");
    expect(lacking.files["index.html"]).not.toContain("fixture.html");
    const whole = await build(needing, source);
    expect(whole.leftOut).toEqual({});
    expect(whole.lessons).toEqual(["fixture"]);
  }, SLOW);

  it("refuses a need that is no part of a scenario, at its place", async () => {
    const { problems } = await build(changed("minutes: 3\n", "minutes: 3\nneeds: [tows]\n", FIXTURE), source);
    expect(problems.map((p) => `${p.line}:${p.column}: ${p.message}`)).toEqual([expect.stringMatching(/^\d+:\d+: tows is not a part of a scenario; the nearest is tow$/)]);
  }, SLOW);

  it("writes names with apostrophes and ampersands into the lesson of npm run new as they are", async () => {
    const folder = join(work, "new");
    newLesson("Light and heavy", folder);
    const lesson = readFileSync(join(folder, "light-and-heavy.md"), "utf8");
    const { files, problems, warnings } = await build(lesson, source.replace("name: Sprig", "name: Grandma's Wagon").replace("name: Bollard", "name: Tom & Co <b>"));
    expect(problems).toEqual([]);
    expect(warnings).toEqual([]);
    const html = files["fixture.html"] as string;
    expect(html).toMatch(/Grandma(?:'|&#39;|&apos;)s Wagon/);
    expect(html).toContain("Tom &amp; Co &lt;b&gt;");
    expect(html).not.toContain("Co <b>");
  }, SLOW);

  it("builds the lesson of npm run new, claims and all, with the second example", async () => {
    const folder = join(work, "second");
    newLesson("Light and heavy", folder);
    const { problems, files } = await new Site({ lessons: folder, scenario: "shared/scenario/cresswold.yaml", cache: join(work, "cache") }).build();
    expect(problems).toEqual([]);
    expect(files["light-and-heavy.html"]).toContain("The Thimble is the lighter and changes velocity by");
    expect(files["light-and-heavy.html"]).toMatch(/Tested on [\d\u202f]+ states/);
  }, SLOW);

  it("hands what is unlikely to the command line", async () => {
    const { warnings, problems } = await build(FIXTURE, source.replace("value: 1800 kg", "value: 18 t"));
    expect(problems).toEqual([]);
    expect(warnings).toHaveLength(1);
    expect(warnings[0]?.file).toMatch(/show\.yaml$/);
  }, SLOW);
});

describe("parseScenario(give or take) reads every way that people type it", () => {
  // 900 kg, a tenth and two percent of it
  it.each([["900 kg ± 90 kg", 90], ["900 kg +/- 90 kg", 90], ["900 kg +- 90 kg", 90], ["900 kg +-90 kg", 90], ["900 kg+-2 %", 18], ["900 kg +/−2%", 18], ["900 kg ±2%", 18]])("%s", (typed, give) => {
    const reading = parseScenario(source.replace(/mass: \{ value: 900 kg[^}]*\}/, `mass: ${typed}`), "show.yaml");
    expect("scenario" in reading ? [reading.scenario.a.mass.value, reading.scenario.a.mass.give] : reading.problems).toEqual([900, expect.closeTo(give, 9)]);
  });
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
