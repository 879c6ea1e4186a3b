/**
 * What is stepped through time, against odex 2.0.4, a general-purpose adaptive extrapolation solver (Hairer, Norsett and Wanner's
 * method). The laws are written out again below, from the models in words, with what a part has suffered so far (deepest overlap,
 * belt paid out) as states of their own. The solver starts anew every half millisecond or so: an adaptive solver can step over a contact.
 */
import fc from "fast-check";
import { createRequire } from "node:module";
import { describe, expect, test } from "vitest";
import { crash, integratePulse, towMotion, type CrashInput, type CrashOccupant, type ForceCrushCurve, type TowedOnLine, type TowMotionInput } from "../../lib/index.ts";
import { referenceCrash } from "../lib/event/referenceCrash.ts";

// loaded without its types: the package ships TypeScript source that this project's stricter rules refuse
interface Integrator {
  absoluteTolerance: number;
  relativeTolerance: number;
  solve(rates: (time: number, state: number[]) => number[], from: number, start: number[], to: number): { y: number[] };
}
const { Solver } = createRequire(import.meta.url)("odex") as { Solver: new (size: number) => Integrator };

/** Of a state, in the piece of time that begins at `since`. */
type Rates = (since: number, state: readonly number[]) => number[];

/** The state at each time of a rising list that begins at 0; `settle` puts right what a history overran before the solver begins anew. */
const solve = (rates: Rates, start: readonly number[], times: readonly number[], tolerance: number, settle: (state: number[], before: readonly number[]) => number[]): number[][] => {
  const solver = new Solver(start.length);
  solver.absoluteTolerance = solver.relativeTolerance = tolerance;
  const states = [[...start]];
  for (let i = 1; i < times.length; i++) {
    const since = times[i - 1] as number;
    states.push(settle(solver.solve((_, state) => rates(since, state), since, states[i - 1] as number[], times[i] as number).y, states[i - 1] as number[]));
  }
  return states;
};

const at = (state: readonly number[], i: number): number => state[i] as number;

// ---------------------------------------------------------------- the crash

/**
 * Before the occupants: position and velocity of each vehicle, overlap given back since the deepest. Of each occupant: torso and head
 * (travel over the ground, velocity), stretch of the belt (below 0: slack). Both histories stand still, exactly, while the front is
 * loaded or the belt pays out, so that neither drifts.
 */
const GIVEN_BACK = 4;
const FIRST = 5;
const EACH = 5;

interface Rider extends CrashOccupant {
  readonly vehicle: 0 | 1;
  readonly from: number;
}

const riders = ({ a, b }: CrashInput): Rider[] => [...a.occupants.map((o) => ({ ...o, vehicle: 0 as const })), ...b.occupants.map((o) => ({ ...o, vehicle: 1 as const }))].map((o, k) => ({ ...o, from: FIRST + k * EACH }));

const HALVINGS = 45;
/** Force on a front at a crush, by the straight part that holds it. */
const forceOn = ({ crush, force }: ForceCrushCurve, depth: number): number => {
  let i = 1;
  while (i < crush.length - 1 && depth > at(crush, i)) i++;
  return at(force, i - 1) + ((at(force, i) - at(force, i - 1)) * (depth - at(crush, i - 1))) / (at(crush, i) - at(crush, i - 1));
};
/** Force that two fronts share at an overlap, by halving: another way than the joint curve of the kernel. */
const sharedForce = ({ a, b }: CrashInput, overlap: number): { force: number; crushA: number } => {
  let low = 0;
  let high = overlap;
  for (let i = 0; i < HALVINGS; i++) {
    const crushA = (low + high) / 2;
    if (forceOn(a.front, crushA) < forceOn(b.front, overlap - crushA)) low = crushA;
    else high = crushA;
  }
  return { force: forceOn(a.front, low), crushA: low };
};

const crashRates = (input: CrashInput): Rates => {
  const { a, b } = input;
  const people = riders(input);
  const mass = [a, b].map((vehicle) => vehicle.mass - vehicle.occupants.reduce((sum, o) => sum + (o.counted === "inside" ? o.torsoMass + o.headMass : 0), 0));
  const unloading = (vehicle: typeof a): number => (vehicle.unloading === "none" ? NaN : vehicle.unloading.stiffness);
  const springBack = 1 / (1 / unloading(a) + 1 / unloading(b));
  return (since, y) => {
    const rates = new Array<number>(y.length).fill(0);
    const overlap = at(y, 0) + at(y, 2);
    const closing = at(y, 1) + at(y, 3);
    const givenBack = Math.max(0, at(y, GIVEN_BACK));
    const deepest = Math.max(0, overlap + givenBack);
    const { force: peak, crushA } = sharedForce(input, deepest);
    const force = Math.max(0, peak - springBack * givenBack);
    const loss = [crushA - (a.front.noseLength ?? Infinity), deepest - crushA - (b.front.noseLength ?? Infinity)].map((value) => Math.max(0, value));
    const push = [0, 0];
    for (const o of people) {
      const [torso, torsoVelocity, head, headVelocity, stretch] = y.slice(o.from, o.from + EACH) as [number, number, number, number, number];
      const travel = torso - at(y, 2 * o.vehicle);
      const headTravel = head - at(y, 2 * o.vehicle);
      let hold = 0;
      if (o.belt !== "none") {
        const reach = o.belt.limit === "none" ? Infinity : o.belt.limit / o.belt.stiffness;
        const stretching = torsoVelocity - at(y, 2 * o.vehicle + 1);
        hold += o.belt.stiffness * Math.min(reach, Math.max(0, stretch));
        rates[o.from + 4] = stretch >= reach && stretching > 0 ? 0 : stretching;
      }
      let headHold = 0;
      if (o.bag !== "none" && since >= o.bag.fireTime - 1e-9) {
        hold += o.bag.torsoStiffness * Math.max(0, travel - o.bag.torsoGap);
        headHold = o.bag.headStiffness * Math.max(0, headTravel - o.bag.headGap);
      }
      hold += o.interiorStiffness * Math.max(0, travel - o.space + (loss[o.vehicle] as number));
      const neck = o.neck.stiffness * (headTravel - travel) + o.neck.damping * (headVelocity - torsoVelocity);
      rates[o.from] = torsoVelocity;
      rates[o.from + 1] = (neck - hold) / o.torsoMass;
      rates[o.from + 2] = headVelocity;
      rates[o.from + 3] = (-neck - headHold) / o.headMass;
      push[o.vehicle] = (push[o.vehicle] as number) + hold + headHold;
    }
    for (const i of [0, 1]) {
      rates[2 * i] = at(y, 2 * i + 1);
      rates[2 * i + 1] = ((push[i] as number) - force) / (mass[i] as number);
    }
    rates[GIVEN_BACK] = at(y, GIVEN_BACK) <= 0 && closing > 0 ? 0 : -closing;
    return rates;
  };
};

const crashStart = (input: CrashInput): number[] => [0, input.a.speed, 0, input.b.speed, 0, ...riders(input).flatMap(({ vehicle, belt }) => {
  const { speed } = vehicle === 0 ? input.a : input.b;
  return [0, speed, 0, speed, belt === "none" ? 0 : -belt.slack];
})];

/** A belt is stretched no further than its limit. */
const crashSettle = (input: CrashInput) => (state: number[]): number[] => {
  for (const { belt, from } of riders(input)) if (belt !== "none" && belt.limit !== "none") state[from + 4] = Math.min(at(state, from + 4), belt.limit / belt.stiffness);
  state[GIVEN_BACK] = Math.max(0, at(state, GIVEN_BACK));
  return state;
};

const TOLERANCE = 1e-10;
/** Bags in these cases fire on it. */
const GRID = 0.0005;
const DURATION = 0.15;
const TIMES = Array.from({ length: 301 }, (_, i) => i * GRID);

const solved = new Map<CrashInput, number[][]>();
const crashByLibrary = (input: CrashInput): number[][] => {
  if (!solved.has(input)) solved.set(input, solve(crashRates(input), crashStart(input), TIMES, TOLERANCE, crashSettle(input)));
  return solved.get(input) as number[][];
};

/** Largest differences between crash(…) and the library, at the instants of both: velocities [m/s] and places [m] of all that moves. */
const apart = (input: CrashInput, step: number): { velocity: number; place: number } => {
  const { traces } = crash({ ...input, step, duration: DURATION });
  const steps = GRID / step;
  let velocity = 0;
  let place = 0;
  crashByLibrary(input).forEach((y, n) => {
    const i = n * steps;
    if (!Number.isInteger(i)) return; // the instant lies inside a step
    (["a", "b"] as const).forEach((name, v) => {
      const vehicle = traces.vehicles[name];
      place = Math.max(place, Math.abs(at(y, 2 * v) - (vehicle.position[i] as number)));
      velocity = Math.max(velocity, Math.abs(at(y, 2 * v + 1) - (vehicle.velocity[i] as number)));
      riders(input).filter((o) => o.vehicle === v).forEach((o, k) => {
        const seat = traces.occupants[name][k];
        place = Math.max(place, Math.abs(at(y, o.from) - at(y, 2 * v) - (seat?.chestTravel[i] as number)), Math.abs(at(y, o.from + 2) - at(y, 2 * v) - (seat?.headTravel[i] as number)));
        velocity = Math.max(velocity, Math.abs(at(y, o.from + 1) - (seat?.chestVelocity[i] as number)), Math.abs(at(y, o.from + 3) - (seat?.headVelocity[i] as number)));
      });
    });
  });
  return { velocity, place };
};

const [driver, passenger] = referenceCrash.a.occupants as [CrashOccupant, CrashOccupant];
/** A cabin that loses space, a person without a belt counted inside the mass, and a belt without a limit. */
const intruded: CrashInput = {
  a: { ...referenceCrash.a, mass: 900, speed: 14, front: { ...referenceCrash.a.front, noseLength: 0.6 }, occupants: [{ ...driver, counted: "inside", belt: "none", bag: "none", space: 0.2 }, { ...passenger, belt: { slack: 0.01, stiffness: 60000, limit: "none" } }] },
  b: { ...referenceCrash.b, mass: 2100, speed: 9, occupants: [driver] },
};

/** A person who is already past where the bag stands when it opens. */
const lateBag: CrashInput = { ...referenceCrash, a: { ...referenceCrash.a, occupants: [{ ...driver, belt: "none", bag: { fireTime: 0.06, torsoGap: 0.1, torsoStiffness: 42000, headGap: 0.1, headStiffness: 9000 } }] } };

const share = fc.double({ min: 0.7, max: 1.3, noNaN: true });
const person = fc.record({ mass: share, slack: share, stiffness: share, limit: fc.option(share, { nil: undefined }), space: share, bag: fc.boolean() }).map(({ mass, slack, stiffness, limit, space, bag }): CrashOccupant => ({
  ...driver,
  torsoMass: 34 * mass,
  belt: { slack: 0.04 * slack, stiffness: 80000 * stiffness, limit: limit === undefined ? "none" : 7000 * limit },
  bag: bag ? driver.bag : "none",
  space: 0.3 * space,
}));
const vehicle = (like: CrashInput["a"]) =>
  fc.record({ mass: share, speed: share, stiffness: share, nose: share, occupants: fc.array(person, { maxLength: 2 }) }).map(({ mass, speed, stiffness, nose, occupants }) => ({ ...like, mass: like.mass * mass, speed: like.speed * speed, front: { crush: like.front.crush, force: like.front.force.map((force) => force * stiffness), noseLength: 0.5 * nose }, occupants }));
const drawn = fc.sample(fc.record({ a: vehicle(referenceCrash.a), b: vehicle(referenceCrash.b) }), { numRuns: 4, seed: 8 });

const cases: readonly [string, CrashInput][] = [["the reference", referenceCrash], ["a cabin that loses space and a person without a belt", intruded], ["a bag that opens late", lateBag], ...drawn.map((input, i): [string, CrashInput] => [`drawn crash ${i + 1}`, input])];

/** A sixteenth of the default step. */
const FINE = 0.00025 / 16;
/** Of velocities of some 15 m/s, and rebounds of some 30; what is left is mostly the solver's, at the kinks and jumps of the law. */
const VELOCITY = 1e-4;
/** Places and travels of some 0.7 m. */
const PLACE = 2e-6;

describe("crash(…) against odex", () => {
  test.each(cases)(
    "puts everything that moves where an adaptive solver puts it, every half millisecond, for %s",
    (_, input) => {
      const { velocity, place } = apart(input, FINE);
      expect(velocity).toBeLessThan(VELOCITY);
      expect(place).toBeLessThan(PLACE);
    },
  );

  test("comes nearer to it by the square of the step", () => {
    const steps = [0.001, 0.0005, 0.00025, 0.000125];
    // kinks of the forces fall anywhere in a step and scatter the errors of one crash, less their mean over several
    const mean = steps.map((step) => cases.reduce((sum, [, input]) => sum + Math.log2(apart(input, step).place), 0) / cases.length);
    const order = ((mean[0] as number) - (mean.at(-1) as number)) / (steps.length - 1);
    expect(order).toBeGreaterThan(1.8);
    expect(order).toBeLessThan(2.4);
  });
});

// ---------------------------------------------------------------- the tow

const G = 9.80665;
/** Speed below which the mass counts as at rest, so that friction may hold it [m/s]. */
const REST = 1e-8;

/** Pulls, and what they make of a mass that moves down or up: friction in the pulleys is against the motion. */
const loads = ({ a, b, failure }: TowMotionInput, y: readonly number[]): { pulls: number[]; down: number; up: number } => {
  const [fall, falling] = y as [number, number];
  let down = 0;
  let up = 0;
  const pulls = [a, b].map((line, i) => {
    const stretch = line.travelPerDrop * fall - at(y, 2 + 2 * i) - line.slack;
    const parted = failure?.kind === "parts" && (failure.vehicle === "a") === (i === 0) && fall >= failure.drop;
    const pull = parted || stretch <= 0 ? 0 : Math.max(0, line.stiffness * stretch + line.damping * (line.travelPerDrop * falling - at(y, 3 + 2 * i)));
    down += (line.travelPerDrop * pull) / line.efficiency;
    up += line.travelPerDrop * pull * line.efficiency;
    return pull;
  });
  return { pulls, down, up };
};

/** The mass's fall and velocity, then travel and velocity of each vehicle. */
const towRates = (input: TowMotionInput): Rates => {
  const weight = input.fallingMass * G;
  return (_, y) => {
    const falling = at(y, 1);
    const { pulls, down, up } = loads(input, y);
    const net = falling > REST || (falling >= -REST && weight > down) ? weight - down : falling < -REST || weight < up ? weight - up : 0;
    return [
      falling,
      net / input.fallingMass,
      ...[input.a, input.b].flatMap((line, i) => {
        const velocity = at(y, 3 + 2 * i);
        const pull = pulls[i] as number;
        const rolling = line.rollingResistance * line.mass * G;
        return [velocity, velocity <= 0 && pull <= rolling ? 0 : (pull - rolling) / line.mass];
      }),
    ];
  };
};

/** A vehicle that stands, or a mass that is held, keeps nothing of the little that it overran the instant it came to rest by. */
const towSettle = (input: TowMotionInput) => (state: number[], before: readonly number[]): number[] => {
  const { down, up } = loads(input, state);
  const weight = input.fallingMass * G;
  if (at(before, 1) * at(state, 1) <= 0 && up <= weight && weight <= down) state[1] = 0;
  for (const i of [3, 5]) state[i] = Math.max(0, at(state, i));
  return state;
};

const sprig: TowedOnLine = { mass: 900, travelPerDrop: 3, rollingResistance: 0.015, efficiency: 0.82, stiffness: 60000, damping: 600, slack: 0 };
const bollard: TowedOnLine = { ...sprig, mass: 1800, travelPerDrop: 2 };
const tow: TowMotionInput = { drop: 100, fallingMass: 1859, a: sprig, b: bollard };

/** Against values of some 3 to 20 m and m/s: the solver's own tolerance. */
const SMOOTH = 3e-8;
/** Where friction comes to hold the mass the law jumps, and the solver can only feel its way to the instant. */
const HELD = 1e-6;

describe("towMotion(…) against odex", () => {
  test.each<[string, TowMotionInput, number]>([
    ["rolling resistance, and a mass held by its pulleys for a while", tow, HELD],
    ["slack in one line, a mass thrown back, no damping", { ...tow, a: { ...sprig, slack: 0.2, damping: 0 }, b: { ...bollard, damping: 0 } }, SMOOTH],
    ["slack in both lines, a mass thrown back", { ...tow, a: { ...sprig, slack: 0.2 }, b: { ...bollard, slack: 0.4 } }, SMOOTH],
    ["a heavy mass, thrown back and held", { ...tow, fallingMass: 2500, a: { ...sprig, slack: 0.3, damping: 1500 }, b: { ...bollard, slack: 0.3 } }, HELD],
    ["a line that parts on the way", { ...tow, failure: { kind: "parts", vehicle: "a", drop: 3 } }, HELD],
  ])("ends where an adaptive solver ends, with %s", (_, input, tolerance) => {
    const DURATION = 4;
    const PIECES = 800;
    const times = Array.from({ length: PIECES + 1 }, (_, i) => (i * DURATION) / PIECES);
    const wanted = solve(towRates(input), [0, 0, 0, 0, 0, 0], times, 1e-12, towSettle(input)).at(-1) as number[];
    const { fall, frameVelocity, travel, speed } = towMotion({ ...input, duration: DURATION, step: 0.001 });
    [fall, frameVelocity, travel.a, speed.a, travel.b, speed.b].forEach((value, i) => expect(Math.abs(value / at(wanted, i) - 1), `${value} against ${at(wanted, i)}`).toBeLessThan(tolerance));
  });
});

// ---------------------------------------------------------------- a pulse

test("integratePulse(…) against odex comes nearer to a smooth pulse by the square of the sample interval, in velocity and displacement", () => {
  const LENGTH = 0.1;
  // invented, with a bump that no symmetry helps; the time is a state of its own
  const acceleration = (t: number): number => -250 * Math.sin((Math.PI * t) / LENGTH) ** 2 - 900 * t * Math.sin(70 * t);
  const [, wanted] = solve((_, [t, velocity]) => [1, acceleration(t as number), velocity as number], [0, 15, 0], [0, LENGTH], 1e-12, (state) => state);
  const errors = [25, 50, 100, 200].map((pieces) => {
    const time = Array.from({ length: pieces + 1 }, (_, i) => (i * LENGTH) / pieces);
    const { velocity, displacement } = integratePulse({ time, acceleration: time.map(acceleration), velocity: 15 });
    return [Math.abs((velocity[pieces] as number) - at(wanted as number[], 1)), Math.abs((displacement[pieces] as number) - at(wanted as number[], 2))];
  });
  for (const what of [0, 1])
    for (let i = 1; i < errors.length; i++) {
      const order = Math.log2((errors[i - 1]?.[what] as number) / (errors[i]?.[what] as number));
      expect(order).toBeGreaterThan(1.95);
      expect(order).toBeLessThan(2.05);
    }
  expect(errors.at(-1)?.[0]).toBeLessThan(1e-3); // m/s of 15, at 200 samples
});
