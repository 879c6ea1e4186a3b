/**
 * One crash, run many times over within the give or take of its numbers: how deep each front is pressed in, a thin line a run, on
 * the front itself and to scale. Under it each give or take as a bar to drag, and beside it what that bar alone does to the result.
 */
import { type Drawing, type Handle, node, type Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { bodySide, sheetFrame } from "./bodySide.ts";
import { dimension, grip, group, line, rectangle, round, text } from "./marks.ts";
import { OUTLINES } from "./outlines.ts";
import type { DrawnAs } from "./spec.ts";
import { barFor, benchDigits, capital, clockTold, FORWARD, madeOnce, sheetHead, type Side, SIDES } from "./staged.ts";

type Pair<T> = Readonly<Record<Side, T>>;

export interface ManyRuns {
  /** When both move as one, in the run with every input at its value [s]. */
  readonly over: number;
  /** Crush of each front, in that run and in all of them [m]. */
  readonly at: (time: number) => { readonly one: Pair<number>; readonly all: Pair<readonly number[]> };
}

export interface GiveBar<S> {
  readonly label: (state: S) => string;
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

const WIDE = { width: 1200, heading: 40, margin: 28, ground: 330, tall: 262, front: 2.6, bars: { top: 432, row: 34, label: 34, give: 330, giveLength: 200, effect: 668, effectLength: 330 }, narrow: false };
const NARROW = { width: 358, heading: 30, margin: 12, ground: 190, tall: 122, front: 1.55, bars: { top: 312, row: 52, label: 14, give: 14, giveLength: 120, effect: 190, effectLength: 60 }, narrow: true };
/** The words of the two stay so far from the middle, however near their lines are. */
const APART = 185;
/** Share of the drawn body that is shown, from its foremost point. */
const SHOWN: Readonly<Record<DrawnAs, number>> = { hatch: 0.56, estate: 0.5, trolley: 0.9 };
const GAP = 0.05;
/** A clock that counts whole milliseconds may stop this much short of the end, as a share. */
const LAST = 0.99;
const FOOT = 26;

/** Ends of a range, with no digit finer than a range has use for. */
const ranged = (least: number, most: number, write: Write): string => {
  const digits = benchDigits(write);
  return `${write("distance", least, digits)} to ${write("distance", most, digits)}`;
};

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
    nodes.push(...sheetHead(layout, runs === null ? "" : clockTold(instant, write), barFor(80 / scale, scale, narrow, write), scale, write));
    if (moment !== undefined && !done) nodes.push(text(narrow ? [layout.margin + 2, ground + 46] : [layout.width / 2, layout.heading], `thin: ${moment.all.a.length} runs; thick: the likely one`, narrow ? "label label-soft label-small" : "label label-soft", narrow ? "start" : "middle"));
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
        const told = `all ${moment.all[side].length} runs: crushed ${ranged(least, most, write)}`;
        nodes.push(
          dimension(left, right, ground + 22, ground + 4, `body-${side}`),
          // one under the other on a narrow sheet
          narrow ? text([layout.margin + 2, ground + (side === "a" ? 46 : 64)], `${side.toUpperCase()}, ${told}`, small) : text([side === "a" ? Math.min((left + right) / 2, layout.width / 2 - APART) : Math.max((left + right) / 2, layout.width / 2 + APART), ground + 46], told, small, "middle"),
        );
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
      const effect = runs === null ? 0 : each.effect(state) * progress * bars.effectLength;
      nodes.push(
        text(narrow ? [bars.label, y + 8] : [bars.label, y + 13], narrow ? `${each.label(state)}: ${each.words(state, write)}` : each.label(state), narrow ? small : `${small} row-label`),
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
      if (instant <= 0) return capital(`${clockTold(instant, write)} no front is pressed in yet, in any of ${moment.all.a.length} runs.`);
      const told = (side: Side): string => {
        const sorted = [...moment.all[side]].sort((p, q) => p - q);
        return `the front of ${spec[side].name(state)} is pressed in by ${ranged(sorted[0] ?? 0, sorted.at(-1) ?? 0, write)}`;
      };
      return capital(`${clockTold(instant, write)}, over all ${moment.all.a.length} runs: ${told("a")}, ${told("b")}.`);
    },
  };
};
