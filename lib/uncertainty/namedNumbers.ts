/** From kernels, which take nested objects, to functions of named numbers, which can be studied. Names are dotted paths: `a.front.force.2`. */
import { requireThat } from "../check.ts";
import type { Run } from "./uncertain.ts";

type Nested = Record<string, unknown>;

const isNested = (value: unknown): value is Nested => typeof value === "object" && value !== null && !ArrayBuffer.isView(value);

export const atPath = (value: unknown, path: string): unknown => path.split(".").reduce<unknown>((at, key) => (isNested(at) ? at[key] : undefined), value);

/** Copy of `whole` with one number replaced; what is not on the way is shared, not copied. */
const replaced = (whole: unknown, keys: readonly string[], value: number): unknown => {
  const [key, ...rest] = keys;
  if (key === undefined) return value;
  const copy: Nested = Array.isArray(whole) ? ([...whole] as unknown as Nested) : { ...(whole as Nested) };
  copy[key] = replaced(copy[key], rest, value);
  return copy;
};

/** The kernel at `template`, with the named numbers put in their places. Only `outputs` are returned; each must be a number or a word. */
export const asRun = (kernel: (input: never) => unknown, template: object, outputs: readonly string[]): Run => {
  const paths = new Map<string, readonly string[]>();
  const pathOf = (name: string): readonly string[] => {
    const known = paths.get(name);
    if (known) return known;
    requireThat(typeof atPath(template, name) === "number", "asRun", name, `the path of a number of the input of ${kernel.name}`, atPath(template, name));
    const path = name.split(".");
    paths.set(name, path);
    return path;
  };
  return (inputs) => {
    let input: unknown = template;
    for (const name in inputs) input = replaced(input, pathOf(name), inputs[name] as number);
    const result = kernel(input as never);
    return Object.fromEntries(outputs.map((output) => [output, atPath(result, output)]));
  };
};
