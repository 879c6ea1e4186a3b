// Velocities, momentum and restitution from tracks made of known motions; scale, bench readings, verdicts.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { benchMeasurements } from "../../../lib/measuring/benchMeasurements.ts";
import { momentumCheck } from "../../../lib/measuring/momentumCheck.ts";
import { predictionVerdict } from "../../../lib/measuring/predictionVerdict.ts";
import { restitutionFromTracks } from "../../../lib/measuring/restitutionFromTracks.ts";
import { scaleFromBaseline } from "../../../lib/measuring/scaleFromBaseline.ts";
import { velocitiesFromTrack } from "../../../lib/measuring/velocitiesFromTrack.ts";
import { velocityFromFrames } from "../../../lib/measuring/velocityFromFrames.ts";
import { centralImpact } from "../../../lib/collision/centralImpact.ts";
import { normal } from "../../../lib/math/random.ts";

const RATE = 500;
const SCALE = 0.002;
const NOISE = 0.5;
const FRAMES = 100;
const MEET = 0.1;
const CONTACT = { from: 0.099, to: 0.101 };
const SEEDS = Array.from({ length: 200 }, (_, i) => i + 1);
/** Of 200 seeds, at 19 in 20: three standard errors under 190. */
const LEAST_INSIDE = 181;

/** Two bodies that meet at 0.1 s, in pixels, with reading noise of their own. */
const collision = (seed: number, { restitution = 0.3, noise = NOISE } = {}) => {
  const a = { mass: 0.5, velocity: 1.2 };
  const b = { mass: 0.8, velocity: -0.4 };
  const { after } = centralImpact({ a, b, restitution });
  const track = (before: number, later: number, stream: number) => ({
    positions: Array.from({ length: FRAMES }, (_, i) => ((i / RATE < MEET ? before : later) * (i / RATE - MEET)) / SCALE + noise * normal(seed, i, stream)),
  });
  return { a: { ...a, ...track(a.velocity, after.a, 0) }, b: { ...b, ...track(b.velocity, after.b, 1) }, after };
};
const film = { captureRate: RATE, scale: SCALE, contact: CONTACT };

describe("velocitiesFromTrack(…)", () => {
  test("gives both velocities of a clean track back exactly", () => {
    const { a, after } = collision(1, { noise: 0 });
    const found = velocitiesFromTrack({ positions: a.positions, ...film });
    expect(found.before.velocity).toBeCloseTo(1.2, 10);
    expect(found.after.velocity).toBeCloseTo(after.a, 10);
  });
  test("holds the true change within its give or take 19 times in 20, over 200 seeds", () => {
    const inside = SEEDS.filter((seed) => {
      const { a, after } = collision(seed);
      const { velocityChange } = velocitiesFromTrack({ positions: a.positions, ...film });
      return Math.abs(velocityChange.change - (after.a - 1.2)) <= velocityChange.give;
    }).length;
    expect(inside).toBeGreaterThanOrEqual(LEAST_INSIDE);
    expect(inside).toBeLessThan(200); // a give or take that always holds is too wide
  });
  test("refuses a contact that leaves too few frames, or ends before it begins", () => {
    const { positions } = collision(1).a;
    expect(() => velocitiesFromTrack({ positions, ...film, contact: { from: 0.001, to: 0.1 } })).toThrow(/contact.from must be >= 0\.006 s, so that 4 frames come before it/);
    expect(() => velocitiesFromTrack({ positions, ...film, contact: { from: 0.1, to: 0.199 } })).toThrow(/contact.to must be <= /);
    expect(() => velocitiesFromTrack({ positions, ...film, contact: { from: 0.1, to: 0.1 } })).toThrow(/where contact begins/);
  });
});

describe("restitutionFromTracks(…)", () => {
  test("gives the restitution of a clean collision back", () => {
    for (const restitution of [0, 0.3, 1]) expect(restitutionFromTracks({ ...collision(1, { restitution, noise: 0 }), ...film }).restitution).toBeCloseTo(restitution, 9);
  });
  test("holds the true restitution within its give or take 19 times in 20, over 200 seeds", () => {
    const inside = SEEDS.filter((seed) => {
      const { restitution, give } = restitutionFromTracks({ ...collision(seed), ...film });
      return Math.abs(restitution - 0.3) <= give;
    }).length;
    expect(inside).toBeGreaterThanOrEqual(LEAST_INSIDE);
    expect(inside).toBeLessThan(200);
  });
  test("does not depend on the scale", () => {
    const tracks = collision(4);
    expect(restitutionFromTracks({ ...tracks, ...film, scale: 7 * SCALE }).restitution).toBeCloseTo(restitutionFromTracks({ ...tracks, ...film }).restitution, 12);
  });
  test("refuses bodies named the wrong way round", () => {
    const { a, b } = collision(1);
    expect(() => restitutionFromTracks({ a: b, b: a, ...film })).toThrow(/closing velocity must be > 0/);
  });
});

describe("momentumCheck(…)", () => {
  const weighed = (seed: number) => {
    const { a, b } = collision(seed);
    return { a: { ...a, massGive: 0.002 }, b: { ...b, massGive: 0.002 } };
  };
  const before = 0.5 * 1.2 - 0.8 * 0.4;

  test("finds the totals of a true film in agreement 19 times in 20, over 200 seeds", () => {
    const checks = SEEDS.map((seed) => momentumCheck({ ...weighed(seed), ...film }));
    expect(checks.filter(({ verdict }) => verdict === "agree").length).toBeGreaterThanOrEqual(LEAST_INSIDE);
    expect(checks.filter(({ momentum, give }) => Math.abs(momentum.before - before) <= give.before).length).toBeGreaterThanOrEqual(LEAST_INSIDE);
  });
  test("finds a track with a wrong scale, and a wrong mass", () => {
    for (const seed of [1, 2, 3]) {
      const { a, b } = weighed(seed);
      expect(momentumCheck({ a: { ...a, positions: a.positions.map((p) => 1.1 * p) }, b, ...film }).verdict).toBe("disagree");
      expect(momentumCheck({ a: { ...a, mass: 0.6 }, b, ...film }).verdict).toBe("disagree");
    }
  });
  test("cannot see a wrong capture rate: both totals change alike", () => {
    const right = momentumCheck({ ...weighed(1), ...film });
    const wrong = momentumCheck({ ...weighed(1), ...film, captureRate: RATE / 2, contact: { from: 2 * CONTACT.from, to: 2 * CONTACT.to } });
    expect(wrong.momentum.before).toBeCloseTo(right.momentum.before / 2, 10);
    expect(wrong.verdict).toBe(right.verdict);
  });
  test("refuses tracks of different length", () => {
    const { a, b } = weighed(1);
    expect(() => momentumCheck({ a: { ...a, positions: a.positions.slice(1) }, b, ...film })).toThrow(/same length/);
  });
});

describe("scaleFromBaseline(…) and velocityFromFrames(…)", () => {
  test("scaleFromBaseline(…) holds the true scale within its give or take 19 times in 20", () => {
    const inside = SEEDS.filter((seed) => {
      const { scale, give } = scaleFromBaseline({ length: 2 + (0.004 / 1.96) * normal(seed, 0), lengthGive: 0.004, pixels: 1000 + (2 / 1.96) * (normal(seed, 1) - normal(seed, 2)), endGive: 2 });
      return Math.abs(scale - 0.002) <= give;
    }).length;
    expect(inside).toBeGreaterThanOrEqual(LEAST_INSIDE);
  });
  test("velocityFromFrames(…) changes sign with the direction and keeps its give", () => {
    const course = { from: 0, to: 0.3, frames: 20, captureRate: 1000, placeGive: 0.001, rateGive: 0.1 };
    const [there, back] = [velocityFromFrames(course), velocityFromFrames({ ...course, from: 0.3, to: 0 })];
    expect(back.velocity).toBe(-there.velocity);
    expect(back.give).toBe(there.give);
  });
});

describe("benchMeasurements(…)", () => {
  test("marks a slip of the decimal sign and leaves it in the mean", () => {
    const values = [1.5, 1.52, 1.48, 1.51, 15];
    const { marked, mean, count, markedCount } = benchMeasurements({ values });
    expect(marked).toEqual([false, false, false, false, true]);
    expect(markedCount).toBe(1);
    expect(count).toBe(5);
    expect(mean).toBeCloseTo(values.reduce((sum, value) => sum + value, 0) / 5, 12);
  });
  test("marks a reading among equal ones", () => expect(benchMeasurements({ values: [2, 2, 2, 2, 2, 2, 2, 9] }).marked.filter(Boolean)).toHaveLength(1));
  test("marks none of equal readings", () => expect(benchMeasurements({ values: [2, 2, 2] })).toMatchObject({ markedCount: 0, standardDeviation: 0, give: 0, score: [0, 0, 0] }));
  // Student's factor for 4 degrees of freedom at 95 %: 2.776 (GUM, table G.2, from memory).
  test("gives mean, spread and give of five readings worked by hand", () => {
    const { mean, standardDeviation, standardError, give } = benchMeasurements({ values: [9, 10, 11, 10, 10] });
    expect(mean).toBeCloseTo(10, 12);
    expect(standardDeviation).toBeCloseTo(Math.sqrt(0.5), 12);
    expect(standardError).toBeCloseTo(Math.sqrt(0.1), 12);
    expect(give).toBeCloseTo(2.776 * Math.sqrt(0.1), 3);
  });
  test("does not depend on the order of readings", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 3, maxLength: 12 }), (values) => {
        const there = benchMeasurements({ values });
        const back = benchMeasurements({ values: values.toReversed() });
        expect(back.marked).toEqual(there.marked.toReversed());
        expect(back.mean).toBeCloseTo(there.mean, 12);
      }),
      { numRuns: 200, seed: 1 },
    );
  });
});

describe("predictionVerdict(…)", () => {
  test.each([
    [15, 0.5, "inside", 0],
    [17, 0.5, "outside", 1],
    [12, 0.5, "outside", -2],
    [16.2, 0.5, "open", 0.2],
    [15.8, 0.5, "open", 0],
    [16, 0, "inside", 0],
  ])("of %d with give %d is %s", (measured, give, verdict, beyond) => {
    const found = predictionVerdict({ low: 14, high: 16, measured, give });
    expect(found.verdict).toBe(verdict);
    expect(found.beyond).toBeCloseTo(beyond, 12);
  });
});
