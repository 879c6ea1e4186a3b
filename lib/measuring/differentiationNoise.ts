import { requireFinite, requirePositive, requireThat } from "../check.ts";
import { noiseFactors } from "../math/localPolynomial.ts";

const LEAST_DEGREE = 2;
const MOST_DEGREE = 7;

/**
 * What a reading error becomes in the velocity and the acceleration taken from a film.
 *
 * Model: readings have one noise, new in each frame; the polynomial of least squares over an odd window, read in its middle. Three
 * frames and degree 2 are the plain differences from frame to frame. Says nothing of how far smoothing flattens a peak.
 *
 * @param readingNoise standard deviation of one position, > 0 [m]
 * @param captureRate frames taken in each second of the event, > 0 [1/s]
 * @param window odd whole number of frames > degree [1]
 * @param degree whole number from 2 to 7 [1]
 * @returns position standard deviation of the smoothed position [m]
 * @returns velocity standard deviation [m/s]
 * @returns acceleration standard deviation [m/s^2]
 * @throws RangeError outside those ranges
 * @source savitzky-golay-1964, method
 * @example differentiationNoise({ readingNoise: 0.001, captureRate: 1000, window: 3, degree: 2 }).acceleration // 2449.489742783178
 */
export const differentiationNoise = ({ readingNoise, captureRate, window, degree }: { readonly readingNoise: number; readonly captureRate: number; readonly window: number; readonly degree: number }) => {
  const kernel = "differentiationNoise";
  requirePositive(kernel, "readingNoise", readingNoise, "m");
  requirePositive(kernel, "captureRate", captureRate, "1/s");
  requireFinite(kernel, "degree", degree);
  requireThat(Number.isInteger(degree) && degree >= LEAST_DEGREE && degree <= MOST_DEGREE, kernel, "degree", `a whole number from ${LEAST_DEGREE} to ${MOST_DEGREE}`, degree);
  requireFinite(kernel, "window", window);
  requireThat(Number.isInteger(window) && window % 2 === 1 && window > degree, kernel, "window", `an odd whole number > degree, ${degree}`, window);
  const [position, velocity, acceleration] = noiseFactors(window, degree, 2).map((factor, derivative) => readingNoise * captureRate ** derivative * factor) as [number, number, number];
  return { position, velocity, acceleration };
};
