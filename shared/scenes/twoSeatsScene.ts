/**
 * One meeting drawn twice, to scale: from the road, and from a seat that goes along at a steady velocity. Under each drawing the energy
 * of motion that an observer there finds, and how much of it is not there: gone, or for the moment held in the fronts. The handles on the sheet are the lesson's inputs.
 */
import type { Drawing, Handle, Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { bodySide, sheetFrame, stage, ticked } from "./bodySide.ts";
import { BEYOND } from "./instruments.ts";
import { arrow, circle, grip, group, hatching, line, type Point, polygon, rectangle, round, text, widthOf } from "./marks.ts";
import { OUTLINES } from "./outlines.ts";
import { roundUp } from "./round.ts";
import { keyPlace, startKey, ballasts, barOf, capital, clockTold, FORWARD, type Head, madeOnce, type Places, rolling, sheetHead, type Side, SIDES, type StagedBody, type StagedMoment, type StagedSpec } from "./staged.ts";

/** Both over the road. */
type SeatedMoment = Readonly<Record<Side, StagedMoment>> & { readonly force: number };

export interface SeatedMotion {
  /** Time after first touch that can be shown [s]. */
  readonly duration: number;
  readonly at: (time: number) => SeatedMoment;
}

export interface TwoSeatsSpec<S> extends StagedSpec<S, StagedBody<S>, SeatedMotion> {
  /** Input that holds the velocity of the seat, plus the way that a comes. */
  readonly seat: { readonly input: string };
}

const GAP = { road: 1.6, bench: 0.22 } as const;
const TALL = { road: 1.5, bench: 0.19 } as const;
const STILL = { road: 0.02, bench: 0.002 } as const;
/** Room for a body that a fast seat sees rush by [m]. */
const BESIDE = { road: 4, bench: 0.5 } as const;
const LONGEST_APPROACH = 2;

interface Layout extends Head, Pick<Places, "half" | "mass"> {
  readonly height: number;
  readonly tallest: number;
  readonly nought: Readonly<Record<Side | "seat", number>>;
  readonly seatLane: number;
  readonly speedLength: number;
  /** Head line, lane of the arrows, ground and bar of energy of each drawing, by the top of it. */
  readonly tops: readonly [number, number];
  readonly lane: number;
  readonly ground: number;
  readonly bar: number;
  readonly barLength: number;
}

const WIDE: Layout = { width: 1200, height: 652, margin: 28, heading: 40, tallest: 82, nought: { a: 320, b: 880, seat: 600 }, seatLane: 86, speedLength: 140, tops: [124, 342], lane: 34, ground: 146, bar: 168, barLength: 1130, half: { a: 34, b: 626 }, mass: { x: 0, y: 590, width: 300 }, narrow: false };
const NARROW: Layout = { width: 358, height: 592, margin: 12, heading: 30, tallest: 54, nought: { a: 94, b: 264, seat: 179 }, seatLane: 80, speedLength: 42, tops: [112, 304], lane: 42, ground: 128, bar: 150, barLength: 322, half: { a: 14, b: 190 }, mass: { x: 0, y: 530, width: 134 }, narrow: true };
const BAR_HEIGHT = 14;


/** The camera of the seat, which looks across the road at the event. */
const camera = ([x, y]: Point): Node =>
  group("seat", [rectangle(x - 7, y - 11, 14, 5, "tyre"), rectangle(x - 13, y - 7, 26, 16, "tyre"), circle([x, y + 1], 5.5, "rim"), circle([x, y + 1], 2, "hub"), text([x + 18, y + 6], "seat", "label label-small")]);

/** A scene for the `scenes` of a lesson. */
export const twoSeatsScene = <I, O>(spec: TwoSeatsSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const motionOf = madeOnce(spec.motion);
  const scaleOf = (state: S): "road" | "bench" => (spec.bench(state) ? "bench" : "road");
  const valueOf = (state: S, input: string): number => (state.inputs as Record<string, number>)[input] as number;
  const speedOf = (state: S, side: Side): number => valueOf(state, spec[side].speed.input);
  const leadOf = (state: S): number => {
    const closing = speedOf(state, "a") + speedOf(state, "b");
    return closing > 0 ? Math.min(LONGEST_APPROACH, GAP[scaleOf(state)] / closing) : 0;
  };
  const momentAt = (state: S, instant: number): { readonly moment: SeatedMoment; readonly time: number } => {
    const time = instant - leadOf(state);
    const motion = motionOf(state);
    if (motion !== null && time >= 0) return { moment: motion.at(Math.min(time, motion.duration)), time };
    return { moment: { a: rolling(speedOf(state, "a"), time), b: rolling(speedOf(state, "b"), time), force: 0 }, time: Math.min(0, time) };
  };
  /** Velocities on one axis, plus the way that a comes. */
  const velocitiesOf = (moment: SeatedMoment): Readonly<Record<Side, number>> => ({ a: moment.a.velocity, b: -moment.b.velocity });
  const energyOf = (state: S, velocity: Readonly<Record<Side, number>>, seat: number): Readonly<Record<Side, number>> => {
    const one = (side: Side): number => 0.5 * valueOf(state, spec[side].mass.input) * (velocity[side] - seat) ** 2;
    return { a: one("a"), b: one("b") };
  };

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const layout = width === "wide" ? WIDE : NARROW;
    const at = scaleOf(state);
    const { moment, time } = momentAt(state, instant);
    const seat = valueOf(state, spec.seat.input);
    const left = layout.margin - 6;
    const right = layout.width - left;
    const small = layout.narrow ? "label label-small" : "label";
    const names = { a: spec.a.name(state), b: spec.b.name(state) };
    const short = layout.narrow && Math.max(widthOf(names.a, 13), widthOf(names.b, 13)) > 66;
    const nameOf = (side: Side): string => (short ? side.toUpperCase() : names[side]);
    const handles: Handle[] = [];
    const outline = { a: OUTLINES[spec.a.drawnAs(state)], b: OUTLINES[spec.b.drawnAs(state)] };
    const inner = layout.width - 2 * layout.margin;
    const scale = Math.min(layout.tallest / TALL[at], inner / (outline.a.length + outline.b.length + 2 * BESIDE[at]));
    const bar = barOf(at, write);
    const nodes: Node[] = [sheetFrame(layout.width, layout.height), ...sheetHead(layout, time === 0 && leadOf(state) === 0 ? "" : clockTold(time, write), bar, scale, write), startKey(keyPlace(layout), time, write)];

    const before = { a: speedOf(state, "a"), b: -speedOf(state, "b") };
    const now = velocitiesOf(moment);
    const to = Math.max(spec.a.speed.to(state), spec.b.speed.to(state));
    const perSpeed = layout.speedLength / to;
    const way = (v: number): string => (Math.abs(v) < STILL[at] ? "" : v > 0 ? ", right" : ", left");
    const wayShort = (v: number): string => (layout.narrow ? "" : way(v));

    // The velocity of the seat: the thing to drag.
    const zero = layout.nought.seat;
    nodes.push(
      group("motion seat", [
        line([zero - layout.speedLength, layout.seatLane], [zero + layout.speedLength, layout.seatLane], "guide"),
        arrow([zero, layout.seatLane], [zero + seat * perSpeed, layout.seatLane], "axis", { width: 5, head: 14 }),
        line([zero, layout.seatLane - 7], [zero, layout.seatLane + 7], "reading-end"),
        text([zero, layout.seatLane - 15], `the seat ${Math.abs(seat) < STILL[at] ? "stands on the road" : `${write("speed", Math.abs(seat))}${way(seat)}`}`, `${small} label-strong`, "middle"),
      ]),
      grip([zero + seat * perSpeed + BEYOND, layout.seatLane], spec.seat.input, "seat-grip"),
    );
    handles.push({ input: spec.seat.input, origin: [round(zero + BEYOND), layout.seatLane], perUnit: [perSpeed, 0] });

    // One scale of energy for both drawings, changed in round steps only.
    const first = [energyOf(state, before, 0), energyOf(state, before, seat)] as const;
    const most = roundUp("energy", Math.max(...first.map(({ a, b }) => a + b), 1e-9), {});
    const perJoule = layout.barLength / most;

    layout.tops.forEach((top, i) => {
      const observer = i === 0 ? 0 : seat;
      const ground = top + layout.ground;
      const lane = top + layout.lane;
      // the place of first touch is in the middle of both drawings when they touch
      const x = (metres: number): number => layout.width / 2 + (metres - observer * time) * scale;
      const camY = ground - layout.tallest - 12;
      nodes.push(
        line([left, top - 20], [right, top - 20], "rule"),
        text([left + 8, top], `${layout.narrow ? "" : "seen "}${i === 0 ? "from the road" : "from the seat"}`, `${small} label-strong`),
        ticked(left, right, ground, bar, x, -(layout.width / 2) / scale + observer * time),
        stage(layout.width, lane + 6, ground + 1, [
          ...SIDES.map((side) => bodySide({ side, drawnAs: spec[side].drawnAs(state), nose: x(side === "a" ? moment.a.travel : -moment.b.travel), ground, scale, rearwards: side === "a" ? -1 : 1, crush: moment[side].crush, tagRadius: layout.narrow ? 8 : 12 })),
          camera([x(seat * time), camY]),
        ]),
      );
      for (const side of SIDES) {
        const nought = layout.nought[side];
        const tip = (v: number): Point => [nought + (v - observer) * perSpeed, lane];
        const seen = now[side] - observer;
        nodes.push(
          group(`motion body-${side}`, [
            line([nought - 2 * layout.speedLength, lane], [nought + 2 * layout.speedLength, lane], "guide"),
            arrow([nought, lane], tip(before[side]), "start-speed", { width: 5, head: 14 }),
            arrow([nought, lane], tip(now[side]), "speed", { width: 5, head: 14 }),
            line([nought, lane - 7], [nought, lane + 7], "arrow-foot"),
            text([nought, lane - 13], `${capital(nameOf(side))} ${Math.abs(seen) < STILL[at] ? "stands still" : `${write("speed", Math.abs(seen))}${wayShort(seen)}`}`, small, "middle"),
          ]),
        );
        if (i === 0) {
          const { input } = spec[side].speed;
          const forward = FORWARD[side];
          nodes.push(grip([nought + forward * (speedOf(state, side) * perSpeed + BEYOND), lane], input, `body-${side}`));
          handles.push({ input, origin: [round(nought + forward * BEYOND), lane], perUnit: [forward * perSpeed, 0] });
        }
      }
      // Energy of motion of each, and what is gone of it: one bar.
      const energy = energyOf(state, now, observer);
      const start = first[i as 0 | 1];
      const gone = start.a + start.b - energy.a - energy.b;
      // while they push, part of it is held in the fronts and may come back
      const missing = moment.force > 0 ? (layout.narrow ? "not in motion" : "not in motion now") : "gone";
      const y = top + layout.bar;
      const x0 = left + 8;
      const [xa, xb, xe] = [x0 + energy.a * perJoule, x0 + (energy.a + energy.b) * perJoule, x0 + (start.a + start.b) * perJoule];
      const lost: Point[] = xe - xb > 0.5 ? [[xb, y], [xe, y], [xe, y + BAR_HEIGHT], [xb, y + BAR_HEIGHT]] : [];
      nodes.push(
        group("energy", [
          group("body-a", [rectangle(x0, y, xa - x0, BAR_HEIGHT, "slab")]),
          group("body-b", [rectangle(xa, y, xb - xa, BAR_HEIGHT, "slab")]),
          polygon(lost, "intrusion-ground"),
          hatching(lost, 6, "intrusion"),
          line([xe, y - 3], [xe, y + BAR_HEIGHT + 3], "reading-end"),
          ...(layout.narrow
            ? [text([right - 8, top], `${missing} ${write("energy", Math.max(0, gone))}`, small, "end")]
            : [text([right - 8, top], `${moment.force > 0 ? `each pushes the other with ${write("force", moment.force)}; ` : ""}energy of motion ${write("energy", energy.a + energy.b)}, ${missing} ${write("energy", Math.max(0, gone))}`, small, "end")]),
        ]),
      );
    });

    nodes.push(line([left, layout.mass.y - 34], [right, layout.mass.y - 34], "rule"));
    const below = ballasts(state, spec, layout, write);
    return { width: layout.width, height: layout.height, nodes: [...nodes, ...below.nodes], handles: [...handles, ...below.handles] };
  };

  return {
    title: spec.title,
    duration: (state) => leadOf(state) + (motionOf(state)?.duration ?? 0),
    touch: leadOf,
    draw,
    describe: (state, instant, write) => {
      const at = scaleOf(state);
      const { moment, time } = momentAt(state, instant);
      const seat = valueOf(state, spec.seat.input);
      const now = velocitiesOf(moment);
      const moving = (side: Side, observer: number): string => {
        const v = now[side] - observer;
        return Math.abs(v) < STILL[at] ? `${spec[side].name(state)} stands still` : `${spec[side].name(state)} moves ${v > 0 ? "right" : "left"} at ${write("speed", Math.abs(v))}`;
      };
      const energy = (observer: number): string => {
        const { a, b } = energyOf(state, now, observer);
        return write("energy", a + b);
      };
      return `${clockTold(time, write)}. From the road ${moving("a", 0)} and ${moving("b", 0)}, with ${energy(0)} of energy of motion; from the seat ${moving("a", seat)} and ${moving("b", seat)}, with ${energy(seat)}.`;
    },
  };
};
