/** What the doc comments and the list of sources say, joined: what a page shows as "where this comes from". */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "yaml";
import type { Lesson, State } from "../shared/lesson.ts";
import type { KernelDoc, Provenance } from "../shared/view.ts";
import { type Evidence, readEvidence } from "./evidence.ts";
import { type DocComment, readDocComments } from "./docComments.ts";

export interface Source {
  readonly title: string;
  readonly status: string;
  readonly address?: string;
  /** Of a curriculum: code -> what it is about. */
  readonly codes?: Readonly<Record<string, string>>;
}

export interface Kernels {
  readonly docs: Readonly<Record<string, DocComment>>;
  readonly sources: Readonly<Record<string, Source>>;
  readonly evidence: readonly Evidence[];
  /** Kernel -> published values that it is compared with. */
  readonly checks: Readonly<Record<string, number>>;
}

export const readKernels = (home: string): Kernels => {
  const evidence = readEvidence(home);
  const checks: Record<string, number> = {};
  for (const { row } of evidence) checks[row.kernel] = (checks[row.kernel] ?? 0) + 1;
  return {
    docs: Object.fromEntries(readDocComments(join(home, "lib")).map((doc) => [doc.name, doc])),
    sources: parse(readFileSync(join(home, "lib/sources.yaml"), "utf8")) as Record<string, Source>,
    evidence,
    checks,
  };
};

/** Tags that a page reads; the others are for tests. */
const SHOWN_TAGS = ["law", "scheme", "limit", "statedUnits"];

const kernelDoc = (doc: DocComment, { sources, checks }: Kernels): KernelDoc & Pick<DocComment, "tags"> => ({
  checks: checks[doc.name] ?? 0,
  name: doc.name,
  file: `lib/${doc.file}`,
  line: doc.line,
  summary: doc.summary,
  model: doc.model,
  params: doc.params,
  returns: doc.returns,
  equations: doc.equations,
  sources: doc.sources.map((s) => ({ ...s, title: sources[s.id]?.title ?? s.id, status: sources[s.id]?.status ?? "" })),
  tags: doc.tags.filter(({ tag }) => SHOWN_TAGS.includes(tag)),
});

/** The kernels a lesson rests on: those its outputs name and those it called at the start. */
export const provenanceOf = (lesson: Lesson, states: readonly State[], kernels: Kernels): Provenance => {
  const names = new Set<string>();
  for (const output of Object.values(lesson.outputs)) if ("from" in output && output.from !== undefined) names.add(output.from.name);
  for (const state of states) for (const call of state.calls) names.add(call.kernel.name);
  return Object.fromEntries([...names].sort().flatMap((name) => (Object.hasOwn(kernels.docs, name) ? [[name, kernelDoc(kernels.docs[name] as DocComment, kernels)]] : [])));
};
