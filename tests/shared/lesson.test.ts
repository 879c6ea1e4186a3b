import { expect, test } from "vitest";
import { evaluate, evaluateWhole, flipPoint, type Lesson, lesson, mass, sentence, speed, startOf, velocityChange, verdict, type Write } from "../../shared/lesson.ts";

const write: Write = (_, si) => String(si);
const share = ({ a, b, closing }: { a: number; b: number; closing: number }) => ({ deltaV: { a: (-b * closing) / (a + b), b: (a * closing) / (a + b) } });

const inputs = {
  massA: mass("first mass", { start: 900, from: 400, to: 3000, step: 10, give: 10 }),
  closing: speed("closing speed", { start: 25, from: 0, to: 60, step: 1 }),
};
const outputs = {
  deltaVA: velocityChange("change of velocity of the first", { from: share, field: "deltaV.a" }),
  lighter: verdict("which is lighter", { a: "the first", b: "the second" }),
  massFlip: flipPoint("mass", "mass at which the lighter one changes", { of: "lighter", along: "massA" }),
  said: sentence("result"),
};
const SECOND = 1800;
const example: Lesson = lesson({
  inputs,
  where: { "they close in on each other": ({ closing }) => closing > 0 },
  outputs,
  run: ({ massA, closing }, call) => {
    call(share, { a: massA, b: SECOND, closing });
    return { lighter: massA < SECOND ? "a" : "b", said: `they close at ${closing}` };
  },
});

test("evaluate(lesson, start) reads an output off the recorded call of its kernel", () => {
  const state = evaluate(example, startOf(example), write);
  expect(state.outputs["deltaVA"]).toBe((-1800 * 25) / 2700);
  expect(state.calls).toHaveLength(1);
  expect(state.calls[0]?.input).toEqual({ a: 900, b: 1800, closing: 25 });
});

test("evaluate(lesson, inputs) answers a state outside where in words", () => {
  const state = evaluate(example, { massA: 900, closing: 0 }, write);
  expect(state.outcome).toBe("they close in on each other");
  expect(state.outputs).toEqual({});
});

test("evaluateWhole(lesson, inputs) finds where a verdict changes", () => {
  const flip = evaluateWhole(example, startOf(example), write).outputs["massFlip"] as { at: number; below: string; above: string };
  expect(flip.at).toBeCloseTo(SECOND, 6);
  expect([flip.below, flip.above]).toEqual(["a", "b"]);
});

test("evaluateWhole(lesson, inputs) says null where the verdict never changes", () => {
  const narrow = { ...example, inputs: { ...inputs, massA: { ...inputs.massA, to: 1000 } } } as Lesson;
  expect(evaluateWhole(narrow, startOf(narrow), write).outputs["massFlip"]).toEqual({ at: null, below: "a", above: "a" });
});

test("evaluateWhole(lesson, inputs) takes the end of the answers for no change of the verdict", () => {
  // no outputs above 1500: the verdict a is all there is
  const silent: Lesson = { ...example, where: { "the first is no heavier than 1500": (({ massA }: { massA: number }) => massA <= 1500) as never } };
  expect(evaluateWhole(silent, startOf(silent), write).outputs["massFlip"]).toEqual({ at: null, below: "a", above: "a", silent: "the first is no heavier than 1500" });
});

test("lesson(…) refuses a run with a missing or an extra key at compile time", () => {
  lesson({
    inputs,
    outputs: { said: sentence("result") },
    // @ts-expect-error said is missing
    run: () => ({}),
  });
  lesson({
    inputs,
    outputs: { said: sentence("result") },
    // @ts-expect-error extra is not declared
    run: () => ({ said: "x", extra: 1 }),
  });
  lesson({
    inputs,
    // @ts-expect-error the kernel has no field deltaV.c
    outputs: { change: velocityChange("change", { from: share, field: "deltaV.c" }) },
    run: () => ({}),
  });
  // @ts-expect-error run cannot read an input that is not declared
  lesson({ inputs, outputs: { said: sentence("result") }, run: ({ massC }) => ({ said: String(massC) }) });
});

test("evaluate(lesson, inputs) names the output whose kernel was not called", () => {
  const broken = lesson({ inputs, outputs: { change: velocityChange("change", { from: share, field: "deltaV.a" }) }, run: () => ({}) });
  expect(() => evaluate(broken, startOf(broken), write)).toThrow(/output change must come from a recorded call/);
});
