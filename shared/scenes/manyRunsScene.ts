/**
 * One crash, run many times over within the give or take of its numbers: how deep each front is pressed in, a thin line a run, on
 * the front itself and to scale. Under it each give or take as a bar to drag, and beside it what that bar alone does to the result.
 */
import { type Drawing, type Handle, node, type Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { bodySide, sheetFrame } from "./bodySide.ts";
import { dimension, grip, group, line, rectangle, round, text } from "./marks.ts";
import { OUTLINES } from "./outlines.ts";
import { roundNear } from "./round.ts";
import type { DrawnAs } from "./spec.ts";
import { capital, clockTold, FORWARD, madeOnce, sheetHead, type Side, SIDES } from "./staged.ts";

type Pair<T> = Readonly<Record<Side, T>>;

export interface ManyRuns {
  /** When both move as one, in the run with every input at its value [s]. */
  readonly over: number;
  /** Crush of each front, in that run and in all of them [m]. */
  readonly at: (time: number) => { readonly one: Pair<number>; readonly all: Pair<readonly number[]> };
}

export interface GiveBar<S> {
  readonly label: string;
  readonly input: string;
  /** Longest bar that the sheet has room for. */
  readonly to: (state: S) => number;
  readonly words: (state: S, write: Write) => string;
  /** What it alone does to the result, as a share of the longest effect; nought where nothing. */
  readonly effect: (state: S) => number;
  readonly effectWords: (state: S, write: Write) => string;
}

export interface ManyRunsSpec<S> {
  readonly title: string;
  readonly a: { readonly name: (state: S) => string; readonly drawnAs: (state: S) => DrawnAs };
  readonly b: { readonly name: (state: S) => string; readonly drawnAs: (state: S) => DrawnAs };
  readonly runs: (state: S) => ManyRuns;
  /** Crush at which the cabin of each is reached [m]. */
  readonly noseLength: (state: S) => Pair<number>;
  /** What is found there, such as a cabin. */
  readonly behind: (state: S) => string;
  readonly bars: readonly GiveBar<S>[];
  /** What the effects are effects on. */
  readonly effectOn: (state: S) => string;
}

const WIDE = { width: 1200, heading: 40, margin: 28, ground: 330, tall: 262, front: 2.6, bars: { top: 432, row: 34, label: 34, give: 330, giveLength: 250, effect: 760, effectLength: 270 }, narrow: false };
const NARROW = { width: 358, heading: 30, margin: 12, ground: 190, tall: 122, front: 1.55, bars: { top: 290, row: 52, label: 14, give: 14, giveLength: 120, effect: 190, effectLength: 90 }, narrow: true };
/** Share of the drawn body that is shown, from its foremost point. */
const SHOWN: Readonly<Record<DrawnAs, number>> = { hatch: 0.56, estate: 0.5, trolley: 0.9 };
const GAP = 0.05;
/** A clock that counts whole milliseconds may stop this much short of the end, as a share. */
const LAST = 0.99;
const FOOT = 26;

/** A scene for the `scenes` of a lesson. */
export const manyRunsScene = <I, O>(spec: ManyRunsSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const runsOf = madeOnce(spec.runs);

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const layout = width === "wide" ? WIDE : NARROW;
    const { narrow, bars, ground, margin } = layout;
    const small = narrow ? "label label-small" : "label";
    const height = bars.top + spec.bars.length * bars.row + FOOT;
    const runs = runsOf(state);
    const nodes: Node[] = [sheetFrame(layout.width, height)];
    const handles: Handle[] = [];
    const drawnAs = { a: spec.a.drawnAs(state), b: spec.b.drawnAs(state) };
    const shown = { a: SHOWN[drawnAs.a] * OUTLINES[drawnAs.a].length, b: SHOWN[drawnAs.b] * OUTLINES[drawnAs.b].length };
    const across = layout.width - 2 * margin;
    const scale = Math.min((across * (1 - GAP)) / (shown.a + shown.b), layout.tall / Math.max(OUTLINES[drawnAs.a].height, OUTLINES[drawnAs.b].height));
    const middle = layout.width / 2 + ((shown.a - shown.b) * scale) / 2;
    const nose = { a: middle - (GAP * across) / 2, b: middle + (GAP * across) / 2 };
    const bonnet = 0.72 * Math.max(OUTLINES[drawnAs.a].height, OUTLINES[drawnAs.b].height) * scale;
    const moment = runs?.at(instant);
    const done = runs !== null && instant >= LAST * runs.over;
    const lengths = spec.noseLength(state);
    const outer = { x: margin - 5, y: layout.heading + 8, width: across + 10, height: ground - layout.heading + 4 };
    nodes.push(
      line([margin - 6, ground], [layout.width - margin + 6, ground], "ground-line"),
      node("svg", { ...outer, viewBox: `${outer.x} ${outer.y} ${outer.width} ${outer.height}`, class: "stage" }, SIDES.map((side) => bodySide({ side, drawnAs: drawnAs[side], nose: nose[side], ground, scale, rearwards: side === "a" ? -1 : 1, tagRadius: narrow ? 9 : 13 }))),
    );
    nodes.push(...sheetHead(layout, runs === null ? "" : clockTold(instant, write), roundNear("distance", 80 / scale, write), scale, write));
    // the words of the two stay apart, however near their lines are
    const apart = narrow ? 62 : 80;
    for (const side of SIDES) {
      const x = (depth: number): number => nose[side] - FORWARD[side] * depth * scale;
      const behind = x(lengths[side]);
      nodes.push(
        line([behind, ground - bonnet - 8], [behind, ground + 6], "firewall-line"),
        ...(narrow ? [] : [text([behind - FORWARD[side] * 6, ground - bonnet - 14], spec.behind(state), "label label-soft", side === "a" ? "end" : "start")]),
      );
      if (moment === undefined) continue;
      const lines = moment.all[side].map((depth) => `M${round(x(depth))},${round(ground - 0.06 * bonnet)}V${round(ground - bonnet)}`).join("");
      nodes.push(group(`body-${side}`, [node("path", { d: lines, class: "start-speed" })]), line([x(moment.one[side]), ground - bonnet - 3], [x(moment.one[side]), ground + 4], "intrusion"));
      if (done) {
        const sorted = [...moment.all[side]].sort((p, q) => p - q);
        const [least, most] = [sorted[0] ?? 0, sorted.at(-1) ?? 0];
        const [left, right] = [x(most), x(least)].sort((p, q) => p - q) as [number, number];
        nodes.push(dimension(left, right, ground + 22, ground + 4, `body-${side}`), text([side === "a" ? Math.min((left + right) / 2, layout.width / 2 - apart) : Math.max((left + right) / 2, layout.width / 2 + apart), ground + (narrow ? 44 : 46)], `${write("distance", least, { digits: 2 })} to ${write("distance", most, { digits: 2 })}`, small, "middle"));
      }
    }

    const progress = runs === null || runs.over === 0 ? 0 : Math.min(1, instant / runs.over);
    nodes.push(
      line([margin - 6, bars.top - (narrow ? 44 : 40)], [layout.width - margin + 6, bars.top - (narrow ? 44 : 40)], "rule"),
      text([bars.give, bars.top - (narrow ? 26 : 18)], "give or take", "label label-soft"),
      text([bars.effect, bars.top - (narrow ? 26 : 18)], narrow ? "what it does" : `what it alone does to ${spec.effectOn(state)}`, "label label-soft column-head"),
    );
    spec.bars.forEach((each, i) => {
      const y = bars.top + i * bars.row;
      const value = (state.inputs as Record<string, number>)[each.input] as number;
      const per = bars.giveLength / each.to(state);
      const end = bars.give + value * per;
      const at = narrow ? y + 22 : y + 8;
      const effect = each.effect(state) * progress * bars.effectLength;
      nodes.push(
        text(narrow ? [bars.label, y + 8] : [bars.label, y + 13], narrow ? `${each.label}: ${each.words(state, write)}` : each.label, narrow ? small : `${small} row-label`),
        group("page-only", [rectangle(bars.give, at - 5, bars.giveLength, 10, "slab-room"), rectangle(bars.give, at - 5, value * per, 10, "scale-block")]),
        ...(narrow ? [] : [text([bars.give + bars.giveLength + 26, at + 5], each.words(state, write), "label label-soft")]),
        line([bars.effect, at - 9], [bars.effect, at + 9], "reading-end"),
        rectangle(bars.effect, at - 5, effect, 10, "force"),
        ...(done ? [text([bars.effect + effect + 8, at + 5], each.effectWords(state, write), "label label-soft label-small")] : []),
        grip([end, at], each.input, ""),
      );
      handles.push({ input: each.input, origin: [bars.give, at], perUnit: [per, 0] });
    });
    return { width: layout.width, height, nodes, handles };
  };

  return {
    title: spec.title,
    duration: (state) => runsOf(state)?.over ?? 0,
    draw,
    describe: (state, instant, write) => {
      const moment = runsOf(state)?.at(instant);
      if (moment === undefined) return state.outcome ?? "";
      const told = (side: Side): string => {
        const sorted = [...moment.all[side]].sort((p, q) => p - q);
        return `the front of ${spec[side].name(state)} is pressed in by ${write("distance", sorted[0] ?? 0, { digits: 2 })} to ${write("distance", sorted.at(-1) ?? 0, { digits: 2 })}`;
      };
      return capital(`${clockTold(instant, write)}, over all runs: ${told("a")}, ${told("b")}.`);
    },
  };
};
