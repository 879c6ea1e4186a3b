/**
 * A law of physics does not know what a kilogram, a metre or a second is. Change one of them, and each output must change as its
 * unit says; an output that does not has a constant hidden on its way.
 */
import { describe, expect, test } from "vitest";
import { accepted, call, dimensionOf, docOf, exampleCalls, kernels, leaves, mapLeaves, withDefaults, type Args } from "./kernels.ts";
import type { DocComment, DocValue } from "../../build/docComments.ts";

/**
 * Kernels that exist only in stated units (`@units-fixed reason`), and single outputs that do (`@units-fixed hic15, clip: reason`,
 * here as `kernel.output`). Each is here on purpose.
 */
const UNITS_FIXED: readonly string[] = [
  // channel filter classes are numbers of hertz out of a closed list
  "channelFilter",
  "channelFilterGain",
  "channelFilterWeights",
  "filteredMarkerMotion",
  // the criterion is a number of seconds with acceleration in multiples of gravity, by its definition
  "headInjuryCriterion",
  // published risk curves and intercepts belong to their own units
  "combinedThoracicIndex",
  "injuryRisk",
  "injuryRisksSideBySide",
  "jointInjuryRisk",
  // a number of seconds with acceleration in multiples of gravity, like the head injury criterion
  "severityIndex",
  // a published fit in metres and seconds
  "restitutionAtClosingSpeed",
  // the same criterion and the 3 ms clip of each occupant of a crash: their windows are fixed times
  ...["crash", "crashOutputs"].flatMap((kernel) => ["a", "b"].flatMap((seat) => ["chestClip", "hic15", "hic36"].map((output) => `${kernel}.occupants.${seat}.${output}`))),
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

interface Fixed {
  /** The kernel, or one output of it. */
  readonly what: string;
  readonly reason: string;
}

const fixedOf = (kernel: DocComment): Fixed[] =>
  kernel.tags.filter(({ tag }) => tag === "units-fixed").flatMap(({ text }) => {
    const found = /^([\w$.]+(?:, [\w$.]+)*): (.*)$/.exec(text);
    return found ? (found[1] as string).split(", ").map((output) => ({ what: `${kernel.name}.${output}`, reason: found[2] as string })) : [{ what: kernel.name, reason: text }];
  });

const isFixed = (kernel: DocComment, path = ""): boolean => {
  const name = path === "" ? kernel.name : `${kernel.name}.${path}`;
  return fixedOf(kernel).some(({ what }) => name === what || name.startsWith(`${what}.`));
};

const factorOf = (lines: readonly DocValue[], path: string, factors: readonly number[], kind: "@param" | "@returns"): number => {
  const line = docOf(lines, path);
  const dimension = dimensionOf(line?.unit ?? "");
  if (!dimension) throw new Error(`no unit known for ${path}: write a line "${kind} ${path} … [unit]"${line?.unit ? ` (found "[${line.unit}]")` : ""}`);
  return dimension.reduce((product, power, i) => product * (factors[i] as number) ** power, 1);
};

const scaled = (args: Args, lines: readonly DocValue[], factors: readonly number[]): unknown =>
  mapLeaves(args, (leaf, path) => (typeof leaf === "number" ? leaf * factorOf(lines, path, factors, "@param") : leaf));

const faults = (kernel: DocComment, args: Args, factors: readonly number[]): string[] => {
  const free = (result: unknown) => leaves(result).filter(({ path }) => !isFixed(kernel, path));
  const factor = (path: string): number => factorOf(kernel.returns, path, factors, "@returns");
  const wanted = free(call(kernel, args)).map((leaf) => (typeof leaf.value === "number" ? { ...leaf, value: leaf.value * factor(leaf.path) } : leaf));
  const given = free(call(kernel, scaled(args, kernel.params, factors) as Args));
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
  test("kernels and outputs bound to stated units are those listed, each with its reason", () => {
    const fixed = kernels.flatMap(fixedOf);
    expect(fixed.map(({ what }) => what).sort()).toEqual([...UNITS_FIXED].sort());
    expect(fixed.filter(({ reason }) => reason === "")).toEqual([]);
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
