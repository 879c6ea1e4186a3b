/** The outside checks of the kernels, evaluated: the rows of every lib/<topic>/checks.yaml, with what our own code gives for each. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "yaml";
import * as lib from "../lib/index.ts";
import { type DocComment, readDocComments } from "./docComments.ts";

export interface CheckRow {
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
  /** Another source, or another line of the same one, does not go with it; the note says what. */
  readonly disagrees?: boolean;
}

/** One published value beside ours. */
export interface Evidence {
  readonly row: CheckRow;
  readonly topic: string;
  readonly output: string;
  /** SI unit of the output; "" for a number. */
  readonly unit: string;
  readonly ours: number;
  readonly published: number;
  /** What is tested against: the published value, or the true one where that is wrong. */
  readonly expected: number;
  readonly tolerance: number;
  readonly within: boolean;
}

/** What the decimal fraction itself costs, where a value sits on the edge of its tolerance. */
const EDGE = 1e-9;

export const topicsWithChecks = (home: string): string[] =>
  readdirSync(join(home, "lib"), { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && existsSync(join(home, "lib", entry.name, "checks.yaml")))
    .map((entry) => entry.name)
    .sort();

export const rowsOf = (home: string, topic: string): readonly CheckRow[] => parse(readFileSync(join(home, "lib", topic, "checks.yaml"), "utf8")) as CheckRow[];

const read = (result: unknown, path: string): unknown => path.split(".").reduce<unknown>((part, key) => (part as Record<string, unknown> | null | undefined)?.[key], result);

/** Unit of an output, by the doc comment of the kernel: that of its own line, else of the nearest object around it. */
const unitOf = (doc: DocComment | undefined, output: string): string => {
  for (let name = output.replace(/\.\d+(?=\.|$)/g, ""); name !== ""; name = name.slice(0, Math.max(0, name.lastIndexOf(".")))) {
    const unit = doc?.returns.find((value) => value.name === name)?.unit;
    if (unit !== undefined) return unit === "1" ? "" : unit;
  }
  return "";
};

/** The row's kernel called with its inputs; a row that the kernels cannot answer is an error. */
export const evaluateRow = (row: CheckRow, topic: string, doc?: DocComment): Evidence[] => {
  const kernel = (lib as unknown as Record<string, ((input: unknown) => unknown) | undefined>)[row.kernel];
  if (typeof kernel !== "function") throw new Error(`${row.id}: lib/index.ts exports no kernel ${row.kernel}`);
  const result = kernel(row.inputs);
  return Object.entries(row.published).map(([output, published]) => {
    const ours = read(result, output);
    const tolerance = row.tolerance[output];
    if (typeof ours !== "number") throw new Error(`${row.id}: ${row.kernel} returns no number ${output}`);
    if (typeof tolerance !== "number") throw new Error(`${row.id}: ${output} has no tolerance`);
    const expected = row.corrected?.[output] ?? published;
    return { row, topic, output, unit: unitOf(doc, output), ours, published, expected, tolerance, within: Math.abs(ours - expected) * (1 - EDGE) <= tolerance };
  });
};

export const readEvidence = (home: string): Evidence[] => {
  const docs = new Map(readDocComments(join(home, "lib")).map((doc) => [doc.name, doc]));
  return topicsWithChecks(home).flatMap((topic) => rowsOf(home, topic).flatMap((row) => evaluateRow(row, topic, docs.get(row.kernel))));
};
