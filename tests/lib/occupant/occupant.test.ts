import { describe, expect, test } from "vitest";
import { freeFlight } from "../../../lib/occupant/freeFlight.ts";
import { rideDown } from "../../../lib/occupant/rideDown.ts";
import { slackRestraint } from "../../../lib/occupant/slackRestraint.ts";

/** Rounding of a few operations. */
const EXACT = 1e-12;
const relative = (got: number, want: number): number => Math.abs(got / want - 1);

/** The same motion in small steps: vehicle at a constant rate until it stands, occupant under `hold` of travel and relative speed. */
const stepped = (speed: number, vehicleRate: number, hold: (travel: number, closing: number) => number, until: (travel: number, closing: number, velocity: number) => boolean) => {
  const h = 1e-6;
  let x = 0;
  let v = speed;
  let t = 0;
  for (;;) {
    const vehicleSpeed = Math.max(0, speed - vehicleRate * t);
    const vehicle = vehicleSpeed > 0 ? speed * t - (vehicleRate * t * t) / 2 : speed ** 2 / (2 * vehicleRate);
    if (t > 1 || until(x - vehicle, v - vehicleSpeed, v)) return { t, travel: x - vehicle, closing: v - vehicleSpeed, distance: x };
    const rate = hold(x - vehicle, v - vehicleSpeed);
    x += v * h - (rate * h * h) / 2;
    v -= rate * h;
    t += h;
  }
};
/** First order in a step of a microsecond. */
const STEPPED = 1e-4;

describe("freeFlight(…)", () => {
  test.each([0.05, 0.25, 0.5, 0.9])("agrees with small steps for a gap of %s m, before and after the vehicle stands", (gap) => {
    const closed = freeFlight({ speed: 15, deceleration: 200, gap });
    const walked = stepped(15, 200, () => 0, (travel) => travel >= gap);
    expect(relative(closed.contactSpeed, walked.closing)).toBeLessThan(STEPPED);
    expect(relative(closed.time, walked.t)).toBeLessThan(STEPPED);
  });

  test("never meets faster than the vehicle went", () => {
    expect(freeFlight({ speed: 15, deceleration: 200, gap: 5 }).contactSpeed).toBe(15);
    expect(freeFlight({ speed: 15, deceleration: 200, gap: 0 })).toEqual({ contactSpeed: 0, time: 0 });
  });

  test("refuses nonsense", () => expect(() => freeFlight({ speed: 15, deceleration: 0, gap: 1 })).toThrow("freeFlight: deceleration must be > 0 m/s^2, got 0"));
});

describe("rideDown(…)", () => {
  test.each([
    ["soft, outlasting the vehicle", 150, 0.03],
    ["firm, stopping with the vehicle", 400, 0.03],
    ["taking hold only after the vehicle stands", 300, 0.8],
  ])("agrees with small steps for a restraint that is %s", (_name, restraintDeceleration, slack) => {
    const closed = rideDown({ speed: 15, vehicleDistance: 0.6, slack, restraintDeceleration });
    let held = false;
    const walked = stepped(15, 15 ** 2 / 1.2, (travel) => (travel >= slack ? restraintDeceleration : 0), (travel, closing, velocity) => ((held ||= travel >= slack), held && (closing <= 0 || velocity <= 0)));
    expect(relative(closed.travel, walked.travel)).toBeLessThan(STEPPED);
    // whichever comes first: standing, or moving with the vehicle and so stopping where it does
    expect(relative(closed.distance, 0.6 + walked.travel)).toBeLessThan(STEPPED);
  });

  test("splits the energy between the vehicle's path and the travel inside it", () => {
    const speed = 15;
    const r = rideDown({ speed, vehicleDistance: 0.6, slack: 0.03, restraintDeceleration: 180 });
    expect(relative(r.efficiency * (speed ** 2 / 2) + 180 * (r.travel - 0.03), speed ** 2 / 2)).toBeLessThan(EXACT);
    expect(relative(r.meanDeceleration * r.distance, speed ** 2 / 2)).toBeLessThan(EXACT);
  });

  test("wastes the crush when the slack does", () => {
    const efficiency = (slack: number): number => rideDown({ speed: 15, vehicleDistance: 0.6, slack, restraintDeceleration: 250 }).efficiency;
    expect(efficiency(0)).toBeCloseTo(1, 12);
    expect(efficiency(0.1)).toBeLessThan(efficiency(0.02));
    expect(efficiency(0.7)).toBeCloseTo(0, 12);
  });
});

describe("slackRestraint(…)", () => {
  test("agrees with small steps", () => {
    const input = { deceleration: 200, slack: 0.04, stiffness: 50000, mass: 40 };
    const closed = slackRestraint(input);
    const walked = stepped(60, 200, (travel) => Math.max(0, travel - 0.04) * 1250, (travel, closing) => travel > 0.04 && closing <= 0);
    expect(relative(closed.travel, walked.travel)).toBeLessThan(STEPPED);
    expect(relative(closed.peakTime, walked.t)).toBeLessThan(STEPPED);
    expect(relative(closed.peak, (walked.travel - 0.04) * 1250)).toBeLessThan(STEPPED);
  });

  test("doubles the vehicle's deceleration without slack, and adds with it", () => {
    expect(slackRestraint({ deceleration: 200, slack: 0, stiffness: 5e4, mass: 40 }).amplification).toBe(2);
    expect(slackRestraint({ deceleration: 200, slack: 0.1, stiffness: 5e4, mass: 40 }).amplification).toBeGreaterThan(2);
  });
});
