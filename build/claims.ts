/**
 * Claims: each sentence of the prose that asserts a result is searched for a counterexample over the whole box of inputs.
 * Choices are enumerated; corners and edges are visited while they are few; then seeded points inside, and from the states with
 * the smallest margins a local search downhill. Tested, never proven.
 */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { uniform } from "../lib/math/random.ts";
import type { KindId } from "../shared/kinds.ts";
import { type Claim, evaluate, findFlip, type InputValue, type Lesson, type OutputValue, type QuantityInput, startOf, type State, type Write } from "../shared/lesson.ts";
import { showSet } from "../shared/state/units.ts";
import { readCached, writeCached } from "./cache.ts";

export interface ClaimResult {
  /** States that met `when`. */
  readonly samples: number;
  readonly smallestMargin: number;
}

export interface Counterexample {
  readonly inputs: Readonly<Record<string, InputValue>>;
  /** In readable units. */
  readonly words: string;
  readonly message: string;
}

export interface Search {
  readonly results: Readonly<Record<string, ClaimResult>>;
  /** Claim -> the state that breaks it. The name "" stands for `run` itself. */
  readonly failures: Readonly<Record<string, Counterexample>>;
}

/** Fewer than this many states that meet `when` say too little. */
export const FEWEST_SAMPLES = 100;
const INTERIOR = 1000;
/** Further points tried for claims whose `when` is met seldom. */
const MOST_INTERIOR = 20_000;
const MOST_CHOICES = 48;
const MOST_CORNERS = 256;
const MOST_EDGES = 512;
const SCAN = 8;
const DESCENTS = 2;
const DESCENT_STEPS = 120;
const SEED = 20;
/** Quantities named in the message on a failure. */
const MOST_NAMED = 4;

type Inputs = Record<string, InputValue>;

/** Every combination of the choices while they are few, else seeded draws of them. */
const choicesOf = (lesson: Lesson): Inputs[] => {
  const choices = Object.entries(lesson.inputs).flatMap(([name, input]) => (input.type === "choice" ? [[name, Object.keys(input.words)] as const] : []));
  const count = choices.reduce((n, [, words]) => n * words.length, 1);
  if (count <= MOST_CHOICES) return choices.reduce<Inputs[]>((all, [name, words]) => all.flatMap((one) => words.map((word) => ({ ...one, [name]: word }))), [{}]);
  return Array.from({ length: MOST_CHOICES }, (_, i) => Object.fromEntries(choices.map(([name, words], stream) => [name, words[Math.floor(uniform(SEED, i, 1000 + stream) * words.length)] as string])));
};

function* points(lesson: Lesson, most: number): Generator<Inputs> {
  const start = startOf(lesson) as Inputs;
  const quantities = Object.entries(lesson.inputs).filter((entry): entry is [string, QuantityInput] => entry[1].type === "quantity");
  const tables = Object.entries(lesson.inputs).flatMap(([name, input]) => (input.type === "table" ? [[name, input] as const] : []));
  const choices = choicesOf(lesson);
  const at = (shares: readonly number[], base: Inputs): Inputs => ({ ...base, ...Object.fromEntries(quantities.map(([name, q], i) => [name, q.from + (q.to - q.from) * (shares[i] as number)])) });
  const d = quantities.length;
  yield start;
  for (const chosen of choices) {
    const base = { ...start, ...chosen };
    yield base;
    for (const [name, q] of quantities) for (let k = 0; k <= SCAN; k++) yield { ...base, [name]: q.from + ((q.to - q.from) * k) / SCAN };
    if (2 ** d <= MOST_CORNERS) for (let corner = 0; corner < 2 ** d; corner++) yield at(quantities.map((_, i) => (corner >> i) & 1), base);
    if (d > 0 && d * 2 ** (d - 1) <= MOST_EDGES)
      for (let edge = 0; edge < d; edge++)
        for (let corner = 0; corner < 2 ** d; corner++) if (((corner >> edge) & 1) === 0) yield at(quantities.map((_, i) => (i === edge ? 0.5 : (corner >> i) & 1)), base);
  }
  for (let n = 0; n < most; n++) {
    const base: Inputs = { ...start, ...choices[n % choices.length] };
    for (const [name, table] of tables) base[name] = table.example(n);
    yield at(quantities.map((_, stream) => uniform(SEED, n, stream)), base);
  }
}

/** The state, with each flip point found only when a claim asks for it: it costs many runs. */
const stateAt = (lesson: Lesson, inputs: Inputs, write: Write): State => {
  const state = evaluate(lesson, inputs, write);
  if (state.outcome !== undefined) return state;
  const outputs = { ...state.outputs };
  for (const [name, output] of Object.entries(lesson.outputs)) {
    if (output.type !== "flip") continue;
    let found: unknown;
    Object.defineProperty(outputs, name, { enumerable: false, get: () => (found ??= findFlip(lesson, inputs, output, write)) });
  }
  return { ...state, outputs };
};

const wrongOutput = (lesson: Lesson, state: State): string | undefined => {
  for (const [name, output] of Object.entries(lesson.outputs)) {
    if (output.type === "flip" || output.type === "sentence" || output.type === "table" || output.type === "trace") continue;
    const value = state.outputs[name];
    if (output.type === "verdict" ? !Object.hasOwn(output.words, value as string) : !Number.isFinite(value)) return `output ${name} is ${String(value)}`;
  }
  return undefined;
};

/** Inputs for a reader: those that differ from the start, in the units of the page. */
export const inputsInWords = (lesson: Lesson, inputs: Inputs): string => {
  const start = startOf(lesson);
  const words = Object.entries(lesson.inputs).flatMap(([name, input]) => {
    const value = inputs[name];
    if (value === start[name]) return [];
    if (input.type === "quantity") return [`${input.label} ${showSet(input.kind, value as number, input.step, "metric", "en").text.replace(/[\u00a0\u202f]/g, " ")}`];
    return input.type === "choice" ? [`${input.label}: ${input.words[value as string]}`] : [`${input.label}: other values`];
  });
  const link = Object.entries(inputs).flatMap(([name, value]) => (value === start[name] || typeof value === "object" ? [] : [`${name}=${String(value)}`]));
  return words.length === 0 ? "the start state" : `${words.join(", ")}${words.length < Object.keys(lesson.inputs).length ? ", all else as at the start" : ""} (#${link.join("&")})`;
};

type Test = (inputs: Inputs) => { readonly margin: number } | { readonly broken: string } | undefined;

const clamp = (value: number, q: QuantityInput): number => Math.min(q.to, Math.max(q.from, value));

/** A failing state made readable: values on the steps of the inputs, and as many as possible as they are at the start. */
const readable = (lesson: Lesson, inputs: Inputs, fails: (inputs: Inputs) => boolean): Inputs => {
  const start = startOf(lesson);
  let best = inputs;
  for (const [name, input] of Object.entries(lesson.inputs)) {
    const tries: InputValue[] = [start[name] as InputValue];
    if (input.type === "quantity") {
      const value = inputs[name] as number;
      for (const step of [input.step * 10, input.step]) tries.push(clamp(Number((Math.round(value / step) * step).toPrecision(12)), input));
    }
    for (const value of tries) {
      const tried = { ...best, [name]: value };
      if (value === best[name] || fails(tried)) {
        best = tried;
        break;
      }
    }
  }
  return best;
};

export const searchClaims = (lesson: Lesson, write: Write): Search => {
  const claims = Object.entries(lesson.claims) as [string, Claim][];
  const results: Record<string, ClaimResult> = {};
  const failures: Record<string, Counterexample> = {};

  const failed = (name: string, inputs: Inputs, fails: (inputs: Inputs) => boolean, message: (inputs: Inputs) => string): void => {
    const simple = readable(lesson, inputs, fails);
    failures[name] = { inputs: simple, words: inputsInWords(lesson, simple), message: message(simple) };
  };
  const runFails = (inputs: Inputs): string | undefined => {
    try {
      const state = evaluate(lesson, inputs, write);
      return state.outcome === undefined ? wrongOutput(lesson, state) : undefined;
    } catch (error) {
      return error instanceof Error ? error.message : String(error);
    }
  };
  /** The quantities that a margin is made of, for a reader of its failure. */
  const madeOf = (claim: Claim, state: State): string => {
    const read = new Set<string>();
    claim.margin({ ...state, outputs: new Proxy(state.outputs, { get: (outputs, name) => (read.add(String(name)), Reflect.get(outputs, name) as OutputValue) }) });
    const words = [...read].flatMap((name) => {
      const output = Object.hasOwn(lesson.outputs, name) ? lesson.outputs[name] : undefined;
      return output?.type === "quantity" || output?.type === "returned" ? [`${output.label} ${write(output.kind.id as KindId, state.outputs[name] as number).replace(/[\u00a0\u202f]/g, " ")}`] : [];
    });
    return words.length === 0 ? "" : `, at ${words.slice(0, MOST_NAMED).join(", ")}`;
  };
  const measure = (claim: Claim, state: State): ReturnType<Test> => {
    try {
      if (state.outcome !== undefined || (claim.when !== undefined && !claim.when(state))) return undefined;
      const margin = claim.margin(state);
      return margin >= 0 ? { margin } : { broken: Number.isNaN(margin) ? "its margin is not a number" : `its margin is ${Number(margin.toPrecision(4))} (in SI; 0 or more holds)${madeOf(claim, state)}` };
    } catch (error) {
      return { broken: error instanceof Error ? error.message : String(error) };
    }
  };

  const samples = new Map(claims.map(([name]) => [name, 0]));
  const lowest = new Map<string, { inputs: Inputs; margin: number }[]>(claims.map(([name]) => [name, []]));
  const open = new Set(claims.map(([name]) => name));
  const test =
    (claim: Claim): Test =>
    (inputs) => {
      let state: State;
      try {
        state = stateAt(lesson, inputs, write);
      } catch {
        return undefined;
      }
      return measure(claim, state);
    };
  const brokenText = (claim: Claim) => (inputs: Inputs) => {
    const found = test(claim)(inputs);
    return found !== undefined && "broken" in found ? found.broken : "";
  };
  const note = (name: string, claim: Claim, inputs: Inputs, found: ReturnType<Test>): void => {
    if (found === undefined) return;
    samples.set(name, (samples.get(name) as number) + 1);
    if ("broken" in found) {
      failed(name, inputs, (tried) => brokenText(claim)(tried) !== "", brokenText(claim));
      open.delete(name);
      return;
    }
    const best = lowest.get(name) as { inputs: Inputs; margin: number }[];
    best.push({ inputs, margin: found.margin });
    best.sort((p, q) => p.margin - q.margin);
    best.length = Math.min(best.length, DESCENTS);
  };

  let inside = 0;
  const outer = [...points(lesson, 0)].length;
  for (const inputs of points(lesson, claims.length === 0 ? FEWEST_SAMPLES : MOST_INTERIOR)) {
    if (inside++ >= INTERIOR + outer && [...open].every((name) => (samples.get(name) as number) >= FEWEST_SAMPLES)) break;
    let state: State;
    try {
      state = stateAt(lesson, inputs, write);
      const wrong = state.outcome === undefined ? wrongOutput(lesson, state) : undefined;
      if (wrong !== undefined) throw new Error(wrong);
    } catch {
      failed("", inputs, (tried) => runFails(tried) !== undefined, (tried) => runFails(tried) ?? "");
      return { results, failures };
    }
    for (const [name, claim] of claims) if (open.has(name)) note(name, claim, inputs, measure(claim, state));
  }

  for (const [name, claim] of claims) {
    for (const from of [...(lowest.get(name) ?? [])]) if (open.has(name)) descend(lesson, from, test(claim), (inputs, found) => note(name, claim, inputs, found));
    results[name] = { samples: samples.get(name) as number, smallestMargin: lowest.get(name)?.[0]?.margin ?? Number.NaN };
  }
  return { results, failures };
};

/** Downhill from a state by steps along one input at a time, halved when none helps. */
const descend = (lesson: Lesson, from: { inputs: Inputs; margin: number }, test: Test, note: (inputs: Inputs, found: ReturnType<Test>) => void): void => {
  const quantities = Object.entries(lesson.inputs).filter((entry): entry is [string, QuantityInput] => entry[1].type === "quantity");
  let { inputs, margin } = from;
  let share = 1 / 8;
  for (let tried = 0; tried < DESCENT_STEPS && share > 1e-4; ) {
    let better = false;
    for (const [name, q] of quantities)
      for (const direction of [-1, 1]) {
        const value = clamp((inputs[name] as number) + direction * share * (q.to - q.from), q);
        if (value === inputs[name] || tried >= DESCENT_STEPS) continue;
        tried++;
        const next = { ...inputs, [name]: value };
        const found = test(next);
        note(next, found);
        if (found === undefined) continue;
        if ("broken" in found) return;
        if (found.margin < margin) {
          ({ margin } = found);
          inputs = next;
          better = true;
          break;
        }
      }
    if (!better) share /= 2;
  }
};

/** The search itself is part of what a result depends on. */
const OWN = createHash("sha256").update(readFileSync(fileURLToPath(import.meta.url))).digest("hex");

/** `searchClaims`, kept by content: `hash` identifies the lesson's code and numbers. */
export const cachedClaims = (lesson: Lesson, write: Write, cache: string, name: string, hash: string): Search => {
  const inputs = Object.values(lesson.inputs).map((input) => (input.type === "quantity" ? [input.start, input.from, input.to, input.step] : input.type === "choice" ? [input.start] : []));
  const key = createHash("sha256").update(JSON.stringify([hash, OWN, inputs])).digest("hex").slice(0, 20);
  const folder = join(cache, "claims");
  const file = `${name}.${key}.json`;
  const kept = readCached(folder, file);
  if (kept !== undefined) return JSON.parse(kept) as Search;
  const search = searchClaims(lesson, write);
  writeCached(folder, name, file, JSON.stringify(search));
  return search;
};
