/** Two bodies on a sheet whose masses and speeds are inputs of the lesson: how they are told, read, and given their speed arrows. */
import type { Handle, Node } from "../drawing.ts";
import type { State, Write } from "../lesson.ts";
import { BEYOND, type Reading } from "./instruments.ts";
import { arrow, grip, group, line, round, text } from "./marks.ts";
import type { DrawnAs } from "./spec.ts";

export type Side = "a" | "b";
export const SIDES = ["a", "b"] as const;
/** The way a body faces on the sheet. */
export const FORWARD = { a: 1, b: -1 } as const;

/** An input of the lesson that is dragged, and the largest value that the sheet leaves room for. */
export interface Dragged<S> {
  readonly input: string;
  readonly to: (state: S) => number;
}

export interface StagedBody<S> {
  readonly name: (state: S) => string;
  readonly drawnAs: (state: S) => DrawnAs;
  readonly mass: Dragged<S>;
  readonly speed: Dragged<S>;
  /** Depth of the drawn front that folds [m]. */
  readonly foldLength?: (state: S) => number;
}

/** One body at an instant, on its own forward axis. */
export interface StagedMoment {
  readonly travel: number;
  readonly velocity: number;
  readonly crush: number;
}

export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

export const readInput = <I, O>(state: State<I, O>, { input, to }: Dragged<State<I, O>>): Reading => ({ input, value: (state.inputs as Record<string, number>)[input] as number, to: to(state) });

export interface Lanes {
  readonly left: number;
  readonly right: number;
  readonly y: number;
  /** Length of the longest arrow. */
  readonly length: number;
  readonly narrow: boolean;
}

/** Speed arrows from both edges of the sheet: the start speed in outline, whose end is dragged, and the speed now. */
export const speedLanes = (
  { left, right, y, length, narrow }: Lanes,
  names: Readonly<Record<Side, string>>,
  start: Readonly<Record<Side, Reading>>,
  now: Readonly<Record<Side, number>>,
  write: Write,
): { readonly nodes: readonly Node[]; readonly handles: readonly Handle[] } => {
  const nodes: Node[] = [];
  const handles: Handle[] = [];
  const per = length / Math.max(start.a.to, start.b.to);
  for (const side of SIDES) {
    const tail = side === "a" ? left : right;
    const forward = FORWARD[side];
    const velocity = now[side];
    const told = write("speed", Math.abs(velocity));
    const set = tail + forward * start[side].value * per;
    const reach = tail + forward * Math.abs(velocity) * per;
    const backwards = velocity < 0 && /[1-9]/.test(told) ? (narrow ? ", back" : ", backwards") : "";
    nodes.push(
      group(`motion body-${side}`, [
        arrow([tail, y], [set, y], "start-speed", { width: 5, head: 14 }),
        velocity < 0 ? arrow([reach, y], [tail, y], "speed", { width: 5, head: 14 }) : arrow([tail, y], [reach, y], "speed", { width: 5, head: 14 }),
        line([tail, y - 7], [tail, y + 7], "arrow-foot"),
        text([tail, y - 14], `${narrow ? side.toUpperCase() : capital(names[side])} ${told}${backwards}`, `${narrow ? "label label-small" : "label"} label-strong`, side === "a" ? "start" : "end"),
      ]),
    );
    const input = start[side].input;
    if (input === null) continue;
    nodes.push(grip([set + forward * BEYOND, y], input, `body-${side}`));
    handles.push({ input, origin: [round(tail + forward * BEYOND), y], perUnit: [forward * per, 0] });
  }
  return { nodes, handles };
};
