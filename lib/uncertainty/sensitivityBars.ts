import { numbersOf } from "./propagate.ts";
import { endsOf, requireInputs, requireRun, type Run, type UncertainInputs } from "./uncertain.ts";

export interface SensitivityBarsInput {
  readonly run: Run;
  readonly inputs: UncertainInputs;
}

/** What an output becomes with one input at an end of its give or take; null: no such number there. */
export interface BarEnd {
  readonly input: number;
  readonly output: number | null;
}

export interface SensitivityBar {
  readonly input: string;
  readonly low: BarEnd;
  readonly high: BarEnd;
  /** Largest less smallest of the output at low, value and high. */
  readonly swing: number;
}

export interface WordChange {
  readonly input: string;
  readonly low: string | null;
  readonly high: string | null;
}

/**
 * Which inputs matter most: each taken alone to the low and the high end of its give or take, the others at their values.
 *
 * Model: one input at a time, so that each bar can be made by hand by setting that input to the end given. Says nothing of inputs
 * that matter only together. Bars are sorted by their swing; ends are cut at the input's bounds. Works in the units of `run`.
 *
 * @param run pure function of named numbers; its numbers get bars, its words are compared
 * @param inputs of each: value, give >= 0, shape normal or flat, and bounds from and to, if any [1]
 * @returns values of each number with every input at its value [1]
 * @returns bars of each number, the longest first: input, low and high (input there, output there or null) and swing [1]
 * @returns words of each word with every input at its value
 * @returns changes of each word: the inputs that change it alone, with the word at low and high, null where there is none
 * @returns outcome word in place of a result at the values, else null
 * @throws RangeError outside those ranges
 * @source common-practice, bars of one input at a time
 * @example sensitivityBars({ run: ({ speed, mass }) => ({ energy: (mass * speed * speed) / 2 }), inputs: { mass: { value: 900, give: 10 }, speed: { value: 15, give: 0.5 } } }).bars.energy[0].swing // 13500
 */
export const sensitivityBars = ({ run, inputs }: SensitivityBarsInput) => {
  requireRun("sensitivityBars", run);
  requireInputs("sensitivityBars", inputs);
  const present = Object.fromEntries(Object.entries(inputs).map(([name, { value }]) => [name, value]));
  const at = (change: Readonly<Record<string, number>>) => {
    const result = run({ ...present, ...change });
    return { numbers: numbersOf(result), words: wordsOf(result) };
  };
  const { numbers: values, words: { outcome, ...words } } = at({});
  const ends = Object.entries(inputs)
    .filter(([, { give }]) => give > 0)
    .map(([input, given]) => {
      const { low, high } = endsOf(given);
      return { input, low, high, below: at({ [input]: low }), above: at({ [input]: high }) };
    });
  const bars = Object.entries(values).map(([name, value]): [string, SensitivityBar[]] => {
    const bar = ({ input, low, high, below, above }: (typeof ends)[number]): SensitivityBar => {
      const seen = [value, below.numbers[name] ?? value, above.numbers[name] ?? value];
      return { input, low: { input: low, output: below.numbers[name] ?? null }, high: { input: high, output: above.numbers[name] ?? null }, swing: Math.max(...seen) - Math.min(...seen) };
    };
    return [name, ends.map(bar).sort((p, q) => q.swing - p.swing)];
  });
  const changes = Object.entries(words).map(([name, word]): [string, WordChange[]] => [
    name,
    ends.map(({ input, below, above }) => ({ input, low: below.words[name] ?? null, high: above.words[name] ?? null })).filter(({ low, high }) => low !== word || high !== word),
  ]);
  return { values, bars: Object.fromEntries(bars), words, changes: Object.fromEntries(changes), outcome: outcome ?? null };
};

/** Words of a result; of an outcome that alone. */
const wordsOf = (result: object): Record<string, string> => {
  const words = Object.entries(result).filter((entry): entry is [string, string] => typeof entry[1] === "string");
  return Object.fromEntries(words.some(([name]) => name === "outcome") ? words.filter(([name]) => name === "outcome") : words);
};
