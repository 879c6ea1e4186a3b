/** Ranges of a lesson's outputs: against the closed form of a linear model (GUM, 5.1.2: variances of independent inputs add). */
import { expect, test } from "vitest";
import { centralImpact } from "../../lib/index.ts";
import { rankingOf, type WholeStudy } from "../../shared/card/wholeStudy.ts";
import { countsText, rangeText } from "../../shared/render/range.ts";
import { rangeTexts, renderStudy, renderStudyPanel } from "../../shared/render/study.ts";
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

/** Last bits of a sum, as they are left where a give or take cancels out. */
const RESIDUE = 4e-16;
const change = 50 / 3;
const bar = (low: number, high: number) => ({ low, high, swing: high - low });
const study: WholeStudy = {
  runs: 400,
  without: {},
  ranges: { closing: { low: 24.5, likely: 25, high: 25.5 }, change: { low: change, likely: change, high: change * (1 + RESIDUE) } },
  counts: { faster: { a: 400 } },
  effects: [
    { input: "massA", low: 890, high: 910, bars: { closing: bar(25, 25 * (1 + RESIDUE)), change: bar(change, change) }, turns: {} },
    { input: "speedA", low: 14.7, high: 15.3, bars: { closing: bar(24.7, 25.3), change: bar(change, change) }, turns: {} },
  ],
};
const NAMES = ["faster", "closing", "change"];

test("renderStudy(…) lists what a give or take moves, and nothing else", () => {
  const html = renderStudy(view(), study, NAMES);
  expect(html).toContain('<th scope="row">Closing speed</th><td>88.2</td><td>90.0</td><td>91.8</td>');
  expect(html).not.toMatch(/Change|Which is faster|in 100 of 100/);
  const open = renderStudy(view(), { ...study, counts: { faster: { a: 300, b: 100 } } }, NAMES);
  expect(open).toContain("the first (in 75 of 100); the second (in 25 of 100)");
});

test("renderStudy(…) gives a label that brings its article no second one", () => {
  const renamed = { ...view(), lesson: { ...example, inputs: { ...example.inputs, speedA: { ...example.inputs["speedA"], label: "the staff, in pixels" } } } } as unknown as View;
  expect(renderStudy(renamed, study, NAMES)).toContain("most by the staff, in pixels");
  expect(renderStudy(view(), study, NAMES)).toContain("most by the first speed");
});

test("renderStudy(…) gives no give or take of a give or take", () => {
  const timed = ({ speed: s }: { readonly speed: number }) => ({ value: s, give: s / 10 });
  const made = lesson({
    inputs: { speedA: speed("first speed", { start: 15, from: 0, to: 30, step: 0.5, give: 0.3 }) },
    outputs: { passed: speed("speed past the gate", { from: timed, field: "value" }), passedGive: speed("give or take of that", { from: timed, field: "give" }) },
    run: ({ speedA }, call) => (call(timed, { speed: speedA }), {}),
  });
  const there: View = { ...view({}), lesson: made, state: evaluate(made, startOf(made), write) };
  const html = renderStudy(there, { ...study, ranges: { passed: { low: 14, likely: 15, high: 16 }, passedGive: { low: 1.4, likely: 1.5, high: 1.6 } }, counts: {}, effects: [] }, ["passed", "passedGive"]);
  expect(html).toContain("Speed past the gate");
  expect(html).not.toContain("Give or take of that");
});

test("renderStudyPanel(…) is only the way to the cards where nothing varies", () => {
  const still = { ...study, ranges: { change: study.ranges["change"] as never } };
  const html = renderStudyPanel(view(), still, NAMES, 5000, true);
  expect(html).toContain('href="x-card.html"');
  expect(html).not.toMatch(/How sure|<table|<button/);
  expect(renderStudyPanel(view(), study, NAMES, 5000, true)).toMatch(/How sure[^]*<table[^]*x-card\.html/);
});

test("rangeTexts(…) writes a range that is none as the number stands on the page", () => {
  expect(rangeTexts(view(), KINDS.velocityChange, study.ranges["change"] as never)).toEqual({ unit: "km/h", low: "60.0", likely: "60.0", high: "60.0" });
  expect(rangeTexts(view(), KINDS.ratio, { low: -RESIDUE, likely: 0, high: RESIDUE })).toMatchObject({ low: "0.00", likely: "0.00", high: "0.00" });
  expect(rangeText(view({ closing: { low: 25, likely: 25, high: 25 * (1 + RESIDUE) } }), "closing", KINDS.speed, {})).toBe("90.0\u00a0km/h");
});

test("rankingOf(…) leaves out inputs that move a number by rounding alone", () => {
  expect(rankingOf(study, "closing").map(({ effect }) => effect.input)).toEqual(["speedA"]);
  expect(rankingOf(study, "change")).toEqual([]);
});
