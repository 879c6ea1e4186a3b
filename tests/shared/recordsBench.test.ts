/** The class's fleet of "what many crashes show": how far the blocks slide, against a motion worked out in small steps. */
import { describe, expect, it } from "vitest";
import type { Node } from "../../shared/drawing.ts";
import { evaluate, type Scene, startOf, type State } from "../../shared/lesson.ts";
import { makeWrite } from "../../shared/state/units.ts";
import { lessonAtScales } from "./lessonAtScales.ts";

const write = makeWrite("laboratory", "en");
/** Standard gravity: third General Conference on Weights and Measures, 1901. */
const GRAVITY = 9.80665;
/** Steps of ten microseconds leave less than this [m]. */
const STEPPED = 5e-5;
/** A length of the drawing is rounded to hundredths of a unit; the trolley is some hundred units long, as a share. */
const ROUNDED = 2e-3;
const GROUPS = [
  ["lightSoftSlid", "massLight", "soft"],
  ["lightStiffSlid", "massLight", "stiff"],
  ["heavySoftSlid", "massHeavy", "soft"],
  ["heavyStiffSlid", "massHeavy", "stiff"],
] as const;

const benchAt = async (changed: Readonly<Record<string, number>> = {}) => {
  const { bench } = await lessonAtScales("what-many-crashes-show");
  if (bench === undefined) throw new Error("no bench");
  return { bench, state: evaluate(bench, { ...startOf(bench), ...changed }, write) };
};

/** Newton's second law step by step (semi-implicit Euler, any textbook); dry friction as in OpenStax, University Physics Volume 1, section 6.2, from memory. */
const slide = (mass: number, stiffness: number, speed: number, grip: number): number => {
  const step = 1e-5;
  let [way, velocity, blockWay, blockVelocity] = [0, speed, 0, speed];
  while (velocity > 0 || blockVelocity > 0) {
    const slowing = (stiffness * way) / mass;
    velocity = velocity > 0 ? Math.max(0, velocity - slowing * step) : 0;
    way += velocity * step;
    // the block goes along as long as friction can slow it as hard as the trolley slows
    const along = blockVelocity - velocity < 1e-12 + grip * GRAVITY * step;
    blockVelocity = along && velocity > 0 && slowing <= grip * GRAVITY ? velocity : Math.max(0, blockVelocity - grip * GRAVITY * step);
    blockWay += blockVelocity * step;
  }
  return blockWay - way;
};

describe("what-many-crashes-show, on a bench", () => {
  it.each([{}, { wallSpeed: 0.4 }, { wallSpeed: 0.7, grip: 0.3 }, { massLight: 0.3, massHeavy: 1.5, soft: 250, stiff: 900 }])("evaluate(…) gives the slides of stepped motions for %o", async (changed) => {
    const { state } = await benchAt(changed);
    const { inputs, outputs } = state as State<Record<string, number>, Record<string, number>>;
    for (const [name, mass, stiffness] of GROUPS) expect(Math.abs((outputs[name] as number) - slide(inputs[mass] as number, inputs[stiffness] as number, inputs["wallSpeed"] as number, inputs["grip"] as number)), name).toBeLessThan(STEPPED);
  });

  it.each([
    [{ wallSpeed: 1 }, /flat|off its deck/],
    [{ wallSpeed: 0.1 }, /does not slide/],
  ])("evaluate(…) says for %o why there is nothing to measure", async (changed, why) => expect((await benchAt(changed)).state.outcome).toMatch(why));

  it("draw(…) shows each slide and each buffer as long as its numbers say, to the scale of the bar", async () => {
    const { bench, state } = await benchAt();
    const scene = bench.scenes["fleet"] as unknown as Scene;
    const outputs = state.outputs as Record<string, number>;
    for (const width of ["wide", "narrow"] as const) {
      const { nodes } = scene.draw(state, scene.duration(state), width, write);
      const all = (list: readonly (Node | string)[]): Node[] => list.flatMap((each) => (typeof each === "string" ? [] : [each, ...all(each.children)]));
      const found = all(nodes);
      const bar = found.find(({ attributes }) => attributes["class"] === "scale-bar");
      const perMetre = Math.max(...(bar?.children ?? []).map((part) => Number((part as Node).attributes["width"] ?? 0))) / 0.1;
      const drawn = found.filter(({ attributes }) => String(attributes["class"]).startsWith("dimension body-")).map(({ children }) => {
        const { attributes } = (children as Node[]).find((part) => part.attributes["class"] === "dimension-line") as Node;
        return Math.abs(Number(attributes["x2"]) - Number(attributes["x1"])) / perMetre;
      });
      // row by row: soft light, soft heavy, stiff light, stiff heavy
      const expected = ["lightSoftSlid", "heavySoftSlid", "lightStiffSlid", "heavyStiffSlid"].map((name) => outputs[name] as number);
      expect(drawn).toHaveLength(expected.length);
      drawn.forEach((length, i) => expect(Math.abs(length / (expected[i] as number) - 1), width).toBeLessThan(ROUNDED));
    }
  });
});
