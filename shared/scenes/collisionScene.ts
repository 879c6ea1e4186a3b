/** Two bodies that meet, or one and a wall, in side view and to scale. The handles on the sheet are the lesson's inputs. */
import { type Drawing, type Handle, node, type Node } from "../drawing.ts";
import type { Scene, State, Write } from "../lesson.ts";
import { sheetFrame } from "./bodySide.ts";
import { ballast, BEYOND, frontAxes, frontLine, type FrontReading, type Reading } from "./instruments.ts";
import { type Layout, NARROW, WIDE } from "./layout.ts";
import { arrow, circle, dimension, grip, group, hatching, line, overhang, type Point, polygon, polyline, rectangle, round, tag, text, widthOf } from "./marks.ts";
import type { BodyMoment, Moment, Motion } from "./motion.ts";
import { fold, type Folded, folds, type Outline, OUTLINES } from "./outlines.ts";
import { chestFront, person, SPACE } from "./person.ts";
import { roundNear } from "./round.ts";
import { type Body, type CollisionSpec, type Dial, isWall } from "./spec.ts";
import { keyPlace, startKey, capital, clockTold, madeOnce, sheetHead, type Side, SIDES } from "./staged.ts";

/** How far apart the two stand at instant 0 [m], and the longest approach that is shown [s]. */
const GAP = { road: 1.4, bench: 0.2 } as const;
const LONGEST_APPROACH = 3;
/** Room behind each body at instant 0, in lengths of the gap. */
const ROOM_BEHIND = 0.55;
const WALL_THICKNESS = { road: 0.5, bench: 0.08 } as const;
/** Crush under a millimetre on the road is not worth a dimension line; in lengths of the gap. */
const LEAST_CRUSH = 0.004;
/** Letters of a wall's name that fit beside a force arrow. */
const LONG_WALL = 10;
/** Slower than this is said to stand still [m/s]. */
const STILL = { road: 0.02, bench: 0.002 } as const;
/** Instants over which the largest force of a motion is looked for. */
const FORCE_SAMPLES = 120;

/** Longest name on a phone, in drawing units; where one is longer, both give way to the letters of their tags. */
const NAME_ROOM = 84;
/** Room around the tag of a body on a phone [m]. */
const BESIDE_TAG = 0.25;
/** About the length of the scale bar and between two ticks [m]. */
const BAR = { road: 1, bench: 0.1 } as const;
/** Paper between the end of an arrow and its words. */
const WORDS_APART = 8;
/** Strong words are wider than plain ones. */
const BOLD = 1.12;


const readDial = <S extends State<never, never>>(dial: Dial<S>, state: S, where: string): Reading => {
  const digits = dial.digits === undefined ? {} : { digits: dial.digits };
  if (!("input" in dial)) return { input: null, value: dial.value(state), to: dial.to, ...digits };
  const value = (state.inputs as Record<string, unknown>)[dial.input];
  if (typeof value !== "number") throw new TypeError(`collisionScene: ${where} must name a quantity input, got ${dial.input}; the lesson has ${Object.keys(state.inputs).join(", ")}`);
  return { input: dial.input, value, to: dial.to, ...digits };
};

/** What a body shows at a state, whatever the instant. */
interface Shown {
  readonly name: string;
  readonly outline: Outline;
  readonly mass: Reading;
  readonly speed: Reading;
  readonly signed: boolean;
  /** Approach speed on the body's own forward axis [m/s]. */
  readonly approach: number;
  readonly front: FrontReading | null;
  readonly crushLength: Reading | null;
  readonly foldLength: number;
  readonly seats: readonly { readonly belted: boolean; readonly bag: boolean; readonly space: number }[];
}

const showBody = <S extends State<never, never>>(body: Body<S>, side: Side, state: S): Shown => {
  const outline = OUTLINES[body.drawnAs];
  const speed = readDial(body.speed, state, `${side}.speed`);
  const signed = body.speed.signed === true;
  const front = body.front && {
    nose: readDial(body.front.nose, state, `${side}.front.nose`),
    cell: body.front.cell ? readDial(body.front.cell, state, `${side}.front.cell`) : null,
    noseLength: body.front.noseLength(state),
  };
  const crushLength = body.crushLength ? readDial(body.crushLength, state, `${side}.crushLength`) : null;
  return {
    name: body.name,
    outline,
    mass: readDial(body.mass, state, `${side}.mass`),
    speed,
    signed,
    approach: signed && side === "b" ? -speed.value : speed.value,
    front: front ?? null,
    crushLength,
    foldLength: body.foldLength?.(state) ?? crushLength?.value ?? front?.noseLength ?? outline.fold,
    seats: (body.occupants ?? []).map((seat) => ({ belted: seat.belted, bag: seat.bag, space: seat.space?.(state) ?? SPACE })),
  };
};

interface Sheet {
  readonly layout: Layout;
  readonly scale: number;
  /** Drawing x of a place over the ground; 0 m is midway between the two at instant 0. */
  readonly x: (metres: number) => number;
  readonly y: (metres: number) => number;
  readonly write: Write;
  readonly bench: boolean;
}

/** The part of the untouched nose that is gone: from the foot of the bumper up and back along the bonnet. */
const ghost = (outline: Outline, crush: number): Outline["shell"] => {
  const end = outline.shell.findIndex(([d, h]) => d > Math.max(crush, 0.12) && h > 0.3);
  return outline.shell.slice(0, end);
};

/** Side view of one body. `nose` is where its uncrushed foremost point would now stand over the ground. */
const bodyNodes = (sheet: Sheet, side: Side, shown: Shown, moment: BodyMoment, nose: number): { readonly nodes: Node; readonly folded: Folded } => {
  const { outline } = shown;
  const facing = side === "a" ? -1 : 1;
  const at = (d: number, h: number): Point => [sheet.x(nose + facing * d), sheet.y(h)];
  const folded = fold(outline, moment.crush, moment.cabinLoss ?? 0, shown.foldLength);
  const place = (points: readonly (readonly [number, number])[]): Point[] => points.map((point) => at(...folded.place(point)));
  const cabin = (points: readonly (readonly [number, number])[]): Point[] => points.map(([d, h]) => at(folded.depth(d), h));
  const lost = folded.firewallNow - outline.firewall;
  const sill = 0.24 * outline.height;
  const cowl = 0.62 * outline.height;
  const intruded: Point[] = lost > LEAST_CRUSH ? [at(outline.firewall, sill), at(folded.firewallNow, sill), at(folded.firewallNow, cowl), at(outline.firewall, cowl)] : [];
  const trolley = outline.hip === undefined;
  const people = outline.hip
    ? shown.seats
        .map((seat, i) => {
          const now = moment.occupants?.[i] ?? { torsoTravel: 0, headTravel: 0 };
          const interior = chestFront(outline) - seat.space + lost;
          return person(outline, seat, now, at, sheet.scale, interior, i === 0 ? `person-${side}` : `person-${side} person-beside`);
        })
        .reverse()
    : [];
  const dash = outline.hip && shown.seats[0] ? chestFront(outline) - shown.seats[0].space + lost : null;
  // The rear end of a body may run off a small sheet; its tag stays.
  const [tagX, tagY] = at(...outline.tag);
  const inset = sheet.layout.margin + 14;
  const buffer: Point[] = trolley ? Array.from({ length: 13 }, (_, k): Point => at(moment.crush + 0.006 + ((folded.depth(outline.firewall) - moment.crush - 0.006) * k) / 12, 0.046 + (k === 0 || k === 12 ? 0 : k % 2 === 0 ? 0.009 : -0.009))) : [];
  return {
    folded,
    nodes: group(`vehicle body-${side}`, [
      group("was", moment.crush > LEAST_CRUSH && !trolley ? [polyline(ghost(outline, moment.crush).map(([d, h]) => at(d, h)), "ghost")] : []),
      polygon(place(outline.shell), "shell"),
      polygon(intruded, "intrusion-ground"),
      hatching(intruded, 6, "intrusion"),
      group("windows", outline.windows.map((window) => polygon(cabin(window), "window"))),
      group("details", outline.details.map((detail) => polyline(place(detail), "detail"))),
      trolley ? group("buffer", [polyline(buffer, "spring"), rectangle(Math.min(at(moment.crush, 0)[0], at(moment.crush + 0.006, 0)[0]), sheet.y(0.066), 0.006 * sheet.scale, 0.04 * sheet.scale, "buffer-head")]) : group("folds", folds(outline, folded, moment.crush).map((points) => polyline(points.map(([d, h]) => at(d, h)), "crushed"))),
      group("firewall", trolley ? [] : [line(at(folded.firewallNow, sill), at(folded.firewallNow, cowl), "firewall-line")]),
      group("people", people),
      group("dash", dash === null ? [] : [polyline([at(folded.firewallNow, cowl), at(dash + 0.02, 0.6 * outline.height), at(dash, 0.54 * outline.height), at(dash + 0.02, 0.42 * outline.height)], "dash-line"), line(at(dash + 0.05, 0.5 * outline.height), at(dash + 0.13, 0.64 * outline.height), "wheel-rim")]),
      group(
        "wheels",
        outline.wheels.flatMap(({ d, radius }) => {
          // A wheel does not fold: the crushed face pushes it back once it reaches it.
          const hub = at(Math.max(folded.depth(d), moment.crush > 0 ? moment.crush + radius : 0), radius);
          return [circle(hub, radius * sheet.scale, "tyre"), circle(hub, radius * 0.58 * sheet.scale, "rim"), circle(hub, 2, "hub")];
        }),
      ),
      tag(side, [Math.min(sheet.layout.width - inset, Math.max(inset, tagX)), tagY], sheet.layout.narrow ? 10 : 14),
    ]),
  };
};

const wallNodes = (sheet: Sheet, thickness: number, height: number): Node => {
  const [x1, x2, top, ground] = [sheet.x(0), sheet.x(thickness), sheet.y(height), sheet.y(0)];
  const outline: Point[] = [[x1, ground], [x1, top], [x2, top], [x2, ground]];
  return group("wall", [polygon(outline, "wall-face"), hatching(outline, 9, "wall-hatch"), line([x1, top], [x1, ground], "wall-edge")]);
};

/** Whole milliseconds, so that the words do not jump while the event plays. */
const LETTER: Readonly<Record<Side, string>> = { a: "A", b: "B" };

/** A scene for the `scenes` of a lesson. See `CollisionSpec`. */
export const collisionScene = <I, O>(spec: CollisionSpec<State<I, O>>): Scene<I, O> => {
  type S = State<I, O>;
  const at = spec.at ?? "road";
  // On a bench as the laboratory writes lengths.
  const depthDigits = at === "bench" ? {} : { digits: 2 };
  // A wall with a long description is "the wall" beside an arrow.
  const wall = isWall(spec.b) ? (spec.b.wall.length > LONG_WALL ? "the wall" : spec.b.wall) : null;
  const motionOf = madeOnce((state: S): { readonly motion: Motion; readonly forceTo: number } => {
    const motion = spec.motion(state);
    const largest = (): number => Math.max(...Array.from({ length: FORCE_SAMPLES + 1 }, (_, i) => motion.at((motion.duration * i) / FORCE_SAMPLES).force));
    return { motion, forceTo: spec.forceTo ?? motion.peakForce ?? largest() };
  });
  const shownOf = (state: S): { a: Shown; b: Shown | null } => ({
    a: showBody(spec.a as Body<never>, "a", state as never),
    b: isWall(spec.b) ? null : showBody(spec.b as Body<never>, "b", state as never),
  });
  /** Time from instant 0 to first touch. */
  const leadOf = (a: number, b: number): number => (a + b > 0 ? Math.min(LONGEST_APPROACH, GAP[at] / (a + b)) : 0);

  const momentAt = (state: S, instant: number): { moment: Moment; time: number; lead: number; known: boolean } => {
    const shown = shownOf(state);
    const [va, vb] = [shown.a.approach, shown.b?.approach ?? 0];
    const lead = leadOf(va, vb);
    const time = instant - lead;
    const found = motionOf(state);
    if (found === null || time < 0) {
      const before = (v: number): BodyMoment => ({ travel: v * Math.min(0, time), velocity: v, crush: 0 });
      return { moment: { force: 0, a: before(va), ...(shown.b ? { b: before(vb) } : {}) }, time: Math.min(0, time), lead, known: found !== null };
    }
    return { moment: found.motion.at(Math.min(time, found.motion.duration)), time, lead, known: true };
  };

  const draw = (state: S, instant: number, width: "wide" | "narrow", write: Write): Drawing => {
    const { a, b } = shownOf(state);
    const base = width === "wide" ? WIDE : NARROW;
    // Without fronts to draw the sheet ends under the ballast.
    const layout: Layout = a.front || b?.front ? base : { ...base, height: base.mass.y + 72 };
    const { moment, time, lead } = momentAt(state, instant);
    const touching = moment.force > 0;

    // Scale: as large as both bodies, the gap and some room allow; on a phone the rear ends run off the sheet.
    const gap = GAP[at];
    const tallest = Math.max(a.outline.height, b?.outline.height ?? 0) * (at === "bench" ? 1.5 : 1);
    const lengths: readonly [number, number] = [a.outline.length, b?.outline.length ?? WALL_THICKNESS[at]];
    const span = layout.narrow && at === "road" ? 2 * (Math.max(a.outline.tag[0], b?.outline.tag[0] ?? 0) + BESIDE_TAG) + gap : lengths[0] + lengths[1] + gap * (1 + 2 * ROOM_BEHIND);
    const inner = layout.width - 2 * layout.margin;
    // On a phone a wall stands in the middle, to leave room for the words on both sides of it.
    const central = layout.narrow && (at === "road" || b === null);
    const scale = Math.min(layout.tallest / tallest, inner / span, ...(central && at === "bench" ? [inner / 2 / (lengths[0] + gap / 2)] : []));

    // The sheet stands still until the place of contact would leave its middle; then it follows.
    const shift = ((b?.approach ?? 0) - a.approach) * (lead / 2);
    const noseA = moment.a.travel - shift;
    const noseB = b && moment.b ? -moment.b.travel - shift : -shift;
    const middle = (noseA - moment.a.crush + noseB + (moment.b?.crush ?? 0)) / 2;
    const band = layout.narrow ? (b ? 0.06 * gap : 0) : 0.9 * gap;
    const pan = Math.abs(middle) > band ? middle - Math.sign(middle) * band : 0;
    const centre = layout.width / 2 + (central ? (b ? 0 : 5) : ((lengths[0] - lengths[1]) / 2) * scale);
    const sheet: Sheet = { layout, scale, write, bench: at === "bench", x: (m) => centre + (m - pan) * scale, y: (h) => layout.ground - h * scale };

    const handles: Handle[] = [];
    const nodes: Node[] = [];
    const nose = { a: noseA, b: noseB } as const;
    const shownBy = { a, b } as const;
    const momentBy = { a: moment.a, b: moment.b } as const;

    // The sheet itself: frame, ground, ticks as far apart as the scale bar is long, heading, scale bar.
    const every = roundNear("distance", BAR[at], write);
    const reach = Math.ceil(layout.width / scale / every / 2) + 3;
    const origin = Math.round(pan / every);
    const left = layout.margin - 6;
    const right = layout.width - left;
    const ticks = Array.from({ length: 2 * reach + 1 }, (_, i) => sheet.x((origin + i - reach) * every)).filter((x) => x >= left && x <= right);
    nodes.push(
      sheetFrame(layout.width, layout.height),
      group("ground", [
        line([left, layout.ground], [right, layout.ground], "ground-line"),
        ...ticks.map((x) => line([x, layout.ground], [x, layout.ground + 8], "ground-tick")),
      ]),
    );
    nodes.push(...sheetHead(layout, time === 0 && lead === 0 ? "" : clockTold(time, write), every, scale, write), startKey(keyPlace(layout), time, write));

    // The bodies, cut off at the frame.
    const drawn = SIDES.map((side) => {
      const shown = shownBy[side];
      const now = momentBy[side];
      return shown && now ? bodyNodes(sheet, side, shown, now, nose[side]).nodes : group("vehicle", []);
    });
    const wallAt: Sheet = { ...sheet, x: (m) => sheet.x(noseB + m) };
    nodes.push(
      node("svg", { x: 7, y: 7, width: layout.width - 14, height: layout.height - 14, viewBox: `7 7 ${layout.width - 14} ${layout.height - 14}`, class: "stage" }, [
        ...(wall === null ? [] : [wallNodes(wallAt, WALL_THICKNESS[at], (layout.tallest / scale) * 0.92)]),
        ...drawn,
      ]),
    );

    // Speed arrows: over each body from its rear end, as long as its velocity now; the start speed stays as an outline.
    const roof = Math.max(a.outline.height, b?.outline.height ?? 0) * (at === "bench" ? 1.15 : 1);
    const lane = sheet.y(roof) - 20;
    const speedTo = Math.max(a.speed.to, b?.speed.to ?? 0);
    const anySigned = a.signed || b?.signed === true;
    const room = Math.min(layout.speedLength, ...(layout.narrow && at === "road" ? [] : [a.outline.length * scale, (b ?? a).outline.length * scale]));
    const perSpeed = (anySigned ? room / 2 : room) / speedTo;
    const contact = sheet.x(middle);
    // On a phone both bodies are named, or neither.
    const wordy = ({ name, speed, approach }: Shown): number => widthOf(`${name} ${write("speed", approach, speed.digits === undefined ? {} : { digits: speed.digits })}`, layout.font) * BOLD;
    const named = !layout.narrow || ([a.name, b?.name ?? ""].every((name) => widthOf(name, layout.font) <= NAME_ROOM) && wordy(a) + (b === null ? 0 : wordy(b)) + 20 <= inner);
    const nameOf = (side: Side): string => (named ? (shownBy[side]?.name ?? "") : LETTER[side]);
    for (const side of SIDES) {
      const shown = shownBy[side];
      const now = momentBy[side];
      if (!shown || !now) {
        nodes.push(group("motion", []));
        continue;
      }
      const forward = side === "a" ? 1 : -1;
      const rear = sheet.x(nose[side] - forward * shown.outline.length);
      const [first, last] = [layout.margin + 2, layout.width - layout.margin - 2];
      // on a phone from the edges of the sheet, or the two grips would meet
      const edge = layout.narrow ? (side === "a" ? first : last) : side === "a" ? Math.max(first, rear) : Math.min(last, rear);
      const tail = edge + forward * (anySigned ? room / 2 : 0);
      const axis = shown.signed ? 1 : forward;
      const start = tail + forward * shown.approach * perSpeed;
      // A body thrown back keeps its arrow in the same lane, pointing the other way.
      const reach = forward * Math.abs(now.velocity) * perSpeed;
      const back = now.velocity < 0;
      const [foot, end] = back ? (anySigned ? [tail, tail - reach] : [tail + reach, tail]) : [tail, tail + reach];
      const backwards = now.velocity < -STILL[at] && !shown.signed && !layout.narrow ? ", backwards" : "";
      const words = `${capital(nameOf(side))} ${write("speed", Math.abs(now.velocity), shown.speed.digits === undefined ? {} : { digits: shown.speed.digits })}${backwards}`;
      // Each label keeps to its own side of the place of contact.
      const wide = widthOf(words, layout.font) * BOLD;
      const near = anySigned ? tail - (forward * wide) / 2 : edge;
      nodes.push(
        group(`motion body-${side}`, [
          arrow([tail, lane], [start, lane], "start-speed", { width: 5, head: 14 }),
          arrow([foot, lane], [end, lane], "speed", { width: 5, head: 14 }),
          line([tail, lane - 7], [tail, lane + 7], "arrow-foot"),
          text([side === "a" ? Math.max(layout.margin + 2, Math.min(near, contact - 10 - wide)) : Math.min(layout.width - layout.margin - 2, Math.max(near, contact + 10 + wide)), lane - 14], words, "label label-strong", side === "a" ? "start" : "end"),
        ]),
      );
      if (shown.speed.input !== null) {
        // Beyond the tip on the side that the arrow starts out towards.
        const beyond = forward * BEYOND;
        nodes.push(grip([start + beyond, lane], shown.speed.input, `body-${side}`));
        handles.push({ input: shown.speed.input, origin: [round(tail + beyond), round(lane)], perUnit: [axis * perSpeed, 0] });
      }
    }

    const small = layout.narrow ? "label label-small" : "label";

    // The two forces, drawn from one plane of contact and equally long.
    const faceA = sheet.x(noseA - moment.a.crush);
    const forceLane = lane - (layout.narrow ? 46 : 58);
    const found = motionOf(state);
    const length = touching && found && found.forceTo > 0 ? (Math.min(1, moment.force / found.forceTo) * layout.forceLength) : 0;
    const nameA = nameOf("a");
    const nameB = wall ?? nameOf("b");
    const forceText = write("force", moment.force);
    const [onA, onB]: readonly [Point, Point] = [[faceA - 8, forceLane], [faceA + 8, forceLane]];
    const fits = (x: number, words: string, forward: number): boolean => {
      const end = x + forward * widthOf(words, layout.small);
      return end >= layout.margin && end <= layout.width - layout.margin;
    };
    const whole = capital(`${nameA} pushes ${nameB}: ${forceText}`);
    nodes.push(
      group(
        "forces",
        touching
          ? [
              line([faceA, forceLane - 16], [faceA, layout.ground], "contact-plane"),
              arrow(onA, [onA[0] - length, forceLane], "force force-on-a", { width: 7, head: 18 }),
              arrow(onB, [onB[0] + length, forceLane], "force force-on-b", { width: 7, head: 18 }),
              ...(layout.narrow
                ? [
                    text([onA[0], forceLane - 34], capital(`${nameB} pushes`), small, "end"),
                    text([onA[0], forceLane - 16], `${nameA}: ${forceText}`, small, "end"),
                    text([onB[0], forceLane - 34], capital(`${nameA} pushes`), small),
                    text([onB[0], forceLane - 16], `${nameB}: ${forceText}`, small),
                  ]
                : [text([onA[0], forceLane - 16], capital(`${nameB} pushes ${nameA}: ${forceText}`), "label", "end"), text([onB[0], forceLane - 16], fits(onB[0], whole, 1) ? whole : `on ${nameB}: ${forceText}`, "label")]),
            ]
          : [],
      ),
    );

    // True depth of crush: from the face as it stands now to where the nose would be. Words after lines, so that no line crosses them.
    const least = LEAST_CRUSH * gap;
    const crushWords: Node[] = [];
    for (const side of SIDES) {
      const shown = shownBy[side];
      const now = momentBy[side];
      if (!shown || !now || now.crush < least) {
        nodes.push(group("crush", []));
        continue;
      }
      const forward = side === "a" ? 1 : -1;
      const tip = sheet.x(nose[side]);
      const face = sheet.x(nose[side] - forward * now.crush);
      const y = side === "a" ? layout.crushA : layout.crushB;
      nodes.push(group(`crush body-${side}`, [dimension(face, tip, y, layout.ground + 4, `of-${side}`)]));
      // Words stand beyond the tip of their own arrow, where no line of the other body's passes; a lost cabin at its foot.
      const apart = forward * (overhang(face, tip) + WORDS_APART);
      const depth = write("distance", now.crush, depthDigits);
      const who = b === null && layout.narrow ? "" : `${layout.narrow ? LETTER[side] : capital(shown.name)}: `;
      const choices = [`${who}crush ${depth}`, `${who}${depth}`];
      const words = choices.find((each) => fits(tip + apart, each, forward));
      const [ahead, behind] = side === "a" ? (["start", "end"] as const) : (["end", "start"] as const);
      const lost = now.cabinLoss ?? 0;
      const shorter = lost > least ? `cabin ${layout.narrow ? "\u2212" : "shorter by "}${write("distance", lost, depthDigits)}` : "";
      if (words !== undefined) crushWords.push(text([tip + apart, y + 5], words, small, ahead));
      const atFoot = [words === undefined ? depth : "", shorter].filter((each) => each !== "").join(", ");
      if (atFoot !== "") crushWords.push(text([face - apart, y + 5], who + atFoot, small, behind));
    }
    nodes.push(group("crush-words", crushWords));

    // A front whose crush length is dragged: a dimension on the body itself.
    for (const side of SIDES) {
      const shown = shownBy[side];
      if (!shown?.crushLength) continue;
      const forward = side === "a" ? 1 : -1;
      const tip = sheet.x(nose[side]);
      const back = sheet.x(nose[side] - forward * shown.crushLength.value);
      const y = layout.crushB;
      const words = `${layout.narrow ? "room" : "room to crush"} ${write("distance", shown.crushLength.value, depthDigits)}`;
      const clear = tip + forward * (overhang(back, tip) + WORDS_APART);
      // Beyond the tip, as the words of the crush; behind the grip where there is no room.
      const ahead = fits(clear, words, forward);
      nodes.push(
        group(`crush-length body-${side}`, [
          dimension(back, tip, y, layout.ground + 4, `of-${side} room`),
          text([ahead ? clear : back - forward * 24, y + 5], words, small, (side === "a") === ahead ? "start" : "end"),
        ]),
      );
      if (shown.crushLength.input !== null) {
        nodes.push(grip([back, y], shown.crushLength.input, `body-${side}`));
        handles.push({ input: shown.crushLength.input, origin: [round(tip), y], perUnit: [-forward * scale, 0] });
      }
    }

    // The instruments.
    const massTo = Math.max(a.mass.to, b?.mass.to ?? 0);
    const fronts = [a.front, b?.front ?? null].filter((front) => front !== null);
    const axes = frontAxes(fronts);
    nodes.push(line([left, layout.mass.y - (layout.narrow ? 28 : 32)], [right, layout.mass.y - (layout.narrow ? 28 : 32)], "rule"));
    for (const side of SIDES) {
      const shown = shownBy[side];
      if (!shown) continue;
      const x = layout.half[side];
      const mass = ballast(shown.mass, massTo, [x + layout.mass.x, layout.mass.y + 6], layout.mass.width, side, write);
      nodes.push(...mass.nodes);
      handles.push(...mass.handles);
      if (!shown.front) continue;
      const front = frontLine(shown.front, at === "bench" ? "buffer" : "nose", axes, [x + layout.front.x, layout.front.y + 6], layout.front, side, write);
      nodes.push(...front.nodes);
      handles.push(...front.handles);
    }
    return { width: layout.width, height: layout.height, nodes, handles };
  };

  const describe = (state: S, instant: number, write: Write): string => {
    const { a, b } = shownOf(state);
    const { moment, time } = momentAt(state, instant);
    const moving = (name: string, v: number, way: string, back: string): string => (Math.abs(v) < STILL[at] ? `${name} stands still` : `${name} moves ${v > 0 ? way : back} at ${write("speed", Math.abs(v))}`);
    const both = [moving(a.name, moment.a.velocity, "right", "left"), ...(b && moment.b ? [moving(b.name, moment.b.velocity, "left", "right")] : [])].join(" and ");
    const other = wall ?? b?.name ?? "";
    const said =
      time < 0 || (time === 0 && moment.force === 0)
        ? `${clockTold(time, write)}: ${both}.`
        : `${clockTold(time, write)}: ${both}. ${moment.force > 0 ? `${capital(other)} pushes ${a.name} and ${a.name} pushes ${other}, each with ${write("force", moment.force)}.` : "Neither pushes the other."}`;
    const crushed = [{ name: a.name, now: moment.a }, ...(b && moment.b ? [{ name: b.name, now: moment.b }] : [])].filter(({ now }) => now.crush > LEAST_CRUSH * GAP[at]).map(({ name, now }) => `The front of ${name} is ${write("distance", now.crush, depthDigits)} shorter${(now.cabinLoss ?? 0) > 0 ? `, its cabin ${write("distance", now.cabinLoss ?? 0, depthDigits)}` : ""}.`);
    return [capital(said), ...crushed, ...(spec.describe ? [spec.describe(state, instant, write)] : [])].join(" ");
  };

  const touch = (state: S): number => {
    const { a, b } = shownOf(state);
    return leadOf(a.approach, b?.approach ?? 0);
  };
  return {
    title: spec.title,
    duration: (state) => touch(state) + (motionOf(state)?.motion.duration ?? 0),
    touch,
    draw,
    describe,
  };
};
