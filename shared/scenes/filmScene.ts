/**
 * What a camera saw: its picture at one frame, to scale, with a marker on each body and a staff of known length; under it the place
 * of both markers in every frame. The reading of the staff, the frames of first and last touch and the smoothing window are dragged.
 */
import { type Drawing, type Handle, node, type Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { bodySide, sheetFrame } from "./bodySide.ts";
import { circle, dimension, grip, group, line, overhang, type Point, rectangle, round, scaleBar, text, widthOf } from "./marks.ts";
import { roundNear, roundText } from "./round.ts";
import type { DrawnAs } from "./spec.ts";
import { capital, type Side, SIDES } from "./staged.ts";

export interface FilmSpec<S> {
  readonly title: string;
  readonly a: { readonly name: (state: S) => string; readonly drawnAs: (state: S) => DrawnAs };
  readonly b: { readonly name: (state: S) => string; readonly drawnAs: (state: S) => DrawnAs };
  /** Place of each marker across the picture, one a frame [px]. */
  readonly track: (state: S) => Readonly<Record<Side, readonly number[]>>;
  /** Frames taken in each second [1/s]. */
  readonly captureRate: (state: S) => number;
  /** What a pixel covers in the plane of motion, and in the plane of the staff, by the camera's own numbers [m]. */
  readonly pixelSize: (state: S) => { readonly motion: number; readonly staff: number };
  /** Length of the staff [m]; the input that holds its reading [px]. */
  readonly staff: { readonly length: (state: S) => number; readonly input: string };
  /** Inputs that count frames. */
  readonly from: string;
  readonly to: string;
  readonly window: string;
  /** Part of the crush that is drawn in the front of a: a film of two markers tells their sum only. */
  readonly shareOfA: (state: S) => number;
  /** Across a marker [m]. */
  readonly markerWidth: (state: S) => number;
}

const WIDE = { width: 1200, height: 640, left: 28, right: 1172, heading: 40, picture: { top: 58, bottom: 344 }, strip: { top: 404, bottom: 580, left: 92, right: 1160 }, narrow: false };
const NARROW = { width: 358, height: 520, left: 12, right: 346, heading: 30, picture: { top: 44, bottom: 196 }, strip: { top: 258, bottom: 446, left: 54, right: 336 }, narrow: true };
/** Room beside the outermost markers, and height of the marker above the ground, in lengths of the drawn body. */
const BESIDE = 0.75;
const LENGTH: Readonly<Record<DrawnAs, number>> = { hatch: 4, estate: 4.8, trolley: 0.3 };
const HIGH: Readonly<Record<DrawnAs, number>> = { hatch: 0.75, estate: 0.78, trolley: 0.055 };
/** A marker further from the nose than this is behind the middle of a trolley as it is drawn. */
const ON_TROLLEY = 0.25;
const TICKS = 10;
/** Dots of a row that are drawn: of more, every second one, or third. */
const MOST_DOTS = 300;

/** Many small marks as one path: round for a, square for b. */
const dots = (side: Side, points: readonly Point[], half: number, className: string): Node => {
  const r = round(half);
  const one = ([x, y]: Point): string => (side === "a" ? `M${round(x - r)},${round(y)}a${r},${r} 0 1,0 ${round(2 * r)},0a${r},${r} 0 1,0 ${round(-2 * r)},0` : `M${round(x - r)},${round(y - r)}h${round(2 * r)}v${round(2 * r)}h${round(-2 * r)}z`);
  return group(`body-${side}`, [node("path", { d: points.map(one).join(""), class: className })]);
};

/** A scene for the `scenes` of a lesson. */
export const filmScene = <I, O>(spec: FilmSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const input = (state: S, name: string): number => (state.inputs as Record<string, number>)[name] as number;
  const frameAt = (state: S, instant: number): number => Math.max(0, Math.min(spec.track(state).a.length - 1, Math.round(instant * spec.captureRate(state))));

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const layout = width === "wide" ? WIDE : NARROW;
    const { narrow, picture, strip, left, right } = layout;
    const small = narrow ? "label label-small" : "label";
    const soft = "label label-soft";
    const letter = narrow ? 13 : 15;
    const track = spec.track(state);
    const count = track.a.length;
    const frame = frameAt(state, instant);
    const each = Math.ceil(count / MOST_DOTS);
    const thinned = (points: readonly Point[]): readonly Point[] => (each === 1 ? points : points.filter((_, i) => i % each === 0));
    const size = spec.pixelSize(state);
    const drawnAs = { a: spec.a.drawnAs(state), b: spec.b.drawnAs(state) };
    const nodes: Node[] = [sheetFrame(layout.width, layout.height)];
    const handles: Handle[] = [];
    const number = (value: number): string => write("count", value, { digits: 0 });
    const counted = `frame ${number(frame)} of ${number(count - 1)}`;
    /** A grip, with its handle where the grip stands: held on the sheet, whatever the value. */
    const hold = (name: string, [x, y]: Point, perUnit: number): void => {
      nodes.push(grip([x, y], name, ""));
      handles.push({ input: name, origin: [x - perUnit * input(state, name), y], perUnit: [perUnit, 0] });
    };
    if (count === 0) return { width: layout.width, height: layout.height, nodes, handles };

    const from = Math.max(0, Math.min(count - 1, Math.round(input(state, spec.from))));
    const to = Math.max(0, Math.min(count - 1, Math.round(input(state, spec.to))));
    const apart = (i: number): number => ((track.b[i] as number) - (track.a[i] as number)) * size.motion;
    const ahead = apart(from) / 2;
    // a trolley may have any length: one that reaches back to its marker
    const grown = (side: Side): number => (drawnAs[side] === "trolley" ? Math.max(1, ahead / ON_TROLLEY) : 1);

    // the cut of the picture in which the markers move
    const places = [...track.a, ...track.b];
    const margin = (BESIDE * Math.max(...SIDES.map((side) => LENGTH[drawnAs[side]] * grown(side)))) / size.motion;
    const low = Math.min(...places);
    const high = Math.max(...places);
    const middle = (low + high) / 2;
    const real = spec.staff.length(state) / size.staff;
    const reading = input(state, spec.staff.input);
    const staffWords = narrow ? write("distance", spec.staff.length(state)) : `staff of ${write("distance", spec.staff.length(state))}, read as ${number(reading)} pixels`;
    const staffRoom = widthOf(staffWords, letter) + 16 + overhang(0, 0);
    const perPixel = Math.min((right - left) / (high - low + 2 * margin), (right - left - staffRoom - 12) / real);
    const x = (pixel: number): number => (left + right) / 2 + (pixel - middle) * perPixel;
    const scale = perPixel / size.motion;
    const ground = picture.bottom - (narrow ? 44 : 62);

    // the fronts touch in the frame of first touch; what the markers close in beyond that is crush
    const crush = Math.max(0, apart(from) - apart(frame));
    const share = { a: spec.shareOfA(state), b: 1 - spec.shareOfA(state) };
    const outOf = { a: 1, b: -1 } as const;
    const now = { a: track.a[frame] as number, b: track.b[frame] as number };
    const radius = Math.max(3, (spec.markerWidth(state) / 2) * scale);
    const dotY = (side: Side): number => ground - HIGH[drawnAs[side]] * grown(side) * scale;
    const marker = (side: Side, at: Point): Node =>
      group(`body-${side}`, [
        side === "a" ? circle(at, radius, "shell") : rectangle(at[0] - radius, at[1] - radius, 2 * radius, 2 * radius, "shell"),
        line([at[0] - radius, at[1]], [at[0] + radius, at[1]], "reading-end"),
        line([at[0], at[1] - radius], [at[0], at[1] + radius], "reading-end"),
      ]);
    nodes.push(
      text([left + 2, layout.heading], counted, "label label-time"),
      ...(narrow ? [] : [text([left + Math.max(150, 12 + widthOf(counted, 17)), layout.heading], `${write("duration", frame / spec.captureRate(state), { digits: 0 })} after the first`, small)]),
      rectangle(left, picture.top, right - left, picture.bottom - picture.top, "scale-outline"),
      node("svg", { x: left + 1, y: picture.top + 1, width: right - left - 2, height: picture.bottom - picture.top - 2, viewBox: `${left + 1} ${picture.top + 1} ${right - left - 2} ${picture.bottom - picture.top - 2}`, class: "stage" }, [
        line([left, ground], [right, ground], "ground-line"),
        ...SIDES.map((side) => bodySide({ side, drawnAs: drawnAs[side], nose: x(now[side] + (outOf[side] * ahead) / size.motion), ground, scale: scale * grown(side), rearwards: side === "a" ? -1 : 1, crush: (share[side] * crush) / grown(side), tagRadius: narrow ? 8 : 12 })),
        ...SIDES.map((side) => dots(side, thinned(track[side].slice(0, frame).map((pixel): Point => [x(pixel), dotY(side)])), 1.4, "speed")),
        ...SIDES.map((side) => marker(side, [x(now[side]), dotY(side)])),
      ]),
    );
    const bar = roundNear("distance", 70 / scale, write);
    nodes.push(scaleBar(right - 2, layout.heading - 12, bar * scale, `${narrow ? "" : "to scale, "}${roundText("distance", bar, write)}`, "end"));

    // the staff as it stands in the picture, and its reading
    const staffY = ground + (narrow ? 14 : 20);
    const start = Math.max(x(middle - real / 2), left + staffRoom);
    const end = start + reading * perPixel;
    const steps = Array.from({ length: 5 }, (_, i) => i);
    nodes.push(
      ...steps.map((i) => rectangle(start + (real * perPixel * i) / 5, staffY, (real * perPixel) / 5, 6, i % 2 === 0 ? "scale-block" : "scale-outline")),
      // a reading that runs out of the picture has no end there
      end <= right ? dimension(start, end, staffY + 14, staffY, "") : line([start, staffY + 14], [right, staffY + 14], "reading-end"),
      text([start - 8 - overhang(start, end), staffY + 12], staffWords, narrow ? `${soft} label-small` : soft, "end"),
    );
    hold(spec.staff.input, [Math.min(end, right - 12), staffY + 14], perPixel);

    // the strip: place of both markers in every frame
    const perFrame = (strip.right - strip.left) / Math.max(1, count - 1);
    const t = (i: number): number => strip.left + i * perFrame;
    const y = (pixel: number): number => strip.bottom - ((pixel - low) / Math.max(1, high - low)) * (strip.bottom - strip.top);
    const every = Math.max(1, Math.ceil(count / TICKS / 5) * 5);
    nodes.push(
      line([strip.left, strip.top - 6], [strip.left, strip.bottom], "ground-line"),
      line([strip.left, strip.bottom], [strip.right, strip.bottom], "ground-line"),
      ...Array.from({ length: Math.floor((count - 1) / every) + 1 }, (_, i) => i * every).flatMap((i) => [line([t(i), strip.bottom], [t(i), strip.bottom + 5], "ground-tick"), text([t(i), strip.bottom + 19], number(i), `${soft} label-small`, "middle")]),
      text(narrow ? [right, strip.bottom + 64] : [strip.left - 8, strip.bottom + 19], "frame", `${soft} label-small`, "end"),
      text([left + 2, strip.top - (narrow ? 44 : 42)], "place across the picture", `${soft} label-small`),
      text([strip.left - 6, strip.top + 4], number(high), `${soft} label-small`, "end"),
      text([strip.left - 6, strip.bottom], number(low), `${soft} label-small`, "end"),
      ...SIDES.flatMap((side) => {
        const points = track[side].map((pixel, i): Point => [t(i), y(pixel)]);
        const drawn = thinned(points);
        const past = Math.floor(frame / each) + 1;
        return [dots(side, drawn.slice(0, past), 2.6, "speed"), dots(side, drawn.slice(past), 1.5, "start-speed")];
      }),
      line([t(frame), strip.top - 4], [t(frame), strip.bottom], "guide"),
    );
    // the words stand outside the two grips, whichever comes first; between them where the sheet ends, if they are far apart, else above
    const gap = Math.abs(t(to) - t(from));
    for (const [name, at, words, first] of [[spec.from, from, narrow ? "touch" : "first touch", from <= to], [spec.to, to, narrow ? "over" : "push over", to < from]] as const) {
      const long = widthOf(words, letter);
      const fits = first ? t(at) - 14 - long >= left : t(at) + 14 + long <= right;
      const out = fits === first ? -1 : 1;
      nodes.push(
        line([t(at), strip.top - 18], [t(at), strip.bottom], "contact-plane"),
        fits || gap > 2 * (long + 28) ? text([t(at) + 14 * out, strip.top - 14], words, small, out < 0 ? "end" : "start") : text([first ? left + 2 : right, strip.top - 30], words, small, first ? "start" : "end"),
      );
      hold(name, [t(at), strip.top - 18], perFrame);
    }
    // the smoothing window about the frame shown: a window has a frame in its middle
    const window = 2 * Math.floor((input(state, spec.window) - 1) / 2) + 1;
    // one that is longer than the film is drawn as long as the film
    const half = Math.min((window - 1) / 2, (count - 1) / 2);
    const centre = Math.max(half, Math.min(count - 1 - half, frame));
    const atEnd = centre < frame;
    const below = strip.bottom + 38;
    const ends: readonly [number, number] = [t(centre - half), t(centre + half)];
    // beside the window, on the side that has room for the words; between its ends where neither has
    const words = `${narrow ? "" : "smoothing "}window, ${number(window)} frames`;
    const room = widthOf(words, letter) + 18;
    const beside: readonly [Point, "start" | "middle" | "end"] = narrow
      ? [[left + 2, below + 26], "start"]
      : ends[1] + room <= right
        ? [[ends[1] + 18, below + 5], "start"]
        : ends[0] - room >= left
          ? [[ends[0] - 18, below + 5], "end"]
          : [[(ends[0] + ends[1]) / 2, below - 5], "middle"];
    nodes.push(
      dimension(ends[0], ends[1], below, below - 6, ""),
      text(beside[0], words, `${soft} label-small`, beside[1]),
    );
    // beside an end of the film the window is held there, and only its other end moves
    hold(spec.window, [atEnd ? ends[0] : ends[1], below], atEnd ? -perFrame : centre > frame ? perFrame : perFrame / 2);
    return { width: layout.width, height: layout.height, nodes, handles };
  };

  return {
    title: spec.title,
    duration: (state) => (state.outcome === undefined ? (spec.track(state).a.length - 1) / spec.captureRate(state) : 0),
    touch: (state) => (state.outcome === undefined ? input(state, spec.from) / spec.captureRate(state) : 0),
    draw,
    describe: (state, instant, write) => {
      const frame = frameAt(state, instant);
      const track = spec.track(state);
      const at = (side: Side): string => `the marker of ${spec[side].name(state)} at pixel ${write("count", track[side][frame] ?? 0, { digits: 0 })}`;
      return capital(`frame ${write("count", frame, { digits: 0 })}, ${write("duration", frame / spec.captureRate(state), { digits: 0 })} after the first: ${at("a")}, ${at("b")}.`);
    },
  };
};
