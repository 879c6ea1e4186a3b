import { uniform } from "../../lib/math/random.ts";

const SEED = 20001;
/** Between 0 and 1, the same in every run. */
export const counterRandom = (i: number): number => uniform(SEED, i, 0);
