import { describe, expect, test } from "vitest";
import { FEWEST_SAMPLES, searchClaims } from "../../build/claims.ts";
import { write } from "../../build/firstRender.ts";
import { choice, flipPoint, lesson, mass, ratio, speed, table, KINDS, verdict, type Claim } from "../../shared/lesson.ts";

/** A lesson over two numbers and a choice, whose outputs are as plain as they can be. */
const plain = (claims: Record<string, Claim<{ x: number; y: number; way: string }, { twice: number }>>) =>
  lesson({
    inputs: {
      x: ratio("first share", { start: 0.5, from: 0, to: 1, step: 0.01 }),
      y: ratio("second share", { start: 0.5, from: 0, to: 1, step: 0.01 }),
      way: choice("way", { start: "here", words: { here: "here", there: "there", nowhere: "nowhere" } }),
    },
    where: { "the first is not the larger": ({ x, y }) => x <= y || x > 0.99 },
    outputs: { twice: ratio("twice the first", { because: "two times the first" }) },
    run: ({ x }) => ({ twice: 2 * x }),
    claims: claims as never,
  });

describe("searchClaims(lesson, write)", () => {
  test("holds for what is true, with the smallest margin it met", () => {
    const { results, failures } = searchClaims(plain({ small: { margin: ({ outputs }) => 2.5 - outputs.twice } }), write);
    expect(failures).toEqual({});
    expect(results["small"]?.samples).toBeGreaterThan(FEWEST_SAMPLES);
    // Twice the first is 2 at most.
    expect(results["small"]?.smallestMargin).toBeCloseTo(0.5, 9);
  });

  test("is the same each time", () => {
    const made = plain({ small: { margin: ({ inputs }) => 3 - inputs.x - inputs.y } });
    expect(searchClaims(made, write)).toEqual(searchClaims(made, write));
  });

  test("finds a counterexample in one choice only", () => {
    const { failures } = searchClaims(plain({ never: { margin: ({ inputs }) => (inputs.way === "nowhere" && inputs.y > 0.9 ? -1 : 1) } }), write);
    expect(failures["never"]?.inputs["way"]).toBe("nowhere");
    expect(failures["never"]?.words).toMatch(/way: nowhere/);
  });

  test("finds a counterexample in a corner", () => {
    const { failures } = searchClaims(plain({ never: { margin: ({ inputs }) => (inputs.x === 0 && inputs.y === 1 ? -1 : 1) } }), write);
    expect(failures["never"]?.inputs).toMatchObject({ x: 0, y: 1 });
  });

  test("walks downhill to a hollow that no sample falls into", () => {
    // Of the unit square the hollow takes 3e-8: five orders fewer samples than would be needed to hit it blindly.
    const { failures } = searchClaims(plain({ never: { margin: ({ inputs }) => Math.hypot(inputs.x - 0.3137, inputs.y - 0.7231) - 1e-4 } }), write);
    expect(failures["never"]?.message).toMatch(/its margin is -/);
    expect(failures["never"]?.inputs["x"]).toBeCloseTo(0.3137, 3);
  });

  test("says the counterexample in readable units and with as few changes as it needs", () => {
    const made = lesson({
      inputs: { massA: mass("mass of the first", { start: 900, from: 100, to: 2000, step: 10 }), speedA: speed("speed", { start: 15, from: 1, to: 30, step: 0.5 }) },
      outputs: { kept: verdict("kept", { yes: "yes" }) },
      run: () => ({ kept: "yes" as const }),
      claims: { heavy: { margin: ({ inputs }) => 1500 - inputs.massA } },
    });
    const { failures } = searchClaims(made, write);
    expect(failures["heavy"]?.words).toMatch(/^mass of the first 1\d{3} kg, all else as at the start \(#massA=1\d+0\)$|^mass of the first 2000 kg, all else as at the start \(#massA=2000\)$/);
  });

  test("counts only states that meet when, and says when they are few", () => {
    const { results } = searchClaims(plain({ rare: { when: ({ inputs }) => inputs.x === 0 && inputs.y === 1, margin: () => 1 } }), write);
    expect(results["rare"]?.samples).toBeLessThan(FEWEST_SAMPLES);
    expect(results["rare"]?.samples).toBeGreaterThan(0);
  });

  test("goes on sampling for a when that is met seldom", () => {
    const { results } = searchClaims(plain({ seldom: { when: ({ inputs }) => Math.abs(inputs.x - 0.31) < 0.02 && Math.abs(inputs.y - 0.62) < 0.2, margin: () => 1 } }), write);
    expect(results["seldom"]?.samples).toBeGreaterThanOrEqual(FEWEST_SAMPLES);
  });

  test("takes a margin that is not a number, or that throws, as a failure", () => {
    const { failures } = searchClaims(
      plain({
        none: { margin: () => Number.NaN },
        thrown: {
          margin: () => {
            throw new Error("no such thing");
          },
        },
      }),
      write,
    );
    expect(failures["none"]?.message).toBe("its margin is not a number");
    expect(failures["thrown"]?.message).toBe("no such thing");
  });

  test("reports a run that fails somewhere in the box", () => {
    const made = lesson({
      inputs: { x: ratio("share", { start: 0.5, from: 0, to: 1, step: 0.01 }) },
      outputs: { inverse: ratio("inverse", { because: "one over it" }) },
      run: ({ x }) => ({ inverse: 1 / x }),
    });
    expect(searchClaims(made, write).failures[""]).toMatchObject({ inputs: { x: 0 }, message: "output inverse is Infinity" });
  });

  test("gives claims the flip points they ask for, and tables from their seeds", () => {
    const made = lesson({
      inputs: {
        x: ratio("share", { start: 0.5, from: 0, to: 1, step: 0.01 }),
        readings: table("readings", { columns: { value: { label: "value", kind: KINDS.ratio } }, start: { value: [1] }, example: (seed) => ({ value: [seed] }) }),
      },
      outputs: { large: verdict("large", { yes: "yes", no: "no" }), turn: flipPoint("ratio", "turning point", { of: "large", along: "x" }) },
      run: ({ x }) => ({ large: x > 0.7 ? ("yes" as const) : ("no" as const) }),
      claims: {
        turns: { margin: ({ outputs }) => 1e-6 - Math.abs((outputs.turn.at ?? 0) - 0.7) },
        seeded: { margin: ({ inputs }) => 50 - (inputs.readings["value"]?.[0] ?? 0) },
      },
    });
    const { failures } = searchClaims(made, write);
    expect(failures["turns"]).toBeUndefined();
    expect(failures["seeded"]?.message).toBe("its margin is -1 (in SI; 0 or more holds)");
  });
});
