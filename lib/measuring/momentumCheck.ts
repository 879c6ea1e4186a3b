import { requireNonNegative, requirePositive } from "../check.ts";
import type { MarkerTrack } from "./markerMotion.ts";
import { requireOneFilm, slopesAround, type Contact } from "./velocitiesFromTrack.ts";

export interface TrackedBody {
  /** > 0 [kg] */
  readonly mass: number;
  /** Give or take of the mass [kg] */
  readonly massGive: number;
  /** One a frame [px] */
  readonly positions: ArrayLike<number>;
}

/**
 * Total momentum of two filmed bodies before and after they meet, and whether both agree within what the film can tell.
 *
 * Model: as velocitiesFromTrack. Momentum is kept, so a difference beyond its give or take means a wrong scale for one track, a wrong mass,
 * wrong times, or a push from outside. A wrong capture rate, or one wrong scale for both, changes both totals alike and stays hidden.
 *
 * @param a.mass > 0 [kg]
 * @param a.massGive give or take of the mass, >= 0 [kg]
 * @param a.positions of a marker on a, shape (n,), one a frame, in pixels [1]
 * @param b.mass > 0 [kg]
 * @param b.massGive give or take of the mass, >= 0 [kg]
 * @param b.positions of a marker on b, in the same frames, in pixels [1]
 * @param captureRate frames taken in each second of the event, > 0 [1/s]
 * @param scale what one pixel covers in the plane of motion, > 0 [m]
 * @param scaleGive give or take of the scale, >= 0, default 0 [m]
 * @param contact.from instant before the bodies touch [s]
 * @param contact.to instant after they part or move as one [s]
 * @returns velocity.a.before signed [m/s]
 * @returns velocity.a.after signed [m/s]
 * @returns velocity.b.before signed [m/s]
 * @returns velocity.b.after signed [m/s]
 * @returns momentum.before of both, signed [kg m/s]
 * @returns momentum.after of both, signed [kg m/s]
 * @returns momentum.difference after less before [kg m/s]
 * @returns give.before of the total before [kg m/s]
 * @returns give.after of the total after [kg m/s]
 * @returns give.difference of the difference, errors that both totals share counted once [kg m/s]
 * @returns agreement size of the difference over its give or take; 1 or less agrees [1]
 * @returns verdict agree or disagree
 * @throws RangeError outside those ranges; TypeError for tracks of different length
 * @equation momentum.before = a.mass * velocity.a.before + b.mass * velocity.b.before
 * @equation momentum.after = a.mass * velocity.a.after + b.mass * velocity.b.after
 * @equation momentum.difference = a.mass * (velocity.a.after - velocity.a.before) + b.mass * (velocity.b.after - velocity.b.before)
 * @equation agreement = abs(momentum.difference) / give.difference
 * @sample contact.from 0.034 0.04
 * @sample contact.to 0.041 0.045
 * @source openstax-university-physics-1, section 9.3
 * @source gum, section 5.1.2
 * @example momentumCheck({ a: { mass: 1, massGive: 0.001, positions: [0, 4, 8, 12, 16, 17, 18, 19, 20] }, b: { mass: 2, massGive: 0.001, positions: [20, 20, 20, 20, 20, 21.5, 23, 24.5, 26] }, captureRate: 100, scale: 0.01, contact: { from: 0.035, to: 0.045 } }).momentum.after // 4
 */
export const momentumCheck = ({ a, b, captureRate, scale, scaleGive = 0, contact }: Omit<MarkerTrack, "positions"> & { readonly a: TrackedBody; readonly b: TrackedBody; readonly contact: Contact }) => {
  const kernel = "momentumCheck";
  const bodies = ([["a", a], ["b", b]] as const).map(([name, { mass, massGive, positions }]) => {
    requirePositive(kernel, `${name}.mass`, mass, "kg");
    requireNonNegative(kernel, `${name}.massGive`, massGive, "kg");
    const { before, after } = slopesAround(kernel, { positions, captureRate, scale, scaleGive }, contact);
    return { mass, massGive, before, after, change: after.velocity - before.velocity };
  });
  requireOneFilm(kernel, a.positions, b.positions);
  const relative = scaleGive / scale;
  const total = (of: (body: (typeof bodies)[number]) => number): number => bodies.reduce((sum, body) => sum + of(body), 0);
  const momentum = {
    before: total(({ mass, before }) => mass * before.velocity),
    after: total(({ mass, after }) => mass * after.velocity),
    difference: total(({ mass, change }) => mass * change),
  };
  const give = {
    before: Math.hypot(relative * momentum.before, ...bodies.flatMap(({ mass, massGive, before }) => [massGive * before.velocity, mass * before.give])),
    after: Math.hypot(relative * momentum.after, ...bodies.flatMap(({ mass, massGive, after }) => [massGive * after.velocity, mass * after.give])),
    difference: Math.hypot(relative * momentum.difference, ...bodies.flatMap(({ mass, massGive, before, after, change }) => [massGive * change, mass * before.give, mass * after.give])),
  };
  const agreement = momentum.difference === 0 ? 0 : Math.abs(momentum.difference) / give.difference;
  const [ofA, ofB] = bodies.map(({ before, after }) => ({ before: before.velocity, after: after.velocity })) as [BeforeAfter, BeforeAfter];
  const verdict: "agree" | "disagree" = agreement <= 1 ? "agree" : "disagree";
  return { velocity: { a: ofA, b: ofB }, momentum, give, agreement, verdict };
};

interface BeforeAfter {
  readonly before: number;
  readonly after: number;
}
