import { requirePositive, requireThat } from "../check.ts";
import { type PulseShape, unitPulse } from "./pulseShape.ts";

/** Velocity lost, and either the distance or the time that it is lost in. */
export interface CrashPulseInput extends PulseShape {
  /** > 0 [m/s] */
  readonly deltaV: number;
  /** From touch to rest; give it or the duration, never both [m]. */
  readonly distance?: number;
  /** From touch to rest; give it or the distance, never both [s]. */
  readonly duration?: number;
  /** Moments in the series, both ends counted; left out: 201. */
  readonly samples?: number;
}

/**
 * Deceleration, time and distance of a stop, for a given shape of pulse.
 *
 * Model: the body is brought to rest, relative to what it runs into, by one pulse of the stated shape, and stays there. Distance is
 * velocity change x duration x centroid, so a pulse that comes late needs more room. Not for a body that rebounds.
 *
 * @param shape square, halfSine, haversine, triangle (with peakPosition) or trapezoid (with rise and fall)
 * @param peakPosition of a triangle, 0 to 1 of the duration, default 0.5 [1]
 * @param rise of a trapezoid, 0 to 1 of the duration [1]
 * @param fall of a trapezoid, 0 to 1 of the duration, rise + fall <= 1 [1]
 * @param deltaV > 0, speed lost [m/s]
 * @param distance > 0, from touch to rest; give it or the duration, never both [m]
 * @param duration > 0, from touch to rest; give it or the distance, never both [s]
 * @param samples whole number >= 2, default 201 [1]
 * @returns duration > 0 [s]
 * @returns distance > 0 [m]
 * @returns meanDeceleration over time, > 0 [m/s^2]
 * @returns peakDeceleration > 0 [m/s^2]
 * @returns peakToMean >= 1 [1]
 * @returns centroid share of the duration at which the velocity change is centred [1]
 * @returns series.time shape (samples,), from 0 [s]
 * @returns series.deceleration shape (samples,), >= 0 [m/s^2]
 * @returns series.velocity shape (samples,), from deltaV to 0 [m/s]
 * @returns series.displacement shape (samples,), from 0 to distance [m]
 * @throws RangeError outside those ranges; TypeError for another shape
 * @equation meanDeceleration = deltaV / duration
 * @equation peakDeceleration = peakToMean * deltaV / duration
 * @equation distance = deltaV * duration * centroid
 * @equation duration = distance / (deltaV * centroid)
 * @source derived, integrals of each shape; mean deceleration as in openstax-university-physics-1, section 3.4
 * @example crashPulse({ shape: "halfSine", deltaV: 15, distance: 0.6 }).peakDeceleration // 294.5243112740431
 */
export const crashPulse = (input: CrashPulseInput) => {
  const { deltaV, samples = 201 } = input;
  const unit = unitPulse("crashPulse", input);
  requirePositive("crashPulse", "deltaV", deltaV, "m/s");
  requireThat((input.distance === undefined) !== (input.duration === undefined), "crashPulse", "distance", "given alone, or the duration alone (each follows from the other)", input.distance ?? "neither");
  if (input.distance !== undefined) requirePositive("crashPulse", "distance", input.distance, "m");
  if (input.duration !== undefined) requirePositive("crashPulse", "duration", input.duration, "s");
  requireThat(Number.isInteger(samples) && samples >= 2, "crashPulse", "samples", "a whole number >= 2", samples);

  const duration = input.duration ?? (input.distance as number) / (deltaV * unit.centroid);
  const distance = input.distance ?? deltaV * duration * unit.centroid;
  const meanDeceleration = deltaV / duration;
  const peakDeceleration = meanDeceleration / unit.area;
  const series = { time: new Float64Array(samples), deceleration: new Float64Array(samples), velocity: new Float64Array(samples), displacement: new Float64Array(samples) };
  for (let i = 0; i < samples; i++) {
    const share = i / (samples - 1);
    const { height, once, twice } = unit.at(share);
    series.time[i] = share * duration;
    series.deceleration[i] = peakDeceleration * height;
    series.velocity[i] = deltaV * (1 - once / unit.area);
    series.displacement[i] = deltaV * duration * (share - twice / unit.area);
  }
  return { duration, distance, meanDeceleration, peakDeceleration, peakToMean: 1 / unit.area, centroid: unit.centroid, series };
};
