import { requirePositive, requireSeries, requireThat } from "../check.ts";

/** Frequency classes in use [Hz]: 60 structures, 180 and 600 occupants and parts, 1000 heads. */
export const CHANNEL_FREQUENCY_CLASSES = [60, 180, 600, 1000] as const;
export type ChannelFrequencyClass = (typeof CHANNEL_FREQUENCY_CLASSES)[number];

/** Corner of one pass over the class, set so that both passes together are 3 dB down at 5/3 of the class. */
const CORNER = 2.0775;
/** Samples in each cycle of the class frequency below which the record itself is too coarse. */
const LEAST_RATE = 10;

export interface ChannelFilterDesign {
  /** Channel frequency class [Hz] */
  readonly cfc: ChannelFrequencyClass;
  /** [Hz] */
  readonly sampleRate: number;
}

const requireDesign = (kernel: string, { cfc, sampleRate }: ChannelFilterDesign): void => {
  requirePositive(kernel, "cfc", cfc, "Hz");
  requireThat((CHANNEL_FREQUENCY_CLASSES as readonly number[]).includes(cfc), kernel, "cfc", "60, 180, 600 or 1000 Hz", cfc);
  requirePositive(kernel, "sampleRate", sampleRate, "Hz");
  requireThat(sampleRate >= LEAST_RATE * cfc, kernel, "sampleRate", `>= ${LEAST_RATE * cfc} Hz (${LEAST_RATE} samples in each cycle of the class)`, sampleRate);
};

/**
 * Weights of one pass of a channel filter: y = a0 x + a1 x' + a2 x'' + b1 y' + b2 y'', where ' is one sample back.
 *
 * Model: two-pole Butterworth low pass by the bilinear transform, its corner at 2.0775 times the class.
 *
 * @units-fixed a frequency class is a number of hertz out of a closed list
 * @param cfc 60, 180, 600 or 1000 [Hz]
 * @param sampleRate >= 10 times the class [Hz]
 * @returns a0 weight of the present sample [1]
 * @returns a1 weight of the sample before [1]
 * @returns a2 weight of the one before that [1]
 * @returns b1 weight of the result before [1]
 * @returns b2 weight of the result before that [1]
 * @throws RangeError outside those ranges
 * @equation a0 = tan(pi * 2.0775 * cfc / sampleRate)^2 / (1 + sqrt(2) * tan(pi * 2.0775 * cfc / sampleRate) + tan(pi * 2.0775 * cfc / sampleRate)^2)
 * @source sae-j211-1, appendix C
 * @example channelFilterWeights({ cfc: 60, sampleRate: 10000 }).b1 // 1.8893432242
 */
export const channelFilterWeights = ({ cfc, sampleRate }: ChannelFilterDesign) => {
  requireDesign("channelFilterWeights", { cfc, sampleRate });
  const warped = Math.tan((Math.PI * CORNER * cfc) / sampleRate);
  const square = warped * warped;
  const scale = 1 + Math.SQRT2 * warped + square;
  return { a0: square / scale, a1: (2 * square) / scale, a2: square / scale, b1: (2 * (1 - square)) / scale, b2: (Math.SQRT2 * warped - 1 - square) / scale };
};

export type ChannelFilterWeights = ReturnType<typeof channelFilterWeights>;

/** One pass, in place, forwards or (by = -1) backwards. The first two samples are taken as they are: the record must begin and end quietly. */
export const filterOnce = (values: Float64Array, { a0, a1, a2, b1, b2 }: ChannelFilterWeights, by: 1 | -1): void => {
  const n = values.length;
  let i = by === 1 ? 0 : n - 1;
  let xBefore2 = values[i] as number;
  let xBefore = values[i + by] as number;
  let yBefore2 = xBefore2;
  let yBefore = xBefore;
  i += 2 * by;
  for (let left = n - 2; left > 0; left--, i += by) {
    const x = values[i] as number;
    const y = a0 * x + a1 * xBefore + a2 * xBefore2 + b1 * yBefore + b2 * yBefore2;
    values[i] = y;
    xBefore2 = xBefore;
    xBefore = x;
    yBefore2 = yBefore;
    yBefore = y;
  }
};

/**
 * A record with the vibration above its channel frequency class taken out, and no delay.
 *
 * Model: the two-pole low pass of channelFilterWeights, run forwards and then backwards. It needs at least 10 ms of quiet record
 * before and after the pulse. Filter each component before a resultant is formed. Under 12 samples in each cycle of the class the
 * bilinear transform takes out up to 4 dB more than the corridor of ISO 6487 allows, just above its floor.
 *
 * @units-fixed a frequency class is a number of hertz out of a closed list
 * @param samples shape (n,), n >= 3, evenly spaced, of any unit [1]
 * @param cfc 60, 180, 600 or 1000 [Hz]
 * @param sampleRate >= 10 times the class [Hz]
 * @returns samples shape (n,), in the unit given [1]
 * @throws RangeError outside those ranges; TypeError for under 3 samples
 * @source sae-j211-1, appendix C
 * @example channelFilter({ samples: [5, 5, 5, 5], cfc: 180, sampleRate: 10000 }).samples[2] // 5
 */
export const channelFilter = ({ samples, cfc, sampleRate }: ChannelFilterDesign & { readonly samples: ArrayLike<number> }) => {
  requireDesign("channelFilter", { cfc, sampleRate });
  requireSeries("channelFilter", "samples", samples, 3);
  const weights = channelFilterWeights({ cfc, sampleRate });
  const filtered = Float64Array.from(samples);
  filterOnce(filtered, weights, 1);
  filterOnce(filtered, weights, -1);
  return { samples: filtered };
};

/**
 * What share of a steady vibration a channel filter lets through, both passes together.
 *
 * Model: gain of the two-pole low pass of channelFilterWeights, squared.
 *
 * @units-fixed a frequency class is a number of hertz out of a closed list
 * @param cfc 60, 180, 600 or 1000 [Hz]
 * @param sampleRate >= 10 times the class [Hz]
 * @param frequency of the vibration, > 0, below half the sample rate [Hz]
 * @returns gain 0 to 1 [1]
 * @returns decibels <= 0 [1]
 * @throws RangeError outside those ranges
 * @equation gain = 1 / (1 + (tan(pi * frequency / sampleRate) / tan(pi * 2.0775 * cfc / sampleRate))^4)
 * @source derived, Butterworth gain under the bilinear transform
 * @example channelFilterGain({ cfc: 60, sampleRate: 10000, frequency: 60 }).decibels // -0.4535035732214252
 */
export const channelFilterGain = ({ cfc, sampleRate, frequency }: ChannelFilterDesign & { readonly frequency: number }) => {
  requireDesign("channelFilterGain", { cfc, sampleRate });
  requirePositive("channelFilterGain", "frequency", frequency, "Hz");
  requireThat(frequency < sampleRate / 2, "channelFilterGain", "frequency", `< ${sampleRate / 2} Hz, half the sample rate`, frequency);
  const ratio = Math.tan((Math.PI * frequency) / sampleRate) / Math.tan((Math.PI * CORNER * cfc) / sampleRate);
  const gain = 1 / (1 + ratio ** 4);
  return { gain, decibels: 20 * Math.log10(gain) };
};
