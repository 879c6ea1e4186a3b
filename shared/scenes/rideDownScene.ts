/**
 * One car that stops at a wall with two riders in it at the same instant, one strapped and one loose: in side view and to scale, with the
 * way that car and riders have gone drawn from one start line. On a bench the car is a trolley and the riders are blocks.
 */
import type { Drawing, Handle, Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { bodySide, sheetFrame, stage, ticked } from "./bodySide.ts";
import { BEYOND } from "./instruments.ts";
import { arrow, circle, dimension, grip, group, hatching, line, type Point, polygon, polyline, rectangle, round, text } from "./marks.ts";
import { OUTLINES } from "./outlines.ts";
import { chestFront, person } from "./person.ts";
import { roundNear } from "./round.ts";
import type { DrawnAs } from "./spec.ts";
import { benchDigits, keyPlace, startKey, capital, clockTold, type Dragged, madeOnce, readInput, sheetHead } from "./staged.ts";

/** One of the three at an instant, over the ground since first touch. */
export interface RideMoment {
  readonly way: number;
  readonly speed: number;
}

export interface RiderMoment extends RideMoment {
  /** The part of the way on which nothing held the rider. */
  readonly freeWay: number;
}

export interface RideMotion {
  /** Time after first touch that can be shown [s]. */
  readonly duration: number;
  readonly at: (time: number) => { readonly car: RideMoment; readonly strapped: RiderMoment; readonly loose: RiderMoment };
}

export interface RideDownSpec<S> {
  readonly title: string;
  readonly bench: (state: S) => boolean;
  readonly drawnAs: (state: S) => DrawnAs;
  readonly name: (state: S) => string;
  readonly speed: Dragged<S>;
  /** Crush in which the car stops; travel inside before and while the strap holds; the same for the interior and the loose rider. */
  readonly stop: Dragged<S>;
  readonly slack: Dragged<S>;
  readonly give: Dragged<S>;
  readonly space: Dragged<S>;
  readonly dent: Dragged<S>;
  readonly motion: (state: S) => RideMotion;
}

interface Sheet {
  readonly width: number;
  readonly height: number;
  readonly margin: number;
  readonly ground: number;
  readonly heading: number;
  readonly arrowLane: number;
  readonly arrowLength: number;
  /** First lane of the ways, and the first ruler of the inputs; rows apart. */
  readonly lanes: number;
  readonly rulers: number;
  readonly laneStep: number;
  readonly rulerStep: number;
  /** From the start line to the wall, and the most drawing units per metre that the car's height allows. */
  readonly wall: number;
  readonly tall: number;
  readonly narrow: boolean;
}

const WIDE: Sheet = { width: 1200, height: 768, margin: 28, ground: 416, heading: 40, arrowLane: 84, arrowLength: 330, lanes: 446, rulers: 562, laneStep: 32, rulerStep: 44, wall: 1090, tall: 300, narrow: false };
const NARROW: Sheet = { width: 358, height: 664, margin: 12, ground: 246, heading: 30, arrowLane: 74, arrowLength: 170, lanes: 286, rulers: 418, laneStep: 40, rulerStep: 48, wall: 330, tall: 160, narrow: true };
const BAR = 12;
const WALL_THICKNESS = { road: 0.4, bench: 0.05 } as const;
/** Deck, post and blocks of an invented trolley [m]: the strapped block is the tall one, behind; the loose one lies in front. */
const BLOCKS = { deck: 0.072, rear: 0.03, length: 0.03, tall: 0.05, low: 0.026 };

/** A scene for the `scenes` of a lesson. */
export const rideDownScene = <I, O>(spec: RideDownSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const motionOf = madeOnce(spec.motion);
  const momentAt = (state: S, instant: number) => {
    const motion = motionOf(state);
    const speed = readInput(state, spec.speed).value;
    const still = { way: 0, speed, freeWay: 0 };
    return motion === null ? { car: still, strapped: still, loose: still } : motion.at(Math.min(instant, motion.duration));
  };

  const words = (state: S) => (spec.bench(state) ? { strapped: "strapped block", loose: "loose block" } : { strapped: "strapped rider", loose: "loose rider" });

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const sheet = width === "wide" ? WIDE : NARROW;
    const { narrow, margin, ground } = sheet;
    const isBench = spec.bench(state);
    const at = isBench ? "bench" : "road";
    const drawnAs = spec.drawnAs(state);
    const outline = OUTLINES[drawnAs];
    const { car, strapped, loose } = momentAt(state, instant);
    const dials = { stop: readInput(state, spec.stop), slack: readInput(state, spec.slack), give: readInput(state, spec.give), space: readInput(state, spec.space), dent: readInput(state, spec.dent) };
    const digits = isBench ? benchDigits(write) : { digits: 2 };
    const small = narrow ? "label label-small" : "label";
    const left = margin + 2;
    const right = sheet.width - left;

    // Riders face what they could meet; on a trolley the blocks stand at its rear end.
    const chest = isBench ? outline.length - BLOCKS.rear - BLOCKS.length : chestFront(outline);
    const height = isBench ? (BLOCKS.deck + BLOCKS.tall) * 1.3 : outline.height;
    const behind = isBench ? outline.length + 0.02 : (outline.hip?.[0] ?? 0) + 0.5;
    const scale = Math.min((sheet.tall * 1.5) / (height * (isBench ? 1.6 : 1.5)), (sheet.wall - left) / behind);
    const wallX = sheet.wall;
    const start = wallX - chest * scale;
    const handles: Handle[] = [];

    const every = roundNear("distance", isBench ? 0.05 : 0.5, write);
    const nodes: Node[] = [
      sheetFrame(sheet.width, sheet.height),
      ticked(left - 8, wallX, ground, every, (m) => wallX + m * scale, -(wallX - left) / scale),
      ...sheetHead(sheet, clockTold(instant, write), every, scale, write),
      startKey(keyPlace(sheet), instant, write),
    ];

    // The car, its front folded against the wall, and the two riders where they are now.
    const nose = wallX + car.way * scale;
    const place = (d: number, h: number): Point => [nose - d * scale, ground - h * scale];
    const travel = { strapped: strapped.way - car.way, loose: loose.way - car.way };
    const gone = Math.max(0, travel.loose - dials.space.value);
    const wall: Point[] = [[wallX, ground], [wallX, ground - height * 1.05 * scale], [wallX + WALL_THICKNESS[at] * scale, ground - height * 1.05 * scale], [wallX + WALL_THICKNESS[at] * scale, ground]];
    const riders: Node[] = [];
    if (isBench) {
      const box = (rider: "strapped" | "loose", high: number, className: string): Node => {
        const d = chest - travel[rider];
        return polygon([place(d, BLOCKS.deck), place(d + BLOCKS.length, BLOCKS.deck), place(d + BLOCKS.length, BLOCKS.deck + high), place(d, BLOCKS.deck + high)], className);
      };
      const plate = chest - dials.space.value - dials.dent.value;
      const foam: Point[] = [place(plate, BLOCKS.deck), place(plate + dials.dent.value - gone, BLOCKS.deck), place(plate + dials.dent.value - gone, BLOCKS.deck + BLOCKS.low), place(plate, BLOCKS.deck + BLOCKS.low)];
      const eye = chest - travel.strapped + BLOCKS.length;
      riders.push(
        line(place(outline.length - 0.006, BLOCKS.deck), place(outline.length - 0.006, BLOCKS.deck + BLOCKS.tall), "firewall-line"),
        polyline([place(outline.length - 0.006, BLOCKS.deck + 0.8 * BLOCKS.tall), place(eye, BLOCKS.deck + 0.8 * BLOCKS.tall)], "belt-line"),
        box("strapped", BLOCKS.tall, "bag"),
        box("loose", BLOCKS.low, "bag"),
        hatching(foam, 4, "intrusion"),
        line(place(plate, BLOCKS.deck), place(plate, BLOCKS.deck + 0.04), "firewall-line"),
      );
    } else {
      const interior = chest - Math.max(dials.space.value, travel.loose);
      const cowl = 0.62 * outline.height;
      const seat = { bag: false, space: dials.space.value };
      riders.push(
        polyline([place(outline.firewall, cowl), place(interior + 0.02, 0.6 * outline.height), place(interior, 0.54 * outline.height), place(interior + 0.02, 0.42 * outline.height)], "dash-line"),
        line(place(interior + 0.02, 0.5 * outline.height), place(interior + 0.1, 0.64 * outline.height), "wheel-rim"),
        person(outline, { ...seat, belted: false }, { torsoTravel: travel.loose, headTravel: travel.loose }, place, scale, interior, "person-beside"),
        person(outline, { ...seat, belted: true }, { torsoTravel: travel.strapped, headTravel: travel.strapped, beltForce: strapped.way > strapped.freeWay ? 1 : 0 }, place, scale, interior, "person-a"),
      );
    }
    const middle = isBench ? BLOCKS.length / 2 : 0.1;
    const heights = isBench ? { strapped: BLOCKS.deck + BLOCKS.tall - 0.011, loose: BLOCKS.deck + BLOCKS.low / 2 } : { strapped: (outline.hip?.[1] ?? 0) + 0.36, loose: (outline.hip?.[1] ?? 0) + 0.2 };
    const radius = narrow ? 8 : 11;
    const badge = (rider: "strapped" | "loose"): Node => {
      const [x, y] = place(chest + middle - travel[rider], heights[rider]);
      const shape = rider === "strapped" ? circle([x, y], radius, "tag-shape") : rectangle(x - radius, y - radius, 2 * radius, 2 * radius, "tag-shape");
      return group(`tag body-${rider === "strapped" ? "a" : "b"}`, [shape, text([x, y + 5], rider === "strapped" ? "S" : "L", "tag-letter", "middle")]);
    };
    nodes.push(
      stage(sheet.width, sheet.arrowLane + 12, ground + 6, [
        group("wall", [polygon(wall, "wall-face"), hatching(wall, 9, "wall-hatch"), line(wall[0] as Point, wall[1] as Point, "wall-edge")]),
        bodySide({ side: "a", drawnAs, nose, ground, scale, rearwards: -1, crush: car.way, foldLength: dials.stop.value, tagRadius: 0 }),
        group("people body-a", riders),
        badge("loose"),
        badge("strapped"),
      ]),
    );

    // The speed: what all three start with, and what the car has now.
    const speed = readInput(state, spec.speed);
    const per = sheet.arrowLength / speed.to;
    nodes.push(
      group("motion body-a", [
        arrow([left, sheet.arrowLane], [left + speed.value * per, sheet.arrowLane], "start-speed", { width: 5, head: 14 }),
        arrow([left, sheet.arrowLane], [left + car.speed * per, sheet.arrowLane], "speed", { width: 5, head: 14 }),
        line([left, sheet.arrowLane - 7], [left, sheet.arrowLane + 7], "arrow-foot"),
        text([left, sheet.arrowLane - 14], `${capital(spec.name(state))} ${write("speed", car.speed)}`, `${small} label-strong`),
      ]),
    );
    if (speed.input !== null) {
      nodes.push(grip([left + speed.value * per + BEYOND, sheet.arrowLane], speed.input, "body-a"));
      handles.push({ input: speed.input, origin: [left + BEYOND, sheet.arrowLane], perUnit: [per, 0] });
    }

    // Ways over the ground, from one start line: outlined where nothing holds, filled where something slows.
    const named = words(state);
    const ways = [
      { label: isBench ? "trolley" : "car", moment: car, free: 0, body: "both" },
      { label: `${named.strapped} S`, moment: strapped, free: strapped.freeWay, body: "a" },
      { label: `${named.loose} L`, moment: loose, free: loose.freeWay, body: "b" },
    ] as const;
    // on a narrow sheet the words stand above their lane, and the start line leaves room for them
    const startLine = (y: number): Node[] => (narrow ? [line([start, y - 3], [start, y + BAR + 3], "contact-plane")] : []);
    nodes.push(...(narrow ? [] : [line([start, ground + 10], [start, sheet.height - 22], "contact-plane")]));
    ways.forEach(({ label, moment, free, body }, i) => {
      const y = sheet.lanes + i * sheet.laneStep;
      const open = Math.min(free, moment.way);
      const told = `${capital(label)} ${narrow ? "" : "has gone "}${write("distance", moment.way, digits)}, now ${write("speed", moment.speed)}`;
      const end = start + moment.way * scale;
      nodes.push(
        group(`way body-${body}`, [
          ...startLine(y),
          rectangle(start, y, open * scale, BAR, "scale-outline"),
          rectangle(start + open * scale, y, (moment.way - open) * scale, BAR, "slab"),
          line([end, i === 0 ? ground + 8 : y - 4], [end, y + BAR + 3], i === 0 ? "guide" : "reading-end"),
          narrow ? text([left, y - 6], told, small) : text([start - 22, y + BAR - 1], told, small, "end"),
        ]),
      );
    });

    // The lengths that are set, from the same line and to the same scale.
    const rule = sheet.rulers - (narrow ? 30 : 18);
    nodes.push(line([left - 8, rule], [right + 8, rule], "rule"));
    const rulers = [
      { dial: dials.stop, from: 0, label: isBench ? "trolley stops in" : "car stops in", body: "both" },
      { dial: dials.slack, from: 0, label: isBench ? "slack of the thread" : "slack of the strap", body: "a" },
      { dial: dials.give, from: dials.slack.value, label: isBench ? "then the tape peels off" : "then the strap gives", body: "a" },
      { dial: dials.space, from: 0, label: "free space ahead", body: "b" },
      { dial: dials.dent, from: dials.space.value, label: isBench ? "then the foam gives" : "then the interior gives", body: "b" },
    ] as const;
    rulers.forEach(({ dial, from, label, body }, i) => {
      const y = sheet.rulers + i * sheet.rulerStep;
      const x1 = start + from * scale;
      const x2 = x1 + dial.value * scale;
      const told = `${capital(label)} ${write("distance", dial.value, digits)}`;
      nodes.push(
        group(`ruler body-${body}`, [
          ...startLine(y - BAR / 2),
          dimension(x1, x2, y, y - 6, ""),
          narrow ? text([left, y - 14], told, small) : text([start - 22, y + 5], told, `${small} row-label`, "end"),
        ]),
      );
      if (dial.input === null) return;
      nodes.push(grip([x2 + BEYOND + 8, y], dial.input, `body-${body}`));
      handles.push({ input: dial.input, origin: [round(x1 + BEYOND + 8), y], perUnit: [scale, 0] });
    });
    return { width: sheet.width, height: sheet.height, nodes, handles };
  };

  return {
    title: spec.title,
    duration: (state) => motionOf(state)?.duration ?? 0,
    draw,
    describe: (state, instant, write) => {
      const { car, strapped, loose } = momentAt(state, instant);
      const named = words(state);
      const one = (who: string, { way, speed }: RideMoment): string => `${who} has gone ${write("distance", way)} and moves at ${write("speed", speed)}`;
      return `${instant === 0 ? "At first touch" : clockTold(instant, write)}: ${one(spec.name(state), car)}, ${one(`the ${named.strapped}`, strapped)}, ${one(`the ${named.loose}`, loose)}.`;
    },
  };
};
