import { requireNonNegative, requirePositive, requireThat } from "../check.ts";
import { CHANNEL_FREQUENCY_CLASSES, channelFilter, channelFilterWeights, type ChannelFrequencyClass } from "../pulse/channelFilter.ts";
import { requireTrack, type MarkerTrack } from "./markerMotion.ts";
import { largestNear, NINETEEN_OF_TWENTY, readingNoiseOf } from "./readingNoise.ts";

/** Share of its first size below which the echo of a sample in the filter no longer counts. */
const SETTLED = 1e-3;
const LEAST_RATE = 10;

/** Central differences; the first and the last sample have none. */
const DIFFERENCES = [
  (x: Float64Array) => x.slice(1, -1),
  (x: Float64Array) => x.slice(2).map((value, i) => 0.5 * (value - (x[i] as number))),
  (x: Float64Array) => x.slice(2).map((value, i) => value - 2 * (x[i + 1] as number) + (x[i] as number)),
] as const;

/**
 * Position, velocity and acceleration of a marker by differences from frame to frame and a channel filter, each with a band.
 *
 * Model: central differences, then the channel filter of crash records, forwards and backwards. Frames at both ends, where the
 * filter has not settled, are left out. A band is the give or take, 19 times in 20: noise and scale, plus what filtering a second time
 * still takes off, for the smoothing. The classes were made for accelerometers: on film they let through far more noise than
 * markerMotion.
 *
 * @units-fixed a frequency class is a number of hertz out of a closed list
 * @param positions shape (n,), along the line of motion, one a frame, none left out, in pixels [1]
 * @param captureRate frames taken in each second of the event, >= 10 times the class [1/s]
 * @param scale what one pixel covers in the plane of motion, > 0 [m]
 * @param cfc 60, 180, 600 or 1000 [Hz]
 * @param scaleGive give or take of the scale, >= 0, default 0 [m]
 * @param readingNoise standard deviation of one reading, in pixels, >= 0; told from fourth differences where left out [1]
 * @returns time of each frame kept, from the first frame of the record [s]
 * @returns position from the first reading [m]
 * @returns velocity signed [m/s]
 * @returns acceleration signed [m/s^2]
 * @returns band.position give or take [m]
 * @returns band.velocity give or take [m/s]
 * @returns band.acceleration give or take [m/s^2]
 * @returns peak.acceleration the largest in size, signed [m/s^2]
 * @returns peak.give give or take [m/s^2]
 * @returns peak.time of it [s]
 * @returns velocityChange.change from the first frame kept to the last, signed [m/s]
 * @returns velocityChange.give give or take [m/s]
 * @returns full.from first instant kept [s]
 * @returns full.to last instant kept [s]
 * @returns window frames that count noticeably for one result [1]
 * @returns windowDuration from its first frame to its last [s]
 * @returns cfc the class [Hz]
 * @returns readingNoise standard deviation of one reading, in pixels [1]
 * @throws RangeError outside those ranges, or for a record too short for the filter to settle; TypeError for too few readings
 * @source sae-j211-1, appendix C
 * @example filteredMarkerMotion({ positions: Array.from({ length: 61 }, (_, i) => i * i), captureRate: 1000, scale: 0.002, cfc: 60 }).acceleration[0] // 4000
 */
export const filteredMarkerMotion = ({ positions, captureRate, scale, scaleGive = 0, readingNoise, cfc }: MarkerTrack & { readonly readingNoise?: number; readonly cfc: ChannelFrequencyClass }) => {
  const kernel = "filteredMarkerMotion";
  requireTrack(kernel, { positions, captureRate, scale, scaleGive }, 17);
  if (readingNoise !== undefined) requireNonNegative(kernel, "readingNoise", readingNoise, "px");
  requirePositive(kernel, "cfc", cfc, "Hz");
  requireThat((CHANNEL_FREQUENCY_CLASSES as readonly number[]).includes(cfc), kernel, "cfc", "60, 180, 600 or 1000 Hz", cfc);
  requireThat(captureRate >= LEAST_RATE * cfc, kernel, "captureRate", `>= ${LEAST_RATE * cfc} 1/s (${LEAST_RATE} frames in each cycle of the class)`, captureRate);
  // Echoes shrink by the poles' distance from zero, the root of -b2, from sample to sample.
  const settle = Math.ceil(Math.log(SETTLED) / Math.log(Math.sqrt(-channelFilterWeights({ cfc, sampleRate: captureRate }).b2)));
  requireThat(positions.length > 2 * settle + 3, kernel, "positions", `more than ${2 * settle + 3} readings (${settle} at each end only let the filter settle)`, positions.length);
  const first = positions[0] as number;
  const readings = Float64Array.from(positions, (position) => position - first);
  const noise = readingNoise ?? readingNoiseOf(readings);
  const relative = scaleGive / scale;
  const filtered = (samples: Float64Array): Float64Array => channelFilter({ samples, cfc, sampleRate: captureRate }).samples;
  const kept = (samples: Float64Array): Float64Array => samples.slice(settle, samples.length - settle);
  const impulse = new Float64Array(4 * settle + 7);
  impulse[2 * settle + 3] = 1;
  const [position, velocity, acceleration] = DIFFERENCES.map((difference, derivative) => {
    const factor = scale * captureRate ** derivative;
    const once = filtered(difference(readings));
    const taken = filtered(once).map((value, i) => Math.abs(value - (once[i] as number)));
    const noiseFactor = Math.sqrt(filtered(difference(impulse)).reduce((sum, weight) => sum + weight * weight, 0));
    const band = largestNear(taken, settle >> 1).map((most, i) => factor * Math.hypot(NINETEEN_OF_TWENTY * noise * noiseFactor + most, relative * (once[i] as number)));
    return { values: kept(once.map((value) => factor * value)), band: kept(band) };
  }) as [Traced, Traced, Traced];
  const count = position.values.length;
  const timeOf = (i: number): number => (i + 1 + settle) / captureRate;
  let peak = 0;
  acceleration.values.forEach((value, i) => {
    if (Math.abs(value) > Math.abs(acceleration.values[peak] as number)) peak = i;
  });
  return {
    time: Float64Array.from({ length: count }, (_, i) => timeOf(i)),
    position: position.values,
    velocity: velocity.values,
    acceleration: acceleration.values,
    band: { position: position.band, velocity: velocity.band, acceleration: acceleration.band },
    peak: { acceleration: acceleration.values[peak] as number, give: acceleration.band[peak] as number, time: timeOf(peak) },
    velocityChange: { change: (velocity.values[count - 1] as number) - (velocity.values[0] as number), give: Math.hypot(velocity.band[0] as number, velocity.band[count - 1] as number) },
    full: { from: timeOf(0), to: timeOf(count - 1) },
    window: 2 * settle + 3,
    windowDuration: (2 * settle + 2) / captureRate,
    cfc,
    readingNoise: noise,
  };
};

interface Traced {
  readonly values: Float64Array;
  readonly band: Float64Array;
}
