import { requireIncreasing, requireSameLength, requireSeries, requireThat } from "../check.ts";
import { integratePulse } from "./integratePulse.ts";

/**
 * What a recorded crash pulse amounts to: peak, mean, duration, velocity change, room taken, and the steady deceleration to match.
 *
 * Model: the record begins at first touch; the pulse ends at the sample where the velocity change is largest. Displacement is the
 * distance run in that time by a body that the pulse just brings to rest. The equivalent square wave is the steady deceleration that
 * takes away the same velocity in the same distance. Straight lines between samples.
 *
 * @param time shape (n,), n >= 2, rising; the first is first touch [s]
 * @param acceleration shape (n,), signed; a deceleration may be given either way round [m/s^2]
 * @returns peak acceleration of largest size, signed [m/s^2]
 * @returns peakTime [s]
 * @returns velocityChange of largest size, signed [m/s]
 * @returns duration from first touch to the largest velocity change, > 0 [s]
 * @returns mean acceleration over that duration, signed [m/s^2]
 * @returns displacement >= 0 [m]
 * @returns equivalentSquareWave > 0 [m/s^2]
 * @throws RangeError when time does not rise, a value is not finite or the record changes no velocity; TypeError for series of different length or under 2 values
 * @equation mean = velocityChange / duration
 * @equation equivalentSquareWave = velocityChange^2 / (2 * displacement)
 * @source huang-2002, equivalent square wave
 * @example pulseCharacteristics({ time: [0, 0.1], acceleration: [-150, -150] }).equivalentSquareWave // 150
 */
export const pulseCharacteristics = ({ time, acceleration }: { readonly time: ArrayLike<number>; readonly acceleration: ArrayLike<number> }) => {
  requireSeries("pulseCharacteristics", "time", time, 2, "s");
  requireSeries("pulseCharacteristics", "acceleration", acceleration, 2, "m/s^2");
  requireSameLength("pulseCharacteristics", "time", time, "acceleration", acceleration);
  requireIncreasing("pulseCharacteristics", "time", time, "s");
  const { velocity, displacement } = integratePulse({ time, acceleration });
  let end = 0;
  let peakAt = 0;
  for (let i = 1; i < velocity.length; i++) {
    if (Math.abs(velocity[i] as number) > Math.abs(velocity[end] as number)) end = i;
    if (Math.abs(acceleration[i] as number) > Math.abs(acceleration[peakAt] as number)) peakAt = i;
  }
  const velocityChange = velocity[end] as number;
  requireThat(velocityChange !== 0, "pulseCharacteristics", "acceleration", "a pulse that changes the velocity", velocityChange);
  const duration = (time[end] as number) - (time[0] as number);
  // Seen by one who moves at the velocity that the pulse ends on.
  const ridden = Math.abs(velocityChange * duration - (displacement[end] as number));
  return {
    peak: acceleration[peakAt] as number,
    peakTime: time[peakAt] as number,
    velocityChange,
    duration,
    mean: velocityChange / duration,
    displacement: ridden,
    equivalentSquareWave: velocityChange ** 2 / (2 * ridden),
  };
};
