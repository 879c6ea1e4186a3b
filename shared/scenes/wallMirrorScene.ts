/**
 * Three set-ups one above the other at one instant: into a wall, into its own mirror image, into an unlike partner. First touch is at
 * one place and one time in all three; the ground stays where it is, so that a plane of contact that moves is seen to move.
 */
import type { Drawing, Handle, Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { bodySide, sheetFrame, stage, ticked } from "./bodySide.ts";
import { group, hatching, line, type Point, polygon, text, widthOf } from "./marks.ts";
import { backTold, ballasts, barOf, capital, clockTold, type Dragged, FORWARD, frontLines, keyPlace, madeOnce, type NamedBody, readInput, rolling, sheetHead, type Side, SIDES, speedArrows, speedGrip, startKey, type StagedMoment, type StagedSpec, type StraightFront } from "./staged.ts";

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

export interface WallMirrorBody<S> extends NamedBody<S> {
  readonly front: StraightFront<S>;
}

export interface WallMirrorSpec<S> extends StagedSpec<S, WallMirrorBody<S>, ThreeMotion> {
  /** Speed into the wall, and speed of each in the third set-up. */
  readonly wallSpeed: Dragged<S>;
  readonly each: Dragged<S>;
  /** Speeds towards each other in the second set-up. */
  readonly mirrorSpeeds: (state: S) => Readonly<Record<Side, number>>;
}

/** What each row is called: short, since a picture for a screen sets it large. The third is called by the partner's name. */
const ROW: Readonly<Partial<Record<SetUp, string>>> = { wall: "Wall", mirror: "Mirror" };

/** Longest way in at instant 0 of two that close in [m]. */
const GAP = { road: 1.4, bench: 0.2 } as const;
const LONGEST = 3;
const TALL = { road: 1.5, bench: 0.17 } as const;
const WALL = { road: 0.5, bench: 0.04 } as const;

const WIDE = { width: 1200, height: 606, margin: 28, heading: 40, first: 54, pitch: 138, name: 24, lane: 46, told: 72, took: 94, ground: 124, tallest: 96, speedLength: 236, rule: 478, mass: { x: 0, y: 516, width: 209 }, front: { x: 284, y: 516, width: 220, height: 58 }, half: { a: 34, b: 640 }, narrow: false };
const NARROW = { width: 358, height: 786, margin: 12, heading: 30, first: 50, pitch: 164, name: 22, lane: 38, told: 60, took: 144, ground: 124, tallest: 56, speedLength: 150, rule: 552, mass: { x: 0, y: 586, width: 121 }, front: { x: 16, y: 672, width: 124, height: 66 }, half: { a: 14, b: 192 }, narrow: true };

/** A scene for the `scenes` of a lesson. */
export const wallMirrorScene = <I, O>(spec: WallMirrorSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const motionOf = madeOnce(spec.motion);
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
    const before = (v: number): StruckMoment => ({ ...rolling(v, time), took: 0 });
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
    const bar = barOf(at, write);
    nodes.push(...sheetHead(layout, lead === 0 ? "" : clockTold(time, write), bar, scale, write), startKey(keyPlace(layout), time, write));
    if (!narrow) nodes.push(text([560, layout.heading], "speed; crush and energy taken by the front", "label label-soft label-small"));

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
        ticked(left, right, ground, bar, x, -centre / scale),
        stage(layout.width, top + 2, ground + 1, [
          ...(setUp === "wall" ? [group("wall", [polygon(face, "wall-face"), hatching(face, 9, "wall-hatch"), line(face[0] as Point, face[3] as Point, "wall-edge")])] : []),
          ...SIDES.flatMap((side) => (now[side] === undefined ? [] : [drawn(side, now[side])])),
        ]),
        line([x(0), ground - 1.25 * TALL[at] * scale], [x(0), ground + 7], "contact-plane"),
        text([layout.margin + 4, top + layout.name], ROW[setUp] ?? capital(names.b), `${small} label-strong row-label`),
        ...(i === 0 ? [] : [line([left, top + 1], [right, top + 1], "rule")]),
      );
      const tookOf = (side: Side): string => {
        const { crush, took } = now[side] as StruckMoment;
        const told = `${write("distance", crush)}, ${write("energy", took)}`;
        return `${side === "b" ? "B" : { wall: "wall", mirror: "mirror", mismatch: "against B" }[setUp]}${narrow ? ": crush" : ""} ${told}`;
      };
      const crowded = narrow && setUp === "mismatch" && widthOf(tookOf("a"), 13) + widthOf(tookOf("b"), 13) > right - left - 24;
      for (const side of SIDES) {
        const moment = now[side];
        if (moment === undefined) continue;
        const tail = side === "a" ? layout.margin + 4 : layout.width - layout.margin - 4;
        const anchor = side === "a" ? "start" : "end";
        const forward = FORWARD[side];
        const body = setUp === "mismatch" && side === "b" ? "b" : "a";
        const told = write("speed", Math.abs(moment.velocity));
        const lane = top + layout.lane;
        nodes.push(
          group(`motion body-${body}`, [
            ...speedArrows(tail, lane, forward, speeds[setUp][side], moment.velocity, per),
            text([tail, top + layout.told], `${body.toUpperCase()} ${told}${backTold(moment.velocity, told, narrow)}`, small, anchor),
            // the mirror image is the same body once more
            ...(setUp === "mirror" && side === "b" ? [] : [text([tail, top + layout.took + (side === "b" && crowded ? 16 : 0)], tookOf(side), `${small} label-strong`, anchor)]),
          ]),
        );
        const dial = side === "b" ? null : setUp === "wall" ? dials.wall : setUp === "mismatch" ? dials.each : null;
        if (dial === null) continue;
        const end = speedGrip(tail, lane, forward, dial, per, body);
        nodes.push(...end.nodes);
        handles.push(...end.handles);
      }
    });

    nodes.push(line([left, layout.rule], [right, layout.rule], "rule"));
    const below = ballasts(state, spec, layout, write, frontLines(state, spec, layout, "front", write));
    return { width: layout.width, height: layout.height, nodes: [...nodes, ...below.nodes], handles: [...handles, ...below.handles] };
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
      return `${clockTold(time, write)}. Front of A: ${one("against the wall", wall.a)}; ${one("against its mirror image", mirror.a)}; ${one(`against ${spec.b.name(state)}`, mismatch.a)}.`;
    },
  };
};
