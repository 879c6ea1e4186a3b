/** The crash beside the same natural code in C: stepping alone, and with all outputs. */
import { crash, crashOutputs } from "../../lib/event/crash.ts";
import { stepCrash } from "../../lib/event/stepping.ts";
import type { CrashInput, OccupiedVehicle } from "../../lib/event/types.ts";
import { vehiclesAlone } from "../../lib/event/vehiclesAlone.ts";
import { unloadingGive } from "../../lib/structure/forceCrushCurve.ts";
import { compiled } from "./compiled.ts";
import { heading, inTurn, ratios, row, timed, timeRow, timesOf } from "./timing.ts";

const ROUNDS = 40;
const REPEATS = 200;
/** Calls before timing, so that the compiler has settled. */
const WARM = 4000;
/** A JavaScript and a C sum in the same order agree to the last places. */
const AGREEMENT = 1e-9;
const PROMISES = { stepping: 1.5, whole: 2.5, crashesPerSecond: 10000 };

const inC = ({ mass, speed, front, unloading, occupants }: OccupiedVehicle): number[] => [
  mass, speed, unloadingGive(unloading), front.noseLength ?? Infinity, front.crush.length, ...front.crush, ...front.force, occupants.length,
  ...occupants.flatMap(({ torsoMass, headMass, belt, bag, space, interiorStiffness, neck }) => {
    if (belt === "none" || bag === "none") throw new TypeError("the bench runs occupants with belt and bag");
    return [torsoMass, headMass, belt.slack, belt.stiffness, (belt.limit === "none" ? Infinity : belt.limit) / belt.stiffness, bag.fireTime, bag.torsoGap, bag.torsoStiffness, bag.headGap, bag.headStiffness, space, interiorStiffness, neck.stiffness, neck.damping];
  }),
];

export const benchCrash = (input: CrashInput & { readonly step: number; readonly duration: number }): void => {
  const ask = compiled("crash.c");
  const question = [REPEATS, Math.round(input.duration / input.step), input.step, ...inC(input.a), ...inC(input.b)];
  const { deltaV, occupants, energy } = crashOutputs(input);
  const answers = ask?.(question).slice(2) ?? [];
  answers.forEach((answer, i) => {
    const own = [deltaV.a, occupants.a[0]?.hic15, occupants.a[1]?.chestClip, energy.after.sum][i] ?? NaN;
    if (!(Math.abs(own / answer - 1) < AGREEMENT)) throw new Error(`the two programs differ: ${own} here, ${answer} in C`);
  });
  for (let i = 0; i < WARM; i++) crashOutputs(input);
  let asked: number[] = [];
  const times = inTurn(
    {
      stepping: () => timed(() => stepCrash(input, false), REPEATS),
      whole: () => timed(() => crashOutputs(input), REPEATS),
      steppingInC: () => (asked = ask?.(question) ?? [])[0] ?? NaN,
      wholeInC: () => asked[1] ?? NaN,
    },
    ROUNDS,
  );
  heading("Reference crash, four occupants, step 0.25 ms", "microseconds");
  timeRow("stepping, JavaScript", timesOf(times.stepping));
  timeRow("stepping, C", timesOf(times.steppingInC));
  timeRow("all outputs, JavaScript", timesOf(times.whole));
  timeRow("all outputs, C", timesOf(times.wholeInC));
  if (ask !== null) {
    timeRow("stepping, JavaScript over C", ratios(times.stepping, times.steppingInC), `aim ${PROMISES.stepping}`);
    timeRow("all outputs, JavaScript over C", ratios(times.whole, times.wholeInC), `aim ${PROMISES.whole}`);
  }
  const perSecond = timesOf(times.whole.map((value) => -1e6 / value));
  row("  crashes a second on one core", ...[perSecond.least, perSecond.middle].map((value) => Math.round(-value).toLocaleString("en")), `aim ${PROMISES.crashesPerSecond.toLocaleString("en")} (best, median)`);
  // last, so that clearing up after kept traces falls on nothing else
  const others = inTurn({ traced: () => timed(() => crash(input), REPEATS), alone: () => timed(() => vehiclesAlone(input), 10 * REPEATS) }, ROUNDS / 2);
  timeRow("with traces, JavaScript", timesOf(others.traced));
  timeRow("vehicles alone, exact, JavaScript", timesOf(others.alone));
};
