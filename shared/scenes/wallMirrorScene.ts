/**
 * Three set-ups one above the other at one instant: into a wall, into its own mirror image, into an unlike partner. First touch is at
 * one place and one time in all three; the ground stays where it is, so that a plane of contact that moves is seen to move.
 */
import type { Drawing, Handle, Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { bodySide, clockWords, sheetFrame, stage, ticked } from "./bodySide.ts";
import { ballast, BEYOND, frontAxes, frontLine, type FrontReading } from "./instruments.ts";
import { arrow, grip, group, hatching, line, type Point, polygon, round, scaleBar, text } from "./marks.ts";
import { OUTLINES } from "./outlines.ts";
import { type Dragged, FORWARD, readInput, type Side, SIDES, type StagedMoment } from "./staged.ts";
import type { DrawnAs } from "./spec.ts";

/** A body at an instant, and the energy that its front has taken in so far [J]. */
export interface StruckMoment extends StagedMoment {
  readonly took: number;
}
export type SetUp = "wall" | "mirror" | "mismatch";
export const SET_UPS = ["wall", "mirror", "mismatch"] as const;
export type ThreeMoments = { readonly wall: { readonly a: StruckMoment } } & Readonly<Record<"mirror" | "mismatch", Readonly<Record<Side, StruckMoment>>>>;

export interface ThreeMotion {
  /** Time after first touch that can be shown [s]. */
  readonly duration: number;
  readonly at: (time: number) => ThreeMoments;
}

export interface WallMirrorBody<S> {
  readonly name: (state: S) => string;
  readonly drawnAs: (state: S) => DrawnAs;
  readonly mass: Dragged<S>;
  readonly front: Dragged<S> & { readonly length: (state: S) => number };
}

export interface WallMirrorSpec<S> {
  readonly title: string;
  readonly bench: (state: S) => boolean;
  readonly a: WallMirrorBody<S>;
  readonly b: WallMirrorBody<S>;
  /** Speed into the wall, and speed of each in the third set-up. */
  readonly wallSpeed: Dragged<S>;
  readonly each: Dragged<S>;
  /** Speeds towards each other in the second set-up. */
  readonly mirrorSpeeds: (state: S) => Readonly<Record<Side, number>>;
  /** Called for states that have outputs only, once for each. */
  readonly motion: (state: S) => ThreeMotion;
}

/** Longest way in at instant 0 of two that close in [m]. */
const GAP = { road: 1.4, bench: 0.2 } as const;
const LONGEST = 3;
const BAR = { road: 1, bench: 0.1 } as const;
const TALL = { road: 1.5, bench: 0.17 } as const;
const WALL = { road: 0.5, bench: 0.04 } as const;

const WIDE = { width: 1200, height: 606, margin: 28, heading: 40, first: 54, pitch: 138, name: 24, lane: 46, told: 72, took: 94, ground: 124, tallest: 96, speedLength: 236, rule: 478, instruments: 516, mass: 0, massY: 516, massWidth: 220, front: 284, frontY: 516, frontWidth: 220, frontHeight: 58, half: { a: 34, b: 640 }, narrow: false };
const NARROW = { width: 358, height: 734, margin: 12, heading: 30, first: 36, pitch: 152, name: 22, lane: 38, told: 60, took: 144, ground: 124, tallest: 56, speedLength: 150, rule: 502, instruments: 536, mass: 0, massY: 536, massWidth: 132, front: 16, frontY: 620, frontWidth: 124, frontHeight: 66, half: { a: 14, b: 192 }, narrow: true };

/** A scene for the `scenes` of a lesson. */
export const wallMirrorScene = <I, O>(spec: WallMirrorSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const motions = new WeakMap<object, ThreeMotion | null>();
  const motionOf = (state: S): ThreeMotion | null => {
    let found = motions.get(state);
    if (found === undefined) motions.set(state, (found = state.outcome === undefined ? spec.motion(state) : null));
    return found;
  };
  const atOf = (state: S) => (spec.bench(state) ? ("bench" as const) : ("road" as const));
  const speedsOf = (state: S) => {
    const each = readInput(state, spec.each).value;
    return { wall: { a: readInput(state, spec.wallSpeed).value, b: 0 }, mirror: spec.mirrorSpeeds(state), mismatch: { a: each, b: each } };
  };
  const leadOf = (state: S): number => {
    const fastest = Math.max(...Object.values(speedsOf(state)).map(({ a, b }) => a + b));
    return fastest > 0 ? Math.min(LONGEST, GAP[atOf(state)] / fastest) : 0;
  };
  const momentsAt = (state: S, time: number): ThreeMoments => {
    const motion = motionOf(state);
    if (motion !== null && time >= 0) return motion.at(Math.min(time, motion.duration));
    const before = (v: number): StruckMoment => ({ travel: v * Math.min(0, time), velocity: v, crush: 0, took: 0 });
    const { wall, mirror, mismatch } = speedsOf(state);
    return { wall: { a: before(wall.a) }, mirror: { a: before(mirror.a), b: before(mirror.b) }, mismatch: { a: before(mismatch.a), b: before(mismatch.b) } };
  };
  const endOf = (state: S): number => motionOf(state)?.duration ?? 0;

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const layout = width === "wide" ? WIDE : NARROW;
    const { narrow } = layout;
    const at = atOf(state);
    const lead = leadOf(state);
    const time = Math.min(instant - lead, endOf(state));
    const moments = momentsAt(state, time);
    const speeds = speedsOf(state);
    const small = narrow ? "label label-small" : "label";
    const left = layout.margin - 6;
    const right = layout.width - left;
    const centre = layout.width / 2;
    const names = { a: spec.a.name(state), b: spec.b.name(state) };
    const scale = layout.tallest / TALL[at];
    const x = (metres: number): number => centre + metres * scale;
    const nodes: Node[] = [sheetFrame(layout.width, layout.height)];
    const handles: Handle[] = [];
    nodes.push(
      clockWords([layout.margin + 2, layout.heading], lead === 0 ? "" : `${write("duration", Math.abs(time), { digits: 0 })} ${time < 0 ? "before" : "after"} first touch`),
      scaleBar(layout.width - layout.margin - 2, layout.heading - 12, BAR[at] * scale, `${narrow ? "" : "to scale, "}${write("distance", BAR[at], { digits: 0 })}`, "end"),
    );

    const dials = { wall: readInput(state, spec.wallSpeed), each: readInput(state, spec.each) };
    const per = layout.speedLength / Math.max(dials.wall.to, dials.each.to);
    SET_UPS.forEach((setUp, i) => {
      const top = layout.first + i * layout.pitch;
      const ground = top + layout.ground;
      const now = moments[setUp] as Readonly<Partial<Record<Side, StruckMoment>>>;
      const drawn = (side: Side, moment: StruckMoment): Node => {
        // In the second set-up the partner is the first one once more, turned round.
        const body = setUp === "mismatch" && side === "b" ? spec.b : spec.a;
        return bodySide({ side: body === spec.b ? "b" : "a", drawnAs: body.drawnAs(state), nose: x(FORWARD[side] * moment.travel), ground, scale, rearwards: side === "a" ? -1 : 1, crush: moment.crush, foldLength: body.front.length(state), tagRadius: narrow ? 9 : 12 });
      };
      const face: Point[] = [[x(0), ground - 1.15 * TALL[at] * scale], [x(WALL[at]), ground - 1.15 * TALL[at] * scale], [x(WALL[at]), ground], [x(0), ground]];
      nodes.push(
        ticked(left, right, ground, BAR[at], x, -centre / scale),
        stage(layout.width, top + 2, ground + 1, [
          ...(setUp === "wall" ? [group("wall", [polygon(face, "wall-face"), hatching(face, 9, "wall-hatch"), line(face[0] as Point, face[3] as Point, "wall-edge")])] : []),
          ...SIDES.flatMap((side) => (now[side] === undefined ? [] : [drawn(side, now[side])])),
        ]),
        line([x(0), ground - 1.25 * TALL[at] * scale], [x(0), ground + 7], "contact-plane"),
        text([layout.margin + 4, top + layout.name], { wall: "Into a wall", mirror: "Into its mirror image", mismatch: `Into ${names.b}` }[setUp], `${small} label-strong`),
        ...(i === 0 ? [] : [line([left, top + 1], [right, top + 1], "rule")]),
      );
      for (const side of SIDES) {
        const moment = now[side];
        if (moment === undefined) continue;
        const tail = side === "a" ? layout.margin + 4 : layout.width - layout.margin - 4;
        const anchor = side === "a" ? "start" : "end";
        const forward = FORWARD[side];
        const body = setUp === "mismatch" && side === "b" ? "b" : "a";
        const set = tail + forward * speeds[setUp][side] * per;
        const reach = tail + forward * Math.abs(moment.velocity) * per;
        const told = write("speed", Math.abs(moment.velocity));
        const lane = top + layout.lane;
        nodes.push(
          group(`motion body-${body}`, [
            arrow([tail, lane], [set, lane], "start-speed", { width: 5, head: 14 }),
            moment.velocity < 0 ? arrow([reach, lane], [tail, lane], "speed", { width: 5, head: 14 }) : arrow([tail, lane], [reach, lane], "speed", { width: 5, head: 14 }),
            line([tail, lane - 7], [tail, lane + 7], "arrow-foot"),
            text([tail, top + layout.told], `${body.toUpperCase()} ${told}${moment.velocity < 0 && /[1-9]/.test(told) ? (narrow ? ", back" : ", backwards") : ""}`, small, anchor),
            text([tail, top + layout.took], narrow ? `${write("distance", moment.crush)}, ${write("energy", moment.took)}` : `front of ${body.toUpperCase()} ${write("distance", moment.crush)} deep, ${write("energy", moment.took)}`, `${small} label-strong`, anchor),
          ]),
        );
        const dial = side === "b" ? null : setUp === "wall" ? dials.wall : setUp === "mismatch" ? dials.each : null;
        if (dial === null || dial.input === null) continue;
        nodes.push(grip([set + forward * BEYOND, lane], dial.input, `body-${body}`));
        handles.push({ input: dial.input, origin: [round(tail + forward * BEYOND), lane], perUnit: [forward * per, 0] });
      }
    });

    nodes.push(line([left, layout.rule], [right, layout.rule], "rule"));
    const masses = { a: readInput(state, spec.a.mass), b: readInput(state, spec.b.mass) };
    const front = (side: Side): FrontReading => ({ nose: readInput(state, spec[side].front), cell: null, noseLength: spec[side].front.length(state) });
    const fronts = { a: front("a"), b: front("b") };
    for (const side of SIDES)
      for (const { nodes: made, handles: dragged } of [
        ballast(masses[side], Math.max(masses.a.to, masses.b.to), [layout.half[side] + layout.mass, layout.massY], layout.massWidth - BEYOND, side, write),
        frontLine(fronts[side], "front", frontAxes([fronts.a, fronts.b]), [layout.half[side] + layout.front, layout.frontY], { width: layout.frontWidth, height: layout.frontHeight }, side, write),
      ]) {
        nodes.push(...made);
        handles.push(...dragged);
      }
    return { width: layout.width, height: layout.height, nodes, handles };
  };

  return {
    title: spec.title,
    duration: (state) => leadOf(state) + endOf(state),
    touch: leadOf,
    draw,
    describe: (state, instant, write) => {
      const time = Math.min(instant - leadOf(state), endOf(state));
      const { wall, mirror, mismatch } = momentsAt(state, time);
      const one = (where: string, { velocity, crush, took }: StruckMoment): string => `${where} at ${write("speed", Math.abs(velocity))}${velocity < 0 && /[1-9]/.test(write("speed", Math.abs(velocity))) ? " backwards" : ""}, crush ${write("distance", crush)}, ${write("energy", took)} taken`;
      return `${write("duration", Math.abs(time), { digits: 0 })} ${time < 0 ? "before" : "after"} first touch. Front of A: ${one("against the wall", wall.a)}; ${one("against its mirror image", mirror.a)}; ${one(`against ${spec.b.name(state)}`, mismatch.a)}.`;
    },
  };
};
