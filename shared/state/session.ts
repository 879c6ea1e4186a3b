/**
 * The one moving thing of a page: the inputs, the state computed from them, and who is told.
 * While the reader drags, point values only, once a frame; when they let go, everything, once.
 */
import type { UnitSystem } from "../kinds.ts";
import { evaluate, evaluateWhole, type Input, type InputValue, type Lesson, type State, startOf } from "../lesson.ts";
import { type Provenance, type View, writeOf } from "../view.ts";
import { refusal } from "./inputs.ts";
import { readLink, scaleOfLink, writeLink } from "./link.ts";

/** Numbers that a scale lays over the inputs: input -> start, from, to, step, give. */
export type ScaleValues = Readonly<Record<string, Readonly<Record<string, number | string>>>>;

/** The scale that the lesson's code itself speaks of. */
export const OWN_SCALE = "road";

/** What the builder hands to the page beside the lesson's code. */
export interface PageData {
  readonly slug: string;
  readonly title: string;
  readonly locale?: string;
  readonly provenance: Provenance;
  readonly scales?: Readonly<Record<string, ScaleValues>>;
}

/**
 * What happened: `drag`, point values changed and more is to come; `settled`, everything is computed for a new state; `shown`, the
 * same state is to be shown otherwise (units, held case, prediction); `instant`, only the clock of a scene moved.
 */
export type Change = "drag" | "settled" | "shown" | "instant";

export interface Surroundings {
  readonly frame: (work: () => void) => void;
  readonly hash: () => string;
  readonly setHash: (hash: string) => void;
  readonly kernels?: Readonly<Record<string, unknown>>;
}

type Inputs = Readonly<Record<string, InputValue>>;
interface Kept {
  readonly inputs: Inputs;
  readonly scale: string | undefined;
}

/** Steps of undo: more than anyone goes back one by one. */
const UNDO_DEPTH = 100;

const same = (a: Inputs, b: Inputs): boolean => Object.keys(a).every((name) => a[name] === b[name]);

const laidOver = (lesson: Lesson, values: ScaleValues): Lesson => ({ ...lesson, inputs: Object.fromEntries(Object.entries(lesson.inputs).map(([name, input]) => [name, { ...input, ...values[name] } as Input])) });

export class Session {
  /** What the reader sees now. */
  view: View;
  /** Moment that the scenes show, in seconds from the first touch. */
  instant = 0;
  /** Questions still open: until they are answered, inputs and clocks stand still. */
  readonly questions = new Set<unknown>();
  /** What the link asked for and did not get. */
  problems: readonly string[] = [];
  readonly #listeners = new Set<(change: Change) => void>();
  readonly #around: Surroundings;
  readonly #data: PageData;
  readonly #own: Lesson;
  #undo: Kept[] = [];
  #settled: Kept;
  #waiting: Inputs | undefined;

  constructor(lesson: Lesson, data: PageData, around: Surroundings) {
    this.#own = lesson;
    this.#data = data;
    this.#around = around;
    const scales = Object.keys(data.scales ?? {}).filter((name) => name !== OWN_SCALE);
    this.view = {
      slug: data.slug,
      title: data.title,
      lesson: this.#lessonAt(undefined),
      state: { inputs: {}, outputs: {}, calls: [] },
      units: "metric",
      locale: data.locale ?? "en",
      provenance: data.provenance,
      scales,
      ...(around.kernels && { kernels: around.kernels }),
    };
    const inputs = this.#takeLink();
    this.view = { ...this.view, state: this.#computed(inputs, true) };
    this.#settled = { inputs, scale: this.view.scale };
  }

  get locked(): boolean {
    return this.questions.size > 0;
  }

  /** The page shows what it came with. */
  get untouched(): boolean {
    return this.view.units === "metric" && this.view.scale === undefined && this.atStart;
  }

  get canUndo(): boolean {
    return this.#undo.length > 0;
  }

  get atStart(): boolean {
    return same(startOf(this.view.lesson), this.view.state.inputs);
  }

  subscribe(listener: (change: Change) => void): () => void {
    this.#listeners.add(listener);
    return () => void this.#listeners.delete(listener);
  }

  value(name: string): InputValue | undefined {
    return this.#waiting?.[name] ?? this.view.state.inputs[name];
  }

  /** A value on its way: computed with the next frame. */
  drag(name: string, value: InputValue): void {
    if (this.locked || this.value(name) === value) return;
    const first = this.#waiting === undefined;
    this.#waiting = { ...this.view.state.inputs, ...this.#waiting, [name]: value };
    if (!first) return;
    this.#around.frame(() => {
      const inputs = this.#waiting;
      if (inputs === undefined) return;
      this.#waiting = undefined;
      this.view = { ...this.view, state: this.#computed(inputs, false) };
      this.#tell("drag");
    });
  }

  /** The reader let go. */
  release(): void {
    const inputs = this.#waiting ?? this.view.state.inputs;
    this.#waiting = undefined;
    if (!same(inputs, this.#settled.inputs)) this.#keep();
    this.#settle(inputs);
  }

  /** A value set at once: typed, stepped, chosen. Answers with what is wrong with it, if anything, and then changes nothing. */
  set(name: string, value: InputValue): string | undefined {
    const input = this.view.lesson.inputs[name];
    if (this.locked || input === undefined) return undefined;
    const wrong = refusal(input, value, this.view.units, this.view.locale);
    if (wrong !== undefined) return wrong;
    this.drag(name, value);
    this.release();
    return undefined;
  }

  undo(): void {
    const kept = this.#undo.pop();
    if (kept === undefined) return;
    if (kept.scale !== this.view.scale) this.#rescale(kept.scale);
    this.#settle(kept.inputs);
  }

  reset(): void {
    this.#keep();
    this.#settle(startOf(this.view.lesson));
  }

  /** Keeps the present case beside what comes; without one, lets it go. */
  hold(held: State | undefined): void {
    const { held: _, ...view } = this.view;
    this.view = held === undefined ? view : { ...view, held };
    this.#tell("shown");
  }

  /** Another unit system shows the same state: nothing is computed from what is on screen. */
  useUnits(units: UnitSystem): void {
    this.view = { ...this.view, units };
    // Sentences are written by `run` in the reader's units.
    this.view = { ...this.view, state: this.#computed(this.view.state.inputs, true), ...(this.view.held && { held: this.#computed(this.view.held.inputs, true) }) };
    this.#link();
    this.#tell("shown");
  }

  /** The bench version of the lesson, or its own scale again, each at its start. */
  useScale(scale: string | undefined): void {
    this.#keep();
    this.hold(undefined);
    this.#rescale(scale);
    this.#settle(startOf(this.view.lesson));
  }

  showInstant(seconds: number): void {
    this.instant = seconds;
    this.#tell("instant");
  }

  /** A question was put or answered. */
  changeQuestions(change: (open: Set<unknown>) => void): void {
    change(this.questions);
    this.#tell("shown");
  }

  /** The address was changed by hand or by going back. */
  readHash(): void {
    if (this.locked) return;
    this.#keep();
    this.#settle(this.#takeLink());
  }

  /** Scale and units of the link into the view; its inputs as the answer. */
  #takeLink(): Inputs {
    const hash = this.#around.hash();
    const asked = scaleOfLink(hash);
    const scale = asked !== undefined && this.view.scales?.includes(asked) ? asked : undefined;
    if (scale !== this.view.scale) this.#rescale(scale);
    const linked = readLink(this.view.lesson, hash, this.view.locale);
    this.problems = asked === undefined || scale !== undefined || asked === OWN_SCALE ? linked.problems : [...linked.problems, `this page has no scale \u201c${asked}\u201d`];
    if (linked.units !== undefined) this.view = { ...this.view, units: linked.units };
    return linked.inputs;
  }

  #lessonAt(scale: string | undefined): Lesson {
    // The front matter may change the numbers of the lesson's own scale too, and the other scales build on it.
    const own = laidOver(this.#own, this.#data.scales?.[OWN_SCALE] ?? {});
    return scale === undefined ? own : laidOver(own, this.#data.scales?.[scale] ?? {});
  }

  #rescale(scale: string | undefined): void {
    const { scale: _, ...view } = this.view;
    this.view = { ...view, lesson: this.#lessonAt(scale), ...(scale !== undefined && { scale }) };
    this.instant = 0;
  }

  #keep(): void {
    this.#undo.push(this.#settled);
    if (this.#undo.length > UNDO_DEPTH) this.#undo.shift();
  }

  /** A state, or the refusal of a kernel in its own words: a state that a lesson forgot to exclude must not break the page. */
  #computed(inputs: Inputs, whole: boolean): State {
    try {
      return (whole ? evaluateWhole : evaluate)(this.view.lesson, inputs, writeOf(this.view));
    } catch (error) {
      return { inputs, outputs: {}, calls: [], outcome: error instanceof Error ? error.message : String(error) };
    }
  }

  #settle(inputs: Inputs): void {
    this.#settled = { inputs, scale: this.view.scale };
    this.view = { ...this.view, state: this.#computed(inputs, true) };
    this.#link();
    this.#tell("settled");
  }

  #link(): void {
    this.#around.setHash(writeLink(this.view.lesson, this.view.state.inputs, this.view.units, this.view.scale));
  }

  #tell(change: Change): void {
    for (const listener of [...this.#listeners]) listener(change);
  }
}
