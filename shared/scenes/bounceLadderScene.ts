/**
 * Two bodies meet and part, and under them the ladder of the gap between their fronts: rungs at equal steps of time, to the scale of
 * the picture. The share of the first rung that the last one has is the springiness, and its end is dragged. Below, the momentum that
 * has passed: one block to end the closing, a second to send the two apart.
 */
import type { Drawing, Handle, Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { sheetFrame } from "./bodySide.ts";
import { grip, group, line, type Point, polyline, rectangle, round, text } from "./marks.ts";
import { OUTLINES } from "./outlines.ts";
import { benchDigits, keyPlace, startKey, ballasts, barOf, capital, clockTold, madeOnce, meeting, readInput, rolling, type Side, speedLanes, type StagedBody, type StagedMoment, type StagedSpec } from "./staged.ts";

export interface BounceMotion {
  /** When the push ends [s]. */
  readonly over: number;
  /** Momentum that passes until both move as one [N s]. */
  readonly least: number;
  readonly at: (time: number) => Readonly<Record<Side, StagedMoment>> & { readonly passed: number };
}

export interface BounceLadderSpec<S> extends StagedSpec<S, StagedBody<S>, BounceMotion> {
  /** Input that is parting speed over closing speed. */
  readonly springiness: string;
}

/** How far apart the fronts stand at instant 0 [m], and the longest approach that is shown [s]. */
const GAP = { road: 3.2, bench: 0.3 } as const;
const LONGEST = 6;
const TALL = { road: 1.5, bench: 0.17 } as const;
const RUNGS = 4;
/** A clock that counts whole milliseconds may stop this much short of the end, as a share. */
const LAST = 0.99;

const WIDE = { width: 1200, height: 606, margin: 28, heading: 40, lane: 86, speedLength: 250, ground: 226, tallest: 108, rules: [248, 470], ladder: { top: 278, bottom: 444 }, half: { a: 34, b: 936 }, mass: { x: 0, y: 518, width: 219 }, passed: { x: 330, y: 518, width: 540 }, narrow: false };
const NARROW = { width: 358, height: 622, margin: 12, heading: 30, lane: 78, speedLength: 100, ground: 190, tallest: 66, rules: [208, 412, 504], ladder: { top: 236, bottom: 386 }, half: { a: 14, b: 196 }, mass: { x: 0, y: 540, width: 119 }, passed: { x: 14, y: 452, width: 330 }, narrow: true };

/** A scene for the `scenes` of a lesson. */
export const bounceLadderScene = <I, O>(spec: BounceLadderSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const motionOf = madeOnce(spec.motion);
  const atOf = (state: S) => (spec.bench(state) ? ("bench" as const) : ("road" as const));
  const speedsOf = (state: S) => ({ a: readInput(state, spec.a.speed), b: readInput(state, spec.b.speed) });
  const closingOf = (state: S): number => speedsOf(state).a.value + speedsOf(state).b.value;
  /** As long before first touch as after parting. */
  const leadOf = (state: S): number => (closingOf(state) > 0 ? Math.min(LONGEST, GAP[atOf(state)] / closingOf(state)) : 0);
  const momentAt = (state: S, time: number): ReturnType<BounceMotion["at"]> => {
    const motion = motionOf(state);
    if (motion !== null && time >= 0) return motion.at(time);
    const { a, b } = speedsOf(state);
    return { a: rolling(a.value, time), b: rolling(b.value, time), passed: 0 };
  };
  const gapOf = ({ a, b }: Readonly<Record<Side, StagedMoment>>): number => Math.max(0, a.crush + b.crush - a.travel - b.travel);

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const layout = width === "wide" ? WIDE : NARROW;
    const at = atOf(state);
    const lead = leadOf(state);
    const time = instant - lead;
    const motion = motionOf(state);
    const moment = momentAt(state, time);
    const { narrow } = layout;
    const small = narrow ? "label label-small" : "label";
    const left = layout.margin - 6;
    const right = layout.width - left;
    const centre = layout.width / 2;
    const outline = { a: OUTLINES[spec.a.drawnAs(state)], b: OUTLINES[spec.b.drawnAs(state)] };
    const longest = Math.max(outline.a.length, outline.b.length);
    const scale = Math.min(layout.tallest / TALL[at], narrow ? (0.46 * layout.width) / GAP[at] : (layout.width - 2 * layout.margin) / (2 * longest + 1.2 * GAP[at]));
    const nodes: Node[] = [sheetFrame(layout.width, layout.height)];
    const handles: Handle[] = [];

    const names = { a: spec.a.name(state), b: spec.b.name(state) };
    nodes.push(...meeting(state, { bodies: spec, moment, told: lead === 0 ? "" : clockTold(time, write), bar: barOf(at, write), scale, top: layout.lane + 12, ground: layout.ground }, layout, write));
    const lanes = speedLanes({ left: layout.margin + 4, right: layout.width - layout.margin - 4, y: layout.lane, length: layout.speedLength, narrow }, names, speedsOf(state), { a: moment.a.velocity, b: moment.b.velocity }, write);
    nodes.push(...lanes.nodes, startKey(keyPlace(layout), time, write), ...layout.rules.map((y) => line([left, y], [right, y], "rule")));
    handles.push(...lanes.handles);

    // The ladder: time runs down, the rails are the two fronts.
    const { top, bottom } = layout.ladder;
    const over = motion?.over ?? 0;
    const span = 2 * lead + over;
    const row = (t: number): number => (span > 0 ? top + ((t + lead) / span) * (bottom - top) : top);
    const half = (t: number): number => (gapOf(momentAt(state, t)) / 2) * scale;
    const reach = (closingOf(state) * lead * scale) / 2;
    const turns = [-lead, 0, over, lead + over].filter((t) => t < time);
    const rail = (sign: 1 | -1): Point[] => [...turns, time].map((t): Point => [centre + sign * half(t), row(t)]);
    const steps = Array.from({ length: RUNGS }, (_, i) => (i + 1) / RUNGS);
    const rungs = [...steps.map((share) => -share * lead), ...steps.map((share) => over + share * lead)].filter((t) => t <= time + 1e-9);
    const aside = centre + (GAP[at] * scale) / 2 + (narrow ? 8 : 18);
    const other = 2 * centre - aside;
    const springiness = (state.inputs as Record<string, number>)[spec.springiness] as number;
    const ended = motion !== null && time >= LAST * (lead + over);
    nodes.push(
      group("ladder", [
        line([centre, top - 8], [centre, bottom + 8], "contact-plane"),
        ...[0, over].map((t) => line([centre - reach, row(t)], [centre + reach, row(t)], "guide")),
        rectangle(centre - reach, row(lead + over) - 5, 2 * reach, 10, "slab-room"),
        ...rungs.map((t) => line([centre - half(t), row(t)], [centre + half(t), row(t)], "ground-tick")),
        group("body-a", [polyline(rail(-1), "curve")]),
        group("body-b", [polyline(rail(1), "curve")]),
        line([centre - half(time), row(time)], [centre + half(time), row(time)], "ground-line"),
        // no gap, no rungs, no words
        ...(lead === 0 ? [] : [
        text([other, row(-lead) + 5], narrow ? "gap before" : `gap, ${write("duration", lead, { digits: 0 })} before touch`, small, "end"),
        text([aside, row(-lead) + 5], write("distance", closingOf(state) * lead, at === "bench" ? benchDigits(write) : { digits: 2 }), `${small} label-strong`),
        text([other, row(over / 2) + 5], "touch", `${small} label-soft`, "end"),
        text([other, row(lead + over) + 5], narrow ? "gap after" : "gap, as long after parting", small, "end"),
        text([aside + (narrow ? 4 : 14), row(lead + over) + 5], ended ? `${write("distance", springiness * closingOf(state) * lead, at === "bench" ? benchDigits(write) : { digits: 2 })}${narrow ? "" : `, ${write("ratio", springiness, { digits: 2 })} of it`}` : "", `${small} label-strong`),
        ]),
      ]),
    );
    if (reach > 0) {
      nodes.push(grip([centre + springiness * reach, row(lead + over)], spec.springiness, "body-both"));
      handles.push({ input: spec.springiness, origin: [centre, round(row(lead + over))], perUnit: [reach, 0] });
    }

    // Momentum passed: twice what a thud needs is the most there can be.
    const { passed: bar } = layout;
    const most = 2 * (motion?.least ?? 0);
    const share = most > 0 ? Math.min(1, moment.passed / most) : 0;
    nodes.push(
      group("passed body-both", [
        text([bar.x, bar.y - 9], `momentum passed so far: ${write("impulse", moment.passed)}`, `${small} label-strong`),
        rectangle(bar.x, bar.y, bar.width, 24, "slab-room"),
        rectangle(bar.x, bar.y, Math.min(share, 0.5) * bar.width, 24, "slab"),
        rectangle(bar.x + bar.width / 2, bar.y, Math.max(0, share - 0.5) * bar.width, 24, "slab"),
        line([bar.x + bar.width / 2, bar.y - 4], [bar.x + bar.width / 2, bar.y + 28], "reading-end"),
        text([bar.x, bar.y + 42], "ends the closing", "label label-soft"),
        text([bar.x + bar.width / 2 + 4, bar.y + 42], "sends them apart", "label label-soft"),
      ]),
    );
    const below = ballasts(state, spec, layout, write);
    return { width: layout.width, height: layout.height, nodes: [...nodes, ...below.nodes], handles: [...handles, ...below.handles] };
  };

  return {
    title: spec.title,
    duration: (state) => (motionOf(state) === null ? 0 : 2 * leadOf(state) + (motionOf(state)?.over ?? 0)),
    touch: leadOf,
    draw,
    describe: (state, instant, write) => {
      const time = instant - leadOf(state);
      const moment = momentAt(state, time);
      const moving = (side: Side): string => {
        const told = write("speed", Math.abs(moment[side].velocity));
        return /[1-9]/.test(told) ? `${spec[side].name(state)} moves ${moment[side].velocity > 0 === (side === "a") ? "right" : "left"} at ${told}` : `${spec[side].name(state)} stands still`;
      };
      return `${clockTold(time, write)}: ${moving("a")} and ${moving("b")}. Gap between the fronts ${write("distance", gapOf(moment))}, momentum passed so far ${write("impulse", moment.passed)}.`.replace(/^\w/, capital);
    },
  };
};
