/**
 * Bodies that meet, are pushed apart or run into a wall, to scale, over a strip on which their momenta, with their signs, are laid head
 * to tail: before, now and after. The handles on the sheet are the lesson's inputs.
 */
import type { Drawing, Handle, Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { bodySide, sheetFrame, stage, ticked } from "./bodySide.ts";
import { BEYOND } from "./instruments.ts";
import { arrow, grip, group, hatching, line, type Point, polygon, polyline, round, tag, text, widthOf } from "./marks.ts";
import { OUTLINES } from "./outlines.ts";
import { roundUp } from "./round.ts";
import { keyPlace, startKey, ballasts, barOf, capital, clockTold, type Dragged, type Head, madeOnce, type NamedBody, type Places, rolling, sheetHead, type Side, SIDES, type StagedMoment, type StagedSpec } from "./staged.ts";

export interface StripBody<S> extends NamedBody<S> {
  readonly velocity: Dragged<S>;
}

/** One body over the ground since the push began, plus to the right. */
export interface StripMoment extends StagedMoment {
  readonly momentum: number;
}

export interface StripMotion {
  /** Time after the push began that can be shown, and the time at which it ends [s]. */
  readonly duration: number;
  readonly end: number;
  /** How far a spring between the two is squeezed at its most [m]. */
  readonly squeeze: number;
  readonly at: (time: number) => Readonly<Record<Side, StripMoment>>;
}

export interface MomentumStripSpec<S> extends StagedSpec<S, StripBody<S>, StripMotion> {
  /** They meet; a spring pushes them apart; the first runs into a wall, and the second is the wall with the whole Earth. */
  readonly event: (state: S) => "meet" | "apart" | "wall";
  /** Velocities before, plus to the right: known in states without outputs too. */
  readonly before: (state: S) => Readonly<Record<Side, number>>;
}

const GAP = { road: 1.6, bench: 0.22 } as const;
const TALL = { road: 1.5, bench: 0.19 } as const;
const STILL = { road: 0.02, bench: 0.002 } as const;
const WALL = { road: 0.5, bench: 0.06 } as const;
/** Length of the loose spring between two cars [m]. */
const SPRING = 1.1;
const TURNS = 12;
/** Longest approach that is shown, and the time before a spring is let go [s]. */
const LONGEST_APPROACH = 2;
const BEFORE_SPRING = { road: 0.1, bench: 0.15 } as const;

interface Layout extends Head, Pick<Places, "half" | "mass"> {
  readonly height: number;
  readonly ground: number;
  readonly tallest: number;
  /** Where nought of each velocity stands, its lane, and the longest arrow. */
  readonly nought: Readonly<Record<Side, number>>;
  readonly lane: number;
  readonly speedLength: number;
  /** Base line of the first row of momenta, distance of rows, half the strip. */
  readonly row: number;
  readonly pitch: number;
  readonly reach: number;
}

const WIDE: Layout = { width: 1200, height: 620, margin: 28, heading: 40, ground: 226, tallest: 100, nought: { a: 320, b: 880 }, lane: 92, speedLength: 220, row: 276, pitch: 80, reach: 540, half: { a: 34, b: 626 }, mass: { x: 0, y: 558, width: 300 }, narrow: false };
const NARROW: Layout = { width: 358, height: 574, margin: 12, heading: 30, ground: 186, tallest: 62, nought: { a: 90, b: 268 }, lane: 78, speedLength: 66, row: 232, pitch: 80, reach: 158, half: { a: 14, b: 190 }, mass: { x: 0, y: 512, width: 134 }, narrow: true };

/** What rounding leaves of a difference is nought. */
const sumOf = ({ a, b }: Readonly<Record<Side, number>>): number => (Math.abs(a + b) <= 1e-9 * (Math.abs(a) + Math.abs(b)) ? 0 : a + b);

/** A scene for the `scenes` of a lesson. */
export const momentumStripScene = <I, O>(spec: MomentumStripSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const motionOf = madeOnce(spec.motion);
  const scaleOf = (state: S): "road" | "bench" => (spec.bench(state) ? "bench" : "road");
  const valueOf = (state: S, input: string): number => (state.inputs as Record<string, number>)[input] as number;
  const leadOf = (state: S): number => {
    const at = scaleOf(state);
    if (spec.event(state) === "apart") return BEFORE_SPRING[at];
    const { a, b } = spec.before(state);
    return a > b ? Math.min(LONGEST_APPROACH, GAP[at] / (a - b)) : 0;
  };
  const momentAt = (state: S, instant: number): { readonly moment: Readonly<Record<Side, StripMoment>>; readonly time: number } => {
    const time = instant - leadOf(state);
    const motion = motionOf(state);
    if (motion !== null && time >= 0) return { moment: motion.at(Math.min(time, motion.duration)), time };
    const velocity = spec.before(state);
    const crush = motion !== null && spec.event(state) === "apart" && spec.bench(state) ? motion.squeeze : 0;
    const still = (side: Side): StripMoment => ({ ...rolling(velocity[side], time), crush: side === "a" ? crush : 0, momentum: valueOf(state, spec[side].mass.input) * velocity[side] });
    const a = still("a");
    return { moment: { a, b: spec.event(state) === "wall" ? { travel: 0, velocity: 0, crush: 0, momentum: 0 } : still("b") }, time: Math.min(0, time) };
  };

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const layout = width === "wide" ? WIDE : NARROW;
    const at = scaleOf(state);
    const event = spec.event(state);
    const wall = event === "wall";
    const { moment, time } = momentAt(state, instant);
    const motion = motionOf(state);
    const before = spec.before(state);
    const left = layout.margin - 6;
    const right = layout.width - left;
    const small = layout.narrow ? "label label-small" : "label";
    const names = { a: spec.a.name(state), b: wall ? "the wall with the Earth" : spec.b.name(state) };
    const short = layout.narrow && Math.max(widthOf(names.a, 13), widthOf(spec.b.name(state), 13)) > 76;
    const nameOf = (side: Side): string => (wall && side === "b" ? "the Earth" : short ? side.toUpperCase() : names[side]);
    const handles: Handle[] = [];
    const nodes: Node[] = [sheetFrame(layout.width, layout.height)];

    // The event, to scale. The second faces the first only where it does not drive away from it.
    const outline = { a: OUTLINES[spec.a.drawnAs(state)], b: OUTLINES[spec.b.drawnAs(state)] };
    const facing = event === "meet" && before.b <= 0;
    const lengthB = wall ? WALL[at] : outline.b.length;
    const spring = event === "apart" && at === "road" ? SPRING : 0;
    const inner = layout.width - 2 * layout.margin;
    const scale = Math.min(layout.tallest / TALL[at], inner / (outline.a.length + outline.b.length + 2 * GAP[at]));
    const bar = barOf(at, write);
    const lead = leadOf(state);
    // The place of contact starts in the middle; the sheet then follows both.
    const shift = event === "apart" ? 0 : (-(before.a + (wall ? 0 : before.b)) * lead) / 2;
    const touching = motion !== null && spring > 0 ? motion.squeeze : 0;
    const nose = moment.a.travel - shift;
    const near = moment.b.travel - shift + spring - touching;
    const middle = wall ? near : (nose - moment.a.crush + near + (facing ? moment.b.crush : 0)) / 2;
    const centre = layout.width / 2 + ((outline.a.length - lengthB) / 2) * scale;
    const x = (metres: number): number => centre + (metres - middle) * scale;
    const springEnd = Math.min(near, nose + spring);
    const zigzag: Point[] = spring > 0 ? Array.from({ length: TURNS + 1 }, (_, k): Point => [x(nose + ((springEnd - nose) * k) / TURNS), layout.ground - 0.5 * scale + (k === 0 || k === TURNS ? 0 : k % 2 === 0 ? 7 : -7)]) : [];
    const block: Point[] = [[x(near), layout.ground], [x(near), layout.ground - layout.tallest], [x(near + WALL[at]), layout.ground - layout.tallest], [x(near + WALL[at]), layout.ground]];
    nodes.push(
      ticked(left, right, layout.ground, bar, x, middle - centre / scale),
      ...sheetHead(layout, lead === 0 ? "" : clockTold(time, write, event === "apart" ? "release" : "first touch"), bar, scale, write),
      stage(layout.width, layout.lane + 8, layout.ground + 1, [
        ...(wall ? [group("wall", [polygon(block, "wall-face"), hatching(block, 9, "wall-hatch"), line(block[0] as Point, block[1] as Point, "wall-edge")])] : []),
        group("body-a", [polyline(zigzag, "spring")]),
        bodySide({ side: "a", drawnAs: spec.a.drawnAs(state), nose: x(nose), ground: layout.ground, scale, rearwards: -1, crush: moment.a.crush, tagRadius: layout.narrow ? 9 : 13 }),
        ...(wall ? [] : [bodySide({ side: "b", drawnAs: spec.b.drawnAs(state), nose: x(facing ? near : near + outline.b.length), ground: layout.ground, scale, rearwards: facing ? 1 : -1, crush: facing ? moment.b.crush : 0, tagRadius: layout.narrow ? 9 : 13 })]),
      ]),
    );

    nodes.push(startKey(layout.narrow ? [layout.margin + 2, layout.lane + 26] : keyPlace(layout), time, write, event === "apart" ? "release" : "touch"));

    // Velocities, each about its own nought.
    const to = Math.max(spec.a.velocity.to(state), spec.b.velocity.to(state));
    const perSpeed = layout.speedLength / to;
    for (const side of SIDES) {
      if (wall && side === "b") continue;
      const zero = layout.nought[side];
      const tip = (v: number): Point => [zero + v * perSpeed, layout.lane];
      const { velocity } = moment[side];
      const way = Math.abs(velocity) < STILL[at] ? "" : velocity > 0 ? ", right" : ", left";
      nodes.push(
        group(`motion body-${side}`, [
          line([zero - layout.speedLength, layout.lane], [zero + layout.speedLength, layout.lane], "guide"),
          arrow([zero, layout.lane], tip(before[side]), "start-speed", { width: 5, head: 14 }),
          arrow([zero, layout.lane], tip(velocity), "speed", { width: 5, head: 14 }),
          line([zero, layout.lane - 7], [zero, layout.lane + 7], "arrow-foot"),
          text([zero, layout.lane - 16], `${capital(nameOf(side))} ${write("speed", Math.abs(velocity))}${layout.narrow ? "" : way}`, `${small} label-strong`, "middle"),
        ]),
      );
      if (event === "apart" && side === "b") continue;
      const beyond = side === "a" ? BEYOND : -BEYOND;
      const { input } = spec[side].velocity;
      // on one side of the tip whichever way the arrow points, so that a drag through nought does not jump
      nodes.push(grip([zero + valueOf(state, input) * perSpeed + beyond, layout.lane], input, `body-${side}`));
      handles.push({ input, origin: [round(zero + beyond), layout.lane], perUnit: [perSpeed, 0] });
    }

    // The strip: rows of momenta head to tail. The scale changes in round steps only, so that it mostly holds still while something is dragged.
    const massOf = (side: Side): number => valueOf(state, spec[side].mass.input);
    const first = { a: massOf("a") * before.a, b: wall ? 0 : massOf("b") * before.b };
    const after = motion === null ? null : motion.at(motion.duration);
    // One scale for the whole event, or the pointer would move with it: in one push each momentum goes one way, so it is largest at an end.
    const widest = Math.max(...[first, ...(after ? [{ a: after.a.momentum, b: after.b.momentum }] : [])].flatMap(({ a, b }) => [Math.abs(a), Math.abs(a + b)]), 1e-12);
    const half = roundUp("impulse", widest, write);
    const zero = layout.width / 2;
    const perMomentum = layout.reach / half;
    const rows = [
      { words: "before", momenta: first, shown: true },
      { words: "now", momenta: { a: moment.a.momentum, b: moment.b.momentum }, shown: time > 0 },
      { words: "after", momenta: after ? { a: after.a.momentum, b: after.b.momentum } : first, shown: motion !== null && time >= motion.end },
    ];
    const bottom = layout.row + 3 * layout.pitch - 18;
    nodes.push(
      line([left, layout.row - 26], [right, layout.row - 26], "rule"),
      group("axis-marks", [
        ...[-1, -0.5, 0.5, 1].map((part) => line([zero + part * layout.reach, layout.row - 18], [zero + part * layout.reach, bottom], "guide")),
        line([zero, layout.row - 18], [zero, bottom], "contact-plane"),
        text([zero, bottom + 16], "0", "label label-soft label-small", "middle"),
        text([zero + layout.reach, bottom + 16], write("impulse", half, { digits: half < 1 ? 2 : half < 1e3 && at === "road" ? 1 : 0 }), "label label-soft label-small", "end"),
        text([zero - layout.reach, bottom + 16], "to the left", "label label-soft label-small"),
        ...(layout.narrow ? [] : [text([zero + layout.reach / 2, bottom + 16], "to the right", "label label-soft label-small", "middle")]),
      ]),
    );
    rows.forEach(({ words, momenta, shown }, i) => {
      const y = layout.row + i * layout.pitch;
      const total = sumOf(momenta);
      const [ya, yb] = [y + 18, y + 40];
      const tipA = zero + momenta.a * perMomentum;
      const tipB = tipA + momenta.b * perMomentum;
      const each = layout.narrow ? "" : `${capital(nameOf("a"))} ${write("impulse", momenta.a)}, ${nameOf("b")} ${write("impulse", momenta.b)}; `;
      const bar = (side: Side, from: number, end: number, height: number): Node[] => [
        arrow([from, height], [end, height], wall && side === "b" ? "axis" : "speed", { width: 9, head: 16 }),
        ...(Math.abs(end - from) > 34 ? (wall && side === "b" ? [] : [tag(side, [(from + end) / 2 - Math.sign(end - from) * 5, height], 10)]) : []),
      ];
      nodes.push(
        group(`momenta ${words}`, [
          text([left + 10, y], words, `${small} label-strong`),
          ...(shown
            ? [
                text([right - 10, y], `${each}together ${write("impulse", total)}`, small, "end"),
                group("body-a", bar("a", zero, tipA, ya)),
                line([tipA, ya - 8], [tipA, yb + 8], "extension"),
                group("body-b", bar("b", tipA, tipB, yb)),
                line([tipB, y + 6], [tipB, yb + 10], "reading-end"),
                polygon([[tipB, yb + 8], [tipB - 6, yb + 17], [tipB + 6, yb + 17]], "axis"),
              ]
            : [text([right - 10, y], "not yet", `${small} label-soft`, "end")]),
        ]),
      );
    });

    nodes.push(line([left, layout.mass.y - 34], [right, layout.mass.y - 34], "rule"));
    const below = ballasts(state, wall ? { a: spec.a } : spec, layout, write);
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
      const event = spec.event(state);
      const moving = (side: Side): string => {
        const { velocity } = moment[side];
        return Math.abs(velocity) < STILL[at] ? `${spec[side].name(state)} stands still` : `${spec[side].name(state)} moves ${velocity > 0 ? "right" : "left"} at ${write("speed", Math.abs(velocity))}`;
      };
      const momenta = `Momenta, plus to the right: ${spec.a.name(state)} ${write("impulse", moment.a.momentum)}, ${event === "wall" ? "the Earth" : spec.b.name(state)} ${write("impulse", moment.b.momentum)}, together ${write("impulse", sumOf({ a: moment.a.momentum, b: moment.b.momentum }))}.`;
      return `${clockTold(time, write, event === "apart" ? "the spring is let go" : "first touch")}: ${event === "wall" ? moving("a") : `${moving("a")} and ${moving("b")}`}. ${momenta}`;
    },
  };
};
