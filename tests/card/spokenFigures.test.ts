// How many figures are said: orders and sums stay as they are for the unrounded numbers. Checked with whole-number arithmetic of its own.
import { describe, expect, test } from "vitest";
import { uniform } from "../../lib/math/random.ts";
import { spokenFigures, sumsIn } from "../../shared/card/spokenFigures.ts";

const SEED = 23;
const said = (values: readonly number[]): number[] => values.map((value, i) => Number(value.toPrecision(spokenFigures(values)[i])));

describe("spokenFigures(values)", () => {
  test.each([
    ["two figures for one number", [102.8], [100]],
    ["two where the sum holds in them", [60, 30, 90], [60, 30, 90]],
    // 32 and 71 are 103, not 100
    ["a third for a total that would not add up", [32.1, 70.7, 102.8], [32, 71, 103]],
    // 23 and 41 are 64, not 65
    ["a third for the parts too", [23.4, 41.3, 64.7], [23.4, 41.3, 64.7]],
    ["a third for two that would sound alike", [60.4, 60.1, 30.2], [60.4, 60.1, 30]],
    ["two for two that three do not tell apart", [60.04, 60.02], [60, 60]],
    ["no number for a nought", [0, 12.34], [0, 12]],
  ])("gives %s", (_, values, wanted) => expect(said(values)).toEqual(wanted));

  test("turns no order round and spoils no sum for 2000 seeded lists, and says no more than three figures", () => {
    for (let k = 0; k < 2000; k++) {
      const [p, q, other] = [0, 1, 2].map((stream) => 10 ** (3 * uniform(SEED, k, stream))) as [number, number, number];
      const values = [p, q, p + q, other];
      const spoken = said(values);
      expect(Math.max(...spokenFigures(values))).toBeLessThanOrEqual(3);
      for (const [i, one] of values.entries())
        for (const [j, two] of values.entries())
          if (Number(one.toPrecision(3)) > Number(two.toPrecision(3))) expect(spoken[i], `${values}`).toBeGreaterThan(spoken[j] as number);
      // one of the third figure: three roundings of half of it, rounded down
      const unit = 10 ** (String(Math.floor(p + q)).length - 3);
      expect(Math.abs((spoken[0] as number) + (spoken[1] as number) - (spoken[2] as number)), `${values}`).toBeLessThanOrEqual(1.5 * unit + 1e-9);
    }
  });
});

test("sumsIn(values) finds totals, whatever their place, and no near misses", () => {
  expect(sumsIn([90, 30, 60])).toEqual([[1, 2, 0]]);
  expect(sumsIn([90, 30, 61])).toEqual([]);
  expect(sumsIn([5, 0, 5])).toEqual([]);
});
