import { readFileSync } from "node:fs";
import { basename } from "node:path";
import { describe, expect, test } from "vitest";
import type { CrashTraces } from "../../lib/event/types.ts";
import type { Drawing, Node } from "../../shared/drawing.ts";
import { toSI } from "../../lib/units.ts";
import { evaluateFence } from "../../build/fence.ts";
import { lessonFiles, readLesson } from "../../build/readLessons.ts";
import { readScales } from "../../build/scales.ts";
import { readScenario } from "../../build/scenario.ts";
import { evaluate, type InputValue, type Lesson, lesson, mass, type Scene, speed, startOf, type State } from "../../shared/lesson.ts";
import { type Body, type CollisionSpec, collisionScene, fittingScene, type Motion, motionOfTraces } from "../../shared/scenes/index.ts";
import { hatching, type Point, widthOf } from "../../shared/scenes/marks.ts";
import { fold, folds, OUTLINES } from "../../shared/scenes/outlines.ts";
import { slabMass } from "../../shared/scenes/instruments.ts";
import { makeWrite } from "../../shared/state/units.ts";
import { serialise } from "../../shared/svg.ts";

const write = makeWrite("metric", "en");
/** Places in a drawing are rounded to a hundredth of a unit. */
const ROUNDING = 0.011;
/** Two rounded ends make one length. */
const LENGTH_ROUNDING = 2 * ROUNDING;

const seeded = (seed: number) => () => {
  seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
  return seed / 2 ** 32;
};

type Inputs = { massA: number; massB: number; speedA: number; speedB: number; noseA: number; noseB: number; cellA: number; cellB: number };
const START: Inputs = { massA: 900, massB: 1800, speedA: 15, speedB: 10, noseA: 1.2e6, noseB: 0.45e6, cellA: 4e6, cellB: 0.45e6 };
type S = State<Inputs, object>;
const stateOf = (inputs: Partial<Inputs> = {}): S => ({ inputs: { ...START, ...inputs }, outputs: {}, calls: [] });

const CLOSING_TIME = 0.07;
/** A motion whose crushes add up to what the two have moved together, as they do in a crash. */
const meeting = ({ inputs }: { inputs: Inputs }): Motion => ({
  duration: 0.14,
  at: (time) => {
    const t = Math.min(time, CLOSING_TIME);
    const [va, vb] = [inputs.speedA, inputs.speedB];
    const common = (inputs.massA * va - inputs.massB * vb) / (inputs.massA + inputs.massB);
    const blend = (v: number, end: number) => v * (1 - t / CLOSING_TIME) + end * (t / CLOSING_TIME);
    const gone = (v: number, end: number) => v * t + ((end - v) * t * t) / (2 * CLOSING_TIME) + end * (time - t);
    const [travelA, travelB] = [gone(va, common), gone(vb, -common)];
    const depth = travelA + travelB;
    const share = inputs.noseB / (inputs.noseA + inputs.noseB);
    const [crushA, crushB] = [depth * share, depth * (1 - share)];
    return {
      force: time < 1.1 * CLOSING_TIME ? 4e6 * t : 0,
      a: { travel: travelA, velocity: blend(va, common), crush: crushA, cabinLoss: Math.max(0, crushA - 0.55), occupants: [{ torsoTravel: 2 * t, headTravel: 3 * t, bagStands: time > 0.03, beltForce: t }] },
      b: { travel: travelB, velocity: blend(vb, -common), crush: crushB, cabinLoss: Math.max(0, crushB - 0.6), occupants: [{ torsoTravel: 1.5 * t, headTravel: 2 * t }] },
    };
  },
});

const spec: CollisionSpec<S> = {
  title: "Head-on",
  a: { name: "Sprig", drawnAs: "hatch", mass: { input: "massA", to: 3000 }, speed: { input: "speedA", to: 30 }, front: { nose: { input: "noseA", to: 2.5e6 }, cell: { input: "cellA", to: 5e6 }, noseLength: () => 0.55 }, occupants: [{ belted: true, bag: true }] },
  b: { name: "Bollard", drawnAs: "estate", mass: { input: "massB", to: 3000 }, speed: { input: "speedB", to: 30 }, front: { nose: { input: "noseB", to: 2.5e6 }, cell: { input: "cellB", to: 5e6 }, noseLength: () => 0.6 }, occupants: [{ belted: true, bag: false }] },
  motion: meeting,
};
const road = collisionScene<Inputs, object>(spec);
const wall = collisionScene<Inputs, object>({ ...spec, a: { ...spec.a, crushLength: { value: () => 0.7, to: 1 } }, b: { wall: "the wall" }, motion: (state) => ({ duration: 0.14, at: (time) => { const { force, a } = meeting({ inputs: { ...state.inputs, speedB: 0, massB: 1e12, noseB: 1e12 } }).at(time); return { force, a: { ...a, crush: Math.max(0, a.travel) } }; } }) });
const bench = collisionScene<{ massA: number; massB: number; vA: number; vB: number }, object>({
  title: "Bench",
  at: "bench",
  a: { name: "first trolley", drawnAs: "trolley", mass: { input: "massA", to: 2, digits: 2 }, speed: { input: "vA", to: 1.5, signed: true } },
  b: { name: "second trolley", drawnAs: "trolley", mass: { input: "massB", to: 2, digits: 2 }, speed: { input: "vB", to: 1.5, signed: true } },
  motion: ({ inputs }) => ({ duration: 0.4, at: (t) => ({ force: t < 0.1 ? 10 * Math.sin(Math.PI * 10 * t) : 0, a: { travel: 0.1 * inputs.vA * t, velocity: 0.1 * inputs.vA, crush: t < 0.1 ? 0.02 * Math.sin(Math.PI * 10 * t) : 0 }, b: { travel: 0, velocity: 0, crush: t < 0.1 ? 0.02 * Math.sin(Math.PI * 10 * t) : 0 } }) }),
});
const BENCH: State<{ massA: number; massB: number; vA: number; vB: number }, object> = { inputs: { massA: 0.5, massB: 1, vA: 0.6, vB: -0.2 }, outputs: {}, calls: [] };

const WIDTHS = ["wide", "narrow"] as const;
const lead = ({ inputs }: S) => 1.4 / (inputs.speedA + inputs.speedB);

const walk = function* (nodes: readonly (Node | string)[]): Generator<Node> {
  for (const child of nodes) {
    if (typeof child === "string") continue;
    yield child;
    yield* walk(child.children);
  }
};
const named = (drawing: Drawing, className: string): Node[] => [...walk(drawing.nodes)].filter((child) => String(child.attributes["class"] ?? "").split(" ").includes(className));
const within = (parent: Node | undefined, className: string): Node[] => (parent ? named({ width: 0, height: 0, nodes: [parent], handles: [] }, className) : []);
const points = (path: Node | undefined): Point[] => Array.from(String(path?.attributes["d"] ?? "").matchAll(/[ML](-?[\d.]+),(-?[\d.]+)/g), ([, x, y]): Point => [Number(x), Number(y)]);
const span = (path: Node | undefined): readonly [number, number] => {
  const xs = points(path).map(([x]) => x);
  return [Math.min(...xs), Math.max(...xs)];
};
const vehicle = (drawing: Drawing, side: "a" | "b"): Node | undefined => named(drawing, "vehicle").find((child) => String(child.attributes["class"]).includes(`body-${side}`));
const shell = (drawing: Drawing, side: "a" | "b"): Node | undefined => within(vehicle(drawing, side), "shell")[0];
/** Drawing units per metre, off the scale bar: a bar of 1 m. */
const scaleOf = (drawing: Drawing): number => Number(named(drawing, "scale-outline")[0]?.attributes["width"]);
const wordsOf = (drawing: Drawing): string => [...walk(drawing.nodes)].filter((child) => child.tag === "text").flatMap((child) => child.children).join(" | ");

describe("handles of collisionScene(…)", () => {
  test.each(WIDTHS)("draw(…, %s) puts the grip of every input where its handle says, for 60 seeded states and instants", (width) => {
    const random = seeded(7);
    for (let n = 0; n < 60; n++) {
      const state = stateOf({ massA: 400 + 2600 * random(), massB: 400 + 2600 * random(), speedA: 30 * random(), speedB: 1 + 29 * random(), noseA: 2e5 + 2.3e6 * random(), noseB: 2e5 + 2.3e6 * random(), cellA: 5e6 * random(), cellB: 5e6 * random() });
      const drawing = road.draw(state, n % 3 === 0 ? 0 : random() * road.duration(state), width, write);
      expect(drawing.handles.map(({ input }) => input).sort()).toEqual(Object.keys(START).sort());
      for (const { input, origin, perUnit } of drawing.handles) {
        const grip = named(drawing, "grip").find((child) => child.attributes["data-input"] === input);
        const [, x, y] = /translate\((-?[\d.]+),(-?[\d.]+)\)/.exec(String(grip?.attributes["transform"])) ?? [];
        const value = state.inputs[input as keyof Inputs];
        expect(Math.abs(origin[0] + perUnit[0] * value - Number(x)), input).toBeLessThanOrEqual(LENGTH_ROUNDING);
        expect(Math.abs(origin[1] + perUnit[1] * value - Number(y)), input).toBeLessThanOrEqual(LENGTH_ROUNDING);
      }
    }
  });

  test("draw(…) lets every handle move sideways only, and keeps it on the sheet over its whole range", () => {
    const to: Inputs = { massA: 3000, massB: 3000, speedA: 30, speedB: 30, noseA: 2.5e6, noseB: 2.5e6, cellA: 5e6, cellB: 5e6 };
    for (const width of WIDTHS)
      for (const state of [stateOf(to), stateOf({ speedA: 0.5, speedB: 0.5, massA: 100, massB: 100 }), stateOf()]) {
        const drawing = road.draw(state, 0, width, write);
        for (const { input, origin, perUnit } of drawing.handles) {
          expect(perUnit[1]).toBe(0);
          expect(perUnit[0]).not.toBe(0);
          const x = origin[0] + perUnit[0] * state.inputs[input as keyof Inputs];
          expect(x, `${input} ${width}`).toBeGreaterThan(12);
          expect(x, `${input} ${width}`).toBeLessThan(drawing.width - 12);
        }
      }
  });

  test("draw(…) keeps handles 24 units apart, the least distance between targets of WCAG 2.2, 2.5.8", () => {
    // Web Content Accessibility Guidelines 2.2, success criterion 2.5.8: 24 CSS pixel circles on each target must not meet.
    for (const width of WIDTHS)
      for (const state of [stateOf(), stateOf({ noseA: 2e5, cellA: 2e5, noseB: 2.5e6, cellB: 0 }), stateOf({ massA: 3000, massB: 200, speedA: 30, speedB: 30 })]) {
        const places = road.draw(state, 0, width, write).handles.map(({ input, origin, perUnit }) => [origin[0] + perUnit[0] * state.inputs[input as keyof Inputs], origin[1]] as const);
        places.forEach(([x, y], i) => places.slice(i + 1).forEach(([u, v]) => expect(Math.hypot(x - u, y - v)).toBeGreaterThanOrEqual(24)));
      }
  });

  test("draw(…) moves nothing but the arrow of a speed while the speed is dragged at instant 0", () => {
    const [slow, fast] = [stateOf({ speedA: 5 }), stateOf({ speedA: 25 })].map((state) => road.draw(state, 0, "wide", write));
    if (!slow || !fast) throw new Error("nothing drawn");
    // Approach to the same place of the sheet leaves only the rounding of the arithmetic.
    for (const side of ["a", "b"] as const) points(shell(slow, side)).forEach(([x], i) => expect(x).toBeCloseTo(points(shell(fast, side))[i]?.[0] ?? NaN, 1));
    expect(slow.handles.map((handle) => handle.perUnit)).toEqual(fast.handles.map((handle) => handle.perUnit));
  });

  test("draw(…) writes an unknown input's name and the names there are", () => {
    const wrong = collisionScene<Inputs, object>({ ...spec, a: { ...spec.a, mass: { input: "massX", to: 1 } } });
    expect(() => wrong.draw(stateOf(), 0, "wide", write)).toThrow(/a\.mass must name a quantity input, got massX; the lesson has massA, massB/);
  });
});

describe("truth to scale of collisionScene(…)", () => {
  const state = stateOf();
  const instants = Array.from({ length: 41 }, (_, i) => lead(state) + (0.14 * i) / 40);

  test.each(WIDTHS)("draw(…, %s) makes the two force arrows equally long at every instant, and as long as the force", (width) => {
    let longest = 0;
    const measured = instants.map((instant) => {
      const drawing = road.draw(state, instant, width, write);
      const [a, b] = ["force-on-a", "force-on-b"].map((name) => span(named(drawing, name)[0]));
      const force = meeting(state).at(instant - lead(state)).force;
      if (!a || !b || !Number.isFinite(a[0])) return { force, length: 0 };
      expect(Math.abs(a[1] - a[0] - (b[1] - b[0]))).toBeLessThanOrEqual(LENGTH_ROUNDING);
      longest = Math.max(longest, a[1] - a[0]);
      return { force, length: a[1] - a[0] };
    });
    expect(longest).toBeGreaterThan(100);
    const most = Math.max(...measured.map(({ force }) => force));
    for (const { force, length } of measured) expect(Math.abs(length - (force / most) * longest)).toBeLessThanOrEqual(LENGTH_ROUNDING + 0.5);
  });

  test.each(WIDTHS)("draw(…, %s) brings the two faces to one plane while they touch", (width) => {
    for (const instant of instants.slice(1)) {
      const drawing = road.draw(state, instant, width, write);
      expect(Math.abs(span(shell(drawing, "a"))[1] - span(shell(drawing, "b"))[0])).toBeLessThanOrEqual(LENGTH_ROUNDING);
    }
  });

  test.each(WIDTHS)("draw(…, %s) draws crush as dimension lines of true length, and shortens each body by just that", (width) => {
    const whole = road.draw(state, 0, width, write);
    for (const instant of [instants[8], instants[20], instants[40]] as number[]) {
      const drawing = road.draw(state, instant, width, write);
      const moment = meeting(state).at(instant - lead(state));
      for (const side of ["a", "b"] as const) {
        const crush = moment[side]?.crush ?? 0;
        const [left, right] = within(named(drawing, `of-${side}`)[0], "extension").map((child) => Number(child.attributes["x1"]));
        expect(Math.abs((right ?? 0) - (left ?? 0) - crush * scaleOf(drawing))).toBeLessThanOrEqual(LENGTH_ROUNDING + ROUNDING * crush);
        const [before, after] = [whole, drawing].map((one) => span(shell(one, side))).map(([from, to]) => to - from);
        expect((before ?? 0) - (after ?? 0)).toBeCloseTo(crush * scaleOf(drawing), 1);
      }
    }
  });

  test("draw(…) hatches the lost part of a cabin, as wide as the loss, and only where there is one", () => {
    const soft = stateOf({ noseB: 0.2e6 });
    const drawing = road.draw(soft, road.duration(soft), "wide", write);
    const moment = meeting(soft).at(0.14);
    const [from, to] = span(within(vehicle(drawing, "b"), "intrusion-ground")[0]);
    expect(moment.b?.cabinLoss).toBeGreaterThan(0.1);
    expect(Math.abs(to - from - (moment.b?.cabinLoss ?? 0) * scaleOf(drawing))).toBeLessThanOrEqual(LENGTH_ROUNDING + ROUNDING);
    expect(points(within(vehicle(drawing, "a"), "intrusion-ground")[0])).toEqual([]);
    expect(wordsOf(drawing)).toContain("cabin shorter by");
  });

  test("draw(…) moves a head by exactly its travel inside the body", () => {
    const instant = lead(state) + 0.05;
    const [rest, thrown] = [0, instant].map((at) => road.draw(state, at, "wide", write));
    if (!rest || !thrown) throw new Error("nothing drawn");
    const inside = (drawing: Drawing, side: "a" | "b") => {
      const rear = side === "a" ? span(shell(drawing, side))[0] : span(shell(drawing, side))[1];
      return Math.abs(Number(within(vehicle(drawing, side), "head")[0]?.attributes["cx"]) - rear);
    };
    for (const side of ["a", "b"] as const) expect(inside(thrown, side) - inside(rest, side)).toBeCloseTo((meeting(state).at(0.05)[side]?.occupants?.[0]?.headTravel ?? 0) * scaleOf(rest), 1);
  });

  test("draw(…) keeps a dummy that is thrown back against its seat, which the model has not", () => {
    const back = collisionScene<Inputs, object>({ ...spec, motion: (state) => ({ duration: 0.14, at: (time) => { const { force, a } = meeting(state).at(time); return { force, a: { ...a, occupants: [{ torsoTravel: -0.8, headTravel: -1.1 }] }, b: { ...a, occupants: [] } }; } }) });
    const head = (instant: number): number => {
      const drawing = back.draw(stateOf(), instant, "wide", write);
      return Number(within(vehicle(drawing, "a"), "head")[0]?.attributes["cx"]) - span(shell(drawing, "a"))[0];
    };
    expect(head(back.duration(stateOf()))).toBeCloseTo(head(0), 1);
  });

  test("draw(…) never changes an outline with mass", () => {
    for (const width of WIDTHS)
      for (const side of ["a", "b"] as const) expect(shell(road.draw(stateOf({ massA: 400, massB: 500 }), 0, width, write), side)).toEqual(shell(road.draw(stateOf({ massA: 3000, massB: 2900 }), 0, width, write), side));
  });

  test("draw(…) makes a row of slabs as long as the mass", () => {
    const rows = [600, 1250, 3000].map((massA) => within(named(road.draw(stateOf({ massA }), 0, "wide", write), "ballast").find((child) => String(child.attributes["class"]).includes("body-a")), "reading-end")[0]?.attributes["x1"] as number);
    const perKilogram = ((rows[2] ?? 0) - (rows[0] ?? 0)) / 2400;
    expect(((rows[1] ?? 0) - (rows[0] ?? 0)) / 650).toBeCloseTo(perKilogram, 4);
    expect(slabMass(3000)).toBe(100);
    expect(slabMass(2)).toBeCloseTo(0.05, 12);
    // 3000 kg are 6614 lb; forty slabs of 200 lb are 8000 lb.
    expect(slabMass(3000, makeWrite("customary", "en"))).toBeCloseTo(toSI(200, "lb"), 9);
  });

  // NIST SP 811, appendix B: 1 ft = 0.3048 m (second-hand).
  test("draw(…) has a scale bar and ticks of a round length in the reader's unit, drawn as long as they are", () => {
    for (const width of WIDTHS) {
      const perMetre = scaleOf(road.draw(stateOf(), 0, width, write));
      for (const [scene, units, length, words] of [[road, "metric", 1, "1 m"], [road, "customary", 5 * 0.3048, "5 ft"]] as const) {
        const drawing = scene.draw(stateOf(), 0, width, makeWrite(units, "en"));
        expect(wordsOf(drawing).replaceAll("\u00a0", " ")).toContain(words);
        expect(Math.abs(scaleOf(drawing) - length * perMetre)).toBeLessThanOrEqual(LENGTH_ROUNDING);
        const ticks = named(drawing, "ground-tick").map((tick) => Number(tick.attributes["x1"]));
        for (const [i, x] of ticks.slice(1).entries()) expect(Math.abs(x - (ticks[i] as number) - length * perMetre)).toBeLessThanOrEqual(LENGTH_ROUNDING);
      }
    }
    const onBench = bench.draw(BENCH, 0, "wide", makeWrite("laboratory", "en"));
    expect(wordsOf(onBench).replaceAll("\u00a0", " ")).toContain("to scale, 10 cm");
  });

  test("draw(…, narrow) begins with both fronts, both marks and both names, or neither, on the sheet", () => {
    const long = collisionScene<Inputs, object>({ ...spec, b: { ...(spec.b as Body<S>), name: "The Bollard of Thornwick" } });
    for (const state of [stateOf(), stateOf({ speedA: 30, speedB: 1 }), stateOf({ speedA: 1, speedB: 30 })]) {
      const drawing = road.draw(state, 0, "narrow", write);
      for (const side of ["a", "b"] as const) {
        const [left, right] = span(shell(drawing, side));
        const front = side === "a" ? right : left;
        expect(front > 12 && front < drawing.width - 12, `front of ${side}`).toBe(true);
        const letter = within(vehicle(drawing, side), "tag-letter")[0];
        const mark = Number(letter?.attributes["x"]);
        // The mark stands on its body, not pushed in from beyond the frame.
        expect(mark > 22 && mark < drawing.width - 22, `mark ${side}`).toBe(true);
      }
      expect(wordsOf(drawing)).toMatch(/Sprig \d.*Bollard \d/);
      expect(wordsOf(long.draw(state, 0, "narrow", write))).toMatch(/A \d.*B \d/);
      expect(wordsOf(long.draw(state, 0, "narrow", write))).not.toMatch(/Sprig|Thornwick/);
    }
  });

  test("fittingScene(…) tells time from the touch of the scene that fits", () => {
    const either = fittingScene<Inputs, object>("Either", ({ inputs }) => (inputs.massB > 1e6 ? wall : road));
    expect(either.touch?.(stateOf())).toBeCloseTo(lead(stateOf()), 12);
    expect(either.duration(stateOf())).toBe(road.duration(stateOf()));
    expect(either.touch?.(stateOf({ massB: 2e6 }))).toBe(wall.touch?.(stateOf({ massB: 2e6 })));
  });
});

interface TextBox {
  readonly words: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}
/** Size of the type of a class, as the style sheet of drawings has it. */
const typeOf = (classes: string): number => (classes.includes("label-small") ? 13 : classes.includes("label-soft") ? 14 : 15);
const textBoxes = (drawing: Drawing): TextBox[] =>
  named(drawing, "label")
    .filter((child) => child.attributes["x"] !== undefined && child.children.join("") !== "")
    .map((child) => {
      const words = child.children.join("");
      const width = widthOf(words, typeOf(String(child.attributes["class"])));
      const [x, y, anchor] = [Number(child.attributes["x"]), Number(child.attributes["y"]), child.attributes["text-anchor"]];
      const left = anchor === "end" ? x - width : anchor === "middle" ? x - width / 2 : x;
      return { words, left, right: left + width, top: y - 11, bottom: y + 2 };
    });
const meet = (p: Omit<TextBox, "words">, q: Omit<TextBox, "words">): boolean => p.left < q.right && q.left < p.right && p.top < q.bottom && q.top < p.bottom;

/** Words that leave the sheet or lie over others: widths from the widest system faces measured. */
const textFaults = (drawing: Drawing): string[] => {
  const boxes = textBoxes(drawing);
  return boxes.flatMap((box, i) => [
    ...(box.left < 4 || box.right > drawing.width - 4 || box.bottom > drawing.height - 6 || box.top < 4 ? [`${box.words} leaves the sheet (${box.left.toFixed(0)}..${box.right.toFixed(0)})`] : []),
    ...boxes.slice(i + 1).filter((other) => meet(box, other)).map((other) => `${box.words} lies over ${other.words}`),
  ]);
};

const ARROWS = ["speed", "start-speed", "force"];
/** Two discs nearer than this cannot be told apart by a finger's tip; the target itself is larger, and the last one touched is on top. */
const LEAST_APART = 12;
/** How far a grip's disc reaches. */
const DISC = 9;
/** What else must not be: arrows longer than the sheet, words under an arrow or a grip, handles that cannot be reached. */
const markFaults = (drawing: Drawing, { inputs, outcome }: State): string[] => {
  const boxes = textBoxes(drawing);
  const arrows = ARROWS.flatMap((name) => named(drawing, name)).filter((child) => child.tag === "path" && /Z$/.test(String(child.attributes["d"])));
  const places = drawing.handles.map(({ input, origin, perUnit }) => ({ input, x: origin[0] + perUnit[0] * (inputs[input] as number), y: origin[1] + perUnit[1] * (inputs[input] as number) }));
  return [
    // where nothing can be shown two values may be one: the reader parts them again
    ...places.flatMap((one, i) => (outcome === undefined ? places.slice(i + 1) : []).filter((other) => Math.hypot(one.x - other.x, one.y - other.y) < LEAST_APART).map((other) => `handles of ${one.input} and ${other.input} lie on each other`)),
    ...arrows.flatMap((arrow) => {
      const [xs, ys] = [points(arrow).map(([x]) => x), points(arrow).map(([, y]) => y)];
      const box = { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys) + 3, bottom: Math.max(...ys) - 3 };
      return [
        ...(box.left < 6 || box.right > drawing.width - 6 ? [`an arrow leaves the sheet (${box.left.toFixed(0)}..${box.right.toFixed(0)})`] : []),
        ...boxes.filter((other) => meet(box, other)).map((other) => `${other.words} lies over an arrow`),
      ];
    }),
    ...places.flatMap(({ input, x, y }) => {
      const disc = { left: x - DISC, right: x + DISC, top: y - DISC, bottom: y + DISC };
      return [...(x > 6 && x < drawing.width - 6 && y > 6 && y < drawing.height - 6 ? [] : [`handle of ${input} is at ${x.toFixed(0)}, ${y.toFixed(0)}`]), ...boxes.filter((other) => meet(disc, other)).map((other) => `${other.words} lies under the handle of ${input}`)];
    }),
  ];
};

const WITH_SCENES = lessonFiles("lessons").map((file) => basename(file, ".md")).filter((slug) => /^ {2}scenes: \{/m.test(readFileSync(`lessons/${slug}.md`, "utf8")));
const LESSONS = ["sharing-out-a-change-of-velocity", "buying-time-with-crumple", "lighter-yet-maybe-the-better-seat"];
/** A lesson of the project at each scale, with each scenario that comes with it. */
const lessonsOf = async function* (slug: string) {
  const written = readLesson(`lessons/${slug}.md`);
  if (written.prose.fence === undefined) throw new Error(`${slug} has no fence`);
  for (const scenario of ["demo", "cresswold"]) {
    const reading = readScenario(`shared/scenario/${scenario}.yaml`);
    if ("problems" in reading) throw new Error(JSON.stringify(reading.problems));
    const made = await evaluateFence(written.prose.fence, { home: process.cwd(), cache: ".cache", file: written.file, slug, scenario: reading.scenario });
    if ("problems" in made) throw new Error(JSON.stringify(made.problems));
    const { road, others } = readScales(made.lesson, written.front.scales, written.file);
    yield { name: `${scenario} road`, lesson: road };
    for (const [scale, other] of Object.entries(others)) yield { name: `${scenario} ${scale}`, lesson: other.lesson };
  }
};

describe("words of collisionScene(…)", () => {
  test("draw(state, 0) and describe(state, 0) do not depend on what follows: nothing gives the answer away before the reveal", () => {
    const other = collisionScene<Inputs, object>({ ...spec, motion: () => ({ duration: 1, at: () => ({ force: 9e9, a: { travel: 9, velocity: -9, crush: 0.9, cabinLoss: 0.3 }, b: { travel: 9, velocity: 9, crush: 0.9 } }) }) });
    for (const width of WIDTHS) expect(other.draw(stateOf(), 0, width, write)).toEqual(road.draw(stateOf(), 0, width, write));
    expect(other.describe(stateOf(), 0, write)).toBe(road.describe(stateOf(), 0, write));
    expect(wordsOf(road.draw(stateOf(), 0, "wide", write))).not.toMatch(/pushes|crush|kN \||shorter/);
    expect(road.describe(stateOf(), 0, write)).toBe(`${write("duration", lead(stateOf()), { digits: 0 })} before first touch: Sprig moves right at ${write("speed", 15)} and Bollard moves left at ${write("speed", 10)}.`.replace(/^./, (c) => c.toUpperCase()));
  });

  test("draw(…) says who pushes whom, both with the same force", () => {
    const instant = lead(stateOf()) + 0.03;
    const force = write("force", meeting(stateOf()).at(0.03).force);
    expect(wordsOf(road.draw(stateOf(), instant, "wide", write))).toContain(`Bollard pushes Sprig: ${force} | Sprig pushes Bollard: ${force}`);
    expect(wordsOf(road.draw(stateOf(), instant, "narrow", write))).toContain(`Bollard pushes | Sprig: ${force} | Sprig pushes | Bollard: ${force}`);
    expect(road.describe(stateOf(), instant, write)).toContain(`Bollard pushes Sprig and Sprig pushes Bollard, each with ${force}.`);
  });

  test("draw(…) keeps every line of text on the sheet, and apart from the others, for 40 seeded states on both widths", () => {
    const random = seeded(11);
    const cases: [string, Drawing][] = [];
    for (let n = 0; n < 40; n++) {
      const state = stateOf({ massA: 500 + 2500 * random(), massB: 500 + 2500 * random(), speedA: 5 + 20 * random(), speedB: 3 + 15 * random(), noseA: 5e5 + 2e6 * random(), noseB: 2e5 + 1e6 * random() });
      for (const width of WIDTHS) {
        for (const [name, scene] of [["road", road], ["wall", wall]] as const) cases.push([`${name} ${width} ${n}`, scene.draw(state, n % 4 === 0 ? 0 : random() * scene.duration(state), width, write)]);
        cases.push([`bench ${width} ${n}`, bench.draw({ ...BENCH, inputs: { ...BENCH.inputs, vA: 1.4 * random(), vB: -1.4 * random() } }, random() * 0.5, width, write)]);
      }
    }
    for (const [name, drawing] of cases) expect(textFaults(drawing), name).toEqual([]);
  });

  test.each(LESSONS)("draw(…) of the scene of %s keeps words on the sheet and apart, and a crush's words beside their own arrow, at both ends of each input", async (slug) => {
    let dimensions = 0;
    for await (const { name, lesson: one } of lessonsOf(slug)) {
      const start = startOf(one);
      const changes = Object.entries(one.inputs).flatMap(([input, { type, ...rest }]): Record<string, InputValue>[] => {
        if (type === "choice") return Object.keys((rest as { words: object }).words).map((word) => ({ [input]: word }));
        const { from, to } = rest as { from: number; to: number };
        return type === "quantity" ? [{ [input]: from }, { [input]: to }] : [];
      });
      for (const change of [{}, ...changes]) {
        const state = evaluate(one, { ...start, ...change }, write) as State<never, never>;
        for (const scene of Object.values(one.scenes))
          for (const share of [0, 0.45, 0.75, 1])
            for (const width of WIDTHS) {
              const drawing = scene.draw(state as never, share * scene.duration(state as never), width, write);
              const where = `${name} ${JSON.stringify(change)} ${share} ${width}`;
              expect(textFaults(drawing), where).toEqual([]);
              for (const { input, origin, perUnit } of drawing.handles) {
                const x = origin[0] + perUnit[0] * (state.inputs as Record<string, number>)[input]!;
                expect(x > 6 && x < drawing.width - 6, `${where}: ${input} at ${x}`).toBe(true);
              }
              for (const side of ["a", "b"] as const) {
                const arrow = within(named(drawing, `crush`).find((group) => String(group.attributes["class"]).includes(`body-${side}`)), "dimension-line")[0];
                if (arrow === undefined) continue;
                const [from, to, y] = ["x1", "x2", "y1"].map((key) => Number(arrow.attributes[key])) as [number, number, number];
                const [words] = within(named(drawing, "crush-words")[0], "label").filter((child) => Math.abs(Number(child.attributes["y"]) - 5 - y) < 1);
                const [at, anchor] = [Number(words?.attributes["x"]), words?.attributes["text-anchor"]];
                // Words begin or end at an end of their own arrow.
                expect(anchor === "start" ? at - Math.max(from, to) : Math.min(from, to) - at, where).toBeCloseTo(8, 1);
                dimensions++;
              }
            }
      }
    }
    expect(dimensions).toBeGreaterThan(100);
  }, 60000);

  test("draw(…) draws a state that has no outputs as it stands before the first touch", () => {
    const never: S = { ...stateOf({ speedA: 0, speedB: 0 }), outcome: "they never meet" };
    const drawing = road.draw(never, 0, "wide", write);
    expect(named(drawing, "force")).toEqual([]);
    expect(road.duration(never)).toBe(0);
    expect(serialise(drawing)).not.toMatch(/NaN|Infinity|undefined/);
  });

  test.each([["road", road, stateOf()], ["wall", wall, stateOf()], ["bench", bench, BENCH]] as const)("draw(…) of %s serialises at every instant, with finite numbers and no style", (_, scene, state) => {
    for (const width of WIDTHS)
      for (let k = 0; k <= 20; k++) {
        const text = serialise((scene as typeof road).draw(state as S, (k / 20) * (scene as typeof road).duration(state as S), width, write));
        expect(text).not.toMatch(/NaN|Infinity|undefined|\sstyle=|\sid=/);
      }
  });

  test("collisionScene(…) fits a lesson that has the inputs it names in its motion", () => {
    const typed = lesson({
      inputs: { massA: mass("one", { start: 900, from: 400, to: 3000, step: 10 }), pace: speed("pace", { start: 15, from: 1, to: 30, step: 1 }) },
      outputs: {},
      run: () => ({}),
      scenes: {
        roadway: collisionScene({
          title: "x",
          a: { name: "Sprig", drawnAs: "hatch", mass: { input: "massA", to: 3000 }, speed: { input: "pace", to: 30 } },
          b: { wall: "the wall" },
          motion: ({ inputs }: State<{ readonly pace: number }, unknown>) => ({ duration: 0.1, at: (time) => ({ force: 0, a: { travel: inputs.pace * time, velocity: inputs.pace, crush: inputs.pace * time } }) }),
        }),
      },
    });
    const state = evaluate(typed, startOf(typed), write);
    expect(typed.scenes["roadway"]?.duration(state as never)).toBeCloseTo(0.1 + 1.4 / 15, 12);
  });
});

describe("outlines", () => {
  test("fold(outline, crush, loss, length) puts the face at the crush, keeps order, and moves nothing behind the pillar, for 300 seeded fronts", () => {
    const random = seeded(3);
    for (const outline of Object.values(OUTLINES))
      for (let n = 0; n < 100; n++) {
        const length = outline.fold * (0.3 + 1.5 * random());
        const crush = n === 0 ? 0 : length * 1.6 * random();
        const { depth, firewallNow } = fold(outline, crush, Math.max(0, crush - length), length);
        expect(depth(0)).toBeCloseTo(crush, 12);
        expect(depth(outline.length)).toBeCloseTo(outline.length, 12);
        if (crush < length) expect(depth((outline.pillar + outline.length) / 2)).toBeCloseTo((outline.pillar + outline.length) / 2, 12);
        let before = -Infinity;
        for (let k = 0; k <= 200; k++) {
          const now = depth((outline.length * k) / 200);
          expect(now).toBeGreaterThanOrEqual(before - 1e-9);
          before = now;
        }
        if (crush < outline.pillar / 2) expect(firewallNow).toBeLessThan(outline.pillar);
      }
  });

  test("fold(outline, 0, …) leaves a body as it is", () => {
    for (const outline of Object.values(OUTLINES)) {
      const folded = fold(outline, 0, 0, outline.fold);
      for (const [d, h] of outline.shell) expect(folded.place([d, h]).map((value) => Math.round(value * 1e9) / 1e9)).toEqual([d, h].map((value) => Math.round(value * 1e9) / 1e9));
      expect(folds(outline, folded, 0)).toEqual([]);
    }
  });

  test("hatching(polygon, spacing) keeps its lines inside the polygon", () => {
    const outline: Point[] = [[0, 0], [40, 0], [40, 70], [0, 70]];
    const drawn = points(hatching(outline, 6, "x"));
    expect(drawn.length).toBeGreaterThan(20);
    for (const [x, y] of drawn) expect(x >= -ROUNDING && x <= 40 + ROUNDING && y >= -ROUNDING && y <= 70 + ROUNDING).toBe(true);
    expect(points(hatching([], 6, "x"))).toEqual([]);
  });
});

describe("motionOfTraces", () => {
  const series = (f: (i: number) => number) => Float64Array.from({ length: 5 }, (_, i) => f(i));
  const body = { position: series((i) => i), velocity: series((i) => 10 - i), acceleration: series(() => 0), crush: series((i) => 0.2 * i), cabinLoss: series((i) => 0.1 * i) };
  const occupant = { chestAcceleration: series(() => 0), headAcceleration: series(() => 0), chestVelocity: series(() => 0), headVelocity: series(() => 0), chestTravel: series((i) => 0.01 * i * i), headTravel: series((i) => 0.02 * i), beltForce: series((i) => 100 * i), bagForce: series(() => 0), interiorForce: series(() => 0) };
  const traces: CrashTraces = { time: series((i) => 0.01 * i), force: series((i) => 1000 * i * i), vehicles: { a: body, b: body }, occupants: { a: [occupant], b: [occupant] } };

  test("motionOfTraces(traces).at(time) is the sample at a sample and halfway between two", () => {
    const motion = motionOfTraces(traces, { noseLength: { a: 0.5, b: 9 }, bagTimes: { a: [0.025], b: [null] }, unbelted: { a: [], b: [0] } });
    expect(motion.duration).toBeCloseTo(0.04, 12);
    for (let i = 0; i < 5; i++) expect(motion.at(0.01 * i).force).toBeCloseTo(1000 * i * i, 6);
    const half = motion.at(0.025);
    expect(half.force).toBeCloseTo((4000 + 9000) / 2, 6);
    expect(half.a.crush).toBeCloseTo(0.5, 12);
    expect(motion.at(0.03).a.cabinLoss).toBeCloseTo(0.1, 12);
    expect(motion.at(0.03).b?.cabinLoss).toBe(0);
    expect(motion.at(0.02).a.occupants?.[0]?.bagStands).toBe(false);
    expect(motion.at(0.03).a.occupants?.[0]?.bagStands).toBe(true);
    expect(motion.at(0.03).b?.occupants?.[0]).toEqual({ torsoTravel: expect.closeTo(0.09, 9), headTravel: expect.closeTo(0.06, 9) });
    expect(motion.at(99).force).toBe(16000);
    expect(motionOfTraces(traces).at(0.03).a.cabinLoss).toBeCloseTo(0.3, 12);
  });
});

describe("every scene of every lesson", () => {
  const SHARES = [0, 0.6, 1];
  /** The start, both ends of each input by itself, every choice, and all at their low and at their high ends. */
  const changesOf = (one: Lesson): Record<string, InputValue>[] => {
    const quantities = Object.entries(one.inputs).filter(([, { type }]) => type === "quantity") as unknown as [string, { readonly from: number; readonly to: number }][];
    const choices = Object.entries(one.inputs).filter(([, { type }]) => type === "choice") as unknown as [string, { readonly words: object }][];
    return [{}, ...quantities.flatMap(([name, { from, to }]) => [{ [name]: from }, { [name]: to }]), ...choices.flatMap(([name, { words }]) => Object.keys(words).map((word) => ({ [name]: word }))), ...(["from", "to"] as const).map((end) => Object.fromEntries(quantities.map(([name, input]) => [name, input[end]])))];
  };

  test.each(WITH_SCENES)("draw(…) of %s keeps words on the sheet and off each other, arrows and handles on it and clear of words, at both ends of each input", async (slug) => {
    const faults = new Map<string, string>();
    let drawn = 0;
    for await (const { name, lesson: one } of lessonsOf(slug)) {
      // every system of units once, every lesson in each
      const units = !name.includes("cresswold") ? "metric" : name.endsWith("road") ? "customary" : "laboratory";
      const said = makeWrite(units, "en");
      for (const change of changesOf(one)) {
        const state = evaluate(one, { ...startOf(one), ...change }, said);
        for (const scene of Object.values(one.scenes) as Scene[])
          for (const share of SHARES)
            for (const width of WIDTHS) {
              const drawing = scene.draw(state, share * scene.duration(state), width, said);
              drawn++;
              for (const fault of [...textFaults(drawing), ...markFaults(drawing, state)]) {
                const kind = `${width} ${fault.replace(/[\d.\u2212]+/g, "#")}`;
                if (!faults.has(kind)) faults.set(kind, `${name} ${units} ${width} ${share} ${JSON.stringify(change)}: ${fault}`);
              }
            }
      }
    }
    expect([...faults.values()]).toEqual([]);
    expect(drawn).toBeGreaterThan(50);
  }, 120_000);
});
