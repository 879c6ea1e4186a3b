/**
 * Every number that a kernel asks for, spoilt one at a time: not a number, infinite, and outside whatever range its line of the doc comment
 * states. Each must be refused in one sentence that names the kernel, the input, the rule and the value. (tests/lib/contract.test.ts
 * refuses NaN and text on the first example; here are all examples, optional inputs, and ranges.)
 */
import { describe, expect, test } from "vitest";
import { boundsOf, call, docOf, exampleCalls, kernels, leaves, listOf, mapLeaves, withDefaults, type Args } from "./kernels.ts";
import type { DocComment } from "../../build/docComments.ts";

/** Inputs that are not read by the example they were found in, each for a reason. */
const UNREAD: Readonly<Record<string, string>> = {
  "crashPulse.peakPosition": "only a triangle has one",
};


/** What a line says of a range, without what it says of a series' length. */
const rangeOf = (text: string) => text.replace(/\bshape \([^)]*\)/g, "").replace(/\bn >=? \d+/g, "");

interface Spoilt {
  readonly bad: number;
  /** Whether it is a number all the same, but outside the range, so that the message must state the bound. */
  readonly outside: boolean;
}

/** How a refusal states a bound or a closed list. */
const BOUND = /[<>]=? ?-?\d|\bbetween\b|\bfrom -?\d|\d or \d|\bone that\b/;

/** Numbers that an input with this line must refuse. */
const spoiltBy = (text: string): Spoilt[] => {
  const range = rangeOf(text);
  const list = listOf(range);
  const { from, to } = boundsOf(range);
  const outside = list.length > 0 ? [Math.max(...list) + 1] : [];
  if (list.length === 0 && from !== undefined) {
    outside.push(from - 1);
    if (range.includes(`> ${from}`) && Number.isInteger(from)) outside.push(from); // a bound that is not whole may be rounded in the text
  }
  if (list.length === 0 && to !== undefined) outside.push(to + 1);
  return [...[NaN, Infinity, -Infinity].map((bad) => ({ bad, outside: false })), ...outside.map((bad) => ({ bad, outside: true }))];
};

const literally = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");

/** What is wrong with the refusal of one number. */
const fault = (kernel: DocComment, args: Args, path: string, place: string, unit: string, { bad, outside }: Spoilt): string | undefined => {
  const what = `${place} = ${bad}`;
  try {
    call(kernel, mapLeaves(args, (leaf, _, here) => (here === place ? bad : leaf)) as Args);
  } catch (error) {
    if (!(error instanceof RangeError)) return `${what}: ${String(error)}`;
    const parts = new RegExp(`^${literally(kernel.name)}: (.+?) must be (.+), got ${literally(String(bad))}$`).exec(error.message);
    if (!parts) return `${what}: ${error.message}`;
    if (!(parts[1] as string).replace(/\[\d+\]/g, "").includes(path.split(".").at(-1) as string)) return `${what} is not named: ${error.message}`;
    if (outside && !BOUND.test(parts[2] as string)) return `${what}, no bound is stated: ${error.message}`;
    if (unit !== "1" && unit !== "" && !(parts[2] as string).includes(unit)) return `${what}, no unit ${unit}: ${error.message}`;
    return undefined;
  }
  return Object.hasOwn(UNREAD, `${kernel.name}.${path}`) ? undefined : `${what} is taken`;
};

/** Places of one series are spoilt at its first and its last. */
const ends = (places: readonly { readonly path: string; readonly place: string; readonly value: unknown }[]) => places.filter(({ path }, i) => places[i - 1]?.path !== path || places[i + 1]?.path !== path);

describe("every kernel refuses numbers outside what it asks for, naming itself, the input, the rule and the value", () => {
  test.each(kernels.map((kernel) => [kernel.name, kernel] as const))("%s(…)", (_, kernel) => {
    let counted = 0;
    const faults = new Set<string>();
    for (const [first] of exampleCalls(kernel)) {
      const args = withDefaults(kernel, first as Args);
      for (const { path, place, value } of ends(leaves(args))) {
        if (typeof value !== "number") continue;
        const line = docOf(kernel.params, path);
        // the line of an object around several numbers states no range of theirs
        for (const spoilt of spoiltBy(line?.name === path ? line.text : "")) {
          counted++;
          const found = fault(kernel, args, path, place, line?.unit ?? "", spoilt);
          if (found) faults.add(found);
        }
      }
    }
    expect([...faults]).toEqual([]);
    expect(counted > 0 || exampleCalls(kernel).every(([args]) => leaves(args).every(({ value }) => typeof value !== "number"))).toBe(true);
  });

  test("inputs that an example does not read are real ones", () => {
    for (const name of Object.keys(UNREAD)) expect(kernels.some((kernel) => kernel.params.some((line) => `${kernel.name}.${line.name}` === name)), name).toBe(true);
  });
});
