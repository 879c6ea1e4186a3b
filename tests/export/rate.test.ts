import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ceiling, countOf, decimal, instantOf, less, ratio, RATES, ratioText, times, toMicro, valueOf } from "../../shared/export/rate.ts";

const WHOLE = ratio(1n, 1n);
const HOUR = { slowed: WHOLE, from: ratio(0n, 1n), to: ratio(3600n, 1n) };

describe("RATES", () => {
  // Frame rates of ITU-R BT.2020, as quoted by others; the broken ones as ratios to 1001, from memory.
  test("holds the broken rates as ratios", () => expect(Object.fromEntries(Object.entries(RATES).map(([name, rate]) => [name, ratioText(rate)]))).toEqual({ "23.976": "24000/1001", "24": "24", "25": "25", "29.97": "30000/1001", "30": "30", "50": "50", "59.94": "60000/1001", "60": "60" }));
});

describe("countOf(…)", () => {
  // SMPTE ST 12-1, from memory: drop-frame time code counts 107 892 frames in an hour, and a frame has begun besides.
  test("counts an hour of each rate", () => expect(Object.fromEntries(Object.entries(RATES).map(([name, rate]) => [name, countOf({ ...HOUR, rate })]))).toEqual({ "23.976": 86_314, "24": 86_400, "25": 90_000, "29.97": 107_893, "30": 108_000, "50": 180_000, "59.94": 215_785, "60": 216_000 }));

  test("is length on screen times rate, where that is whole", () => expect(countOf({ rate: RATES["25"] as never, slowed: decimal("50") as never, from: decimal("0") as never, to: decimal("0.2") as never })).toBe(250));

  test("is no more than one frame over length times rate, for any stretch", () => {
    fc.assert(
      fc.property(fc.constantFrom(...Object.values(RATES)), fc.integer({ min: 1, max: 5000 }), fc.integer({ min: 1, max: 10_000_000 }), (rate, slowed, micro) => {
        const timing = { rate, slowed: ratio(BigInt(slowed), 10n), from: ratio(0n, 1n), to: ratio(BigInt(micro), 1_000_000n) };
        const exact = times(times(timing.to, timing.slowed), rate);
        const count = countOf(timing);
        expect(BigInt(count) * exact.under >= exact.over).toBe(true);
        expect((BigInt(count) - 1n) * exact.under < exact.over).toBe(true);
        expect(instantOf(timing, count - 1)).toBeLessThan(micro / 1e6);
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});

describe("instantOf(…)", () => {
  test("drifts by nothing in an hour: frame 108 000 of 29.97 is 3603.6 s, to the last bit", () => expect(instantOf({ ...HOUR, rate: RATES["29.97"] as never }, 108_000)).toBe(3603.6));

  test("runs slower by the chosen factor, from the chosen instant", () => expect(instantOf({ rate: RATES["50"] as never, slowed: decimal("20") as never, from: decimal("-0.05") as never, to: decimal("0.1") as never }, 30)).toBe(-0.02));
});

describe("decimal(…)", () => {
  test("reads what is typed, exactly", () => expect(["0.05", "-1.50", "20", ".1", "3."].map((text) => ratioText(decimal(text) as never))).toEqual(["1/20", "-3/2", "20", "1/10", "3"]));
  test("refuses what is no decimal", () => expect(["", "1e3", "0,05", "a", ".", "1/2"].map(decimal)).toEqual(Array.from({ length: 6 }, () => undefined)));
});

describe("ratio arithmetic", () => {
  test("stays in lowest terms, with a sign above the line", () => {
    expect([ratioText(less(ratio(1n, 3n), ratio(5n, 6n))), ratioText(toMicro(0.25)), valueOf(ratio(-6n, 4n)), ceiling(ratio(7n, 2n)), ceiling(ratio(-7n, 2n)), ceiling(ratio(8n, 2n))]).toEqual(["-1/2", "1/4", -1.5, 4, -3, 4]);
  });
  test("refuses a denominator that is not positive", () => expect(() => ratio(1n, 0n)).toThrow(RangeError));
});
