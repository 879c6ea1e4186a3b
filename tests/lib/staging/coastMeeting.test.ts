import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { coast, coastMeeting, meetingShift } from "../../../lib/index.ts";

const CASES = { numRuns: 200, seed: 5 };
/** A few double roundings. */
const ROUNDING = 1e-12;
/** Halvings of an interval end on rounding, magnified by a slow approach. */
const HALVED = 1e-6;
const G = 9.81;

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const way = fc.record({ speed: real(0.3, 20), distance: real(0, 8) });
const pair = fc.record({ a: way, b: way, delay: real(-1, 1), rollingResistance: fc.oneof(fc.constant(0), real(0.001, 0.05)) }).filter(({ a, b, rollingResistance }) => [a, b].every(({ speed, distance }) => speed ** 2 > 2 * rollingResistance * G * distance));

/** Along its own way, the mark at 0; written apart from the kernel. */
const placeOf = (speed: number, distance: number, slowing: number, time: number): number => {
  if (time <= 0) return speed * time - distance;
  const { covered, time: until } = coast({ speed, distance: 1e9, rollingResistance: slowing / G || 1e-300, gravity: G });
  return (time >= until ? covered : speed * time - (slowing * time ** 2) / 2) - distance;
};

describe("coastMeeting(…)", () => {
  test("puts both at one place at one time, found by halving for 200 seeded cases", () => {
    fc.assert(
      fc.property(pair, ({ a, b, delay, rollingResistance }) => {
        const slowing = rollingResistance * G;
        const { shift, time } = coastMeeting({ a, b, delay, rollingResistance, gravity: G });
        const gap = (t: number): number => placeOf(a.speed, a.distance, slowing, t) + placeOf(b.speed, b.distance, slowing, t - delay);
        let [low, high] = [-1e3, 1e3];
        for (let i = 0; i < 80; i++) {
          const middle = (low + high) / 2;
          if (gap(middle) < 0) low = middle;
          else high = middle;
        }
        expect(Math.abs(placeOf(a.speed, a.distance, slowing, high) - shift)).toBeLessThan(HALVED * (a.distance + b.distance + 20));
        expect(Math.abs(gap(time))).toBeLessThan(HALVED);
      }),
      CASES,
    );
  });

  test("is meetingShift(…) without rolling", () => {
    fc.assert(
      fc.property(pair, ({ a, b, delay }) => {
        const { shift, lateness } = coastMeeting({ a, b, delay, rollingResistance: 0 });
        const simple = meetingShift({ a, b, delay: lateness });
        expect(Math.abs(shift - simple.shift)).toBeLessThan(ROUNDING * 1e3 * (1 + a.distance + b.distance + 40));
      }),
      CASES,
    );
  });

  test("is on the side of the later, and the other way round for the other's way", () => {
    fc.assert(
      fc.property(pair, ({ a, b, delay, rollingResistance }) => {
        const one = coastMeeting({ a, b, delay, rollingResistance, gravity: G });
        const other = coastMeeting({ a: b, b: a, delay: -delay, rollingResistance, gravity: G });
        expect(Math.abs(one.shift + other.shift)).toBeLessThan(HALVED);
        if (Math.abs(one.shift) > HALVED) expect(Math.sign(one.shift)).toBe(Math.sign(one.lateness));
      }),
      CASES,
    );
  });

  test("refuses a vehicle that rolling stops before the mark", () => expect(() => coastMeeting({ a: { speed: 1, distance: 6 }, b: { speed: 5, distance: 1 }, delay: 0, rollingResistance: 0.01, gravity: 10 })).toThrow(/^coastMeeting: a\.distance must be <= 5 m/));
});
