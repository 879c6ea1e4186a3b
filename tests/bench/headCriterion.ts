/** The head injury criterion of a long record, against every window in turn. */
import { STANDARD_GRAVITY } from "../../lib/constants.ts";
import { headInjuryCriterion } from "../../lib/injury/headInjuryCriterion.ts";
import { counterRandom } from "./noise.ts";
import { heading, inTurn, ratios, row, timed, timeRow, timesOf } from "./timing.ts";

const SAMPLES = 20001;
/** 20 kHz. */
const INTERVAL = 0.00005;
const WINDOW = 0.015;
const ROUNDS = 15;
const REPEATS = 20;
const PROMISE = 200;
const EXACT = 1e-12;

/** Two pulses on a noisy floor [m/s^2]. */
const record = (): Float64Array => {
  const pulse = (t: number, at: number, length: number): number => (t < at || t > at + length ? 0 : Math.sin((Math.PI * (t - at)) / length) ** 2);
  return Float64Array.from({ length: SAMPLES }, (_, i) => 900 * pulse(i * INTERVAL, 0.05, 0.03) + 700 * pulse(i * INTERVAL, 0.3, 0.06) + 40 * (counterRandom(i) - 0.5));
};

/** The definition, in natural code: x^2.5 by a root, not by a power, which would take ten times as long. */
const everyWindow = (acceleration: Float64Array): number => {
  const n = acceleration.length;
  const widest = Math.round(WINDOW / INTERVAL);
  const velocity = new Float64Array(n);
  for (let i = 1; i < n; i++) velocity[i] = velocity[i - 1]! + ((Math.abs(acceleration[i - 1]!) + Math.abs(acceleration[i]!)) / 2) * INTERVAL;
  let most = 0;
  for (let i = 0; i < n; i++)
    for (let w = 1; w <= widest && i + w < n; w++) {
      const time = w * INTERVAL;
      const mean = (velocity[i + w]! - velocity[i]!) / time / STANDARD_GRAVITY;
      const value = time * mean * mean * Math.sqrt(mean);
      if (value > most) most = value;
    }
  return most;
};

export const benchHeadCriterion = (): void => {
  const acceleration = record();
  const ours = (): number => headInjuryCriterion({ sampleInterval: INTERVAL, acceleration, window: WINDOW }).value;
  const apart = Math.abs(ours() / everyWindow(acceleration) - 1);
  if (!(apart < EXACT)) throw new Error(`the head injury criterion is not exact: ${apart}`);
  for (let i = 0; i < 20 * REPEATS; i++) ours();
  const times = inTurn({ ours: () => timed(ours, REPEATS), every: () => timed(() => everyWindow(acceleration), 1) }, ROUNDS);
  heading(`Head injury criterion, ${SAMPLES.toLocaleString("en")} samples, windows of up to ${WINDOW * 1000} ms`, "microseconds");
  timeRow("headInjuryCriterion", timesOf(times.ours));
  timeRow("every window in turn", timesOf(times.every));
  timeRow("every window over ours", ratios(times.every, times.ours), `aim ${PROMISE} or more`);
  row("  relative difference", apart.toExponential(1), "", `aim ${EXACT}`);
};
