// Every picture of every lesson, of both shows and on the bench: what its words keep to, measured on the SVG that is written.
import { join } from "node:path";
import { Resvg } from "@resvg/resvg-js";
import { beforeAll, describe, expect, test } from "vitest";
import { HOME } from "../../build/home.ts";
import { type LessonAt, lessonAt } from "../../build/oneLesson.ts";
import { painterFor, planOf, scenePlate } from "../../build/picture.ts";
import { drawPixels, type Renderer } from "../../build/raster.ts";
import { pathPoints } from "../../shared/export/bounds.ts";
import { checkPlate } from "../../shared/export/checks.ts";
import { ACTION_SAFE, GRAPHICS_SAFE, type Ground, LEAST_CAP, type Plate, SIZES, writePlate } from "../../shared/export/plate.ts";
import { CAP, EM } from "../../shared/export/type/outline.ts";
import { lessonEverywhere, platesOf, type Shown, SLUGS } from "./lessonsAt.ts";

const cache = join(HOME, ".cache");

const SLOW = 120_000;
/** Half a pixel of an edge is grey. */
const EDGE = 0.5;

/** Boxes of the outlined words of an SVG, from its path data, at its own pixels; and the height of their capitals. */
const wordsIn = (svg: string): { readonly box: readonly [number, number, number, number]; readonly cap: number }[] => {
  const [, width = "", wide = ""] = /<svg[^>]*viewBox="0 0 (\d+) \d+"[^>]* width="(\d+)"/.exec(svg) ?? [];
  const zoom = Number(wide) / Number(width);
  return [...svg.matchAll(/<path d="([^"]+)" transform="translate\(([-\d.]+) ([-\d.]+)\) scale\(([\d.]+) -[\d.]+\)"/g)].map(([, d, x, y, s]) => {
    const [left, foot, scale] = [Number(x), Number(y), Number(s)];
    const points = pathPoints(d as string).map(([px, py]) => [zoom * (left + scale * px), zoom * (foot - scale * py)] as const);
    const [xs, ys] = [points.map(([px]) => px), points.map(([, py]) => py)];
    return { box: [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)] as const, cap: zoom * scale * EM * CAP };
  });
};

describe("safe areas", () => {
  // Pixel values of EBU R 95, ITU-R BT.1848-1 and SMPTE ST 2046-1, as quoted by others: sides / top and bottom.
  test.each([["hd", 96, 54, 67, 38], ["uhd", 192, 108, 134, 76]] as const)("are the published ones at %s", (size, x, y, actionX, actionY) => {
    const scale = SIZES[size];
    expect([GRAPHICS_SAFE.left * scale, GRAPHICS_SAFE.top * scale]).toEqual([x, y]);
    expect([1920 * scale - GRAPHICS_SAFE.right * scale, 1080 * scale - GRAPHICS_SAFE.bottom * scale]).toEqual([x, y]);
    expect([ACTION_SAFE.left * scale, ACTION_SAFE.top * scale]).toEqual([actionX, actionY]);
  });
});

describe.each(SLUGS)("pictures of %s", (slug) => {
  let everywhere: readonly LessonAt[] = [];
  /** Where the lesson starts, on no ground: its plates are written and drawn. */
  let start: readonly Shown[] = [];
  beforeAll(async () => {
    everywhere = await lessonEverywhere(slug, cache);
    start = everywhere[0] === undefined ? [] : platesOf(everywhere[0], "none");
  }, SLOW);

  test("keep their words inside the graphics-safe area and tall enough, by the report, in each show and on the bench", { timeout: SLOW }, () => {
    expect(start.length).toBeGreaterThan(0);
    const faults = everywhere.flatMap((at, i) =>
      (i === 0 ? start : platesOf(at, "none")).flatMap(({ name, plate }) => {
        const report = checkPlate(plate, "hd");
        return [...report.outside, ...report.small].map((fault) => `${at.scenario.title} ${at.lesson.scale ?? ""} ${name}: ${JSON.stringify(fault)}`);
      }),
    );
    expect(faults).toEqual([]);
  });

  test("keep the outlines of their words inside it, tall enough and off each other, at both sizes", { timeout: SLOW }, () => {
    const paint = painterFor("none");
    const faults: string[] = [];
    for (const { name, plate } of start) {
      const size = name.length % 2 === 0 ? "hd" : "uhd";
      const scale = SIZES[size];
      const found = wordsIn(writePlate(plate, paint, "none", size));
      // Every line of words is there, as an outline.
      expect(found.length).toBe(plate.words.filter(({ words }) => words.trim() !== "").length);
      expect(found.length).toBeGreaterThanOrEqual(2);
      for (const { box: [left, top, right, bottom], cap } of found) {
        if (left < GRAPHICS_SAFE.left * scale - EDGE || top < GRAPHICS_SAFE.top * scale - EDGE || right > GRAPHICS_SAFE.right * scale + EDGE || bottom > GRAPHICS_SAFE.bottom * scale + EDGE) faults.push(`${name}: words at ${[left, top, right, bottom].map(Math.round)} leave the safe area`);
        if (cap < LEAST_CAP * scale - 0.01) faults.push(`${name}: capitals of ${cap}`);
      }
      const boxes = found.map(({ box }) => box);
      boxes.forEach((p, i) => boxes.slice(i + 1).forEach((q) => {
        if (p[0] < q[2] && q[0] < p[2] && p[1] < q[3] && q[1] < p[3]) faults.push(`${name}: words at ${p.map(Math.round)} and at ${q.map(Math.round)} lie on each other`);
      }));
    }
    expect(faults).toEqual([]);
  });

  test("show nothing outside the graphics-safe area", { timeout: SLOW }, () => {
    const paint = painterFor("none");
    // The extremes of an event and its middle: what reaches furthest is there at one of them.
    const faults = start.filter(({ name }) => !/ part | at 0\.(?:3|8)$/.test(name)).flatMap(({ name, plate }) => {
      const { pixels } = drawPixels(Resvg as unknown as Renderer, writePlate(plate, paint, "none", "hd"));
      let out = 0;
      for (let y = 0; y < 1080; y++)
        for (let x = 0; x < 1920; x++) {
          if (y >= GRAPHICS_SAFE.top && y < GRAPHICS_SAFE.bottom && x >= GRAPHICS_SAFE.left && x < GRAPHICS_SAFE.right) x = GRAPHICS_SAFE.right;
          if (pixels[4 * (y * 1920 + x) + 3] !== 0) out++;
        }
      return out > 0 ? [`${name}: ${out} pixels outside`] : [];
    });
    expect(faults).toEqual([]);
  });
});

/** Of an event: while they push each other. */
const MIDDLE = 0.55;

describe("writePlate(…)", () => {
  let at: LessonAt;
  beforeAll(async () => void (at = await lessonAt({ slug: "sharing-out-a-change-of-velocity", cache })), SLOW);
  const made = (ground: Ground): { plate: Plate; svg: string } => {
    const paint = painterFor(ground);
    const plan = planOf(at, "meeting");
    const plate = scenePlate(plan, MIDDLE * plan.scene.duration(at.state), paint);
    return { plate, svg: writePlate(plate, paint, ground, "hd") };
  };

  test("says who is who by name, mark and line, with title and units", () => {
    const { plate, svg } = made("light");
    const said = plate.words.map(({ words }) => words);
    expect(said[0]).toBe("Two meet head-on");
    expect(said).toEqual(expect.arrayContaining(["Sprig", "Bollard"]));
    expect(said.filter((words) => /\d/.test(words)).every((words) => /(km\/h|ms|kN|m|kJ|kg)\b/.test(words))).toBe(true);
    expect(svg).toContain(`<title>${plate.title}</title>`);
    expect(svg).not.toMatch(/<text|<style|font-family|class="[^"]*label/);
  });

  test("writes no class, variable or function of a style sheet that is left to be resolved", () => {
    for (const ground of ["light", "dark", "none"] as const) expect((made(ground)).svg).not.toMatch(/var\(|--|calc\(|inherit|light-dark/);
  });

  test("has the dark page's colours on dark, and no sheet where there is no ground", () => {
    expect((made("dark")).svg).toMatch(/<rect x="0" y="0" width="1920" height="1080" fill="#14171b"/);
    expect((made("none")).svg).not.toContain('width="1920" height="1080" fill');
  });
});

describe("planScene(…) lays out", () => {
  const shown = async (slug: string, scene: string, share: number, part?: number) => {
    const at = await lessonAt({ slug, cache });
    const plan = planOf(at, scene, part === undefined ? {} : { part });
    const plate = scenePlate(plan, share * plan.scene.duration(at.state), painterFor("light"));
    return { plan, plate, words: plate.words.map(({ words }) => words), role: (role: string) => plate.words.filter((line) => line.role === role) };
  };

  test("a tall picture beside its words, each part of its ledger after a sample of it", { timeout: SLOW }, async () => {
    const { plan, plate, words } = await shown("off-centre-and-spinning", "plan", 1);
    for (const part of ["folded into the fronts", "rubbed along the fronts", "moving on along the line", "moving to the side", "turning"]) expect(words.filter((line) => line.startsWith(part) && /\sk?J$/.test(line)), part).toHaveLength(1);
    // Larger than it could be with one line of words under it.
    expect(plan.set.from.scale).toBeGreaterThan(1);
    const values = plate.words.filter(({ role }) => role === "value");
    for (const { x } of values) expect(x).toBeGreaterThan((GRAPHICS_SAFE.left + GRAPHICS_SAFE.right) / 3);
  });

  test("rows beside their labels, and columns under their heads", { timeout: SLOW }, async () => {
    const { role, words } = await shown("what-many-crashes-show", "records", 0);
    const labels = role("axis").filter(({ weight }) => weight === "regular");
    expect(labels.map((line) => line.words)).toEqual(["1 to 9 km/h", "10 to 24 km/h", "25 to 39 km/h", "40 to 54 km/h", "55 km/h or more"]);
    expect(new Set(labels.map(({ x }) => x)).size).toBe(1);
    expect(words).toEqual(expect.arrayContaining(["belt not worn", "belt worn"]));
    labels.slice(1).forEach(({ y }, i) => expect(y - (labels[i]?.y ?? 0)).toBeGreaterThan(LEAST_CAP));
  });

  test("no part of a lone arrow", { timeout: SLOW }, async () => {
    const { plan, words } = await shown("seen-from-the-other-seat", "seats", 0.5, 1);
    expect(plan.parts).toBe(2);
    expect(words).toEqual(expect.arrayContaining(["seen from the road", "Sprig", "Bollard"]));
    expect(words.some((line) => line.startsWith("the seat "))).toBe(true);
  });

  test("a part that has no scale bar of its own without one", { timeout: SLOW }, async () => {
    expect((await shown("two-ledgers", "ledgers", 0.5, 1)).role("scale").map(({ words }) => words)).toEqual(["1\u00a0m"]);
    expect((await shown("two-ledgers", "ledgers", 0.5, 2)).role("scale")).toEqual([]);
    // A plan of its own scale has its own bar, alone and under the other drawing.
    expect((await shown("meeting-on-the-mark", "siding", 0.5, 2)).role("scale").map(({ words }) => words)).toEqual(["1\u00a0m"]);
    expect((await shown("meeting-on-the-mark", "siding", 0.5)).role("scale").map(({ words }) => words)).toEqual(["5\u00a0m", "1\u00a0m"]);
  });

  test("in the key of a part only who is in it", { timeout: SLOW }, async () => {
    const { role } = await shown("wall-mirror-and-mismatch", "three", 0.5, 1);
    expect(role("key").map(({ words }) => words)).toEqual(["Sprig (A)"]);
  });
});
