// Sequences made for the check: how often, how much of the picture and how bright, each on both sides of its threshold.
// Thresholds: W3C WCAG 2.2, general flash and red flash thresholds, from memory; ITU-R BT.1702, as quoted by others.
import { describe, expect, test } from "vitest";
import { type Cells, cellsOf, checkFlashes, COLUMNS, ROWS } from "../../shared/export/flash.ts";
import { groundsOf, worstFlashes } from "../../shared/exportingChecks.ts";

const WIDTH = 320;
const HEIGHT = 180;
type Colour = readonly [red: number, green: number, blue: number, alpha?: number];

/** One colour over the left `share` of the picture, another over the rest. */
const frame = (left: Colour, right: Colour = left, share = 1, ground = 0): Cells => {
  const pixels = new Uint8Array(4 * WIDTH * HEIGHT);
  for (let i = 0; i < WIDTH * HEIGHT; i++) {
    const [r, g, b, a = 255] = (i % WIDTH) + 0.5 < share * WIDTH ? left : right;
    pixels.set([r, g, b, a], 4 * i);
  }
  return cellsOf(pixels, WIDTH, HEIGHT, ground);
};
const grey = (value: number): Colour => [value, value, value];

/** `seconds` of 25 frames a second, two pictures by turns, `hold` frames each. */
const turns = (one: Cells, other: Cells, hold: number, seconds = 4): Cells[] => Array.from({ length: 25 * seconds }, (_, i) => (Math.floor(i / hold) % 2 === 0 ? one : other));
const judged = (frames: readonly Cells[]) => checkFlashes(frames, 25);

const [BLACK, WHITE] = [frame(grey(0)), frame(grey(255))];

describe("cellsOf(…)", () => {
  test("measures relative luminance: 1 for white, 0.2126 for red, 0.2140 for half grey", () => {
    // IEC 61966-2-1 for sRGB, from memory: 127.5/255 encodes a linear 0.2140.
    expect(WHITE[0]).toBeCloseTo(1, 6);
    expect(frame([255, 0, 0])[0]).toBeCloseTo(0.2126, 6);
    expect(((frame(grey(127))[0] as number) + (frame(grey(128))[0] as number)) / 2).toBeCloseTo(0.214, 3);
    expect(WHITE.length).toBe(2 * COLUMNS * ROWS);
  });
  test("sees through what has no colour", () => {
    expect(frame([0, 0, 0, 0], undefined, 1, 255)[0]).toBeCloseTo(1, 6);
    expect(frame([255, 255, 255, 0], undefined, 1, 0)[0]).toBe(0);
    expect(frame([255, 255, 255, 128], undefined, 1, 0)[0]).toBeCloseTo(frame(grey(128))[0] as number, 6);
  });
});

describe("checkFlashes(…)", () => {
  test("counts flashes in a second: 2.5 pass, 6 fail", () => {
    expect(judged(turns(BLACK, WHITE, 5))).toMatchObject({ general: { most: 2 }, passes: true });
    expect(judged(turns(BLACK, WHITE, 2))).toMatchObject({ general: { most: 6, area: 1 }, passes: false });
  });
  test("passes three and fails four within one second of a quiet sequence", () => {
    const burst = (flashes: number): Cells[] => [...turns(BLACK, BLACK, 1), ...Array.from({ length: flashes }, () => [WHITE, BLACK, BLACK]).flat(), ...turns(BLACK, BLACK, 1)];
    expect(judged(burst(3))).toMatchObject({ general: { most: 3 }, passes: true });
    expect(judged(burst(4))).toMatchObject({ general: { most: 4 }, passes: false });
  });
  test("judges by time, not by frames: the same frames at 60 a second fail, at 5 pass", () => {
    const frames = turns(BLACK, WHITE, 5);
    expect(checkFlashes(frames, 60).passes).toBe(false);
    expect(checkFlashes(frames, 5).passes).toBe(true);
  });
  test("leaves a step under a tenth of white alone", () => {
    // Linear 0.0998 and 0.1046 above black.
    expect(judged(turns(BLACK, frame(grey(89)), 2))).toMatchObject({ general: { most: 0 }, passes: true });
    expect(judged(turns(BLACK, frame(grey(91)), 2))).toMatchObject({ general: { most: 6 }, passes: false });
  });
  test("leaves changes alone where the darker picture is brighter than 0.80", () => {
    expect(judged(turns(frame(grey(232)), WHITE, 2))).toMatchObject({ general: { most: 0 } });
    expect(judged(turns(frame(grey(225)), WHITE, 2))).toMatchObject({ general: { most: 6 } });
  });
  test("leaves less than a quarter of the picture alone", () => {
    const part = (share: number): Cells[] => turns(frame(grey(255), grey(0), share), BLACK, 2);
    expect(judged(part(0.2))).toMatchObject({ general: { most: 0 }, passes: true });
    expect(judged(part(0.2)).general.area).toBeCloseTo(0.2, 1);
    expect(judged(part(0.3))).toMatchObject({ general: { most: 6 }, passes: false });
  });
  test("counts flashes that wander over the picture", () => {
    const at = (k: number): Cells => {
      const pixels = new Uint8Array(4 * WIDTH * HEIGHT).fill(255);
      for (let i = 0; i < WIDTH * HEIGHT; i++) if (Math.floor((3 * (i % WIDTH)) / WIDTH) !== k) pixels.set([0, 0, 0], 4 * i);
      return cellsOf(pixels, WIDTH, HEIGHT, 0);
    };
    expect(judged(Array.from({ length: 100 }, (_, i) => (i % 4 < 2 ? BLACK : at(Math.floor(i / 4) % 3)))).passes).toBe(false);
  });
  test("follows a slow swell as one change, and a quick one as flashes", () => {
    const swell = (period: number): Cells[] => Array.from({ length: 100 }, (_, i) => frame(grey(Math.round(127.5 - 127.5 * Math.cos((2 * Math.PI * i) / period)))));
    expect(judged(swell(50))).toMatchObject({ general: { most: 1 }, passes: true });
    expect(judged(swell(5))).toMatchObject({ general: { most: 5 }, passes: false });
  });
  test("tells saturated red apart, even where the luminance hardly changes", () => {
    // Linear 0.2126 for full red; grey 127 has 0.2122.
    const report = judged(turns(frame([255, 0, 0]), frame(grey(127)), 2));
    expect(report).toMatchObject({ general: { most: 0 }, red: { most: 6 }, passes: false });
    expect(judged(turns(frame([200, 120, 120]), frame(grey(127)), 2)).red.most).toBe(0);
  });
  test("passes a still sequence, and one frame", () => {
    expect(judged(turns(WHITE, WHITE, 1))).toEqual({ general: { most: 0, area: 0 }, red: { most: 0, area: 0 }, passes: true });
    expect(judged([BLACK]).passes).toBe(true);
  });
});

describe("worstFlashes(…)", () => {
  test("fails a picture without a ground that flashes over one ground alone", () => {
    // Black ink that comes and goes: over black nothing changes, over white all of it.
    const cells = groundsOf("none").map((ground) => turns(frame([0, 0, 0, 0], undefined, 1, ground), frame(grey(0), undefined, 1, ground), 2));
    expect(cells.map((each) => judged(each).passes)).toEqual([true, false]);
    expect(worstFlashes(cells, 25)).toEqual(judged(cells[1] as Cells[]));
    expect(groundsOf("none-dark")).toEqual(groundsOf("none"));
    expect(groundsOf("light")).toHaveLength(1);
  });
});
