import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { CHANNEL_FREQUENCY_CLASSES, type ChannelFrequencyClass, channelFilter, channelFilterGain, channelFilterWeights, filterOnce } from "../../../lib/pulse/channelFilter.ts";

/** Digits that the vectors below are given to. */
const VECTOR = 1e-8;

// Corridor of UN Regulation No. 94 Revision 4, annex 8 (the same as ISO 6487), read in a transcription; which bound has which slope
// is from memory of ISO 6487: class, end of the level part, second corner [Hz].
const CORRIDOR = [
  [1000, 1000, 1650],
  [600, 600, 1000],
  [180, 180, 300],
  [60, 60, 100],
] as const;
const LEVEL = 0.5;
const UPPER_SLOPE = -9;
const LOWER_SLOPE = -24;
const FLOOR = -30;

describe.each(CORRIDOR)("channelFilterGain({ cfc: %d }) stays in the corridor", (cfc, flatTo, second) => {
  const decibels = (frequency: number): number => channelFilterGain({ cfc, sampleRate: 20 * cfc, frequency }).decibels;
  test("level up to its class, within half a decibel up and one down at the class", () => {
    // The corridor allows half a decibel either way up to the class, one down at it.
    for (let f = 0.05 * flatTo; f < 0.999 * flatTo; f *= 1.05) expect(Math.abs(decibels(f))).toBeLessThanOrEqual(LEVEL);
    expect(decibels(flatTo)).toBeGreaterThanOrEqual(-1);
    expect(decibels(flatTo)).toBeLessThanOrEqual(LEVEL);
  });
  test("down by no more than four decibels at its second corner", () => {
    expect(decibels(second)).toBeLessThanOrEqual(LEVEL);
    expect(decibels(second)).toBeGreaterThanOrEqual(-4);
  });
  test("below the upper slope beyond it, and above the lower one down to the floor", () => {
    for (let f = second; f < 8 * flatTo; f *= 1.1) {
      const octaves = Math.log2(f / second);
      expect(decibels(f)).toBeLessThanOrEqual(LEVEL + UPPER_SLOPE * octaves);
      const lower = -4 + LOWER_SLOPE * octaves;
      if (lower > FLOOR) expect(decibels(f)).toBeGreaterThanOrEqual(lower);
    }
  });
});

// Unit step, one pass, 10 kHz, start-up as in the standard. Recursion of SAE J211-1 appendix C as read second-hand; computed apart from this code.
test.each([
  [60, [0.001452367, 0.007101123, 0.017925838, 0.033320941, 0.052717802]],
  [1000, [0.219231417, 0.726071773, 1.061989185, 1.071057947, 1.010457793]],
] as const)("filterOnce(…) of a unit step at class %d gives the known outputs", (cfc, expected) => {
  const values = Float64Array.from([0, 0, 1, 1, 1, 1, 1]);
  filterOnce(values, channelFilterWeights({ cfc, sampleRate: 10000 }), 1);
  expected.forEach((y, i) => expect(Math.abs((values[i + 2] as number) - y)).toBeLessThan(VECTOR));
});

test("channelFilter(…) of a unit impulse is symmetric, keeps its sum and has the known peak", () => {
  const samples = new Float64Array(4001);
  samples[2000] = 1;
  const out = channelFilter({ samples, cfc: 180, sampleRate: 10000 }).samples;
  expect(Math.abs((out[2000] as number) - 0.082470634)).toBeLessThan(VECTOR);
  expect(Math.abs((out[2010] as number) - 0.01432224837)).toBeLessThan(VECTOR);
  for (let i = 1; i < 1000; i++) expect(Math.abs((out[2000 + i] as number) - (out[2000 - i] as number))).toBeLessThan(1e-14);
  expect(out.reduce((sum, y) => sum + y, 0)).toBeCloseTo(1, 12);
});

test("channelFilter(…) lets a sine through with the gain that channelFilterGain(…) states, and no delay", () => {
  for (const cfc of CHANNEL_FREQUENCY_CLASSES) {
    const sampleRate = 20000;
    const frequency = 1.5 * cfc;
    const n = 8001;
    const sine = Float64Array.from({ length: n }, (_, i) => Math.sin((2 * Math.PI * frequency * (i - 4000)) / sampleRate));
    const out = channelFilter({ samples: sine, cfc, sampleRate }).samples;
    const { gain } = channelFilterGain({ cfc, sampleRate, frequency });
    // Ends have died away long before the middle.
    for (let i = 3900; i <= 4100; i++) expect(Math.abs((out[i] as number) - gain * (sine[i] as number))).toBeLessThan(1e-9);
  }
});

test("channelFilter(…) is linear, leaves its input alone and leaves a constant as it is", () => {
  fc.assert(
    fc.property(fc.array(fc.double({ min: -500, max: 500, noNaN: true }), { minLength: 3, maxLength: 80 }), fc.double({ min: -5, max: 5, noNaN: true }), fc.constantFrom<ChannelFrequencyClass>(60, 180, 600, 1000), (samples, by, cfc) => {
      const filter = (values: readonly number[]) => channelFilter({ samples: values, cfc, sampleRate: 10000 }).samples;
      const copy = [...samples];
      const once = filter(samples);
      const scaled = filter(samples.map((x) => by * x + 3));
      expect(samples).toEqual(copy);
      samples.forEach((_, i) => expect(Math.abs((scaled[i] as number) - by * (once[i] as number) - 3)).toBeLessThan(1e-8));
    }),
    { numRuns: 100, seed: 22 },
  );
});

test("channelFilterWeights(…) add up to one, so that a steady value passes", () => {
  for (const cfc of CHANNEL_FREQUENCY_CLASSES) {
    const { a0, a1, a2, b1, b2 } = channelFilterWeights({ cfc, sampleRate: 12500 });
    expect(a0 + a1 + a2 + b1 + b2).toBeCloseTo(1, 13);
  }
});

test.each([
  ["a class that is none", () => channelFilter({ samples: [1, 2, 3], cfc: 100 as never, sampleRate: 10000 }), "channelFilter: cfc must be 60, 180, 600 or 1000 Hz, got 100"],
  ["a record too coarse for its class", () => channelFilter({ samples: [1, 2, 3], cfc: 600, sampleRate: 5000 }), "channelFilter: sampleRate must be >= 6000 Hz (10 samples in each cycle of the class), got 5000"],
  ["too short a record", () => channelFilter({ samples: [1, 2], cfc: 60, sampleRate: 10000 }), "channelFilter: samples must have at least 3 values, got 2"],
  ["a frequency that cannot be told", () => channelFilterGain({ cfc: 60, sampleRate: 1000, frequency: 500 }), "channelFilterGain: frequency must be < 500 Hz, half the sample rate, got 500"],
])("channelFilter and its like refuse %s", (_, call, message) => {
  expect(call).toThrow(message);
});
