import fc from "fast-check";
import { expect, test } from "vitest";
import { cumulativeTrapezoid } from "../../../lib/math/quadrature.ts";
import { crashPulse } from "../../../lib/pulse/crashPulse.ts";
import { integratePulse } from "../../../lib/pulse/integratePulse.ts";
import { pulseCharacteristics } from "../../../lib/pulse/pulseCharacteristics.ts";
import type { PulseShape } from "../../../lib/pulse/pulseShape.ts";

/** Closed forms against closed forms. */
const ROUNDING = 1e-12;
/** Trapezoidal rule on 2001 samples of a smooth pulse: about (pi/2000)^2. */
const SAMPLING = 5e-6;
const CASES = { numRuns: 200, seed: 21 };

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const shape: fc.Arbitrary<PulseShape> = fc.oneof(
  fc.constantFrom<PulseShape>({ shape: "square" }, { shape: "halfSine" }, { shape: "haversine" }),
  real(0, 1).map((peakPosition): PulseShape => ({ shape: "triangle", peakPosition })),
  fc.tuple(real(0, 1), real(0, 1)).map(([x, y]): PulseShape => ({ shape: "trapezoid", rise: Math.min(x, y), fall: 1 - Math.max(x, y) })),
);
const near = (x: number, y: number, scale: number, tolerance = ROUNDING): void => expect(Math.abs(x - y)).toBeLessThanOrEqual(tolerance * scale);

test("crashPulse(…) loses all of the velocity in all of the distance, whatever the shape", () => {
  fc.assert(
    fc.property(shape, real(1, 40), real(0.05, 3), (form, deltaV, distance) => {
      const pulse = crashPulse({ ...form, deltaV, distance, samples: 41 });
      near(pulse.series.velocity[0] as number, deltaV, deltaV);
      near(pulse.series.velocity[40] as number, 0, deltaV);
      near(pulse.series.displacement[40] as number, distance, distance);
      near(pulse.meanDeceleration * pulse.duration, deltaV, deltaV);
      near(pulse.distance, deltaV * pulse.duration * pulse.centroid, distance);
    }),
    CASES,
  );
});

test("crashPulse(…) gives the same pulse from its distance as from its duration", () => {
  fc.assert(
    fc.property(shape, real(1, 40), real(0.05, 3), (form, deltaV, distance) => {
      const one = crashPulse({ ...form, deltaV, distance });
      const other = crashPulse({ ...form, deltaV, duration: one.duration });
      near(other.distance, distance, distance);
      near(other.peakDeceleration, one.peakDeceleration, one.peakDeceleration);
    }),
    CASES,
  );
});

test("crashPulse(…) halves every deceleration when the distance doubles, and quadruples it when the velocity doubles", () => {
  fc.assert(
    fc.property(shape, real(1, 40), real(0.05, 3), (form, deltaV, distance) => {
      const one = crashPulse({ ...form, deltaV, distance });
      near(crashPulse({ ...form, deltaV, distance: 2 * distance }).peakDeceleration, one.peakDeceleration / 2, one.peakDeceleration);
      near(crashPulse({ ...form, deltaV: 2 * deltaV, distance }).meanDeceleration, 4 * one.meanDeceleration, 4 * one.meanDeceleration);
    }),
    CASES,
  );
});

test("crashPulse(…) needs more room the later the peak of its triangle, and mirrored shapes share twice the mean", () => {
  fc.assert(
    fc.property(real(0, 0.99), real(0.001, 0.01), (peakPosition, later) => {
      const at = (position: number) => crashPulse({ shape: "triangle", peakPosition: position, deltaV: 15, duration: 0.1 });
      expect(at(peakPosition + later).distance).toBeGreaterThan(at(peakPosition).distance);
      near(at(peakPosition).distance + at(1 - peakPosition).distance, 1.5, 1.5);
    }),
    CASES,
  );
});

test.each<PulseShape>([{ shape: "halfSine" }, { shape: "haversine" }, { shape: "triangle", peakPosition: 0.3 }, { shape: "trapezoid", rise: 0.2, fall: 0.1 }])(
  "crashPulse(%j) agrees with its own deceleration integrated numerically",
  (form) => {
    const { series, peakDeceleration } = crashPulse({ ...form, deltaV: 15, duration: 0.1, samples: 2001 });
    const lost = cumulativeTrapezoid(series.time, series.deceleration);
    const run = cumulativeTrapezoid(series.time, series.velocity);
    for (let i = 0; i <= 2000; i += 50) {
      near(series.velocity[i] as number, 15 - (lost[i] as number), 15, SAMPLING);
      near(series.displacement[i] as number, run[i] as number, 1, SAMPLING);
    }
    near(Math.max(...series.deceleration), peakDeceleration, peakDeceleration, SAMPLING);
  },
);

test("crashPulse(…) with a square shape is the textbook stop, v^2 = 2 a x", () => {
  const { meanDeceleration, peakDeceleration, duration, peakToMean } = crashPulse({ shape: "square", deltaV: 15.6464, distance: 0.6 });
  near(meanDeceleration, 15.6464 ** 2 / 1.2, meanDeceleration);
  near(peakDeceleration, meanDeceleration, meanDeceleration);
  near(duration, 1.2 / 15.6464, duration);
  expect(peakToMean).toBe(1);
});

test("crashPulse(…) has the trapezoid tend to the square and to the triangle", () => {
  const of = (form: PulseShape) => crashPulse({ ...form, deltaV: 12, distance: 0.5, samples: 11 });
  expect(of({ shape: "trapezoid", rise: 0, fall: 0 })).toEqual(of({ shape: "square" }));
  const triangle = of({ shape: "triangle", peakPosition: 0.25 });
  near(of({ shape: "trapezoid", rise: 0.25, fall: 0.75 }).peakDeceleration, triangle.peakDeceleration, triangle.peakDeceleration);
});

test.each([
  ["an unknown shape", () => crashPulse({ shape: "sine" as never, deltaV: 1, distance: 1 }), "crashPulse: shape must be one of square, halfSine, haversine, triangle, trapezoid, got \"sine\""],
  ["both distance and duration", () => crashPulse({ shape: "square", deltaV: 1, distance: 1, duration: 1 }), "crashPulse: distance must be given alone, or the duration alone (each follows from the other), got 1"],
  ["neither of them", () => crashPulse({ shape: "square", deltaV: 1 }), "crashPulse: distance must be given alone, or the duration alone (each follows from the other), got \"neither\""],
  ["no velocity to lose", () => crashPulse({ shape: "square", deltaV: 0, distance: 1 }), "crashPulse: deltaV must be > 0 m/s, got 0"],
  ["a peak outside the pulse", () => crashPulse({ shape: "triangle", peakPosition: 1.2, deltaV: 1, distance: 1 }), "crashPulse: peakPosition must be between 0 and 1, got 1.2"],
  ["a trapezoid without its parts", () => crashPulse({ shape: "trapezoid", deltaV: 1, distance: 1 }), "crashPulse: rise must be a number between 0 and 1, got undefined"],
  ["parts longer than the whole", () => crashPulse({ shape: "trapezoid", rise: 0.75, fall: 0.5, deltaV: 1, distance: 1 }), "crashPulse: rise + fall must be <= 1 (both are parts of the duration), got 1.25"],
])("crashPulse(…) refuses %s", (_, call, message) => {
  expect(call).toThrow(message);
});

test("integratePulse(…) is exact for acceleration in straight lines: v = c t^2 / 2, x = c t^3 / 6", () => {
  const time = [0, 0.7, 1, 2.5];
  const { velocity, displacement } = integratePulse({ time, acceleration: time.map((t) => 3 * t), velocity: 2, displacement: -1 });
  time.forEach((t, i) => {
    near(velocity[i] as number, 2 + 1.5 * t * t, 10);
    near(displacement[i] as number, -1 + 2 * t + 0.5 * t ** 3, 10);
  });
});

test("pulseCharacteristics(…) reads back what crashPulse(…) was given", () => {
  fc.assert(
    fc.property(shape, real(1, 40), real(0.05, 3), (form, deltaV, distance) => {
      const pulse = crashPulse({ ...form, deltaV, distance, samples: 2001 });
      const read = pulseCharacteristics({ time: pulse.series.time, acceleration: pulse.series.deceleration.map((a) => -a) });
      // Peak falling between samples, and a trapezoid's corners: one part in the number of samples.
      const COARSE = 2e-3;
      near(read.velocityChange, -deltaV, deltaV, COARSE);
      near(read.displacement, distance, distance, COARSE);
      near(read.duration, pulse.duration, pulse.duration, COARSE);
      near(read.equivalentSquareWave, deltaV ** 2 / (2 * distance), deltaV ** 2 / (2 * distance), 2 * COARSE);
    }),
    CASES,
  );
});

test("pulseCharacteristics(…) finds the steady pulse steady, and is the same for either sign", () => {
  const square = pulseCharacteristics({ time: [0, 0.1, 0.1001, 0.2], acceleration: [-150, -150, 0, 0] });
  expect(square.duration).toBeCloseTo(0.1001, 12);
  near(square.equivalentSquareWave, 150, 150, 1e-3);
  const time = [0, 0.02, 0.05, 0.08];
  const one = pulseCharacteristics({ time, acceleration: [0, -90, -200, 0] });
  const other = pulseCharacteristics({ time, acceleration: [0, 90, 200, 0] });
  expect(other).toEqual({ ...one, peak: 200, velocityChange: -one.velocityChange, mean: -one.mean });
  expect(() => pulseCharacteristics({ time, acceleration: [0, 0, 0, 0] })).toThrow("pulseCharacteristics: acceleration must be a pulse that changes the velocity, got 0");
});
