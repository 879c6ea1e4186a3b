import { requireFinite, requireSameLength, requireThat } from "../check.ts";
import { coverageFactor } from "../uncertainty/coverageFactor.ts";
import { requireTrack, type MarkerTrack } from "./markerMotion.ts";

/** The part of a film in which bodies touch, with a little to spare on both sides. */
export interface Contact {
  /** [s] from the first frame */
  readonly from: number;
  /** [s] from the first frame */
  readonly to: number;
}

const LEAST_FRAMES = 4;
const SHARE = 0.95;

/** Refuses a contact that leaves too few frames on a side, and finds the frames it leaves. */
export const framesAround = (kernel: string, { from, to }: Contact, count: number, captureRate: number): { readonly last: number; readonly first: number } => {
  requireFinite(kernel, "contact.from", from, "s");
  requireFinite(kernel, "contact.to", to, "s");
  const last = Math.floor(from * captureRate);
  const first = Math.ceil(to * captureRate);
  requireThat(last >= LEAST_FRAMES - 1, kernel, "contact.from", `>= ${(LEAST_FRAMES - 1) / captureRate} s, so that ${LEAST_FRAMES} frames come before it`, from);
  requireThat(to > from, kernel, "contact.to", `> ${from} s, where contact begins`, to);
  requireThat(first <= count - LEAST_FRAMES, kernel, "contact.to", `<= ${(count - LEAST_FRAMES) / captureRate} s, so that ${LEAST_FRAMES} frames come after it`, to);
  return { last, first };
};

/** Velocity of evenly spaced readings, and its give or take from their scatter: the straight line of least squares, about its middle. */
const slope = (positions: ArrayLike<number>, from: number, to: number, captureRate: number, scale: number) => {
  const frames = to - from + 1;
  const middle = (from + to) / 2;
  const start = positions[from] as number;
  const reading = (i: number): number => (positions[i] as number) - start;
  let [sum, rise, run] = [0, 0, 0];
  for (let i = from; i <= to; i++) {
    sum += reading(i);
    rise += (i - middle) * reading(i);
    run += (i - middle) ** 2;
  }
  const perFrame = rise / run;
  let squares = 0;
  for (let i = from; i <= to; i++) squares += (reading(i) - sum / frames - perFrame * (i - middle)) ** 2;
  const degreesOfFreedom = frames - 2;
  const factor = scale * captureRate;
  return { velocity: factor * perFrame, give: factor * coverageFactor({ share: SHARE, degreesOfFreedom }).coverageFactor * Math.sqrt(squares / degreesOfFreedom / run) };
};

/** Both velocities without the error of the scale, which all tracks of one film share. */
export const slopesAround = (kernel: string, track: MarkerTrack, contact: Contact) => {
  requireTrack(kernel, track, 2 * LEAST_FRAMES);
  const { positions, captureRate, scale } = track;
  const { last, first } = framesAround(kernel, contact, positions.length, captureRate);
  return { before: slope(positions, 0, last, captureRate, scale), after: slope(positions, first, positions.length - 1, captureRate, scale) };
};

/** Refuses two tracks that are not frames of one film. */
export const requireOneFilm = (kernel: string, a: ArrayLike<number>, b: ArrayLike<number>): void => requireSameLength(kernel, "a.positions", a, "b.positions", b);

/**
 * Velocities of a marker before and after a contact, and the change, each with its give or take.
 *
 * Model: a straight line of position against time on each side of the contact, by least squares; the marker neither gains nor loses
 * speed there. Give or take from the scatter about the line (Student's distribution) and from the scale, which is shared by all.
 *
 * @param positions shape (n,), along the line of motion, one a frame, none left out, in pixels [1]
 * @param captureRate frames taken in each second of the event, > 0 [1/s]
 * @param scale what one pixel covers in the plane of motion, > 0 [m]
 * @param scaleGive give or take of the scale, >= 0, default 0 [m]
 * @param contact.from instant before the bodies touch, at least 4 frames from the first [s]
 * @param contact.to instant after they part or move as one, at least 4 frames from the last [s]
 * @returns before.velocity signed [m/s]
 * @returns before.give give or take [m/s]
 * @returns after.velocity signed [m/s]
 * @returns after.give give or take [m/s]
 * @returns velocityChange.change signed [m/s]
 * @returns velocityChange.give give or take [m/s]
 * @throws RangeError outside those ranges; TypeError for too few readings
 * @equation velocityChange.change = after.velocity - before.velocity
 * @sample contact.from 0.034 0.04
 * @sample contact.to 0.041 0.045
 * @source gum, section 5.1.2
 * @example velocitiesFromTrack({ positions: [0, 2, 4, 6, 8, 9, 10, 11, 12], captureRate: 100, scale: 0.01, contact: { from: 0.035, to: 0.045 } }).velocityChange.change // -1
 */
export const velocitiesFromTrack = ({ contact, ...track }: MarkerTrack & { readonly contact: Contact }) => {
  const { before, after } = slopesAround("velocitiesFromTrack", track, contact);
  const relative = (track.scaleGive ?? 0) / track.scale;
  const change = after.velocity - before.velocity;
  const withScale = (value: number, ...gives: number[]): number => Math.hypot(...gives, relative * value);
  return {
    before: { velocity: before.velocity, give: withScale(before.velocity, before.give) },
    after: { velocity: after.velocity, give: withScale(after.velocity, after.give) },
    velocityChange: { change, give: withScale(change, before.give, after.give) },
  };
};
