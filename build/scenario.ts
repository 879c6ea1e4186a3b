/**
 * Reads a presenter's show from a YAML file. Everything wrong is listed at once, each with its line and column, the rule, and
 * the nearest right word; nothing is guessed, clamped or left out in silence.
 */
import { readFileSync } from "node:fs";
import { isAlias, isMap, isScalar, isSeq, LineCounter, parseDocument, type Node, type YAMLMap } from "yaml";
import { isUnit, sameDimension, toSI, type UnitName, UNITS } from "../lib/units.ts";
import type { Given, Scenario } from "../shared/scenario/scenario.ts";
import { wayOut } from "./nearest.ts";
import { inOrder, type Problem } from "./problem.ts";

export type ScenarioReading = { readonly scenario: Scenario } | { readonly problems: readonly Problem[] };

// ---------------------------------------------------------------- what a scenario file may hold

interface Rule {
  readonly words: string;
  readonly holds: (si: number) => boolean;
}
const POSITIVE: Rule = { words: "> 0", holds: (si) => si > 0 };
const NON_NEGATIVE: Rule = { words: ">= 0", holds: (si) => si >= 0 };

type Shape =
  | { readonly type: "text" }
  | { readonly type: "word"; readonly words: readonly string[] }
  | { readonly type: "given"; readonly unit: UnitName; readonly example: string; readonly rule: Rule }
  | { readonly type: "group"; readonly keys: Readonly<Record<string, Shape>> }
  | { readonly type: "list"; readonly of: Shape; readonly least: number; readonly most: number }
  /** `none` in its place says that there is none. */
  | { readonly type: "orNone"; readonly of: Shape }
  /** May be left out. */
  | { readonly type: "maybe"; readonly of: Shape };

const text: Shape = { type: "text" };
const given = (unit: UnitName, example: string, rule: Rule = POSITIVE): Shape => ({ type: "given", unit, example, rule });
const group = (keys: Readonly<Record<string, Shape>>): Shape => ({ type: "group", keys });

const OCCUPANT = group({
  name: text,
  torsoMass: given("kg", "34 kg"),
  headMass: given("kg", "4.6 kg"),
  counted: { type: "word", words: ["inside", "apart"] },
  belt: {
    type: "orNone",
    of: group({
      slack: given("m", "0.03 m", NON_NEGATIVE),
      stiffness: given("N/m", "90 kN/m"),
      limit: { type: "maybe", of: given("N", "5 kN") },
    }),
  },
  bag: {
    type: "orNone",
    of: group({
      fireTime: given("s", "30 ms", NON_NEGATIVE),
      torsoGap: given("m", "0.15 m", NON_NEGATIVE),
      torsoStiffness: given("N/m", "40 kN/m", NON_NEGATIVE),
      headGap: given("m", "0.2 m", NON_NEGATIVE),
      headStiffness: given("N/m", "9 kN/m", NON_NEGATIVE),
    }),
  },
  space: given("m", "0.45 m", NON_NEGATIVE),
  interiorStiffness: given("N/m", "250 kN/m"),
  neck: group({ stiffness: given("N/m", "6 kN/m"), damping: given("N s/m", "95 N s/m", NON_NEGATIVE) }),
});

const VEHICLE = group({
  name: text,
  description: text,
  drawnAs: { type: "word", words: ["hatch", "estate"] },
  mass: given("kg", "900 kg ± 10 kg"),
  speed: given("m/s", "54 km/h ± 1 km/h", NON_NEGATIVE),
  front: group({ nose: given("N/m", "1200 kN/m"), cell: given("N/m", "4000 kN/m"), length: given("m", "0.55 m") }),
  occupants: { type: "list", of: OCCUPANT, least: 1, most: 2 },
});

const SCENARIO = group({ title: text, a: VEHICLE, b: VEHICLE });

// ---------------------------------------------------------------- quantities

type Quantity = { readonly si: number } | { readonly wrong: string };

const NUMBER = String.raw`[-+−]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?`;
const QUANTITY = new RegExp(`^(${NUMBER})\\s*(.*)$`);

/** A number with a unit of the dimension of `unit`, in SI. */
const readQuantity = (written: string, unit: UnitName, example: string): Quantity => {
  const match = QUANTITY.exec(written.trim());
  if (!match) return { wrong: `must be a number with its unit, like ${example}, got ${JSON.stringify(written)}` };
  const [, digits = "", symbol = ""] = match;
  const value = Number(digits.replace("−", "-"));
  const fitting = (Object.keys(UNITS) as UnitName[]).filter((known) => sameDimension(known, unit));
  if (symbol === "") return { wrong: `must have a unit, like ${example}, got ${written.trim()}` };
  if (symbol.startsWith(",")) return { wrong: `must be written with a decimal point and no commas, like ${example}, got ${written.trim()}` };
  if (!isUnit(symbol)) return { wrong: `has the unknown unit ${JSON.stringify(symbol)}${wayOut(symbol, fitting)}` };
  if (!sameDimension(symbol, unit)) return { wrong: `must be in one of ${fitting.join(", ")}, got ${written.trim()}` };
  return { si: toSI(value, symbol) };
};

// ---------------------------------------------------------------- reading

const REFUSED = Symbol("refused");

/** Reads the scenario in `source`; `file` is only named in messages and in the result. */
export const parseScenario = (source: string, file: string): ScenarioReading => {
  const problems: Problem[] = [];
  const lines = new LineCounter();
  const document = parseDocument(source, { lineCounter: lines, prettyErrors: false });
  const at = (offset: number, message: string): typeof REFUSED => {
    const { line, col } = lines.linePos(offset);
    problems.push({ file, line, column: col, message });
    return REFUSED;
  };
  const start = (node: Node | null | undefined, otherwise: number): number => node?.range?.[0] ?? otherwise;
  for (const error of [...document.errors, ...document.warnings]) at(error.pos[0], error.message);
  if (problems.length > 0) return { problems };

  /** The words in a scalar as they were written, so that 0x10 or 1e3 stay what their author typed. */
  const written = (node: Node | null | undefined): string | undefined => {
    if (!isScalar(node) || node.value === null) return undefined;
    return typeof node.value === "string" ? node.value : (node.source ?? String(node.value));
  };

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
    const halves = valueText.split(/\s*(?:±|\+\/-)\s*/);
    if (halves.length > 2) return at(valueFrom, `${path} must have one ± at most, got ${JSON.stringify(valueText)}`);
    if (halves.length === 2) {
      if (giveText !== undefined) return at(valueFrom, `${path} has its give or take twice: after ± and under give`);
      [valueText, giveText] = halves as [string, string];
      giveFrom = valueFrom;
    }
    const value = readQuantity(valueText as string, shape.unit, shape.example);
    if ("wrong" in value) return at(valueFrom, `${path} ${value.wrong}`);
    if (!shape.rule.holds(value.si) || !Number.isFinite(value.si)) return at(valueFrom, `${path} must be ${shape.rule.words}, got ${(valueText as string).trim()}`);
    let give = 0;
    if (giveText !== undefined) {
      const share = /^(.*\d)\s*%$/.exec(giveText.trim());
      const read = share ? { si: Number(share[1]) * 0.01 * value.si } : readQuantity(giveText, shape.unit, shape.example);
      if ("wrong" in read) return at(giveFrom, `${path}.give ${read.wrong}`);
      if (!(read.si >= 0 && Number.isFinite(read.si))) return at(giveFrom, `${path}.give must be >= 0, got ${giveText.trim()}`);
      if (value.si > 0 && read.si >= value.si) return at(giveFrom, `${path}.give must be smaller than the value itself, got ${(valueText as string).trim()} give or take ${giveText.trim()}`);
      give = read.si;
    }
    return { value: value.si, give, reason };
  };

  type Part = { readonly node: Node | null; readonly from: number };

  /** The values of a map by key. Unknown and missing keys are refused; `path` names the place, "" is the whole file. */
  function readKeys(map: YAMLMap, path: string, known: readonly string[], needed: readonly string[]): Record<string, Part> | typeof REFUSED {
    const parts: Record<string, Part> = {};
    let refused = false;
    for (const pair of map.items) {
      const keyNode = pair.key as Node | null;
      const key = written(keyNode) ?? "";
      const from = start(keyNode, start(map, 0));
      if (!known.includes(key)) {
        at(from, `${path === "" ? "a scenario" : path} has no ${JSON.stringify(key)}${wayOut(key, known)}`);
        refused = true;
        continue;
      }
      const value = pair.value as Node | null;
      parts[key] = { node: isAlias(value) ? ((value.resolve(document) ?? null) as Node | null) : value, from };
    }
    for (const key of needed) {
      if (parts[key] !== undefined) continue;
      at(start(map, 0), `${path === "" ? "a scenario" : path} needs ${JSON.stringify(key)}; its keys are ${known.join(", ")}`);
      refused = true;
    }
    return refused && Object.keys(parts).length === 0 ? REFUSED : parts;
  }

  const read = (node: Node | null | undefined, shape: Shape, path: string, from: number): unknown => {
    const here = start(node, from);
    switch (shape.type) {
      case "given":
        return readGiven(node, shape, path, from);
      case "text": {
        const words = written(node)?.trim();
        return words === undefined || words === "" ? at(here, `${path} must be text`) : words;
      }
      case "word": {
        const word = written(node) ?? "";
        return shape.words.includes(word) ? word : at(here, `${path} must be one of ${shape.words.join(", ")}, got ${JSON.stringify(word)}`);
      }
      case "orNone":
        return written(node) === "none" ? null : isMap(node) ? read(node, shape.of, path, from) : at(here, `${path} must be none, or a group of keys`);
      case "maybe":
        return read(node, shape.of, path, from);
      case "list": {
        if (!isSeq(node)) return at(here, `${path} must be a list (lines that open with "- ")`);
        if (node.items.length < shape.least) return at(here, `${path} must list ${shape.least} at least, got ${node.items.length}`);
        if (node.items.length > shape.most) return at(start(node.items[shape.most] as Node, here), `${path} may list ${shape.most} at most, got ${node.items.length}`);
        return node.items.map((item, i) => read(isAlias(item) ? (item.resolve(document) as Node) : (item as Node), shape.of, `${path}[${i + 1}]`, here));
      }
      case "group": {
        if (!isMap(node)) return at(here, `${path === "" ? "a scenario" : path} must be a group of keys: ${Object.keys(shape.keys).join(", ")}`);
        const keys = Object.keys(shape.keys);
        const parts = readKeys(
          node,
          path,
          keys,
          keys.filter((key) => shape.keys[key]?.type !== "maybe"),
        );
        if (parts === REFUSED) return REFUSED;
        return Object.fromEntries(Object.entries(parts).map(([key, part]) => [key, read(part.node, shape.keys[key] as Shape, path === "" ? key : `${path}.${key}`, part.from)]));
      }
    }
  };

  const content = read(document.contents as Node | null, SCENARIO, "", 0);
  if (problems.length > 0) return { problems: inOrder(problems) };

  const scenario = { ...(content as Omit<Scenario, "file">), file };
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
  return problems.length > 0 ? { problems: inOrder(problems) } : { scenario };
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
