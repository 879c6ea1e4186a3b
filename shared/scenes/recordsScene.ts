/**
 * Records of two groups, counted: a field of marks for each stratum, so many records a mark, those with the outcome filled. Beside each
 * stratum its part in a common mix, as a bar to drag.
 */
import { type Drawing, type Handle, node, type Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { sheetFrame } from "./bodySide.ts";
import { grip, group, line, rectangle, round, text, widthOf } from "./marks.ts";

export interface Stratum {
  readonly label: string;
  /** Of each group: records, and records with the outcome. */
  readonly of: readonly [number, number];
  readonly counts: readonly [number, number];
}

export interface RecordsSpec<S> {
  readonly title: string;
  readonly groups: (state: S) => readonly [string, string];
  readonly strata: (state: S, write: Write) => readonly Stratum[];
  /** Inputs that hold the parts of the strata in the common mix, in the order of the strata; each from 0 to 1. */
  readonly mix: readonly string[];
  /** Records that one mark stands for. */
  readonly perMark: number;
  /** What a filled mark means, in a word or two. */
  readonly outcome: string;
}

const WIDE = { width: 1200, heading: 40, top: 74, label: 34, fields: [184, 500], fieldWidth: [290, 420], pitch: 7.5, gap: 26, mix: 960, mixLength: 190, narrow: false };
const NARROW = { width: 358, heading: 30, top: 84, label: 14, fields: [14, 142], fieldWidth: [118, 202], pitch: 5.2, gap: 64, mix: 14, mixLength: 200, narrow: true };
const FOOT = 20;
/** Side of a mark, as a share of the pitch. */
const MARK = 0.68;

/** Marks row by row; the last one as narrow as what is left. */
const marks = (x: number, y: number, from: number, to: number, across: number, pitch: number): string => {
  const side = MARK * pitch;
  const parts: string[] = [];
  for (let i = Math.floor(from); i < to - 1e-9; i++) {
    const [first, last] = [Math.max(from, i) - i, Math.min(to, i + 1) - i];
    parts.push(`M${round(x + (i % across) * pitch + first * side)},${round(y + Math.floor(i / across) * pitch)}h${round((last - first) * side)}v${round(side)}h${round((first - last) * side)}z`);
  }
  return parts.join("");
};

/** A scene for the `scenes` of a lesson. */
export const recordsScene = <I, O>(spec: RecordsSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const draw = (state: S, _instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const layout = width === "wide" ? WIDE : NARROW;
    const { narrow, pitch, gap } = layout;
    const strata = spec.strata(state, write);
    const groups = spec.groups(state);
    const number = (value: number): string => write("count", value, { digits: 0 });
    const small = narrow ? "label label-small" : "label";
    const soft = "label label-soft label-small";
    const across = layout.fieldWidth.map((room) => Math.floor(room / pitch));
    const nodes: Node[] = [];
    const handles: Handle[] = [];
    const weights = spec.mix.map((name) => (state.inputs as Record<string, number>)[name] as number);
    const sum = weights.reduce((total, weight) => total + weight, 0);
    nodes.push(
      text([layout.label, layout.heading], narrow ? `a mark: ${number(spec.perMark)} records; filled: ${spec.outcome}` : `each mark stands for ${number(spec.perMark)} records; filled: ${spec.outcome}`, `${small} label-strong`),
      ...groups.flatMap((name, g) => {
        // a head wider than its column stands in two lines
        const room = ((layout.fields[g + 1] as number | undefined) ?? layout.width) - (layout.fields[g] as number) - 8;
        const lines = narrow && widthOf(name, 13) > room ? name.split(/(?<=,) /) : [name];
        return lines.map((each, i) => text([layout.fields[g] as number, layout.top - (narrow ? 25 : 12) - 14 * (lines.length - 1 - i)], each, narrow ? "label label-small" : "label label-strong column-head"));
      }),
      ...(narrow ? [] : [group("page-only", [text([layout.mix, layout.top - 12], "part in a common mix", "label label-strong")])]),
    );
    let y = layout.top;
    strata.forEach(({ label, of, counts }, i) => {
      const rows = Math.max(...of.map((size, g) => Math.ceil(size / spec.perMark / (across[g] as number))));
      const top = narrow ? y + 16 : y + 8;
      nodes.push(line([layout.label, y - (narrow ? 14 : 4)], [layout.width - layout.label, y - (narrow ? 14 : 4)], "rule row-rule"), text([layout.label, narrow ? y + 4 : y + 18], label, narrow ? "label label-small label-strong" : `${small} row-label`));
      of.forEach((size, g) => {
        const x = layout.fields[g] as number;
        const marked = (counts[g] as number) / spec.perMark;
        nodes.push(node("path", { d: marks(x, top, marked, size / spec.perMark, across[g] as number, pitch), class: "scale-outline" }), node("path", { d: marks(x, top, 0, marked, across[g] as number, pitch), class: "scale-block" }));
        nodes.push(text([x, top + rows * pitch + (narrow ? 12 : 13)], `${number(counts[g] as number)} of ${number(size)}`, soft));
      });
      const weight = weights[i] as number;
      const at = narrow ? top + rows * pitch + 30 : top + 10;
      nodes.push(
        group("page-only", [rectangle(layout.mix, at - 5, layout.mixLength, 10, "slab-room"), rectangle(layout.mix, at - 5, weight * layout.mixLength, 10, "scale-block")]),
        text(narrow ? [layout.mix + layout.mixLength + 30, at + 4] : [layout.mix, at + 26], sum > 0 ? `${narrow ? "mix: " : ""}${write("count", (100 * weight) / sum, { digits: 0 })} in 100` : "", soft),
        grip([layout.mix + weight * layout.mixLength, at], spec.mix[i] as string, ""),
      );
      handles.push({ input: spec.mix[i] as string, origin: [layout.mix, at], perUnit: [layout.mixLength, 0] });
      y = top + Math.max(rows * pitch, narrow ? 0 : 30) + gap + (narrow ? 0 : 4);
    });
    const height = y + (narrow ? -10 : FOOT - 10);
    return { width: layout.width, height: round(height), nodes: [sheetFrame(layout.width, round(height)), ...nodes], handles };
  };

  return {
    title: spec.title,
    duration: () => 0,
    draw,
    describe: (state, _instant, write) => {
      const groups = spec.groups(state);
      return `Who ${spec.outcome}, of how many. ${spec.strata(state, write).map(({ label, of, counts }) => `${label}: ${groups.map((name, g) => `${name}, ${write("count", counts[g] as number, { digits: 0 })} of ${write("count", of[g] as number, { digits: 0 })}`).join("; ")}`).join(". ")}.`;
    },
  };
};
