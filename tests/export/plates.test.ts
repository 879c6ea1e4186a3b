// Every picture of every lesson, of both shows and on the bench: what its words keep to, measured on the SVG that is written.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Resvg } from "@resvg/resvg-js";
import { afterAll, describe, expect, test } from "vitest";
import { lessonAt } from "../../build/oneLesson.ts";
import { painterFor } from "../../build/picture.ts";
import { drawPixels, type Renderer } from "../../build/raster.ts";
import { pathPoints } from "../../shared/export/bounds.ts";
import { checkPlate } from "../../shared/export/checks.ts";
import { ACTION_SAFE, GRAPHICS_SAFE, type Ground, LEAST_CAP, type Plate, SIZES, writePlate } from "../../shared/export/plate.ts";
import { CAP, EM } from "../../shared/export/type/outline.ts";
import { lessonEverywhere, platesOf, SLUGS } from "./lessonsAt.ts";

const cache = mkdtempSync(join(tmpdir(), "ridedown-plates-"));
afterAll(() => rmSync(cache, { recursive: true, force: true }));

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
  test("keep their words inside the graphics-safe area and tall enough, at both sizes", { timeout: SLOW }, async () => {
    const everywhere = await lessonEverywhere(slug, cache);
    expect(everywhere.length).toBeGreaterThan(0);
    const paint = painterFor("light");
    const faults: string[] = [];
    for (const at of everywhere)
      for (const { name, plate } of platesOf(at, "light")) {
        const where = `${at.scenario.title} ${at.lesson.scale ?? ""} ${name}`;
        const report = checkPlate(plate, "hd");
        faults.push(...[...report.outside, ...report.small].map((fault) => `${where}: ${JSON.stringify(fault)}`));
        // The report is held against the written outlines where the lesson starts; elsewhere the report alone is quick.
        if (at !== everywhere[0]) continue;
        const size = name.length % 2 === 0 ? "hd" : "uhd";
        const scale = SIZES[size];
        const found = wordsIn(writePlate(plate, paint, "light", size));
        // Every line of words is there, as an outline.
        expect(found.length).toBe(plate.words.filter(({ words }) => words.trim() !== "").length);
        expect(found.length).toBeGreaterThanOrEqual(2);
        for (const { box: [left, top, right, bottom], cap } of found) {
          if (left < GRAPHICS_SAFE.left * scale - EDGE || top < GRAPHICS_SAFE.top * scale - EDGE || right > GRAPHICS_SAFE.right * scale + EDGE || bottom > GRAPHICS_SAFE.bottom * scale + EDGE) faults.push(`${where}: words at ${[left, top, right, bottom].map(Math.round)} leave the safe area`);
          if (cap < LEAST_CAP * scale - 0.01) faults.push(`${where}: capitals of ${cap}`);
        }
      }
    expect(faults).toEqual([]);
  });

  test("show nothing outside the graphics-safe area, and no words over other words", { timeout: SLOW }, async () => {
    const at = await lessonAt({ slug, cache });
    const paint = painterFor("none");
    const faults: string[] = [];
    for (const { name, plate } of platesOf(at, "none", false)) {
      const svg = writePlate(plate, paint, "none", "hd");
      const { pixels } = drawPixels(Resvg as unknown as Renderer, svg);
      let out = 0;
      for (let y = 0; y < 1080; y++)
        for (let x = 0; x < 1920; x++) {
          if (y >= GRAPHICS_SAFE.top && y < GRAPHICS_SAFE.bottom && x >= GRAPHICS_SAFE.left && x < GRAPHICS_SAFE.right) x = GRAPHICS_SAFE.right;
          if (pixels[4 * (y * 1920 + x) + 3] !== 0) out++;
        }
      if (out > 0) faults.push(`${name}: ${out} pixels outside`);
      const boxes = wordsIn(svg).map(({ box }) => box);
      boxes.forEach((p, i) => boxes.slice(i + 1).forEach((q) => {
        if (p[0] < q[2] && q[0] < p[2] && p[1] < q[3] && q[1] < p[3]) faults.push(`${name}: words at ${p.map(Math.round)} and at ${q.map(Math.round)} lie on each other`);
      }));
    }
    expect(faults).toEqual([]);
  });
});

describe("writePlate(…)", () => {
  const made = async (ground: Ground): Promise<{ plate: Plate; svg: string }> => {
    const at = await lessonAt({ slug: "sharing-out-a-change-of-velocity", cache });
    const plate = platesOf(at, ground)[2]?.plate as Plate;
    return { plate, svg: writePlate(plate, painterFor(ground), ground, "hd") };
  };

  test("says who is who by name, mark and line, with title and units", async () => {
    const { plate, svg } = await made("light");
    const said = plate.words.map(({ words }) => words);
    expect(said[0]).toBe("Two meet head-on");
    expect(said).toEqual(expect.arrayContaining(["Sprig", "Bollard"]));
    expect(said.filter((words) => /\d/.test(words)).every((words) => /(km\/h|ms|kN|m|kJ|kg)\b/.test(words))).toBe(true);
    expect(svg).toContain(`<title>${plate.title}</title>`);
    expect(svg).not.toMatch(/<text|<style|font-family|class="[^"]*label/);
  });

  test("writes no class, variable or function of a style sheet that is left to be resolved", async () => {
    for (const ground of ["light", "dark", "none"] as const) expect((await made(ground)).svg).not.toMatch(/var\(|--|calc\(|inherit|light-dark/);
  });

  test("has the dark page's colours on dark, and no sheet where there is no ground", async () => {
    expect((await made("dark")).svg).toMatch(/<rect x="0" y="0" width="1920" height="1080" fill="#14171b"/);
    expect((await made("none")).svg).not.toContain('width="1920" height="1080" fill');
  });
});
