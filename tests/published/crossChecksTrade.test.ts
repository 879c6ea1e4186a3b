/**
 * Facts of the trade: common practice, no source. Masses that they leave open are assumed here and said so. (The falling mass of 5 t and
 * the 2 g at the start of a pull are in tests/lib/staging/gravityTow.test.ts.)
 */
import { describe, expect, test } from "vitest";
import { centralImpact, crash, framesInPulse, momentumBalance, playbackRatio, recordLength, rollingShutterLean, shutterExposure, trueSpeed, vehiclesAlone, type CrashInput } from "../../lib/index.ts";

describe("of two cars with mass ratio 1.5 the lighter's velocity changes 1.5 times as much (common practice, no source)", () => {
  // assumed: 2.6 t together, so 1040 kg and 1560 kg, each at 70 km/h
  const RATIO = 1.5;
  const ROUNDING = 1e-12;
  const speed = 70 / 3.6;
  const front = { crush: [0, 0.5, 1], force: [0, 300000, 1200000] };
  const pair: CrashInput = { a: { mass: 1040, speed, front, unloading: { stiffness: 2e7 }, occupants: [] }, b: { mass: 1560, speed, front: { crush: [0, 1], force: [0, 500000] }, unloading: { stiffness: 2e7 }, occupants: [] } };
  const near = (value: number, tolerance: number): void => expect(Math.abs(value / RATIO - 1)).toBeLessThan(tolerance);

  test.each([0, 0.2, 1])("centralImpact(…) with restitution %d agrees", (restitution) => {
    const { deltaV } = centralImpact({ a: { mass: 1040, velocity: speed }, b: { mass: 1560, velocity: -speed }, restitution });
    near(-deltaV.a / deltaV.b, ROUNDING);
  });

  test("vehiclesAlone(…) agrees, whatever the fronts", () => {
    const { deltaV } = vehiclesAlone(pair);
    near(deltaV.a / deltaV.b, ROUNDING);
  });

  test("crash(…) agrees at every instant", () => {
    const { a, b } = crash(pair).traces.vehicles;
    a.velocity.forEach((velocity, i) => {
      const lighter = velocity - speed;
      const heavier = (b.velocity[i] as number) - speed;
      expect(Math.abs(lighter - RATIO * heavier)).toBeLessThan(1e-11 * speed); // rounding of 600 steps
    });
  });

  test("momentumBalance(…) agrees for a capture", () => {
    const { velocity } = momentumBalance({ before: [{ mass: 1040, velocity: { x: speed, y: 0 } }, { mass: 1560, velocity: { x: -speed, y: 0 } }], after: [] });
    near((speed - velocity.x) / (velocity.x + speed), ROUNDING);
  });
});

describe("capture rates of 25 to 5000 frames a second are in use (common practice, no source)", () => {
  // every kernel of filming that asks for one; an invented camera
  test.each([25, 50, 100, 240, 1000, 2500, 5000])("every kernel of filming takes %d", (captureRate) => {
    const rates = { captureRate, projectRate: 25, playbackRate: 25 };
    expect(framesInPulse({ captureRate, speed: 15, pulseDuration: 0.1 }).frames).toBeCloseTo(captureRate / 10, 9);
    expect(shutterExposure({ shutterAngle: Math.PI, captureRate }).exposure).toBeCloseTo(0.5 / captureRate, 12);
    expect(recordLength({ memory: 8e9, pixelsAcross: 1280, pixelsDown: 720, bitsPerPixel: 8, captureRate }).duration).toBeCloseTo(Math.floor(8e9 / 921600) / captureRate, 9);
    expect(playbackRatio({ ...rates, eventDuration: 0.1 }).slowDown).toBeCloseTo(captureRate / 25, 9);
    expect(trueSpeed({ ...rates, timedBy: "screen", apparentSpeed: 15 * (25 / captureRate) }).speed).toBeCloseTo(15, 9);
    expect(rollingShutterLean({ speed: 15, readoutTime: 1 / captureRate, pixelSize: 0.002 }).lean).toBeCloseTo(15 / captureRate, 12);
  });
});
