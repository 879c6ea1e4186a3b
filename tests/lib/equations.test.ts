/** Every `@equation` is read by mathjs, a library that knows nothing of this project, and compared with the kernel on random valid inputs. */
import { all, create } from "mathjs";
import { describe, expect, test } from "vitest";
import { accepted, at, dimensionOf, docOf, kernels, leaves, mapLeaves, put, type Args } from "./kernels.ts";
import type { DocComment, DocValue } from "../../build/docComments.ts";

const math = create(all ?? {});

const WANTED = 60;
const LEAST = 20;
const TRIES = 600;
const RELATIVE = 1e-9; // two orders of evaluation of one closed form
const CANCELLED = 1e-12; // of the largest quantity of the same unit: what is left where large terms cancel

const withEquations = kernels.filter(({ equations }) => equations.length > 0);

/** Largest magnitude among values of one unit. */
const largest = (value: unknown, lines: readonly DocValue[], unit: string): number =>
  leaves(value).reduce((max, leaf) => (typeof leaf.value === "number" && Number.isFinite(leaf.value) && docOf(lines, leaf.path)?.unit === unit ? Math.max(max, Math.abs(leaf.value)) : max), 0);

const plain = (value: unknown): unknown => (ArrayBuffer.isView(value) ? Array.from(value as Float64Array) : value);

/** What an equation may speak of: the inputs, and every output but its own. */
const scopeOf = (args: Args, result: unknown, name: string): Args => {
  const scope = Object.fromEntries(Object.entries(mapLeaves(args, (leaf) => leaf) as Args).map(([key, value]) => [key, plain(value)]));
  for (const { path, place, value } of leaves(result)) if (!place.includes("[") && path !== name && at(scope, path) === undefined && typeof value === "number") put(scope, path, value);
  return scope;
};

/** Compares one equation with the kernel; answers how many draws counted and the first that differs. */
const compare = (kernel: DocComment, name: string, expression: string): { counted: number; fault: string | undefined } => {
  let counted = 0;
  const compiled = math.compile(expression);
  const unit = docOf(kernel.returns, name)?.unit ?? "";
  for (const { args, result } of accepted(kernel, WANTED, TRIES)) {
    const output = at(result, name);
    const outcome = at(result, "outcome");
    if (output === null || (output === undefined && outcome !== undefined)) continue; // an expected outcome without this number
    if (typeof output !== "number") return { counted, fault: `no number named ${name} in the result` };
    const value = compiled.evaluate(scopeOf(args, result, name)) as unknown;
    const scale = Math.max(largest(args, kernel.params, unit), largest(result, kernel.returns, unit));
    const allowed = RELATIVE * Math.abs(output) + CANCELLED * scale;
    if (typeof value !== "number" || !(Math.abs(value - output) <= allowed)) return { counted, fault: `equation ${String(value)}, kernel ${output}, for ${JSON.stringify(args)}` };
    counted++;
  }
  return { counted, fault: undefined };
};

describe("equations in doc comments", () => {
  test("exist", () => expect(withEquations.length).toBeGreaterThan(0));
  for (const kernel of withEquations)
    for (const { name, expression } of kernel.equations)
      test(`${kernel.name}(…).${name} equals ${expression}`, () => {
        const { counted, fault } = compare(kernel, name, expression);
        expect(fault).toBeUndefined();
        expect(counted, `of ${TRIES} draws the kernel accepted too few; add @sample lines`).toBeGreaterThanOrEqual(LEAST);
        expect(dimensionOf(docOf(kernel.returns, name)?.unit ?? ""), `@returns ${name} … [unit]`).toBeDefined();
      });
});
