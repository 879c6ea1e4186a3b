import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { combinedUncertainty, coverageFactor, groupVariance, propagate, repeatedReadings, standardUncertainty } from "../../../lib/index.ts";
import { normalShare } from "../../../lib/uncertainty/normalShare.ts";
import { deviationOf } from "../../../lib/uncertainty/uncertain.ts";
import { endGauge, expansion, impedance, normal, weighing } from "./samples.ts";

/** A straight line or a plane: what rounding over a small difference leaves. */
const STRAIGHT = 1e-9;
const near = (got: number | undefined, want: number, tolerance: number): void => expect(Math.abs((got ?? NaN) - want), `got ${got}, want ${want}`).toBeLessThanOrEqual(tolerance);

describe("propagate(…) of published examples", () => {
  test("gives value, components and combined uncertainty of the end gauge (GUM H.1)", () => {
    const { length } = propagate(endGauge).outputs;
    // printed: 50.000838 mm, u_c 32 nm, components 25, 9.7, 2.9 and 16.6 nm
    near(length?.value, 50000838, 0.5);
    near(length?.standardUncertainty, 32, 0.5);
    near(length?.contributions["standard"]?.uncertainty, 25, 0.5);
    near(length?.contributions["difference"]?.uncertainty, 9.7, 0.05);
    near(length?.contributions["expansionDifference"]?.uncertainty, 2.9, 0.05);
    near(Math.abs(length?.contributions["temperatureDifference"]?.uncertainty ?? 0), 16.6, 0.05);
    near(length?.contributions["expansion"]?.uncertainty, 0, 1e-3);
  });

  test("gives resistance, reactance and impedance from five sets of readings, with their correlations (GUM H.2)", () => {
    const readings = { voltage: [5.007, 4.994, 5.005, 4.99, 4.999], current: [0.019663, 0.019639, 0.01964, 0.019685, 0.019678], phase: [1.0456, 1.0438, 1.0468, 1.0428, 1.0433] };
    const { mean, standardUncertainty: u, correlation } = repeatedReadings({ readings });
    const names = ["voltage", "current", "phase"];
    const correlations = names.flatMap((first, i) => names.slice(i + 1).map((second) => ({ first, second, coefficient: correlation[first]?.[second] as number })));
    const { outputs } = propagate({ run: impedance, inputs: Object.fromEntries(names.map((name) => [name, normal(mean[name] as number, u[name] as number)])), correlations });
    const PRINTED = 0.001; // three decimals, the last not always rounded: 0.29558 is printed as 0.295
    for (const [name, value, uncertainty] of [["resistance", 127.732, 0.071], ["reactance", 219.847, 0.295], ["impedance", 254.26, 0.236]] as const) {
      near(outputs[name]?.value, value, PRINTED);
      near(outputs[name]?.standardUncertainty, uncertainty, PRINTED);
    }
  });

  test("gives the first-order uncertainty of the weighing, which is too small (GUM Supplement 1, 9.3; from memory)", () => {
    const { difference } = propagate(weighing).outputs;
    near(difference?.value, 1.234, 1e-4);
    near(difference?.standardUncertainty, 0.0539, 5e-5);
    near(1.234 - (difference?.give ?? 0), 1.1285, 1e-4);
    near(1.234 + (difference?.give ?? 0), 1.3395, 1e-4);
  });

  test("gives the coefficient of thermal expansion (NIST TN 1900, E13)", () => {
    const { coefficient } = propagate(expansion).outputs;
    near(coefficient?.value, 1.7266e-5, 5e-10);
    near(coefficient?.standardUncertainty, 1.76e-6, 5e-9);
  });
});

describe("propagate(…) against closed forms", () => {
  const coefficient = fc.double({ min: -5, max: 5, noNaN: true });
  const deviation = fc.double({ min: 0.01, max: 2, noNaN: true });

  test("adds the squares of a linear function, and the correlation term", () => {
    fc.assert(
      fc.property(coefficient, coefficient, deviation, deviation, fc.double({ min: -1, max: 1, noNaN: true }), (p, q, ux, uy, r) => {
        const { outputs } = propagate({ run: ({ x = 0, y = 0 }) => ({ z: p * x + q * y }), inputs: { x: normal(3, ux), y: normal(-2, uy) }, correlations: [{ first: "x", second: "y", coefficient: r }] });
        const want = Math.sqrt(Math.max(0, (p * ux) ** 2 + (q * uy) ** 2 + 2 * r * p * ux * q * uy));
        // near full cancellation the root takes half the digits
        near(outputs["z"]?.standardUncertainty, want, 1e-6 * (Math.abs(p * ux) + Math.abs(q * uy)) + STRAIGHT);
      }),
      { numRuns: 200, seed: 5 },
    );
  });

  test("adds the squares of relative uncertainties times powers, for a product of powers", () => {
    // GUM 5.1.6, equation 12
    const { outputs } = propagate({ run: ({ m = 0, v = 0 }) => ({ energy: 0.5 * m * v ** 2, ratio: v ** 3 / m }), inputs: { m: normal(900, 9), v: normal(15, 0.3) } });
    const STEP = 2e-6; // a tenth of 2 %, squared, over 3, for a cube
    near((outputs["energy"]?.standardUncertainty ?? 0) / (0.5 * 900 * 225) / Math.hypot(0.01, 2 * 0.02), 1, STEP);
    near((outputs["ratio"]?.standardUncertainty ?? 0) / (3375 / 900) / Math.hypot(0.01, 3 * 0.02), 1, STEP);
    near(outputs["energy"]?.contributions["v"]?.share, 16 / 17, STEP);
    near(outputs["energy"]?.contributions["v"]?.sensitivity, 900 * 15, 900 * 15 * STEP);
  });

  test("scales with the units of inputs and outputs", () => {
    const inputs = { m: normal(900, 9), v: normal(15, 0.3) };
    const scaled = { m: normal(900 * 4, 9 * 4), v: normal(15 / 2, 0.15) };
    const run = ({ m = 0, v = 0 }): object => ({ energy: 0.5 * m * v ** 2 });
    expect(propagate({ run, inputs: scaled }).outputs["energy"]?.standardUncertainty).toBe(propagate({ run, inputs }).outputs["energy"]?.standardUncertainty);
  });

  test("steps inwards only at a bound, and away from an outcome", () => {
    const seen: number[] = [];
    const run = ({ e = 0 }): object => (seen.push(e), { share: 1 - e * e });
    const at = propagate({ run, inputs: { e: { value: 0, give: 0.1, from: 0, to: 1 } } });
    expect(Math.min(...seen)).toBe(0);
    near(at.outputs["share"]?.contributions["e"]?.sensitivity, 0, 0.01);
    const meets = ({ v = 0 }): object => (v < 1 ? { outcome: "they never meet" } : { closing: 2 * v });
    near(propagate({ run: meets, inputs: { v: normal(1, 0.1) } }).outputs["closing"]?.standardUncertainty, 0.2, STRAIGHT);
    expect(propagate({ run: () => ({ outcome: "they never meet" }), inputs: { v: normal(1, 0.1) } }).outputs).toEqual({});
  });

  test("refuses what it cannot use, by name", () => {
    const run = (): object => ({ z: 1 });
    expect(() => propagate({ run, inputs: { x: { value: 5, give: 1, to: 4 } } })).toThrow("propagate: inputs.x.value must be between -Infinity and 4, got 5");
    expect(() => propagate({ run, inputs: { x: { value: 5, give: -1 } } })).toThrow("propagate: inputs.x.give must be >= 0, got -1");
    expect(() => propagate({ run, inputs: { x: { value: 5, give: 1, shape: "round" as "flat" } } })).toThrow(TypeError);
    expect(() => propagate({ run: 3 as never, inputs: {} })).toThrow('propagate: kind of run must be one of function, got "number"');
    expect(() => propagate({ run, inputs: { x: normal(1, 1) }, correlations: [{ first: "x", second: "y", coefficient: 0 }] })).toThrow(TypeError);
    const three = { x: normal(0, 1), y: normal(0, 1), z: normal(0, 1) };
    const against = [["x", "y"], ["y", "z"], ["x", "z"]].map(([first = "", second = ""]) => ({ first, second, coefficient: -0.9 }));
    expect(() => propagate({ run: ({ x = 0, y = 0, z = 0 }) => ({ s: x + y + z }), inputs: three, correlations: against })).toThrow(/^propagate: correlations must be possible together/);
  });
});

test("combinedUncertainty(…) cancels what is common and adds what is opposed", () => {
  const components = { first: { sensitivity: 1, standardUncertainty: 0.3 }, second: { sensitivity: -1, standardUncertainty: 0.3 } };
  const linked = (coefficient: number): number => combinedUncertainty({ components, correlations: [{ first: "first", second: "second", coefficient }] }).combined;
  expect(linked(1)).toBe(0);
  near(linked(-1), 0.6, 1e-15);
  near(linked(0), Math.hypot(0.3, 0.3), 1e-15);
  expect(combinedUncertainty({ components: {} })).toMatchObject({ combined: 0, degreesOfFreedom: null, expanded: 0 });
  // two like components double the degrees of freedom (Welch and Satterthwaite)
  near(combinedUncertainty({ components: { p: { sensitivity: 1, standardUncertainty: 2, degreesOfFreedom: 7 }, q: { sensitivity: 1, standardUncertainty: 2, degreesOfFreedom: 7 } } }).degreesOfFreedom ?? NaN, 14, 1e-12);
});

// Student's t for two-sided shares: GUM table G.2 prints two decimals of most of these (from memory); digits recomputed with SciPy 1.17
// (scipy.stats.t.ppf).
test.each([
  [0.95, 1, 12.706204736174694],
  [0.99, 1, 63.656741162871526],
  [0.95, 2, 4.302652729749462],
  [0.95, 3, 3.1824463052837078],
  [0.9, 5, 2.0150483733330233],
  [0.99, 10, 3.16927267261695],
  [0.95, 20, 2.085963447265864],
  [0.95, 50, 2.008559112100761],
  [0.95, 100, 1.9839715185235518],
  [0.999, 200, 3.3398354062757107],
  [0.999, 201, 3.339586788905302],
  [0.95, 500, 1.9647198374673676],
])("coverageFactor(…) for %f and %i degrees of freedom is %f", (share, degreesOfFreedom, t) => {
  const EXPANSION = 1e-9; // what the expansion above 200 degrees of freedom leaves out
  near(coverageFactor({ share, degreesOfFreedom }).coverageFactor, t, EXPANSION);
});

test("coverageFactor(…) is continuous where the expansion takes over, and falls towards the normal factor", () => {
  for (const share of [0.5, 0.9, 0.95, 0.99, 0.999]) {
    const t = (degreesOfFreedom: number): number => coverageFactor({ share, degreesOfFreedom }).coverageFactor;
    // fourth differences of the smooth law stay under 1e-9 here; a jump after 200 would show fourfold
    near(t(199) - 4 * t(200) + 6 * t(201) - 4 * t(202) + t(203), 0, 3e-9);
    expect(t(200)).toBeGreaterThan(t(201));
    near(t(2 ** 31), coverageFactor({ share }).coverageFactor, 1e-8);
  }
  // closed form for one degree of freedom: tan(pi share / 2)
  near(coverageFactor({ share: 0.999, degreesOfFreedom: 1 }).coverageFactor / Math.tan((Math.PI * 0.999) / 2), 1, 1e-10);
  expect(() => coverageFactor({ share: 1 })).toThrow("coverageFactor: share must be between 0.01 and 0.999, got 1");
  expect(() => coverageFactor({ share: 0.95, degreesOfFreedom: 2.5 })).toThrow("coverageFactor: degreesOfFreedom must be a whole number from 1 to 2147483648, got 2.5");
});

// Standard normal table; digits recomputed with SciPy 1.17 (scipy.stats.norm.cdf).
test.each([
  [0, 0.5],
  [1, 0.8413447460685429],
  [-1.96, 0.024997895148220435],
  [3, 0.9986501019683699],
  [-6, 9.865876450376946e-10],
  [40, 1],
  [-Infinity, 0],
])("normalShare(%f) is %f", (z, share) => near(normalShare(z), share, 3e-16));

test("deviationOf(…) is that of the population cut at its bounds", () => {
  // half of a bell: sigma sqrt(1 - 2/pi); Johnson and Kotz, from memory
  near(deviationOf({ ...normal(0, 2), from: 0 }), 2 * Math.sqrt(1 - 2 / Math.PI), 1e-12);
  near(deviationOf({ ...normal(0, 2), from: -100, to: 100 }), 2, 1e-12);
  // bounds so near that nothing of the bell's curve is left
  near(deviationOf({ ...normal(0, 2), from: -0.01, to: 0.01 }) / (0.02 / Math.sqrt(12)), 1, 1e-4);
  near(deviationOf({ ...normal(0, 2), from: -0.0005, to: 0.0005 }) / (0.001 / Math.sqrt(12)), 1, 1e-6);
  near(deviationOf({ value: 0.9, give: 0.2, shape: "flat", to: 1 }), 0.3 / Math.sqrt(12), 1e-15);
  expect(deviationOf({ value: 3, give: 0 })).toBe(0);
  expect(deviationOf({ value: 3, give: 1, from: 3, to: 3 })).toBe(0);
});

test("standardUncertainty(…) and groupVariance(…) refuse what they cannot use", () => {
  expect(() => standardUncertainty({ halfWidth: 1, shape: "triangular", inexactness: 0.1 })).toThrow("standardUncertainty: inexactness must be 0 unless the shape is flat, got 0.1");
  expect(() => standardUncertainty({ halfWidth: 1, shape: "oval" as "flat" })).toThrow('standardUncertainty: shape must be one of normal, flat, triangular, arcsine, got "oval"');
  expect(() => groupVariance({ means: [1, 2], deviations: [1, 2, 3], count: 2 })).toThrow("groupVariance: means and deviations must have the same length, got 2 and 3");
  expect(groupVariance({ means: [1, 2], deviations: [0, 0], count: 2 }).ratio).toBeNull();
});
