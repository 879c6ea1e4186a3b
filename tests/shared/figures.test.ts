import { parseHTML } from "linkedom";
import { describe, expect, test } from "vitest";
import { decelerationFigure, type Figure, figureTable, forceCrushFigure, moveFigure, pathData, readScales, velocityFigure } from "../../shared/figures/index.ts";
import { plotFigure } from "../../shared/figures/plotOptions.ts";
import { extentOf, tickStep } from "../../shared/figures/scales.ts";
import { makeWrite } from "../../shared/state/units.ts";

const write = makeWrite("metric", "en");
/** Path data is rounded to a tenth of a drawing unit. */
const ROUNDING = 0.0501;

const time = Float64Array.from({ length: 301 }, (_, i) => i * 0.0005);
const names = { a: "Sprig", b: "Bollard" };
const velocity = { a: time.map((t) => 15 * Math.cos(t * 12)), b: time.map((t) => -10 + 40 * t) };
const velocities = velocityFigure({ names, time, velocity, says: "They meet.", rules: [{ axis: "x", at: 0.067, label: "common velocity" }, { axis: "y", at: -1.667, label: "after" }] });
const forces = forceCrushFigure({ names, curves: { a: { crush: [0, 0.292], force: [0, 350300] }, b: { crush: [0, 0.778], force: [0, 350300] } }, says: "The softer takes more." });
const slowing = decelerationFigure({ names, time, deceleration: { a: time.map((t) => 390 * Math.sin(t * 20)), b: time.map((t) => 190 * Math.sin(t * 20)) }, area: true, mean: [{ label: "mean", at: 200 }], says: "" });
const all: Record<string, Figure> = { velocities, forces, slowing };

const draw = (figure: Figure, width = 640, units: "metric" | "customary" = "metric"): Element => {
  const { document } = parseHTML("<!doctype html><html><body></body></html>");
  const svg = plotFigure(figure, { document: document as unknown as Document, width, height: width < 480 ? 300 : 360, write, units, locale: "en" });
  document.body.appendChild(svg as never);
  return svg;
};
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
    expect(points(draw(velocities, 640, "customary").querySelector("path[data-line]")?.getAttribute("d") ?? "")).toHaveLength(time.length);
  });

  test("plotFigure(figure) draws a figure whose series are empty", () => {
    const empty = velocityFigure({ names, time: [], velocity: { a: [], b: [] }, says: "" });
    expect(draw(empty).querySelectorAll("text").length).toBeGreaterThan(0);
  });
});

describe("pathData and moveFigure", () => {
  test("pathData(figure, scales) places each point on the straight map of its axis", () => {
    const scales = { x: { domain: [0, 0.15], range: [50, 350] }, y: { domain: [-20, 20], range: [300, 20] } } as const;
    const [a] = pathData(velocities, scales);
    const drawn = points(a?.line ?? "");
    expect(drawn).toHaveLength(time.length);
    drawn.forEach(([x, y], i) => {
      expect(Math.abs(x - (50 + 2000 * (time[i] as number)))).toBeLessThanOrEqual(ROUNDING);
      expect(Math.abs(y - (160 - 7 * (velocity.a[i] as number)))).toBeLessThanOrEqual(ROUNDING);
    });
    expect(a?.end).toEqual(drawn[drawn.length - 1]);
    expect(a?.area).toBeNull();
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

  test("tickStep(span, count) is 1, 2, 2.5 or 5 times a power of ten", () => {
    for (const span of [0.013, 0.15, 0.778, 9, 54, 350.3, 12345]) {
      const step = tickStep(span, 5);
      const lead = step / 10 ** Math.floor(Math.log10(step) + 1e-9);
      expect([1, 2, 2.5, 5].some((nice) => Math.abs(nice - lead) < 1e-6), `${step}`).toBe(true);
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
