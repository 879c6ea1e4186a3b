/**
 * The crash through two general-purpose solvers, at equal accuracy. The law is written as for any such solver: a function from a
 * state to its rates, arrays in and out, with what a part has suffered so far (overlap given back, stretch of the belt) as states of
 * its own, which stand still, exactly, while the front is loaded and the belt pays out.
 */
import { createRequire } from "node:module";
import * as mathjs from "mathjs";
import { crashOutputs } from "../../lib/event/crash.ts";
import { stepCrash } from "../../lib/event/stepping.ts";
import type { CrashInput, CrashOccupant } from "../../lib/event/types.ts";
import { headInjuryCriterion } from "../../lib/injury/headInjuryCriterion.ts";
import { forceAt, seriesCurve, unloadingGive } from "../../lib/structure/forceCrushCurve.ts";
import { fromSI } from "../../lib/units.ts";
import { REFERENCE } from "../lib/event/referenceCrash.ts";
import { heading, inTurn, ratios, row, timed, timeRow, timesOf } from "./timing.ts";

// loaded without its types: the package ships TypeScript source that this project's stricter rules refuse
interface Integrator {
  absoluteTolerance: number;
  relativeTolerance: number;
  denseOutput: boolean;
  grid(interval: number, out: (time: number, state: number[]) => void): unknown;
  solve(rates: Rates, from: number, start: number[], to: number, out: unknown): unknown;
}
const { Solver } = createRequire(import.meta.url)("odex") as { Solver: new (size: number) => Integrator };

type SolveODE = (rates: Rates, span: number[], start: number[], options: object) => { readonly t: number[]; readonly y: number[][] };
// missing from its types
const { solveODE } = mathjs as unknown as { readonly solveODE: SolveODE };

type Rates = (time: number, state: readonly number[]) => number[];

const ROUNDS = 9;
const PROMISES = { odex: 100, mathjs: 500 };
/** What both sides keep, in every answer compared. */
const EQUAL = 1e-3;
/** Tolerance at which odex keeps it. */
const TOLERANCE = 1e-6;
/** Longest step [s] at which mathjs keeps it; left to itself it steps over the contacts, and a tight tolerance it never meets. */
const CAP = 0.0005;
const LOOSE = 10;
/** Traces of odex [s]. */
const GRID = 0.00025;

/** First index of the occupants: before them each vehicle's position and velocity, and the overlap given back since the deepest. */
const FIRST = 5;
/** Of each: torso and head, position and velocity, and stretch of the belt (below 0: slack). */
const EACH = 5;

const ratesOf = ({ a, b }: CrashInput): Rates => {
  const front = seriesCurve(a.front, b.front);
  const give = unloadingGive(a.unloading) + unloadingGive(b.unloading);
  const people: readonly (readonly [0 | 2, CrashOccupant])[] = [...a.occupants.map((o) => [0, o] as const), ...b.occupants.map((o) => [2, o] as const)];
  return (time, y) => {
    const [xA, vA, xB, vB, givenBack] = y as [number, number, number, number, number];
    const closing = vA + vB;
    const back = Math.max(0, givenBack);
    const force = Math.max(0, forceAt(front, Math.max(0, xA + xB + back)) - back / give);
    const push = [0, 0, 0];
    const rates = [vA, 0, vB, 0, givenBack <= 0 && closing > 0 ? 0 : -closing];
    people.forEach(([vehicle, { torsoMass, headMass, belt, bag, space, interiorStiffness, neck }], k) => {
      const [torso, torsoVelocity, head, headVelocity, stretch] = y.slice(FIRST + k * EACH, FIRST + (k + 1) * EACH) as [number, number, number, number, number];
      const travel = torso - y[vehicle]!;
      const headTravel = head - y[vehicle]!;
      let hold = interiorStiffness * Math.max(0, travel - space);
      let headHold = 0;
      let lengthening = 0;
      if (belt !== "none") {
        const reach = belt.limit === "none" ? Infinity : belt.limit / belt.stiffness;
        const stretching = torsoVelocity - y[vehicle + 1]!;
        hold += belt.stiffness * Math.min(reach, Math.max(0, stretch));
        lengthening = stretch >= reach && stretching > 0 ? 0 : stretching;
      }
      if (bag !== "none" && time >= bag.fireTime) {
        hold += bag.torsoStiffness * Math.max(0, travel - bag.torsoGap);
        headHold = bag.headStiffness * Math.max(0, headTravel - bag.headGap);
      }
      const pull = neck.stiffness * (headTravel - travel) + neck.damping * (headVelocity - torsoVelocity);
      push[vehicle]! += hold + headHold;
      rates.push(torsoVelocity, (pull - hold) / torsoMass, headVelocity, -(pull + headHold) / headMass, lengthening);
    });
    rates[1] = (push[0]! - force) / a.mass;
    rates[3] = (push[2]! - force) / b.mass;
    return rates;
  };
};

const startOf = ({ a, b }: CrashInput): number[] => [0, a.speed, 0, b.speed, 0, ...[a, b].flatMap(({ speed, occupants }) => occupants.flatMap(({ belt }) => [0, speed, 0, speed, belt === "none" ? 0 : -belt.slack]))];

interface Solved {
  readonly time: readonly number[];
  readonly states: readonly (readonly number[])[];
}

const byOdex = (rates: Rates, start: number[], to: number): Solved => {
  const solver = new Solver(start.length);
  solver.absoluteTolerance = solver.relativeTolerance = TOLERANCE;
  solver.denseOutput = true;
  const time: number[] = [];
  const states: number[][] = [];
  solver.solve(rates, 0, start, to, solver.grid(GRID, (t, y) => {
    time.push(t);
    states.push(y.slice());
  }));
  return { time, states };
};

const byMathjs = (rates: Rates, start: number[], to: number): Solved => {
  const { t, y } = solveODE(rates, [0, to], start, { method: "RK45", tol: LOOSE, firstStep: CAP, maxStep: CAP });
  return { time: t, states: y };
};

/** Changes of velocity, then peak chest accelerations [gn] and head criteria of all occupants. */
type Answers = readonly number[];

const answersOf = (rates: Rates, { time, states }: Solved): Answers => {
  const first = states[0]!;
  const last = states.at(-1)!;
  const each = states.map((state, i) => rates(time[i]!, state));
  const people = Array.from({ length: (first.length - FIRST) / EACH }, (_, k) => FIRST + k * EACH);
  return [
    last[1]! - first[1]!,
    last[3]! - first[3]!,
    ...people.map((p) => fromSI(Math.max(...each.map((rate) => Math.abs(rate[p + 1]!))), "gn")),
    ...people.map((p) => headInjuryCriterion({ time, acceleration: each.map((rate) => rate[p + 3]!), window: 0.015 }).value),
  ];
};

const TRUE: Answers = [...REFERENCE.deltaV, ...REFERENCE.chestPeak, ...REFERENCE.hic15];
const worst = (answers: Answers): number => Math.max(...answers.map((value, i) => Math.abs(value / TRUE[i]! - 1)));

export const benchOdeLibraries = (input: CrashInput & { readonly duration: number }): void => {
  const rates = ratesOf(input);
  const start = startOf(input);
  const odex = (): Solved => byOdex(rates, start, input.duration);
  const mathjs = (): Solved => byMathjs(rates, start, input.duration);
  const { deltaV, occupants } = crashOutputs(input);
  const all = [...occupants.a, ...occupants.b];
  const errors = { ours: worst([deltaV.a, deltaV.b, ...all.map((o) => fromSI(o.chestPeak, "gn")), ...all.map((o) => o.hic15)]), odex: worst(answersOf(rates, odex())), mathjs: worst(answersOf(rates, mathjs())) };
  for (let i = 0; i < 20; i++) odex();
  for (let i = 0; i < 10; i++) mathjs();
  const times = inTurn({ ours: () => timed(() => stepCrash(input, false), 200), outputs: () => timed(() => crashOutputs(input), 100), odex: () => timed(odex, 10), mathjs: () => timed(mathjs, 3) }, ROUNDS);
  heading("The same crash through general solvers: accelerations against time", "microseconds");
  timeRow("stepping, default step", timesOf(times.ours), `worst error ${errors.ours.toExponential(1)}`);
  timeRow(`odex, tolerance ${TOLERANCE}`, timesOf(times.odex), `worst error ${errors.odex.toExponential(1)}`);
  timeRow(`mathjs RK45, steps of at most ${CAP * 1000} ms`, timesOf(times.mathjs), `worst error ${errors.mathjs.toExponential(1)}`);
  timeRow("odex over stepping", ratios(times.odex, times.ours), `aim ${PROMISES.odex} or more`);
  timeRow("mathjs over stepping", ratios(times.mathjs, times.ours), `aim ${PROMISES.mathjs} or more`);
  timeRow("odex over all our outputs", ratios(times.odex, times.outputs));
  timeRow("mathjs over all our outputs", ratios(times.mathjs, times.outputs));
  if (Math.max(...Object.values(errors)) > EQUAL) row(`  NOT EQUAL: an error is above ${EQUAL}`);
};
