/**
 * Two fronts nose to nose, and under them the force that both bear, on one axis: the depth of one front above it, that of the other
 * below. The area beside each line is the energy that front has taken. The handles on the sheet are the lesson's inputs.
 */
import type { Drawing, Handle, Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { bodySide, clockWords, sheetFrame, stage, ticked } from "./bodySide.ts";
import { BEYOND, type Reading } from "./instruments.ts";
import { arrow, dimension, grip, group, line, overhang, type Point, polygon, polyline, rectangle, round, scaleBar, text, widthOf } from "./marks.ts";
import { OUTLINES } from "./outlines.ts";
import { roundNear, roundText, roundUp } from "./round.ts";
import { benchDigits, keyPlace, startKey, capital, clockTold, type Dragged, FORWARD, madeOnce, readInput, type Side, SIDES, speedLanes, type StagedBody, type StagedMoment, type StagedSpec } from "./staged.ts";

export interface AxisBody<S> extends StagedBody<S> {
  readonly nose: Dragged<S>;
  readonly cell: Dragged<S>;
  readonly length: Dragged<S>;
}

export interface AxisMoment {
  /** The one push [N]. */
  readonly force: number;
  readonly a: StagedMoment;
  readonly b: StagedMoment;
  /** Energy taken so far by each front [J]. */
  readonly taken: Readonly<Record<Side, number>>;
}

export interface AxisMotion {
  /** Time after first touch that can be shown [s]. */
  readonly duration: number;
  readonly peak: AxisMoment;
  readonly at: (time: number) => AxisMoment;
}

export type OneForceAxisSpec<S> = StagedSpec<S, AxisBody<S>, AxisMotion>;

interface Sheet {
  readonly width: number;
  readonly height: number;
  readonly margin: number;
  readonly heading: number;
  readonly lane: number;
  readonly ground: number;
  /** Most drawing units per metre of height 1.5. */
  readonly tall: number;
  /** Metres of each body that the sheet shows behind the place of contact. */
  readonly axis: Point;
  readonly reach: number;
  readonly depth: number;
  readonly dials: Readonly<Record<Side, Point>>;
  readonly dialWidth: number;
  readonly dialStep: number;
  readonly narrow: boolean;
}

const WIDE: Sheet = { width: 1200, height: 724, margin: 28, heading: 40, lane: 96, ground: 330, tall: 208, axis: [120, 558], reach: 560, depth: 122, dials: { a: [800, 428], b: [800, 592] }, dialWidth: 300, dialStep: 46, narrow: false };
const NARROW: Sheet = { width: 358, height: 912, margin: 12, heading: 30, lane: 82, ground: 214, tall: 108, axis: [40, 422], reach: 286, depth: 108, dials: { a: [14, 590], b: [14, 756] }, dialWidth: 250, dialStep: 50, narrow: true };
/** Paper above the deepest point of a line, and beyond the largest force, as shares. */
const ROOM = 1.12;
/** Metres of each body that the sheet shows; a wide one shows whole vehicles. */
const SHOWN = { road: 2.7, bench: 0.4 } as const;

/** Room that the words along the axis take on both sides of it, with a line of more words. */
const BESIDE_AXIS = 42;

/** A scene for the `scenes` of a lesson. */
export const oneForceAxisScene = <I, O>(spec: OneForceAxisSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const courseOf = madeOnce(spec.motion);
  const read = (state: S, side: Side) => ({ nose: readInput(state, spec[side].nose), cell: readInput(state, spec[side].cell), length: readInput(state, spec[side].length), mass: readInput(state, spec[side].mass), speed: readInput(state, spec[side].speed) });
  const momentAt = (state: S, instant: number): AxisMoment => {
    const course = courseOf(state);
    if (course !== null) return course.at(Math.min(instant, course.duration));
    const still = (side: Side): StagedMoment => ({ travel: 0, velocity: readInput(state, spec[side].speed).value, crush: 0 });
    return { force: 0, a: still("a"), b: still("b"), taken: { a: 0, b: 0 } };
  };

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const sheet = width === "wide" ? WIDE : NARROW;
    const { narrow, margin, ground } = sheet;
    const isBench = spec.bench(state);
    const now = momentAt(state, instant);
    const peak = courseOf(state)?.peak;
    const set = { a: read(state, "a"), b: read(state, "b") };
    const names = { a: spec.a.name(state), b: spec.b.name(state) };
    const small = narrow ? "label label-small" : "label";
    const letter = narrow ? 13 : 15;
    const digits = isBench ? benchDigits(write) : { digits: 2 };
    const left = margin + 2;
    const right = sheet.width - left;
    const handles: Handle[] = [];

    // The two bodies; the place of contact stays in the middle.
    const outlines = SIDES.map((side) => OUTLINES[spec[side].drawnAs(state)]);
    const tallest = Math.max(...outlines.map(({ height }) => height)) * (isBench ? 1.6 : 1);
    const shown = isBench ? SHOWN.bench : narrow ? SHOWN.road : Math.max(...outlines.map(({ length }) => length)) + 0.05;
    const scale = Math.min(sheet.tall / tallest, (sheet.width / 2 - 8) / shown);
    const middle = sheet.width / 2;
    const every = roundNear("distance", isBench ? 0.05 : 0.5, write);
    const drawn = SIDES.map((side) =>
      bodySide({ side, drawnAs: spec[side].drawnAs(state), nose: middle + FORWARD[side] * now[side].crush * scale, ground, scale, rearwards: side === "a" ? -1 : 1, crush: now[side].crush, foldLength: set[side].length.value, tagRadius: narrow ? 9 : 13 }),
    );
    const nodes: Node[] = [
      sheetFrame(sheet.width, sheet.height),
      ticked(left - 8, right + 8, ground, every, (m) => middle + m * scale, -(middle - left) / scale),
      group("heading", [clockWords([left, sheet.heading], clockTold(instant, write)), startKey(keyPlace(sheet), instant, write), scaleBar(right, sheet.heading - 12, every * scale, `${narrow ? "" : "to scale, "}${roundText("distance", every, write)}`, "end")]),
      stage(sheet.width, sheet.lane + 14, ground + 6, drawn),
    ];
    const lanes = speedLanes({ left, right, y: sheet.lane, length: narrow ? 120 : 250, narrow }, names, { a: set.a.speed, b: set.b.speed }, { a: now.a.velocity, b: now.b.velocity }, write);
    nodes.push(...lanes.nodes);
    handles.push(...lanes.handles);
    nodes.push(
      group(
        "crush",
        SIDES.map((side) => {
          const { crush } = now[side];
          const y = ground + 26;
          const tip = middle + FORWARD[side] * -crush * scale;
          const shown = crush * scale > 1;
          const told = write("distance", crush, digits);
          const who = narrow ? side.toUpperCase() : capital(names[side]);
          const clear = overhang(middle, tip) + 8;
          const room = side === "a" ? tip - clear - left : right - tip - clear;
          const words = [`${who}: crush ${told}`, `crush ${told}`].find((each) => widthOf(each, letter) <= room) ?? told;
          return group(`crush body-${side}`, shown ? [dimension(Math.min(middle, tip), Math.max(middle, tip), y, ground + 4, ""), text([tip - FORWARD[side] * clear, y + 5], words, small, side === "a" ? "end" : "start")] : []);
        }),
      ),
      line([left - 8, ground + 46], [right + 8, ground + 46], "rule"),
    );

    // One force axis: depth of a upwards, of b downwards, force to the right for both.
    const [x0, y0] = sheet.axis;
    const knees = SIDES.map((side) => set[side].nose.value * set[side].length.value);
    const forceTo = roundUp("force", ROOM * Math.max(peak?.force ?? 0, ...knees), write);
    const deepest = ROOM * Math.max(peak?.a.crush ?? 0, peak?.b.crush ?? 0, set.a.length.value, set.b.length.value);
    const perNewton = sheet.reach / forceTo;
    const perMetre = sheet.depth / deepest;
    const up = { a: -1, b: 1 } as const;
    const at = (side: Side, force: number, depth: number): Point => [x0 + force * perNewton, y0 + up[side] * depth * perMetre];
    const forceOf = (side: Side, depth: number): number => Math.min(depth, set[side].length.value) * set[side].nose.value + Math.max(0, depth - set[side].length.value) * set[side].cell.value;
    const depthOf = (side: Side, force: number): number => {
      const { nose, cell, length } = set[side];
      const knee = nose.value * length.value;
      return force <= knee ? force / nose.value : length.value + (force - knee) / cell.value;
    };
    for (const side of SIDES) {
      const { nose, length } = set[side];
      const knee = at(side, nose.value * length.value, length.value);
      const end = Math.min(deepest, depthOf(side, forceTo));
      const curve = [at(side, 0, 0), ...(length.value < end ? [knee] : []), at(side, forceOf(side, end), end)];
      const depth = now[side].crush;
      const area = [at(side, 0, 0), ...(depth > length.value ? [knee] : []), at(side, forceOf(side, depth), depth), at(side, 0, depth)];
      const outer = y0 + up[side] * sheet.depth;
      const beyond = length.value < deepest;
      const begins = isBench ? "spring flat" : "cell begins";
      // at the foot of the guide; at its far end where the knee's grip stands there, on the side that has room beside the axis
      const begun = knee[0] + BEYOND - x0 < widthOf(begins, 13) + 22 ? "end" : "foot";
      const outwards = begun === "foot" || Math.abs(knee[1] - y0) < BESIDE_AXIS;
      nodes.push(
        group(`force-line body-${side}`, [
          polygon(depth > 0 ? area : [], "slab"),
          line([x0, knee[1]], [x0 + sheet.reach, knee[1]], "guide"),
          ...(beyond ? [text([begun === "foot" ? x0 + 8 : x0 + sheet.reach, knee[1] + (outwards === (side === "a") ? -5 : 15)], begins, "label label-soft label-small", begun === "foot" ? "start" : "end")] : []),
          arrow([x0, y0], [x0, outer + up[side] * 6], "axis", { width: 1.2, head: 8 }),
          text([x0 - 8, outer + (side === "a" ? 10 : 0)], narrow ? side.toUpperCase() : `crush of ${side.toUpperCase()}`, `${small} label-strong`, "end"),
          polyline(curve, "curve"),
          text([x0 + sheet.reach, outer + (side === "a" ? -6 : 20)], `${narrow ? side.toUpperCase() : capital(names[side])}${now.taken[side] > 0 ? ` takes ${write("energy", now.taken[side])}` : `: ${isBench ? "spring" : "nose"} ${write("stiffness", nose.value)}`}`, `${small} label-strong`, "end"),
        ]),
        ...(nose.input === null ? [] : [grip([knee[0] + BEYOND, knee[1]], nose.input, `body-${side}`)]),
      );
      if (nose.input !== null) handles.push({ input: nose.input, origin: [round(x0 + BEYOND), round(knee[1])], perUnit: [length.value * perNewton, 0] });
    }
    const reached = x0 + now.force * perNewton;
    // beside the line of the push, where there is room and no grip
    const pushTold = `push on each ${write("force", now.force)}`;
    const pushWide = widthOf(pushTold, letter);
    const grips = SIDES.map((side) => at(side, set[side].nose.value * set[side].length.value, set[side].length.value)).filter(([, y]) => Math.abs(y - (y0 - 13)) < 18).map(([x]) => x + BEYOND);
    const sides = ([[reached + 8, "start"], [reached - 8, "end"]] as const).map(([from, anchor]) => ({ from, anchor, span: anchor === "start" ? [from, from + pushWide] as const : [from - pushWide, from] as const }));
    const onSheet = sides.filter(({ span: [from, to] }) => from >= x0 && to <= right);
    const pushAt = onSheet.find(({ span: [from, to] }) => grips.every((x) => x + 11 < from || x - 11 > to)) ?? onSheet[0] ?? { from: right, anchor: "end" as const };
    nodes.push(
      group("force-axis", [
        arrow([x0, y0], [x0 + sheet.reach + 14, y0], "axis", { width: 1.6, head: 10 }),
        ...[0.5, 1].map((share) => line([x0 + share * sheet.reach, y0 - 5], [x0 + share * sheet.reach, y0 + 5], "ground-tick")),
        ...[0.5, 1].map((share) => text([x0 + share * sheet.reach, y0 + 20], roundText("force", share * forceTo, write), "label label-soft label-small", share === 1 ? "end" : "middle")),
        ...(now.force > 0
          ? [
              line([reached, at("a", 0, now.a.crush)[1]], [reached, at("b", 0, now.b.crush)[1]], "contact-plane"),
              text([pushAt.from, y0 - 8], pushTold, `${small} label-strong`, pushAt.anchor),
            ]
          : [text([x0 + sheet.reach, y0 - 8], "push, the same on both", small, "end")]),
      ]),
    );

    // What else can be set.
    for (const side of SIDES) {
      const [x, y] = sheet.dials[side];
      const rows: readonly (readonly [string, string, Reading])[] = [
        [`${capital(names[side])}: mass`, write("mass", set[side].mass.value), set[side].mass],
        [isBench ? "length of the spring" : "nose length", write("distance", set[side].length.value, digits), set[side].length],
        [isBench ? "stiffness once it is flat" : "stiffness of the cell behind", write("stiffness", set[side].cell.value), set[side].cell],
      ];
      rows.forEach(([label, told, dial], i) => {
        const top = y + i * sheet.dialStep;
        const per = sheet.dialWidth / dial.to;
        nodes.push(
          group(`ballast body-${side}`, [
            text([x, top - 8], `${label} ${told}`, `${small}${i === 0 ? " label-strong" : ""}`),
            rectangle(x, top, sheet.dialWidth, 12, "slab-room"),
            rectangle(x, top, dial.value * per, 12, "slab"),
            line([x + dial.value * per, top - 3], [x + dial.value * per, top + 15], "reading-end"),
          ]),
        );
        if (dial.input === null) return;
        nodes.push(grip([x + dial.value * per + BEYOND, top + 6], dial.input, `body-${side}`));
        handles.push({ input: dial.input, origin: [round(x + BEYOND), top + 6], perUnit: [per, 0] });
      });
    }
    return { width: sheet.width, height: sheet.height, nodes, handles };
  };

  return {
    title: spec.title,
    duration: (state) => courseOf(state)?.duration ?? 0,
    draw,
    describe: (state, instant, write) => {
      const now = momentAt(state, instant);
      const one = (side: Side): string => `the front of ${spec[side].name(state)} is crushed by ${write("distance", now[side].crush)}`;
      return instant === 0 || now.force === 0 ? `At first touch: ${spec.a.name(state)} and ${spec.b.name(state)} stand nose to nose, both fronts whole.` : `${clockTold(instant, write)} each pushes the other with ${write("force", now.force)}; ${one("a")} and ${one("b")}.`;
    },
  };
};
