/** Shares of samples and of mixes. */
import { describe, expect, it } from "vitest";
import { proportion } from "../../../lib/uncertainty/proportion.ts";
import { standardisedShare } from "../../../lib/uncertainty/standardisedShare.ts";

/** Half a unit in the last printed figure. */
const PRINTED = 5e-5;
/** Rounding of binary numbers. */
const ROUNDING = 1e-12;

describe("proportion", () => {
  // R. G. Newcombe, Two-sided confidence intervals for the single proportion, Statistics in Medicine 17 (1998), table I, score method without correction; from memory
  it.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])("proportion({ count: %d, of: %d }) agrees with the printed limits", (count, of, low, high) => {
    const found = proportion({ count, of });
    expect(Math.abs(found.low - low)).toBeLessThanOrEqual(PRINTED);
    expect(Math.abs(found.high - high)).toBeLessThanOrEqual(PRINTED);
  });

  it("proportion(…) turned round mirrors its range", () => {
    const [one, other] = [proportion({ count: 3, of: 40 }), proportion({ count: 37, of: 40 })];
    expect(one.low).toBeCloseTo(1 - other.high, 12);
    expect(one.high).toBeCloseTo(1 - other.low, 12);
  });

  it("proportion(…) refuses more marks than there are things", () => {
    expect(() => proportion({ count: 5, of: 4 })).toThrow(RangeError);
  });
});

describe("standardisedShare", () => {
  const counts = [1, 40, 78, 103, 160];
  const of = [37, 1828, 1946, 918, 558];

  it("standardisedShare(…) in the group's own mix is its crude share", () => {
    const { share, crude } = standardisedShare({ counts, of, mix: of });
    expect(Math.abs(share - crude)).toBeLessThanOrEqual(ROUNDING);
    expect(crude).toBeCloseTo(382 / 5287, 12);
  });

  it("standardisedShare(…) in a mix of one stratum is the share there", () => {
    expect(standardisedShare({ counts, of, mix: [0, 0, 2, 0, 0] }).share).toBeCloseTo(78 / 1946, 12);
  });

  it("standardisedShare(…) refuses a mix of nothing and shapes that differ", () => {
    expect(() => standardisedShare({ counts, of, mix: [0, 0, 0, 0, 0] })).toThrow(RangeError);
    expect(() => standardisedShare({ counts, of, mix: [1, 2] })).toThrow(TypeError);
  });
});
