import fc from "fast-check";
import { createRequire } from "node:module";
import { describe, expect, test } from "vitest";
import { gravityTow, lineParts, takeUp, towMotion, type TowedOnLine, type TowMotionInput } from "../../../lib/index.ts";

// loaded without its types: the package ships TypeScript source that this project's stricter rules refuse
interface Integrator {
  absoluteTolerance: number;
  relativeTolerance: number;
  solve(rates: (time: number, state: number[]) => number[], from: number, start: number[], to: number): { y: number[] };
}
const { Solver } = createRequire(import.meta.url)("odex") as { Solver: new (size: number) => Integrator };

const G = 9.80665;
const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const stretchy = { stiffness: 60000, damping: 0, slack: 0 };
// the invented demo tow, on lines of invented stretch
const sprig: TowedOnLine = { mass: 900, travelPerDrop: 3, rollingResistance: 0.015, efficiency: 0.82, ...stretchy, damping: 600 };
const bollard: TowedOnLine = { mass: 1800, travelPerDrop: 2, rollingResistance: 0.015, efficiency: 0.82, ...stretchy, damping: 600 };
const demo: TowMotionInput = { drop: 15, fallingMass: 1859, a: sprig, b: bollard };
const alone = (line: Partial<TowedOnLine>, rest: Partial<TowMotionInput> = {}): TowMotionInput => ({
  drop: 15,
  fallingMass: 1200,
  a: { mass: 900, travelPerDrop: 2, rollingResistance: 0, efficiency: 0.9, ...stretchy, ...line },
  b: { mass: 0, travelPerDrop: 1, rollingResistance: 0, efficiency: 1, ...stretchy },
  ...rest,
});

const within = (x: number, y: number, tolerance: number): void => expect(Math.abs(x / y - 1), `${x} against ${y}`).toBeLessThanOrEqual(tolerance);

/** Share of one swing's error left at the default step: (step * frequency)^4 over a hundred, here under 2e-7; with room. */
const STEPPED = 1e-6;

describe("closed forms", () => {
  test("towMotion(…) of one line without damping is the sinusoid of two masses on a spring", () => {
    const input = alone({});
    const { a, fallingMass } = input;
    const { traces, steadyPull } = towMotion({ ...input, step: 0.002 });
    const frequency = Math.sqrt(a.stiffness * (1 / a.mass + a.travelPerDrop ** 2 / (fallingMass * a.efficiency)));
    traces.time.forEach((time, i) => expect(Math.abs((traces.pull.a[i] as number) - steadyPull.a * (1 - Math.cos(frequency * time)))).toBeLessThan(1e-4 * steadyPull.a)); // phase lost over 6 s
  });

  test("towMotion(…) without slack doubles the steady pull, and with slack gives takeUp(…), whatever the line", () => {
    fc.assert(
      fc.property(real(2e4, 2e5), real(0, 0.5), real(0.6, 1), real(1, 3), (stiffness, slack, efficiency, travelPerDrop) => {
        const { peakPull, steadyPull, overshoot } = towMotion(alone({ stiffness, slack, efficiency, travelPerDrop }, { duration: 2, step: 0.002 }));
        const { factor, peakPull: closed } = takeUp({ steadyPull: steadyPull.a, stiffness, slack });
        within(peakPull.a, closed, 1e-5); // step 0.002 at up to 25 rad/s
        within(overshoot.a as number, factor, 1e-5);
      }),
      { numRuns: 20, seed: 11 },
    );
  });

  test("towMotion(…) of a vehicle held fast from the start is a load suddenly hung on its line", () => {
    const input = alone({ slack: 0.1, efficiency: 1 }, { failure: { kind: "sticks", vehicle: "a", drop: 0 }, duration: 2 });
    const { peakPull, outcome, travel } = towMotion(input);
    const { peakPull: closed } = takeUp({ steadyPull: (input.fallingMass * G) / 2, stiffness: 60000, slack: 0.1 });
    within(peakPull.a, closed, STEPPED);
    expect(outcome).toBe("not released");
    expect(travel.a).toBe(0);
  });

  test("towMotion(…) of a mass bouncing on a held vehicle's line swings about a lower rest going down than going up, until the pulleys hold it between the two", () => {
    const efficiency = 0.9;
    const input = alone({ efficiency }, { failure: { kind: "sticks", vehicle: "a", drop: 0 }, duration: 4 });
    const { stiffness, travelPerDrop } = input.a;
    const down = (input.fallingMass * G * efficiency) / travelPerDrop / stiffness;
    const up = (input.fallingMass * G) / efficiency / travelPerDrop / stiffness;
    // each half swing ends as far beyond its rest as it began before it
    let stretch = 0;
    while (stretch < down || stretch > up) stretch = 2 * (stretch < down ? down : up) - stretch;
    const { fall, frameVelocity, energy } = towMotion(input);
    expect(frameVelocity).toBe(0);
    within(fall * travelPerDrop, stretch, STEPPED);
    within(energy.line.a, energy.weight - (stiffness * stretch ** 2) / 2, STEPPED);
  });

  test("towMotion(…) tends to gravityTow(…) as the lines stiffen, and its shortfall to nothing", () => {
    const rigid = gravityTow(demo);
    const off = [1e5, 3e5, 3e6].map((stiffness) => {
      // a fixed share of critical damping, so that the start dies away
      const line = { stiffness, damping: 10 * Math.sqrt(stiffness), slack: 0 };
      const { speed, time, travel, frameVelocity } = towMotion({ ...demo, a: { ...sprig, ...line }, b: { ...bollard, ...line }, step: 20 / stiffness ** 0.75 });
      return [speed.a / rigid.speed.a, speed.b / rigid.speed.b, time / rigid.time, travel.a / rigid.travel.a, frameVelocity / rigid.frameSpeed].map((ratio) => Math.abs(ratio - 1));
    });
    for (let i = 0; i < 5; i++) {
      expect(off[2]?.[i]).toBeLessThan(1e-4);
      expect(off[1]?.[i]).toBeLessThan(off[0]?.[i] as number);
    }
  });

  test("towMotion(…) of a tow with a parted line comes close to lineParts(…) on stiff lines", () => {
    const line = { stiffness: 2e6, damping: 20000 };
    const a = { ...sprig, ...line };
    const b = { ...bollard, ...line };
    for (const partedAt of [0, 7]) {
      const { speed, time, energy } = towMotion({ ...demo, a, b, failure: { kind: "parts", vehicle: "a", drop: partedAt }, step: 0.002 });
      const closed = lineParts({ drop: 15, partedAt, fallingMass: 1859, parted: a, kept: b });
      within(speed.b, closed.speed, 1e-3); // the stretch still held, 0.1 % of the energy
      within(time, closed.time, 1e-3);
      expect(energy.recoil.a > 0).toBe(partedAt > 0);
    }
  });
});

describe("energy", () => {
  test("towMotion(…) accounts for weight times fall, whatever happens on the way", () => {
    const line = fc.record({ mass: real(200, 2500), travelPerDrop: real(1, 3), rollingResistance: real(0, 0.05), efficiency: real(0.6, 1), stiffness: real(2e4, 2e5), damping: real(0, 1500), slack: real(0, 0.4) });
    const failure = fc.option(fc.record({ kind: fc.constantFrom("parts", "sticks"), vehicle: fc.constantFrom("a", "b"), drop: real(0, 4) }), { nil: undefined });
    fc.assert(
      fc.property(line, line, real(2000, 6000), failure, (a, b, fallingMass, failing) => {
        const { energy } = towMotion({ drop: 4, fallingMass, a, b, ...(failing ? { failure: failing } : {}), step: 0.002, duration: 4 });
        expect(Math.abs(energy.error)).toBeLessThan(1e-4); // a damped line that goes taut at speed has the shortest time scale
        for (const part of [energy.rolling, energy.line, energy.stretch, energy.damping, energy.recoil, energy.stopped]) expect(Math.min(part.a, part.b)).toBeGreaterThanOrEqual(-1e-12 * energy.weight);
      }),
      { numRuns: 25, seed: 3 },
    );
  });
});

describe("scheme", () => {
  const order = (input: TowMotionInput, read: (r: ReturnType<typeof towMotion>) => number): number => {
    const [fine, middle, coarse] = [0.0005, 0.002, 0.004].map((step) => read(towMotion({ ...input, step }))) as [number, number, number];
    return Math.log2(Math.abs(coarse - fine) / Math.abs(middle - fine));
  };

  test("towMotion(…) is of fourth order in smooth motion", () => {
    expect(order(alone({}, { drop: 1000, duration: 2 }), (r) => r.travel.a)).toBeGreaterThan(3.8);
  });

  test.each([
    ["starting and stopping", demo],
    ["slack taken up", { ...demo, a: { ...sprig, slack: 0.3 }, b: { ...bollard, slack: 0.3 } }],
    ["a line parting", { ...demo, failure: { kind: "parts", vehicle: "a", drop: 7 } }],
    ["a vehicle sticking", { ...demo, duration: 6, failure: { kind: "sticks", vehicle: "b", drop: 7 } }],
  ] satisfies [string, TowMotionInput][])("towMotion(…) keeps its order through %s", (_, input) => {
    expect(order(input, (r) => r.travel.b)).toBeGreaterThan(3);
  });

  test("towMotion(…) agrees with an adaptive integrator of another library", () => {
    const a = { ...sprig, rollingResistance: 0, damping: 4000 };
    const b = { ...bollard, rollingResistance: 0, damping: 4000 };
    const DURATION = 3;
    const stepped = towMotion({ drop: 1000, fallingMass: 3000, a, b, step: 0.001, duration: DURATION });
    expect(Math.min(...stepped.traces.frameVelocity)).toBe(0); // never thrown back: the motion stays smooth
    expect(Math.min(...stepped.traces.pull.a.subarray(1), ...stepped.traces.pull.b.subarray(1))).toBeGreaterThan(0);
    const solver = new Solver(6);
    solver.absoluteTolerance = solver.relativeTolerance = 1e-11;
    const { y } = solver.solve(
      (_, [fall, fallRate, travelA, speedA, travelB, speedB]: number[]) => {
        const pull = (line: TowedOnLine, travel: number, speed: number): number => line.stiffness * (line.travelPerDrop * fall! - travel) + line.damping * (line.travelPerDrop * fallRate! - speed);
        const pullA = pull(a, travelA!, speedA!);
        const pullB = pull(b, travelB!, speedB!);
        return [fallRate!, G - (3 * pullA + 2 * pullB) / (0.82 * 3000), speedA!, pullA / a.mass, speedB!, pullB / b.mass];
      },
      0,
      [0, 0, 0, 0, 0, 0],
      DURATION,
    );
    const AGREES = 1e-8; // the fixed step's error at 0.001 s
    [stepped.fall, stepped.frameVelocity, stepped.travel.a, stepped.speed.a, stepped.travel.b, stepped.speed.b].forEach((value, i) => within(value, y[i] as number, AGREES));
  });
});

describe("behaviour", () => {
  test("towMotion(…) gives the swapped answer to swapped lines", () => {
    const there = towMotion({ ...demo, a: { ...sprig, slack: 0.1 } });
    const back = towMotion({ ...demo, a: bollard, b: { ...sprig, slack: 0.1 } });
    within(back.speed.b, there.speed.a, 1e-9); // sums in another order
    within(back.peakPull.b, there.peakPull.a, 1e-9);
  });

  test("towMotion(…) stands until the pull exceeds the rolling resistance, and never rolls back", () => {
    const { traces } = towMotion({ ...demo, a: { ...sprig, slack: 0.3 } });
    traces.time.forEach((_, i) => {
      if (i > 0 && traces.velocity.a[i - 1] === 0 && (traces.velocity.a[i] as number) > 0) expect(traces.pull.a[i]).toBeGreaterThan(sprig.rollingResistance * sprig.mass * G);
      expect(traces.velocity.a[i]).toBeGreaterThanOrEqual(0);
      expect(traces.pull.a[i]).toBeGreaterThanOrEqual(0);
    });
  });

  test("towMotion(…) reports who is late when one line stretches: more stretch, more shortfall, a later arrival", () => {
    const soft = towMotion({ ...demo, a: { ...sprig, stiffness: 20000 } });
    const stiff = towMotion({ ...demo, a: { ...sprig, stiffness: 200000 } });
    expect(soft.shortfall.a).toBeGreaterThan(stiff.shortfall.a);
    within(soft.shortfall.a, soft.steadyPull.a / 20000, 0.05); // about the steady stretch, once the swing has died down
    within(soft.lag.a as number, soft.shortfall.a / soft.speed.a, 1e-15);
    expect(soft.lag.a).toBeGreaterThan(stiff.lag.a as number);
  });

  test("towMotion(…) of a vehicle that sticks on the way pulls its line far above anything steady, and loses the vehicle's energy", () => {
    const { peakPull, steadyPull, energy, outcome } = towMotion({ ...demo, failure: { kind: "sticks", vehicle: "a", drop: 7 }, duration: 8 });
    expect(outcome).toBe("not released");
    expect(peakPull.a).toBeGreaterThan(5 * steadyPull.a);
    expect(energy.stopped.a).toBeGreaterThan(0);
    expect(energy.stopped.b).toBe(0);
  });

  test("towMotion(…) refuses a step too long for the line, naming the longest, and a failure after release", () => {
    expect(() => towMotion({ ...demo, step: 0.1 })).toThrow(/^towMotion: step must be <= 0\.0\d+ s \(for the stiffest line here\)/);
    expect(() => towMotion({ ...demo, failure: { kind: "parts", vehicle: "a", drop: 16 } })).toThrow(/^towMotion: failure\.drop must be between 0 and 15 m/);
    expect(() => towMotion({ ...demo, failure: { kind: "bends" as "parts", vehicle: "a", drop: 1 } })).toThrow(/^towMotion: failure\.kind must be one of parts, sticks/);
    expect(() => towMotion({ ...demo, fallingMass: 100 })).toThrow(/^towMotion: fallingMass must be > 115/);
  });
});
