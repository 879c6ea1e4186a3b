/** Two vehicles that are to meet on a mark, from above and to scale: the whole siding with its run-on, and the mark close up. */
import { type Drawing, type Handle, node, type Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { sheetFrame } from "./bodySide.ts";
import { arrow, grip, group, hatching, line, type Point, polygon, rectangle, round, scaleBar, tag, text, widthOf } from "./marks.ts";
import { OUTLINES } from "./outlines.ts";
import { roundNear, roundText } from "./round.ts";
import type { DrawnAs } from "./spec.ts";
import { capital, type Side, SIDES } from "./staged.ts";

/** One of the two. */
export interface Arriving<S> {
  readonly name: string;
  readonly drawnAs: DrawnAs;
  readonly width: (state: S) => number;
  /** Between its axis and the line of approach [rad]. */
  readonly yaw: (state: S) => number;
  /** From release to the mark, free track past the mark, and what a missed vehicle needs of it [m]. */
  readonly coast: (state: S) => number;
  readonly runOn: (state: S) => number;
  /** In the worst case that the lesson knows. */
  readonly needed: (state: S) => number;
}

export interface ArrivalMotion {
  readonly duration: number;
  /** When the fronts meet; null where they pass each other [s]. */
  readonly meeting: number | null;
  /** Place of each front along the way of a, the mark at 0 [m], and its speed [m/s]. */
  readonly at: (time: number) => { readonly a: { readonly place: number; readonly speed: number }; readonly b: { readonly place: number; readonly speed: number } };
}

/** A quantity dragged along a bar; `from` at its left end, `to` at its right. */
export interface ArrivalBar {
  readonly input: string;
  readonly words: (value: number, write: Write) => string;
  readonly from: number;
  readonly to: number;
  readonly body?: "a" | "b";
}

export interface ArrivalSpec<S> {
  readonly title: string;
  readonly at: "road" | "bench";
  readonly a: Arriving<S>;
  readonly b: Arriving<S>;
  /** Of b's middle to the side of a's, across the line of approach [m]. */
  readonly offset: (state: S) => number;
  /** Width of the camera's picture at the mark, and how far from the mark the meeting may be [m]. */
  readonly field: (state: S) => number;
  readonly limit: (state: S) => number;
  /** Speed of the longest arrow; the same in every state, so that arrows can be compared [m/s]. */
  readonly topSpeed: number;
  readonly bars: readonly ArrivalBar[];
  readonly motion: (state: S) => ArrivalMotion;
}

interface ArrivalLayout {
  readonly width: number;
  readonly margin: number;
  readonly narrow: boolean;
  /** Middle of the siding's plan, and of the close-up. */
  readonly siding: number;
  readonly close: number;
  readonly closeHeight: number;
  readonly bars: readonly Point[];
  readonly bar: number;
  readonly height: number;
}

const LAYOUTS = {
  wide: { width: 1200, margin: 28, narrow: false, siding: 112, close: 338, closeHeight: 250, bars: [[56, 520], [640, 520], [56, 586], [640, 586]], bar: 480, height: 632 },
  narrow: { width: 358, margin: 12, narrow: true, siding: 114, close: 294, closeHeight: 150, bars: [[24, 426], [24, 482], [24, 538], [24, 594]], bar: 290, height: 630 },
} as const satisfies Record<string, ArrivalLayout>;

/** Most that the band of the siding is wide, with what hangs out of it, in drawing units. */
const BAND = 44;
/** Half of the road that the close-up shows, in widths of the picture. */
const AROUND = 0.8;
const EVERY = { road: 5, bench: 0.5 } as const;
const CLOSE_EVERY = { road: 1, bench: 0.1 } as const;
/** From the middle of a vehicle to its arrow, in widths, and beyond that as a share of what its yaw swings out. */
const BESIDE = 0.62;
const SWUNG = 0.7;
/** Room for the words beside an arrow, in drawing units. */
const WORDS = 36;

/** A scene for the `scenes` of a lesson. See `ArrivalSpec`. */
export const arrivalScene = <I, O>(spec: ArrivalSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const motions = new WeakMap<object, ArrivalMotion>();
  const motionOf = (state: S): ArrivalMotion => {
    let found = motions.get(state);
    if (found === undefined) {
      const still = { a: { place: -spec.a.coast(state), speed: 0 }, b: { place: spec.b.coast(state), speed: 0 } };
      found = state.outcome === undefined ? spec.motion(state) : { duration: 0, meeting: null, at: () => still };
      motions.set(state, found);
    }
    return found;
  };
  const far = (write: Write, si: number): string => write("length", si, { digits: spec.at === "bench" && write.units !== "laboratory" ? 2 : 0 });
  const near = (write: Write, si: number): string => write("distance", si, spec.at === "bench" ? {} : { digits: 2 });

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const layout: ArrivalLayout = LAYOUTS[width];
    const motion = motionOf(state);
    const now = motion.at(instant);
    const [left, right] = [layout.margin - 6, layout.width - layout.margin + 6];
    const small = layout.narrow ? "label label-small" : "label";
    const nodes: Node[] = [];
    const handles: Handle[] = [];
    const [every, closeEvery] = [roundNear("length", EVERY[spec.at], write), roundNear("length", CLOSE_EVERY[spec.at], write)];
    const met = motion.meeting !== null && instant >= motion.meeting;
    const passed = write("duration", instant);
    const clock = instant === 0 ? "as the first is let go" : met && layout.narrow ? `they touch, ${passed} after release` : `${passed} after the first is let go${met ? ", they touch" : ""}`;
    nodes.push(
      sheetFrame(layout.width, layout.height),
      group("heading", [text([layout.margin + 2, layout.narrow ? 28 : 36], clock, "label label-time")]),
    );

    /** A vehicle from above, its front's middle at `place`, turned by its yaw. */
    const vehicle = (side: Side, px: (metres: number) => number, axis: number, scale: number, withTag: boolean): Node => {
      const body = spec[side];
      const facing = side === "a" ? 1 : -1;
      const across = side === "a" ? 0 : spec.offset(state);
      const half = body.width(state) / 2;
      const outline = OUTLINES[body.drawnAs];
      const yaw = body.yaw(state);
      const at = (behind: number, aside: number): Point => {
        const along = -behind * Math.cos(yaw) - aside * Math.sin(yaw);
        const over = -behind * Math.sin(yaw) + aside * Math.cos(yaw);
        return [px(now[side].place + facing * along), axis - (across + facing * over) * scale];
      };
      const corner = Math.min(0.2 * half, 0.1 * outline.length);
      const shape = [at(0, half - corner), at(0, corner - half), at(corner, -half), at(outline.length - corner, -half), at(outline.length, corner - half), at(outline.length, half - corner), at(outline.length - corner, half), at(corner, half)];
      const glass = [at(outline.firewall, half * 0.8), at(outline.firewall * 1.25, half * 0.7), at(outline.firewall * 1.25, -half * 0.7), at(outline.firewall, -half * 0.8)];
      return group(`vehicle body-${side}`, [polygon(shape, "shell"), polygon(glass, "window"), ...(withTag ? [tag(side, at(outline.length * 0.6, 0), layout.narrow ? 10 : 14)] : [])]);
    };

    // The whole siding: release marks, run-on of each past the mark, and what a missed vehicle needs of it.
    const reachLeft = Math.max(spec.b.runOn(state), spec.b.needed(state), spec.a.coast(state) + OUTLINES[spec.a.drawnAs].length) * 1.02;
    const reachRight = Math.max(spec.a.runOn(state), spec.a.needed(state), spec.b.coast(state) + OUTLINES[spec.b.drawnAs].length) * 1.02;
    const inner = layout.width - 2 * layout.margin - 8;
    const widest = Math.max(spec.a.width(state), spec.b.width(state));
    const across = { a: 0, b: Math.abs(spec.offset(state)) };
    const swing = (side: Side): number => OUTLINES[spec[side].drawnAs].length * Math.abs(Math.sin(spec[side].yaw(state)));
    const clear = Math.max(0.75 * widest, ...SIDES.map((side) => across[side] + spec[side].width(state) / 2 + swing(side)));
    // Short sidings are not drawn as large as they could be: their band would leave no room for its words.
    const scale = Math.min(inner / (reachLeft + reachRight), BAND / (2 * clear));
    const px = (metres: number): number => layout.width / 2 + (metres + (reachLeft - reachRight) / 2) * scale;
    const axis = layout.siding;
    const bandHalf = Math.max(3, 0.75 * widest * scale);
    const zones = SIDES.map((side) => {
      const way = side === "a" ? 1 : -1;
      const lane = axis + (side === "a" ? 1 : -1) * (Math.max(bandHalf, clear * scale) + (layout.narrow ? 15 : 18));
      const [free, needed] = [px(way * spec[side].runOn(state)), px(way * spec[side].needed(state))];
      const zone: Point[] = [[px(0), lane - 5], [needed, lane - 5], [needed, lane + 5], [px(0), lane + 5]];
      const below = side === "a" ? 26 : -15;
      const short = spec[side].needed(state) > spec[side].runOn(state);
      const [wants, has] = [far(write, spec[side].needed(state)), far(write, spec[side].runOn(state))];
      // two lengths that differ are not told as one
      const needs = short && wants === has ? `over ${wants}` : wants;
      return group(`run-on body-${side}`, [
        hatching(zone, 6, "wall-hatch"),
        polygon(zone, "intrusion"),
        line([free, lane - 10], [free, lane + 10], "wall-edge"),
        text(
          [side === "a" ? right - 4 : left + 4, lane + below],
          layout.narrow
            ? `${side.toUpperCase()} run-on${short ? " TOO SHORT:" : ": needs"} ${needs} of ${has}`
            : `${capital(spec[side].name)}: run-on ${short ? "TOO SHORT," : "needs up to"} ${needs} (hatched) of ${has} (bar)`,
          short ? `${small} label-strong label-warn` : small,
          side === "a" ? "end" : "start",
        ),
      ]);
    });
    nodes.push(
      group("siding", [
        line([left, axis - bandHalf], [right, axis - bandHalf], "ground-line"),
        line([left, axis + bandHalf], [right, axis + bandHalf], "ground-line"),
        line([px(-spec.a.coast(state)), axis - bandHalf], [px(-spec.a.coast(state)), axis + bandHalf], "ground-tick"),
        line([px(spec.b.coast(state)), axis - bandHalf], [px(spec.b.coast(state)), axis + bandHalf], "ground-tick"),
        line([px(0), axis - bandHalf - 6], [px(0), axis + bandHalf + 6], "contact-plane"),
      ]),
      ...zones,
      text([left + 4, axis + Math.max(bandHalf, clear * scale) + (layout.narrow ? 57 : 44)], layout.narrow ? "hatched: needed if missed; bar: stops" : "run-on: the way past the mark, if missed", `${small} label-soft`),
      vehicle("a", px, axis, scale, false),
      vehicle("b", px, axis, scale, false),
      scaleBar(layout.width - layout.margin - 2, layout.narrow ? 40 : 26, every * scale, roundText("length", every, write), "end"),
      line([left, layout.close - layout.closeHeight / 2 - (layout.narrow ? 17 : 26)], [right, layout.close - layout.closeHeight / 2 - (layout.narrow ? 17 : 26)], "rule"),
    );

    // Close up: the camera's picture, the limits on both sides of the mark, both fronts.
    const field = spec.field(state);
    const limit = spec.limit(state);
    const zoom = Math.min(inner / (2 * AROUND * field), layout.closeHeight / (2.2 * (widest + across.b)), (layout.closeHeight / 2 - WORDS + 12) / Math.max(...SIDES.map((side) => across[side] + BESIDE * widest + SWUNG * swing(side))));
    const mid = layout.width / 2;
    const zx = (metres: number): number => mid + metres * zoom;
    const [top, foot] = [layout.close - layout.closeHeight / 2, layout.close + layout.closeHeight / 2];
    nodes.push(
      node("svg", { x: 7, y: round(top - 12), width: layout.width - 14, height: round(layout.closeHeight + 24), viewBox: `7 ${round(top - 12)} ${layout.width - 14} ${round(layout.closeHeight + 24)}`, class: "stage" }, [
        rectangle(zx(-field / 2), top, field * zoom, layout.closeHeight, "slab-room"),
        line([zx(0), top], [zx(0), foot], "contact-plane"),
        line([zx(-limit), top + 8], [zx(-limit), foot - 8], "guide"),
        line([zx(limit), top + 8], [zx(limit), foot - 8], "guide"),
        line([left, layout.close], [right, layout.close], "guide"),
        vehicle("a", zx, layout.close, zoom, true),
        vehicle("b", zx, layout.close, zoom, true),
        ...SIDES.map((side) => {
          const facing = side === "a" ? 1 : -1;
          // each arrow on the side of its vehicle that is away from the other
          const below = (spec.offset(state) >= 0) === (side === "a");
          const middle = layout.close - (side === "a" ? 0 : spec.offset(state)) * zoom;
          const lane = middle + (below ? 1 : -1) * (BESIDE * widest + SWUNG * swing(side)) * zoom;
          const words = `${layout.narrow ? side.toUpperCase() : spec[side].name} ${write("speed", now[side].speed)}`;
          const length = (now[side].speed / spec.topSpeed) * (layout.narrow ? 80 : 220);
          const span = Math.max(length, widthOf(words, 13));
          const wanted = zx(now[side].place) - facing * 0.2 * field * zoom;
          // arrow and words stay on the sheet, however far their vehicle has come
          const from = side === "a" ? Math.min(right - 8 - span, Math.max(left + 8, wanted)) : Math.max(left + 8 + span, Math.min(right - 8, wanted));
          return group(`motion body-${side}`, [arrow([from, lane], [from + facing * length, lane], "speed", { width: 4, head: 12 }), text([from, lane + (below ? 20 : -10)], words, "label label-small label-strong", side === "a" ? "start" : "end")]);
        }),
      ]),
      text([layout.margin + 2, foot + (layout.narrow ? 18 : 20)], layout.narrow ? `box: picture, ${far(write, field)} wide` : `box: the camera's picture, ${far(write, field)} wide; broken lines: ${near(write, limit)} each side of the mark`, "label label-soft"),
      scaleBar(layout.width - layout.margin - 2, foot + (layout.narrow ? 8 : 12), closeEvery * zoom, roundText("length", closeEvery, write), "end"),
    );

    // Dragged: each input along a bar of its own.
    spec.bars.forEach((bar, i) => {
      const [x, y] = layout.bars[i] as Point;
      const value = (state.inputs as unknown as Record<string, number>)[bar.input] as number;
      const per = layout.bar / (bar.to - bar.from);
      const [zero, end] = [x + (Math.max(bar.from, Math.min(bar.to, 0)) - bar.from) * per, x + (value - bar.from) * per];
      nodes.push(
        group(`bar${bar.body === undefined ? "" : ` body-${bar.body}`}`, [
          text([x, y - 9], bar.words(value, write), layout.narrow ? "label label-small label-strong" : "label label-strong"),
          rectangle(x, y, layout.bar, 12, "slab-room"),
          rectangle(Math.min(zero, end), y, Math.abs(end - zero), 12, bar.body === undefined ? "scale-block" : "slab"),
          line([zero, y - 4], [zero, y + 16], "reading-end"),
        ]),
        grip([end + 11, y + 6], bar.input, bar.body === undefined ? "" : `body-${bar.body}`),
      );
      handles.push({ input: bar.input, origin: [round(x + 11 - bar.from * per), y + 6], perUnit: [per, 0] });
    });
    return { width: layout.width, height: layout.height, nodes, handles };
  };

  const describe = (state: S, instant: number, write: Write): string => {
    const motion = motionOf(state);
    const now = motion.at(instant);
    const place = (side: Side): string => {
      const before = side === "a" ? -now.a.place : now.b.place;
      return `${spec[side].name} is ${near(write, Math.abs(before))} ${before >= 0 ? "before" : "past"} the mark at ${write("speed", now[side].speed)}`;
    };
    const met = motion.meeting !== null && instant >= motion.meeting;
    return capital(`${instant === 0 ? "as the first is let go" : `${write("duration", instant)} after the first is let go`}: ${place("a")}, ${place("b")}${met ? "; the fronts touch" : ""}.`);
  };

  return { title: spec.title, duration: (state) => motionOf(state).duration, draw, describe };
};
