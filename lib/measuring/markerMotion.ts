import { requireFinite, requireNonNegative, requirePositive, requireSeries, requireThat } from "../check.ts";
import { type LocalFit, localFits } from "../math/localPolynomial.ts";
import { largestNear, NINETEEN_OF_TWENTY, readingNoiseOf } from "./readingNoise.ts";

export interface MarkerTrack {
  /** Along the line of motion, one a frame [px] */
  readonly positions: ArrayLike<number>;
  /** Frames taken in each second of the event [1/s] */
  readonly captureRate: number;
  /** What one pixel covers in the plane of motion [m] */
  readonly scale: number;
  /** Give or take of the scale [m] */
  readonly scaleGive?: number;
}

/** Refuses a track with fewer readings than a kernel needs. */
export const requireTrack = (kernel: string, { positions, captureRate, scale, scaleGive = 0 }: MarkerTrack, least: number): void => {
  requireSeries(kernel, "positions", positions, least);
  requirePositive(kernel, "captureRate", captureRate, "1/s");
  requirePositive(kernel, "scale", scale, "m");
  requireNonNegative(kernel, "scaleGive", scaleGive, "m");
};

const LEAST_DEGREE = 4;
const MOST_DEGREE = 7;
/** Frames in the window beyond the degree, so that the fit has something to smooth. */
const SPARE = 4;
/** Each window tried is so much longer than the one before. */
const STRETCH = 1.15;
/** The largest distance to the fit two degrees lower within this part of the window counts as error of smoothing. */
const REACH = 4;

interface Smoothed {
  readonly values: Float64Array;
  /** Give or take from noise and from smoothing. */
  readonly band: Float64Array;
}

/** Derivatives of the readings, each with its band, per frame. */
const smooth = (readings: Float64Array, noise: number, window: number, degree: number, derivatives: readonly number[]): Smoothed[] =>
  localFits(readings, window, degree, derivatives).map(({ values, lower, noiseFactor }: LocalFit) => {
    const apart = largestNear(values.map((value, i) => Math.abs(value - (lower[i] as number))), Math.floor((window - 1) / REACH));
    return { values, band: noiseFactor.map((factor, i) => NINETEEN_OF_TWENTY * noise * factor + (apart[i] as number)) };
  });

const widest = (band: Float64Array, window: number): number => band.subarray((window - 1) / 2, band.length - (window - 1) / 2).reduce((most, value) => Math.max(most, value), 0);

/** Of windows up to half the record, the one with the smallest of largest bands of acceleration. */
const bestWindow = (readings: Float64Array, noise: number, degree: number): number => {
  const odd = (frames: number): number => 2 * Math.floor(frames / 2) + 1;
  let best = odd(degree + SPARE);
  let least = Infinity;
  for (let window = best; window <= Math.max(best, readings.length / 2); window = Math.max(window + 2, odd(STRETCH * window))) {
    const most = widest((smooth(readings, noise, window, degree, [2])[0] as Smoothed).band, window);
    if (most < least) {
      least = most;
      best = window;
    }
  }
  return best;
};

/**
 * Position, velocity and acceleration of a marker from its places in the frames of a film, each with a band.
 *
 * Model: a polynomial through the frames round each one, by least squares. Readings have one noise, new in each frame. Where no
 * window is given, the one is taken that makes the widest band of acceleration narrowest; longer windows quieten noise and flatten
 * peaks. A band is the give or take, 19 times in 20: noise and scale, plus what the fit two degrees lower differs by nearby, for
 * the smoothing. At both ends of the record windows are read away from their middle, and bands grow. Not for a marker that turns
 * out of the plane.
 *
 * @param positions shape (n,), n >= 17, along the line of motion, one a frame, none left out, in pixels [1]
 * @param captureRate frames taken in each second of the event, > 0 [1/s]
 * @param scale what one pixel covers in the plane of motion, > 0 [m]
 * @param scaleGive give or take of the scale, >= 0, default 0 [m]
 * @param readingNoise standard deviation of one reading, in pixels, >= 0; told from fourth differences where left out [1]
 * @param window odd whole number of frames, at least 4 more than the degree; chosen where left out [1]
 * @param degree whole number from 4 to 7, default 5 [1]
 * @returns time of each frame, from the first [s]
 * @returns position from the first reading [m]
 * @returns velocity signed [m/s]
 * @returns acceleration signed [m/s^2]
 * @returns band.position give or take [m]
 * @returns band.velocity give or take [m/s]
 * @returns band.acceleration give or take [m/s^2]
 * @returns peak.acceleration the largest in size with a full window round it, signed [m/s^2]
 * @returns peak.give give or take [m/s^2]
 * @returns peak.time of it [s]
 * @returns velocityChange.change from the first to the last frame with a full window round it, signed [m/s]
 * @returns velocityChange.give give or take [m/s]
 * @returns full.from first instant with a full window round it [s]
 * @returns full.to last instant with a full window round it [s]
 * @returns window frames [1]
 * @returns windowDuration from its first frame to its last [s]
 * @returns degree of the polynomial [1]
 * @returns readingNoise standard deviation of one reading, in pixels [1]
 * @throws RangeError outside those ranges; TypeError for too few readings
 * @source savitzky-golay-1964, method
 * @source calonico-2014, fit of a higher order than the one that sets the window
 * @example markerMotion({ positions: Array.from({ length: 21 }, (_, i) => i * i), captureRate: 100, scale: 0.002, window: 9 }).acceleration[10] // 40
 */
export const markerMotion = ({ positions, captureRate, scale, scaleGive = 0, readingNoise, window, degree = 5 }: MarkerTrack & { readonly readingNoise?: number; readonly window?: number; readonly degree?: number }) => {
  const kernel = "markerMotion";
  requireFinite(kernel, "degree", degree);
  requireThat(Number.isInteger(degree) && degree >= LEAST_DEGREE && degree <= MOST_DEGREE, kernel, "degree", `a whole number from ${LEAST_DEGREE} to ${MOST_DEGREE}`, degree);
  requireTrack(kernel, { positions, captureRate, scale, scaleGive }, 17);
  if (readingNoise !== undefined) requireNonNegative(kernel, "readingNoise", readingNoise, "px");
  if (window !== undefined) {
    requireFinite(kernel, "window", window);
    const rule = `an odd whole number from ${degree + SPARE} to ${positions.length}, the number of readings`;
    requireThat(Number.isInteger(window) && window % 2 === 1 && window >= degree + SPARE && window <= positions.length, kernel, "window", rule, window);
  }
  const first = positions[0] as number;
  const readings = Float64Array.from(positions, (position) => position - first);
  const noise = readingNoise ?? readingNoiseOf(readings);
  const frames = window ?? bestWindow(readings, noise, degree);
  const relative = scaleGive / scale;
  const [position, velocity, acceleration] = smooth(readings, noise, frames, degree, [0, 1, 2]).map(({ values, band }, derivative) => {
    const factor = scale * captureRate ** derivative;
    return { values: values.map((value) => factor * value), band: band.map((give, i) => factor * Math.sqrt(give ** 2 + (relative * (values[i] as number)) ** 2)) };
  }) as [Smoothed, Smoothed, Smoothed];
  const from = (frames - 1) / 2;
  const to = readings.length - 1 - from;
  let peak = from;
  for (let i = from; i <= to; i++) if (Math.abs(acceleration.values[i] as number) > Math.abs(acceleration.values[peak] as number)) peak = i;
  return {
    time: readings.map((_, i) => i / captureRate),
    position: position.values,
    velocity: velocity.values,
    acceleration: acceleration.values,
    band: { position: position.band, velocity: velocity.band, acceleration: acceleration.band },
    peak: { acceleration: acceleration.values[peak] as number, give: acceleration.band[peak] as number, time: peak / captureRate },
    velocityChange: { change: (velocity.values[to] as number) - (velocity.values[from] as number), give: Math.hypot(velocity.band[from] as number, velocity.band[to] as number) },
    full: { from: from / captureRate, to: to / captureRate },
    window: frames,
    windowDuration: (frames - 1) / captureRate,
    degree,
    readingNoise: noise,
  };
};
