/**
 * What a record goes through in channelFilter(…), against the corridor of the standard: the filter's answer to a unit impulse is taken
 * apart into frequencies by the Fourier transform of mathjs 15, a general-purpose library, so that no formula of the filter's own is
 * trusted. (tests/lib/pulse holds the closed form of the gain against the same corridor.)
 *
 * Corridor: UN Regulation No. 94 Revision 4, annex 8, the same as ISO 6487, read in a transcription. Which bound has which of the two
 * slopes is from memory of ISO 6487.
 */
import { type Complex, fft } from "mathjs";
import { describe, expect, test } from "vitest";
import { channelFilter, channelFilterGain } from "../../lib/index.ts";

const CORRIDOR = [
  { cfc: 1000, levelTo: 1000, corner: 1650 },
  { cfc: 600, levelTo: 600, corner: 1000 },
  { cfc: 180, levelTo: 180, corner: 300 },
  { cfc: 60, levelTo: 60, corner: 100 },
] as const;
/** In decibels; slopes in decibels an octave. */
const LEVEL = 0.5;
const LEAST_AT_LEVEL_END = -1;
const LEAST_AT_CORNER = -4;
const UPPER_SLOPE = -9;
const LOWER_SLOPE = -24;
const FLOOR = -30;

const SIZE = 1024; // for the transform, a power of two; long enough for the impulse to die away on both sides
/** Of a gain up to 1: rounding of the transform. */
const ROUNDING = 1e-12;

const answer = (cfc: (typeof CORRIDOR)[number]["cfc"], sampleRate: number): { frequency: number; gain: number; phase: number }[] => {
  const samples = new Float64Array(SIZE);
  samples[SIZE / 2] = 1;
  const parts = fft(Array.from(channelFilter({ samples, cfc, sampleRate }).samples)) as unknown as Complex[];
  // an impulse in the middle of the record turns every second frequency round
  return parts.slice(1, SIZE / 2).map(({ re, im }, k) => ({ frequency: ((k + 1) * sampleRate) / SIZE, gain: re * (k % 2 === 0 ? -1 : 1), phase: im }));
};

/** How far outside the corridor [decibels]; below 0: inside. */
const outside = ({ levelTo, corner }: (typeof CORRIDOR)[number], frequency: number, gain: number): number => {
  const decibels = 20 * Math.log10(Math.max(gain, 1e-15));
  const octaves = Math.log2(frequency / corner);
  const most = frequency < corner ? LEVEL : LEVEL + UPPER_SLOPE * octaves;
  const least = frequency < 0.999 * levelTo ? -LEVEL : frequency <= levelTo ? LEAST_AT_LEVEL_END : frequency < corner ? LEAST_AT_CORNER : LEAST_AT_CORNER + LOWER_SLOPE * octaves;
  return Math.max(decibels - most, least > FLOOR ? least - decibels : -Infinity);
};

describe.each(CORRIDOR)("channelFilter({ cfc: $cfc })", (row) => {
  const worst = (samples: number): number => Math.max(...answer(row.cfc, samples * row.cfc).map(({ frequency, gain }) => outside(row, frequency, gain)));

  test.each([12, 20, 40])("keeps a record to the corridor at %d samples in each cycle of the class", (samples) => expect(worst(samples)).toBeLessThanOrEqual(0));

  // The warping of a coarse record makes the roll-off steeper than the lower bound allows, just above the floor of the corridor.
  test("takes up to 4 decibels too much out of a record as coarse as it accepts, 10 samples in each cycle", () => {
    expect(worst(10)).toBeGreaterThan(0);
    expect(worst(10)).toBeLessThan(4);
  });

  test("has the gain that channelFilterGain(…) states at every frequency, and no delay at any", () => {
    const sampleRate = 20 * row.cfc;
    for (const { frequency, gain, phase } of answer(row.cfc, sampleRate)) {
      if (Math.abs(gain - channelFilterGain({ cfc: row.cfc, sampleRate, frequency }).gain) > ROUNDING || Math.abs(phase) > ROUNDING) expect.fail(`${frequency} Hz: gain ${gain}, imaginary part ${phase}`);
    }
  });
});
