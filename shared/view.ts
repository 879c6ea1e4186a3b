/** What is on the page now: the lesson at a state, for a reader with units and a locale. Rendered by `render.ts`. */
import type { UnitSystem } from "./kinds.ts";
import type { Kernel, Lesson, State, Write } from "./lesson.ts";
import type { Ranges } from "./study.ts";
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
  /** Published values that the evidence page sets beside its results. */
  readonly checks?: number;
  readonly sources: readonly { readonly id: string; readonly where: string; readonly title?: string; readonly status?: string }[];
  /** Of a simulated kernel: its laws of motion (`law`), how they are stepped (`scheme`), what they tend to (`limit`). */
  readonly tags?: readonly { readonly tag: string; readonly text: string }[];
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
  /** Scales that the lesson's front matter offers beside its own ("bench"), and the present one. */
  readonly scales?: readonly string[];
  readonly scale?: string;
  /** What the give or take of the inputs leaves of each output; undefined until it is worked out. */
  readonly ranges?: Ranges;
  /** Parts of a scenario that the lesson is about, as its front matter has them. */
  readonly needs?: readonly string[];
  /** Inputs that the panel of this page lists; all of them where left out. */
  readonly controls?: readonly string[];
  /** Outputs that are said aloud on this page. */
  readonly spoken?: readonly string[];
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
export const docOf = (view: View, { name }: Kernel): KernelDoc | undefined => (Object.hasOwn(view.provenance, name) ? view.provenance[name] : undefined);
