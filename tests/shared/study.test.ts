/** Ranges of a lesson's outputs: against the closed form of a linear model (GUM, 5.1.2: variances of independent inputs add). */
import { expect, test } from "vitest";
import { centralImpact } from "../../lib/index.ts";
import { countsText, rangeText } from "../../shared/render/range.ts";
import { spokenDigits } from "../../shared/render/spoken.ts";
import { KINDS, lesson, mass, speed, startOf, velocityChange, verdict } from "../../shared/lesson.ts";
import { findRanges, rangeSearch, uncertainInputs } from "../../shared/study.ts";
import { makeWrite } from "../../shared/state/units.ts";
import { evaluate } from "../../shared/lesson.ts";
import type { View } from "../../shared/view.ts";

const write = makeWrite("metric", "en");
const example = lesson({
  inputs: {
    massA: mass("first mass", { start: 900, from: 100, to: 2000, step: 10, give: 10 }),
    speedA: speed("first speed", { start: 15, from: 0, to: 30, step: 0.5, give: 0.3 }),
    speedB: speed("second speed", { start: 10, from: 0, to: 30, step: 0.5, give: 0.4 }),
  },
  where: { "they close in": ({ speedA, speedB }) => speedA + speedB > 0 },
  outputs: {
    closing: speed("closing speed", { from: centralImpact, field: "closingSpeed" }),
    change: velocityChange("change", { from: centralImpact, field: "deltaV.a", sense: -1 }),
    faster: verdict("which is faster", { a: "the first", b: "the second" }),
  },
  run: ({ massA, speedA, speedB }, call) => {
    call(centralImpact, { a: { mass: massA, velocity: speedA }, b: { mass: 1800, velocity: -speedB }, restitution: 0 });
    return { faster: speedA > speedB ? "a" : "b" };
  },
});
const view = (ranges = findRanges(example, startOf(example), write)): View => ({ slug: "x", title: "x", lesson: example, state: evaluate(example, startOf(example), write), units: "metric", locale: "en", provenance: {}, ranges });

/** Percentiles of so many draws scatter by a few per cent of the half-width: 4000 draws, 95 % bound of the 2.5 percentile about 5 %. */
const SCATTER = 0.08;

test("findRanges(…) of a sum has the half-width of the root sum of squares", () => {
  const { closing } = findRanges(example, startOf(example), write, 4000) as { closing: { low: number; likely: number; high: number } };
  const half = Math.hypot(0.3, 0.4);
  expect(Math.abs(closing.likely - 25)).toBeLessThan(SCATTER * half);
  expect(Math.abs((closing.high - closing.low) / 2 / half - 1)).toBeLessThan(SCATTER);
});

test("findRanges(…) gives the same bits each time, and in any stretches", () => {
  const once = findRanges(example, startOf(example), write);
  const search = rangeSearch(example, startOf(example), write);
  let step = search.next();
  while (!step.done) step = search.next();
  expect(step.value).toEqual(once);
});

test("findRanges(…) counts the words of a verdict", () => {
  const near = findRanges(example, { ...startOf(example), speedA: 10 }, write, 1000)["faster"] as { counts: Record<string, number>; runs: number };
  expect((near.counts["a"] ?? 0) + (near.counts["b"] ?? 0)).toBe(near.runs);
  expect((near.counts["a"] ?? 0) / near.runs).toBeGreaterThan(0.4);
  expect((near.counts["a"] ?? 0) / near.runs).toBeLessThan(0.6);
});

test("uncertainInputs(…) lets no speed fall below nothing", () => {
  expect(uncertainInputs(example, startOf(example))["speedA"]).toEqual({ value: 15, give: 0.3, from: 0 });
});

test("rangeText(…) and countsText(…) write them for the reader", () => {
  expect(rangeText(view({ closing: { low: 24.5, likely: 25, high: 25.5 } }), "closing", KINDS.speed, {})).toBe("88.2 to 91.8\u00a0km/h");
  expect(rangeText(view({}), "closing", KINDS.speed, {})).toBeUndefined();
  expect(countsText(view({ faster: { counts: { b: 83, a: 317 }, runs: 400 } }), "faster")).toBe("the first (in 79 of 100); the second (in 21 of 100)");
});

test("spokenDigits(…) keeps two numbers apart that two digits would make one", () => {
  const spoken = (names: string[]): View => ({ ...view({}), spoken: names, state: { inputs: {}, calls: [], outputs: { closing: 60.4 / 3.6, change: 60.1 / 3.6, faster: "a" } } });
  expect(spokenDigits(spoken(["closing"]), "closing")).toBe(2);
  const alike = { ...spoken(["closing", "other"]), lesson: { ...example, outputs: { ...example.outputs, other: { ...example.outputs["closing"], type: "quantity" } } } } as View;
  const with2 = { ...alike, state: { ...alike.state, outputs: { ...alike.state.outputs, other: 60.1 / 3.6 } } } as View;
  expect(spokenDigits(with2, "closing")).toBe(3);
});
