// Every row of every lib/<topic>/checks.yaml: the kernel, called with the row's inputs, gives what is published, or what is true
// where the printed figure is wrong.
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import * as lib from "../../lib/index.ts";

interface Row {
  readonly id: string;
  readonly kernel: string;
  readonly inputs: unknown;
  /** Dotted path into the result -> value as printed, in SI. */
  readonly published: Readonly<Record<string, number>>;
  /** Dotted path -> true value, where the printed one is wrong. */
  readonly corrected?: Readonly<Record<string, number>>;
  /** Dotted path -> largest difference, in the unit of the value. */
  readonly tolerance: Readonly<Record<string, number>>;
  readonly status: string;
  readonly source: string;
  readonly note?: string;
}

const LIB = new URL("../../lib/", import.meta.url);
/** What the decimal fraction itself costs, where a value sits on the edge of its tolerance. */
const EDGE = 1e-9;

const topics = readdirSync(LIB, { withFileTypes: true })
  .filter((entry) => entry.isDirectory() && existsSync(new URL(`${entry.name}/checks.yaml`, LIB)))
  .map((entry) => entry.name)
  .sort();
const rowsOf = (topic: string): readonly Row[] => parse(readFileSync(new URL(`${topic}/checks.yaml`, LIB), "utf8")) as Row[];

const read = (result: unknown, path: string): unknown => path.split(".").reduce<unknown>((part, key) => (part as Record<string, unknown> | null | undefined)?.[key], result);
const off = (value: number, target: number): number => Math.abs(value - target) * (1 - EDGE);

test("every topic's rows have an id of their own and say where they come from", () => {
  const ids = topics.flatMap(rowsOf).map((row) => row.id);
  expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([]);
  expect(ids.length).toBeGreaterThan(0);
  for (const row of topics.flatMap(rowsOf)) expect(row.source && row.status, row.id).toBeTruthy();
});

describe.each(topics)("lib/%s/checks.yaml", (topic) => {
  test.each(rowsOf(topic).map((row) => [row.id, row.kernel, row] as const))("%s: %s(…) agrees with its source", (_, kernel, row) => {
    const call = (lib as unknown as Record<string, ((input: unknown) => unknown) | undefined>)[kernel];
    if (typeof call !== "function") throw new Error(`lib/index.ts exports no kernel ${kernel}`);
    const result = call(row.inputs);
    const outputs = Object.keys(row.published);
    expect(Object.keys(row.tolerance).sort()).toEqual([...outputs].sort());
    for (const output of outputs) {
      const value = read(result, output);
      const tolerance = row.tolerance[output] as number;
      const printed = row.published[output] as number;
      const target = row.corrected?.[output] ?? printed;
      if (typeof value !== "number") throw new Error(`${kernel} returns no number ${output}`);
      expect(off(value, target), `${output}: got ${value}, expected ${target} within ${tolerance}`).toBeLessThanOrEqual(tolerance);
    }
    for (const [output, target] of Object.entries(row.corrected ?? {})) expect(row.published[output], `${output} is corrected to itself`).not.toBe(target);
  });
});
