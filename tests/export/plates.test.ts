// Every picture of every lesson, of both shows and on the bench: what its words keep to, measured on the SVG that is written.
import { join } from "node:path";
import { Resvg } from "@resvg/resvg-js";
import { beforeAll, describe, expect, test } from "vitest";
import { HOME } from "../../build/home.ts";
import { fromSI } from "../../lib/units.ts";
import { type LessonAt, lessonAt } from "../../build/oneLesson.ts";
import { optionsOf } from "../../build/page.ts";
import { painterFor, planOf, scenePlate } from "../../build/picture.ts";
import { drawPixels, type Renderer } from "../../build/raster.ts";
import { type Node, node } from "../../shared/drawing.ts";
import { pathPoints } from "../../shared/export/bounds.ts";
import { cautionFor } from "../../shared/export/caution.ts";
import { checkPlate } from "../../shared/export/checks.ts";
import { figurePlate } from "../../shared/export/figurePlate.ts";
import type { Painter } from "../../shared/export/paint.ts";
import { ACTION_SAFE, GRAPHICS_SAFE, type Ground, inkOf, LEAST_CAP, type Plate, SIZES, writePlate } from "../../shared/export/plate.ts";
import { isWhole, planScene } from "../../shared/export/scenePlate.ts";
import type { Figure } from "../../shared/figures/figure.ts";
import type { Scene } from "../../shared/lesson.ts";
import { spokenDigits } from "../../shared/render/spoken.ts";
import { outputText } from "../../shared/render/value.ts";
import { KINDS } from "../../shared/kinds.ts";
import { unitFor, unitText } from "../../shared/state/units.ts";
import type { View } from "../../shared/view.ts";
import { CAP, EM } from "../../shared/export/type/outline.ts";
import { lessonEverywhere, platesOf, SCENARIOS, type Shown, SLUGS } from "./lessonsAt.ts";

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

/** A plate's art as it is before it is painted: with the classes that say what is what. */
const unpainted = (ground: Ground): Painter => ({ ...painterFor(ground), paint: (nodes, root) => node("g", { class: root }, nodes) });

const figuresOf = (at: LessonAt, names = at.names): { readonly name: string; readonly plate: Plate }[] =>
  Object.entries(at.lesson.figures).map(([name, make]) => ({
    name,
    plate: figurePlate({ figure: (make as (state: unknown) => Figure)(at.state), units: at.units, locale: at.locale, names, caution: cautionFor(at.written.front.needs) }, unpainted("light")),
  }));

type Point = readonly [x: number, y: number];

/** Middles of the strokes that words must not lie on: curves, reference lines and the line of zero. The grid is meant to lie behind words. */
const strokesOf = (nodes: readonly (Node | string)[], zoom = 1): (readonly Point[])[] =>
  nodes.flatMap((each) => {
    if (typeof each === "string") return [];
    const { attributes: own } = each;
    const classes = String(own["class"] ?? "").split(" ");
    const scale = zoom * Number(/^scale\(([\d.]+)\)$/.exec(String(own["transform"] ?? "scale(1)"))?.[1] ?? 1);
    if (classes.includes("line")) return [Array.from(String(own["d"]).matchAll(/[ML](-?[\d.]+),(-?[\d.]+)/g), ([, x, y]): Point => [scale * Number(x), scale * Number(y)])];
    if (classes.includes("rule") || classes.includes("zero")) return [[[Number(own["x1"]), Number(own["y1"])], [Number(own["x2"]), Number(own["y2"])]]];
    return strokesOf(each.children, scale);
  });

/** Half of the thickest stroke, and a hair: a middle line that is not this far inside the ink of words only touches them. */
const TOUCH = 4;

/** Points this close along a stroke: no word is so narrow that a stroke passes through it between two of them. */
const STEP = 2;
const passes = (points: readonly Point[], { left, right, top, bottom }: { left: number; right: number; top: number; bottom: number }): boolean =>
  points.slice(1).some(([u, v], i) => {
    const [x, y] = points[i] as Point;
    const count = Math.max(1, Math.ceil(Math.hypot(u - x, v - y) / STEP));
    return Array.from({ length: count + 1 }, (_, k) => [x + ((u - x) * k) / count, y + ((v - y) * k) / count] as const).some(([px, py]) => px > left + TOUCH && px < right - TOUCH && py > top + TOUCH && py < bottom - TOUCH);
  });
const struckThrough = (plate: Plate): string[] => {
  const strokes = strokesOf(plate.art);
  return plate.words.filter((line) => strokes.some((points) => passes(points, inkOf(line)))).map(({ words }) => words);
};

/** Numbers with a unit, as a picture writes them. */
const printedIn = (words: string): { readonly text: string; readonly value: number; readonly unit: string }[] =>
  Array.from(words.matchAll(/([-\u2212]?\d[\d\u202f]*(?:\.\d+)?)[\u00a0 ]([^\s,;]+)/gu), ([, number = "", unit = ""]) => ({ text: number, value: Number(number.replace("\u2212", "-").replace(/\u202f/g, "")), unit }));
const decimalsIn = (text: string): number => /\.(\d+)/.exec(text)?.[1]?.length ?? 0;
/** Binary fractions of halves. */
const HAIR = 1e-9;

interface Agreement {
  readonly traced: number;
  readonly faults: readonly string[];
}
/**
 * Numbers of pictures that are an output which is said aloud: in its unit, and its value to as many decimals as are printed. A number
 * of the same thing at an instant of the drawing (the push just beside its peak) is another number, and is not traced.
 */
const agreementOf = (at: LessonAt, plates: readonly Shown[]): Agreement => {
  const parts = at.written.prose.parts.filter((part) => part.spoken && part.scheme === "output");
  const view = { lesson: at.lesson, state: at.state, units: at.units, locale: at.locale, spoken: [...new Set(parts.map(({ name }) => name))] } as unknown as View;
  let traced = 0;
  const faults = parts.flatMap((part) => {
    const output = at.lesson.outputs[part.name];
    const si = at.state.outputs[part.name];
    if (output === undefined || (output.type !== "quantity" && output.type !== "returned") || typeof si !== "number") return [];
    const options = optionsOf(part);
    const said = outputText(view, part.name, options) ?? "";
    const unit = unitFor(output.kind, at.units, options);
    const value = Math.abs(fromSI(si, unit));
    const [spoken] = printedIn(said);
    return plates.flatMap(({ name, plate }) =>
      plate.words.flatMap(({ words }) =>
        printedIn(words).flatMap((printed) => {
          const step = 10 ** -decimalsIn(printed.text);
          if (spoken === undefined || printed.unit !== unitText(unit) || Math.abs(Math.abs(printed.value) - value) > step / 2 + HAIR) return [];
          traced++;
          // Said with more digits than are printed, it rounds to what is printed; otherwise the other way round.
          const coarse = step > 10 ** -decimalsIn(spoken.text) + HAIR ? Number(Math.abs(spoken.value).toFixed(decimalsIn(printed.text))) === Math.abs(printed.value) : Number(Math.abs(printed.value).toPrecision(spokenDigits(view, part.name))) === Math.abs(spoken.value);
          return coarse ? [] : [`${name}: ${words}, but said is ${said}`];
        }),
      ),
    );
  });
  return { traced, faults };
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
  let plates: readonly (readonly Shown[])[] = [];
  let figures: readonly ReturnType<typeof figuresOf>[] = [];
  /** Where the lesson starts, on no ground: its plates are written and drawn. */
  let start: readonly Shown[] = [];
  beforeAll(async () => {
    everywhere = await lessonEverywhere(slug, cache);
    plates = everywhere.map((at) => platesOf(at, "none"));
    figures = everywhere.map((at) => figuresOf(at));
    start = plates[0] ?? [];
  }, SLOW);

  test("keep their words inside the graphics-safe area and tall enough, by the report, in each show and on the bench", { timeout: SLOW }, () => {
    expect(start.length).toBeGreaterThan(0);
    const faults = everywhere.flatMap((at, i) =>
      (plates[i] as readonly Shown[]).flatMap(({ name, plate }) => {
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

  test("have no word of a figure struck through by a curve or a line, in each show and on the bench", { timeout: SLOW }, () => {
    const faults = everywhere.flatMap((at, i) => (figures[i] ?? []).flatMap(({ name, plate }) => struckThrough(plate).map((words) => `${at.scenario.title} ${at.lesson.scale ?? ""} ${name}: ${words}`)));
    expect(faults).toEqual([]);
  });

  test("use no letter for a body without a key to it", { timeout: SLOW }, () => {
    // An article begins a sentence; a trolley or a block has its letter for a name.
    const letterIn = (words: string): boolean => /(?<!\b(?:trolley|block) )\b[AB]\b(?!\))/iu.test(words.replace(/^A (?=[a-z])/, "").replace(/\ba\b|\bb\b/g, ""));
    for (const at of everywhere.filter(({ lesson }) => lesson.scale === undefined)) {
      for (const { name, plate } of figures[everywhere.indexOf(at)] ?? []) expect(plate.words.filter(({ words }) => letterIn(words)).map(({ words }) => words), `${at.scenario.title} ${name}`).toEqual([]);
      for (const { name, plate } of plates[everywhere.indexOf(at)]?.filter(({ name }) => !Object.hasOwn(at.lesson.figures, name)) ?? []) {
        const keyed = plate.words.some(({ role, words }) => role === "key" && /\([AB]\)$/.test(words));
        if (!keyed) expect(plate.words.filter(({ words }) => letterIn(words)).map(({ words }) => words), `${at.scenario.title} ${name}`).toEqual([]);
      }
    }
  });

  test("print the numbers that are said aloud", { timeout: SLOW }, () => {
    for (const [i, at] of everywhere.entries()) if (at.lesson.scale === undefined) expect(agreementOf(at, plates[i] as readonly Shown[]).faults, at.scenario.title).toEqual([]);
  });

  test("carry a caution exactly where the lesson is about staging", { timeout: SLOW }, () => {
    const staged = everywhere[0]?.written.front.needs.some((part) => ["tow", "site"].includes(part)) === true;
    const cautions = (plate: Plate): string[] => plate.words.filter(({ role }) => role === "caution").map(({ words }) => words);
    for (const [i, at] of everywhere.entries())
      for (const { name, plate } of [...(plates[i] as readonly Shown[]).filter(({ name }) => !Object.hasOwn(at.lesson.figures, name)), ...(figures[i] ?? [])]) {
        expect(cautions(plate).join(" "), name).toBe(staged ? "Planning aid for discussion; the named people decide." : "");
        expect(plate.says.endsWith("the named people decide."), name).toBe(staged);
      }
  });

  test("show nothing outside the graphics-safe area", { timeout: SLOW }, () => {
    const paint = painterFor("none");
    // The end of an event: what reaches furthest has got there. Words are measured at every instant above.
    const faults = start.filter(({ name }) => !/ part /.test(name) && !start.some((later) => later.name !== name && later.name === name.replace(/ at 0(?:\.\d+)?$/, " at 1"))).flatMap(({ name, plate }) => {
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

  test("a warning on the whole and on its part, whatever else there is to say", { timeout: SLOW }, async () => {
    const at = await lessonAt({ slug: "meeting-on-the-mark", cache, scenario: join(HOME, SCENARIOS[1]) });
    for (const options of [{}, { part: 1 }]) {
      const plan = planOf(at, "siding", options);
      const said = scenePlate(plan, 0, painterFor("light")).words.map(({ words }) => words).join(" ");
      expect(said.match(/TOO SHORT/g)).toHaveLength(2);
      for (const length of ["60", "38", "111", "45"]) expect(said).toContain(`${length}\u00a0m`);
      expect(plan.leftOut).toEqual([]);
    }
  });

  /** A picture and `count` rows under it. */
  const rowsScene = (count: number, classes: string, heading = ""): Scene => ({
    title: "Many rows",
    duration: () => 0,
    describe: () => "Many rows.",
    draw: () => ({
      width: 1200,
      height: 400,
      nodes: [
        ...(heading === "" ? [] : [node("text", { x: 40, y: 20, class: "label label-strong" }, [heading])]),
        node("rect", { x: 40, y: 40, width: 1120, height: 300, class: "shell" }),
        ...Array.from({ length: count }, (_, i) => node("text", { x: 40, y: 380, class: `label ${i === 0 ? classes : ""}` }, [`reading ${"abcdefghijkl"[i]}, told in more words than half has: 1 m`])),
      ],
      handles: [],
    }),
  }) as unknown as Scene;
  const rowsOf = (count: number, classes: string) => planScene({ scene: rowsScene(count, classes), state: {} as never, write: (() => "") as never, names: {} });

  test("a smaller picture before a row is lost, and then the rows of least weight first", () => {
    const scales = [3, 5, 7].map((count) => rowsOf(count, "").set.from.scale);
    expect(scales[1]).toBeLessThan(scales[0] as number);
    expect(scales[2]).toBeLessThan(scales[1] as number);
    for (const count of [3, 5, 7]) {
      expect(rowsOf(count, "").leftOut).toEqual([]);
      expect(isWhole(rowsOf(count, ""))).toBe(true);
    }
    const many = rowsOf(12, "label-warn");
    expect(many.leftOut.length).toBeGreaterThan(0);
    expect(isWhole(many)).toBe(false);
    expect(many.leftOut.join()).not.toContain("reading a,");
    expect(many.set.rows.some(({ weighs }) => weighs === "warning")).toBe(true);
  });

  test("nothing at all where a warning has no room", () => {
    const long = "short of what it needs by 3 m, ".repeat(40);
    const scene = { ...rowsScene(1, ""), draw: () => ({ width: 1200, height: 400, handles: [], nodes: [node("rect", { x: 40, y: 40, width: 1120, height: 300, class: "shell" }), node("text", { x: 40, y: 380, class: "label label-warn" }, [long])] }) } as unknown as Scene;
    expect(() => planScene({ scene, state: {} as never, write: (() => "") as never, names: {} })).toThrow(/^plate: there is no room for a warning of Many rows/);
  });

  test("the whole of a picture with the names of its rows, at their rows", { timeout: SLOW }, async () => {
    const { role } = await shown("wall-mirror-and-mismatch", "three", 0.5);
    const found = [/wall$/i, /mirror/i, /Bollard$/].map((name) => role("axis").find(({ words }) => name.test(words))?.y ?? Number.NaN);
    expect(found.every((y, i) => y > (found[i - 1] ?? 0) + LEAST_CAP), `${found}`).toBe(true);
  });

  test("the whole of a picture with the headings of its bands, each above its own picture and its own words", { timeout: SLOW }, async () => {
    const headings = ["seen from the road", "seen from the seat"];
    const { plan, plate, words, role } = await shown("seen-from-the-other-seat", "seats", 0.5);
    const found = headings.map((heading) => plate.words.find((line) => line.words === heading)?.y ?? Number.NaN);
    expect(found.every((y, i) => y > (found[i - 1] ?? 0)), `${found}`).toBe(true);
    expect(plan.set.pieces).toHaveLength(headings.length);
    plan.set.pieces.forEach(({ y, band: [top] }, i) => {
      expect(y + plan.set.from.scale * top, headings[i]).toBeLessThan(found[i + 1] ?? Infinity);
      expect(plan.set.pieces[i]?.foot).toBeGreaterThan(found[i] as number);
    });
    // Each row of words stands under the heading that it was under in the drawing.
    for (const row of plan.set.rows) {
      const own = plan.set.pieces.findLastIndex(({ band: [top] }) => top <= row.y);
      const y = plan.set.spots.get(row.key)?.y ?? Number.NaN;
      expect(y).toBeGreaterThan(found[own] as number);
      expect(y).toBeLessThan(found[own + 1] ?? Infinity);
    }
    expect(new Set(words).size).toBeGreaterThan(headings.length);
    expect(role("key").length).toBe(2);
    // What has no room is told, so that the parts can be offered.
    expect(isWhole(plan)).toBe(plan.leftOut.length === 0);
  });

  test("bars only with the words that name them", { timeout: SLOW }, async () => {
    const bars = async (part?: number): Promise<[boolean, boolean]> => {
      const at = await lessonAt({ slug: "seen-from-the-other-seat", cache });
      const plan = planOf(at, "seats", part === undefined ? {} : { part });
      const plate = scenePlate(plan, plan.scene.duration(at.state), unpainted("light"));
      return [JSON.stringify(plate.art).includes('"energy"'), plate.words.some(({ words }) => words.startsWith("energy of motion"))];
    };
    for (const part of [undefined, 1, 2]) {
      const [drawn, named] = await bars(part);
      expect(drawn, `${part}`).toBe(named);
    }
    expect(await bars(2)).toEqual([true, true]);
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

describe("figurePlate(…) sets", () => {
  const figure: Figure = { title: "A push", x: { label: "time", kind: KINDS.duration }, y: { label: "push, plus the way A came", kind: KINDS.force }, series: [{ label: "B", belongs: "b", x: [0, 1], y: [0, 2000] }], rules: [{ axis: "y", at: 1000, label: "A planned" }], says: "A push." };
  const set = (more: Partial<Figure> = {}, names: LessonAt["names"] = { a: "Sprig", b: "Bollard" }) => figurePlate({ figure: { ...figure, ...more }, units: "metric", locale: "en", names }, unpainted("light"));

  test("names in place of letters, and leaves articles and lettered names", () => {
    const words = set().words.map((line) => line.words).join("|");
    for (const each of ["A push", "push, plus the way the Sprig came, kN", "Sprig planned", " Bollard"]) expect(words).toContain(each);
    expect(set({}, { a: "Trolley A", b: "Trolley B" }).words.map((line) => line.words)).toContain("push, plus the way A came, kN");
    expect(set({}, {}).words.map((line) => line.words)).toContain("push, plus the way A came, kN");
  });

  test("readings as dots that no line joins", () => {
    const plate = set({ series: [{ label: "measured", belongs: "a", points: true, x: [0, 1, 2], y: [1000, 1500, 900] }] });
    const drawn = JSON.stringify(plate.art);
    expect(drawn).toContain('"dots dots-a"');
    expect(drawn).not.toMatch(/"line line-a"|"end end-a"/);
  });

  test("lines of one place in words above them that say both, in their order, where there is no room between", () => {
    const { words } = set({ series: [{ label: "pushed", belongs: "other", x: [0, 1], y: [0, 20000] }], rules: [{ axis: "y", at: 900, label: "lower" }, { axis: "y", at: 1200, label: "upper" }] });
    const [upper, lower] = ["upper", "lower"].map((label) => words.find((line) => line.words === label)?.y ?? Number.NaN) as [number, number];
    expect(lower - upper).toBeGreaterThan(LEAST_CAP);
    expect(lower - upper).toBeLessThan(2 * LEAST_CAP);
  });
});

describe("spoken numbers", () => {
  /** The others say what no picture prints: numbers at an instant that is not drawn, ratios, shares of a hundred. */
  const TRACED = ["a-fall-that-pulls", "buying-time-with-crumple", "off-centre-and-spinning", "seen-from-the-other-seat", "the-total-that-stays", "two-ledgers", "whose-metal-gives-way"];

  test("stand in pictures of these lessons, so that their agreement is tested", { timeout: SLOW }, async () => {
    for (const slug of TRACED) {
      const at = await lessonAt({ slug, cache });
      expect(agreementOf(at, platesOf(at, "none")).traced, slug).toBeGreaterThan(0);
    }
  });

  test("are found out where a picture rounds otherwise", () => {
    const at = (newtons: number) => ({ written: { prose: { parts: [{ scheme: "output", name: "push", spoken: true, options: {} }] } }, lesson: { outputs: { push: { type: "quantity", label: "push", kind: KINDS.force } } }, state: { outputs: { push: newtons } }, units: "metric", locale: "en" }) as unknown as LessonAt;
    const printed = (words: string): Shown => ({ name: "made up", plate: { words: [{ words }] } as unknown as Plate });
    expect(agreementOf(at(24490), [printed("24.5\u00a0kN"), printed("30.0\u00a0kN")])).toEqual({ traced: 1, faults: ["made up: 24.5\u00a0kN, but said is 24\u00a0kN"] });
    expect(agreementOf(at(24420), [printed("24.4\u00a0kN")])).toEqual({ traced: 1, faults: [] });
  });
});
