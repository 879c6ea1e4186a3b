import { requireThat } from "../check.ts";
import { requireOneFilm, slopesAround, type Contact } from "./velocitiesFromTrack.ts";

/**
 * Restitution of a collision, from the tracks of both bodies in one film.
 *
 * Model: as velocitiesFromTrack; separation over closing, so the scale cancels and has no share in the give or take. a comes from behind:
 * it closes in on b along the direction in which positions grow.
 *
 * @param a.positions of a marker on a, shape (n,), one a frame, in pixels [1]
 * @param b.positions of a marker on b, in the same frames, in pixels [1]
 * @param captureRate frames taken in each second of the event, > 0 [1/s]
 * @param scale what one pixel covers in the plane of motion, > 0 [m]
 * @param contact.from instant before the bodies touch [s]
 * @param contact.to instant after they part or move as one [s]
 * @returns restitution separation over closing; below 0 or above 1 by no more than the give, or the tracks are wrong [1]
 * @returns give give or take of it [1]
 * @returns closing.velocity at which a closes in on b, > 0 [m/s]
 * @returns closing.give give or take, without the scale's [m/s]
 * @returns separation.velocity at which b leaves a, signed [m/s]
 * @returns separation.give give or take, without the scale's [m/s]
 * @throws RangeError outside those ranges, or when a does not close in on b; TypeError for tracks of different length
 * @equation restitution = separation.velocity / closing.velocity
 * @equation give = sqrt(separation.give^2 + restitution^2 * closing.give^2) / closing.velocity
 * @sample contact.from 0.034 0.04
 * @sample contact.to 0.041 0.045
 * @source openstax-university-physics-1, section 9.4
 * @example restitutionFromTracks({ a: { positions: [0, 4, 8, 12, 16, 17, 18, 19, 20] }, b: { positions: [20, 20, 20, 20, 20, 23, 26, 29, 32] }, captureRate: 100, scale: 0.01, contact: { from: 0.035, to: 0.045 } }).restitution // 0.5
 */
export const restitutionFromTracks = ({ a, b, captureRate, scale, contact }: {
  readonly a: { readonly positions: ArrayLike<number> };
  readonly b: { readonly positions: ArrayLike<number> };
  readonly captureRate: number;
  readonly scale: number;
  readonly contact: Contact;
}) => {
  const kernel = "restitutionFromTracks";
  const first = slopesAround(kernel, { positions: a.positions, captureRate, scale }, contact);
  const second = slopesAround(kernel, { positions: b.positions, captureRate, scale }, contact);
  requireOneFilm(kernel, a.positions, b.positions);
  const closing = { velocity: first.before.velocity - second.before.velocity, give: Math.hypot(first.before.give, second.before.give) };
  requireThat(closing.velocity > 0, kernel, "closing velocity", "> 0 m/s (name the one behind a, or turn the line round)", closing.velocity);
  const separation = { velocity: second.after.velocity - first.after.velocity, give: Math.hypot(first.after.give, second.after.give) };
  const restitution = separation.velocity / closing.velocity;
  return { restitution, give: Math.hypot(separation.give, restitution * closing.give) / closing.velocity, closing, separation };
};
