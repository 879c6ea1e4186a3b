/** Three lessons and the scenes made for them: a push has two ends, the total that stays, seen from the other seat. */
import { describe, expect, it } from "vitest";
import type { Drawing, Node } from "../../shared/drawing.ts";
import { evaluate, type InputValue, type Lesson, type Scene, startOf, type State, type TableRows } from "../../shared/lesson.ts";
import { makeWrite } from "../../shared/state/units.ts";
import { lessonAtScales } from "./lessonAtScales.ts";

const PUSH = "a-push-has-two-ends";
const TOTAL = "the-total-that-stays";
const SEAT = "seen-from-the-other-seat";
const write = makeWrite("metric", "en");
const WIDTHS = ["wide", "narrow"] as const;
/** Two places, each rounded to a hundredth of a drawing unit. */
const PLACES = 0.021;
/** Binary rounding over a few sums, as a share. */
const ROUNDING = 1e-9;

/** Linear congruential numbers (Numerical Recipes constants, from memory): seeded, so that a failure repeats. */
const seeded = (seed: number) => () => {
  seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
  return seed / 2 ** 32;
};
const statesOf = (lesson: Lesson, count = 60): State[] => {
  const random = seeded(11);
  const pick = (): Record<string, InputValue> =>
    Object.fromEntries(
      Object.entries(lesson.inputs).map(([name, input]) => {
        if (input.type === "quantity") return [name, random() < 0.25 ? (random() < 0.5 ? input.from : input.to) : input.from + random() * (input.to - input.from)];
        if (input.type === "choice") return [name, Object.keys(input.words)[Math.floor(random() * Object.keys(input.words).length)] as string];
        return [name, input.start];
      }),
    );
  return [evaluate(lesson, startOf(lesson), write), ...Array.from({ length: count }, () => evaluate(lesson, pick(), write))].filter(({ outcome }) => outcome === undefined);
};
const everyLesson = async (slug: string): Promise<Lesson[]> => (await Promise.all(["demo", "cresswold"].map((name) => lessonAtScales(slug, name)))).flatMap((scales) => Object.values(scales));
const sceneOf = (lesson: Lesson, name: string): Scene => lesson.scenes[name] as unknown as Scene;

const walk = function* (nodes: readonly (Node | string)[]): Generator<Node> {
  for (const child of nodes) {
    if (typeof child === "string") continue;
    yield child;
    yield* walk(child.children);
  }
};
const classed = (nodes: readonly (Node | string)[], ...names: string[]): Node[] => [...walk(nodes)].filter((child) => names.every((name) => String(child.attributes["class"] ?? "").split(" ").includes(name)));
const points = (path: Node | undefined): (readonly [number, number])[] => Array.from(String(path?.attributes["d"] ?? "").matchAll(/[ML](-?[\d.]+),(-?[\d.]+)/g), ([, x, y]) => [Number(x), Number(y)] as const);
const spread = (path: Node | undefined): number => {
  const xs = points(path).map(([x]) => x);
  return xs.length === 0 ? 0 : Math.max(...xs) - Math.min(...xs);
};
const number = (state: State, name: string): number => (name in state.outputs ? state.outputs : state.inputs)[name] as number;

describe.each([
  [PUSH, "meters"],
  [TOTAL, "strip"],
  [SEAT, "seats"],
])("%s, scene %s", (slug, sceneName) => {
  it("draw(…) puts the grip of every input where its handle says, on the sheet, sideways only", async () => {
    for (const lesson of await everyLesson(slug))
      for (const [n, state] of statesOf(lesson, 20).entries())
        for (const width of WIDTHS) {
          const scene = sceneOf(lesson, sceneName);
          const drawing = scene.draw(state, (n / 20) * scene.duration(state), width, write);
          expect(drawing.handles.length).toBeGreaterThanOrEqual(2);
          for (const { input, origin, perUnit } of drawing.handles) {
            const grip = classed(drawing.nodes, "grip").find((child) => child.attributes["data-input"] === input);
            const [, x, y] = /translate\((-?[\d.]+),(-?[\d.]+)\)/.exec(String(grip?.attributes["transform"])) ?? [];
            const at = origin[0] + perUnit[0] * (state.inputs[input] as number);
            expect(Math.abs(at - Number(x)), input).toBeLessThanOrEqual(PLACES);
            expect(Math.abs(origin[1] - Number(y)), input).toBeLessThanOrEqual(PLACES);
            expect(perUnit[1]).toBe(0);
            expect(at, `${input} ${width}`).toBeGreaterThan(0);
            expect(at, `${input} ${width}`).toBeLessThan(drawing.width);
          }
        }
  });

  it("draw(…) and describe(…) hold no number that is none, at any instant", async () => {
    for (const lesson of await everyLesson(slug))
      for (const state of statesOf(lesson, 12)) {
        const scene = sceneOf(lesson, sceneName);
        for (const share of [0, 0.3, 0.5, 0.8, 1])
          for (const width of WIDTHS) {
            const instant = share * scene.duration(state);
            expect(JSON.stringify(scene.draw(state, instant, width, write)) + scene.describe(state, instant, write)).not.toMatch(/NaN|Infinity|null|undefined/);
          }
      }
  });

  it("says at most 30 words in a sentence, finite numbers and no forbidden word, over the box", async () => {
    const wrong: string[] = [];
    for (const lesson of await everyLesson(slug))
      for (const state of statesOf(lesson))
        for (const [name, output] of Object.entries(lesson.outputs)) {
          const value = state.outputs[name];
          if (output.type === "sentence" && (String(value).split(/\s+/).length > 30 || /NaN|undefined|\b(safe|safer|surviv\w*|injur\w*|fatal\w*)\b/i.test(String(value)))) wrong.push(String(value));
          if ((output.type === "quantity" || output.type === "returned") && !Number.isFinite(value)) wrong.push(`${name} ${String(value)}`);
        }
    expect(wrong).toEqual([]);
  });
});

describe(PUSH, () => {
  it("draws one push by itself on each body, equally long and in opposite directions, and never both on one", async () => {
    for (const lesson of await everyLesson(PUSH))
      for (const state of statesOf(lesson, 20))
        for (const width of WIDTHS) {
          const scene = sceneOf(lesson, "meters");
          const push = scene.touch?.(state) as number;
          const drawing: Drawing = scene.draw(state, push + 0.3 * (scene.duration(state) - push), width, write);
          const arrows = classed(drawing.nodes, "force");
          const forces = classed(drawing.nodes, "forces");
          expect(forces.map((group) => classed(group.children, "force").length)).toEqual([1, 1]);
          expect(arrows).toHaveLength(2);
          expect(Math.abs(spread(arrows[0]) - spread(arrows[1]))).toBeLessThanOrEqual(2 * PLACES);
          // the push on a points left, towards its front; that on b right
          const [tipA, tipB] = arrows.map((arrow) => points(arrow)[3]?.[0] as number);
          const [footA, footB] = arrows.map((arrow) => points(arrow)[0]?.[0] as number);
          expect(tipA).toBeLessThanOrEqual(footA as number);
          expect(tipB).toBeGreaterThanOrEqual(footB as number);
        }
  });

  it("draws a push as long as it is, on a scale that is written on the sheet: faster is longer while that number stays", async () => {
    for (const lesson of await everyLesson(PUSH)) {
      const byScale = new Map<string, [number, number][]>();
      const random = seeded(23);
      const start = startOf(lesson);
      for (let i = 0; i < 24; i++) {
        const slower = 0.15 + 0.85 * random();
        const state = evaluate(lesson, { ...start, speedA: slower * (start["speedA"] as number), speedB: slower * (start["speedB"] as number) }, write);
        if (state.outcome !== undefined) continue;
        const scene = sceneOf(lesson, "meters");
        const touch = scene.touch?.(state) as number;
        const drawing = scene.draw(state, touch + 0.6 * (scene.duration(state) - touch), "wide", write);
        const words = [...walk(drawing.nodes)].flatMap((one) => (one.tag === "text" ? [one.children.join("")] : [])).find((each) => each.startsWith("dials, arrows and curves end at"));
        expect(words).toMatch(/end at (1|2|5)0*\D/);
        const length = spread(classed(drawing.nodes, "force")[0]);
        const told = [...walk(classed(drawing.nodes, "forces")[0]?.children ?? [])].flatMap((one) => (one.tag === "text" ? [one.children.join("")] : [])).find((each) => /\d/.test(each)) as string;
        byScale.set(words as string, [...(byScale.get(words as string) ?? []), [Number(told.replace(/[^\d.]/g, "")), length]]);
      }
      const pairs = [...byScale.values()].flatMap((drawn) => drawn.map(([push, length]) => [push / (drawn[0]?.[0] as number), length / (drawn[0]?.[1] as number)] as const));
      expect(pairs.length).toBeGreaterThan(byScale.size);
      // a push on the sheet has three or four digits, an arrow of a few drawing units two
      for (const [push, length] of pairs) expect(Math.abs(length / push - 1)).toBeLessThan(0.03);
    }
  });

  // Two springs in a row and two masses that close in: a sinusoid of the reduced mass, peak force c sqrt(k m). Any mechanics text;
  // written out here and not taken from the kernel.
  it("finds the push of the closed form c √(k m) in every row that exchanges the two", async () => {
    for (const lesson of await everyLesson(PUSH))
      for (const state of statesOf(lesson)) {
        const [mA, mB, vA, vB, kA, kB] = ["massA", "massB", "speedA", "speedB", "frontA", "frontB"].map((name) => number(state, name)) as [number, number, number, number, number, number];
        const expected = (vA + vB) * Math.sqrt(((kA * kB) / (kA + kB)) * ((mA * mB) / (mA + mB)));
        const rows = state.outputs["contexts"] as TableRows;
        for (const row of rows.slice(0, 5)) for (const end of ["onA", "onB"] as const) expect(Math.abs((row[end] as number) / expected - 1)).toBeLessThan(ROUNDING);
        expect(rows[6]?.["onA"]).toBeCloseTo(expected / 2, 6);
        expect(state.outputs["harder"]).toBe("same");
      }
  });
});

describe(TOTAL, () => {
  it("lays the arrows head to tail: the pointer stands at the total, in every row that is shown", async () => {
    for (const lesson of await everyLesson(TOTAL))
      for (const state of statesOf(lesson, 30)) {
        const scene = sceneOf(lesson, "strip");
        const drawing = scene.draw(state, scene.duration(state), "wide", write);
        const pointers = classed(drawing.nodes, "momenta").map((row) => classed(row.children, "reading-end")[0]?.attributes["x1"] as number);
        expect(pointers).toHaveLength(3);
        // straight lines between the instants of the trace
        const SHARE = 0.004 * drawing.width;
        for (const pointer of pointers) expect(Math.abs(pointer - (pointers[0] as number))).toBeLessThan(SHARE);
      }
  });

  it("keeps one scale through the event: the pointer stands where it stood before the push", async () => {
    for (const lesson of await everyLesson(TOTAL))
      for (const state of statesOf(lesson, 20)) {
        const scene = sceneOf(lesson, "strip");
        for (const width of WIDTHS) {
          const places = [0, 0.2, 0.4, 0.6, 0.8, 1].flatMap((share) => {
            const drawing = scene.draw(state, share * scene.duration(state), width, write);
            return classed(drawing.nodes, "momenta").flatMap((row) => classed(row.children, "reading-end").map((pointer) => (pointer.attributes["x1"] as number) / drawing.width));
          });
          for (const place of places) expect(Math.abs(place - (places[0] as number))).toBeLessThan(0.004);
        }
      }
  });

  it("says that both stand still only where the total is nought, and of no velocity that stops both where the first does not go right", async () => {
    let [stood, silent] = [0, 0];
    for (const lesson of await everyLesson(TOTAL))
      for (const state of statesOf(lesson)) {
        if (/both stand still/.test(String(state.outputs["said"]))) {
          stood++;
          expect(state.outputs["totalBefore"]).toBe(0);
        }
        const stops = /no meeting stops both/.test(String(state.outputs["bothStop"]));
        expect(stops).toBe(!((state.inputs["velocityA"] as number) > 0));
        if (stops) silent++;
      }
    expect(stood).toBeGreaterThan(0);
    expect(silent).toBeGreaterThan(0);
    // two that lock slowly with something left over: no speed to show, and yet no standing still
    const road = (await lessonAtScales(TOTAL, "demo"))["road"] as Lesson;
    const slow = evaluate(road, { ...startOf(road), velocityA: 5 / 900, velocityB: 0, massA: 900 }, write);
    expect(String(slow.outputs["said"])).not.toMatch(/stand still/);
  });

  it("shows no row but the first before the push: nothing is given away", async () => {
    const { road } = await lessonAtScales(TOTAL, "demo");
    for (const happens of ["meet", "apart", "wall"]) {
      const state = evaluate(road as Lesson, { ...startOf(road as Lesson), happens }, write);
      const drawing = sceneOf(road as Lesson, "strip").draw(state, 0, "wide", write);
      expect(classed(drawing.nodes, "momenta").map((row) => classed(row.children, "reading-end").length)).toEqual([1, 0, 0]);
    }
  });

  // By hand: 900 kg at 54 km/h against 1800 kg; 13 500 N s stops against 7.5 m/s. Earth: 13 500 / 5.97e24 m/s.
  it("stops both at the start, parts them by shares of the masses, and moves the Earth by next to nothing", async () => {
    const road = (await lessonAtScales(TOTAL, "demo"))["road"] as Lesson;
    const at = (inputs: Record<string, InputValue>) => evaluate(road, { ...startOf(road), ...inputs }, write).outputs;
    expect(at({})["stopVelocity"]).toBeCloseTo(-7.5, 9);
    expect(at({})["totalBefore"]).toBe(0);
    expect(at({})["said"]).toBe("Together they had a total of nought before, and have a total of nought after: it stays, though now both stand still.");
    const sprung = at({ happens: "apart", velocityA: 0, parting: 6 })["ledger"] as TableRows;
    expect(sprung.map((row) => row["momentumAfter"])).toEqual([expect.closeTo(-3600, 9), expect.closeTo(3600, 9), 0]);
    expect(String(at({ happens: "wall" })["earth"])).toMatch(/passes 13\.50\u00a0kN·s on to the Earth, .* about 14 thousand million years/);
    const years = 0.001 / (13500 / 5.97e24) / (365.25 * 86400);
    expect(Math.round(years / 1e9)).toBe(14);
  });

  it("is told by the numbers, not by the choice of event: head to tail, head-on, spring and wall all keep the total", async () => {
    const seen = new Set<string>();
    for (const lesson of await everyLesson(TOTAL))
      for (const state of statesOf(lesson)) {
        const ledger = state.outputs["ledger"] as TableRows;
        const sum = (column: string): number => (ledger[0]?.[column] as number) + (ledger[1]?.[column] as number);
        const play = Math.abs(number(state, "sizesBefore")) + Math.abs(number(state, "sizesAfter"));
        expect(Math.abs(sum("momentumAfter") - sum("momentumBefore"))).toBeLessThanOrEqual(2 * ROUNDING * play);
        seen.add(`${String(state.inputs["happens"])} ${number(state, "velocityA") > 0 === number(state, "velocityB") > 0 ? "tail" : "head"}`);
      }
    expect([...seen].sort()).toEqual(["apart head", "apart tail", "meet head", "meet tail", "wall head", "wall tail"]);
  });
});

describe(SEAT, () => {
  it("hatches as much lost energy from the seat as from the road, at every instant", async () => {
    for (const lesson of await everyLesson(SEAT))
      for (const state of statesOf(lesson, 20)) {
        const scene = sceneOf(lesson, "seats");
        for (const share of [0.4, 0.7, 1]) {
          const drawing = scene.draw(state, share * scene.duration(state), "wide", write);
          const [road = 0, seat = 0] = classed(drawing.nodes, "energy").map((bar) => spread(classed(bar.children, "intrusion-ground")[0]));
          // lengths under half a drawing unit are left out on either bar
          if (road > 1) expect(Math.abs(road - seat)).toBeLessThan(2 * PLACES + 1e-6);
        }
      }
  });

  // Galilean change of seat, written out here: v - u; energy of the relative motion (1 - e^2) m c^2 / 2.
  it("finds the changes and the lost energy of the closed forms from every seat", async () => {
    for (const lesson of await everyLesson(SEAT))
      for (const state of statesOf(lesson)) {
        const [mA, mB, vA, vB, e, u] = ["massA", "massB", "speedA", "speedB", "restitution", "seat"].map((name) => number(state, name)) as [number, number, number, number, number, number];
        const c = vA + vB;
        const reduced = (mA * mB) / (mA + mB);
        const near = (name: string, expected: number, size: number): void => expect(Math.abs(number(state, name) - expected), name).toBeLessThanOrEqual(ROUNDING * size);
        near("seenChangeA", ((1 + e) * c * mB) / (mA + mB), c + Math.abs(u));
        near("seenChangeB", ((1 + e) * c * mA) / (mA + mB), c + Math.abs(u));
        near("lostSeat", (reduced * c ** 2 * (1 - e ** 2)) / 2, number(state, "energySeat") + number(state, "energyRoad"));
        near("energySeat", (mA * (vA - u) ** 2 + mB * (vB + u) ** 2) / 2, number(state, "energySeat"));
        expect(state.outputs["decides"]).toBe("same");
      }
  });

  it("calls energy gone only once nothing pushes: before that part of it may come back", async () => {
    const road = (await lessonAtScales(SEAT, "demo"))["road"] as Lesson;
    for (const restitution of [0, 1]) {
      const state = evaluate(road, { ...startOf(road), restitution }, write);
      const scene = sceneOf(road, "seats");
      const touch = scene.touch?.(state) as number;
      const told = (share: number): string => [...walk(scene.draw(state, touch + share * (scene.duration(state) - touch), "wide", write).nodes)].flatMap((one) => (one.tag === "text" ? [one.children.join("")] : [])).filter((each) => each.includes("energy of motion")).join();
      expect(told(0.3)).toMatch(/not in motion now/);
      expect(told(1)).not.toMatch(/not in motion/);
      expect(told(1)).toMatch(/gone/);
    }
  });

  it("says who stands still from the seat that keeps pace with b", async () => {
    const road = (await lessonAtScales(SEAT, "demo"))["road"] as Lesson;
    expect(evaluate(road, startOf(road), write).outputs["seen"]).toBe("From this seat, before they touch, the Sprig comes on at 90.0\u00a0km/h and the Bollard stands still.");
  });
});
