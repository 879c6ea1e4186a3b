/**
 * Two bodies that meet off-centre, from above and to scale: before touch, and after it with the way each moves on and turns. The one push
 * is drawn through the place of contact, with its arm about each mass centre. The handles on the sheet are the lesson's inputs.
 */
import type { Drawing, Handle, Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { sheetFrame, stage } from "./bodySide.ts";
import { BEYOND, type Reading } from "./instruments.ts";
import { arrow, circle, dimension, grip, group, hatching, line, type Point, polygon, polyline, rectangle, round, tag, text } from "./marks.ts";
import { barFor, benchDigits, capital, clockTold, type Dragged, isAt, madeOnce, readInput, sheetHead, type Side, SIDES } from "./staged.ts";

/** In the plane: x the way that a comes, y to its left. */
interface Place {
  readonly x: number;
  readonly y: number;
}

export interface PlanBody {
  readonly length: number;
  readonly width: number;
  /** At touch: mass centre from the place of contact [m], and the way it faces, anticlockwise from the way a comes [rad]. */
  readonly centre: Place;
  readonly heading: number;
  readonly before: Place;
  readonly after: Place;
  /** Anticlockwise [rad/s]. */
  readonly turning: number;
}

export interface PlanMotion {
  readonly a: PlanBody;
  readonly b: PlanBody;
  /** Direction of the push on b, anticlockwise from the way a comes [rad]. */
  readonly push: number;
  /** Where the energy is after touch, in words and in joules; all together what there was. */
  readonly ledger: readonly { readonly words: string; readonly energy: number; readonly mark: "open" | "hatched" | "dark" | "grey" | "crossed" }[];
}

export interface PlanBar<S> extends Dragged<S> {
  readonly body?: Side;
  readonly words: (state: S, value: number, write: Write) => string;
}

export interface OffCentreSpec<S> {
  readonly title: string;
  readonly bench: (state: S) => boolean;
  readonly names: (state: S) => Readonly<Record<Side, string>>;
  readonly bars: readonly PlanBar<S>[];
  /** Called for states that have outputs only. */
  readonly motion: (state: S) => PlanMotion;
}

interface Sheet {
  readonly width: number;
  readonly height: number;
  readonly margin: number;
  readonly heading: number;
  /** The plan: left, top, width, height. */
  readonly plan: readonly [number, number, number, number];
  readonly told: Point;
  /** The energy: one strip, and what its parts stand for. */
  readonly strip: readonly [x: number, y: number, width: number];
  readonly key: readonly [x: number, y: number, step: number];
  readonly bars: readonly [x: number, y: number, width: number, step: number];
  readonly narrow: boolean;
}
const WIDE: Sheet = { width: 1200, height: 800, margin: 28, heading: 40, plan: [16, 56, 620, 664], told: [668, 92], strip: [34, 750, 590], key: [668, 660, 26], bars: [668, 190, 440, 56], narrow: false };
const NARROW: Sheet = { width: 358, height: 1114, margin: 12, heading: 30, plan: [8, 42, 342, 430], told: [14, 500], strip: [14, 578, 326], key: [14, 622, 21], bars: [14, 796, 270, 50], narrow: true };

/** Room ahead, behind and between, as shares of both lengths. */
const APART = 0.12;
const AROUND = 1.42;
/** How long the motion after touch is followed: until the first closing speed would have covered so many times both lengths. */
const FOLLOWED = 2.2;
/** No body is followed further than this share of both lengths. */
const FARTHEST = 0.16;
const LONGEST_APPROACH = 3;
/** Paper between an arrow's tip and the edge of the plan, in drawing units. */
const EDGE = 8;
/** An energy of more figures than this is told without decimals. */
const LONG_ENERGY = /\d\d\.\d/;

/** An invented outline from above, in shares of length and half width, forwards first. */
const SHELL: readonly (readonly [number, number])[] = [
  [0.5, 0.62], [0.5, -0.62], [0.47, -0.86], [0.4, -0.97], [0.2, -1], [-0.4, -1], [-0.47, -0.94], [-0.5, -0.8], [-0.5, 0.8], [-0.47, 0.94], [-0.4, 1], [0.2, 1], [0.4, 0.97], [0.47, 0.86],
];
const GLASS: readonly (readonly (readonly [number, number])[])[] = [
  [[0.2, 0.82], [0.2, -0.82], [0.1, -0.68], [0.1, 0.68]],
  [[-0.4, 0.72], [-0.4, -0.72], [-0.33, -0.64], [-0.33, 0.64]],
];
const BLOCK: readonly (readonly [number, number])[] = [[0.5, 1], [0.5, -1], [-0.5, -1], [-0.5, 1]];

/** A part of the strip: told apart in black and white too. */
const swatch = (mark: PlanMotion["ledger"][number]["mark"], x: number, y: number, wide: number, high: number): Node[] => {
  const box: Point[] = [[x, y], [x + wide, y], [x + wide, y + high], [x, y + high]];
  return [
    rectangle(x, y, wide, high, mark === "dark" ? "scale-block" : mark === "grey" ? "slab" : "scale-outline"),
    ...(mark === "hatched" || mark === "crossed" ? [hatching(box, 5, "wall-hatch")] : []),
    ...(mark === "crossed" ? [hatching(box, 5, "wall-hatch", -1)] : []),
  ];
};

/** A scene for the `scenes` of a lesson. */
export const offCentreScene = <I, O>(spec: OffCentreSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const motionOf = madeOnce(spec.motion);
  const closingOf = ({ a, b }: PlanMotion): number => a.before.x - b.before.x;
  const bothOf = ({ a, b }: PlanMotion): number => a.length + b.length;
  const leadOf = (motion: PlanMotion): number => Math.min(LONGEST_APPROACH, (APART * bothOf(motion)) / closingOf(motion));
  const durationOf = (state: S): number => {
    const motion = motionOf(state);
    if (motion === null) return 0;
    const fastest = Math.max(...SIDES.map((side) => Math.hypot(motion[side].after.x, motion[side].after.y)));
    return leadOf(motion) + Math.min((FOLLOWED * bothOf(motion)) / closingOf(motion), (FARTHEST * bothOf(motion)) / fastest);
  };
  /** At the very touch both still are as they came. */
  const isPast = (time: number): boolean => time > 0 && !isAt(time);

  const told = (name: string, { before, after, turning }: PlanBody, past: boolean, write: Write): string => {
    const now = past ? after : before;
    const along = `${capital(name)}: ${write("speed", Math.hypot(now.x, now.y))}`;
    if (!past) return along;
    const turns = write("turning", Math.abs(turning));
    return `${along}, ${/[1-9]/.test(turns) ? `turns ${turning > 0 ? "left" : "right"} at ${turns}` : "does not turn"}`;
  };

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const sheet = width === "wide" ? WIDE : NARROW;
    const { narrow, margin } = sheet;
    const motion = motionOf(state);
    const isBench = spec.bench(state);
    const names = spec.names(state);
    const small = narrow ? "label label-small" : "label";
    const left = margin + 2;
    const right = sheet.width - left;
    const handles: Handle[] = [];
    const [px, py, pw, ph] = sheet.plan;
    const nodes: Node[] = [sheetFrame(sheet.width, sheet.height)];

    if (motion !== null) {
      const lead = leadOf(motion);
      const time = instant - lead;
      const past = isPast(time);
      const both = bothOf(motion);
      const scale = Math.min(ph / (AROUND * both), pw / (0.9 * both));
      // Contact a little above the middle where b is the shorter one, so that both ends stay on the sheet.
      const origin: Point = [px + pw / 2, py + ph / 2 + ((motion.b.length - motion.a.length) / 2) * scale];
      const at = ({ x, y }: Place): Point => [origin[0] - y * scale, origin[1] - x * scale];
      const every = barFor(isBench ? 0.1 : 1, scale, narrow, write);
      nodes.push(...sheetHead(sheet, clockTold(time, write), every, scale, write));

      const centreOf = ({ centre, before, after }: PlanBody, t: number): Place => ({ x: centre.x + (t < 0 ? before.x : after.x) * t, y: centre.y + (t < 0 ? before.y : after.y) * t });
      const shape = (body: PlanBody, centre: Place, heading: number, points: readonly (readonly [number, number])[]): Point[] =>
        points.map(([f, s]) => {
          const [dx, dy] = [f * body.length, (s * body.width) / 2];
          return at({ x: centre.x + dx * Math.cos(heading) - dy * Math.sin(heading), y: centre.y + dx * Math.sin(heading) + dy * Math.cos(heading) });
        });
      // Speed arrows of one scale, as long as lets every tip stay on the plan.
      const end = durationOf(state) - lead;
      const per = Math.min(
        (0.5 * both) / closingOf(motion),
        ...SIDES.flatMap((side) =>
          ([[-lead, "before"], [0, "before"], [0, "after"], [end, "after"]] as const).flatMap(([t, when]) => {
            const [cx, cy] = at(centreOf(motion[side], t));
            const v = motion[side][when];
            const [dx, dy] = [-v.y * scale, -v.x * scale];
            const room = (from: number, by: number, low: number, high: number): number => (by > 0 ? Math.max(0, high - from) / by : by < 0 ? Math.max(0, from - low) / -by : Infinity);
            return [room(cx, dx, px + EDGE, px + pw - EDGE), room(cy, dy, py + EDGE, py + ph - EDGE)];
          }),
        ),
      );
      const drawn = SIDES.map((side) => {
        const body = motion[side];
        const centre = centreOf(body, time);
        const heading = body.heading + (past ? body.turning * time : 0);
        const outline = isBench ? BLOCK : SHELL;
        const now = past ? body.after : body.before;
        const here = at(centre);
        const tip = at({ x: centre.x + now.x * per, y: centre.y + now.y * per });
        return group(`vehicle body-${side}`, [
          ...(past ? [polygon(shape(body, body.centre, body.heading, outline), "ghost"), polyline([at(body.centre), here], "ghost")] : []),
          polygon(shape(body, centre, heading, outline), "shell"),
          // The block that comes has a wheel about an upright axle on its nose.
          ...(isBench ? (side === "a" ? [circle(at({ x: centre.x + ((body.length - body.width) / 2) * Math.cos(heading), y: centre.y + ((body.length - body.width) / 2) * Math.sin(heading) }), (body.width / 2) * scale, "scale-outline")] : []) : GLASS.map((glass) => polygon(shape(body, centre, heading, glass), "window"))),
          arrow(here, tip, "speed", { width: 4, head: 12 }),
          tag(side, here, narrow ? 8 : 12),
        ]);
      });
      // Before: the two lines of travel, and how far apart they are.
      const travel: Node[] = [];
      if (!past) {
        const centres = { a: at(centreOf(motion.a, time)), b: at(centreOf(motion.b, time)) };
        for (const side of SIDES) {
          const { heading } = motion[side];
          const reach = 0.7 * both * scale;
          const [cx, cy] = centres[side];
          travel.push(line([cx + Math.sin(heading) * reach, cy + Math.cos(heading) * reach], [cx - Math.sin(heading) * reach, cy - Math.cos(heading) * reach], "contact-plane"));
        }
        const y = py + ph - 26;
        if (Math.abs(centres.a[0] - centres.b[0]) > 1) travel.push(dimension(centres.a[0], centres.b[0], y, y - 8, ""), text([Math.max(centres.a[0], centres.b[0]) + 22, y + 5], "offset", small));
      }
      // The line of the push, and how far it passes from each mass centre.
      const arms: Node[] = [];
      if (past) {
        const along: Place = { x: Math.cos(motion.push), y: Math.sin(motion.push) };
        const reach = 0.62 * both;
        arms.push(line(at({ x: -along.x * reach, y: -along.y * reach }), at({ x: along.x * reach, y: along.y * reach }), "contact-plane"));
        const length = (narrow ? 46 : 70) / scale;
        arms.push(
          arrow(at({ x: 0, y: 0 }), at({ x: along.x * length, y: along.y * length }), "force", { width: 6, head: 14 }),
          arrow(at({ x: 0, y: 0 }), at({ x: -along.x * length, y: -along.y * length }), "force", { width: 6, head: 14 }),
        );
        for (const side of SIDES) {
          const { centre } = motion[side];
          const distance = centre.x * along.x + centre.y * along.y;
          const foot: Place = { x: along.x * distance, y: along.y * distance };
          const [x, y] = at(centre);
          const out = x < at(foot)[0] ? -1 : 1;
          const clear = origin[0] + out * (narrow ? 84 : 165);
          const arm = Math.hypot(centre.x - foot.x, centre.y - foot.y);
          arms.push(group(`body-${side}`, [line([x, y], at(foot), "reading-end"), circle([x, y], 3, "hub"), group("page-only", [line([x + out * 6, y], [clear - out * 4, y], "rule"), text([clear, y + 5], `arm ${write("distance", arm, isBench ? benchDigits(write) : { digits: 2 })}`, "label label-small", out < 0 ? "end" : "start")])]));
        }
      }
      nodes.push(stage(px + pw, py, py + ph, [group("travel", travel), ...drawn, group("forces", arms), group("place", [circle(at({ x: 0, y: 0 }), 4, "scale-outline")])]));
      SIDES.forEach((side, i) => nodes.push(group(`motion body-${side}`, [text([sheet.told[0], sheet.told[1] + i * (narrow ? 22 : 26)], told(narrow ? side : names[side], motion[side], past, write), `${small} label-strong`)])));

      // Where the energy is: one strip, as long as all there was.
      const [sx, sy, sw] = sheet.strip;
      const whole = motion.ledger.reduce((sum, { energy }) => sum + energy, 0);
      let from = sx;
      const [kx, ky, gap] = sheet.key;
      const parts: Node[] = past ? [] : [rectangle(sx, sy, sw, 20, "slab-room")];
      if (past)
        motion.ledger.forEach(({ words, energy, mark }, i) => {
          const wide = whole > 0 ? (energy / whole) * sw : 0;
          const y = ky + i * gap;
          parts.push(...swatch(mark, from, sy, wide, 20), group("ledger-key", [...swatch(mark, kx, y - 11, 18, 12), text([kx + 26, y], `${words} ${write("energy", energy, LONG_ENERGY.test(write("energy", energy)) ? { digits: 0 } : {})}`, small)]));
          from += wide;
        });
      nodes.push(group("ledger body-both", [text([sx, sy - 10], past ? "where the energy is now" : `energy of motion: ${write("energy", whole)}`, `${small} label-strong`), ...parts]));
    }

    if (motion === null) nodes.push(text([left, sheet.heading], "the two do not meet", "label label-time"));
    // What can be set.
    const [bx, by, bw, step] = sheet.bars;
    nodes.push(group("page-only", [line([bx - 6, by - 34], [narrow ? right : bx + 500, by - 34], "rule")]));
    spec.bars.forEach((bar, i) => {
      const dial: Reading = readInput(state, bar);
      const top = by + i * step;
      const per = bw / dial.to;
      const body = bar.body ?? "both";
      nodes.push(
        group(`ballast body-${body}`, [
          text([bx, top - 8], bar.words(state, dial.value, write), small),
          rectangle(bx, top, bw, 12, "slab-room"),
          rectangle(bx, top, dial.value * per, 12, "slab"),
          line([bx + dial.value * per, top - 3], [bx + dial.value * per, top + 15], "reading-end"),
        ]),
        grip([bx + dial.value * per + BEYOND, top + 6], bar.input, `body-${body}`),
      );
      handles.push({ input: bar.input, origin: [round(bx + BEYOND), top + 6], perUnit: [per, 0] });
    });
    return { width: sheet.width, height: sheet.height, nodes, handles };
  };

  return {
    title: spec.title,
    duration: durationOf,
    touch: (state) => {
      const motion = motionOf(state);
      return motion === null ? 0 : leadOf(motion);
    },
    draw,
    describe: (state, instant, write) => {
      const motion = motionOf(state);
      if (motion === null) return "The two do not meet.";
      const names = spec.names(state);
      const time = instant - leadOf(motion);
      return `${capital(clockTold(time, write))}, seen from above. ${SIDES.map((side) => told(names[side], motion[side], isPast(time), write)).join(". ")}.`;
    },
  };
};
