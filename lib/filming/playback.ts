import { requireNonNegative, requireOneOf, requirePositive } from "../check.ts";

/** The three rates of a film. Each has its own name everywhere; none has a default. */
export interface FilmRates {
  /** Frames taken in each second of the event. */
  readonly captureRate: number;
  /** Frames that make one second of the time line of the cut film. */
  readonly projectRate: number;
  /** Frames of the film that pass on the screen in each second of watching. */
  readonly playbackRate: number;
}

const requireRates = (kernel: string, { captureRate, projectRate, playbackRate }: FilmRates): void => {
  requirePositive(kernel, "captureRate", captureRate, "1/s");
  requirePositive(kernel, "projectRate", projectRate, "1/s");
  requirePositive(kernel, "playbackRate", playbackRate, "1/s");
};

/**
 * How much slower than life a film shows an event, on the screen and on its own time line.
 *
 * Model: each frame taken becomes one frame of the film and is shown once; none is dropped, repeated or invented.
 *
 * @param captureRate frames taken in each second of the event, > 0 [1/s]
 * @param projectRate frames that make one second of the time line, > 0 [1/s]
 * @param playbackRate frames that pass on the screen in each second of watching, > 0 [1/s]
 * @param eventDuration > 0 [s]
 * @returns slowDown on the screen: seconds of watching for each second of the event, > 0 [1]
 * @returns timelineSlowDown seconds of the time line for each second of the event, > 0 [1]
 * @returns frames of the event, on average [1]
 * @returns screenDuration of the event, watched [s]
 * @returns timelineDuration of the event, on the time line [s]
 * @returns motion slow motion, real time or faster than life; the last is most often two rates exchanged
 * @throws RangeError outside those ranges
 * @equation slowDown = captureRate / playbackRate
 * @equation timelineSlowDown = captureRate / projectRate
 * @equation frames = eventDuration * captureRate
 * @equation screenDuration = eventDuration * captureRate / playbackRate
 * @equation timelineDuration = eventDuration * captureRate / projectRate
 * @source derived, count of frames
 * @example playbackRatio({ captureRate: 5000, projectRate: 25, playbackRate: 25, eventDuration: 0.1 }).screenDuration // 20
 */
export const playbackRatio = ({ captureRate, projectRate, playbackRate, eventDuration }: FilmRates & { readonly eventDuration: number }) => {
  requireRates("playbackRatio", { captureRate, projectRate, playbackRate });
  requirePositive("playbackRatio", "eventDuration", eventDuration, "s");
  const frames = eventDuration * captureRate;
  const motion: "slow motion" | "real time" | "faster than life" = captureRate > playbackRate ? "slow motion" : captureRate === playbackRate ? "real time" : "faster than life";
  return { slowDown: captureRate / playbackRate, timelineSlowDown: captureRate / projectRate, frames, screenDuration: frames / playbackRate, timelineDuration: frames / projectRate, motion };
};

/** Clocks that a film can be timed by. */
export const FILM_CLOCKS = ["screen", "timeline", "frames"] as const;

/**
 * True speed of something in a film, from a speed reckoned with the film's own clock.
 *
 * Model: as playbackRatio. The clock was a watch before the screen, the time line of the cut film, or the count of frames over the
 * capture rate, which needs no correction.
 *
 * @param timedBy screen, timeline or frames
 * @param apparentSpeed true distance over the time that clock gave, >= 0 [m/s]
 * @param captureRate frames taken in each second of the event, > 0 [1/s]
 * @param projectRate frames that make one second of the time line, > 0 [1/s]
 * @param playbackRate frames that pass on the screen in each second of watching, > 0 [1/s]
 * @returns speed true, >= 0 [m/s]
 * @returns factor true to apparent speed, > 0 [1]
 * @throws RangeError outside those ranges; TypeError for any other clock
 * @equation speed = factor * apparentSpeed
 * @source derived, count of frames
 * @example trueSpeed({ timedBy: "screen", apparentSpeed: 0.375, captureRate: 1000, projectRate: 50, playbackRate: 25 }).speed // 15
 * @example trueSpeed({ timedBy: "timeline", apparentSpeed: 0.375, captureRate: 1000, projectRate: 50, playbackRate: 25 }).speed // 7.5
 */
export const trueSpeed = ({ timedBy, apparentSpeed, captureRate, projectRate, playbackRate }: FilmRates & { readonly timedBy: (typeof FILM_CLOCKS)[number]; readonly apparentSpeed: number }) => {
  requireOneOf("trueSpeed", "timedBy", timedBy, FILM_CLOCKS);
  requireNonNegative("trueSpeed", "apparentSpeed", apparentSpeed, "m/s");
  requireRates("trueSpeed", { captureRate, projectRate, playbackRate });
  const factor = { screen: captureRate / playbackRate, timeline: captureRate / projectRate, frames: 1 }[timedBy];
  return { speed: factor * apparentSpeed, factor };
};
