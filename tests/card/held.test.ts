// How often a spoken verdict holds, in the words behind it.
import { describe, expect, test } from "vitest";
import { heldWords, isTie, outOfHundred } from "../../shared/card/held.ts";
import { inWords } from "../../shared/card/numberWords.ts";

const of = (first: number, second: number): string => heldWords({ runs: first + second, counts: { milder: { a: first, b: second } } }, "milder", "a");

describe("heldWords(held, verdict, word)", () => {
  test.each([
    [100, 0, ""],
    [95, 5, ""],
    [94, 6, ", in 94 of 100 runs"],
    [90, 10, ", in 90 of 100 runs"],
    [89, 11, ", but that is too close to call within the give or take: in 89 of 100 runs"],
    [2650, 2350, ", but that is too close to call within the give or take: in 53 of 100 runs"],
    [212, 188, ", but that is a tie within the give or take: in 53 of 100 runs"],
    [0, 400, ", but that is too close to call within the give or take: in 0 of 100 runs"],
  ])("for %i runs against %i says \u201c%s\u201d", (first, second, words) => expect(of(first, second)).toBe(words));

  test("can be spoken", () => expect(inWords(of(2650, 2350))).toBe(", but that is too close to call within the give or take: in fifty-three of one hundred runs"));

  test("never passes for settled what was not counted", () => expect(heldWords({ runs: 0, counts: {} }, "milder", "a")).toContain("not been counted"));
});

describe("isTie(one, other)", () => {
  test("takes two counts for one where their difference is within two standard deviations", () => {
    // of 5000 fair draws the difference has a standard deviation of sqrt(5000) = 70.7
    expect([isTie(2570, 2430), isTie(2572, 2428), isTie(200, 200)]).toEqual([true, false, true]);
  });
});

describe("outOfHundred(count, runs)", () => {
  test("rounds neither to all nor to none", () => expect([outOfHundred(4975, 5000), outOfHundred(25, 5000), outOfHundred(4999, 5000), outOfHundred(1, 5000), outOfHundred(5000, 5000), outOfHundred(0, 5000), outOfHundred(2650, 5000)]).toEqual(["more than 99 of 100", "fewer than 1 of 100", "more than 99 of 100", "fewer than 1 of 100", "100 of 100", "0 of 100", "53 of 100"]));
});
