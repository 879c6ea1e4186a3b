/** Worked examples of the guides to uncertainty, as functions of named numbers. A standard uncertainty u is a give of 1.96 u. */
import { GIVE_OVER_DEVIATION, type Run, type Uncertain, type UncertainInputs } from "../../../lib/uncertainty/uncertain.ts";

export const normal = (value: number, deviation: number): Uncertain => ({ value, give: GIVE_OVER_DEVIATION * deviation });
export const flat = (from: number, to: number): Uncertain => ({ value: (from + to) / 2, give: (to - from) / 2, shape: "flat" });

/** GUM H.1: length of an end gauge from its difference to a standard. Nanometres, kelvin. */
export const endGauge: { run: Run; inputs: UncertainInputs } = {
  run: ({ standard = 0, difference = 0, expansion = 0, expansionDifference = 0, temperature = 0, temperatureDifference = 0 }) => ({
    length: standard + difference - standard * (expansionDifference * temperature + expansion * temperatureDifference),
  }),
  inputs: {
    standard: normal(50000623, 25),
    difference: normal(215, Math.hypot(5.8, 3.9, 6.7)),
    expansion: { value: 11.5e-6, give: 2e-6, shape: "flat" },
    expansionDifference: { value: 0, give: 1e-6, shape: "flat" },
    temperature: normal(-0.1, 0.41),
    temperatureDifference: { value: 0, give: 0.05, shape: "flat" },
  },
};

/** GUM H.2: resistance, reactance and impedance from voltage, current and phase. */
export const impedance: Run = ({ voltage = 0, current = 0, phase = 0 }) => ({ resistance: (voltage * Math.cos(phase)) / current, reactance: (voltage * Math.sin(phase)) / current, impedance: voltage / current });

/** GUM Supplement 1, 9.3: a weight compared in air with another. Milligrams, kilograms a cubic metre. */
export const weighing: { run: Run; inputs: UncertainInputs } = {
  run: ({ reference = 0, balance = 0, air = 0, weight = 0, referenceWeight = 0 }) => ({ difference: (reference + balance) * (1 + (air - 1.2) * (1 / weight - 1 / referenceWeight)) - 100000 }),
  inputs: { reference: normal(100000, 0.05), balance: normal(1.234, 0.02), air: flat(1.1, 1.3), weight: flat(7000, 9000), referenceWeight: flat(7950, 8050) },
};

/** NIST TN 1900, E13: coefficient of thermal expansion. */
export const expansion: { run: Run; inputs: UncertainInputs } = {
  run: ({ l0 = 0, l1 = 0, t0 = 0, t1 = 0 }) => ({ coefficient: (l1 - l0) / (l0 * (t1 - t0)) }),
  inputs: { l0: normal(1.4999, 0.0001), t0: normal(288.15, 0.02), l1: normal(1.5021, 0.0002), t1: normal(373.1, 0.05) },
};
