/**
 * Two bodies that meet with a force meter on each front, and under them each body by itself: the one push that acts on it, and how
 * that push went on so far. No drawing holds both pushes. The handles on the sheet are the lesson's inputs.
 */
import type { Drawing, Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { bodySide, sheetFrame } from "./bodySide.ts";
import { arrow, circle, group, line, type Point, polygon, polyline, text, widthOf } from "./marks.ts";
import { OUTLINES } from "./outlines.ts";
import { roundText, roundUp } from "./round.ts";
import { keyPlace, startKey, ballasts, barOf, capital, clockTold, FORWARD, frontLines, type Head, madeOnce, meeting, type Places, readInput, rolling, type Side, SIDES, speedLanes, type StagedBody, type StagedMoment, type StagedSpec, type StraightFront } from "./staged.ts";

export interface MeteredBody<S> extends StagedBody<S> {
  readonly front: StraightFront<S>;
}

export interface MeteredMoment extends StagedMoment {
  /** Size of the push on this body, and the momentum that it has brought so far, both from this body's own motion. */
  readonly push: number;
  readonly passed: number;
}

export interface PushMotion {
  /** Time after first touch that can be shown [s]. */
  readonly duration: number;
  /** Largest push on either [N]. */
  readonly peak: number;
  readonly at: (time: number) => Readonly<Record<Side, MeteredMoment>>;
}

export type PushMetersSpec<S> = StagedSpec<S, MeteredBody<S>, PushMotion>;

/** How far apart the two stand at instant 0 [m], and the longest approach that is shown [s]. */
const GAP = { road: 1.4, bench: 0.2 } as const;
const LONGEST_APPROACH = 3;
/** Slower than this is said to stand still [m/s]. */
const STILL = { road: 0.02, bench: 0.002 } as const;
/** Room above a trolley that a car fills with its roof. */
const TALL = { road: 1.5, bench: 0.17 } as const;
/** Instants that a drawn curve has. */
const CURVE = 72;
/** A needle's whole sweep. */
const SWEEP = (240 * Math.PI) / 180;
const DIAL_MARKS = 6;

interface Layout extends Head, Places {
  readonly height: number;
  readonly ground: number;
  readonly tallest: number;
  readonly speedLength: number;
  readonly dial: number;
  /** The two drawings of one body by itself: left and right edge, head line, ground line. */
  readonly alone: Readonly<Record<Side, { readonly left: number; readonly right: number; readonly head: number; readonly ground: number }>>;
  /** Share of such a drawing that the body takes. */
  readonly bodyShare: number;
  readonly rules: readonly number[];
  readonly chart: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
}

const WIDE: Layout = {
  width: 1200,
  height: 588,
  margin: 28,
  heading: 40,
  ground: 216,
  tallest: 108,
  speedLength: 190,
  dial: 27,
  alone: { a: { left: 34, right: 574, head: 264, ground: 384 }, b: { left: 626, right: 1166, head: 264, ground: 384 } },
  bodyShare: 0.5,
  rules: [236, 414],
  half: { a: 34, b: 626 },
  mass: { x: 0, y: 454, width: 128 },
  front: { x: 182, y: 454, width: 128, height: 76 },
  chart: { x: 358, y: 448, width: 176, height: 86 },
  narrow: false,
};

const NARROW: Layout = {
  width: 358,
  height: 758,
  margin: 12,
  heading: 30,
  ground: 186,
  tallest: 66,
  speedLength: 84,
  dial: 18,
  alone: { a: { left: 14, right: 344, head: 226, ground: 298 }, b: { left: 14, right: 344, head: 330, ground: 402 } },
  bodyShare: 0.48,
  rules: [212, 420, 532],
  half: { a: 14, b: 190 },
  chart: { x: 4, y: 446, width: 146, height: 58 },
  mass: { x: 0, y: 566, width: 132 },
  front: { x: 16, y: 650, width: 128, height: 76 },
  narrow: true,
};

/** A round dial with one needle, on a stem that reaches down to the front it belongs to. */
const meter = (centre: Point, radius: number, foot: Point, share: number, side: Side): Node => {
  const on = (part: number, reach: number): Point => {
    const angle = SWEEP * (part - 0.5);
    return [centre[0] + reach * radius * Math.sin(angle), centre[1] - reach * radius * Math.cos(angle)];
  };
  return group(`meter body-${side}`, [
    line([centre[0], centre[1] + radius], foot, "arrow-foot"),
    circle(centre, radius, "buffer-head"),
    ...Array.from({ length: DIAL_MARKS + 1 }, (_, i) => line(on(i / DIAL_MARKS, 0.78), on(i / DIAL_MARKS, 0.94), "extension")),
    line(centre, on(Math.min(1, share), 0.84), "reading-end"),
    circle(centre, 2.5, "hub"),
  ]);
};

/** A scene for the `scenes` of a lesson. */
export const pushMetersScene = <I, O>(spec: PushMetersSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const motionOf = madeOnce(spec.motion);
  const speedsOf = (state: S) => ({ a: readInput(state, spec.a.speed), b: readInput(state, spec.b.speed) });
  const leadOf = (state: S): number => {
    const { a, b } = speedsOf(state);
    return a.value + b.value > 0 ? Math.min(LONGEST_APPROACH, GAP[spec.bench(state) ? "bench" : "road"] / (a.value + b.value)) : 0;
  };
  const momentAt = (state: S, instant: number): { readonly moment: Readonly<Record<Side, MeteredMoment>>; readonly time: number } => {
    const time = instant - leadOf(state);
    const motion = motionOf(state);
    if (motion !== null && time >= 0) return { moment: motion.at(Math.min(time, motion.duration)), time };
    const { a, b } = speedsOf(state);
    const before = (v: number): MeteredMoment => ({ ...rolling(v, time), push: 0, passed: 0 });
    return { moment: { a: before(a.value), b: before(b.value) }, time: Math.min(0, time) };
  };
  const otherOf = (side: Side): Side => (side === "a" ? "b" : "a");

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const layout = width === "wide" ? WIDE : NARROW;
    const at = spec.bench(state) ? "bench" : "road";
    const { moment, time } = momentAt(state, instant);
    const motion = motionOf(state);
    const outline = { a: OUTLINES[spec.a.drawnAs(state)], b: OUTLINES[spec.b.drawnAs(state)] };
    const inner = layout.width - 2 * layout.margin;
    const left = layout.margin - 6;
    const right = layout.width - left;
    const small = layout.narrow ? "label label-small" : "label";
    const size = layout.narrow ? 13 : 15;
    const names = { a: spec.a.name(state), b: spec.b.name(state) };
    const short = layout.narrow && Math.max(widthOf(names.a, size), widthOf(names.b, size)) > 70;
    const nameOf = (side: Side): string => (short ? side.toUpperCase() : names[side]);
    const nodes: Node[] = [sheetFrame(layout.width, layout.height)];

    // The meeting, to scale; the place of contact stays in the middle of the sheet. On a phone the rear ends run off it.
    const gap = GAP[at];
    const span = layout.narrow && at === "road" ? 2 * Math.max(outline.a.tag[0], outline.b.tag[0]) + 0.5 + gap : outline.a.length + outline.b.length + 2.1 * gap;
    const scale = Math.min(layout.tallest / TALL[at], inner / span);
    const told = time === 0 && leadOf(state) === 0 ? "" : clockTold(time, write);
    const bodies = { a: { ...spec.a, foldLength: spec.a.front.length }, b: { ...spec.b, foldLength: spec.b.front.length } };
    nodes.push(...meeting(state, { bodies, moment, told, bar: barOf(at, write), scale, top: layout.heading + 8, ground: layout.ground }, layout, write));

    // One scale for dials, arrows and curves: a round push, written on the sheet, that the largest push of this meeting does not pass.
    const full = motion !== null && motion.peak > 0 ? roundUp("force", motion.peak, write) : 0;
    const share = (push: number): number => (full > 0 ? push / full : 0);
    const fullWords = full > 0 ? roundText("force", full, write) : "";
    if (fullWords !== "") nodes.push(layout.narrow ? text([layout.width / 2, layout.ground + 21], `dials, arrows, curves end at ${fullWords}`, "label label-soft label-small", "middle") : text([560, layout.heading], `dials, arrows and curves end at ${fullWords}`, "label label-soft"));

    // Meters: one on each front, alike, each moved by what its own body feels.
    const dialY = layout.ground - layout.tallest - layout.dial + (layout.narrow ? 2 : 12);
    const apart = moment.a.crush + moment.b.crush - moment.a.travel - moment.b.travel;
    for (const side of SIDES) {
      const stem = layout.width / 2 - FORWARD[side] * (apart / 2) * scale - FORWARD[side] * (layout.dial + 7);
      nodes.push(meter([stem, dialY], layout.dial, [stem, layout.ground - 0.46 * (at === "bench" ? 0.14 : 1) * scale], share(moment[side].push), side));
    }

    // Speeds, from the edges of the sheet.
    const lanes = speedLanes({ left: layout.margin + 4, right: layout.width - layout.margin - 4, y: layout.heading + (layout.narrow ? 46 : 44), length: layout.speedLength, narrow: layout.narrow }, names, speedsOf(state), { a: moment.a.velocity, b: moment.b.velocity }, write);
    nodes.push(...lanes.nodes, startKey(keyPlace(layout), time, write), ...layout.rules.map((y) => line([left, y], [right, y], "rule")));

    // Each body by itself, with the one push that acts on it. Its own forward axis points as above.
    for (const side of SIDES) {
      const place = layout.alone[side];
      const room = place.right - place.left;
      const own = Math.min((layout.bodyShare * room) / Math.max(outline.a.length, outline.b.length), (place.ground - place.head - 14) / TALL[at]);
      const rear = side === "a" ? place.left : place.right;
      const tip = rear + FORWARD[side] * outline[side].length * own;
      const end = tip - FORWARD[side] * moment[side].crush * own;
      const longest = room - outline[side].length * own - (layout.narrow ? 8 : 16);
      const length = share(moment[side].push) * Math.min(longest, (1 - layout.bodyShare) * room - 16);
      const y = place.ground - 0.42 * (at === "bench" ? 0.11 : 1) * own;
      const away = end + FORWARD[side] * 3;
      const pushing = moment[side].push > 0;
      nodes.push(
        group(`alone body-${side}`, [
          text([side === "a" || layout.narrow ? place.left : place.right, place.head], `${capital(layout.narrow ? nameOf(side) : names[side])} by itself`, `${small} label-strong`, side === "a" || layout.narrow ? "start" : "end"),
          line([place.left, place.ground], [place.right, place.ground], "guide"),
          bodySide({ side, drawnAs: spec[side].drawnAs(state), nose: tip, ground: place.ground, scale: own, rearwards: side === "a" ? -1 : 1, crush: moment[side].crush, foldLength: spec[side].front.length(state), tagRadius: layout.narrow ? 9 : 12 }),
        ]),
        group(
          "forces",
          pushing
            ? [
                arrow([away + FORWARD[side] * length, y], [away, y], "force", { width: 7, head: 18 }),
                ...(layout.narrow
                  ? [text([side === "a" ? place.right : place.left + 0, y - 16], write("force", moment[side].push), small, side === "a" ? "end" : "start"), text([place.right, place.head], `the push by ${nameOf(otherOf(side))}`, small, "end")]
                  : [text([side === "a" ? place.right : place.left, y - 40], `the push by ${names[otherOf(side)]}`, small, side === "a" ? "end" : "start"), text([side === "a" ? place.right : place.left, y - 20], write("force", moment[side].push), `${small} label-strong`, side === "a" ? "end" : "start")]),
              ]
            : [text([side === "a" ? place.right : place.left, y - 20], layout.narrow ? "no push" : `no push by ${names[otherOf(side)]}`, `${small} label-soft`, side === "a" ? "end" : "start")],
        ),
      );
    }

    // The push on each against time so far: its area is the momentum that came with it.
    for (const side of SIDES) {
      const { chart } = layout;
      const [x0, base] = [layout.half[side] + chart.x, chart.y + chart.height];
      const shown = motion !== null ? Math.max(0, Math.min(time, motion.duration)) : 0;
      const points: Point[] =
        motion !== null && motion.peak > 0 && time > 0
          ? Array.from({ length: CURVE + 1 }, (_, i): Point => {
              const t = (shown * i) / CURVE;
              return [x0 + (t / motion.duration) * chart.width, base - 0.9 * share(motion.at(t)[side].push) * chart.height];
            })
          : [];
      const last = points[points.length - 1];
      const area = `area ${write("impulse", moment[side].passed)}`;
      nodes.push(
        group(`push-so-far body-${side}`, [
          text([x0, chart.y - 9], `push on ${side.toUpperCase()} so far`, `${small} label-strong`),
          last ? polygon([[x0, base], ...points, [last[0], base]], "slab") : polygon([], "slab"),
          ...(full > 0 ? [line([x0, base - 0.9 * chart.height], [x0 + chart.width, base - 0.9 * chart.height], "guide"), text([x0 + chart.width, base - 0.9 * chart.height + 14], fullWords, "label label-soft label-small", "end")] : []),
          polyline(points, "curve"),
          arrow([x0, base], [x0 + chart.width, base], "axis", { width: 1.2, head: 8 }),
          arrow([x0, base], [x0, chart.y], "axis", { width: 1.2, head: 8 }),
          ...(widthOf(`${area} time`, 13) > chart.width ? [] : [text([x0 + chart.width, base + 16], "time", "label label-soft label-small", "end")]),
          text([x0, base + 16], area, "label label-small"),
        ]),
      );
    }

    const below = ballasts(state, spec, layout, write, frontLines(state, spec, layout, at === "bench" ? "bumper" : "nose", write));
    return { width: layout.width, height: layout.height, nodes: [...nodes, ...below.nodes], handles: [...lanes.handles, ...below.handles] };
  };

  return {
    title: spec.title,
    duration: (state) => leadOf(state) + (motionOf(state)?.duration ?? 0),
    touch: leadOf,
    draw,
    describe: (state, instant, write) => {
      const at = spec.bench(state) ? "bench" : "road";
      const { moment, time } = momentAt(state, instant);
      const moving = (side: Side): string => {
        const { velocity } = moment[side];
        return Math.abs(velocity) < STILL[at] ? `${spec[side].name(state)} stands still` : `${spec[side].name(state)} moves ${velocity > 0 === (side === "a") ? "right" : "left"} at ${write("speed", Math.abs(velocity))}`;
      };
      const pushes = time <= 0 || moment.a.push === 0 ? "Neither meter shows a push." : `The meter of ${spec.a.name(state)} shows ${write("force", moment.a.push)}, the meter of ${spec.b.name(state)} ${write("force", moment.b.push)}.`;
      return `${clockTold(time, write)}: ${moving("a")} and ${moving("b")}. ${pushes}`;
    },
  };
};
