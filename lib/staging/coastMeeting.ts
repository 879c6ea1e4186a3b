import { requireFinite, requireNonNegative, requirePositive, requireThat } from "../check.ts";
import { STANDARD_GRAVITY } from "../constants.ts";

/** A vehicle on its way to the mark. */
interface Coming {
  /** > 0, at release [m/s] */
  readonly speed: number;
  /** >= 0, from release to the mark [m] */
  readonly distance: number;
}

/**
 * Place where two vehicles that were let go towards each other meet.
 *
 * Model: each comes at a steady speed until its release, then rolls and slows by a fixed share of its weight, the same for both, on level
 * ground; no air drag, no brakes. One that comes to rest past the mark stands there. Fronts are points on one line.
 *
 * @param a.speed > 0, at release [m/s]
 * @param a.distance >= 0, from release to the mark; rolling must not stop the vehicle on it [m]
 * @param b.speed > 0 [m/s]
 * @param b.distance >= 0, likewise [m]
 * @param delay of b's release behind a's, any sign [s]
 * @param rollingResistance >= 0, share of weight [1]
 * @param gravity > 0, default STANDARD_GRAVITY [m/s^2]
 * @returns shift of the meeting along the way of a: beyond the mark if b is the later there [m]
 * @returns time of the meeting after the release of a [s]
 * @returns lateness of b behind a at the mark, each alone [s]
 * @throws RangeError outside those ranges, or if rolling stops one before the mark
 * @law place of a + place of b = 0, along their own ways with the mark at 0; place = speed * t - distance before release, less rollingResistance * gravity * t^2 / 2 after it
 * @limit meetingShift, without rolling resistance
 * @source derived, constant deceleration
 * @sample a.speed 5 10
 * @sample b.speed 5 10
 * @sample a.distance 0 5
 * @sample b.distance 0 5
 * @sample rollingResistance 0 0.05
 * @example coastMeeting({ a: { speed: 15, distance: 3 }, b: { speed: 10, distance: 2 }, delay: 0.02, rollingResistance: 0 }).shift // 0.12
 * @example coastMeeting({ a: { speed: 6, distance: 4 }, b: { speed: 6, distance: 4 }, delay: 0, rollingResistance: 0.1, gravity: 10 }).time // 0.7084973778708186
 */
export const coastMeeting = ({ a, b, delay, rollingResistance, gravity = STANDARD_GRAVITY }: { readonly a: Coming; readonly b: Coming; readonly delay: number; readonly rollingResistance: number; readonly gravity?: number }) => {
  for (const [name, { speed, distance }] of [["a", a], ["b", b]] as const) {
    requirePositive("coastMeeting", `${name}.speed`, speed, "m/s");
    requireNonNegative("coastMeeting", `${name}.distance`, distance, "m");
  }
  requireFinite("coastMeeting", "delay", delay, "s");
  requireNonNegative("coastMeeting", "rollingResistance", rollingResistance);
  requirePositive("coastMeeting", "gravity", gravity, "m/s^2");
  const slowing = rollingResistance * gravity;
  for (const [name, { speed, distance }] of [["a", a], ["b", b]] as const) {
    const reach = speed ** 2 / (2 * slowing);
    requireThat(distance <= reach, "coastMeeting", `${name}.distance`, `<= ${reach} m (rolling stops it there)`, distance);
  }
  const ways = [
    { ...a, release: 0, rest: a.speed / slowing },
    { ...b, release: delay, rest: delay + b.speed / slowing },
  ];
  type Way = (typeof ways)[number];
  const placeOf = ({ speed, distance, release, rest }: Way, time: number): number => {
    const rolled = Math.max(0, Math.min(time, rest) - release);
    return speed * (Math.min(time, rest) - release) - (slowing * rolled ** 2) / 2 - distance;
  };
  const speedOf = ({ speed, release, rest }: Way, time: number): number => (time <= release ? speed : time >= rest ? 0 : speed - slowing * (time - release));
  const sumOf = (value: (way: Way, time: number) => number, time: number): number => ways.reduce((sum, way) => sum + value(way, time), 0);
  // the gap between the fronts only shrinks; between two changes it is a parabola
  const changes = ways.flatMap(({ release, rest }) => [release, rest]).filter(Number.isFinite).sort((p, q) => p - q);
  const first = changes[0] as number;
  const from = changes.filter((time) => sumOf(placeOf, time) < 0).at(-1);
  const begin = from ?? first;
  const gap = -sumOf(placeOf, begin);
  const closing = sumOf(speedOf, begin);
  const slower = from === undefined ? 0 : slowing * ways.filter(({ release, rest }) => begin >= release && begin < rest).length;
  const time = begin + (2 * gap) / (closing + Math.sqrt(Math.max(0, closing ** 2 - 2 * slower * gap)));
  const timeOf = ({ speed, distance }: Coming): number => (2 * distance) / (speed + Math.sqrt(Math.max(0, speed ** 2 - 2 * slowing * distance)));
  return { shift: placeOf(ways[0] as Way, time), time, lateness: delay + timeOf(b) - timeOf(a) };
};
