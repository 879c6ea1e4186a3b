import { parseHTML } from "linkedom";
import { describe, expect, test } from "vitest";
import { decelerationFigure, type Figure, figureTable, forceCrushFigure, moveFigure, pathData, readScales, velocityFigure } from "../../shared/figures/index.ts";
import { plotFigure } from "../../shared/figures/plotOptions.ts";
import { footOf, type Label, labelsOf } from "../../shared/figures/labels.ts";
import { axesOf, extentOf, place, tickStep } from "../../shared/figures/scales.ts";
import { evaluateFence } from "../../build/fence.ts";
import { readLesson } from "../../build/readLessons.ts";
import { readScales as lessonScales } from "../../build/scales.ts";
import { readScenario } from "../../build/scenario.ts";
import { evaluate, type InputValue, startOf } from "../../shared/lesson.ts";
import { makeWrite } from "../../shared/state/units.ts";

const write = makeWrite("metric", "en");
/** Path data is rounded to a tenth of a drawing unit. */
const ROUNDING = 0.0501;
/** A curve is thinned to a tenth of a unit; its two rounded ends may stand half a tenth off each way. */
const THINNED = 0.1 + Math.SQRT2 * ROUNDING;
/** Points that no curve needs more of: the figure's promise to small pages. */
const MOST = 200;

const time = Float64Array.from({ length: 301 }, (_, i) => i * 0.0005);
const names = { a: "Sprig", b: "Bollard" };
const velocity = { a: time.map((t) => 15 * Math.cos(t * 12)), b: time.map((t) => -10 + 40 * t) };
const velocities = velocityFigure({ names, time, velocity, says: "They meet.", rules: [{ axis: "x", at: 0.067, label: "common velocity" }, { axis: "y", at: -1.667, label: "after" }] });
const forces = forceCrushFigure({ names, curves: { a: { crush: [0, 0.292], force: [0, 350300] }, b: { crush: [0, 0.778], force: [0, 350300] } }, says: "The softer takes more." });
const slowing = decelerationFigure({ names, time, deceleration: { a: time.map((t) => 390 * Math.sin(t * 20)), b: time.map((t) => 190 * Math.sin(t * 20)) }, area: true, mean: [{ label: "mean", at: 200 }], says: "" });
const all: Record<string, Figure> = { velocities, forces, slowing };

const draw = (figure: Figure, width = 640, units: "metric" | "customary" = "metric", height = width < 480 ? 300 : 360): Element => {
  const { document } = parseHTML("<!doctype html><html><body></body></html>");
  const svg = plotFigure(figure, { document: document as unknown as Document, width, height, write, units, locale: "en" });
  document.body.appendChild(svg as never);
  return svg;
};
/** Distance of a point from the line through others. */
const gap = ([x, y]: readonly [number, number], line: readonly (readonly [number, number])[]): number =>
  Math.min(
    ...line.slice(1).map(([u, v], i) => {
      const [p, q] = line[i] as readonly [number, number];
      const share = Math.min(1, Math.max(0, ((x - p) * (u - p) + (y - q) * (v - q)) / Math.max(1e-12, (u - p) ** 2 + (v - q) ** 2)));
      return Math.hypot(x - p - share * (u - p), y - q - share * (v - q));
    }),
  );
const points = (d: string): [number, number][] => Array.from(d.matchAll(/[ML](-?[\d.]+),(-?[\d.]+)/g), ([, x, y]) => [Number(x), Number(y)]);

describe("plotFigure", () => {
  test.each(Object.keys(all))("plotFigure(%s) writes no style element and no style attribute", (name) => {
    for (const width of [640, 358]) {
      const html = draw(all[name] as Figure, width).outerHTML;
      expect(html).not.toMatch(/<style|\sstyle=|<script|clip-path|\sid=/);
    }
  });

  // Observable Plot's own scale, of which the figure is drawn, is the outside check of the kept numbers.
  test.each(Object.keys(all))("readScales(plotFigure(%s)) agrees with the scales of Observable Plot", (name) => {
    const figure = all[name] as Figure;
    const svg = draw(figure) as Element & { scale: (axis: "x" | "y") => { apply: (value: number) => number } };
    const scales = readScales(svg);
    const perUnit = { x: figure === forces ? 1 : 1000, y: figure === velocities ? 3.6 : figure === forces ? 1e-3 : 1 / 9.80665 } as const;
    for (const axis of ["x", "y"] as const) {
      const scale = scales?.[axis];
      if (!scale) throw new Error("no scales");
      for (const share of [0, 0.3, 1]) {
        const si = scale.domain[0] + share * (scale.domain[1] - scale.domain[0]);
        expect(svg.scale(axis).apply(si * perUnit[axis])).toBeCloseTo(scale.range[0] + share * (scale.range[1] - scale.range[0]), 4);
      }
    }
  });

  test.each(Object.keys(all))("plotFigure(%s) keeps all words and curves inside 358 drawing units", (name) => {
    const svg = draw(all[name] as Figure, 358);
    for (const text of Array.from(svg.querySelectorAll("text"))) {
      const chain: Element[] = [];
      for (let at: Element | null = text; at && at !== svg; at = at.parentElement) chain.push(at);
      const x = chain.reduce((sum, element) => sum + Number(/translate\((-?[\d.]+)/.exec(element.getAttribute("transform") ?? "")?.[1] ?? 0), 0) + Number(text.getAttribute("x") ?? 0);
      const anchor = [...chain, svg].map((element) => element.getAttribute("text-anchor")).find((value) => value) ?? "start";
      const width = (text.textContent ?? "").length * 0.56 * 14;
      const left = anchor === "middle" ? x - width / 2 : anchor === "end" ? x - width : x;
      expect(left, text.textContent ?? "").toBeGreaterThanOrEqual(-1);
      expect(left + width, text.textContent ?? "").toBeLessThanOrEqual(359);
    }
    for (const path of Array.from(svg.querySelectorAll("path[data-line]")))
      for (const [x, y] of points(path.getAttribute("d") ?? "")) {
        expect(x).toBeGreaterThanOrEqual(45);
        expect(x).toBeLessThanOrEqual(339);
        expect(y).toBeGreaterThanOrEqual(33);
        expect(y).toBeLessThanOrEqual(251);
      }
  });

  test("plotFigure(figure) tells the bodies apart by marker, class and label", () => {
    const svg = draw(velocities);
    expect(svg.querySelectorAll(".end-a circle")).toHaveLength(1);
    expect(svg.querySelectorAll(".end-b rect")).toHaveLength(1);
    expect(svg.querySelectorAll("path.line-a")).toHaveLength(1);
    expect(svg.querySelectorAll("path.line-b")).toHaveLength(1);
    expect(svg.textContent).toContain("● Sprig");
    expect(svg.textContent).toContain("■ Bollard");
    expect(svg.textContent).toContain("common velocity");
    expect(svg.textContent).toContain("time since first touch, ms");
  });

  test("plotFigure(figure, customary) shows other units on the same SI scales' data", () => {
    expect(draw(velocities, 640, "customary").textContent).toContain("mph");
    expect(draw(velocities, 640, "customary").getAttribute("data-x")).toBe(draw(velocities).getAttribute("data-x"));
  });

  test("plotFigure(figure) draws a figure whose series are empty", () => {
    const empty = velocityFigure({ names, time: [], velocity: { a: [], b: [] }, says: "" });
    expect(draw(empty).querySelectorAll("text").length).toBeGreaterThan(0);
  });
});

interface TextBox {
  readonly words: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Boxes of all texts as drawn: widths from the widest system faces measured (0.56 of the height a character; 0.63 where strong). */
const textBoxes = (svg: Element): TextBox[] =>
  Array.from(svg.querySelectorAll("text")).map((text) => {
    const chain: Element[] = [];
    for (let at: Element | null = text; at && at !== svg; at = at.parentElement) chain.push(at);
    const shift = chain.map((element) => /translate\((-?[\d.]+),(-?[\d.]+)\)/.exec(element.getAttribute("transform") ?? ""));
    const own = (name: "x" | "y"): number => { const value = text.getAttribute(name) ?? "0"; return parseFloat(value) * (value.endsWith("em") ? 14 : 1); };
    const x = shift.reduce((sum, found) => sum + Number(found?.[1] ?? 0), own("x"));
    const foot = shift.reduce((sum, found) => sum + Number(found?.[2] ?? 0), own("y"));
    const anchor = [...chain, svg].map((element) => element.getAttribute("text-anchor")).find((value) => value) ?? "start";
    const words = text.textContent ?? "";
    const width = words.length * 14 * (text.getAttribute("class") === "curve-label" ? 0.63 : 0.56);
    const left = anchor === "middle" ? x - width / 2 : anchor === "end" ? x - width : x;
    return { words, left, right: left + width, top: foot - 10.5, bottom: foot + 3 };
  });

/** Each fault in the places of a figure's words. */
const faults = (svg: Element, width: number, height: number): string[] => {
  const boxes = textBoxes(svg);
  return boxes.flatMap((p, i) => [
    ...(p.left < 0 || p.right > width || p.top < 0 || p.bottom > height ? [`${p.words} leaves the drawing (${p.left.toFixed(0)}..${p.right.toFixed(0)})`] : []),
    ...boxes.slice(i + 1).filter((q) => p.left < q.right && q.left < p.right && p.top < q.bottom && q.top < p.bottom).map((q) => `${p.words} lies over ${q.words}`),
  ]);
};
/** As built for wide and for narrow pages, and as drawn on release where the page is another width or shows other units. */
const SIZES = [[640, 358, "metric"], [358, 340, "metric"], [340, 323, "customary"], [688, 385, "customary"]] as const;

describe("readings", () => {
  test("plotFigure(figure with points) draws a dot for each reading and joins none", () => {
    const figure: Figure = { ...velocities, series: [{ label: "measured", belongs: "b", points: true, x: [0, 0.01, 0.02, 0.03], y: [1, 2, 3, 4] }] };
    const dots = draw(figure).querySelector(".dots-b")?.getAttribute("d") ?? "";
    expect(dots.match(/M/g)).toHaveLength(4);
    expect(dots).not.toContain("L");
    expect(draw(figure).querySelectorAll(".end")).toHaveLength(0);
  });
});

describe("words in a figure", () => {
  test("plotFigure(figure) writes two rules at one place as one label, and the same words once", () => {
    const at = (...rules: [number, string][]) => draw({ ...slowing, rules: rules.map(([level, label]) => ({ axis: "y" as const, at: level, label })) });
    const labels = (svg: Element) => Array.from(svg.querySelectorAll(".rule-label"), (text) => text.textContent);
    expect(labels(at([200, "mean"], [200.1, "mean"]))).toEqual(["mean"]);
    const both = Array.from(at([200, "lowest peak for this length"], [200.1, "mean"]).querySelectorAll(".rule-label"));
    expect(both.map((text) => text.textContent)).toEqual(["lowest peak for this length", "mean"]);
    expect(Number(both[1]?.getAttribute("y")) - Number(both[0]?.getAttribute("y"))).toBe(16);
    expect(both[0]?.getAttribute("x")).toBe(both[1]?.getAttribute("x"));
  });

  test("plotFigure(figure) keeps words apart for rules from one place to far apart", () => {
    for (const [width, height] of SIZES.slice(0, 2))
      for (let apart = 0; apart <= 60; apart += 4)
        for (const axis of ["x", "y"] as const) {
          const [base, unit] = axis === "x" ? [0.07, 0.0004] : [200, 1.5];
          const svg = draw({ ...slowing, rules: [{ axis, at: base, label: "lowest peak for this length" }, { axis, at: base + apart * unit, label: "mean of the whole stop" }, { axis: "x", at: 0.15, label: "stopped" }] }, width, "metric", height);
          expect(faults(svg, width, height), `${axis} ${apart} ${width}`).toEqual([]);
        }
  });

  test.each(["sharing-out-a-change-of-velocity", "buying-time-with-crumple", "lighter-yet-maybe-the-better-seat"])("plotFigure(each figure of %s) lays no words over others, at both ends of each input, at each scale", async (slug) => {
    const written = readLesson(`lessons/${slug}.md`);
    if (written.prose.fence === undefined) throw new Error(`${slug} has no fence`);
    let drawings = 0;
    for (const name of ["demo", "cresswold"]) {
      const reading = readScenario(`shared/scenario/${name}.yaml`);
      if ("problems" in reading) throw new Error(JSON.stringify(reading.problems));
      const made = await evaluateFence(written.prose.fence, { home: process.cwd(), cache: ".cache", file: written.file, slug, scenario: reading.scenario });
      if ("problems" in made) throw new Error(JSON.stringify(made.problems));
      const { road, others } = lessonScales(made.lesson, written.front.scales, written.file);
      for (const one of [road, ...Object.values(others).map(({ lesson }) => lesson)]) {
        const start = startOf(one);
        const changes = Object.entries(one.inputs).flatMap(([input, one]): Record<string, InputValue>[] => (one.type === "quantity" ? [{ [input]: one.from }, { [input]: one.to }] : one.type === "choice" ? Object.keys(one.words).map((word) => ({ [input]: word })) : []));
        for (const change of [{}, ...changes]) {
          const state = evaluate(one, { ...start, ...change }, write);
          if (state.outcome !== undefined) continue;
          for (const [figure, make] of Object.entries(one.figures))
            for (const [width, height, units] of Object.keys(change).length === 0 ? SIZES : SIZES.slice(1, 2)) {
              const svg = draw(make(state as never), width, units, height);
              expect(faults(svg, width, height), `${name} ${figure} ${JSON.stringify(change)} ${width} ${units}`).toEqual([]);
              for (const path of Array.from(svg.querySelectorAll("path[data-line]"))) expect(points(path.getAttribute("d") ?? "").length).toBeLessThanOrEqual(MOST);
              drawings++;
            }
        }
      }
    }
    expect(drawings).toBeGreaterThan(100);
  }, 60000);
});

describe("labelsOf", () => {
  const frame = { width: 390, height: 218, left: 30, right: 8, top: 40, bottom: 34 };
  const ruled = (rules: Figure["rules"], more: Partial<Figure> = {}): { labels: readonly Label[]; level: (at: number) => number } => {
    const figure: Figure = { ...slowing, ...more, ...(rules && { rules }) };
    const { scales } = axesOf(figure, frame, "metric");
    return { labels: labelsOf(figure, scales, frame), level: (at) => place(scales.y, at) };
  };

  test("labelsOf(figure) sets the words of a level line nearer to it than to any other", () => {
    for (let apart = 10; apart <= 120; apart += 5) {
      const at = { low: 120, high: 120 + apart };
      const { labels, level } = ruled([{ axis: "y", at: at.low, label: "low" }, { axis: "y", at: at.high, label: "high" }]);
      const found = labels.filter(({ kind }) => kind === "rule");
      if (found.length === 1) continue;
      for (const label of found) {
        const middle = footOf(label, 0).y - 5;
        const own = label.lines[0]?.words === "low" ? at.low : at.high;
        expect(Math.abs(middle - level(own)), `${apart} ${label.lines[0]?.words}`).toBeLessThan(Math.abs(middle - level(own === at.low ? at.high : at.low)));
      }
    }
  });

  test("labelsOf(figure) gives two lines close over zero one label, the upper first", () => {
    const { labels } = ruled([{ axis: "y", at: 20, label: "low" }, { axis: "y", at: 45, label: "high" }]);
    expect(labels.filter(({ kind }) => kind === "rule").map(({ lines }) => lines.map(({ words }) => words))).toEqual([["high", "low"]]);
  });

  test("labelsOf(figure) leaves a line without words without a label, and measures by the face that it is given", () => {
    const { labels } = ruled([{ axis: "y", at: 200, label: "" }, { axis: "x", at: 0.05, label: "stopped" }]);
    expect(labels.filter(({ kind }) => kind === "rule").map(({ lines }) => lines[0]?.words)).toEqual(["stopped"]);
    const { scales } = axesOf(slowing, frame, "metric");
    // Words wider than the plane have no place in it.
    expect(labelsOf(slowing, scales, frame, () => 2 * frame.width).filter(({ kind }) => kind === "curve")).toEqual([]);
  });

  test("axesOf(figure, …, spare) keeps what the data takes in view and adds that share of it", () => {
    const [plain, wide] = [axesOf(slowing, frame, "metric"), axesOf(slowing, frame, "metric", { right: 0.2, above: 0.5 })];
    expect(wide.scales.x.domain[1]).toBeCloseTo(1.2 * plain.scales.x.domain[1], 9);
    expect(wide.scales.y.domain[1]).toBeGreaterThan(plain.scales.y.domain[1]);
    expect(wide.scales.x.domain[0]).toBe(plain.scales.x.domain[0]);
  });
});

describe("pathData and moveFigure", () => {
  test("pathData(figure, scales) places each point on the straight map of its axis", () => {
    const scales = { x: { domain: [0, 0.15], range: [50, 350] }, y: { domain: [-20, 20], range: [300, 20] } } as const;
    const [a] = pathData(velocities, scales);
    const drawn = points(a?.line ?? "");
    const mapped = Array.from(time, (t, i): [number, number] => [50 + 2000 * t, 160 - 7 * (velocity.a[i] as number)]);
    for (const [x, y] of drawn) expect(mapped.some(([u, v]) => Math.abs(x - u) <= ROUNDING && Math.abs(y - v) <= ROUNDING)).toBe(true);
    for (const point of mapped) expect(gap(point, drawn)).toBeLessThanOrEqual(THINNED);
    expect(a?.end).toEqual(drawn[drawn.length - 1]);
    expect(a?.area).toBeNull();
  });

  test("pathData(figure, scales) writes few points of a long history, and turns back where it does", () => {
    const scales = { x: { domain: [0, 1], range: [56, 620] }, y: { domain: [-1, 1], range: [308, 34] } } as const;
    const count = 20000;
    const x = Array.from({ length: count }, (_, i) => i / (count - 1));
    const drawn = (y: number[]) => points(pathData(velocityFigure({ names: { a: "Sprig" }, time: x, velocity: { a: y }, says: "" }), scales)[0]?.line ?? "");
    const wave = drawn(x.map((t) => Math.sin(12 * t)));
    expect(wave.length).toBeLessThanOrEqual(MOST);
    x.forEach((t, i) => void (i % 97 === 0 && expect(gap([56 + 564 * t, 171 - 137 * Math.sin(12 * t)], wave)).toBeLessThanOrEqual(THINNED)));
    expect(drawn(x.map((t) => Math.sin(900 * t))).length).toBeLessThanOrEqual(MOST);
    const hysteresis = forceCrushFigure({ names: { a: "Sprig" }, curves: { a: { crush: [0, 0.5, 1, 0.9, 0.8], force: [0, 0.5, 1, 0.5, 0] } }, says: "" });
    expect(points(pathData(hysteresis, scales)[0]?.line ?? "")).toHaveLength(3);
  });

  test("pathData(figure, scales) closes an area on the axis of zero, so that its size is the integral", () => {
    const scales = { x: { domain: [0, 1], range: [0, 1000] }, y: { domain: [0, 400000], range: [400, 0] } } as const;
    const outline = points(pathData(forces, scales)[0]?.area ?? "");
    const size = Math.abs(outline.reduce((sum, [x, y], i) => { const [u, v] = outline[(i + 1) % outline.length] as [number, number]; return sum + x * v - u * y; }, 0)) / 2;
    // 350.3 kN to 0.292 m is a triangle of 51.1 kJ; a drawing unit squared is 1 mm by 1 kN = 1 J.
    expect(size).toBeCloseTo(51144, -2);
  });

  test("moveFigure(svg, figure) writes the paths that a whole drawing on the same axes would", () => {
    const svg = draw(forces);
    const other: Figure = { ...forces, series: [{ ...forces.series[0] as Figure["series"][number], x: [0, 0.5], y: [0, 200000] }, forces.series[1] as Figure["series"][number]] };
    const axes = [svg.getAttribute("data-x"), svg.getAttribute("data-y")];
    expect(moveFigure(svg, other)).toBe(true);
    const scales = readScales(svg);
    if (!scales) throw new Error("no scales");
    const expected = pathData(other, scales);
    expected.forEach(({ line, area, end }, i) => {
      expect(svg.querySelector(`[data-line="${i}"]`)?.getAttribute("d")).toBe(line);
      expect(svg.querySelector(`[data-area="${i}"]`)?.getAttribute("d")).toBe(area);
      expect(svg.querySelector(`[data-end="${i}"]`)?.getAttribute("transform")).toBe(`translate(${end?.[0]},${end?.[1]})`);
    });
    expect([svg.getAttribute("data-x"), svg.getAttribute("data-y")]).toEqual(axes);
    moveFigure(svg, forces);
    expect(svg.outerHTML).toBe(draw(forces).outerHTML);
  });

  test("moveFigure(svg, figure) takes a rule's words along and hides them, and ends, that leave the axes", () => {
    const svg = draw(velocities);
    const untouched = svg.outerHTML;
    const words = () => svg.querySelector('text[data-rule="0"]');
    const [line, label] = [Number(svg.querySelector('line[data-rule="0"]')?.getAttribute("x1")), Number(words()?.getAttribute("x"))];
    moveFigure(svg, { ...velocities, rules: [{ axis: "x", at: 0.1, label: "common velocity" }, ...(velocities.rules ?? []).slice(1)] });
    const moved = Number(svg.querySelector('line[data-rule="0"]')?.getAttribute("x1")) - line;
    expect(moved).toBeGreaterThan(50);
    expect(Number(words()?.getAttribute("x")) - label).toBeCloseTo(moved, 6);
    const far = { ...velocities, series: velocities.series.map((series) => ({ ...series, y: series.y.length === 0 ? [] : Array.from(series.y, () => 99) })), rules: [{ axis: "x" as const, at: 0.3, label: "common velocity" }, ...(velocities.rules ?? []).slice(1)] };
    moveFigure(svg, far);
    for (const gone of [words(), svg.querySelector('[data-end="0"]')]) expect(gone?.getAttribute("visibility")).toBe("hidden");
    moveFigure(svg, velocities);
    expect(svg.outerHTML).toBe(untouched);
  });

  test("moveFigure(svg, figure) moves rules and refuses an svg of another shape", () => {
    const svg = draw(velocities);
    const at = () => Number(svg.querySelector('line[data-rule="0"]')?.getAttribute("x1"));
    const before = at();
    moveFigure(svg, { ...velocities, rules: [{ axis: "x", at: 0.1, label: "common velocity" }, ...(velocities.rules ?? []).slice(1)] });
    const scales = readScales(svg);
    expect(at() - before).toBeCloseTo((0.033 / 0.15) * ((scales?.x.range[1] ?? 0) - (scales?.x.range[0] ?? 0)), 0);
    expect(moveFigure(svg, { ...velocities, series: velocities.series.slice(1) })).toBe(false);
    svg.removeAttribute("data-x");
    expect(moveFigure(svg, velocities)).toBe(false);
  });
});

describe("axes", () => {
  test("plotFigure(figure) writes the numbers of its ticks in full, and leaves room beside an upright rule", () => {
    for (const most of [0.018, 0.3, 0.9, 1.1, 2.6, 7, 95, 950]) {
      const svg = draw(velocityFigure({ names: { a: "Sprig" }, time: [0, most / 1000], velocity: { a: [0, 1 / 3.6] }, says: "" }), 358, "metric", 340);
      const ticks = Array.from(svg.querySelectorAll('[aria-label="x-axis tick label"] text, .axis text'), (text) => text.textContent ?? "").map(Number).filter(Number.isFinite);
      const steps = new Set<string>();
      for (const at of extentOf([most], 5, true).ticks) {
        expect(ticks.some((tick) => Math.abs(tick - at) < 1e-9), `${at} of ${most} in ${ticks.join()}`).toBe(true);
        steps.add(String(at));
      }
      expect(steps.size).toBeGreaterThan(2);
    }
    const ruled = readScales(draw({ ...forces, rules: [{ axis: "x", at: 0.9, label: "cabin begins" }] }));
    expect(ruled?.x.domain[1]).toBeCloseTo(1.125, 9);
    expect(readScales(draw(forces))?.x.domain[1]).toBeCloseTo(0.778, 9);
  });

  test("extentOf(values) holds every value and zero, and ends on ticks", () => {
    for (const values of [[3, 7.2], [-4, -0.5], [-36, 54], [1e-9], [0], [], [399.99, 400]]) {
      const { from, to, ticks } = extentOf(values, 5, false);
      for (const value of [0, ...values]) expect(value >= from - 1e-9 && value <= to + 1e-9, `${value} in ${from}..${to}`).toBe(true);
      expect(to).toBeGreaterThan(from);
      expect(ticks[0]).toBeCloseTo(from, 9);
      expect(ticks[ticks.length - 1]).toBeCloseTo(to, 9);
      expect(ticks.length).toBeLessThanOrEqual(8);
    }
  });

  test("plotFigure(figure) names the unit that its largest value is written in", () => {
    const small = { ...forces, series: forces.series.map((series) => ({ ...series, y: Array.from(series.y, (newtons) => newtons / 1e5) })) };
    for (const [figure, unit, top] of [[forces, "kN", "400"], [small, "N", "4"]] as const) {
      const texts = Array.from(draw(figure).querySelectorAll("text"), (text) => text.textContent);
      expect(texts).toContain(`force, ${unit}`);
      expect(texts).toContain(top);
    }
  });

  test("tickStep(span, count) is 1, 2 or 5 times a power of ten", () => {
    for (const span of [0.013, 0.15, 0.778, 9, 54, 350.3, 12345]) {
      const step = tickStep(span, 5);
      const lead = step / 10 ** Math.floor(Math.log10(step) + 1e-9);
      expect([1, 2, 5].some((nice) => Math.abs(nice - lead) < 1e-6), `${step}`).toBe(true);
      expect(span / step).toBeLessThanOrEqual(5 + 1e-9);
    }
  });
});

describe("figureTable", () => {
  test("figureTable(figure) of curves on one axis keeps the ends and every extreme", () => {
    const peak = 157;
    const y = time.map((_, i) => (i === peak ? 99 : Math.sin(i / 9)));
    const table = figureTable(velocityFigure({ names, time, velocity: { a: y, b: velocity.b }, says: "" }), write);
    expect(table.columns).toEqual(["time since first touch", "Sprig: velocity", "Bollard: velocity"]);
    expect(table.rows.length).toBeLessThanOrEqual(28);
    expect(table.rows[0]?.[0]).toBe(write("duration", 0));
    expect(table.rows[table.rows.length - 1]?.[0]).toBe(write("duration", 0.15));
    expect(table.rows.some((row) => row[1] === write("velocity", 99))).toBe(true);
  });

  test("figureTable(figure) of curves on different axes names the curve in each row", () => {
    const table = figureTable(forces, write);
    expect(table.columns).toEqual(["curve", "crush", "force"]);
    expect(table.rows).toEqual([
      ["Sprig", write("distance", 0, { digits: 2 }), write("force", 0)],
      ["Sprig", write("distance", 0.292, { digits: 2 }), write("force", 350300)],
      ["Bollard", write("distance", 0, { digits: 2 }), write("force", 0)],
      ["Bollard", write("distance", 0.778, { digits: 2 }), write("force", 350300)],
    ]);
  });
});
