/**
 * Two trolleys meet on a bench, each with a paper nose, a box behind it that may give, and a block that slides on its deck: in side
 * view and to scale. The handles on the sheet are the lesson's inputs.
 */
import type { Drawing, Handle, Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { sheetFrame, stage, ticked } from "./bodySide.ts";
import { ballast, frontAxes, frontLine, type FrontReading, type Reading } from "./instruments.ts";
import { NARROW, WIDE } from "./layout.ts";
import { arrow, circle, group, hatching, line, type Point, polygon, polyline, tag, text } from "./marks.ts";
import type { Moment, Motion } from "./motion.ts";
import type { Dial } from "./spec.ts";
import { benchDigits, keyPlace, startKey, backTold, barOf, capital, clockTold, FORWARD, madeOnce, type Side, sheetHead, SIDES, speedArrows, speedGrip } from "./staged.ts";

export interface BlockTrolley<S> {
  readonly name: string;
  readonly mass: Dial<S>;
  readonly speed: Dial<S>;
  readonly nose: Dial<S>;
  readonly box: Dial<S>;
  /** Nose in front of the box [m]. */
  readonly noseLength: (state: S) => number;
}

export interface BlocksSpec<S> {
  readonly title: string;
  readonly a: BlockTrolley<S>;
  readonly b: BlockTrolley<S>;
  /** Longest nose that the sheet leaves room for [m]. */
  readonly noseTo: number;
  /** The first occupant of each body is the block; called for states that have outputs only, once for each. */
  readonly motion: (state: S) => Motion;
}

/** Sizes of an invented trolley [m]. */
const BOX = { length: 0.14, foot: 0.045, top: 0.125 };
const DECK = { length: 0.24, foot: 0.05, top: 0.125 };
const WHEEL = { radius: 0.028, in: 0.05 };
const BLOCK = { length: 0.05, height: 0.035, behind: 0.17 };
/** How far apart the noses stand at instant 0, and the longest approach that is shown. */
const GAP = 0.16;
const LONGEST_APPROACH = 3;
/** Room behind each trolley. */
const BEHIND = 0.06;
const FOLDS = 12;

const read = <I, O>(dial: Dial<State<I, O>>, state: State<I, O>): Reading => {
  const digits = dial.digits === undefined ? {} : { digits: dial.digits };
  return "input" in dial ? { input: dial.input, value: (state.inputs as Record<string, number>)[dial.input] as number, to: dial.to, ...digits } : { input: null, value: dial.value(state), to: dial.to, ...digits };
};

/** A scene for the `scenes` of a lesson. */
export const blocksScene = <I, O>(spec: BlocksSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const motionOf = madeOnce(spec.motion);
  const speedsOf = (state: S) => ({ a: read(spec.a.speed, state), b: read(spec.b.speed, state) });
  const leadOf = (state: S): number => {
    const { a, b } = speedsOf(state);
    return a.value + b.value > 0 ? Math.min(LONGEST_APPROACH, GAP / (a.value + b.value)) : 0;
  };
  const momentAt = (state: S, instant: number): { readonly moment: Moment & { readonly b: NonNullable<Moment["b"]> }; readonly time: number } => {
    const time = instant - leadOf(state);
    const motion = motionOf(state);
    const before = (v: number) => ({ travel: v * Math.min(0, time), velocity: v, crush: 0 });
    const { a, b } = speedsOf(state);
    const approach = { force: 0, a: before(a.value), b: before(b.value) };
    if (motion === null || time < 0) return { moment: approach, time: Math.min(0, time) };
    return { moment: { ...approach, ...motion.at(Math.min(time, motion.duration)) }, time };
  };

  const trolley = (side: Side, noseLength: number, moment: Moment["a"], at: (depth: number, height: number) => Point, scale: number): Node => {
    const { crush, cabinLoss: lost = 0, occupants } = moment;
    const slid = occupants?.[0]?.torsoTravel ?? 0;
    const box = (from: number, to: number): Point[] => [at(from, BOX.foot), at(to, BOX.foot), at(to, BOX.top), at(from, BOX.top)];
    const front = noseLength + lost;
    const rear = noseLength + BOX.length;
    const end = rear + DECK.length;
    const middle = (BOX.foot + BOX.top) / 2;
    const zigzag = Array.from({ length: FOLDS + 1 }, (_, k): Point => at(crush + ((front - crush) * k) / FOLDS, middle + (k === 0 || k === FOLDS ? 0 : k % 2 === 0 ? 0.022 : -0.022)));
    const place = rear + BLOCK.behind - slid;
    const gone = lost > 0.0005 ? box(noseLength, front) : [];
    return group(`vehicle body-${side}`, [
      polygon([at(rear, DECK.foot), at(end, DECK.foot), at(end, DECK.top), at(rear, DECK.top)], "shell"),
      polygon(box(front, rear), "shell"),
      polyline([at(front, BOX.top), at(rear, BOX.foot)], "detail"),
      polygon(gone, "intrusion-ground"),
      hatching(gone, 6, "intrusion"),
      polyline(zigzag, "spring"),
      line(at(crush, BOX.foot), at(crush, BOX.top), "firewall-line"),
      ...[rear + WHEEL.in, end - WHEEL.in].flatMap((depth) => [circle(at(depth, WHEEL.radius), WHEEL.radius * scale, "tyre"), circle(at(depth, WHEEL.radius), 2, "hub")]),
      line(at(rear + BLOCK.behind, DECK.top), at(rear + BLOCK.behind, DECK.top + BLOCK.height * 1.5), "firewall-line"),
      polygon([at(place, DECK.top), at(place + BLOCK.length, DECK.top), at(place + BLOCK.length, DECK.top + BLOCK.height), at(place, DECK.top + BLOCK.height)], "bag"),
      tag(side, at(rear + DECK.length / 2, (DECK.foot + DECK.top) / 2), scale > 400 ? 14 : 9),
    ]);
  };

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const layout = width === "wide" ? WIDE : NARROW;
    const { moment, time } = momentAt(state, instant);
    const inner = layout.width - 2 * layout.margin;
    const span = 2 * (spec.noseTo + BOX.length + DECK.length + BEHIND) + GAP;
    const scale = inner / span;
    const centre = layout.width / 2;
    // The place of contact stays in the middle of the sheet.
    const shift = ((read(spec.b.speed, state).value - read(spec.a.speed, state).value) * leadOf(state)) / 2;
    const tip = { a: moment.a.travel - shift, b: -moment.b.travel - shift };
    const middle = (tip.a - moment.a.crush + tip.b + moment.b.crush) / 2;
    const x = (metres: number): number => centre + (metres - middle) * scale;
    const small = layout.narrow ? "label label-small" : "label";
    const digits = { digits: 1 };
    const handles: Handle[] = [];
    const left = layout.margin + 2;
    const right = layout.width - left;

    const bar = barOf("bench", write);
    const nodes: Node[] = [
      sheetFrame(layout.width, layout.height),
      ticked(left - 8, right + 8, layout.ground, bar, x, middle - centre / scale),
      ...sheetHead(layout, leadOf(state) === 0 ? "" : clockTold(time, write), bar, scale, write),
      startKey(keyPlace(layout), time, write),
      stage(layout.width, 7, layout.height - 7, SIDES.map((side) => {
        return trolley(side, spec[side].noseLength(state), moment[side], (depth, height) => [x(tip[side] - FORWARD[side] * depth), layout.ground - height * scale], scale);
      })),
    ];

    // Speeds at the two edges, pushes at the place of contact.
    const label = layout.heading + (layout.narrow ? 30 : 42);
    const lane = label + 15;
    const speeds = speedsOf(state);
    const perSpeed = Math.min(0.36 * inner, layout.speedLength) / Math.max(speeds.a.to, speeds.b.to);
    for (const side of SIDES) {
      const forward = FORWARD[side];
      const tail = side === "a" ? left : right;
      const velocity = moment[side].velocity;
      const said = write("speed", Math.abs(velocity), { digits: 2 });
      const name = layout.narrow ? side.toUpperCase() : capital(spec[side].name);
      const dragged = speedGrip(tail, lane, forward, speeds[side], perSpeed, side);
      nodes.push(
        group(`motion body-${side}`, [
          ...speedArrows(tail, lane, forward, speeds[side].value, velocity, perSpeed),
          text([tail, label], `${name} ${said}${backTold(velocity, said, layout.narrow)}`, "label label-strong", side === "a" ? "start" : "end"),
        ]),
        ...dragged.nodes,
      );
      handles.push(...dragged.handles);
    }
    const peak = motionOf(state)?.peakForce ?? 0;
    const push = peak > 0 ? (moment.force / peak) * 0.5 * layout.forceLength : 0;
    const forceLane = lane + (layout.narrow ? 44 : 48);
    nodes.push(
      group(
        "forces",
        moment.force > 0
          ? [
              line([centre, forceLane - 12], [centre, layout.ground], "contact-plane"),
              arrow([centre - 6, forceLane], [centre - 6 - push, forceLane], "force", { width: 6, head: 14 }),
              arrow([centre + 6, forceLane], [centre + 6 + push, forceLane], "force", { width: 6, head: 14 }),
              text([centre, forceLane - 16], `each pushes the other with ${write("force", moment.force, digits)}`, small, "middle"),
            ]
          : [],
      ),
      group("lengths", SIDES.map((side) => text([side === "a" ? left : right, side === "a" ? layout.crushA + 5 : layout.crushB + 5], told(side, moment[side], write, layout.narrow), small, side === "a" ? "start" : "end"))),
      line([left - 8, layout.mass.y - (layout.narrow ? 28 : 32)], [right + 8, layout.mass.y - (layout.narrow ? 28 : 32)], "rule"),
    );

    const masses = { a: read(spec.a.mass, state), b: read(spec.b.mass, state) };
    const front = (side: Side): FrontReading => ({ nose: read(spec[side].nose, state), cell: read(spec[side].box, state), noseLength: spec[side].noseLength(state) });
    const fronts = { a: front("a"), b: front("b") };
    for (const side of SIDES) {
      const at = layout.half[side];
      for (const { nodes: made, handles: dragged } of [
        ballast(masses[side], Math.max(masses.a.to, masses.b.to), [at + layout.mass.x, layout.mass.y + 6], layout.mass.width, side, write),
        frontLine(fronts[side], "nose", frontAxes([fronts.a, fronts.b]), [at + layout.front.x, layout.front.y + 6], layout.front, side, write, "box"),
      ]) {
        nodes.push(...made);
        handles.push(...dragged);
      }
    }
    return { width: layout.width, height: layout.height, nodes, handles };
  };

  const told = (side: Side, { cabinLoss: lost = 0, occupants }: Moment["a"], write: Write, narrow: boolean): string => {
    const slid = Math.max(0, occupants?.[0]?.torsoTravel ?? 0);
    return narrow
      ? `${side.toUpperCase()}: box shorter ${write("distance", lost, benchDigits(write))}, block slid ${write("distance", slid, benchDigits(write))}`
      : `Box ${side.toUpperCase()} shorter by ${write("distance", lost, benchDigits(write))}, block ${side.toUpperCase()} slid ${write("distance", slid, benchDigits(write))}`;
  };

  return {
    title: spec.title,
    duration: (state) => leadOf(state) + (motionOf(state)?.duration ?? 0),
    draw,
    describe: (state, instant, write) => {
      const { moment, time } = momentAt(state, instant);
      const moving = (side: Side): string => `${spec[side].name} moves ${moment[side].velocity >= 0 === (side === "a") ? "right" : "left"} at ${write("speed", Math.abs(moment[side].velocity))}`;
      const lengths = time < 0 ? "" : ` ${told("a", moment.a, write, false)}. ${told("b", moment.b, write, false)}.`;
      return `${clockTold(time, write)}: ${moving("a")} and ${moving("b")}.${lengths}`;
    },
  };
};
