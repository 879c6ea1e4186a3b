import { requireNonNegative, requirePositive, requireSameLength, requireSeries, requireThat } from "../check.ts";

/** Coefficients of a front of which impact speed = intercept + slope x crush, whole width, into a rigid wall. */
const coefficients = (mass: number, width: number, intercept: number, slope: number) => ({
  stiffness: { a: (mass * intercept * slope) / width, b: (mass * slope ** 2) / width },
  threshold: (mass * intercept ** 2) / (2 * width),
});

/**
 * Crush coefficients of a front whose impact speed into a rigid wall grows linearly with the crush it leaves.
 *
 * Model: full-width tests into a rigid wall, crush uniform over the width, no rebound; all energy of motion goes into the front.
 *
 * @param mass of the vehicle tested, > 0 [kg]
 * @param width crushed, > 0 [m]
 * @param intercept speed that leaves no lasting crush, >= 0, often written b0 [m/s]
 * @param slope speed for each unit of crush, > 0, often written b1 [1/s]
 * @returns stiffness.a force per unit of width at no depth, often written A [N/m]
 * @returns stiffness.b its growth with depth, often written B [N/m^2]
 * @returns threshold energy per unit of width taken before damage lasts, often written G [N]
 * @throws RangeError outside those ranges
 * @equation stiffness.a = mass * intercept * slope / width
 * @equation stiffness.b = mass * slope^2 / width
 * @equation threshold = mass * intercept^2 / (2 * width)
 * @source campbell-1974, linear model
 * @example stiffnessFromSpeeds({ mass: 1500, width: 1.6, intercept: 2.2, slope: 25 }).stiffness.a // 51562.5
 */
export const stiffnessFromSpeeds = ({ mass, width, intercept, slope }: { readonly mass: number; readonly width: number; readonly intercept: number; readonly slope: number }) => {
  requirePositive("stiffnessFromSpeeds", "mass", mass, "kg");
  requirePositive("stiffnessFromSpeeds", "width", width, "m");
  requireNonNegative("stiffnessFromSpeeds", "intercept", intercept, "m/s");
  requirePositive("stiffnessFromSpeeds", "slope", slope, "1/s");
  return coefficients(mass, width, intercept, slope);
};

/**
 * Crush coefficients of a front, fitted to wall tests at two speeds or more.
 *
 * Model: as stiffnessFromSpeeds; the straight line of impact speed against residual crush is the one of least squares in speed. One
 * test alone leaves the intercept open: add the speed that leaves no crush (crush 0) as a point, and say where it comes from.
 *
 * @param mass of the vehicle tested, > 0 [kg]
 * @param width crushed, > 0 [m]
 * @param speed of each test, into the wall, shape (n,), n >= 2, each > 0 [m/s]
 * @param crush mean residual crush of each test, shape (n,), each >= 0, not all the same [m]
 * @returns intercept speed that leaves no lasting crush, >= 0, often written b0 [m/s]
 * @returns slope speed for each unit of crush, > 0, often written b1 [1/s]
 * @returns stiffness.a force per unit of width at no depth, often written A [N/m]
 * @returns stiffness.b its growth with depth, often written B [N/m^2]
 * @returns threshold energy per unit of width taken before damage lasts, often written G [N]
 * @returns residual root mean square of the speeds about the line [m/s]
 * @throws RangeError outside those ranges, or when the line falls or meets no crush below 0; TypeError for series of different length or under 2 tests
 * @equation stiffness.a = mass * intercept * slope / width
 * @equation stiffness.b = mass * slope^2 / width
 * @equation threshold = stiffness.a^2 / (2 * stiffness.b)
 * @source campbell-1974, linear model
 * @source derived, least squares of a straight line
 * @example stiffnessFromTests({ mass: 1500, width: 1.6, speed: [7.2, 12.2, 17.2], crush: [0.2, 0.4, 0.6] }).stiffness.b // 585937.5
 */
export const stiffnessFromTests = ({ mass, width, speed, crush }: { readonly mass: number; readonly width: number; readonly speed: ArrayLike<number>; readonly crush: ArrayLike<number> }) => {
  const kernel = "stiffnessFromTests";
  requirePositive(kernel, "mass", mass, "kg");
  requirePositive(kernel, "width", width, "m");
  requireSeries(kernel, "speed", speed, 2, "m/s");
  requireSeries(kernel, "crush", crush, 2, "m");
  requireSameLength(kernel, "speed", speed, "crush", crush);
  const n = speed.length;
  let meanSpeed = 0;
  let meanCrush = 0;
  for (let i = 0; i < n; i++) {
    requirePositive(kernel, `speed[${i}]`, speed[i] as number, "m/s");
    requireNonNegative(kernel, `crush[${i}]`, crush[i] as number, "m");
    meanSpeed += (speed[i] as number) / n;
    meanCrush += (crush[i] as number) / n;
  }
  let spread = 0;
  let together = 0;
  for (let i = 0; i < n; i++) {
    const off = (crush[i] as number) - meanCrush;
    spread += off * off;
    together += off * ((speed[i] as number) - meanSpeed);
  }
  requireThat(spread > 0, kernel, "crush", "of different depths (one depth leaves the slope open)", crush);
  const slope = together / spread;
  requireThat(slope > 0, kernel, "slope of speed against crush", "> 0 1/s", slope);
  const fitted = meanSpeed - slope * meanCrush;
  // Tests that lie on a line through no speed come out a rounding below it.
  const intercept = Math.abs(fitted) < 1e-12 * meanSpeed ? 0 : fitted;
  requireThat(intercept >= 0, kernel, "speed at no crush", ">= 0 m/s (the line through the tests must not need crush at standstill)", intercept);
  let squares = 0;
  for (let i = 0; i < n; i++) squares += ((speed[i] as number) - intercept - slope * (crush[i] as number)) ** 2;
  return { intercept, slope, ...coefficients(mass, width, intercept, slope), residual: Math.sqrt(squares / n) };
};
