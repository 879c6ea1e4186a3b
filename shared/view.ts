/** What is on the page now: the lesson at a state, for a reader with units and a locale. Rendered by `render.ts`. */
import type { UnitSystem } from "./kinds.ts";
import type { Kernel, Lesson, State, Write } from "./lesson.ts";
import { makeWrite } from "./state/units.ts";

/** A parameter or a result as its doc comment has it. */
export interface DocValue {
  readonly name: string;
  readonly text: string;
  readonly unit: string;
}

/** What a kernel's doc comment says, with its sources joined from lib/sources.yaml. */
export interface KernelDoc {
  readonly name: string;
  readonly file: string;
  readonly line: number;
  readonly summary: string;
  readonly model?: string;
  readonly params: readonly DocValue[];
  readonly returns: readonly DocValue[];
  readonly throws?: readonly string[];
  readonly equations: readonly { readonly name: string; readonly expression: string }[];
  readonly sources: readonly { readonly id: string; readonly where: string; readonly title?: string; readonly status?: string }[];
}

export type Provenance = Readonly<Record<string, KernelDoc>>;

export interface View {
  readonly slug: string;
  readonly title: string;
  readonly lesson: Lesson;
  readonly state: State;
  readonly units: UnitSystem;
  readonly locale: string;
  readonly provenance: Provenance;
  /** The case kept beside the present one. */
  readonly held?: State;
  /** Kernels by their exported name, for where a bundler has shortened the names of functions. */
  readonly kernels?: Readonly<Record<string, unknown>>;
  /** Scales that the lesson's front matter offers beside its own ("bench"), and the present one. */
  readonly scales?: readonly string[];
  readonly scale?: string;
}

const writers = new Map<string, Write>();

/** The writer for a view: made once for each pair of units and locale. */
export const writeOf = (view: Pick<View, "units" | "locale">): Write => {
  const key = `${view.units} ${view.locale}`;
  let write = writers.get(key);
  if (write === undefined) writers.set(key, (write = makeWrite(view.units, view.locale)));
  return write;
};

/** The doc comment of a kernel, where the page has it. */
export const docOf = (view: View, kernel: Kernel): KernelDoc | undefined => {
  const name = Object.entries(view.kernels ?? {}).find(([, value]) => value === kernel)?.[0] ?? kernel.name;
  return Object.hasOwn(view.provenance, name) ? view.provenance[name] : undefined;
};
