/**
 * A lesson does not know what a kilogram, a metre or a second is either. Change one of them in the scenario and in the inputs,
 * and each output must change as its kind says; one that does not has a constant hidden in the lesson's own code.
 */
import { describe, expect, it } from "vitest";
import { evaluateFence } from "../../build/fence.ts";
import { readLessons } from "../../build/readLessons.ts";
import { readScenario } from "../../build/scenario.ts";
import { UNITS, type UnitName } from "../../lib/units.ts";
import { evaluate, type InputValue, type Lesson, type State, startOf, type TableRows, type TableValue, type TraceValue } from "../../shared/lesson.ts";
import type { Scenario } from "../../shared/scenario/scenario.ts";
import { makeWrite } from "../../shared/state/units.ts";

/** Powers of four, so that the scaled run rounds as the first one did, square roots included. */
const CHANGES = { kilogram: [4, 1, 1], metre: [1, 4, 1], second: [1, 1, 0.25] } as const;
type Factors = (typeof CHANGES)[keyof typeof CHANGES];
const STATES = 6;
const RELATIVE = 1e-6; // searches inside a kernel stop a little off; a hidden constant shows by far more
const CANCELLED = 1e-9; // of the largest output of the same kind

/** Outputs bound to a window of stated length, by definition; each is here on purpose. */
const CLIP = "the contiguous 3 ms value, and what is decided by it";
const GRAVITY = "a block slides against standard gravity";
const UNITS_FIXED: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  "lighter-yet-maybe-the-better-seat": { chestA: CLIP, chestB: CLIP, rideDown: CLIP, ahead: CLIP },
  "what-many-crashes-show": { lightSoftSlid: GRAVITY, lightStiffSlid: GRAVITY, heavySoftSlid: GRAVITY, heavyStiffSlid: GRAVITY, slidSoft: GRAVITY, slidStiff: GRAVITY },
};

/** Unit of each measured value of a scenario, by its key. */
const UNIT_OF: Readonly<Record<string, UnitName>> = {
  ...{ mass: "kg", torsoMass: "kg", headMass: "kg", speed: "m/s", damping: "N s/m", limit: "N", fireTime: "s" },
  ...{ nose: "N/m", cell: "N/m", stiffness: "N/m", torsoStiffness: "N/m", headStiffness: "N/m", interiorStiffness: "N/m" },
  ...{ length: "m", slack: "m", torsoGap: "m", headGap: "m", space: "m" },
  ...{ width: "m", gravity: "m/s^2", rolling: "1", runOn: "m", coast: "m", delay: "s", deceleration: "m/s^2", offset: "m", yaw: "rad", fallingMass: "kg", drop: "m", travel: "1", efficiency: "1" },
  ...{ captureRate: "Hz", projectRate: "Hz", playbackRate: "Hz", exposure: "s", sensorWidth: "m", focalLength: "m", distance: "m", pixelsAcross: "1", pixelsDown: "1", bitsPerPixel: "1", memory: "1" },
  ...{ baseline: "m", baselineOffset: "m" },
};

const factorOf = (unit: UnitName, factors: Factors): number => UNITS[unit].dimension.reduce<number>((product, power, i) => product * (factors[i] as number) ** power, 1);

const scaledScenario = (node: unknown, factors: Factors, key = ""): unknown => {
  if (Array.isArray(node)) return node.map((item) => scaledScenario(item, factors));
  if (typeof node !== "object" || node === null) return node;
  if ("value" in node && "give" in node) {
    const unit = UNIT_OF[key];
    if (unit === undefined) throw new Error(`no unit known for ${key} of a scenario`);
    const factor = factorOf(unit, factors);
    const { value, give } = node as { value: number; give: number };
    return { ...node, value: value * factor, give: give * factor };
  }
  // a and b inside a part carry the unit of the part
  return Object.fromEntries(Object.entries(node).map(([name, child]) => [name, scaledScenario(child, factors, name === "a" || name === "b" ? (Object.hasOwn(UNIT_OF, key) ? key : name) : name)]));
};

const scaledInputs = (lesson: Lesson, inputs: Readonly<Record<string, InputValue>>, factors: Factors): Record<string, InputValue> =>
  Object.fromEntries(
    Object.entries(lesson.inputs).map(([name, input]) => {
      const value = inputs[name] as InputValue;
      if (input.type === "quantity") return [name, (value as number) * factorOf(input.kind.si, factors)];
      if (input.type === "choice") return [name, value];
      return [name, Object.fromEntries(Object.entries(input.columns).map(([column, { kind }]) => [column, ((value as TableValue)[column] ?? []).map((v) => v * factorOf(kind.si, factors))]))];
    }),
  );

interface Leaf {
  readonly place: string;
  /** Null where the value is a word that no unit changes. */
  readonly unit: UnitName | null;
  readonly value: number | string;
}

/** Every number and verdict of a state; sentences and texts are written for readers and stay out. */
const leaves = (lesson: Lesson, { outputs }: State): Leaf[] =>
  Object.entries(lesson.outputs).flatMap(([name, output]): Leaf[] => {
    const value = outputs[name];
    switch (output.type) {
      case "quantity":
      case "returned":
        return [{ place: name, unit: output.kind.si, value: value as number }];
      case "verdict":
        return [{ place: name, unit: null, value: value as string }];
      case "trace": {
        const { axis, series } = value as TraceValue;
        const column = (place: string, unit: UnitName, values: ArrayLike<number>): Leaf[] => Array.from(values, (v, i) => ({ place: `${place}[${i}]`, unit, value: v }));
        return [...column(`${name}.axis`, output.axis.kind.si, axis), ...Object.entries(output.series).flatMap(([key, { kind }]) => column(`${name}.${key}`, kind.si, series[key] ?? []))];
      }
      case "table":
        return (value as TableRows).flatMap((row, i) =>
          Object.entries(output.columns).flatMap(([key, { kind }]): Leaf[] => (kind === "text" || typeof row[key] !== "number" ? [] : [{ place: `${name}[${i}].${key}`, unit: kind.si, value: row[key] }])),
        );
      default:
        return [];
    }
  });

const seeded = (seed: number) => () => {
  seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
  return seed / 2 ** 32;
};

const write = makeWrite("metric", "en");
const reading = readScenario("shared/scenario/demo.yaml");
if ("problems" in reading) throw new Error(JSON.stringify(reading.problems));
const { scenario } = reading;

describe.each(readLessons("lessons").map((written) => ({ slug: written.slug, written })))("run of $slug", ({ slug, written }) => {
  const lessonWith = async (data: Scenario): Promise<Lesson> => {
    if (written.prose.fence === undefined) throw new Error(`${slug} has no fence`);
    const result = await evaluateFence(written.prose.fence, { home: process.cwd(), cache: ".cache", file: written.file, slug, scenario: data });
    if ("problems" in result) throw new Error(JSON.stringify(result.problems));
    return result.lesson;
  };

  for (const [name, factors] of Object.entries(CHANGES))
    it(`scales with the ${name}`, async () => {
      const own = await lessonWith(scenario);
      const other = await lessonWith(scaledScenario(scenario, factors) as Scenario);
      const random = seeded(11);
      const inputs = (): Record<string, InputValue> =>
        Object.fromEntries(
          Object.entries(own.inputs).map(([key, input]) => {
            if (input.type === "quantity") return [key, input.from + random() * (input.to - input.from)];
            if (input.type === "choice") return [key, Object.keys(input.words)[Math.floor(random() * Object.keys(input.words).length)] as string];
            return [key, input.example(Math.floor(random() * 1e6))];
          }),
        );
      const faults: string[] = [];
      let compared = 0;
      for (const state of [startOf(own), ...Array.from({ length: STATES }, inputs)]) {
        const given = evaluate(own, state, write);
        const changed = evaluate(other, scaledInputs(own, state, factors), write);
        expect(changed.outcome).toBe(given.outcome);
        if (given.outcome !== undefined) continue;
        const found = leaves(other, changed);
        const wanted = leaves(own, given);
        expect(found.length).toBe(wanted.length);
        const largest = new Map<string, number>();
        const scaled = wanted.map((leaf) => (typeof leaf.value === "number" && leaf.unit !== null ? { ...leaf, value: leaf.value * factorOf(leaf.unit, factors) } : leaf));
        for (const { unit, value } of scaled) if (typeof value === "number" && unit !== null) largest.set(unit, Math.max(largest.get(unit) ?? 0, Math.abs(value)));
        for (const [i, { place, unit, value }] of scaled.entries()) {
          if (Object.hasOwn(UNITS_FIXED[slug] ?? {}, place)) continue;
          const got = found[i]?.value;
          compared++;
          const fits = typeof value === "number" && typeof got === "number" ? Math.abs(got - value) <= RELATIVE * Math.abs(value) + CANCELLED * (largest.get(unit ?? "") ?? 0) : got === value;
          if (!fits) faults.push(`${place}: ${String(got)} instead of ${String(value)}`);
        }
      }
      expect(compared).toBeGreaterThan(STATES);
      expect([...new Set(faults)].slice(0, 5)).toEqual([]);
    });
});

it("names no output as bound to stated units that a lesson does not have", async () => {
  for (const { slug, prose, file } of readLessons("lessons")) {
    const result = await evaluateFence(prose.fence as NonNullable<typeof prose.fence>, { home: process.cwd(), cache: ".cache", file, slug, scenario });
    if ("problems" in result) throw new Error(JSON.stringify(result.problems));
    expect(Object.keys(UNITS_FIXED[slug] ?? {}).filter((name) => !Object.hasOwn(result.lesson.outputs, name))).toEqual([]);
  }
});
