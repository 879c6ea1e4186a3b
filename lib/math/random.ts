import { requireThat } from "../check.ts";
import { normalQuantile } from "./normalQuantile.ts";

const ROUNDS = 10;

/** Upper 32 bits of a product of two unsigned 32-bit numbers. */
const multiplyHigh = (a: number, b: number): number => {
  const aLow = a & 0xffff;
  const aHigh = a >>> 16;
  const bLow = b & 0xffff;
  const bHigh = b >>> 16;
  const middle = aHigh * bLow + ((aLow * bLow) >>> 16);
  const carried = aLow * bHigh + (middle & 0xffff);
  return (aHigh * bHigh + Math.floor(middle / 65536) + Math.floor(carried / 65536)) >>> 0;
};

/**
 * Four random 32-bit words that depend on counter and key alone, so that any sample can be drawn again without its
 * predecessors, in any order and on any number of workers. Philox 4x32 with ten rounds.
 *
 * @source salmon-2011, section 3.3
 */
export const philox = (counter: readonly [number, number, number, number], key: readonly [number, number]): readonly [number, number, number, number] => {
  let [c0, c1, c2, c3] = counter;
  let [k0, k1] = key;
  for (let round = 0; round < ROUNDS; round++) {
    const n0 = (multiplyHigh(0xcd9e8d57, c2 >>> 0) ^ c1 ^ k0) >>> 0;
    const n2 = (multiplyHigh(0xd2511f53, c0 >>> 0) ^ c3 ^ k1) >>> 0;
    c1 = Math.imul(0xcd9e8d57, c2) >>> 0;
    c3 = Math.imul(0xd2511f53, c0) >>> 0;
    c0 = n0;
    c2 = n2;
    k0 = (k0 + 0x9e3779b9) | 0;
    k1 = (k1 + 0xbb67ae85) | 0;
  }
  return [c0, c1, c2, c3];
};

const requireWord = (kernel: string, name: string, value: number): void =>
  requireThat(Number.isInteger(value) && value >= 0 && value <= 0xffffffff, kernel, name, "a whole number from 0 to 4294967295", value);

/**
 * Random number above 0 and below 1, evenly spread, of one seed, sample index and stream (one stream for each uncertain input).
 *
 * @throws RangeError unless all three are whole 32-bit numbers
 * @source salmon-2011, section 3.3
 */
export const uniform = (seed: number, index: number, stream = 0): number => {
  requireWord("uniform", "seed", seed);
  requireWord("uniform", "index", index);
  requireWord("uniform", "stream", stream);
  const [high, low] = philox([index, stream, 0, 0], [seed, 0]);
  // 52 bits and a half: never 0, never 1, both ends alike.
  return ((high >>> 0) * 1048576 + (low >>> 12) + 0.5) / 4503599627370496;
};

/**
 * Random number of mean 0 and standard deviation 1, normally spread, of one seed, sample index and stream.
 *
 * @throws RangeError unless all three are whole 32-bit numbers
 * @source salmon-2011, section 3.3
 * @source wichura-1988, PPND16
 */
export const normal = (seed: number, index: number, stream = 0): number => normalQuantile(uniform(seed, index, stream));
