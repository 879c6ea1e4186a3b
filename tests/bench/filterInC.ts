/** The channel filter beside the same code in C. */
import { channelFilterWeights, filterOnce } from "../../lib/pulse/channelFilter.ts";
import { compiled } from "./compiled.ts";
import { counterRandom } from "./noise.ts";
import { heading, inTurn, ratios, timed, timeRow, timesOf } from "./timing.ts";

const SAMPLES = 20000;
const ROUNDS = 20;
const REPEATS = 100;
const PROMISE = 1.3;

export const benchFilter = (): void => {
  const ask = compiled("filter.c");
  const weights = channelFilterWeights({ cfc: 180, sampleRate: 20000 });
  const samples = Float64Array.from({ length: SAMPLES }, (_, i) => Math.sin(i / 50) + counterRandom(i));
  const filtered = new Float64Array(SAMPLES);
  const both = (): void => {
    filtered.set(samples);
    filterOnce(filtered, weights, 1);
    filterOnce(filtered, weights, -1);
  };
  const { a0, a1, a2, b1, b2 } = weights;
  const question = [REPEATS, a0, a1, a2, b1, b2, SAMPLES, ...samples];
  for (let i = 0; i < REPEATS; i++) both();
  const sum = filtered.reduce((total, value) => total + value, 0);
  const answer = ask?.(question)[1] ?? sum;
  if (answer !== sum) throw new Error(`the two filters differ: ${sum} here, ${answer} in C`);
  const nanoseconds = (microseconds: number): number => (microseconds * 1000) / SAMPLES;
  const times = inTurn({ ours: () => nanoseconds(timed(both, REPEATS)), inC: () => nanoseconds(ask?.(question)[0] ?? NaN) }, ROUNDS);
  heading("Channel filter, forwards and backwards", "nanoseconds a sample");
  timeRow("JavaScript", timesOf(times.ours));
  timeRow("C", timesOf(times.inC));
  if (ask !== null) timeRow("JavaScript over C", ratios(times.ours, times.inC), `aim ${PROMISE}`);
};
