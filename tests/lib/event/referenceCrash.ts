/**
 * One crash worked out independently of this library. All values are invented for testing numerics; they describe no real
 * vehicle or person. SI throughout; occupants are counted apart from the vehicle's mass.
 *
 * Answers: classical fourth-order Runge-Kutta at 0.25 microseconds in 64-bit-mantissa extended precision, history kept at
 * step ends only; halving the step from 0.5 microseconds changed nothing by more than 2.8e-10.
 */
import type { CrashInput, OccupiedVehicle } from "../../../lib/event/types.ts";

const a: OccupiedVehicle = {
  mass: 1280,
  speed: 13.5,
  front: { crush: [0, 0.08, 0.3, 0.52, 0.7, 0.95], force: [0, 70000, 150000, 235000, 420000, 1150000] },
  unloading: { stiffness: 40000000 },
  occupants: [
    {
      torsoMass: 34,
      headMass: 4.6,
      counted: "apart",
      belt: { slack: 0.03, stiffness: 90000, limit: 8600 },
      bag: { fireTime: 0.035, torsoGap: 0.15, torsoStiffness: 42000, headGap: 0.21, headStiffness: 9000 },
      space: 0.3,
      interiorStiffness: 260000,
      neck: { stiffness: 6000, damping: 95 },
    },
    {
      torsoMass: 26,
      headMass: 4.1,
      counted: "apart",
      belt: { slack: 0.055, stiffness: 70000, limit: 5200 },
      bag: { fireTime: 0.04, torsoGap: 0.19, torsoStiffness: 30000, headGap: 0.26, headStiffness: 7500 },
      space: 0.275,
      interiorStiffness: 260000,
      neck: { stiffness: 5200, damping: 80 },
    },
  ],
};

const b: OccupiedVehicle = {
  mass: 1690,
  speed: 11,
  front: { crush: [0, 0.06, 0.26, 0.46, 0.62, 0.85], force: [0, 90000, 195000, 300000, 520000, 1400000] },
  unloading: { stiffness: 52000000 },
  occupants: [
    {
      torsoMass: 38,
      headMass: 4.9,
      counted: "apart",
      belt: { slack: 0.025, stiffness: 95000, limit: 8200 },
      bag: { fireTime: 0.032, torsoGap: 0.16, torsoStiffness: 44000, headGap: 0.22, headStiffness: 9500 },
      space: 0.32,
      interiorStiffness: 280000,
      neck: { stiffness: 6500, damping: 100 },
    },
    {
      torsoMass: 30,
      headMass: 4.3,
      counted: "apart",
      belt: { slack: 0.07, stiffness: 80000, limit: 7000 },
      bag: { fireTime: 0.045, torsoGap: 0.2, torsoStiffness: 34000, headGap: 0.27, headStiffness: 8000 },
      space: 0.29,
      interiorStiffness: 280000,
      neck: { stiffness: 5600, damping: 85 },
    },
  ],
};

export const referenceCrash: CrashInput = { a, b, duration: 0.15 };

/** Occupants in the order a, a, b, b. Accelerations in multiples of 9.80665 m/s^2; the clip is the contiguous one. */
export const REFERENCE = {
  deltaV: [-14.9366877, -11.461869],
  crush: [0.674732975, 0.528386264],
  peakForce: 394031.114,
  peakVehicle: [29.6343285, 22.6942466],
  hic15: [400.916318, 752.580303, 202.970788, 285.900787],
  clip: [39.6280954, 93.2245012, 28.053924, 42.8625834],
  chestPeak: [39.7570759, 94.5518052, 28.1381418, 43.4447399],
};

/** The same without occupants (vehicle masses unchanged): closed form in extended precision, stepped to 1e-11 by a second route. */
export const REFERENCE_ALONE = {
  deltaV: [-15.662641541463, -11.8628290964927],
  peakForce: 388240.474204222,
  overlap: 1.19327373009661,
  commonVelocity: 0.0769155632354026,
  separation: 0.0858311973165382,
  separationSpeed: 3.02547063795575,
  restitution: 0.1234885975,
};

/** Means over 10,000 varied crashes, velocity Verlet, step 0.25 ms, from a second program. */
export const REFERENCE_MEANS = {
  count: 10000,
  deltaVA: -14.941818207063829,
  hic15First: 404.3158659881698,
};
