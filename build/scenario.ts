/**
 * Reads a presenter's show from a YAML file. Everything wrong is listed at once, each with its line and column, the rule, and
 * the nearest right word; nothing is guessed, clamped or left out in silence.
 */
import { readFileSync } from "node:fs";
import { isAlias, isMap, isScalar, isSeq, LineCounter, parseDocument, type Node, type YAMLMap } from "yaml";
import { isUnit, sameDimension, toSI, unitNamed, type UnitName, UNITS } from "../lib/units.ts";
import type { ReaderUnits } from "../shared/kinds.ts";
import type { Given, Scenario } from "../shared/scenario/scenario.ts";
import { nearestName, wayOut } from "./nearest.ts";
import { inOrder, type Problem } from "./problem.ts";
import { unlikely } from "./unlikely.ts";
import { yamlProblems } from "./yamlProblems.ts";

/** A scenario with what is odd in it, or what is wrong with the file. */
export type ScenarioReading = { readonly scenario: Scenario; readonly warnings: readonly Problem[] } | { readonly problems: readonly Problem[] };

// ---------------------------------------------------------------- what a scenario file may hold

interface Rule {
  readonly words: string;
  readonly holds: (si: number) => boolean;
}
const POSITIVE: Rule = { words: "> 0", holds: (si) => si > 0 };
const NON_NEGATIVE: Rule = { words: ">= 0", holds: (si) => si >= 0 };

const ANY: Rule = { words: "a finite number", holds: () => true };
const SHARE: Rule = { words: "> 0 and <= 1", holds: (si) => si > 0 && si <= 1 };

type Shape =
  | { readonly type: "text" }
  | { readonly type: "word"; readonly words: readonly string[] }
  /** `within`: the two ends of what the models are for, wide enough for any vehicle, dummy or line that a show could have. */
  | { readonly type: "given"; readonly unit: UnitName; readonly example: string; readonly within: readonly [from: string, to: string]; readonly rule: Rule }
  | { readonly type: "group"; readonly keys: Readonly<Record<string, Shape>> }
  | { readonly type: "list"; readonly of: Shape; readonly least: number; readonly most: number }
  /** `none` in its place says that there is none. */
  | { readonly type: "orNone"; readonly of: Shape }
  /** May be left out. */
  | { readonly type: "maybe"; readonly of: Shape };

const text: Shape = { type: "text" };
const given = (unit: UnitName, example: string, from: string, to: string, rule: Rule = POSITIVE): Shape => ({ type: "given", unit, example, within: [from, to], rule });
const maybe = (of: Shape): Shape => ({ type: "maybe", of });
const group = (keys: Readonly<Record<string, Shape>>): Shape => ({ type: "group", keys });

const OCCUPANT = group({
  name: maybe(text),
  torsoMass: given("kg", "34 kg", "1 kg", "200 kg"),
  headMass: given("kg", "4.6 kg", "0.1 kg", "30 kg"),
  counted: { type: "word", words: ["inside", "apart"] },
  belt: {
    type: "orNone",
    of: group({
      slack: given("m", "0.03 m", "0 m", "1 m", NON_NEGATIVE),
      stiffness: given("N/m", "90 kN/m", "1 kN/m", "10000 kN/m"),
      limit: maybe(given("N", "5 kN", "0.1 kN", "100 kN")),
    }),
  },
  bag: {
    type: "orNone",
    of: group({
      fireTime: given("s", "30 ms", "0 ms", "1000 ms", NON_NEGATIVE),
      torsoGap: given("m", "0.15 m", "0 m", "2 m", NON_NEGATIVE),
      torsoStiffness: given("N/m", "40 kN/m", "0 kN/m", "2000 kN/m", NON_NEGATIVE),
      headGap: given("m", "0.2 m", "0 m", "2 m", NON_NEGATIVE),
      headStiffness: given("N/m", "9 kN/m", "0 kN/m", "2000 kN/m", NON_NEGATIVE),
    }),
  },
  space: given("m", "0.45 m", "0 m", "5 m", NON_NEGATIVE),
  interiorStiffness: given("N/m", "250 kN/m", "1 kN/m", "100000 kN/m"),
  neck: group({ stiffness: given("N/m", "6 kN/m", "0.01 kN/m", "1000 kN/m"), damping: given("N s/m", "95 N s/m", "0 N s/m", "10000 N s/m", NON_NEGATIVE) }),
});

const VEHICLE = group({
  name: text,
  description: text,
  drawnAs: { type: "word", words: ["hatch", "estate"] },
  width: maybe(given("m", "1.7 m", "0.3 m", "4 m")),
  mass: given("kg", "900 kg ± 10 kg", "50 kg", "60 t"),
  speed: given("m/s", "54 km/h ± 1 km/h", "0 m/s", "70 m/s", NON_NEGATIVE),
  front: group({ nose: given("N/m", "1200 kN/m", "1 kN/m", "100000 kN/m"), cell: given("N/m", "4000 kN/m", "1 kN/m", "100000 kN/m"), length: given("m", "0.55 m", "0.01 m", "5 m") }),
  occupants: { type: "list", of: OCCUPANT, least: 1, most: 2 },
});

const SITE = group({
  description: text,
  gravity: given("m/s^2", "9.81 m/s^2", "1 m/s^2", "30 m/s^2"),
  rolling: given("1", "0.015", "0", "0.5", NON_NEGATIVE),
  coast: group({ a: given("m", "3 m", "0 m", "1000 m", NON_NEGATIVE), b: given("m", "2 m", "0 m", "1000 m", NON_NEGATIVE) }),
  runOn: group({ a: given("m", "40 m", "0.1 m", "10000 m"), b: given("m", "40 m", "0.1 m", "10000 m") }),
  braking: group({ delay: given("s", "1 s", "0 s", "60 s", NON_NEGATIVE), deceleration: given("m/s^2", "0.7 gn", "0.01 gn", "2 gn") }),
  offset: given("m", "0.05 m", "-5 m", "5 m", ANY),
  yaw: given("rad", "1 °", "-90 °", "90 °", ANY),
});

const LINE = group({
  length: maybe(given("m", "60 m", "0.1 m", "10000 m")),
  travel: given("1", "3", "0.1", "20"),
  efficiency: given("1", "0.82", "0.01", "1", SHARE),
  stiffness: given("N/m", "60 kN/m", "0.1 kN/m", "100000 kN/m"),
  damping: given("N s/m", "500 N s/m", "0 N s/m", "1000000 N s/m", NON_NEGATIVE),
  slack: given("m", "0.02 m", "0 m", "50 m", NON_NEGATIVE),
});

const RECOIL_AREA = group({ reach: given("m", "30 m", "1 m", "10000 m"), by: text, reason: text });

const CAMERA = group({
  name: text,
  watches: { type: "word", words: ["a", "b", "both"] },
  captureRate: given("Hz", "1000 Hz", "1 Hz", "10000000 Hz"),
  projectRate: given("Hz", "25 Hz", "1 Hz", "1000 Hz"),
  playbackRate: given("Hz", "25 Hz", "1 Hz", "1000 Hz"),
  exposure: given("s", "0.1 ms", "0.0001 ms", "1 s"),
  sensorWidth: given("m", "24 mm", "1 mm", "200 mm"),
  focalLength: given("m", "35 mm", "1 mm", "5 m"),
  distance: given("m", "14 m", "0.1 m", "5000 m"),
  pixelsAcross: given("1", "1920", "1", "100000"),
  pixelsDown: given("1", "1080", "1", "100000"),
  bitsPerPixel: given("1", "12", "0.01", "64"),
  memory: given("1", "64e9", "1e3", "1e18"),
});

const MARKERS = group({ width: given("m", "10 cm", "1 mm", "5 m"), baseline: given("m", "2 m", "1 cm", "1000 m"), baselineOffset: given("m", "0.3 m", "-100 m", "100 m", ANY) });

const TOW = group({ fallingMass: given("kg", "1860 kg", "1 kg", "1000 t"), drop: given("m", "15 m", "0.1 m", "500 m"), a: LINE, b: LINE, recoilArea: maybe(RECOIL_AREA) });

const SCENARIO = group({ title: text, a: VEHICLE, b: VEHICLE, site: maybe(SITE), tow: maybe(TOW), cameras: maybe({ type: "list", of: CAMERA, least: 1, most: 8 }), markers: maybe(MARKERS) });

// ---------------------------------------------------------------- quantities

type Quantity = { readonly si: number; readonly unit: UnitName } | { readonly wrong: string };

const NUMBER = String.raw`[-+−]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?`;
const QUANTITY = new RegExp(`^(${NUMBER})\\s*(.*)$`);

/** What a known or unknown unit should have been. */
const unitHint = (symbol: string, unit: UnitName, fitting: readonly UnitName[]): string => {
  const meant = unitNamed(symbol, unit);
  return meant === undefined ? wayOut(symbol, fitting) : `; the nearest is ${meant}`;
};

/** A number with a unit of the dimension of `unit`, in SI. */
const readQuantity = (written: string, unit: UnitName, example: string): Quantity => {
  const match = QUANTITY.exec(written.trim());
  if (!match) return { wrong: `must be a number with its unit, like ${example}, got ${JSON.stringify(written)}` };
  const [, digits = "", rest = ""] = match;
  const symbol = rest.replace(/\s+/g, " ");
  const value = Number(digits.replace("−", "-"));
  const fitting = (Object.keys(UNITS) as UnitName[]).filter((known) => sameDimension(known, unit));
  if (symbol === "" && unit === "1") return { si: value, unit };
  if (symbol === "") return { wrong: `must have a unit, like ${example}, got ${written.trim()}` };
  if (symbol.startsWith(",")) return { wrong: `must be written with a decimal point and no commas, like ${example}, got ${written.trim()}` };
  if (!isUnit(symbol)) return { wrong: `has the unknown unit ${JSON.stringify(symbol)}${unitHint(symbol, unit, fitting)}` };
  if (!sameDimension(symbol, unit)) return { wrong: `must be in one of ${fitting.join(", ")}, got ${written.trim()}${unitNamed(symbol, unit) === undefined ? "" : unitHint(symbol, unit, fitting)}` };
  return { si: toSI(value, symbol), unit: symbol };
};

const CUSTOMARY: readonly UnitName[] = ["lb", "mph", "ft/s", "in", "ft", "lbf", "lbf/in", "ft lbf"];

/** The units a reader meets first: those of the weighed masses and clocked speeds, for the rest is often left as it was copied. */
const unitsOf = (written: Readonly<Record<string, UnitName>>): ReaderUnits => {
  const vote = (paths: readonly string[]): number =>
    paths.reduce((sum, path) => {
      const unit = written[path] as UnitName;
      return sum + (CUSTOMARY.includes(unit) ? 1 : CUSTOMARY.some((other) => sameDimension(other, unit)) ? -1 : 0);
    }, 0);
  return (vote(["a.mass", "a.speed", "b.mass", "b.speed"]) || vote(Object.keys(written))) > 0 ? "customary" : "metric";
};

// ---------------------------------------------------------------- reading

const REFUSED = Symbol("refused");
/** Slack of a comparison with the ends of a range: rounding of one conversion. */
const ROUNDING = 1e-12;
/** Keys whose value is a line of words. */
const WORDS = ["title", "name", "description", "by", "reason"];

/** A group as it was found: where, and which of its keys it lacks. */
interface Found {
  readonly path: string;
  readonly from: number;
  readonly lacks: Set<string>;
  readonly needs: readonly string[];
  readonly known: readonly string[];
  /** Nothing at all stands under its key. */
  readonly empty: boolean;
}

const named = (path: string): string => (path === "" ? "a scenario" : path);

/** Reads the scenario in `source`; `file` is only named in messages and in the result. */
export const parseScenario = (source: string, file: string): ScenarioReading => {
  const problems: Problem[] = [];
  const lines = new LineCounter();
  const document = parseDocument(source, { lineCounter: lines, prettyErrors: false });
  const problemAt = (offset: number, message: string): Problem => {
    const { line, col } = lines.linePos(offset);
    return { file, line, column: col, message };
  };
  const at = (offset: number, message: string): typeof REFUSED => {
    problems.push(problemAt(offset, message));
    return REFUSED;
  };
  const start = (node: Node | null | undefined, otherwise: number): number => node?.range?.[0] ?? otherwise;
  for (const { offset, message } of yamlProblems(document, source, lines)) at(offset, message);
  if (problems.length > 0) return { problems: inOrder(problems) };

  /** The words in a scalar as they were written, so that 0x10 or 1e3 stay what their author typed. */
  const written = (node: Node | null | undefined): string | undefined => {
    if (!isScalar(node) || node.value === null) return undefined;
    return typeof node.value === "string" ? node.value : (node.source ?? String(node.value));
  };

  /** What an anchor stands for. */
  const resolved = (node: Node | null | undefined): Node | null | undefined => {
    if (!isAlias(node)) return node;
    const meant = node.resolve(document) as Node | undefined;
    if (meant === undefined) at(start(node, 0), `nothing above is marked &${node.source}, so *${node.source} stands for nothing; put a text that starts with * in quotes`);
    return meant;
  };

  const units: Record<string, UnitName> = {};

  const readGiven = (node: Node | null | undefined, shape: Shape & { type: "given" }, path: string, from: number): Given | typeof REFUSED => {
    let valueNode = node;
    let giveText: string | undefined;
    let giveFrom = from;
    let reason = "";
    let valueText: string | undefined;
    if (isMap(node)) {
      const parts = readKeys(node, path, ["value", "give", "reason"], ["value"]);
      if (parts === REFUSED) return REFUSED;
      valueNode = parts["value"]?.node;
      valueText = written(valueNode);
      if (parts["give"]) {
        giveFrom = start(parts["give"].node, parts["give"].from);
        giveText = written(parts["give"].node);
        if (giveText === undefined) return at(giveFrom, `${path}.give must be a number with its unit, like ${shape.example}`);
      }
      if (parts["reason"]) {
        const words = written(parts["reason"].node);
        if (words === undefined) return at(start(parts["reason"].node, parts["reason"].from), `${path}.reason must be text`);
        reason = words;
      }
    } else valueText = written(node);
    const valueFrom = start(valueNode, from);
    if (valueText === undefined) return at(valueFrom, `${path} must be a number with its unit, like ${shape.example}`);
    const halves = valueText.split(/\s*(?:±|\+\/?[-−])\s*/);
    if (halves.length > 2) return at(valueFrom, `${path} must have one ± at most, got ${JSON.stringify(valueText)}`);
    if (halves.length === 2) {
      if (giveText !== undefined) return at(valueFrom, `${path} has its give or take twice: after ± and under give`);
      [valueText, giveText] = halves as [string, string];
      giveFrom = valueFrom;
    }
    const text = (valueText as string).trim();
    const value = readQuantity(text, shape.unit, shape.example);
    if ("wrong" in value) return at(valueFrom, `${path} ${value.wrong}`);
    if (!shape.rule.holds(value.si) || !Number.isFinite(value.si)) return at(valueFrom, `${path} must be ${shape.rule.words}, got ${text}`);
    const [low, high] = shape.within.map((end) => (readQuantity(end, shape.unit, end) as { si: number }).si) as [number, number];
    const slack = ROUNDING * Math.max(Math.abs(low), Math.abs(high));
    if (value.si < low - slack || value.si > high + slack) return at(valueFrom, `${path} must be from ${shape.within[0]} to ${shape.within[1]}, got ${text}, which is outside what the models are for`);
    units[path] = value.unit;
    let give = 0;
    if (giveText !== undefined) {
      const share = /^(.*\d)\s*%$/.exec(giveText.trim());
      const read = share ? { si: Number(share[1]) * 0.01 * value.si } : readQuantity(giveText, shape.unit, shape.example);
      if ("wrong" in read) return at(giveFrom, `${path}.give ${read.wrong}`);
      if (!(read.si >= 0 && Number.isFinite(read.si))) return at(giveFrom, `${path}.give must be >= 0, got ${giveText.trim()}`);
      if (shape.rule !== ANY && value.si > 0 && read.si >= value.si) return at(giveFrom, `${path}.give must be smaller than the value itself, got ${text} give or take ${giveText.trim()}`);
      give = read.si;
    }
    return { value: value.si, give, reason };
  };

  type Part = { readonly node: Node | null | undefined; readonly from: number };
  const found: Found[] = [];
  const strays: { readonly path: string; readonly key: string; readonly from: number; readonly message: string }[] = [];
  /** Said only where no stray key explains them. */
  const empty: { readonly path: string; readonly from: number; readonly message: string }[] = [];

  /** The values of a map by key. Unknown and missing keys are refused; `path` names the place, "" is the whole file. */
  function readKeys(map: YAMLMap, path: string, known: readonly string[], needs: readonly string[]): Record<string, Part> | typeof REFUSED {
    const parts: Record<string, Part> = {};
    let refused = false;
    let last: { key: string; node: Node | null | undefined; from: number; words: string } | undefined;
    const lacks = new Set(known);
    const blank = (node: Node | null): boolean => node === null || (isScalar(node) && node.value === null);
    for (const pair of map.items) {
      const keyNode = pair.key as Node | null;
      const key = written(keyNode) ?? "";
      const from = start(keyNode, start(map, 0));
      if (!known.includes(key)) {
        refused = true;
        const [, glued, rest] = /^([A-Za-z]+):(.+)$/.exec(key) ?? [];
        if (glued !== undefined && known.includes(glued)) {
          at(from, `${named(path)}: a key is followed by a colon and a space: ${glued}: ${rest}`);
          lacks.delete(glued);
        } else if (map.flow === true && blank(pair.value as Node | null) && last !== undefined && (WORDS.includes(last.key) || (/^\d/.test(key) && /^[-+−]?\d+$/.test(last.words)))) {
          // A comma in the value before has made a key of what follows it.
          const { words } = last;
          last.words = WORDS.includes(last.key) ? `${words}, ${key}` : `${words}.${key}`;
          const message = WORDS.includes(last.key)
            ? `${named(path)}: put quotes around a text that has a comma: ${last.key}: ${JSON.stringify(last.words)}`
            : `${named(path)}: a comma splits the value here; write ${last.words}${/^\d{3}(?!\d)/.test(key) ? `, or ${words}${key} without the comma` : ""}`;
          const where = start(last.node, last.from);
          const { line, col } = lines.linePos(where);
          const before = problems.findIndex((p) => p.line === line && p.column === col);
          if (before >= 0) problems.splice(before, 1);
          at(where, message);
        } else strays.push({ path, key, from, message: `${named(path)} has no ${JSON.stringify(key)}${wayOut(key, known)}` });
        continue;
      }
      lacks.delete(key);
      const node = resolved(pair.value as Node | null);
      if (node === undefined) continue;
      parts[key] = { node, from };
      last = { key, node, from, words: written(node) ?? "" };
    }
    found.push({ path, from: start(map, 0), lacks, needs, known, empty: false });
    for (const key of needs) refused ||= lacks.has(key);
    // With a slip among them, the values of a quantity are not what was meant.
    return refused && (known.includes("give") || Object.keys(parts).length === 0) ? REFUSED : parts;
  }

  const read = (node: Node | null | undefined, shape: Shape, path: string, from: number): unknown => {
    const here = start(node, from);
    switch (shape.type) {
      case "given":
        return readGiven(node, shape, path, from);
      case "text": {
        const words = written(node)?.trim();
        if (words !== undefined && words !== "") return words;
        const line = source.slice(from, source.indexOf("\n", from));
        return at(here, `${path} must be text${/\s#/.test(line) ? "; what follows a # is a comment, so put a text with a # in quotes" : ""}`);
      }
      case "word": {
        const word = written(node) ?? "";
        return shape.words.includes(word) ? word : at(here, `${path} must be one of ${shape.words.join(", ")}, got ${JSON.stringify(word)}`);
      }
      case "orNone":
        if (written(node) === "none") return null;
        if (isMap(node) || node === null || written(node) === undefined) return read(node, shape.of, path, from);
        return at(here, `${path} must be none, or a group of keys`);
      case "maybe":
        return read(node, shape.of, path, from);
      case "list": {
        if (!isSeq(node)) return at(here, `${path} must be a list (lines that open with "- ")`);
        if (node.items.length < shape.least) return at(here, `${path} must list ${shape.least} at least, got ${node.items.length}`);
        if (node.items.length > shape.most) return at(start(node.items[shape.most] as Node, here), `${path} may list ${shape.most} at most, got ${node.items.length}`);
        return node.items.map((item, i) => read(resolved(item as Node), shape.of, `${path}[${i + 1}]`, here));
      }
      case "group": {
        const keys = Object.keys(shape.keys);
        const needs = keys.filter((key) => shape.keys[key]?.type !== "maybe");
        if (!isMap(node)) {
          const message = `${named(path)} must be a group of keys: ${keys.join(", ")}`;
          if (path === "" || written(node) !== undefined) return at(here, message);
          empty.push({ path, from: here, message });
          found.push({ path, from: here, lacks: new Set(keys), needs, known: keys, empty: true });
          return REFUSED;
        }
        const parts = readKeys(node, path, keys, needs);
        if (parts === REFUSED) return REFUSED;
        return Object.fromEntries(Object.entries(parts).map(([key, part]) => [key, read(part.node, shape.keys[key] as Shape, path === "" ? key : `${path}.${key}`, part.from)]));
      }
    }
  };

  const content = read(document.contents as Node | null, SCENARIO, "", 0);

  // A key that one group has too many and another lacks has only been put in the wrong column: said once, with its place.
  const inside = (path: string, outer: string): boolean => outer === "" || path.startsWith(`${outer}.`) || path.startsWith(`${outer}[`);
  const moved = new Map<Found, { readonly keys: string[]; readonly from: number; readonly path: string }>();
  for (const stray of strays) {
    const homes = found.filter((group) => group.path !== stray.path && group.lacks.has(stray.key) && (inside(group.path, stray.path) || inside(stray.path, group.path)));
    const above = homes.filter(({ from }) => from <= stray.from);
    const needing = (groups: readonly Found[]): Found | undefined => groups.findLast((group) => group.needs.includes(stray.key)) ?? groups.at(-1);
    const home = needing(above) ?? needing(homes);
    if (home === undefined) {
      at(stray.from, stray.message);
      // Mistyped, so not also missing.
      const own = found.find(({ path }) => path === stray.path);
      own?.lacks.delete(nearestName(stray.key, [...own.lacks]) ?? "");
      continue;
    }
    home.lacks.delete(stray.key);
    const together = moved.get(home);
    if (together?.path === stray.path) together.keys.push(stray.key);
    else moved.set(home, { keys: [stray.key], from: stray.from, path: stray.path });
  }
  for (const [home, { keys, from, path }] of moved) {
    const [are, them] = keys.length === 1 ? ["belongs", "it"] : ["belong", "them"];
    at(from, inside(home.path, path) ? `${keys.join(", ")} ${are} under ${home.path}; indent ${them}` : home.path === "" ? `${keys.join(", ")} ${are} to the whole file; start ${them} in the first column` : `${keys.join(", ")} ${are} under ${home.path}; indent ${them} less`);
  }
  for (const group of found) {
    if (group.empty) continue;
    for (const key of group.needs) if (group.lacks.has(key)) at(group.from, `${named(group.path)} needs ${JSON.stringify(key)}; its keys are ${group.known.join(", ")}`);
  }
  const explained = new Set([...moved.keys()].map(({ path }) => path));
  for (const { path, from, message } of empty) if (!explained.has(path)) at(from, message);
  if (problems.length > 0) return { problems: inOrder(problems) };

  const scenario: Scenario = { ...(content as Omit<Scenario, "file" | "units">), file, units: unitsOf(units) };
  const place = (path: readonly (string | number)[]): number => start(document.getIn(path, true) as Node | undefined, 0);
  for (const side of ["a", "b"] as const) {
    scenario[side].occupants.forEach((_, i) => {
      const inside = scenario[side].occupants.slice(0, i + 1).reduce((sum, o) => sum + (o.counted === "inside" ? o.torsoMass.value + o.headMass.value : 0), 0);
      if (inside >= scenario[side].mass.value)
        at(place([side, "occupants", i, "torsoMass"]), `${side}.mass must be more than the occupants counted inside it, got ${scenario[side].mass.value} kg with ${inside} kg of occupants`);
    });
  }
  if (!(scenario.a.speed.value > 0)) at(place(["a", "speed"]), "a.speed must be > 0: the first vehicle is the one that moves in every lesson; name the standing one b");
  if (scenario.a.name === scenario.b.name) at(place(["b", "name"]), `b.name must differ from a.name, got ${JSON.stringify(scenario.b.name)} for both`);
  if (problems.length > 0) return { problems: inOrder(problems) };
  return { scenario, warnings: inOrder(unlikely(scenario).map(({ path, message }) => problemAt(place(path), `please check: ${message}`))) };
};

/** Reads the scenario file, or lists everything that is wrong with it. */
export const readScenario = (file: string): ScenarioReading => {
  let source: string;
  try {
    source = readFileSync(file, "utf8");
  } catch (error) {
    const code = (error as { code?: string }).code;
    return { problems: [{ file, line: 1, column: 1, message: code === "ENOENT" ? "there is no such file" : `cannot be read (${code ?? String(error)})` }] };
  }
  return parseScenario(source, file);
};
