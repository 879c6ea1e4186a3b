import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { centralImpact, sensitivityBars, study } from "../../../lib/index.ts";
import { asRun } from "../../../lib/uncertainty/namedNumbers.ts";
import { drawRuns, joinRuns, type StudyRuns } from "../../../lib/uncertainty/runs.ts";
import { percentile, summarise } from "../../../lib/uncertainty/summary.ts";
import type { Uncertain } from "../../../lib/uncertainty/uncertain.ts";
import { flat, normal, weighing } from "./samples.ts";

const near = (got: number | undefined, want: number, tolerance: number): void => expect(Math.abs((got ?? NaN) - want), `got ${got}, want ${want}`).toBeLessThanOrEqual(tolerance);

/** Four standard errors: a right sampler fails one fixed seed in 16,000, and then every time. */
const ERRORS = 4;
const meanError = (deviation: number, runs: number): number => (ERRORS * deviation) / Math.sqrt(runs);
/** Standard error of a percentile: sqrt(p (1 - p) / n) over the density there. */
const percentileError = (share: number, density: number, runs: number): number => (ERRORS * Math.sqrt((share * (1 - share)) / runs)) / density;
const BELL_AT_196 = 0.0584409;
const BELL_AT_0 = 0.3989423;

const RUNS = 10_000;
const itself = (input: Uncertain, seed = 1) => study({ run: ({ x = 0 }) => ({ x }), inputs: { x: input }, seed, runs: RUNS }).ranges["x"];

describe("study(…) draws", () => {
  test("give or take as 2.5, 50 and 97.5 percentiles of a normal input", () => {
    const range = itself({ value: 15, give: 0.98 });
    near(range?.low, 15 - 0.98, 0.5 * percentileError(0.025, BELL_AT_196, RUNS));
    near(range?.likely, 15, 0.5 * percentileError(0.5, BELL_AT_0, RUNS));
    near(range?.high, 15 + 0.98, 0.5 * percentileError(0.975, BELL_AT_196, RUNS));
    near(range?.mean, 15, meanError(0.5, RUNS));
    near(range?.deviation, 0.5, (ERRORS * 0.5) / Math.sqrt(2 * RUNS));
  });

  test("a flat input evenly within its limits, never outside", () => {
    const range = itself({ value: 2, give: 0.5, shape: "flat" });
    near(range?.low, 1.525, percentileError(0.025, 1, RUNS));
    near(range?.high, 2.475, percentileError(0.975, 1, RUNS));
    near(range?.deviation, 1 / Math.sqrt(12), meanError(1 / Math.sqrt(12), RUNS));
  });

  test("a cut population: half a bell at a bound, with nothing heaped on it", () => {
    const runs = drawRuns(({ x = 0 }) => ({ x }), { inputs: { x: { value: 0, give: 1.96, from: 0, to: 5 } }, seed: 3 }, 0, RUNS);
    const x = runs.numbers["x"] as Float64Array;
    expect(Math.min(...x)).toBeGreaterThan(0);
    expect(new Set(x).size).toBe(RUNS);
    const range = summarise(runs).ranges["x"];
    // quartile 0.67449 of the whole bell is the middle of its half; 2.24140 its 97.5 percentile (SciPy 1.17, scipy.stats.halfnorm.ppf)
    near(range?.likely, 0.6744897501960817, percentileError(0.5, 2 * 0.3177766, RUNS));
    near(range?.high, 2.241402727604945, percentileError(0.975, 2 * 0.0323583, RUNS));
    near(range?.mean, Math.sqrt(2 / Math.PI), meanError(Math.sqrt(1 - 2 / Math.PI), RUNS));
  });

  test("declared correlations, full ones included", () => {
    const inputs = { x: normal(0, 1), y: normal(5, 2), z: normal(1, 3) };
    const correlations = [{ first: "x", second: "y", coefficient: 0.8 }, { first: "z", second: "x", coefficient: -1 }, { first: "y", second: "z", coefficient: -0.8 }];
    const { varianceShares, ranges } = study({ run: ({ x = 0, y = 0, z = 0 }) => ({ x, sum: x + (z - 1) / 3, y }), inputs, correlations, seed: 2, runs: RUNS });
    near(varianceShares["x"]?.["y"], 0.64, ERRORS * 2 * 0.8 * (1 - 0.64) / Math.sqrt(RUNS));
    near(ranges["sum"]?.deviation, 0, 1e-6); // shares near 1 carry the score to about 1e-7
    near(ranges["y"]?.deviation, 2, (ERRORS * 2) / Math.sqrt(2 * RUNS));
    near(ranges["y"]?.mean, 5, meanError(2, RUNS));
  });

  test("an input the same whatever the give of the others", () => {
    const xs = (give: number): Float64Array => drawRuns(() => ({}), { inputs: { a: { value: 1, give }, x: normal(0, 1) }, seed: 9 }, 0, 50).inputs["x"] as Float64Array;
    expect(xs(0)).toEqual(xs(0.5));
  });

  test("19 in 20 values inside the give or take, for 200 seeds", () => {
    const SEEDS = 200;
    const EACH = 100;
    let inside = 0;
    for (let seed = 0; seed < SEEDS; seed++) for (const x of drawRuns(() => ({}), { inputs: { x: { value: 0, give: 1 } }, seed }, 0, EACH).inputs["x"] as Float64Array) if (Math.abs(x) < 1) inside++;
    near(inside / (SEEDS * EACH), 0.95, ERRORS * Math.sqrt((0.95 * 0.05) / (SEEDS * EACH)));
  });
});

describe("study(…) against published distributions", () => {
  test("gives the range of a sum of four normal inputs, ±3.92 (GUM Supplement 1, 9.2.2; from memory)", () => {
    const inputs = Object.fromEntries(["p", "q", "r", "s"].map((name) => [name, normal(0, 1)]));
    const { y } = study({ run: ({ p = 0, q = 0, r = 0, s = 0 }) => ({ y: p + q + r + s }), inputs, seed: 4, runs: RUNS }).ranges;
    near(y?.high, 3.92, 2 * percentileError(0.975, BELL_AT_196, RUNS));
    near(y?.low, -3.92, 2 * percentileError(0.025, BELL_AT_196, RUNS));
  });

  test("gives the range of a sum of four flat inputs, ±2 sqrt(3) (2 - (3/5)^(1/4)) = ±3.88 (GUM Supplement 1, 9.2.3; from memory)", () => {
    const inputs = Object.fromEntries(["p", "q", "r", "s"].map((name) => [name, flat(-Math.sqrt(3), Math.sqrt(3))]));
    const { y } = study({ run: ({ p = 0, q = 0, r = 0, s = 0 }) => ({ y: p + q + r + s }), inputs, seed: 4, runs: RUNS }).ranges;
    const end = 2 * Math.sqrt(3) * (2 - 0.6 ** 0.25);
    near(end, 3.88, 0.005);
    const density = 0.6 ** 0.75 / 6 / (2 * Math.sqrt(3)); // of the sum, at its end
    near(y?.high, end, percentileError(0.975, density, RUNS));
    near(y?.low, -end, percentileError(0.025, density, RUNS));
  });

  test("gives what the first order misses in the weighing: u 0.0754, range 1.083 to 1.382 (GUM Supplement 1, 9.3; from memory)", () => {
    const MANY = 40_000;
    const { difference } = study({ ...weighing, seed: 1, runs: MANY }).ranges;
    near(difference?.deviation, 0.0754, (ERRORS * 0.0754) / Math.sqrt(2 * MANY));
    const END = 0.006; // four standard errors of an end, with the density of a bell of that deviation
    near(difference?.low, 1.083, END);
    near(difference?.high, 1.382, END);
    near(difference?.likely, 1.234, 0.003);
  });
});

describe("study(…) summary", () => {
  test("counts words, outcomes and runs without a number", () => {
    const run = ({ v = 0 }: Readonly<Record<string, number>>): object => (v < 0 ? { outcome: "they never meet" } : { speed: v, space: v > 1 ? "lost" : "kept", time: v > 2 ? null : v, share: v > 2 ? NaN : 0.5, list: [1] });
    const { runs, outcomes, counts, ranges } = study({ run, inputs: { v: normal(0, 1) }, seed: 6, runs: 1000 });
    expect(runs).toBe(1000);
    const met = 1000 - (outcomes["they never meet"] ?? 0);
    near(met, 500, ERRORS * Math.sqrt(250));
    expect((counts["space"]?.["kept"] ?? 0) + (counts["space"]?.["lost"] ?? 0)).toBe(met);
    near(counts["space"]?.["kept"], 341, ERRORS * Math.sqrt(341 * 0.66));
    expect(ranges["speed"]?.count).toBe(met);
    expect(ranges["time"]?.count).toBeLessThan(met);
    expect(ranges["share"]).toMatchObject({ low: 0.5, likely: 0.5, high: 0.5, deviation: 0, count: ranges["time"]?.count });
    expect(Object.keys(ranges)).toEqual(["speed", "time", "share"]);
  });

  test("gives shares of variance that are those of a linear function", () => {
    const { varianceShares } = study({ run: ({ x = 0, y = 0 }) => ({ z: 3 * x - 4 * y, constant: 1 }), inputs: { x: normal(0, 1), y: normal(0, 1) }, seed: 8, runs: RUNS });
    near(varianceShares["z"]?.["x"], 0.36, ERRORS * 2 * 0.6 * 0.64 / Math.sqrt(RUNS));
    near(varianceShares["z"]?.["y"], 0.64, ERRORS * 2 * 0.8 * 0.36 / Math.sqrt(RUNS));
    expect(varianceShares["constant"]).toEqual({ x: 0, y: 0 });
  });

  // Definition 7 of Hyndman and Fan: the same line as R's and NumPy's default, worked by hand.
  test.each([
    [[1, 2, 3, 4, 5, 6, 7, 8, 9, 10], 0.25, 3.25],
    [[1, 2, 3, 4], 0.5, 2.5],
    [[0, 10], 0.975, 9.75],
    [[7], 0.025, 7],
    [[1, 2, 3], 1, 3],
  ])("percentile(%j, %f) is %f", (sorted, share, value) => near(percentile(sorted, share), value, 1e-14));

  test("takes names that every object has for names like any other", () => {
    const { counts, ranges, outcomes } = study({ run: ({ x = 0 }) => (x > 0 ? { constructor: x, valueOf: "toString" } : { outcome: "constructor" }), inputs: { x: normal(0, 1) }, seed: 1, runs: 100 });
    expect(ranges["constructor"]?.count).toBe(counts["valueOf"]?.["toString"]);
    expect((ranges["constructor"]?.count ?? 0) + (outcomes["constructor"] ?? 0)).toBe(100);
  });
});

describe("drawRuns(…) and joinRuns(…)", () => {
  const sampling = { inputs: { v: normal(0.5, 1), w: { value: 1, give: 0.5, shape: "flat" as const, from: 0.7 } }, correlations: [{ first: "v", second: "w", coefficient: 0.5 }], seed: 77 };
  const run = ({ v = 0, w = 0 }: Readonly<Record<string, number>>): object => (v < -1 ? { outcome: "they never meet" } : v > 2 ? { rare: v } : { sum: v + w, sign: v < 0 ? "back" : "forth" });

  test("give the same bits in any parts and any order", () => {
    const whole = drawRuns(run, sampling, 0, 400);
    // columns by name: which part first gave one does not matter
    const plain = (runs: StudyRuns): string => JSON.stringify([runs.inputs, runs.numbers, runs.words].map((columns) => Object.entries(columns).sort(([p], [q]) => (p < q ? -1 : 1)).map(([name, column]) => [name, ...column])).concat([[["outcomes", ...runs.outcomes]]]));
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 0, max: 400 }), { maxLength: 12 }), fc.integer({ min: 0, max: 1e6 }), (cuts, shuffle) => {
        const edges = [0, ...cuts, 400].sort((p, q) => p - q);
        const parts = edges.slice(1).map((to, i) => drawRuns(run, sampling, edges[i] as number, to));
        const turned = [...parts.slice(shuffle % parts.length), ...parts.slice(0, shuffle % parts.length)].reverse();
        const joined = joinRuns(turned);
        expect(plain(joined)).toBe(plain(whole));
        expect(summarise(joined).ranges["sum"]).toEqual(summarise(whole).ranges["sum"]);
      }),
      { numRuns: 20, seed: 3 },
    );
  });

  test("refuse gaps and overlaps", () => {
    const part = (from: number, to: number) => drawRuns(run, sampling, from, to);
    expect(() => joinRuns([part(0, 5), part(6, 9)])).toThrow(/^joinRuns: parts must be without gap or overlap \(runs 6 to 9 do not follow on 5\)/);
    expect(() => joinRuns([part(0, 5), part(4, 9)])).toThrow(RangeError);
    expect(joinRuns([])).toMatchObject({ from: 0, to: 0, outcomes: [] });
  });

  test("refuse bad seeds and counts, and pass on what the function throws", () => {
    expect(() => drawRuns(run, { ...sampling, seed: 1.5 }, 0, 1)).toThrow("drawRuns: seed must be a whole number from 0 to 4294967295, got 1.5");
    expect(() => drawRuns(run, sampling, 5, 4)).toThrow(/^drawRuns: to must be a whole number from 5/);
    expect(() => study({ run, ...sampling, runs: 0 })).toThrow(/^study: runs must be a whole number from 1/);
    expect(() => drawRuns(() => { throw new RangeError("from inside"); }, sampling, 0, 1)).toThrow("from inside");
  });
});

describe("sensitivityBars(…)", () => {
  const run = ({ massA = 0, massB = 0, speedA = 0, speedB = 0 }: Readonly<Record<string, number>>): object => {
    const { deltaV } = centralImpact({ a: { mass: massA, velocity: speedA }, b: { mass: massB, velocity: -speedB }, restitution: 0 });
    return { deltaVA: deltaV.a, deltaVB: deltaV.b, more: -deltaV.a > 16.5 ? "above" : "below" };
  };
  const inputs = { massA: { value: 900, give: 10 }, massB: { value: 1800, give: 20, to: 1810 }, speedA: { value: 15, give: 0.5 }, speedB: { value: 10, give: 0.3 } };
  const { bars, values, changes, words } = sensitivityBars({ run, inputs });

  test("gives bars that setting the one input by hand gives again, bit for bit", () => {
    for (const bar of bars["deltaVA"] ?? [])
      for (const end of [bar.low, bar.high]) {
        const there = Object.fromEntries(Object.entries(inputs).map(([name, { value }]) => [name, name === bar.input ? end.input : value]));
        expect((run(there) as { deltaVA: number }).deltaVA).toBe(end.output);
      }
    near(values["deltaVA"], -16.6666667, 1e-7);
  });

  test("ranks them, and stays inside the bounds", () => {
    // by hand: half the swing in km/h of closing is 2/3 of the speed's; of the masses (b/(a+b))' times 25
    expect(bars["deltaVA"]?.map(({ input }) => input)).toEqual(["speedA", "speedB", "massA", "massB"]);
    near(bars["deltaVA"]?.[0]?.swing, (2 / 3) * 1, 1e-12);
    near(bars["deltaVA"]?.[2]?.swing, 25 * (1800 / 2690 - 1800 / 2710), 1e-12);
    expect(bars["deltaVA"]?.[3]?.high.input).toBe(1810);
  });

  test("says which inputs turn a word alone", () => {
    expect(words).toEqual({ more: "above" });
    expect(changes["more"]).toEqual([{ input: "speedA", low: "below", high: "above" }, { input: "speedB", low: "below", high: "above" }]);
  });

  test("keeps an end that has no number as null, and an outcome as a word", () => {
    const meets = ({ v = 0 }: Readonly<Record<string, number>>): object => (v < 1 ? { outcome: "they never meet" } : { closing: 2 * v, sign: "meet" });
    const at = sensitivityBars({ run: meets, inputs: { v: { value: 1, give: 0.5 } } });
    expect(at).toMatchObject({ bars: { closing: [{ input: "v", low: { input: 0.5, output: null }, high: { input: 1.5, output: 3 }, swing: 1 }] }, changes: { sign: [{ input: "v", low: null, high: "meet" }] }, outcome: null });
    expect(sensitivityBars({ run: meets, inputs: { v: { value: 0, give: 0.5 } } })).toEqual({ values: {}, bars: {}, words: {}, changes: {}, outcome: "they never meet" });
  });
});

test("asRun(…) puts named numbers in their places and leaves the template as it was", () => {
  const template = { a: { mass: 900, velocity: 15 }, b: { mass: 1800, velocity: -10 }, restitution: 0 };
  const before = JSON.stringify(template);
  const run = asRun(centralImpact, template, ["deltaV.a", "nothing.here"]);
  expect(run({ "a.mass": 1800 })).toEqual({ "deltaV.a": -12.5, "nothing.here": undefined });
  expect(JSON.stringify(template)).toBe(before);
  expect(() => run({ "a.weight": 1 })).toThrow("asRun: a.weight must be the path of a number of the input of centralImpact, got undefined");
  const list = asRun(({ x }: { x: readonly number[] }) => ({ sum: x.reduce((p, q) => p + q, 0), many: x.length }), { x: [1, 2, 3] }, ["sum", "many"]);
  expect(list({ "x.1": 10 })).toEqual({ sum: 14, many: 3 });
});
