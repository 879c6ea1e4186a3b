/**
 * Four trolleys of a class run into a stop at one speed, light and heavy, with a soft and a stiff buffer, each with a loose block on its
 * deck: in side view, side by side at one instant and to scale. How far each block slid is what the class reads.
 */
import type { Drawing, Handle, Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { bodySide, sheetFrame, stage, ticked } from "./bodySide.ts";
import { ballast, BEYOND, type Instrument, type Reading } from "./instruments.ts";
import { dimension, grip, group, hatching, line, type Point, polygon, rectangle, text } from "./marks.ts";
import { OUTLINES } from "./outlines.ts";
import { barOf, benchDigits, capital, clockTold, type Dragged, madeOnce, readInput, sheetHead, speedArrows } from "./staged.ts";

export const BUFFERS = ["soft", "stiff"] as const;
export type Buffer = (typeof BUFFERS)[number];
const MASSES = ["light", "heavy"] as const;
type Mass = (typeof MASSES)[number];
const BODY = { light: "a", heavy: "b" } as const;

/** One trolley at an instant after first touch: how far its buffer is pressed in, and how far the block has slid on the deck. */
export interface FleetMoment {
  readonly crush: number;
  readonly slid: number;
}
export interface FleetMotion {
  /** Time after first touch until the last block rests [s]. */
  readonly duration: number;
  readonly at: (time: number) => Readonly<Record<Mass, Readonly<Record<Buffer, FleetMoment>>>>;
}

export interface FleetSpec<S> {
  readonly title: string;
  readonly speed: Dragged<S>;
  readonly masses: Readonly<Record<Mass, Dragged<S>>>;
  readonly stiffnesses: Readonly<Record<Buffer, Dragged<S>>>;
  /** Called for states that have outputs only, once for each. */
  readonly motion: (state: S) => FleetMotion;
}

const { trolley } = OUTLINES;
/** Block and deck of an invented trolley [m]; the block starts at the rear end. */
const BLOCK = { length: 0.034, height: 0.03, deck: 0.072, from: 0.306, to: 0.146 };
/** How far a buffer can be pressed in and a block can slide before its front edge leaves the deck [m]. */
export const FLEET_ROOM = { buffer: trolley.fold, deck: BLOCK.from - BLOCK.to } as const;

/** Longest way in at instant 0, thickness of the stop, and what is shown of each run [m]. */
const GAP = 0.14;
const STOP = { thickness: 0.03, height: 0.12 };
const SPAN = GAP + trolley.length + STOP.thickness + 0.02;
const LONGEST = 3;

const WIDE = { width: 1200, height: 622, margin: 28, heading: 40, lane: 92, laneLength: 300, first: 116, pitch: 188, columns: 2, cell: 556, ground: 172, dials: { light: [34, 552], heavy: [330, 552], soft: [626, 552], stiff: [922, 552] }, dial: 220, narrow: false } as const;
const NARROW = { width: 358, height: 842, margin: 12, heading: 30, lane: 76, laneLength: 200, first: 90, pitch: 146, columns: 1, cell: 334, ground: 128, dials: { light: [14, 708], heavy: [192, 708], soft: [14, 792], stiff: [192, 792] }, dial: 121, narrow: true } as const;
const DIAL_HEIGHT = 24;

/** A bar as long as the stiffness; its end is dragged. */
const stiffnessBar = ({ input, value, to }: Reading, [x, y]: Point, width: number, buffer: Buffer, write: Write): Instrument => {
  const per = width / to;
  const end = x + value * per;
  return {
    nodes: [
      text([x, y - 9], `${buffer} ${write("stiffness", value)}`, "label label-strong"),
      rectangle(x, y, width, DIAL_HEIGHT / 2, "slab-room"),
      rectangle(x, y, value * per, DIAL_HEIGHT / 2, "scale-block"),
      ...(input === null ? [] : [grip([end + BEYOND, y + DIAL_HEIGHT / 4], input, "")]),
    ],
    handles: input === null ? [] : [{ input, origin: [x + BEYOND, y + DIAL_HEIGHT / 4], perUnit: [per, 0] }],
  };
};

/** A scene for the `scenes` of a lesson. */
export const fleetScene = <I, O>(spec: FleetSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const motionOf = madeOnce(spec.motion);
  const speedOf = (state: S): number => readInput(state, spec.speed).value;
  const leadOf = (state: S): number => (speedOf(state) > 0 ? Math.min(LONGEST, GAP / speedOf(state)) : 0);
  const endOf = (state: S): number => motionOf(state)?.duration ?? 0;
  const still: FleetMoment = { crush: 0, slid: 0 };
  const momentsAt = (state: S, time: number) => {
    const motion = motionOf(state);
    return motion === null || time < 0 ? { light: { soft: still, stiff: still }, heavy: { soft: still, stiff: still } } : motion.at(Math.min(time, motion.duration));
  };
  const told = ({ crush, slid }: FleetMoment, write: Write, narrow: boolean): string => `${narrow ? "" : `pressed in ${write("distance", crush, benchDigits(write))}, `}block slid ${write("distance", slid, benchDigits(write))}`;

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const sheet = width === "wide" ? WIDE : NARROW;
    const { narrow, margin } = sheet;
    const small = narrow ? "label label-small" : "label";
    const time = Math.min(instant - leadOf(state), endOf(state));
    const moments = momentsAt(state, time);
    const speed = readInput(state, spec.speed);
    const scale = sheet.cell / SPAN;
    const bar = barOf("bench", write);
    const nodes: Node[] = [sheetFrame(sheet.width, sheet.height), ...sheetHead(sheet, clockTold(time, write), bar, scale, write)];
    const handles: Handle[] = [];

    // One speed for all four: it belongs to the sheet, not to a trolley.
    const tail = margin + 4;
    const per = sheet.laneLength / speed.to;
    nodes.push(group("motion body-both", [...speedArrows(tail, sheet.lane, 1, speed.value, speed.value, per), text([tail, sheet.lane - 14], `all four meet the stop at ${write("speed", speed.value, { digits: 2 })}`, `${small} label-strong`)]));
    if (speed.input !== null) {
      nodes.push(grip([tail + speed.value * per + BEYOND, sheet.lane], speed.input, ""));
      handles.push({ input: speed.input, origin: [tail + BEYOND, sheet.lane], perUnit: [per, 0] });
    }

    BUFFERS.flatMap((buffer) => MASSES.map((mass) => ({ buffer, mass }))).forEach(({ buffer, mass }, i) => {
      const left = margin + (i % sheet.columns) * (sheet.width - 2 * margin - sheet.cell);
      const top = sheet.first + Math.floor(i / sheet.columns) * sheet.pitch;
      const ground = top + sheet.ground;
      const face = left + sheet.cell - (STOP.thickness + 0.004) * scale;
      const x = (metres: number): number => face + metres * scale;
      const body = BODY[mass];
      const moment = moments[mass][buffer];
      const nose = time < 0 ? speed.value * time : moment.crush;
      const on = (depth: number, height: number): Point => [x(nose - depth), ground - height * scale];
      const block = BLOCK.from - moment.slid;
      const high = BLOCK.deck + BLOCK.height;
      const stop: Point[] = [[face, ground - STOP.height * scale], [x(STOP.thickness), ground - STOP.height * scale], [x(STOP.thickness), ground], [face, ground]];
      nodes.push(
        ticked(left, left + sheet.cell, ground, bar, x, (left - face) / scale),
        stage(sheet.width, top, ground + 1, [
          group("wall", [polygon(stop, "wall-face"), hatching(stop, 9, "wall-hatch"), line(stop[0] as Point, stop[3] as Point, "wall-edge")]),
          // the body's foremost point keeps its place, its front folds behind it
          bodySide({ side: body, drawnAs: "trolley", nose: x(nose), ground, scale, rearwards: -1, crush: moment.crush, tagRadius: 0 }),
          polygon([on(block, BLOCK.deck), on(block + BLOCK.length, BLOCK.deck), on(block + BLOCK.length, high), on(block, high)], "bag"),
          line(on(BLOCK.from, BLOCK.deck), on(BLOCK.from, high + 0.008), "firewall-line"),
        ]),
        text([left, top + 16], narrow ? `${mass}, ${buffer}` : `${mass}, ${buffer} buffer`, `${small} label-strong`),
        text([left + sheet.cell, top + 16], told(moment, write, narrow), small, "end"),
      );
      if (moment.slid * scale >= 1) nodes.push(dimension(on(BLOCK.from, 0)[0], on(block, 0)[0], ground - (high + 0.014) * scale, ground - high * scale, `body-${body}`));
    });

    const rule = sheet.dials.light[1] - 30;
    nodes.push(line([margin - 6, rule], [sheet.width - margin + 6, rule], "rule"));
    const masses = { light: readInput(state, spec.masses.light), heavy: readInput(state, spec.masses.heavy) };
    const rowTo = Math.max(masses.light.to, masses.heavy.to);
    const stiffnesses = { soft: readInput(state, spec.stiffnesses.soft), stiff: readInput(state, spec.stiffnesses.stiff) };
    const stiffest = Math.max(stiffnesses.soft.to, stiffnesses.stiff.to);
    nodes.push(...MASSES.map((mass) => text([sheet.dials[mass][0] + sheet.dial, sheet.dials[mass][1] - 9], mass, "label label-soft", "end")));
    const dials = [
      ...MASSES.map((mass) => ballast(masses[mass], rowTo, sheet.dials[mass], sheet.dial, BODY[mass], write)),
      ...BUFFERS.map((buffer) => stiffnessBar({ ...stiffnesses[buffer], to: stiffest }, sheet.dials[buffer], sheet.dial, buffer, write)),
    ];
    return { width: sheet.width, height: sheet.height, nodes: [...nodes, ...dials.flatMap((dial) => dial.nodes)], handles: [...handles, ...dials.flatMap((dial) => dial.handles)] };
  };

  return {
    title: spec.title,
    duration: (state) => leadOf(state) + endOf(state),
    touch: leadOf,
    draw,
    describe: (state, instant, write) => {
      const time = Math.min(instant - leadOf(state), endOf(state));
      const moments = momentsAt(state, time);
      if (time <= 0) return `${capital(clockTold(time, write))}: four trolleys, light and heavy, with a soft and a stiff buffer, meet the stop at ${write("speed", speedOf(state), { digits: 2 })}.`;
      return `${capital(clockTold(time, write))}. ${MASSES.flatMap((mass) => BUFFERS.map((buffer) => `${capital(mass)} trolley, ${buffer} buffer: ${told(moments[mass][buffer], write, false)}.`)).join(" ")}`;
    },
  };
};
