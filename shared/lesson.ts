/**
 * The contract of a lesson: a pure function with labelled inputs and outputs.
 * Everything a reader can do (drag, type, share, compare, print) and everything the builder checks (claims, links, units)
 * is derived from one value of type `Lesson`.
 */
import type { Drawing } from "./drawing.ts";
import type { Figure } from "./figures/figure.ts";
import { KINDS, type Kind, type KindId, type UnitSystem } from "./kinds.ts";

// ---------------------------------------------------------------- inputs

export interface QuantityInput {
  readonly type: "quantity";
  readonly kind: Kind;
  readonly label: string;
  /** SI values. `give` is the half-width that the user would bet on 19 times in 20. */
  readonly start: number;
  readonly from: number;
  readonly to: number;
  readonly step: number;
  readonly give: number;
  /** How the give or take is spread; a bell unless it is `flat`, a limit within which any value is as likely. */
  readonly shape?: "normal" | "flat";
  /** Why this value and this give or take. Shown beside the input. */
  readonly reason?: string;
}

export interface ChoiceInput<W extends string = string> {
  readonly type: "choice";
  readonly label: string;
  readonly start: W;
  /** Closed list: word -> text on screen. */
  readonly words: Readonly<Record<W, string>>;
}

export interface TableInput {
  readonly type: "table";
  readonly label: string;
  /** Typed columns with their kind. */
  readonly columns: Readonly<Record<string, { readonly label: string; readonly kind: Kind }>>;
  /** Synthetic start data, labelled as such on the page: column -> SI values. */
  readonly start: TableValue;
  /** A table for claims, from a seed. */
  readonly example: (seed: number) => TableValue;
}

export type TableValue = Readonly<Record<string, readonly number[]>>;
export type Input = QuantityInput | ChoiceInput | TableInput;
export type InputValue = number | string | TableValue;

type QuantityOptions = { start: number; from: number; to: number; step: number; give?: number; shape?: "normal" | "flat"; reason?: string };

const quantityInput =
  (kind: Kind) =>
  (label: string, options: QuantityOptions): QuantityInput => ({ type: "quantity", kind, label, give: 0, ...options });

/** An output that the engine reads off the recorded call of a kernel. */
export interface KernelOutput {
  readonly type: "quantity";
  readonly kind: Kind;
  readonly label: string;
  readonly from: Kernel;
  /** Dotted path into the kernel's result, as in its `@equation` or `@returns` lines. */
  readonly field: string;
  /** Which call, where `run` calls the kernel more than once. */
  readonly call?: string;
  /** Turns the sign: for showing a signed result as a magnitude in the reader's direction. */
  readonly sense?: 1 | -1;
}

/** An output that `run` returns itself. */
export interface ReturnedQuantity {
  readonly type: "returned";
  readonly kind: Kind;
  readonly label: string;
  /** One sentence: how the number comes about from the kernels called. */
  readonly because: string;
  /** The kernel whose law the number rests on, for "where this comes from". */
  readonly from?: Kernel;
}

export interface Verdict<W extends string = string> {
  readonly type: "verdict";
  readonly label: string;
  readonly words: Readonly<Record<W, string>>;
}

export interface Sentence {
  readonly type: "sentence";
  readonly label: string;
}

export interface Trace {
  readonly type: "trace";
  readonly label: string;
  readonly axis: { readonly label: string; readonly kind: Kind };
  readonly series: Readonly<Record<string, { readonly label: string; readonly kind: Kind }>>;
}

export interface TraceValue {
  readonly axis: ArrayLike<number>;
  readonly series: Readonly<Record<string, ArrayLike<number>>>;
}

export interface TableOutput {
  readonly type: "table";
  readonly label: string;
  readonly columns: Readonly<Record<string, { readonly label: string; readonly kind: Kind | "text" }>>;
}

/** Where along one input a verdict changes. The engine searches it when the reader lets go. */
export interface FlipPoint {
  readonly type: "flip";
  readonly kind: Kind;
  readonly label: string;
  readonly of: string;
  readonly along: string;
}

export type Output = KernelOutput | ReturnedQuantity | Verdict | Sentence | Trace | TableOutput | FlipPoint;
export type OutputValue = number | string | TraceValue | TableRows | FlipValue;
export type TableRows = readonly Readonly<Record<string, number | string>>[];
/** `at` is null where the verdict is the same wherever along the input's range there is one. */
export interface FlipValue {
  readonly at: number | null;
  readonly below: string;
  readonly above: string;
  /** Some of the range has no verdict: the lesson's own words for why. */
  readonly silent?: string;
}

export type Kernel = (input: never) => unknown;

type Fields<T, Prefix extends string = ""> = T extends number
  ? Prefix
  : T extends ArrayLike<unknown> | string | boolean | null | undefined
    ? never
    : T extends object
      ? { [K in keyof T & string]: Fields<T[K], Prefix extends "" ? K : `${Prefix}.${K}`> }[keyof T & string]
      : never;

type FromKernel<K extends Kernel> = { from: K; field: Fields<ReturnType<K>>; call?: string; sense?: 1 | -1 };
type Returned = { because: string; from?: Kernel };

/**
 * A quantity kind as a word of the lesson language: with `start` it declares an input, with `from` and `field` an output read off
 * a kernel, with `because` an output that `run` returns.
 */
interface QuantityWord {
  (label: string, options: QuantityOptions): QuantityInput;
  <K extends Kernel>(label: string, options: FromKernel<K>): KernelOutput;
  (label: string, options: Returned): ReturnedQuantity;
}

const word = (id: KindId): QuantityWord => {
  const kind: Kind = KINDS[id];
  const declare = (label: string, options: QuantityOptions | FromKernel<Kernel> | Returned) => {
    if ("start" in options) return quantityInput(kind)(label, options);
    if ("field" in options) return { type: "quantity", kind, label, ...options };
    return { type: "returned", kind, label, ...options };
  };
  return declare as unknown as QuantityWord;
};

export const mass = word("mass");
export const speed = word("speed");
export const velocity = word("velocity");
export const velocityChange = word("velocityChange");
export const distance = word("distance");
export const duration = word("duration");
export const force = word("force");
export const impulse = word("impulse");
export const stiffness = word("stiffness");
export const energy = word("energy");
export const acceleration = word("acceleration");
export const ratio = word("ratio");
export const length = word("length");
export const time = word("time");
export const angle = word("angle");
export const turning = word("turning");
export const damping = word("damping");
export const gravity = word("gravity");
export const frequency = word("frequency");
export const count = word("count");

export const choice = <W extends string>(label: string, options: { start: NoInfer<W>; words: Readonly<Record<W, string>> }): ChoiceInput<W> => ({ type: "choice", label, ...options });
export const table = (label: string, options: Omit<TableInput, "type" | "label">): TableInput => ({ type: "table", label, ...options });
export const verdict = <W extends string>(label: string, words: Readonly<Record<W, string>>): Verdict<W> => ({ type: "verdict", label, words });
export const sentence = (label: string): Sentence => ({ type: "sentence", label });
export const trace = <S extends Trace["series"]>(label: string, options: { axis: Trace["axis"]; series: S }): Trace & { readonly series: S } => ({ type: "trace", label, ...options });
export const rows = (label: string, columns: TableOutput["columns"]): TableOutput => ({ type: "table", label, columns });
export const flipPoint = (kind: KindId, label: string, options: { of: string; along: string }): FlipPoint => ({ type: "flip", kind: KINDS[kind], label, ...options });

// ---------------------------------------------------------------- the lesson

type ValueOfInput<I> = I extends QuantityInput ? number : I extends ChoiceInput<infer W> ? W : I extends TableInput ? TableValue : never;
export type ValuesOf<I> = { readonly [K in keyof I]: ValueOfInput<I[K]> };

type ReturnedValue<O> = O extends ReturnedQuantity ? number : O extends Verdict<infer W> ? W : O extends Sentence ? string : O extends Trace ? TraceValue : O extends TableOutput ? TableRows : never;
/** What `run` must return: each output that the engine does not read off a kernel or search itself. */
export type ReturnedBy<O> = { readonly [K in keyof O as O[K] extends KernelOutput | FlipPoint ? never : K]: ReturnedValue<O[K]> };

type OutputValueOf<O> = O extends KernelOutput ? number : O extends FlipPoint ? FlipValue : ReturnedValue<O>;
export type OutputsOf<O> = { readonly [K in keyof O]: OutputValueOf<O[K]> };

/** An expected end that is not a set of outputs: said in words on the page. */
export interface Outcome {
  readonly outcome: string;
}

/** Calls a kernel and keeps its arguments and result, so that the page can say where a number comes from. */
export type Call = <A, R>(kernel: (input: A) => R, input: NoInfer<A>, name?: string) => R;

export interface RecordedCall {
  readonly kernel: Kernel;
  readonly name: string;
  readonly input: unknown;
  readonly result: unknown;
}

/** A lesson at one state of its inputs. */
export interface State<I = Record<string, InputValue>, O = Record<string, OutputValue>> {
  /** Scale of the lesson that gave it: "road", or one that the front matter names; left out where nobody asked. */
  readonly scale?: string;
  readonly inputs: I;
  readonly outputs: O;
  readonly calls: readonly RecordedCall[];
  /** Set where the state has no outputs; `outputs` is then empty. */
  readonly outcome?: string;
}

export interface Claim<I = Record<string, InputValue>, O = Record<string, OutputValue>> {
  /** States the claim is about; all of them where left out. */
  readonly when?: (state: State<I, O>) => boolean;
  /** How far the claim is from failing: >= 0 holds. Say it in a quantity that a reader would recognise. */
  readonly margin: (state: State<I, O>) => number;
}

/** A scene: the drawing at an instant of the event. `duration` of 0 means a still. */
export interface Scene<I = Record<string, InputValue>, O = Record<string, OutputValue>> {
  readonly title: string;
  /** Seconds of event that can be played and scrubbed. */
  readonly duration: (state: State<I, O>) => number;
  /** Instant of first touch, from which the reader's clock counts; left out, it counts from the beginning [s]. */
  readonly touch?: (state: State<I, O>) => number;
  readonly draw: (state: State<I, O>, instant: number, width: "wide" | "narrow", write: Write) => Drawing;
  /** One sentence for readers who cannot see the drawing, at this instant. Must not give the answer away before the reveal. */
  readonly describe: (state: State<I, O>, instant: number, write: Write) => string;
}

/** Writes a quantity for the reader: in their units and locale, with its unit. */
export interface Write {
  (kind: KindId, si: number, options?: { digits?: number }): string;
  /** What the reader reads in: a drawing needs it for round lengths. Metric where left out. */
  readonly units?: UnitSystem;
}

/** The scale that a lesson's own code speaks of. */
export const OWN_SCALE = "road";

export interface Lesson {
  /** Scale whose numbers the inputs have; the lesson's own where left out. */
  readonly scale?: string;
  readonly inputs: Readonly<Record<string, Input>>;
  readonly where: Readonly<Record<string, (inputs: never) => boolean>>;
  readonly outputs: Readonly<Record<string, Output>>;
  readonly run: (inputs: never, call: Call, write: Write, scale: string) => unknown;
  readonly figures: Readonly<Record<string, (state: never) => Figure>>;
  readonly scenes: Readonly<Record<string, Scene<never, never>>>;
  readonly claims: Readonly<Record<string, Claim<never, never>>>;
  readonly names: Readonly<Record<string, string>>;
}

/** A returned object with a key that is no output is refused; TypeScript alone lets extra keys of a returned literal pass. */
type NothingExtra<R, O> = R extends Outcome ? unknown : Exclude<keyof R, keyof ReturnedBy<O>> extends never ? unknown : { readonly [K in Exclude<keyof R, keyof ReturnedBy<O>>]: "not declared in outputs" };

/** Declares a lesson. A missing or an extra key of `run`'s result is a compile error. */
export const lesson = <const I extends Readonly<Record<string, Input>>, const O extends Readonly<Record<string, Output>>, R extends ReturnedBy<O> | Outcome>(declared: {
  inputs: I;
  /** Rule in words -> test. A state that breaks one is answered by the words. */
  where?: Readonly<Record<string, (inputs: ValuesOf<I>) => boolean>>;
  outputs: O;
  /** `scale` is "road", or the scale of the front matter whose numbers the inputs have. */
  run: (inputs: ValuesOf<I>, call: Call, write: Write, scale: string) => R & NothingExtra<R, O>;
  figures?: Readonly<Record<string, (state: State<ValuesOf<I>, OutputsOf<O>>) => Figure>>;
  scenes?: Readonly<Record<string, Scene<ValuesOf<I>, OutputsOf<O>>>>;
  claims?: Readonly<Record<string, Claim<ValuesOf<I>, OutputsOf<O>>>>;
  /** Names that the prose shows through the `name:` scheme. */
  names?: Readonly<Record<string, string>>;
}): Lesson => ({ where: {}, figures: {}, scenes: {}, claims: {}, names: {}, ...declared }) as unknown as Lesson;

// ---------------------------------------------------------------- running it

const read = (result: unknown, path: string): unknown => path.split(".").reduce<unknown>((at, key) => (at as Record<string, unknown> | undefined)?.[key], result);

/** The start value of every input. */
export const startOf = (lesson: Lesson): Record<string, InputValue> => Object.fromEntries(Object.entries(lesson.inputs).map(([name, input]) => [name, input.start]));

/** The lesson at `inputs`, without the flip points, which need many runs (`findFlip`). */
export const evaluate = (lesson: Lesson, inputs: Readonly<Record<string, InputValue>>, write: Write): State => {
  const scale = lesson.scale ?? OWN_SCALE;
  for (const [rule, holds] of Object.entries(lesson.where)) if (!holds(inputs as never)) return { scale, inputs, outputs: {}, calls: [], outcome: rule };
  const calls: RecordedCall[] = [];
  const call: Call = (kernel, input, name = "") => {
    const result = kernel(input);
    calls.push({ kernel: kernel as unknown as Kernel, name, input, result });
    return result;
  };
  const returned = lesson.run(inputs as never, call, write, scale) as Record<string, OutputValue>;
  if (typeof returned["outcome"] === "string" && !("outcome" in lesson.outputs)) return { scale, inputs, outputs: {}, calls, outcome: returned["outcome"] };
  const outputs: Record<string, OutputValue> = { ...returned };
  for (const [name, output] of Object.entries(lesson.outputs)) {
    if (output.type !== "quantity") continue;
    const recorded = calls.find((c) => c.kernel === output.from && c.name === (output.call ?? ""));
    const value = recorded && read(recorded.result, output.field);
    if (typeof value !== "number") throw new TypeError(`lesson: output ${name} must come from a recorded call of its kernel with field ${output.field}; run made ${calls.length} calls, none fits (use call(kernel, input))`);
    outputs[name] = output.sense === -1 ? -value : value;
  }
  return { scale, inputs, outputs, calls };
};

/** Parts that a scan along an input cuts its range into. Two changes inside one part are missed. */
const SCAN = 48;
/** Where a bisection stops: this share of the input's range. */
const CLOSE = 1e-9;

/**
 * Where along `output.along` the verdict `output.of` changes: the change nearest to the present value.
 * The range is cut into equal parts; a part whose ends differ holds a change, which is closed in on by bisection. A state
 * without outputs has no verdict: where the answer only ends, nothing has changed.
 * Yields after each run of the lesson, so that a page can search in short stretches.
 */
export function* flipSearch(lesson: Lesson, inputs: Readonly<Record<string, InputValue>>, output: FlipPoint, write: Write): Generator<void, FlipValue> {
  const input = lesson.inputs[output.along];
  if (input?.type !== "quantity") throw new TypeError(`lesson: a flip point needs a quantity input, got ${output.along}`);
  const present = inputs[output.along] as number;
  let silent: string | undefined;
  const at = (value: number): string | undefined => {
    const state = evaluate(lesson, { ...inputs, [output.along]: value }, write);
    silent ??= state.outcome;
    return state.outcome === undefined ? String(state.outputs[output.of]) : undefined;
  };
  const points = Array.from({ length: SCAN + 1 }, (_, i) => input.from + ((input.to - input.from) * i) / SCAN);
  const words: (string | undefined)[] = [];
  for (const point of points) {
    words.push(at(point));
    yield;
  }
  const parts = points.slice(1).flatMap((high, i) => {
    const low = points[i] as number;
    const [below, above] = [words[i], words[i + 1]];
    return below === undefined || above === undefined || below === above ? [] : [{ low, high, below, above, away: Math.max(0, low - present, present - high) }];
  });
  let best: { at: number; below: string; above: string } | undefined;
  for (const { low, high, below, above, away } of parts.sort((one, other) => one.away - other.away)) {
    // No change in a part farther off than the one found can be nearer.
    if (best && away >= Math.abs(best.at - present)) break;
    const ends = { low, high };
    let lost = false;
    while (!lost && ends.high - ends.low > CLOSE * (input.to - input.from)) {
      const middle = (ends.low + ends.high) / 2;
      const word = at(middle);
      if (word === below) ends.low = middle;
      else ends.high = middle;
      lost = word === undefined;
      yield;
    }
    if (lost) continue;
    const found = { at: (ends.low + ends.high) / 2, below, above };
    if (!best || Math.abs(found.at - present) < Math.abs(best.at - present)) best = found;
  }
  const said = words.filter((word) => word !== undefined);
  return { ...(best ?? { at: null, below: said[0] ?? "", above: said.at(-1) ?? "" }), ...(silent !== undefined && { silent }) };
}

/** `flipSearch` run to its end. */
export const findFlip = (lesson: Lesson, inputs: Readonly<Record<string, InputValue>>, output: FlipPoint, write: Write): FlipValue => {
  const search = flipSearch(lesson, inputs, output, write);
  for (;;) {
    const step = search.next();
    if (step.done) return step.value;
  }
};

/** `evaluate` and every flip point. */
export const evaluateWhole = (lesson: Lesson, inputs: Readonly<Record<string, InputValue>>, write: Write): State => {
  const state = evaluate(lesson, inputs, write);
  if (state.outcome !== undefined) return state;
  const flips = Object.entries(lesson.outputs).filter((entry): entry is [string, FlipPoint] => entry[1].type === "flip");
  return { ...state, outputs: { ...state.outputs, ...Object.fromEntries(flips.map(([name, flip]) => [name, findFlip(lesson, inputs, flip, write)])) } };
};

export { KINDS } from "./kinds.ts";
