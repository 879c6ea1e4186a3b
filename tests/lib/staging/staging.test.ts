import fc from "fast-check";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { coast, dropOnSpring, frictionFromSlide, frontOverlap, LINE_RECOIL, lineStretch, meetingShift, pulleyResultant, rollingFromCoast, slideSpeed, speedTrap, steadyPull, stoppingDistance, stoppingForce, takeUp } from "../../../lib/index.ts";
import { fromSI, toSI } from "../../../lib/units.ts";

/** A few double roundings. */
const ROUNDING = 1e-12;
const CASES = { numRuns: 200, seed: 7 };

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const near = (x: number, y: number, scale = Math.abs(y), tolerance = ROUNDING): void => expect(Math.abs(x - y), `${x} against ${y}`).toBeLessThanOrEqual(tolerance * scale);

describe("taking up", () => {
  test("takeUp(…) doubles a pull without slack, and the work of the steady pull equals the energy of the stretch", () => {
    fc.assert(
      fc.property(real(10, 1e5), real(1e3, 1e7), real(0, 2), (pull, stiffness, slack) => {
        const { factor, peakStretch, peakPull } = takeUp({ steadyPull: pull, stiffness, slack });
        expect(factor).toBeGreaterThanOrEqual(2);
        near(pull * (slack + peakStretch), (stiffness * peakStretch ** 2) / 2);
        near(peakPull, stiffness * peakStretch);
        expect(takeUp({ steadyPull: pull, stiffness, slack: 0 }).factor).toBe(2);
      }),
      CASES,
    );
  });

  test("dropOnSpring(…) without a carrier is takeUp(…) of its weight", () => {
    const { deflection, springForce, energyLost } = dropOnSpring({ mass: 12, carrierMass: 0, fall: 0.4, stiffness: 3000, gravity: 9.81 });
    const other = takeUp({ steadyPull: 12 * 9.81, stiffness: 3000, slack: 0.4 });
    near(deflection, other.peakStretch);
    near(springForce, other.peakPull);
    expect(energyLost).toBe(0);
  });

  test("dropOnSpring(…) keeps energy from the blow to the deepest point", () => {
    fc.assert(
      fc.property(real(1, 100), real(0, 100), real(0, 5), real(1e3, 1e5), (mass, carrierMass, fall, stiffness) => {
        const g = 9.81;
        const { deflection, energyLost, springForce } = dropOnSpring({ mass, carrierMass, fall, stiffness, gravity: g });
        const held = (carrierMass * g) / stiffness;
        const spring = (stiffness * ((held + deflection) ** 2 - held ** 2)) / 2;
        const given = mass * g * fall - energyLost + (mass + carrierMass) * g * deflection;
        near(spring, given, given, 1e-11);
        near(springForce, stiffness * (held + deflection));
      }),
      CASES,
    );
  });

  test("lineStretch(…) of two lengths in a row adds, and its energy is that of the spring", () => {
    const line = { pull: 4000, area: 1.2e-4, modulus: 9e10 };
    near(lineStretch({ ...line, length: 10 }).stretch + lineStretch({ ...line, length: 35 }).stretch, lineStretch({ ...line, length: 45 }).stretch);
    const { stiffness, stretch, energy } = lineStretch({ ...line, length: 45 });
    near(energy, (stiffness * stretch ** 2) / 2);
  });
});

describe("pulleys", () => {
  test("pulleyResultant(…) is the pull at 60 degrees, root two of it at a right angle, twice it straight back, none straight through", () => {
    const at = (wrapAngle: number): number => pulleyResultant({ pullIn: 1000, pullOut: 1000, wrapAngle }).resultant;
    near(at(Math.PI / 3), 1000);
    near(at(Math.PI / 2), 1000 * Math.SQRT2);
    near(at(Math.PI), 2000);
    expect(at(0)).toBe(0);
  });

  test("pulleyResultant(…) agrees with the sum of two vectors, and grows with the angle", () => {
    fc.assert(
      fc.property(real(1, 1e5), real(1, 1e5), real(0, 3), (pullIn, pullOut, wrapAngle) => {
        const { resultant } = pulleyResultant({ pullIn, pullOut, wrapAngle });
        // the two parts pull on the pulley along directions that make an angle of pi - wrapAngle
        const inside = Math.PI - wrapAngle;
        near(resultant, Math.hypot(pullIn + pullOut * Math.cos(inside), pullOut * Math.sin(inside)), pullIn + pullOut);
        expect(pulleyResultant({ pullIn, pullOut, wrapAngle: wrapAngle + 0.1 }).resultant).toBeGreaterThan(resultant);
      }),
      CASES,
    );
  });

  test("pulleyResultant(…) refuses more than half a turn", () => expect(() => pulleyResultant({ pullIn: 1, pullOut: 1, wrapAngle: 3.2 })).toThrow(/^pulleyResultant: wrapAngle must be between 0 and 3\.14/));
});

describe("release and arrival", () => {
  test("coast(…) loses what rolling takes, as energy, and stops where the energy is used up", () => {
    fc.assert(
      fc.property(real(1, 40), real(0, 500), real(0.001, 0.1), (speed, distance, rollingResistance) => {
        const gravity = 9.81;
        const { speedAfter, speedLost, covered, time } = coast({ speed, distance, rollingResistance, gravity });
        near((speed ** 2 - speedAfter ** 2) / 2, rollingResistance * gravity * covered, speed ** 2);
        near(speed - speedAfter, speedLost, speed);
        near(speedLost, rollingResistance * gravity * time, speed);
        expect(covered).toBeLessThanOrEqual(distance);
        if (covered < distance) expect(speedAfter).toBe(0);
        if (covered > 0) near(rollingFromCoast({ speedBefore: speed, speedAfter, distance: covered, gravity }).rollingResistance, rollingResistance, speed ** 2 / (2 * gravity * covered));
      }),
      CASES,
    );
  });

  test("coast(…) without rolling keeps its speed", () => expect(coast({ speed: 15, distance: 30, rollingResistance: 0 })).toEqual({ speedAfter: 15, speedLost: 0, covered: 30, time: 2 }));

  test("meetingShift(…) puts both at one place at one time", () => {
    fc.assert(
      fc.property(real(0.5, 40), real(0.5, 40), real(0.001, 2), (speedA, speedB, delay) => {
        const { shift, time, gap } = meetingShift({ a: { speed: speedA }, b: { speed: speedB }, delay });
        near(shift, speedA * time, gap);
        near(shift, gap - speedB * time, gap);
        // told from the other side, along the other's way
        const other = meetingShift({ a: { speed: speedB }, b: { speed: speedA }, delay: -delay });
        near(other.shift, -shift, shift);
      }),
      CASES,
    );
  });

  test("meetingShift(…) of 20 ms at 15 and 10 m/s is 0.12 m", () => near(meetingShift({ a: { speed: 15 }, b: { speed: 10 }, delay: 0.02 }).shift, 0.12));

  test("speedTrap(…) with one error alone has that share of the speed, and adds two as squares", () => {
    const gates = { spacing: 1.5, time: 0.1 };
    const spacingOnly = speedTrap({ ...gates, spacingGive: 0.003, timeGive: 0 });
    const timeOnly = speedTrap({ ...gates, spacingGive: 0, timeGive: 0.0002 });
    near(spacingOnly.give / spacingOnly.speed, 0.002);
    near(timeOnly.give / timeOnly.speed, 0.002);
    near(speedTrap({ ...gates, spacingGive: 0.003, timeGive: 0.0002 }).give, Math.hypot(spacingOnly.give, timeOnly.give));
  });

  test("frontOverlap(…) is full head-on, none once the fronts pass, and 40 % for UN Regulation 94's offset (from memory)", () => {
    const front = (width: number) => ({ width, yaw: 0 });
    expect(frontOverlap({ a: front(1.6), b: front(1.8), offset: 0 })).toEqual({ overlap: 1.6, share: { a: 1, b: 1.6 / 1.8 }, lever: { a: 0, b: 0 } });
    expect(frontOverlap({ a: front(1.6), b: front(1.8), offset: 1.71 }).overlap).toBe(0);
    // a barrier 1 m wide whose edge stands at 40 % of a vehicle 1.7 m wide: offset between middles 0.5 + 0.85 - 0.68
    const barrier = frontOverlap({ a: front(1.7), b: front(1), offset: 0.67 });
    near(barrier.share.a, 0.4);
    near(barrier.lever.a, 0.85 - 0.34);
  });

  test("frontOverlap(…) is the same from either side, from either car, and falls with offset", () => {
    fc.assert(
      fc.property(real(1, 2.5), real(1, 2.5), real(-0.5, 0.5), real(-0.5, 0.5), real(0, 2), (widthA, widthB, yawA, yawB, offset) => {
        const a = { width: widthA, yaw: yawA };
        const b = { width: widthB, yaw: yawB };
        const there = frontOverlap({ a, b, offset });
        const back = frontOverlap({ a: b, b: a, offset: -offset });
        expect(back.overlap).toBe(there.overlap);
        expect(back.share.a).toBe(there.share.b);
        near(back.lever.a, there.lever.b, 2);
        expect(frontOverlap({ a, b, offset: offset + 0.1 }).overlap).toBeLessThanOrEqual(there.overlap);
        for (const share of [there.share.a, there.share.b]) expect(share >= 0 && share <= 1).toBe(true);
      }),
      CASES,
    );
  });
});

describe("stopping", () => {
  test("stoppingDistance(…) at 0.7 g after 1 s: 31 m from 15 m/s, 17 m from 10 m/s", () => {
    for (const [speed, metres] of [[15, 31], [10, 17]] as const) expect(Math.round(stoppingDistance({ speed, delay: 1, deceleration: toSI(0.7, "gn") }).total)).toBe(metres);
  });

  // Design distances of the AASHTO Green Book: 2.5 s, then 11.2 ft/s^2 or 3.4 m/s^2, rounded up to the next 5 ft or 5 m. Tables from memory.
  test.each([["mph", 30, 200], ["mph", 60, 570], ["km/h", 50, 65], ["km/h", 80, 130], ["km/h", 120, 250]] as const)("stoppingDistance(…) rounded up is the sight distance for design at %s %d", (unit, speed, design) => {
    const feet = unit === "mph";
    const { total } = stoppingDistance({ speed: toSI(speed, unit), delay: 2.5, deceleration: feet ? 11.2 * toSI(1, "ft") : 3.4 });
    expect(5 * Math.ceil((feet ? fromSI(total, "ft") : total) / 5)).toBe(design);
  });

  // UN Regulation No. 13-H, annex 3: v^2 / (25.92 * 6.43) in km/h is 0.0060 v^2. From memory.
  test("stoppingDistance(…) has the braking term of UN Regulation 13-H at 6.43 m/s^2", () => near(stoppingDistance({ speed: toSI(100, "km/h"), delay: 0, deceleration: 6.43 }).braking, 0.006 * 100 ** 2, 60, 1e-5));

  test("slideSpeed(…) and frictionFromSlide(…) undo each other, and agree with stoppingForce(…)", () => {
    fc.assert(
      fc.property(real(0.5, 200), real(0.05, 1.2), real(500, 3000), (distance, friction, mass) => {
        const slide = slideSpeed({ distance, friction });
        const back = frictionFromSlide({ speed: slide.speed, distance });
        near(back.friction, friction);
        near(back.time, slide.time);
        near(back.fallHeight, slide.fallHeight);
        const stop = stoppingForce({ mass, speed: slide.speed, distance });
        near(stop.force, mass * slide.deceleration);
        near(stop.energy, stop.force * distance);
        near(stoppingDistance({ speed: slide.speed, delay: 0, deceleration: slide.deceleration }).total, distance);
      }),
      CASES,
    );
  });

  test("stoppingForce(…) turned round is steadyPull(…)", () => {
    const { speed, time } = steadyPull({ force: 3000, resistance: 400, mass: 900, distance: 12 });
    const stop = stoppingForce({ mass: 900, speed, distance: 12 });
    near(stop.force, 2600);
    near(stop.time, time);
  });
});

test("LINE_RECOIL gives a source in lib/sources.yaml for each fact, a unit with each number, and no word of approval", () => {
  const sources = parse(readFileSync(new URL("../../../lib/sources.yaml", import.meta.url), "utf8")) as Record<string, { status: string }>;
  for (const [name, fact] of Object.entries(LINE_RECOIL)) {
    expect(sources[fact.source]?.status, name).toBe(fact.status);
    expect("printed" in fact, name).toBe("unit" in fact);
    expect(fact.fact).not.toMatch(/\bsafe\b|approved|compliant/);
  }
});
