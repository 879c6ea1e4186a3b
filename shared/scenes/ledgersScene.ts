/**
 * Two bodies meet, and under the event two running ledgers: momentum, signed, a row for each body and one for both; and energy, one
 * bar of a fixed length in which motion turns into what the fronts hold and what they have spent. Outlines keep the entries of before.
 */
import type { Drawing, Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { sheetFrame } from "./bodySide.ts";
import { group, hatching, line, type Point, rectangle, text } from "./marks.ts";
import { OUTLINES } from "./outlines.ts";
import { roundUp } from "./round.ts";
import { isAt, keyPlace, startKey, ballasts, barOf, clockTold, madeOnce, meeting, readInput, rolling, type Side, speedLanes, type StagedBody, type StagedMoment, type StagedSpec } from "./staged.ts";

export interface LedgersMoment extends Readonly<Record<Side, StagedMoment>> {
  /** Plus to the right, for both bodies and for their total [N s]. */
  readonly momentum: Readonly<Record<Side, number>>;
  /** Of motion, of each; held in the fronts and to come back; spent in them [J]. */
  readonly energy: Readonly<Record<Side | "held" | "spent", number>>;
}

export interface LedgersMotion {
  /** Time after first touch that can be shown [s]. */
  readonly duration: number;
  readonly at: (time: number) => LedgersMoment;
}

export type LedgersSpec<S> = StagedSpec<S, StagedBody<S>, LedgersMotion>;

const GAP = { road: 1.4, bench: 0.2 } as const;
const LONGEST = 3;
const TALL = { road: 1.5, bench: 0.17 } as const;
/** Figures of a sum before rounding shows in it, so that a total on the edge of two roundings does not flicker. */
const FIGURES = 12;

const WIDE = { width: 1200, height: 588, margin: 28, heading: 40, lane: 86, speedLength: 250, ground: 226, tallest: 108, rules: [248, 472], momentum: { x: 34, y: 278, width: 540 }, energy: { x: 626, y: 278, width: 540 }, row: 34, bar: 20, label: 78, value: 116, half: { a: 34, b: 626 }, mass: { x: 0, y: 514, width: 239 }, narrow: false };
const NARROW = { width: 358, height: 676, margin: 12, heading: 30, lane: 78, speedLength: 116, ground: 190, tallest: 66, rules: [208, 348, 560], momentum: { x: 14, y: 232, width: 330 }, energy: { x: 14, y: 372, width: 330 }, row: 32, bar: 18, label: 38, value: 92, half: { a: 14, b: 196 }, mass: { x: 0, y: 600, width: 119 }, narrow: true };

/** A scene for the `scenes` of a lesson. */
export const ledgersScene = <I, O>(spec: LedgersSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const motionOf = madeOnce(spec.motion);
  const atOf = (state: S) => (spec.bench(state) ? ("bench" as const) : ("road" as const));
  const speedsOf = (state: S) => ({ a: readInput(state, spec.a.speed), b: readInput(state, spec.b.speed) });
  const leadOf = (state: S): number => {
    const { a, b } = speedsOf(state);
    return a.value + b.value > 0 ? Math.min(LONGEST, GAP[atOf(state)] / (a.value + b.value)) : 0;
  };
  const momentAt = (state: S, time: number): LedgersMoment => {
    const motion = motionOf(state);
    if (motion !== null && time >= 0) return motion.at(Math.min(time, motion.duration));
    const { a, b } = speedsOf(state);
    const [massA, massB] = [readInput(state, spec.a.mass).value, readInput(state, spec.b.mass).value];
    return { a: rolling(a.value, time), b: rolling(b.value, time), momentum: { a: massA * a.value, b: -massB * b.value }, energy: { a: (massA * a.value ** 2) / 2, b: (massB * b.value ** 2) / 2, held: 0, spent: 0 } };
  };

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const layout = width === "wide" ? WIDE : NARROW;
    const { narrow } = layout;
    const at = atOf(state);
    const lead = leadOf(state);
    const motion = motionOf(state);
    const time = Math.min(instant - lead, motion?.duration ?? 0);
    const moment = momentAt(state, time);
    const start = momentAt(state, -lead);
    const end = motion === null ? start : motion.at(motion.duration);
    const small = narrow ? "label label-small" : "label";
    const left = layout.margin - 6;
    const right = layout.width - left;
    const outline = { a: OUTLINES[spec.a.drawnAs(state)], b: OUTLINES[spec.b.drawnAs(state)] };
    const names = { a: spec.a.name(state), b: spec.b.name(state) };
    const nodes: Node[] = [sheetFrame(layout.width, layout.height)];

    // The event, to scale.
    const scale = Math.min(layout.tallest / TALL[at], (layout.width - 2 * layout.margin) / (narrow ? 2 * Math.max(outline.a.tag[0], outline.b.tag[0]) + 0.5 + GAP[at] : outline.a.length + outline.b.length + 2.1 * GAP[at]));
    nodes.push(...meeting(state, { bodies: spec, moment, told: lead === 0 ? "" : clockTold(time, write), bar: barOf(at, write), scale, top: layout.lane + 12, ground: layout.ground }, layout, write));
    const lanes = speedLanes({ left: layout.margin + 4, right: layout.width - layout.margin - 4, y: layout.lane, length: layout.speedLength, narrow }, names, speedsOf(state), { a: moment.a.velocity, b: moment.b.velocity }, write);
    nodes.push(...lanes.nodes, startKey(keyPlace(layout), time, write), ...layout.rules.map((y) => line([left, y], [right, y], "rule")));

    // Momentum: a row for each body and one for both, on one axis with its nought in the middle.
    const { momentum: first, energy: second, row, bar } = layout;
    const total = ({ momentum }: LedgersMoment): number => momentum.a + momentum.b;
    const largest = Math.max(...[start, end].flatMap((m) => [m.momentum.a, m.momentum.b, total(m)].map(Math.abs)));
    const room = first.width - layout.label - layout.value;
    const nought = first.x + layout.label + room / 2;
    const per = largest > 0 ? room / 2 / roundUp("impulse", largest, write) : 0;
    const signedBar = (value: number, y: number, className: string, inset = 0): Node => rectangle(value < 0 ? nought + value * per : nought, y + inset, Math.abs(value) * per, bar - 2 * inset, className);
    const rows = [
      { key: "a" as const, label: narrow ? "A" : "of A", value: moment.momentum.a, was: start.momentum.a },
      { key: "b" as const, label: narrow ? "B" : "of B", value: moment.momentum.b, was: start.momentum.b },
      { key: "both" as const, label: "both", value: total(moment), was: total(start) },
    ];
    nodes.push(
      text([first.x, first.y], narrow ? "Momentum (plus: right)" : "Momentum; plus is to the right", `${small} label-strong`),
      ...(time <= 0 || isAt(time) ? [] : [text([first.x + first.width, first.y], `outline: at ${narrow ? "" : "first "}touch`, `${small} label-soft`, "end")]),
      ...rows.map(({ key, label, value, was }, i) => {
        const y = first.y + 14 + i * row;
        return group(`ledger-row body-${key}`, [
          signedBar(was, y, "start-speed"),
          signedBar(value, y, key === "both" ? "scale-block" : "slab", key === "both" ? 4 : 0),
          text([first.x, y + bar - 4], label, small),
          text([first.x + first.width, y + bar - 4], write("impulse", value), `${small} label-strong`, "end"),
        ]);
      }),
      line([nought, first.y + 8], [nought, first.y + 14 + 3 * row], "reading-end"),
    );

    // Energy: one bar of a fixed length, cut up anew at each instant. Entries that are out by rounding do not run over its end.
    const all = start.energy.a + start.energy.b;
    const parts = [
      { key: "a", words: narrow ? "motion of A" : `motion of ${names.a}`, value: moment.energy.a },
      { key: "b", words: narrow ? "motion of B" : `motion of ${names.b}`, value: moment.energy.b },
      { key: "held", words: "held in the fronts", value: moment.energy.held },
      { key: "spent", words: "spent in the fronts", value: moment.energy.spent },
    ] as const;
    const barWidth = second.width - (narrow ? 0 : 10);
    const perJoule = all > 0 ? barWidth / all : 0;
    const y = second.y + 14;
    let from = second.x;
    const pieces = parts.map(({ key, value }): Node => {
      const long = Math.max(0, value) * perJoule;
      const [x1, x2] = [from, from + long];
      from = x2;
      const corners: Point[] = [[x1, y], [x2, y], [x2, y + bar + 6], [x1, y + bar + 6]];
      return group(`ledger-part body-${key === "a" || key === "b" ? key : "both"}`, key === "held" ? [rectangle(x1, y, long, bar + 6, "wall-face"), hatching(long > 1 ? corners : [], 7, "wall-hatch")] : [rectangle(x1, y, long, bar + 6, key === "spent" ? "scale-block" : "slab")]);
    });
    const key = (i: number): Point => [second.x, y + bar + 16 + i * (narrow ? 25 : 27)];
    nodes.push(
      text([second.x, second.y], "Energy, wherever it is", `${small} label-strong`),
      ...pieces,
      rectangle(second.x, y, barWidth, bar + 6, "start-speed body-both"),
      line([second.x + start.energy.a * perJoule, y - 5], [second.x + start.energy.a * perJoule, y], "reading-end"),
      line([second.x + start.energy.a * perJoule, y + bar + 6], [second.x + start.energy.a * perJoule, y + bar + 11], "reading-end"),
      ...parts.map(({ key: part, words, value }, i) => {
        const [kx, ky] = key(i);
        const swatch: Point[] = [[kx, ky + 2], [kx + 22, ky + 2], [kx + 22, ky + 16], [kx, ky + 16]];
        return group(`ledger-key body-${part === "a" || part === "b" ? part : "both"}`, [
          ...(part === "held" ? [rectangle(kx, ky + 2, 22, 14, "wall-face"), hatching(swatch, 7, "wall-hatch")] : [rectangle(kx, ky + 2, 22, 14, part === "spent" ? "scale-block" : "slab")]),
          text([kx + 32, ky + 14], words, small),
          text([second.x + second.width - (narrow ? 0 : 10), ky + 14], write("energy", value), `${small} label-strong`, "end"),
        ]);
      }),
    );
    const [kx, ky] = key(parts.length);
    nodes.push(text([kx + 32, ky + 14], "all together", small), text([second.x + second.width - (narrow ? 0 : 10), ky + 14], write("energy", Number(parts.reduce((sum, { value }) => sum + value, 0).toPrecision(FIGURES))), `${small} label-strong`, "end"));

    const below = ballasts(state, spec, layout, write);
    return { width: layout.width, height: layout.height, nodes: [...nodes, ...below.nodes], handles: [...lanes.handles, ...below.handles] };
  };

  return {
    title: spec.title,
    duration: (state) => leadOf(state) + (motionOf(state)?.duration ?? 0),
    touch: leadOf,
    draw,
    describe: (state, instant, write) => {
      const time = Math.min(instant - leadOf(state), motionOf(state)?.duration ?? 0);
      const { momentum, energy } = momentAt(state, time);
      return `${clockTold(time, write)}. Momentum, plus to the right: of ${spec.a.name(state)} ${write("impulse", momentum.a)}, of ${spec.b.name(state)} ${write("impulse", momentum.b)}. Energy: in motion ${write("energy", energy.a + energy.b)}, held in the fronts ${write("energy", energy.held)}, spent in them ${write("energy", energy.spent)}.`;
    },
  };
};
