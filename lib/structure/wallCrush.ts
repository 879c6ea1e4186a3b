import { requirePositive } from "../check.ts";

/**
 * A linear front crushed against a rigid wall.
 *
 * Model: one straight line of force against crush until the vehicle stands still. Not for a front that stiffens.
 *
 * @param mass > 0 [kg]
 * @param speed > 0, into the wall [m/s]
 * @param stiffness > 0 [N/m]
 * @returns crush [m], peakForce [N], peakDeceleration [m/s^2], duration to standstill [s], energy [J]
 * @throws RangeError outside those ranges
 * @equation crush = speed * sqrt(mass / stiffness)
 * @equation peakForce = speed * sqrt(mass * stiffness)
 * @equation peakDeceleration = speed * sqrt(stiffness / mass)
 * @equation duration = pi / 2 * sqrt(mass / stiffness)
 * @equation energy = mass * speed^2 / 2
 * @source derived, mass on a spring
 * @example wallCrush({ mass: 1400, speed: 14, stiffness: 800000 }).crush // 0.58566202
 */
export const wallCrush = ({ mass, speed, stiffness }: { readonly mass: number; readonly speed: number; readonly stiffness: number }) => {
  requirePositive("wallCrush", "mass", mass, "kg");
  requirePositive("wallCrush", "speed", speed, "m/s");
  requirePositive("wallCrush", "stiffness", stiffness, "N/m");
  return {
    crush: speed * Math.sqrt(mass / stiffness),
    peakForce: speed * Math.sqrt(mass * stiffness),
    peakDeceleration: speed * Math.sqrt(stiffness / mass),
    duration: (Math.PI / 2) * Math.sqrt(mass / stiffness),
    energy: (mass * speed ** 2) / 2,
  };
};

/**
 * Stiffness of a front, from the deepest crush of a test against a rigid wall.
 *
 * Model: the front is taken as one straight line that absorbs the whole energy of motion. Not for a front that stiffens.
 *
 * @param mass > 0 [kg]
 * @param speed > 0, into the wall [m/s]
 * @param crush > 0, deepest during the test, not what is measured afterwards [m]
 * @returns stiffness [N/m], peakDeceleration [m/s^2], duration to standstill [s]
 * @throws RangeError outside those ranges
 * @equation stiffness = mass * speed^2 / crush^2
 * @equation peakDeceleration = speed^2 / crush
 * @equation duration = pi * crush / (2 * speed)
 * @source derived, mass on a spring
 * @example stiffnessFromWallTest({ mass: 1500, speed: 15, crush: 0.6 }).stiffness // 937500
 */
export const stiffnessFromWallTest = ({ mass, speed, crush }: { readonly mass: number; readonly speed: number; readonly crush: number }) => {
  requirePositive("stiffnessFromWallTest", "mass", mass, "kg");
  requirePositive("stiffnessFromWallTest", "speed", speed, "m/s");
  requirePositive("stiffnessFromWallTest", "crush", crush, "m");
  return {
    stiffness: (mass * speed ** 2) / crush ** 2,
    peakDeceleration: speed ** 2 / crush,
    duration: (Math.PI * crush) / (2 * speed),
  };
};
