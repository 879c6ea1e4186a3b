/** A guided mass that falls and pulls two vehicles: elevation of both runs and the well, and the recoil zone of the lines in plan. To scale. */
import type { Drawing, Handle, Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { sheetFrame } from "./bodySide.ts";
import { slabMass } from "./instruments.ts";
import { arrow, circle, dimension, grip, group, hatching, line, type Point, polygon, rectangle, round, scaleBar, tag, text, widthOf } from "./marks.ts";
import { OUTLINES } from "./outlines.ts";
import { roundNear, roundText } from "./round.ts";
import type { DrawnAs } from "./spec.ts";
import { benchDigits, capital, madeOnce, type Side, SIDES } from "./staged.ts";

/** One vehicle on its line. */
export interface TowedBody<S> {
  readonly name: string;
  readonly drawnAs: DrawnAs;
  /** False where nothing hangs on that line. */
  readonly there?: (state: S) => boolean;
  /** Travel of the vehicle for each unit of drop. */
  readonly travelPerDrop: (state: S) => number;
  /** From release to the mark [m]. */
  readonly coast: (state: S) => number;
  /** Of the line from end to end, where that is known [m]; it is no shorter than its run on the ground. */
  readonly line?: number;
}

/** Where one vehicle and its line are at an instant. */
export interface TowedMoment {
  /** From rest [m] */
  readonly travel: number;
  readonly velocity: number;
  /** Of the line, at the vehicle [N] */
  readonly pull: number;
}

export interface TowMotionDrawn {
  /** Until the picture ends [s]. */
  readonly duration: number;
  /** Of the fall of the mass until release [s]; null where it is never released. */
  readonly release: number | null;
  readonly at: (time: number) => { readonly fall: number; readonly frameVelocity: number; readonly a: TowedMoment; readonly b: TowedMoment };
  /** Largest and steady pull of each line, for the bars of the pulls [N]. */
  readonly peak: number;
  readonly steady: { readonly a: number; readonly b: number };
}

export interface TowSpec<S> {
  readonly title: string;
  readonly at: "road" | "bench";
  readonly a: TowedBody<S>;
  readonly b: TowedBody<S>;
  /** Inputs that are dragged, and the largest value that the sheet leaves room for. */
  readonly mass: { readonly input: string; readonly to: number };
  readonly drop: { readonly input: string; readonly to: number };
  /** Depth in which the mass is stopped [m]. */
  readonly arrester: (state: S) => number;
  readonly motion: (state: S) => TowMotionDrawn;
  /** From every line and pulley to the edge of the area that is kept empty, where somebody has narrowed it [m]. */
  readonly narrowedTo?: number;
}

/** Sizes of the invented frame and well [m]. */
const SIZES = {
  road: { well: 3.2, frame: 2.4, tall: 1.8, pulley: 0.3, every: 5 },
  bench: { well: 0.16, frame: 0.07, tall: 0.1, pulley: 0.02, every: 0.2 },
} as const;

interface TowLayout {
  readonly width: number;
  readonly margin: number;
  readonly ground: number;
  readonly wellTo: number;
  readonly narrow: boolean;
  readonly mass: Point;
  readonly drop: Point;
  readonly pulls: Point;
  readonly bar: number;
  readonly planTop: number;
  readonly planHeight: number;
}

/** Wide: the instruments stand on both sides of the well. Narrow: under it. */
const LAYOUTS = {
  wide: { width: 1200, margin: 28, ground: 150, wellTo: 440, narrow: false, mass: [56, 250], drop: [56, 340], pulls: [780, 250], bar: 330, planTop: 474, planHeight: 300 },
  narrow: { width: 358, margin: 12, ground: 132, wellTo: 236, narrow: true, mass: [24, 276], drop: [24, 346], pulls: [24, 402], bar: 280, planTop: 486, planHeight: 210 },
} as const satisfies Record<string, TowLayout>;

/** Room that the well and its words take on both sides of its middle, in drawing units. */
const ASIDE = { left: 110, right: 160 } as const;
/** Points along the half outline of the recoil zone; closer near its ends, where it is steep. */
const ZONE_POINTS = 72;
/** Instants at which speeds are looked at for the longest arrow. */
const SAMPLES = 60;
/** Half of the room that the word over the mark takes, with paper beside it. */
const BESIDE_MARK = 22;
/** Longest scale bar of a plan on a narrow sheet, beside its heading. */
const PLAN_BAR = 45;


/** Half width of the area within `radius` of the stretch from 0 to `far`, over place x. */
const halfWidth = (x: number, far: number, radius: number): number => {
  const [low, high] = [Math.min(0, far), Math.max(0, far)];
  const beyond = Math.max(low - x, x - high, 0);
  return beyond >= radius ? 0 : Math.sqrt(radius ** 2 - beyond ** 2);
};


/** A scene for the `scenes` of a lesson. See `TowSpec`. */
export const towScene = <I, O>(spec: TowSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const sizes = SIZES[spec.at];
  const quantity = (state: S, input: string): number => (state.inputs as unknown as Record<string, number>)[input] as number;
  const still: TowMotionDrawn = {
    duration: 0,
    release: null,
    at: () => ({ fall: 0, frameVelocity: 0, a: { travel: 0, velocity: 0, pull: 0 }, b: { travel: 0, velocity: 0, pull: 0 } }),
    peak: 1,
    steady: { a: 0, b: 0 },
  };
  const motions = new WeakMap<object, TowMotionDrawn>();
  const motionOf = (state: S): TowMotionDrawn => {
    let found = motions.get(state);
    if (found === undefined) {
      found = state.outcome === undefined ? spec.motion(state) : still;
      motions.set(state, found);
    }
    return found;
  };
  const thereOn = (state: S, side: Side): boolean => spec[side].there?.(state) ?? true;
  /** From the mark to where the vehicle stands at the start; the line is as long. */
  const startOf = (state: S, side: Side): number => spec[side].travelPerDrop(state) * quantity(state, spec.drop.input) + spec[side].coast(state);
  const lengthDigits = (write: Write, si: number): string => write("length", si, spec.at === "bench" ? benchDigits(write) : { digits: si < 10 ? 1 : 0 });
  /** The speed of the longest arrow, whatever goes wrong in the run. */
  const fastestOf = madeOnce((state: S): number => {
    const motion = motionOf(state);
    return Math.max(...Array.from({ length: SAMPLES + 1 }, (_, i) => motion.at((motion.duration * i) / SAMPLES)).flatMap(({ a, b }) => [Math.abs(a.velocity), Math.abs(b.velocity)]));
  });

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const layout: TowLayout = LAYOUTS[width];
    const motion = motionOf(state);
    const now = motion.at(instant);
    const drop = quantity(state, spec.drop.input);
    const mass = quantity(state, spec.mass.input);
    const arrester = spec.arrester(state);
    const sides = SIDES.filter((side) => thereOn(state, side));
    const released = motion.release !== null && instant >= motion.release;
    const small = layout.narrow ? "label label-small" : "label";
    const every = roundNear("length", sizes.every, write);
    const barWords = roundText("length", every, write);

    // Elevation: as large as both runs and the well allow.
    const reachOf = (side: Side): number => (thereOn(state, side) ? startOf(state, side) + OUTLINES[spec[side].drawnAs].length : 2 * sizes.well);
    const [left, right] = [reachOf("a"), reachOf("b")];
    const deepest = drop + sizes.tall + arrester;
    const scale = Math.min((layout.width - 2 * layout.margin - 8) / (left + right), (layout.wellTo - layout.ground - 26) / deepest);
    const centre = layout.margin + 4 + left * scale + Math.max(0, (layout.width - 2 * layout.margin - 8 - (left + right) * scale) / 2);
    const x = (metres: number): number => centre + metres * scale;
    const y = (height: number): number => layout.ground - height * scale;
    const nodes: Node[] = [];
    const handles: Handle[] = [];

    /** Runs of the lines on the ground, how far each end can fly, and the drawing of both. */
    const planScale = (() => {
      const [a, b] = SIDES.map((side) => (thereOn(state, side) ? startOf(state, side) : 0)) as [number, number];
      const [reachA, reachB] = SIDES.map((side) => (thereOn(state, side) ? Math.max(startOf(state, side), spec[side].line ?? 0) : 0)) as [number, number];
      const [left, right] = [Math.max(a + reachA, reachB), Math.max(b + reachB, reachA)];
      return { a, b, reachA, reachB, left, right, scale: Math.min((layout.width - 2 * layout.margin - 8) / (left + right), (layout.planHeight - 8) / (2 * Math.max(reachA, reachB))) };
    })();
    const plan = spec.at === "road";
    const planEvery = roundNear("length", layout.narrow ? Math.min(2 * sizes.every, PLAN_BAR / planScale.scale) : 2 * sizes.every, write);
    const height = plan ? layout.planTop + layout.planHeight + (layout.narrow ? 78 : 56) : layout.narrow ? layout.planTop : layout.wellTo + 24;
    nodes.push(sheetFrame(layout.width, height));
    const said = released ? `${write("time", instant)}, lines let go` : `${write("time", instant)} after the mass is let go`;
    nodes.push(
      group("heading", [
        text([layout.margin + 2, layout.narrow ? 28 : 36], instant === 0 ? "before the mass is let go" : said, "label label-time"),
        scaleBar(layout.width - layout.margin - 2, layout.narrow ? 40 : 26, every * scale, layout.narrow ? barWords : `to scale, ${barWords}`, "end"),
      ]),
    );

    // The ground, the well in it, the mark over it.
    const half = sizes.well / 2;
    const bottom = y(-deepest);
    const earth: Point[] = [[x(-half) - 7, layout.ground], [x(-half), layout.ground], [x(-half), bottom], [x(half), bottom], [x(half), layout.ground], [x(half) + 7, layout.ground], [x(half) + 7, bottom + 7], [x(-half) - 7, bottom + 7]];
    nodes.push(
      group("ground", [
        line([layout.margin - 6, layout.ground], [layout.width - layout.margin + 6, layout.ground], "ground-line"),
        hatching(earth, 5, "wall-hatch"),
        line([x(-half), layout.ground], [x(-half), bottom], "ground-line"),
        line([x(half), layout.ground], [x(half), bottom], "ground-line"),
        line([x(-half), bottom], [x(half), bottom], "ground-line"),
      ]),
    );
    nodes.push(group("mark", [line([x(0), layout.ground - (layout.narrow ? 30 : 44)], [x(0), layout.ground], "contact-plane"), text([x(0), layout.ground - (layout.narrow ? 34 : 50)], "mark", "label label-soft", "middle")]));

    // The arrester: rings that crush; the frame goes into them at most to the bottom.
    const frameFoot = Math.min(now.fall, drop + arrester) + sizes.tall;
    const arresterTop = Math.max(drop + sizes.tall, frameFoot);
    const rings = 4;
    nodes.push(
      group(
        "arrester",
        Array.from({ length: rings }, (_, i) => {
          const from = y(-(arresterTop + ((deepest - arresterTop) * i) / rings));
          const to = y(-(arresterTop + ((deepest - arresterTop) * (i + 1)) / rings));
          const [out, mid] = [half * 0.7, (from + to) / 2];
          return group("ring", [line([x(-out), from], [x(out), mid], "extension"), line([x(out), mid], [x(-out), to], "extension")]);
        }),
      ),
    );

    // Lines: along the ground to the pulley at the well's mouth, then one part of line in the well for each unit of travel.
    const frameTop = y(-Math.min(now.fall, drop + arrester));
    for (const side of SIDES) {
      if (!thereOn(state, side)) {
        nodes.push(group("tow-line", []));
        continue;
      }
      const forward = side === "a" ? -1 : 1;
      const { pull, travel } = now[side];
      // a trolley is towed by its body, behind the buffer
      const hook = spec.at === "bench" ? OUTLINES[spec[side].drawnAs].firewall : 0;
      const tow: Point = [x(forward * (startOf(state, side) - travel + hook)), y(0.4 * OUTLINES[spec[side].drawnAs].height)];
      const pulley: Point = [x(forward * half) , layout.ground - Math.max(2, sizes.pulley * scale)];
      const parts = Math.max(1, Math.round(spec[side].travelPerDrop(state)));
      const inWell = Array.from({ length: parts }, (_, i): number => x((forward * sizes.frame * (0.9 - (0.6 * i) / Math.max(1, parts - 1))) / 2));
      const strength = pull > 0 && !released ? "reading-end" : "guide";
      nodes.push(
        group(`tow-line body-${side}`, [
          ...(released ? [] : [line(tow, pulley, strength)]),
          ...inWell.map((at) => line([at, layout.ground], [at, frameTop], strength)),
          circle(pulley, Math.max(2.4, sizes.pulley * scale), "tyre"),
        ]),
      );
    }

    // The frame, filled as far as it is heavy.
    const frameLeft = x(-sizes.frame / 2);
    const frameWidth = sizes.frame * scale;
    const full = Math.min(1, mass / spec.mass.to);
    nodes.push(
      group("frame", [
        rectangle(frameLeft, frameTop, frameWidth, sizes.tall * scale, "frame-outer"),
        rectangle(frameLeft, frameTop + sizes.tall * scale * (1 - full), frameWidth, sizes.tall * scale * full, "scale-block"),
        rectangle(frameLeft, frameTop, frameWidth, sizes.tall * scale, "frame-inner"),
      ]),
    );

    // Both vehicles, with speed arrows of one scale.
    const [first, last] = [layout.margin + 2, layout.width - layout.margin - 2];
    // each arrow keeps to its own side of the mark, where its words are
    const room = Math.min(layout.narrow ? 70 : 190, ...sides.map((side) => (side === "a" ? x(0) - first : last - x(0)) - BESIDE_MARK));
    const fastest = fastestOf(state) ?? 0;
    for (const side of SIDES) {
      if (!thereOn(state, side)) {
        nodes.push(group("vehicle", []));
        continue;
      }
      const outline = OUTLINES[spec[side].drawnAs];
      const facing = side === "a" ? -1 : 1;
      const { travel, velocity } = now[side];
      const nose = facing * (startOf(state, side) - travel);
      const at = (d: number, h: number): Point => [x(nose + facing * d), y(h)];
      const lane = y(outline.height) - (layout.narrow ? 12 : 16);
      const words = `${layout.narrow ? side.toUpperCase() : spec[side].name} ${write("speed", Math.abs(velocity))}`;
      const wide = widthOf(words, layout.narrow ? 13 : 15) * 1.12;
      const rear = at(outline.length, 0)[0];
      const [edge, anchor]: readonly [number, "start" | "end"] = side === "a" ? [Math.max(first, Math.min(rear, x(0) - wide - BESIDE_MARK)), "start"] : [Math.min(last, Math.max(rear, x(0) + wide + BESIDE_MARK)), "end"];
      const length = fastest > 0 ? (Math.abs(velocity) * room) / fastest : 0;
      const middle = at(outline.length / 2, 0)[0];
      const tail = side === "a" ? Math.min(middle, x(0) - BESIDE_MARK - length) : Math.max(middle, x(0) + BESIDE_MARK + length);
      nodes.push(
        group(`vehicle body-${side}`, [
          polygon(outline.shell.map(([d, h]) => at(d, h)), "shell"),
          ...outline.wheels.map(({ d, radius }) => circle(at(d, radius), Math.max(1.4, radius * scale), "tyre")),
          arrow([tail, lane], [tail - facing * length, lane], "speed", { width: 4, head: 11 }),
          text([edge, lane - 12], words, layout.narrow ? "label label-small label-strong" : "label label-strong", anchor),
        ]),
      );
      const mid = x((facing * (startOf(state, side) + spec[side].coast(state))) / 2);
      const run = spec[side].travelPerDrop(state) * drop;
      const whole = `pulled for ${lengthDigits(write, run)}, then ${lengthDigits(write, spec[side].coast(state))} to the mark`;
      nodes.push(
        group(`run body-${side}`, [
          dimension(x(facing * startOf(state, side)), x(facing * spec[side].coast(state)), layout.ground + 22, layout.ground + 4, `of-${side}`),
          text([mid, layout.ground + 40], widthOf(whole, 15) > run * scale - 16 ? lengthDigits(write, run) : whole, small, "middle"),
        ]),
      );
    }
    // Words of the fall, beside the well.
    const stops = `${lengthDigits(write, arrester)} to stop in`;
    const fallY = Math.max(y(-deepest) - 4, layout.ground + 60);
    const fits = x(half) + 14 + widthOf(stops, 14) <= last;
    nodes.push(
      group("fall", [
        text([fits ? x(half) + 14 : x(-half) - 14, fallY], stops, "label label-soft", fits ? "start" : "end"),
        ...(layout.narrow ? [] : [text([x(-half) - 14, y(-(drop + sizes.tall)) + 4], `drop ${lengthDigits(write, drop)}`, "label label-soft", "end")]),
      ]),
    );

    // On both sides of the well where both have room; else all on the side that has more.
    const clear = { left: centre - ASIDE.left, right: centre + ASIDE.right };
    const far = layout.width - 2 * layout.margin;
    const split = layout.narrow || (clear.left >= layout.mass[0] + layout.bar && clear.right <= layout.pulls[0] - 8);
    const stackX = clear.left - layout.margin > far - clear.right ? layout.mass[0] : far - layout.bar;
    const places = split ? layout : { mass: [stackX, 236] as Point, drop: [stackX, 310] as Point, pulls: [stackX, 356] as Point };
    const apart = layout.narrow ? 40 : split ? 62 : 48;

    // Dragged: the falling mass as a row of slabs, the drop as a bar.
    const [massX, massY] = places.mass;
    const perKilogram = layout.bar / spec.mass.to;
    const slab = slabMass(spec.mass.to, write);
    const end = massX + mass * perKilogram;
    nodes.push(
      group("ballast falling", [
        text([massX, massY - 9], `falling mass ${write("mass", mass)}`, "label label-strong"),
        rectangle(massX, massY, layout.bar, 22, "slab-room"),
        ...Array.from({ length: Math.ceil(mass / slab - 1e-9) }, (_, i) => rectangle(massX + i * slab * perKilogram, massY, Math.min(slab, mass - i * slab) * perKilogram - 1, 22, "scale-outline")),
        text([massX, massY + 38], `slabs of ${roundText("mass", slab, write)}`, "label label-soft"),
        line([end, massY - 4], [end, massY + 26], "reading-end"),
      ]),
      grip([end + 11, massY + 11], spec.mass.input, "falling"),
    );
    handles.push({ input: spec.mass.input, origin: [round(massX + 11), massY + 11], perUnit: [perKilogram, 0] });
    const [dropX, dropY] = places.drop;
    const perMetre = layout.bar / spec.drop.to;
    const dropEnd = dropX + drop * perMetre;
    nodes.push(
      group("drop", [
        text([dropX, dropY - 9], `drop ${lengthDigits(write, drop)}; fallen so far ${write("length", Math.min(now.fall, drop))}`, "label label-strong"),
        rectangle(dropX, dropY, layout.bar, 12, "slab-room"),
        rectangle(dropX, dropY, drop * perMetre, 12, "scale-outline"),
        rectangle(dropX, dropY, Math.min(now.fall, drop) * perMetre, 12, "scale-block"),
        line([dropEnd, dropY - 4], [dropEnd, dropY + 16], "reading-end"),
      ]),
      grip([dropEnd + 11, dropY + 6], spec.drop.input, "drop"),
    );
    handles.push({ input: spec.drop.input, origin: [round(dropX + 11), dropY + 6], perUnit: [perMetre, 0] });

    // Pull of each line now, against the steady one. Nothing is told before the mass is let go.
    const [pullX, pullY] = places.pulls;
    const perNewton = motion.peak > 0 ? layout.bar / motion.peak : 0;
    SIDES.forEach((side, i) => {
      const there = thereOn(state, side);
      const top = pullY + i * apart;
      const steady = pullX + motion.steady[side] * perNewton;
      nodes.push(
        group(
          `pull body-${side}`,
          there
            ? [
                text([pullX, top - 7], `pull on ${layout.narrow ? side.toUpperCase() : spec[side].name} ${write("force", now[side].pull, { digits: write.units === "customary" ? 0 : 2 })}${instant > 0 && (layout.narrow || !split) ? "; mark: steady" : ""}`, layout.narrow ? "label label-small label-strong" : "label label-strong"),
                rectangle(pullX, top, layout.bar, 12, "slab-room"),
                rectangle(pullX, top, now[side].pull * perNewton, 12, "slab"),
                ...(instant > 0 ? [line([steady, top - 3], [steady, top + 15], "reading-end"), ...(layout.narrow || !split ? [] : [text([steady + 4, top + 28], "steady pull", "label label-soft")])] : []),
              ]
            : [],
        ),
      );
    });

    // Plan: everything that a parted end could reach, round every tensioned leg and pulley. Never a lane.
    if (plan) {
      const { a, b, reachA, reachB, left, right, scale: s } = planScale;
      const mid = layout.margin + 4 + left * s + Math.max(0, (layout.width - 2 * layout.margin - 8 - (left + right) * s) / 2);
      const axis = layout.planTop + layout.planHeight / 2 + 14;
      const px = (metres: number): number => mid + metres * s;
      /** All within a reach of each line. */
      const area = (toA: number, toB: number): Point[] => {
        const [from, to] = [Math.min(-a - toA, -toB), Math.max(b + toB, toA)];
        const edge = Array.from({ length: ZONE_POINTS + 1 }, (_, i): readonly [number, number] => {
          const at = from + ((to - from) * (1 - Math.cos((Math.PI * i) / ZONE_POINTS))) / 2;
          return [at, Math.max(halfWidth(at, -a, toA), halfWidth(at, b, toB))];
        });
        return [...edge.map(([at, h]): Point => [px(at), axis - h * s]), ...[...edge].reverse().map(([at, h]): Point => [px(at), axis + h * s])];
      };
      const whole = area(reachA, reachB);
      const narrowed = spec.narrowedTo !== undefined && spec.narrowedTo < Math.max(reachA, reachB) ? spec.narrowedTo : undefined;
      const kept = narrowed === undefined ? whole : area(Math.min(reachA, narrowed), Math.min(reachB, narrowed));
      nodes.push(
        line([layout.margin - 6, layout.planTop - 16], [layout.width - layout.margin + 6, layout.planTop - 16], "rule"),
        group("recoil", [hatching(kept, layout.narrow ? 9 : 14, "wall-hatch"), ...(narrowed === undefined ? [] : [polygon(kept, "kept-edge")]), polygon(whole, "intrusion"), line([px(-a), axis], [px(b), axis], "reading-end"), circle([px(0), axis], 3, "tyre")]),
        tag("a", [px(-a), axis], 11),
        tag("b", [px(b), axis], 11),
        text([layout.margin + 2, layout.planTop + 2], "From above: recoil zone", "label label-strong"),
        scaleBar(layout.width - layout.margin - 2, layout.planTop - 6, planEvery * s, roundText("length", planEvery, write), "end"),
      );
      const words = [
        `the whole area: ${lengthDigits(write, reachA)} round the line of ${layout.narrow ? "A" : spec.a.name},`,
        `${lengthDigits(write, reachB)} round that of ${layout.narrow ? "B" : spec.b.name},`,
        narrowed === undefined ? "round every pulley and both vehicles; no lane" : `hatched: a named person narrowed it to ${lengthDigits(write, narrowed)}; no lane`,
      ];
      if (layout.narrow) words.forEach((each, i) => nodes.push(text([layout.margin + 2, height - 46 + 17 * i], each, "label label-small")));
      else nodes.push(text([layout.margin + 2, height - 18], words.join(" "), "label"));
    }
    return { width: layout.width, height, nodes, handles };
  };

  const describe = (state: S, instant: number, write: Write): string => {
    const motion = motionOf(state);
    const now = motion.at(instant);
    const released = motion.release !== null && instant >= motion.release;
    const vehicles = SIDES.filter((side) => thereOn(state, side)).map((side) => {
      const { travel, velocity, pull } = now[side];
      return `${capital(spec[side].name)} has gone ${lengthDigits(write, travel)} and moves at ${write("speed", Math.abs(velocity))}${released ? "" : `, pulled with ${write("force", pull, { digits: 2 })}`}`;
    });
    if (instant === 0) return capital(`before the mass is let go: ${SIDES.filter((side) => thereOn(state, side)).map((side) => `${spec[side].name} stands ${lengthDigits(write, startOf(state, side))} from the mark`).join(", ")}.`);
    return capital(`${write("time", instant)} after the mass is let go: it has fallen ${write("length", now.fall)} and moves at ${write("speed", Math.abs(now.frameVelocity))}. ${vehicles.join(". ")}.`);
  };

  return { title: spec.title, duration: (state) => motionOf(state).duration, draw, describe };
};
