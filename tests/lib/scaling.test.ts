/**
 * A law of physics does not know what a kilogram, a metre or a second is. Change one of them, and each output must change as its
 * unit says; an output that does not has a constant hidden on its way.
 */
import { describe, expect, test } from "vitest";
import { accepted, call, dimensionOf, docOf, exampleCalls, kernels, leaves, mapLeaves, withDefaults, type Args } from "./kernels.ts";
import type { DocComment, DocValue } from "../../build/docComments.ts";

/** Kernels that exist only in stated units (`@units-fixed reason`). Each is here on purpose. */
const UNITS_FIXED: readonly string[] = [
  // channel filter classes are numbers of hertz out of a closed list
  "channelFilter",
  "channelFilterGain",
  "channelFilterWeights",
];

/** Powers of four, so that the scaled run rounds as the first one did, square roots included. */
const CHANGES = [
  { name: "kilogram", factors: [4, 1, 1] },
  { name: "metre", factors: [1, 4, 1] },
  { name: "second", factors: [1, 1, 0.25] },
] as const;

const DRAWS = 6;
const TRIES = 60;
const RELATIVE = 1e-6; // searches inside a kernel stop a little off; a hidden constant shows by far more
const CANCELLED = 1e-9; // of the largest output of the same unit

const isFixed = (kernel: DocComment): boolean => kernel.tags.some(({ tag }) => tag === "units-fixed");

const factorOf = (lines: readonly DocValue[], path: string, factors: readonly number[], kind: "@param" | "@returns"): number => {
  const line = docOf(lines, path);
  const dimension = dimensionOf(line?.unit ?? "");
  if (!dimension) throw new Error(`no unit known for ${path}: write a line "${kind} ${path} … [unit]"${line?.unit ? ` (found "[${line.unit}]")` : ""}`);
  return dimension.reduce((product, power, i) => product * (factors[i] as number) ** power, 1);
};

const scaled = (value: unknown, lines: readonly DocValue[], factors: readonly number[], kind: "@param" | "@returns"): unknown =>
  mapLeaves(value, (leaf, path) => (typeof leaf === "number" ? leaf * factorOf(lines, path, factors, kind) : leaf));

const faults = (kernel: DocComment, args: Args, factors: readonly number[]): string[] => {
  const wanted = leaves(scaled(call(kernel, args), kernel.returns, factors, "@returns"));
  const given = leaves(call(kernel, scaled(args, kernel.params, factors, "@param") as Args));
  if (wanted.length !== given.length) return [`${wanted.length} values became ${given.length}, for ${JSON.stringify(args)}`];
  const largest = new Map<string, number>();
  for (const { path, value } of wanted) {
    const unit = docOf(kernel.returns, path)?.unit ?? "";
    if (typeof value === "number" && Number.isFinite(value)) largest.set(unit, Math.max(largest.get(unit) ?? 0, Math.abs(value)));
  }
  return wanted.flatMap(({ path, place, value }, i) => {
    const other = given[i]?.value;
    if (typeof value !== "number" || typeof other !== "number" || !Number.isFinite(value)) return typeof value === "function" || Object.is(value, other) ? [] : [`${place}: ${String(other)} instead of ${String(value)}`];
    const allowed = RELATIVE * Math.abs(value) + CANCELLED * (largest.get(docOf(kernel.returns, path)?.unit ?? "") ?? 0);
    return Math.abs(other - value) <= allowed ? [] : [`${place}: ${other} instead of ${value}, for ${JSON.stringify(args)}`];
  });
};

describe("unit scaling", () => {
  test("kernels bound to stated units are those listed", () => {
    expect(kernels.filter(isFixed).map(({ name }) => name).sort()).toEqual([...UNITS_FIXED].sort());
    for (const kernel of kernels.filter(isFixed)) expect(kernel.tags.find(({ tag }) => tag === "units-fixed")?.text, `${kernel.name}: @units-fixed gives its reason`).not.toBe("");
  });

  for (const kernel of kernels.filter((candidate) => !isFixed(candidate)))
    for (const { name, factors } of CHANGES)
      test(`${kernel.name}(…) scales with the ${name}`, () => {
        const examples = exampleCalls(kernel).map(([args]) => withDefaults(kernel, args as Args));
        const drawn = accepted(kernel, DRAWS, TRIES).map(({ args }) => args);
        expect(examples.length, `${kernel.name} has an @example that calls it`).toBeGreaterThan(0);
        for (const args of [...examples, ...drawn]) expect(faults(kernel, args, factors).slice(0, 5)).toEqual([]);
      });
});
