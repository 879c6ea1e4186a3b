/** Two bodies on a sheet whose masses and speeds are inputs of the lesson: how they are told, read and drawn, and what of them is dragged. */
import type { Node } from "../drawing.ts";
import type { State, Write } from "../lesson.ts";
import { bodySide, clockWords, stage, ticked } from "./bodySide.ts";
import { ballast, BEYOND, frontAxes, frontLine, type FrontReading, type Instrument, type Reading } from "./instruments.ts";
import { arrow, grip, group, line, type Point, round, scaleBar, text, widthOf } from "./marks.ts";
import { roundNear, roundText } from "./round.ts";
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

/** A front of one straight line: its stiffness is dragged. */
export interface StraightFront<S> extends Dragged<S> {
  readonly length: (state: S) => number;
}

export interface NamedBody<S> {
  readonly name: (state: S) => string;
  readonly drawnAs: (state: S) => DrawnAs;
  readonly mass: Dragged<S>;
}

export interface StagedBody<S> extends NamedBody<S> {
  /** Towards the other. */
  readonly speed: Dragged<S>;
  /** Depth of the drawn front that folds [m]. */
  readonly foldLength?: (state: S) => number;
}

/** What a scene of two such bodies is told. */
export interface StagedSpec<S, B, M> {
  readonly title: string;
  readonly bench: (state: S) => boolean;
  readonly a: B;
  readonly b: B;
  /** Called for states that have outputs only, once for each. */
  readonly motion: (state: S) => M;
}

/** One body at an instant, on its own forward axis. */
export interface StagedMoment {
  readonly travel: number;
  readonly velocity: number;
  readonly crush: number;
}

/** Rolls at a steady speed until it touches at time 0. */
export const rolling = (velocity: number, time: number): StagedMoment => ({ travel: velocity * Math.min(0, time), velocity, crush: 0 });

/** What is made once for a state that has outputs; null for the others. */
export const madeOnce = <S extends { readonly outcome?: string }, M>(make: (state: S) => M): ((state: S) => M | null) => {
  const kept = new WeakMap<object, M | null>();
  return (state) => {
    let found = kept.get(state);
    if (found === undefined) kept.set(state, (found = state.outcome === undefined ? make(state) : null));
    return found;
  };
};

export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

export const readInput = <I, O>(state: State<I, O>, { input, to }: Dragged<State<I, O>>): Reading => ({ input, value: (state.inputs as Record<string, number>)[input] as number, to: to(state) });

/** A page's clock stands at whole microseconds: no nearer than this to an event is at it [s]. */
const AT_ONCE = 1e-6;
export const isAt = (time: number): boolean => Math.abs(time) <= AT_ONCE;

/** When it is, by the clock that starts at `event`. */
export const clockTold = (time: number, write: Write, event = "first touch"): string => (isAt(time) ? `at ${event}` : `${write("duration", Math.abs(time), { digits: 0 })} ${time < 0 ? "before" : "after"} ${event}`);

/** Decimals that show a small length on a bench, in the unit that the reader has. */
export const benchDigits = (write: Write): { readonly digits: number } => ({ digits: write.units === "laboratory" ? 1 : 2 });

/** Where the key of the outlined arrows stands: after the clock, on a narrow sheet under it. */
export const keyPlace = ({ margin, heading, narrow }: Pick<Head, "margin" | "heading" | "narrow">): Point => (narrow ? [margin + 2, heading + 15] : [300, heading]);

/** A sample of the outlined arrow and what it stands for, once it has parted from the filled one. */
export const startKey = (at: Point, time: number, write: Write, event = "touch"): Node => {
  const [x, y] = at;
  return group("ledger-key body-both", time <= 0 || isAt(time) ? [] : [arrow([x, y - 5], [x + 30, y - 5], "start-speed", { width: 5, head: 12 }), text([x + 38, y], `speed at ${event}, ${write("duration", 0, { digits: 0 })}`, "label label-small")]);
};

/** A round length for the scale bar, which is also that between two ticks of the ground. */
export const barOf = (at: "road" | "bench", write: Write): number => roundNear("distance", at === "bench" ? 0.1 : 1, write);

/** What every sheet to scale has. */
export interface Head {
  readonly width: number;
  readonly margin: number;
  readonly heading: number;
  readonly narrow: boolean;
}

/** Most of a narrow sheet that a scale bar takes, in drawing units. */
const NARROW_BAR = 60;
/** Length of a scale bar: about as asked, where a narrow sheet has room for it. */
export const barFor = (about: number, scale: number, narrow: boolean, write: Write): number => roundNear("distance", narrow ? Math.min(about, NARROW_BAR / scale) : about, write);

/** Head of a sheet to scale: the clock on the left, the scale bar on the right. */
export const sheetHead = ({ width, margin, heading, narrow }: Head, told: string, bar: number, scale: number, write: Write): Node[] => {
  const words = `${narrow ? "" : "to scale, "}${roundText("distance", bar, write)}`;
  const room = width - 2 * margin - 4 - bar * scale - 8 - widthOf(words, SOFT) - APART;
  return [clockWords([margin + 2, heading], widthOf(told, LETTER) > room ? told.replace("first touch", "touch") : told), scaleBar(width - margin - 2, heading - 12, bar * scale, words, "end")];
};
/** Type of the clock and of soft words, and room between the two. */
const LETTER = 15;
const SOFT = 14;
const APART = 6;

export interface Meeting<S> {
  readonly bodies: Readonly<Record<Side, Pick<StagedBody<S>, "drawnAs" | "foldLength">>>;
  readonly moment: Readonly<Record<Side, StagedMoment>>;
  /** Said beside the scale bar. */
  readonly told: string;
  /** Ticks and scale bar [m], and drawing units per metre. */
  readonly bar: number;
  readonly scale: number;
  /** Upper edge of the room for the bodies, and the ground. */
  readonly top: number;
  readonly ground: number;
}

/** Two bodies that meet, side by side and to scale, under the head of their sheet. The place between their fronts stays in its middle. */
export const meeting = <S>(state: S, { bodies, moment: { a, b }, told, bar, scale, top, ground }: Meeting<S>, head: Head, write: Write): Node[] => {
  const centre = head.width / 2;
  const middle = (a.travel - a.crush - b.travel + b.crush) / 2;
  const x = (metres: number): number => centre + (metres - middle) * scale;
  const body = (side: Side, { travel, crush }: StagedMoment): Node => {
    const { drawnAs, foldLength } = bodies[side];
    return bodySide({ side, drawnAs: drawnAs(state), nose: x(FORWARD[side] * travel), ground, scale, rearwards: side === "a" ? -1 : 1, crush, ...(foldLength && { foldLength: foldLength(state) }), tagRadius: head.narrow ? 10 : 13 });
  };
  return [
    ticked(head.margin - 6, head.width - head.margin + 6, ground, bar, x, middle - centre / scale),
    ...sheetHead(head, told, bar, scale, write),
    stage(head.width, top, ground + 1, [body("a", a), body("b", b)]),
  ];
};

export interface Lanes {
  readonly left: number;
  readonly right: number;
  readonly y: number;
  /** Length of the longest arrow. */
  readonly length: number;
  readonly narrow: boolean;
}

const together = (parts: readonly Instrument[]): Instrument => ({ nodes: parts.flatMap(({ nodes }) => nodes), handles: parts.flatMap(({ handles }) => handles) });

/** The start speed in outline and the speed now, from a tail at the edge of the sheet; an arrow that points back ends at the tail. */
export const speedArrows = (tail: number, y: number, forward: 1 | -1, start: number, velocity: number, per: number): Node[] => {
  const reach = tail + forward * Math.abs(velocity) * per;
  return [
    arrow([tail, y], [tail + forward * start * per, y], "start-speed", { width: 5, head: 14 }),
    velocity < 0 ? arrow([reach, y], [tail, y], "speed", { width: 5, head: 14 }) : arrow([tail, y], [reach, y], "speed", { width: 5, head: 14 }),
    line([tail, y - 7], [tail, y + 7], "arrow-foot"),
  ];
};

/** Said behind a speed that the reader sees: the body has turned back. */
export const backTold = (velocity: number, told: string, narrow: boolean): string => (velocity < 0 && /[1-9]/.test(told) ? (narrow ? ", back" : ", backwards") : "");

/** The end of a speed arrow, to be dragged. */
export const speedGrip = (tail: number, y: number, forward: 1 | -1, { input, value }: Reading, per: number, body: Side): Instrument => {
  if (input === null) return { nodes: [], handles: [] };
  return { nodes: [grip([tail + forward * value * per + forward * BEYOND, y], input, `body-${body}`)], handles: [{ input, origin: [round(tail + forward * BEYOND), y], perUnit: [forward * per, 0] }] };
};

/** Speed arrows from both edges of the sheet: the start speed in outline, whose end is dragged, and the speed now. */
export const speedLanes = (
  { left, right, y, length, narrow }: Lanes,
  names: Readonly<Record<Side, string>>,
  start: Readonly<Record<Side, Reading>>,
  now: Readonly<Record<Side, number>>,
  write: Write,
): Instrument => {
  const per = length / Math.max(start.a.to, start.b.to);
  return together(
    SIDES.map((side) => {
      const tail = side === "a" ? left : right;
      const told = write("speed", Math.abs(now[side]));
      const { nodes, handles } = speedGrip(tail, y, FORWARD[side], start[side], per, side);
      const words = `${narrow ? side.toUpperCase() : capital(names[side])} ${told}${backTold(now[side], told, narrow)}`;
      return {
        nodes: [group(`motion body-${side}`, [...speedArrows(tail, y, FORWARD[side], start[side].value, now[side], per), text([tail, y - 14], words, `${narrow ? "label label-small" : "label"} label-strong`, side === "a" ? "start" : "end")]), ...nodes],
        handles,
      };
    }),
  );
};

/** Where what is dragged stands under the drawing: left edge of each body's half, and places inside it. */
export interface Places {
  readonly half: Readonly<Record<Side, number>>;
  readonly mass: { readonly x: number; readonly y: number; readonly width: number };
  readonly front: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
}

/** Both masses on one scale, each followed by what stands beside it. */
export const ballasts = <I, O>(
  state: State<I, O>,
  bodies: Readonly<Partial<Record<Side, { readonly mass: Dragged<State<I, O>> }>>>,
  { half, mass }: Pick<Places, "half" | "mass">,
  write: Write,
  beside: (side: Side) => readonly Instrument[] = () => [],
): Instrument => {
  const masses = SIDES.flatMap((side) => (bodies[side] === undefined ? [] : [{ side, reading: readInput(state, bodies[side].mass) }]));
  const rowTo = Math.max(...masses.map(({ reading }) => reading.to));
  return together(masses.flatMap(({ side, reading }) => [ballast(reading, rowTo, [half[side] + mass.x, mass.y], mass.width, side, write), ...beside(side)]));
};

/** Both fronts on the axes that they share. */
export const frontLines = <I, O>(
  state: State<I, O>,
  bodies: Readonly<Record<Side, { readonly front: StraightFront<State<I, O>> }>>,
  { half, front: place }: Pick<Places, "half" | "front">,
  foremost: string,
  write: Write,
): ((side: Side) => readonly Instrument[]) => {
  const reading = (side: Side): FrontReading => ({ nose: readInput(state, bodies[side].front), cell: null, noseLength: bodies[side].front.length(state) });
  const fronts = { a: reading("a"), b: reading("b") };
  const axes = frontAxes([fronts.a, fronts.b]);
  return (side) => [frontLine(fronts[side], foremost, axes, [half[side] + place.x, place.y], place, side, write)];
};
