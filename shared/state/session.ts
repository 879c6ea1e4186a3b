/**
 * The one moving thing of a page: the inputs, the state computed from them, and who is told.
 * While the reader drags, point values only, once a frame; when they let go, everything, once.
 */
import type { ReaderUnits, UnitSystem } from "../kinds.ts";
import { evaluate, flipSearch, type FlipPoint, type FlipValue, type Input, type InputValue, type Lesson, OWN_SCALE, type State, startOf, type TableValue } from "../lesson.ts";
import { rangeSearch, type Ranges } from "../study.ts";
import { type Provenance, type View, writeOf } from "../view.ts";
import { refusal } from "./inputs.ts";
import { readLink, scaleOfLink, writeLink } from "./link.ts";
import { type Store, tableKey } from "./storage.ts";
import { readTable, tableText } from "./table.ts";

/** Numbers that a scale lays over the inputs: input -> start, from, to, step, give. */
export type ScaleValues = Readonly<Record<string, Readonly<Record<string, number | string>>>>;

export { OWN_SCALE };

/** What the builder hands to the page beside the lesson's code. */
export interface PageData {
  readonly slug: string;
  readonly title: string;
  readonly locale?: string;
  readonly provenance: Provenance;
  /** Units that the page starts in; metric without them. */
  readonly units?: ReaderUnits;
  readonly scales?: Readonly<Record<string, ScaleValues>>;
  /** The one scale of this page; without it the page starts at the lesson's own and offers the others. */
  readonly at?: string;
  /** Outputs that are said aloud: rounded so that no comparison among them is lost. */
  readonly spoken?: readonly string[];
  /** Parts of a scenario that the lesson is about. */
  readonly needs?: readonly string[];
  /** The page shows what the give or take leaves of some output. */
  readonly ranged?: { readonly road: boolean; readonly bench: boolean };
}

/**
 * What happened: `drag`, point values changed and more is to come; `settled`, the reader let go; `found`, what needed many runs (flip
 * points) has come for the settled state; `shown`, the same state is to be shown otherwise (units, held case, prediction);
 * `instant`, only the clock of a scene moved.
 */
export type Change = "drag" | "settled" | "found" | "shown" | "instant";

export interface Surroundings {
  readonly frame: (work: () => void) => void;
  /** Work that may wait until the page has nothing better to do. */
  readonly later: (work: () => void) => void;
  readonly now: () => number;
  readonly hash: () => string;
  readonly setHash: (hash: string) => void;
  /** Where a reader's tables outlast a reload; they never leave the machine. */
  readonly keep?: Store;
}

type Inputs = Readonly<Record<string, InputValue>>;
interface Kept {
  readonly inputs: Inputs;
  readonly scale: string | undefined;
}

/** Longest stretch of a search in milliseconds: less than a frame, so that nothing stutters meanwhile. */
const STRETCH = 5;
/** Steps of undo: more than anyone goes back one by one. */
const UNDO_DEPTH = 100;

const same = (a: Inputs, b: Inputs): boolean => Object.keys(a).every((name) => a[name] === b[name]);

const laidOver = (lesson: Lesson, values: ScaleValues): Lesson => ({ ...lesson, inputs: Object.fromEntries(Object.entries(lesson.inputs).map(([name, input]) => [name, { ...input, ...values[name] } as Input])) });

export class Session {
  /** What the reader sees now. */
  view: View;
  /** Moment that the scenes show, in seconds from their beginning. */
  instant = 0;
  /** Questions still open: until they are answered, inputs and clocks stand still. */
  readonly questions = new Set<unknown>();
  /** What the link asked for and did not get, until the reader changes anything. */
  problems: readonly string[] = [];
  readonly #listeners = new Set<(change: Change) => void>();
  readonly #around: Surroundings;
  readonly #data: PageData;
  readonly #own: Lesson;
  /** What the reader chose; at another scale than the road's the page speaks laboratory units all the same. */
  #units: ReaderUnits = "metric";
  #undo: Kept[] = [];
  #settled: Kept;
  #waiting: Inputs | undefined;
  /** Counts the searches; one that is not the last has been overtaken. */
  #search = 0;

  constructor(lesson: Lesson, data: PageData, around: Surroundings) {
    this.#own = lesson;
    this.#data = data;
    this.#around = around;
    this.#units = this.#ownUnits;
    const scales = data.at === undefined ? Object.keys(data.scales ?? {}).filter((name) => name !== OWN_SCALE) : [];
    this.view = {
      slug: data.slug,
      title: data.title,
      lesson: this.#lessonAt(data.at),
      state: { inputs: {}, outputs: {}, calls: [] },
      units: this.#unitsAt(data.at),
      ...(data.at !== undefined && { scale: data.at }),
      ...(data.spoken !== undefined && { spoken: data.spoken }),
      ...(data.needs !== undefined && { needs: data.needs }),
      locale: data.locale ?? "en",
      provenance: data.provenance,
      scales,
    };
    const inputs = { ...this.#takeLink(), ...this.#tables() };
    this.view = { ...this.view, state: this.#computed(inputs) };
    this.#settled = { inputs, scale: this.view.scale };
    this.#searchFlips();
  }

  /** The reader's own tables, from the last visit. */
  #tables(): Inputs {
    return Object.fromEntries(
      Object.entries(this.view.lesson.inputs).flatMap(([name, input]) => {
        const text = input.type === "table" ? this.#around.keep?.read(tableKey(this.#data.slug, name)) : null;
        if (input.type !== "table" || text == null) return [];
        const read = readTable(text, input, "metric", "en", "si");
        return "value" in read && refusal(input, read.value, "metric", "en") === undefined ? [[name, read.value]] : [];
      }),
    );
  }

  /** A table that is the lesson's own is not kept: after a reset nothing is left behind. */
  #keepTables(inputs: Inputs): void {
    for (const [name, input] of Object.entries(this.view.lesson.inputs)) {
      if (input.type !== "table" || inputs[name] === this.#settled.inputs[name]) continue;
      const value = inputs[name] as TableValue;
      this.#around.keep?.write(tableKey(this.#data.slug, name), value === input.start ? null : tableText(input, value, "metric", "en", "si"));
    }
  }

  get locked(): boolean {
    return this.questions.size > 0;
  }

  /** The page shows what it came with. */
  get untouched(): boolean {
    return this.#units === this.#ownUnits && this.view.scale === this.#data.at && this.atStart;
  }

  get #ownUnits(): ReaderUnits {
    return this.#data.units ?? "metric";
  }

  get units(): ReaderUnits {
    return this.#units;
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
    this.problems = [];
    this.#waiting = { ...this.view.state.inputs, ...this.#waiting, [name]: value };
    if (!first) return;
    this.#around.frame(() => {
      const inputs = this.#waiting;
      if (inputs === undefined) return;
      this.#waiting = undefined;
      this.#search++;
      this.#now(inputs);
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
    this.problems = [];
    if (kept.scale !== this.view.scale) this.#rescale(kept.scale);
    this.#settle(kept.inputs);
  }

  reset(): void {
    this.problems = [];
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
  useUnits(units: ReaderUnits): void {
    this.#units = units;
    this.problems = [];
    const flips = this.#flips.map(([name]) => name);
    // Sentences are written by `run` in the reader's units; flip points are SI values and stay.
    const anew = (state: State): State => {
      const computed = this.#computed(state.inputs);
      return { ...computed, outputs: { ...computed.outputs, ...Object.fromEntries(flips.filter((name) => name in state.outputs).map((name) => [name, state.outputs[name] as FlipValue])) } };
    };
    this.view = { ...this.view, units: this.#unitsAt(this.view.scale) };
    this.view = { ...this.view, state: anew(this.view.state), ...(this.view.held && { held: anew(this.view.held) }) };
    this.#link();
    this.#tell("shown");
  }

  /** The bench version of the lesson, or its own scale again, each at its start. */
  useScale(scale: string | undefined): void {
    this.problems = [];
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

  /** What else a link asked for in vain. */
  refuse(problem: string): void {
    this.problems = [...this.problems, problem];
    this.#tell("shown");
  }

  /** The address was changed by hand or by going back. */
  readHash(): void {
    if (this.locked) return;
    this.#keep();
    // A link holds no tables: those in the page stay.
    const tables = Object.fromEntries(Object.entries(this.view.state.inputs).filter(([, value]) => typeof value === "object"));
    this.#settle({ ...this.#takeLink(), ...tables });
  }

  /** Scale and units of the link into the view; its inputs as the answer. */
  #takeLink(): Inputs {
    const hash = this.#around.hash();
    const asked = scaleOfLink(hash);
    const scale = asked !== undefined && this.view.scales?.includes(asked) ? asked : this.#data.at;
    if (scale !== this.view.scale) this.#rescale(scale);
    const linked = readLink(this.view.lesson, hash, this.view.locale, this.#unitsAt(this.view.scale));
    this.problems = asked === undefined || scale === asked || asked === OWN_SCALE ? linked.problems : [...linked.problems, `\u201cpage.scale=${asked}\u201d: this page has no such scale; it keeps its own.`];
    if (linked.units !== undefined) this.#units = linked.units;
    this.view = { ...this.view, units: this.#unitsAt(this.view.scale) };
    return linked.inputs;
  }

  #lessonAt(scale: string | undefined): Lesson {
    // The front matter may change the numbers of the lesson's own scale too, and the other scales build on it.
    const own = laidOver(this.#own, this.#data.scales?.[OWN_SCALE] ?? {});
    return scale === undefined ? own : { ...laidOver(own, this.#data.scales?.[scale] ?? {}), scale };
  }

  #unitsAt(scale: string | undefined): UnitSystem {
    return scale === undefined ? this.#units : "laboratory";
  }

  #rescale(scale: string | undefined): void {
    const { scale: _, ...view } = this.view;
    this.view = { ...view, lesson: this.#lessonAt(scale), units: this.#unitsAt(scale), ...(scale !== undefined && { scale }) };
    this.instant = 0;
  }

  #keep(): void {
    this.#undo.push(this.#settled);
    if (this.#undo.length > UNDO_DEPTH) this.#undo.shift();
  }

  /** A state, or the refusal of a kernel in its own words: a state that a lesson forgot to exclude must not break the page. */
  #computed(inputs: Inputs): State {
    try {
      return evaluate(this.view.lesson, inputs, writeOf(this.view));
    } catch (error) {
      return { inputs, outputs: {}, calls: [], outcome: error instanceof Error ? error.message : String(error) };
    }
  }

  /** Shows another state; the ranges of the last one are not its own. */
  #now(inputs: Inputs): void {
    const { ranges: _, ...view } = this.view;
    this.view = { ...view, state: this.#computed(inputs) };
  }

  #settle(inputs: Inputs): void {
    this.#keepTables(inputs);
    this.#settled = { inputs, scale: this.view.scale };
    this.#now(inputs);
    this.#link();
    this.#tell("settled");
    this.#searchFlips();
  }

  get #flips(): [string, FlipPoint][] {
    return Object.entries(this.view.lesson.outputs).filter((entry): entry is [string, FlipPoint] => entry[1].type === "flip");
  }

  /** Finds the flip points of the settled state in short stretches; a new drag or state overtakes it. */
  #searchFlips(): void {
    const mine = ++this.#search;
    const { lesson, state } = this.view;
    const wanted = state.outcome === undefined ? this.#flips : [];
    const ranged = state.outcome === undefined && this.#data.ranged?.[this.#data.at === undefined ? "road" : "bench"] === true;
    const found: Record<string, FlipValue> = {};
    let ranges: Ranges | undefined;
    const search = function* (this: Session): Generator<void, void, void> {
      for (const [name, flip] of wanted) found[name] = yield* flipSearch(lesson, state.inputs, flip, writeOf(this.view));
      if (ranged) ranges = yield* rangeSearch(lesson, state.inputs, writeOf(this.view));
    }.call(this);
    const stretch = (): void => {
      if (mine !== this.#search) return;
      const begun = this.#around.now();
      try {
        while (search.next().done !== true) {
          if (this.#around.now() - begun < STRETCH) continue;
          this.#around.later(stretch);
          return;
        }
      } catch {
        // A state along the way that a kernel refuses: the flip point stays unknown, and the page stands.
        this.view = { ...this.view, ranges: {} };
        this.#tell("found");
        return;
      }
      this.view = { ...this.view, state: { ...this.view.state, outputs: { ...this.view.state.outputs, ...found } }, ...(ranges !== undefined && { ranges }) };
      this.#tell("found");
    };
    if (wanted.length > 0 || ranged) this.#around.later(stretch);
  }

  #link(): void {
    this.#around.setHash(writeLink(this.view.lesson, this.view.state.inputs, this.#units, this.view.scale === this.#data.at ? undefined : this.view.scale, this.#ownUnits));
  }

  #tell(change: Change): void {
    for (const listener of [...this.#listeners]) listener(change);
  }
}
