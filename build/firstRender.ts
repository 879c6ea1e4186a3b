/** The lesson at its start: run once, checked against its own equations, and written into the prose. */
import { evaluateWhole, type KernelOutput, type Lesson, startOf, type State } from "../shared/lesson.ts";
import { evaluateExpression, namesIn, parseExpression, valueAt } from "../shared/render/expression.ts";
import { makeWrite } from "../shared/state/units.ts";
import type { Evaluated } from "./fence.ts";
import type { Kernels } from "./kernels.ts";
import type { Problem } from "./problem.ts";
import { placeInFence } from "./check.ts";
import type { WrittenLesson } from "./readLessons.ts";

export const LOCALE = "en";
export const UNITS = "metric";
export const write = makeWrite(UNITS, LOCALE);

/** An output and its equation agree to this, relative: rounding in a few dozen operations stays far below. */
const EQUATION_TOLERANCE = 1e-9;
/** Results this small are differences of near-equal terms. */
const NOTHING = 1e-12;

/** Problem at the place in the file where the lesson's code threw, or at its fence. */
export const thrown = (written: WrittenLesson, evaluated: Evaluated, doing: string, error: unknown): Problem => ({
  file: written.file,
  ...(evaluated.placeOf(error) ?? { line: written.prose.fence?.line ?? 1, column: 1 }),
  message: `${doing}: ${error instanceof Error ? error.message : String(error)}`,
});

const equationProblem = (name: string, output: KernelOutput, state: State, kernels: Kernels): string | undefined => {
  const doc = kernels.docs[output.from.name];
  const call = state.calls.find((c) => c.kernel === output.from && c.name === (output.call ?? ""));
  const equation = doc?.equations.find((e) => e.name === output.field);
  if (doc === undefined || equation === undefined || call === undefined) return undefined;
  let computed: number;
  try {
    const expression = parseExpression(equation.expression);
    // Arguments first; a name that is none of them may be another result of the kernel, or a defaulted argument it returns.
    const missing = namesIn(expression).filter((n) => typeof valueAt(call.input, n) !== "number");
    const known = missing.filter((n) => typeof valueAt(call.result, n) !== "number");
    if (known.length > 0) return `output ${name}: the equation of ${doc.name}.${output.field} names ${known.join(", ")}, which the call does not have`;
    computed = evaluateExpression(expression, missing.length === 0 ? call.input : overlaid(call.input, call.result, missing));
  } catch (error) {
    return `output ${name}: the equation of ${doc.name}.${output.field} cannot be read: ${(error as Error).message}`;
  }
  const shown = valueAt(call.result, output.field) as number;
  return Math.abs(computed - shown) <= EQUATION_TOLERANCE * Math.max(Math.abs(computed), Math.abs(shown)) + NOTHING ? undefined : `output ${name} is ${shown}, but the equation of ${doc.name}.${output.field} gives ${computed} with the same numbers`;
};

const overlaid = (input: unknown, result: unknown, names: readonly string[]): unknown => {
  const out = structuredClone(Object.fromEntries(Object.entries(input as object).filter(([, v]) => typeof v !== "function"))) as Record<string, unknown>;
  for (const name of names) {
    const keys = name.split(".");
    let at = out;
    for (const key of keys.slice(0, -1)) at = (at[key] ??= {}) as Record<string, unknown>;
    at[keys.at(-1) as string] = valueAt(result, name);
  }
  return out;
};

/** The start state, or what keeps it from being shown. */
export const firstState = (written: WrittenLesson, evaluated: Evaluated, lesson: Lesson, kernels: Kernels): { readonly state: State | undefined; readonly problems: readonly Problem[]; readonly outcome?: string } => {
  const problems: Problem[] = [];
  let state: State;
  try {
    state = evaluateWhole(lesson, startOf(lesson), write);
  } catch (error) {
    return { state: undefined, problems: [thrown(written, evaluated, "the lesson does not run at its start", error)] };
  }
  const report = (name: string, message: string): void => void problems.push({ file: written.file, ...placeInFence(written, name), message });
  if (state.outcome !== undefined) {
    report("inputs", `the start state has no outputs: ${state.outcome}`);
    return { state: undefined, problems, outcome: state.outcome };
  }
  for (const [name, output] of Object.entries(lesson.outputs)) {
    const value = state.outputs[name];
    if (value === undefined) report(name, `run does not return ${name}`);
    else if ((output.type === "quantity" || output.type === "returned") && !Number.isFinite(value)) report(name, `output ${name} is ${String(value)} at the start`);
    else if (output.type === "verdict" && !Object.hasOwn(output.words, value as string)) report(name, `verdict ${name} is ${String(value)} at the start, which is not one of its words`);
    if (output.type === "quantity") {
      const wrong = equationProblem(name, output, state, kernels);
      if (wrong !== undefined) report(name, wrong);
    }
  }
  return { state: problems.length > 0 ? undefined : state, problems };
};
