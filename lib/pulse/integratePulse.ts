import { requireFinite, requireIncreasing, requireSameLength, requireSeries } from "../check.ts";

/**
 * Velocity and displacement from a record of acceleration.
 *
 * Model: acceleration runs in straight lines between samples, for which both are exact. A constant error of the record grows
 * with time in the velocity and with its square in the displacement.
 *
 * @param time shape (n,), n >= 2, rising [s]
 * @param acceleration shape (n,), signed [m/s^2]
 * @param velocity at the first sample, signed, default 0 [m/s]
 * @param displacement at the first sample, signed, default 0 [m]
 * @returns velocity shape (n,), signed [m/s]
 * @returns displacement shape (n,), signed [m]
 * @throws RangeError when time does not rise or a value is not finite; TypeError for series of different length or under 2 values
 * @source derived, straight lines integrated twice
 * @example integratePulse({ time: [0, 0.1], acceleration: [-150, -150], velocity: 15 }).displacement[1] // 0.75
 */
export const integratePulse = ({ time, acceleration, velocity: firstVelocity = 0, displacement: firstDisplacement = 0 }: {
  readonly time: ArrayLike<number>;
  readonly acceleration: ArrayLike<number>;
  readonly velocity?: number;
  readonly displacement?: number;
}) => {
  requireSeries("integratePulse", "time", time, 2, "s");
  requireSeries("integratePulse", "acceleration", acceleration, 2, "m/s^2");
  requireSameLength("integratePulse", "time", time, "acceleration", acceleration);
  requireIncreasing("integratePulse", "time", time, "s");
  requireFinite("integratePulse", "velocity", firstVelocity, "m/s");
  requireFinite("integratePulse", "displacement", firstDisplacement, "m");
  const velocity = new Float64Array(time.length);
  const displacement = new Float64Array(time.length);
  let v = firstVelocity;
  let x = firstDisplacement;
  velocity[0] = v;
  displacement[0] = x;
  for (let i = 1; i < time.length; i++) {
    const step = (time[i] as number) - (time[i - 1] as number);
    const from = acceleration[i - 1] as number;
    const to = acceleration[i] as number;
    x += v * step + ((2 * from + to) * step * step) / 6;
    v += ((from + to) * step) / 2;
    velocity[i] = v;
    displacement[i] = x;
  }
  return { velocity, displacement };
};
