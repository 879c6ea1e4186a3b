/** The runs of a study, as columns: they can be made in parts, anywhere, and joined. */
import { requireFinite, requireThat } from "../check.ts";
import { drawer } from "./draws.ts";
import { type Correlation, requireCorrelations, requireInputs, requireRun, type Run, type UncertainInputs } from "./uncertain.ts";

export interface Sampling {
  readonly inputs: UncertainInputs;
  readonly correlations?: readonly Correlation[];
  /** Whole 32-bit number; the same seed gives the same draws. */
  readonly seed: number;
}

/** Runs `from` up to, not with, `to`. A column has one entry a run. */
export interface StudyRuns {
  readonly from: number;
  readonly to: number;
  readonly inputs: Readonly<Record<string, Float64Array>>;
  /** NaN where a run gave no such number. */
  readonly numbers: Readonly<Record<string, Float64Array>>;
  /** Null where a run gave no such word. */
  readonly words: Readonly<Record<string, readonly (string | null)[]>>;
  /** Null where a run gave a result. */
  readonly outcomes: readonly (string | null)[];
}

const MOST_RUNS = 2 ** 32;

export const requireWhole = (kernel: string, name: string, value: number, least: number, most: number): void => {
  requireFinite(kernel, name, value);
  requireThat(Number.isInteger(value) && value >= least && value <= most, kernel, name, `a whole number from ${least} to ${most}`, value);
};

/** Refuses what cannot be sampled. */
export const requireSampling = (kernel: string, { inputs, correlations = [], seed }: Sampling): void => {
  requireInputs(kernel, inputs);
  requireCorrelations(kernel, Object.keys(inputs), correlations);
  requireWhole(kernel, "seed", seed, 0, MOST_RUNS - 1);
};

/** One run's numbers and words, as the columns of a study hold them; anything else a run returns is left out. */
export const drawRuns = (run: Run, sampling: Sampling, from: number, to: number, kernel = "drawRuns"): StudyRuns => {
  requireRun(kernel, run);
  requireSampling(kernel, sampling);
  requireWhole(kernel, "from", from, 0, MOST_RUNS);
  requireWhole(kernel, "to", to, from, MOST_RUNS);
  const draw = drawer(kernel, sampling.inputs, sampling.correlations ?? [], sampling.seed);
  const count = to - from;
  const inputs = Object.fromEntries(Object.keys(sampling.inputs).map((name) => [name, new Float64Array(count)]));
  const numbers = new Map<string, Float64Array>();
  const words = new Map<string, (string | null)[]>();
  const columnIn = <C>(columns: Map<string, C>, name: string, make: () => C): C => {
    const column = columns.get(name) ?? make();
    columns.set(name, column);
    return column;
  };
  const noNumbers = (): Float64Array => new Float64Array(count).fill(NaN);
  const noWords = (): (string | null)[] => new Array<string | null>(count).fill(null);
  const outcomes = noWords();
  for (let i = 0; i < count; i++) {
    const drawn = draw(from + i);
    for (const name in inputs) (inputs[name] as Float64Array)[i] = drawn[name] as number;
    const result = run(drawn) as Record<string, unknown>;
    if (typeof result["outcome"] === "string") {
      outcomes[i] = result["outcome"];
      continue;
    }
    for (const name in result) {
      const value = result[name];
      if (typeof value === "number") columnIn(numbers, name, noNumbers)[i] = Number.isFinite(value) ? value : NaN;
      else if (typeof value === "string") columnIn(words, name, noWords)[i] = value;
    }
  }
  return { from, to, inputs, numbers: Object.fromEntries(numbers), words: Object.fromEntries(words), outcomes };
};

/** Parts of one study as one, in the order of their runs, whatever the order they are given in. */
export const joinRuns = (parts: readonly StudyRuns[]): StudyRuns => {
  const sorted = [...parts].filter((part) => part.to > part.from).sort((p, q) => p.from - q.from);
  const from = sorted[0]?.from ?? 0;
  const to = sorted.at(-1)?.to ?? 0;
  sorted.forEach((part, i) => requireThat(i === 0 || part.from === sorted[i - 1]?.to, "joinRuns", "parts", `without gap or overlap (runs ${part.from} to ${part.to} do not follow on ${sorted[i - 1]?.to})`, part.from));
  const names = (of: (part: StudyRuns) => object): string[] => [...new Set(sorted.flatMap((part) => Object.keys(of(part))))];
  const columns = (of: (part: StudyRuns) => Readonly<Record<string, Float64Array>>): Record<string, Float64Array> =>
    Object.fromEntries(
      names(of).map((name) => {
        const column = new Float64Array(to - from).fill(NaN);
        for (const part of sorted) column.set(of(part)[name] ?? [], part.from - from);
        return [name, column];
      }),
    );
  const missing = (part: StudyRuns): null[] => new Array<null>(part.to - part.from).fill(null);
  return {
    from,
    to,
    inputs: columns((part) => part.inputs),
    numbers: columns((part) => part.numbers),
    words: Object.fromEntries(names((part) => part.words).map((name) => [name, sorted.flatMap((part) => part.words[name] ?? missing(part))])),
    outcomes: sorted.flatMap((part) => part.outcomes),
  };
};
