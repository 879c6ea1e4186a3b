import { describe, expect, test } from "vitest";
import { crash } from "../../../lib/event/crash.ts";
import { headCriteria, heldLevel } from "../../../lib/event/measures.ts";
import { clip3ms } from "../../../lib/injury/clip3ms.ts";
import { headInjuryCriterion } from "../../../lib/injury/headInjuryCriterion.ts";
import { referenceCrash } from "./referenceCrash.ts";

/** Rounding of sums of a few hundred samples, taken in another order. */
const EXACT = 1e-12;
const GRAVITY = 9.80665;
const close = (got: number, want: number): void => expect(Math.abs(got - want)).toBeLessThanOrEqual(EXACT * Math.abs(want));

/** Every window, one after the other: the definition itself. */
const allWindows = (acceleration: Float64Array, step: number, longest: number): number => {
  let most = 0;
  for (let i = 0; i < acceleration.length; i++) {
    let gain = 0;
    for (let j = i + 1; j < acceleration.length && (j - i) * step <= longest * (1 + 1e-9); j++) {
      gain += ((Math.abs(acceleration[j - 1] as number) + Math.abs(acceleration[j] as number)) / 2) * step;
      most = Math.max(most, (j - i) * step * (gain / ((j - i) * step) / GRAVITY) ** 2.5);
    }
  }
  return most;
};

let state = 12345;
const random = (): number => ((state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32);

const records: [string, Float64Array][] = [
  ["noise", Float64Array.from({ length: 401 }, () => 900 * random() - 300)],
  ["two pulses", Float64Array.from({ length: 401 }, (_, i) => 600 * Math.exp(-(((i - 90) / 25) ** 2)) + 480 * Math.exp(-(((i - 260) / 60) ** 2)))],
  ["a drift that ends high", Float64Array.from({ length: 401 }, (_, i) => i)],
  ["a pulse at the start", Float64Array.from({ length: 401 }, (_, i) => Math.max(0, 500 - 8 * i))],
  ["a constant", new Float64Array(401).fill(250)],
  ["nothing", new Float64Array(401)],
  ["one spike", Float64Array.from({ length: 401 }, (_, i) => (i === 200 ? -1000 : 0))],
  ...[0, 1, 2, 3, 4, 5, 6, 7].map((k): [string, Float64Array] => [`drift and noise ${k}`, Float64Array.from({ length: 150 + 40 * k }, (_, i) => 200 * Math.sin(i / (9 + 7 * k)) + 300 * random())]),
];

describe.each(records)("of %s", (_name, acceleration) => {
  test.each([0.00025, 0.0004, 0.0011])("headCriteria(…) equals every window tried in turn, and lib/injury, at %s s", (step) => {
    const { short, long } = headCriteria(acceleration, step, 0.015, 0.036, GRAVITY);
    close(short, allWindows(acceleration, step, 0.015));
    close(long, allWindows(acceleration, step, 0.036));
    close(short, headInjuryCriterion({ sampleInterval: step, acceleration, window: 0.015 }).value);
    close(long, headInjuryCriterion({ sampleInterval: step, acceleration, window: 0.036 }).value);
  });

  // a whole number of steps, a broken one, one just over and one under two
  test.each([0.00025, 0.0004, 0.0007, 0.0029, 0.0016])("heldLevel(…) equals lib/injury's contiguous clip at %s s", (step) => {
    close(heldLevel(acceleration, step, 0.003), clip3ms({ sampleInterval: step, acceleration, definition: "contiguous" }).value);
  });
});

test("headCriteria(…) and heldLevel(…) equal lib/injury on the reference crash", () => {
  const { traces, occupants, step } = crash(referenceCrash);
  for (const side of ["a", "b"] as const)
    traces.occupants[side].forEach(({ headAcceleration, chestAcceleration }, k) => {
      const outputs = occupants[side][k];
      close(outputs?.hic15 as number, headInjuryCriterion({ sampleInterval: step, acceleration: headAcceleration, window: 0.015 }).value);
      close(outputs?.hic36 as number, headInjuryCriterion({ sampleInterval: step, acceleration: headAcceleration, window: 0.036 }).value);
      close(outputs?.chestClip as number, clip3ms({ sampleInterval: step, acceleration: chestAcceleration, definition: "contiguous" }).value);
    });
});

test("heldLevel(…) of a record shorter than the spell is 0", () => expect(heldLevel(new Float64Array(5).fill(3), 0.0005, 0.003)).toBe(0));
