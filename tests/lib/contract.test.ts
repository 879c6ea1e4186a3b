/** What every kernel promises: documented, sourced, one object in and out, bad input refused. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { docComments } from "../../build/docComments.ts";
import { at, boundsOf, broken, call, defaultOf, dimensionOf, docOf, documented, exampleCalls, index, kernels, leaves, LIB, listOf, mapLeaves, type Args } from "./kernels.ts";

const TAGS = ["param", "returns", "throws", "equation", "law", "scheme", "limit", "source", "example", "sample", "units-fixed"];
const STATUSES = ["read", "second-hand", "from memory", "common practice", "derived"];

const sources = parse(readFileSync(join(LIB, "sources.yaml"), "utf8")) as Record<string, { title?: string; status?: string } | null>;

test("every file of lib loads", () => expect(broken).toEqual([]));

describe("sources", () => {
  test("each has a title and a known status", () => {
    for (const [id, source] of Object.entries(sources)) {
      expect(source?.title, id).toBeTruthy();
      expect(STATUSES, `status of ${id}`).toContain(source?.status);
    }
  });

  test("every @source names one of them", () => {
    const unknown = documented.flatMap(({ file, line, name, sources: cited }) => cited.filter(({ id }) => !Object.hasOwn(sources, id)).map(({ id }) => `lib/${file}:${line} ${name}: ${id} is not in lib/sources.yaml`));
    expect(unknown).toEqual([]);
  });
});

describe("the contents page lib/index.ts", () => {
  test("exports every kernel that has an example", () => {
    expect(kernels.filter(({ name, examples }) => examples.length > 0 && !(name in index)).map(({ name, file }) => `${name} of lib/${file}`)).toEqual([]);
  });

  test("exports no function without a doc comment", () => {
    const known = new Set(documented.map(({ name }) => name));
    expect(Object.entries(index).filter(([name, member]) => typeof member === "function" && !known.has(name)).map(([name]) => name)).toEqual([]);
  });
});

describe.each(kernels.map((kernel) => [`${kernel.name}(…)`, `lib/${kernel.file}:${kernel.line}`, kernel] as const))("%s of %s", (_name, _where, kernel) => {
  test("says what it gives, its model, inputs, outputs and source, with an example", () => {
    expect(kernel.summary, "first line").not.toBe("");
    expect(kernel.model, "Model:").not.toBe("");
    expect(kernel.params, "@param").not.toEqual([]);
    expect(kernel.returns, "@returns").not.toEqual([]);
    expect(kernel.sources, "@source").not.toEqual([]);
    expect(kernel.examples, "@example").not.toEqual([]);
    expect(kernel.tags.map(({ tag }) => tag).filter((tag) => !TAGS.includes(tag)), "unknown tags").toEqual([]);
  });

  test("gives units that can be read", () => {
    expect([...kernel.params, ...kernel.returns].filter(({ unit }) => unit !== "" && !dimensionOf(unit)).map(({ name, unit }) => `${name} [${unit}]`)).toEqual([]);
  });

  test("takes one object, and each number in it has a line @param name … [unit]", () => {
    for (const args of exampleCalls(kernel)) {
      expect(args.length).toBe(1);
      expect(typeof args[0]).toBe("object");
      expect(unitless(args[0], kernel.params)).toEqual([]);
    }
  });

  test("gives one object, and each number in it has a line @returns name … [unit]", () => {
    for (const [args] of exampleCalls(kernel)) {
      const result = call(kernel, args as Args);
      expect(result !== null && typeof result === "object").toBe(true);
      expect(unitless(result, kernel.returns)).toEqual([]);
    }
  });

  test("names outputs in its equations and inputs in its samples", () => {
    const outcomes = exampleCalls(kernel).map(([args]) => call(kernel, args as Args));
    expect(kernel.equations.filter(({ name, expression }) => expression === "" || !outcomes.some((result) => typeof at(result, name) === "number")).map(({ name }) => name)).toEqual([]);
    expect(kernel.samples.filter(({ name, from, to }) => !docOf(kernel.params, name) || !(from < to)).map(({ name }) => name)).toEqual([]);
  });

  test("leaves its input as it was and gives the same answer again", () => {
    for (const [args] of exampleCalls(kernel)) {
      const before = JSON.stringify(args);
      const first = JSON.stringify(call(kernel, args as Args));
      expect(JSON.stringify(call(kernel, args as Args))).toBe(first);
      expect(JSON.stringify(args)).toBe(before);
    }
  });

  test("refuses NaN with a RangeError and a text with a TypeError, naming itself and the input", () => {
    const [args] = exampleCalls(kernel)[0] ?? [];
    const places = leaves(args).filter(({ value }) => typeof value === "number");
    for (const { path, place } of places)
      for (const [bad, kind] of [[NaN, RangeError], ["12", TypeError]] as const) {
        const spoilt = mapLeaves(args, (leaf, _, here) => (here === place ? bad : leaf)) as Args;
        const thrown = errorOf(() => call(kernel, spoilt));
        expect(thrown, `${place}: ${JSON.stringify(bad)} is not refused`).toBeInstanceOf(kind);
        expect((thrown as Error).message).toMatch(new RegExp(`^${kernel.name}: `));
        expect((thrown as Error).message.replace(/\[\d+\]/g, ""), "names the input").toContain(path.split(".").at(-1));
      }
  });
});

/** Places of numbers that no line of the doc comment gives a unit. */
function unitless(value: unknown, lines: Parameters<typeof docOf>[0]): string[] {
  return [...new Set(leaves(value).flatMap(({ path, value: leaf }) => (typeof leaf === "number" && !dimensionOf(docOf(lines, path)?.unit ?? "") ? [path] : [])))];
}

function errorOf(run: () => unknown): unknown {
  try {
    run();
    return undefined;
  } catch (error) {
    return error;
  }
}

describe("docComments(…)", () => {
  const source = `
/** Not a function. */
export const LIMIT: number = (1 + 2) * 3;
/**
 * Energy of two bodies,
 * in sum.
 *
 * Model: points
 * without size.
 *
 * @param a.mass > 0, test mass
 *   of one body [kg]
 * @param a.speed, b.speed >= 0 [m/s]
 * @param b.mass > 0, spanned by two, or more [kg]
 * @returns energy.a >= 0 [J]
 * @returns energy.b >= 0 [J]
 * @throws RangeError outside those ranges
 * @equation energy.a = a.mass * a.speed^2 / 2
 * @source derived, sum, line 2
 * @sample a.mass 200 4e3
 * @example sum({
 *   a: 1 }).energy.a // 66_150
 */
export const sum = ({ a }: { readonly a: (x: number) => number }): { energy: number } => ({ energy: 1 });
/**
 * Listed on one line.
 * @param a mass > 0 [kg], front: crush [m] and force [N]
 * @param b the same
 * @returns peak [N], crush of each [m]
 */
export function listed() {}
/**
 * Refers back.
 * @param b as listed
 */
export const again: () => void = () => {};
`;
  const [sum, listed, again, ...rest] = docComments(source, "sum.ts");

  test("reads every tag of the contract, joining lines", () => {
    expect(rest).toEqual([]);
    expect(sum).toMatchObject({
      name: "sum",
      file: "sum.ts",
      line: source.slice(0, source.indexOf("export const sum")).split("\n").length,
      summary: "Energy of two bodies, in sum.",
      model: "points without size.",
      params: [
        { name: "a.mass", text: "> 0, test mass of one body", unit: "kg" },
        { name: "a.speed", text: ">= 0", unit: "m/s" },
        { name: "b.speed", text: ">= 0", unit: "m/s" },
        { name: "b.mass", text: "> 0, spanned by two, or more", unit: "kg" },
      ],
      returns: [
        { name: "energy.a", text: ">= 0", unit: "J" },
        { name: "energy.b", text: ">= 0", unit: "J" },
      ],
      throws: ["RangeError outside those ranges"],
      equations: [{ name: "energy.a", expression: "a.mass * a.speed^2 / 2" }],
      sources: [{ id: "derived", where: "sum, line 2" }],
      samples: [{ name: "a.mass", from: 200, to: 4000 }],
      examples: [{ code: "sum({\n  a: 1 }).energy.a", value: "66_150" }],
    });
  });

  test("reads lists on one line and references to lines above", () => {
    const fields = (root: string) => [
      { name: `${root}.mass`, text: "> 0", unit: "kg" },
      { name: `${root}.front.crush`, text: "", unit: "m" },
      { name: `${root}.front.force`, text: "", unit: "N" },
    ];
    expect(listed?.params).toEqual([...fields("a"), ...fields("b")]);
    expect(listed?.returns).toEqual([
      { name: "peak", text: "", unit: "N" },
      { name: "crush", text: "of each", unit: "m" },
    ]);
    expect(again?.params).toEqual(fields("b"));
  });
});

describe("reading units and ranges", () => {
  // Powers of kilogram, metre and second: SI brochure, 9th edition, tables 2 to 5, from memory.
  test.each([
    ["N s/m^2", [1, -1, -1]],
    ["kg m^2", [1, 2, 0]],
    ["W", [1, 2, -3]],
    ["Pa", [1, -1, -2]],
    ["rad/s", [0, 0, -1]],
    ["1/s^2", [0, 0, -2]],
    ["N/m^0.5", [1, 0.5, -2]],
    ["gn^2.5 s", [0, 2.5, -4]],
    ["1", [0, 0, 0]],
  ] as const)("dimensionOf(%s) gives %s", (unit, powers) => expect(dimensionOf(unit)).toEqual(powers));

  test.each(["", "J/kg m", "furlong", "m,", "kg, m/s"])("dimensionOf(%j) gives nothing", (unit) => expect(dimensionOf(unit)).toBeUndefined());

  test("boundsOf(…), listOf(…) and defaultOf(…) read what a parameter's text states", () => {
    expect(boundsOf("> 0, test mass")).toEqual({ from: 0, to: undefined });
    expect(boundsOf(">= 0 and <= 1.5")).toEqual({ from: 0, to: 1.5 });
    expect(boundsOf("between 0 and 1")).toEqual({ from: 0, to: 1 });
    expect(boundsOf("restitution 0..1")).toEqual({ from: 0, to: 1 });
    expect(boundsOf("any value")).toEqual({ from: undefined, to: undefined });
    expect(listOf("60, 180, 600 or 1000")).toEqual([60, 180, 600, 1000]);
    expect(listOf("> 0, 3 or more")).toEqual([]);
    expect(defaultOf("free fall, default 9.80665")).toBe(9.80665);
    expect(defaultOf("> 0, default STANDARD_GRAVITY")).toBe(9.80665);
    expect(defaultOf("no such word")).toBeUndefined();
  });
});
