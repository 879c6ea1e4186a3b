/**
 * First-order uncertainty against the law of propagation of the GUM (JCGM 100:2008, 5.1.2 and 5.2.2, equations 10 and 13), with the
 * sensitivities differentiated by rule in mathjs 15, a general-purpose library, where the kernel takes differences. (The printed numbers
 * of the GUM's and its supplement's examples are rows of lib/uncertainty/checks.yaml and tests of tests/lib/uncertainty.)
 */
import { derivative, evaluate } from "mathjs";
import { describe, expect, test } from "vitest";
import { centralImpact, equivalentBarrierSpeed, gravityTow, mutualCrush, propagate, type Correlation, type Uncertain, type UncertainInputs } from "../../lib/index.ts";
import { endGauge, expansion, impedance, normal } from "../lib/uncertainty/samples.ts";
import { deviationOf } from "../../lib/uncertainty/uncertain.ts";

/** Of a sensitivity: what central differences over a tenth of the uncertainty leave of a function's third derivative. */
const DIFFERENCES = 1e-5;
/** One closed form in two orders of evaluation. */
const ROUNDING = 1e-12;

interface Model {
  readonly run: (inputs: Readonly<Record<string, number>>) => object;
  readonly inputs: UncertainInputs;
  readonly output: string;
  readonly formula: string;
}

/** Differentiated once; the correlations come later. */
const gradientOf = ({ formula, inputs }: Model) => {
  const names = Object.keys(inputs);
  const values = Object.fromEntries(names.map((name) => [name, inputs[name]?.value as number]));
  const parts = names.map((name) => (derivative(formula, name).evaluate(values) as number) * deviationOf(inputs[name] as Uncertain));
  return { names, value: evaluate(formula, values) as number, parts };
};

/** Equation 10; with correlations, equation 13. */
const combined = ({ names, parts }: ReturnType<typeof gradientOf>, correlations: readonly Correlation[] = []): number => {
  let variance = parts.reduce((sum, part) => sum + part ** 2, 0);
  for (const { first, second, coefficient } of correlations) variance += 2 * coefficient * (parts[names.indexOf(first)] as number) * (parts[names.indexOf(second)] as number);
  return Math.sqrt(variance);
};

const models: readonly [string, Model][] = [
  ["the end gauge of the GUM's example H.1", { ...endGauge, output: "length", formula: "standard + difference - standard * (expansionDifference * temperature + expansion * temperatureDifference)" }],
  ["the resistance of the GUM's example H.2, without its correlations", { run: impedance, inputs: { voltage: normal(4.999, 0.0032), current: normal(0.019661, 9.5e-6), phase: normal(1.04446, 0.00075) }, output: "resistance", formula: "voltage * cos(phase) / current" }],
  ["the expansion of NIST TN 1900, E13", { ...expansion, output: "coefficient", formula: "(l1 - l0) / (l0 * (t1 - t0))" }],
  [
    "the change of velocity of centralImpact(…)",
    {
      run: ({ massA = 0, massB = 0, velocityA = 0, velocityB = 0, restitution = 0 }) => ({ deltaV: centralImpact({ a: { mass: massA, velocity: velocityA }, b: { mass: massB, velocity: velocityB }, restitution }).deltaV.a }),
      inputs: { massA: normal(900, 5), massB: normal(1800, 10), velocityA: normal(15, 0.2), velocityB: normal(-10, 0.2), restitution: normal(0.2, 0.02) },
      output: "deltaV",
      formula: "-(1 + restitution) * massB / (massA + massB) * (velocityA - velocityB)",
    },
  ],
  [
    "the peak force of mutualCrush(…)",
    {
      run: ({ massA = 0, massB = 0, stiffnessA = 0, stiffnessB = 0, speed = 0 }) => ({ force: mutualCrush({ a: { mass: massA, stiffness: stiffnessA }, b: { mass: massB, stiffness: stiffnessB }, closingSpeed: speed }).peakForce }),
      inputs: { massA: normal(900, 5), massB: normal(1800, 10), stiffnessA: normal(1.2e6, 2e4), stiffnessB: normal(4.5e5, 1e4), speed: normal(25, 0.3) },
      output: "force",
      formula: "speed * sqrt(massA * massB / (massA + massB) * stiffnessA * stiffnessB / (stiffnessA + stiffnessB))",
    },
  ],
  [
    "the release speed of gravityTow(…)",
    {
      run: ({ drop = 0, fallingMass = 0, mass = 0, efficiency = 0, rolling = 0 }) => ({
        speed: gravityTow({ drop, fallingMass, a: { mass, travelPerDrop: 2, rollingResistance: rolling, efficiency }, b: { mass: 0, travelPerDrop: 1, rollingResistance: 0, efficiency: 1 } }).speed.a,
      }),
      inputs: { drop: normal(15, 0.02), fallingMass: normal(1859, 10), mass: normal(900, 5), efficiency: normal(0.82, 0.01), rolling: normal(0.015, 0.001) },
      output: "speed",
      formula: "2 * sqrt(2 * drop * 9.80665 * (fallingMass - 2 * rolling * mass / efficiency) / (fallingMass + 4 * mass / efficiency))",
    },
  ],
  [
    "equivalentBarrierSpeed(…) of even crush",
    {
      run: ({ mass = 0, depth = 0, width = 0, a = 0, b = 0 }) => ({ speed: equivalentBarrierSpeed({ mass, profile: [depth, depth], width, stiffness: { a, b } }).speed }),
      inputs: { mass: normal(1400, 10), depth: normal(0.4, 0.01), width: normal(1.5, 0.01), a: normal(4e4, 1e3), b: normal(7e5, 1e4) },
      output: "speed",
      formula: "sqrt(2 / mass * width * (a * depth + b * depth^2 / 2 + a^2 / (2 * b)))",
    },
  ],
];

describe.each(models)("propagate(…) of %s", (_, model) => {
  const { run, inputs, output } = model;
  const law = gradientOf(model);

  test("has the value, components and combined uncertainty of the law of propagation", () => {
    const wanted = combined(law);
    const found = propagate({ run, inputs }).outputs[output];
    expect(Math.abs((found?.value ?? NaN) / law.value - 1)).toBeLessThan(ROUNDING);
    expect(Math.abs((found?.standardUncertainty ?? NaN) / wanted - 1)).toBeLessThan(DIFFERENCES);
    law.names.forEach((name, i) => expect(Math.abs((found?.contributions[name]?.uncertainty ?? NaN) - (law.parts[i] as number)), name).toBeLessThanOrEqual(DIFFERENCES * wanted));
  });

  test.each([-0.9, -0.3, 0.5, 0.95])("adds a correlation of %d between the first two inputs as equation 13 does", (coefficient) => {
    const [first, second] = law.names as [string, string];
    const correlations = [{ first, second, coefficient }];
    const found = propagate({ run, inputs, correlations }).outputs[output]?.standardUncertainty ?? NaN;
    expect(Math.abs(found / combined(law, correlations) - 1)).toBeLessThan(10 * DIFFERENCES); // parts may cancel
  });
});
