import { brent } from "../math/rootFinding.ts";
import type { TowedVehicle } from "./gravityTow.ts";

/** A vehicle on a line that stretches. */
export interface TowedOnLine extends TowedVehicle {
  /** Of the line, at the vehicle, > 0 [N/m]. */
  readonly stiffness: number;
  /** Of the line, at the vehicle, >= 0 [N s/m]. */
  readonly damping: number;
  /** Line to be taken up before it pulls, at the vehicle, >= 0 [m]. */
  readonly slack: number;
}

/** One line parts, or one vehicle stops dead and is held, when the mass has fallen by `drop`. */
export interface TowFailure {
  readonly kind: "parts" | "sticks";
  readonly vehicle: "a" | "b";
  /** >= 0 [m] */
  readonly drop: number;
}

export interface TowSetting {
  readonly drop: number;
  readonly fallingMass: number;
  readonly lines: readonly [TowedOnLine, TowedOnLine];
  readonly failure: { readonly kind: "parts" | "sticks"; readonly line: 0 | 1; readonly drop: number } | undefined;
  readonly gravity: number;
  readonly step: number;
  readonly duration: number;
}

// the state: fall and its rate, then for each line the vehicle's travel and velocity and the energy spent in pulleys, rolling and the line
const FALL = 0;
const FALL_RATE = 1;
const TRAVEL = 2;
const VELOCITY = 4;
const PULLEYS = 6;
const ROLLING = 8;
const DAMPING = 10;
const SIZE = 12;

/** What each part is doing; within one, the motion is smooth. */
interface Modes {
  frame: "down" | "up" | "held";
  /** idle: nothing on the line. */
  readonly vehicle: ["rolling" | "at rest" | "stuck" | "idle", "rolling" | "at rest" | "stuck" | "idle"];
  readonly taut: [boolean, boolean];
  readonly whole: [boolean, boolean];
  failing: boolean;
}

/** Switches of mode at one instant after which the step is taken as it is, so that rounding cannot hold time still. */
const MOST_SWITCHES = 20;

const BOTH = [0, 1] as const;

/**
 * The tow against time: classical Runge-Kutta of fixed step, fourth order, within each stretch of smooth motion. A step is cut at the root of
 * whatever ends a stretch: a line taut or slack, a vehicle starting or stopping, the mass turning back, the failure, the release.
 * What is spent in pulleys, rolling and the lines is integrated along, each from its own law.
 */
export const stepTow = ({ drop, fallingMass, lines, failure, gravity, step, duration }: TowSetting) => {
  // flat copies: read at every stage of every step
  const column = (value: (line: TowedOnLine) => number): Float64Array => Float64Array.from(lines, value);
  const mass = column((line) => line.mass);
  const reeving = column((line) => line.travelPerDrop);
  const efficiency = column((line) => line.efficiency);
  const stiffness = column((line) => line.stiffness);
  const damping = column((line) => line.damping);
  const slack = column((line) => line.slack);
  const rollingForce = column((line) => line.rollingResistance * line.mass * gravity);
  const modes: Modes = {
    frame: "down",
    vehicle: lines.map((line, i) => (line.mass === 0 ? "idle" : rollingForce[i] === 0 ? "rolling" : "at rest")) as unknown as Modes["vehicle"],
    taut: lines.map((line) => line.slack === 0 && line.mass > 0) as [boolean, boolean],
    whole: lines.map((line) => line.mass > 0) as [boolean, boolean],
    failing: failure !== undefined,
  };
  let state = new Float64Array(SIZE);
  let trial = new Float64Array(SIZE);
  const inner = new Float64Array(SIZE);
  const searched = new Float64Array(SIZE);
  const [k1, k2, k3, k4] = [0, 0, 0, 0].map(() => new Float64Array(SIZE)) as [Float64Array, Float64Array, Float64Array, Float64Array];

  const stretchOf = (s: Float64Array, i: 0 | 1): number => reeving[i]! * s[FALL]! - s[TRAVEL + i]! - slack[i]!;
  const stretchRateOf = (s: Float64Array, i: 0 | 1): number => reeving[i]! * s[FALL_RATE]! - s[VELOCITY + i]!;
  /** Force of spring and damper, whether or not the line can carry it. */
  const rawPull = (s: Float64Array, i: 0 | 1): number => stiffness[i]! * stretchOf(s, i) + damping[i]! * stretchRateOf(s, i);
  const pullOf = (s: Float64Array, i: 0 | 1): number => (modes.taut[i] ? Math.max(0, rawPull(s, i)) : 0);
  /** Of all lines on the frame, the pulleys' friction against a motion that way. */
  const load = (s: Float64Array, way: "down" | "up"): number => {
    let sum = 0;
    for (const i of BOTH) sum += reeving[i]! * pullOf(s, i) * (way === "down" ? 1 / efficiency[i]! : efficiency[i]!);
    return sum;
  };

  const rates = (s: Float64Array, r: Float64Array): void => {
    const rate = s[FALL_RATE]!;
    r[FALL] = rate;
    let pulled = 0;
    for (const i of BOTH) {
      const pull = modes.taut[i] ? rawPull(s, i) : 0;
      const velocity = s[VELOCITY + i]!;
      const rolling = modes.vehicle[i] === "rolling";
      r[TRAVEL + i] = velocity;
      r[VELOCITY + i] = rolling ? (pull - rollingForce[i]!) / mass[i]! : 0;
      r[ROLLING + i] = rolling ? rollingForce[i]! * velocity : 0;
      const atFrame = modes.frame === "up" ? pull * efficiency[i]! : pull / efficiency[i]!;
      pulled += reeving[i]! * atFrame;
      r[PULLEYS + i] = (atFrame - pull) * reeving[i]! * rate;
      const stretch = modes.whole[i] ? stretchOf(s, i) : 0;
      const stretchRate = stretchRateOf(s, i);
      // a line that goes slack before its spring is back at rest spends what is left inside itself
      r[DAMPING + i] = modes.taut[i] ? damping[i]! * stretchRate ** 2 : stretch > 0 && stretchRate < 0 ? -stiffness[i]! * stretch * stretchRate : 0;
    }
    r[FALL_RATE] = modes.frame === "held" ? 0 : gravity - pulled / fallingMass;
  };

  /** From `state`, whose rates are in k1, by h. */
  const advance = (h: number, to: Float64Array): void => {
    for (let j = 0; j < SIZE; j++) inner[j] = state[j]! + (h / 2) * k1[j]!;
    rates(inner, k2);
    for (let j = 0; j < SIZE; j++) inner[j] = state[j]! + (h / 2) * k2[j]!;
    rates(inner, k3);
    for (let j = 0; j < SIZE; j++) inner[j] = state[j]! + h * k3[j]!;
    rates(inner, k4);
    for (let j = 0; j < SIZE; j++) to[j] = state[j]! + (h / 6) * (k1[j]! + 2 * k2[j]! + 2 * k3[j]! + k4[j]!);
  };

  // each end of a stretch: above zero once it is over
  const released = (s: Float64Array): number => s[FALL]! - drop;
  const failed = (s: Float64Array): number => (failure && modes.failing ? s[FALL]! - failure.drop : -1);
  const lineTurns = (i: 0 | 1) => (s: Float64Array): number => {
    if (!modes.whole[i]) return -1;
    // compared as lengths: what the damper can hold, or the spring alone
    const carries = Math.min(stretchOf(s, i), rawPull(s, i) / stiffness[i]!);
    return modes.taut[i] ? -carries : carries;
  };
  const frameTurns = (s: Float64Array): number => {
    if (modes.frame === "down") return -s[FALL_RATE]!;
    if (modes.frame === "up") return s[FALL_RATE]!;
    return Math.max(fallingMass * gravity - load(s, "down"), load(s, "up") - fallingMass * gravity);
  };
  const vehicleTurns = (i: 0 | 1) => (s: Float64Array): number => (modes.vehicle[i] === "rolling" ? -s[VELOCITY + i]! : modes.vehicle[i] === "at rest" ? pullOf(s, i) - rollingForce[i]! : -1);
  const ends = [released, failed, lineTurns(0), lineTurns(1), frameTurns, vehicleTurns(0), vehicleTurns(1)] as const;

  const recoil = [0, 0] as [number, number];
  const stopped = [0, 0] as [number, number];
  const springEnergy = (s: Float64Array, i: 0 | 1): number => (modes.whole[i] ? (stiffness[i]! * Math.max(0, stretchOf(s, i)) ** 2) / 2 : 0);

  /** Passes into the next stretch. True when the tow is over. */
  const change = (end: (typeof ends)[number]): boolean => {
    if (end === released) return true;
    if (end === failed && failure) {
      modes.failing = false;
      const i = failure.line;
      if (failure.kind === "parts") {
        recoil[i] += springEnergy(state, i);
        modes.whole[i] = modes.taut[i] = false;
      } else if (modes.vehicle[i] !== "idle") {
        stopped[i] += (mass[i]! * state[VELOCITY + i]! ** 2) / 2;
        state[VELOCITY + i] = 0;
        modes.vehicle[i] = "stuck";
      }
      return false;
    }
    if (end === frameTurns) {
      const weight = fallingMass * gravity;
      const down = weight - load(state, "down");
      const up = load(state, "up") - weight;
      // let go, it moves the way it was let go; just stopped, it may be held by the pulleys' friction
      if (modes.frame === "held") modes.frame = down >= up ? "down" : "up";
      else {
        state[FALL_RATE] = 0;
        modes.frame = up > 0 ? "up" : down > 0 ? "down" : "held";
      }
    }
    for (const i of BOTH) {
      if (end === ends[2 + i]) modes.taut[i] = !modes.taut[i];
      if (end === ends[5 + i]) {
        if (modes.vehicle[i] === "rolling") state[VELOCITY + i] = 0;
        modes.vehicle[i] = modes.vehicle[i] === "rolling" ? "at rest" : "rolling";
      }
    }
    return false;
  };

  const peakPull = [0, 0] as [number, number];
  const peakTime = [0, 0] as [number, number];
  const peakAcceleration = [0, 0] as [number, number];
  const note = (i: 0 | 1, pull: number, time: number): void => {
    if (pull > peakPull[i]) {
      peakPull[i] = pull;
      peakTime[i] = time;
    }
    if (modes.vehicle[i] === "rolling") peakAcceleration[i] = Math.max(peakAcceleration[i], Math.abs(pull - rollingForce[i]!) / mass[i]!);
  };
  const pullRate = (s: Float64Array, r: Float64Array, i: 0 | 1): number => stiffness[i]! * stretchRateOf(s, i) + damping[i]! * (reeving[i]! * r[FALL_RATE]! - r[VELOCITY + i]!);
  const before = { pull: [0, 0], rate: [0, 0] };
  /** The top of the cubic through pulls and their rates at both ends of a step, where it has one. */
  const notePeaks = (time: number, h: number): void => {
    for (const i of BOTH) {
      const from = before.pull[i]!;
      const to = pullOf(state, i);
      note(i, to, time);
      const rise = h * before.rate[i]!;
      const fall = h * pullRate(state, k1, i);
      if (!modes.taut[i] || !(rise > 0 && fall < 0)) continue;
      const a = 2 * (from - to) + rise + fall;
      const b = 3 * (to - from) - 2 * rise - fall;
      const share = rise / (Math.sqrt(b * b - 3 * a * rise) - b);
      note(i, from + share * (rise + share * (b + share * a)), time - h + share * h);
    }
  };

  const trace = { time: [] as number[], fall: [] as number[], frameVelocity: [] as number[], travel: [[], []] as [number[], number[]], velocity: [[], []] as [number[], number[]], pull: [[], []] as [number[], number[]] };
  const record = (time: number): void => {
    trace.time.push(time);
    trace.fall.push(state[FALL]!);
    trace.frameVelocity.push(state[FALL_RATE]!);
    for (const i of BOTH) {
      // the end of an idle line runs as the reeving says
      const idle = modes.vehicle[i] === "idle";
      trace.travel[i].push(idle ? reeving[i]! * state[FALL]! : state[TRAVEL + i]!);
      trace.velocity[i].push(idle ? reeving[i]! * state[FALL_RATE]! : state[VELOCITY + i]!);
      trace.pull[i].push(pullOf(state, i));
    }
  };

  let time = 0;
  let over = false;
  record(0);
  rates(state, k1);
  for (let n = 1; !over && time < duration; n++) {
    const target = Math.min(duration, n * step);
    let switches = 0;
    for (;;) {
      const left = target - time;
      for (const i of BOTH) {
        before.pull[i] = pullOf(state, i);
        before.rate[i] = pullRate(state, k1, i);
      }
      advance(left, trial);
      let share = 1;
      let first: (typeof ends)[number] | undefined;
      if (switches < MOST_SWITCHES)
        for (const end of ends) {
          if (!(end(trial) > 0)) continue;
          const root =
            end(state) >= 0
              ? 0
              : brent(
                  (part) => {
                    advance(part * left, searched);
                    return end(searched);
                  },
                  0,
                  1,
                );
          if (first === undefined || root < share) {
            share = root;
            first = end;
          }
        }
      if (first) advance(share * left, trial);
      [state, trial] = [trial, state];
      time = first ? time + share * left : target;
      rates(state, k1);
      notePeaks(time, share * left);
      if (!first) break;
      switches++;
      over = change(first);
      rates(state, k1);
      for (const i of BOTH) note(i, pullOf(state, i), time);
      if (over) break;
    }
    record(time);
  }

  const pair = (value: (i: 0 | 1) => number) => ({ a: value(0), b: value(1) });
  const idle = (i: 0 | 1): boolean => modes.vehicle[i] === "idle";
  const energy = {
    weight: fallingMass * gravity * state[FALL]!,
    frame: (fallingMass * state[FALL_RATE]! ** 2) / 2,
    kinetic: pair((i) => (mass[i]! * state[VELOCITY + i]! ** 2) / 2),
    rolling: pair((i) => state[ROLLING + i]!),
    line: pair((i) => state[PULLEYS + i]!),
    stretch: pair((i) => springEnergy(state, i)),
    damping: pair((i) => state[DAMPING + i]!),
    recoil: pair((i) => recoil[i]),
    stopped: pair((i) => stopped[i]),
  };
  return {
    released: over,
    time,
    fall: state[FALL]!,
    frameVelocity: state[FALL_RATE]!,
    speed: pair((i) => (idle(i) ? reeving[i]! * state[FALL_RATE]! : state[VELOCITY + i]!)),
    travel: pair((i) => (idle(i) ? reeving[i]! * state[FALL]! : state[TRAVEL + i]!)),
    peakPull: pair((i) => peakPull[i]),
    peakTime: pair((i) => peakTime[i]),
    peakAcceleration: pair((i) => peakAcceleration[i]),
    energy,
    trace,
  };
};
