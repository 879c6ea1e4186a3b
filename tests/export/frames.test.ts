// Sequences of a real lesson: sizes, counts, alpha, the same bytes again, and going on after an interruption.
import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Resvg } from "@resvg/resvg-js";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type FramesWanted, LIST, makeFrames } from "../../build/frames.ts";
import { type LessonAt, lessonAt } from "../../build/oneLesson.ts";
import { painterFor, planOf, scenePlate } from "../../build/picture.ts";
import { progressOf } from "../../build/progress.ts";
import { readPng } from "../../build/raster.ts";
import { type Plate, TEXT, type Words, writePlate } from "../../shared/export/plate.ts";
import { decimal, type Ratio, RATES } from "../../shared/export/rate.ts";
import { sequenceChecks } from "../../shared/exportingChecks.ts";

const SLUG = "sharing-out-a-change-of-velocity";
const SLOW = 60_000;
const work = mkdtempSync(join(tmpdir(), "ridedown-frames-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

const exactly = (text: string): Ratio => decimal(text) as Ratio;
let at: LessonAt;
/** Seven frames of the push. */
const wanted = (folder: string, more: Partial<FramesWanted> = {}): FramesWanted => ({ at, scene: "meeting", timing: { rate: RATES["25"] as Ratio, slowed: exactly("10"), from: exactly("0.03"), to: exactly("0.056") }, size: "hd", ground: "none", out: join(work, folder), workers: 2, ...more });

const picturesIn = (folder: string): string[] => readdirSync(join(work, folder)).filter((name) => name !== LIST).sort();
const bytesIn = (folder: string): Record<string, string> => Object.fromEntries(picturesIn(folder).map((name) => [name, createHash("sha256").update(readFileSync(join(work, folder, name))).digest("hex")]));
const listIn = (folder: string): Record<string, unknown> => JSON.parse(readFileSync(join(work, folder, LIST), "utf8")) as Record<string, unknown>;

beforeAll(async () => {
  at = await lessonAt({ slug: SLUG, cache: join(work, "cache") });
  await makeFrames(wanted("whole"));
}, SLOW);

describe("makeFrames(…)", () => {
  test("writes as many frames as length times rate says, numbered with fixed digits, and a list", () => {
    // 0.026 s slowed ten times is 0.26 s: six and a half frames of 25 a second, and what is begun is shown.
    expect(picturesIn("whole")).toEqual(Array.from({ length: 7 }, (_, i) => `${SLUG}-meeting-0000${i + 1}.png`));
    expect(listIn("whole")).toMatchObject({ finished: true, frames: 7, rate: "25", slowed: "10", from: "3/100", to: "7/125", width: 1920, height: 1080, alpha: "straight", colour: "sRGB", lesson: SLUG, checks: { outside: [], small: [], flashes: { passes: true } } });
  });

  test.each([["hd", 1920, 1080], ["uhd", 3840, 2160]] as const)("draws %s in %d x %d pixels", { timeout: SLOW }, async (size, width, height) => {
    await makeFrames(wanted(`size-${size}`, { size, timing: { ...wanted("").timing, to: exactly("0.031") } }));
    const picture = readPng(readFileSync(join(work, `size-${size}`, `${SLUG}-meeting-00001.png`)));
    expect([picture?.width, picture?.height]).toEqual([width, height]);
  });

  test("holds a broken rate as a ratio", { timeout: SLOW }, async () => {
    const { count } = await makeFrames(wanted("broken", { timing: { rate: RATES["23.976"] as Ratio, slowed: exactly("1"), from: exactly("0"), to: exactly("0.1") } }));
    // 0.1 s of 24000/1001 is 2.3976 frames.
    expect(count).toBe(3);
    expect(listIn("broken")).toMatchObject({ rate: "24000/1001", seconds: 3 / (24000 / 1001) });
  });

  test("leaves the corners clear, and edges with alphas between", () => {
    const { pixels } = readPng(readFileSync(join(work, "whole", `${SLUG}-meeting-00001.png`))) as { pixels: Uint8Array };
    expect([0, 1919, 1920 * 1079, 1920 * 1080 - 1].map((i) => pixels[4 * i + 3])).toEqual([0, 0, 0, 0]);
    expect(new Set(pixels.filter((_, i) => i % 4 === 3)).size).toBeGreaterThan(50);
  });

  // No fringe: what an editing suite makes of the straight pixels is what drawing on that ground itself would give.
  test.each([["grey", 128], ["white", 255], ["black", 0]] as const)("composites over %s without a fringe", (_, ground) => {
    const { pixels } = readPng(readFileSync(join(work, "whole", `${SLUG}-meeting-00004.png`))) as { pixels: Uint8Array };
    const paint = painterFor("none");
    const svg = writePlate(scenePlate(planOf(at, "meeting"), 0.03 + 3 / 250 + ((at.lesson.scenes["meeting"] as { touch?: (state: unknown) => number } | undefined)?.touch?.(at.state) ?? 0), paint), paint, "none", "hd");
    const onGround = new Resvg(svg.replace(/(<g class="sheet">)/, `$1<rect width="1920" height="1080" fill="rgb(${ground},${ground},${ground})"/>`), { font: { loadSystemFonts: false } }).render().pixels;
    let [worst, inked] = [0, 0];
    for (let i = 0; i < pixels.length; i += 4) {
      const alpha = pixels[i + 3] as number;
      if (alpha > 0) inked++;
      for (let k = 0; k < 3; k++) worst = Math.max(worst, Math.abs(((pixels[i + k] as number) * alpha + ground * (255 - alpha)) / 255 - (onGround[i + k] as number)));
    }
    expect(inked).toBeGreaterThan(50_000);
    // Two roundings to 8 bits, and several layers of them where edges cross; a fringe is tens.
    expect(worst).toBeLessThanOrEqual(4);
  });

  test("gives the same bytes again, with any number of workers", { timeout: SLOW }, async () => {
    await makeFrames(wanted("again", { workers: 1 }));
    expect(bytesIn("again")).toEqual(bytesIn("whole"));
    expect(listIn("again")).toEqual(listIn("whole"));
  });

  test("is the still of the same instant, pixel for pixel", { timeout: SLOW }, async () => {
    const { makeStills } = await import("../../build/stills.ts");
    const { stills } = await makeStills({ at, scene: "meeting", instant: 0.03, size: "hd", ground: "none", out: join(work, "still") });
    const still = readPng(readFileSync(join(work, "still", stills[0]?.files.png.name as string)));
    const frame = readPng(readFileSync(join(work, "whole", `${SLUG}-meeting-00001.png`)));
    expect(Buffer.compare(Buffer.from(still?.pixels ?? []), Buffer.from(frame?.pixels ?? [1]))).toBe(0);
  });

  test("goes on where it was interrupted: finished frames stay, a damaged one and a part of one count for nothing", { timeout: SLOW }, async () => {
    const stop = new AbortController();
    const running = makeFrames(wanted("broken-off", { workers: 1, signal: stop.signal, onProgress: (done) => done === 3 && stop.abort(new Error("stopped by hand")) }));
    await expect(running).rejects.toThrow("stopped by hand");
    expect(listIn("broken-off")["finished"]).toBe(false);
    const there = picturesIn("broken-off").filter((name) => name.endsWith(".png"));
    expect(there.length).toBeGreaterThanOrEqual(3);
    expect(there.length).toBeLessThan(7);
    truncateSync(join(work, "broken-off", there[1] as string), 5000);
    writeFileSync(join(work, "broken-off", `${SLUG}-meeting-00007.png.part`), "half a file");
    const { kept, count } = await makeFrames(wanted("broken-off"));
    expect([kept, count]).toEqual([there.length - 1, 7]);
    expect(bytesIn("broken-off")).toEqual(bytesIn("whole"));
    expect(listIn("broken-off")).toEqual(listIn("whole"));
  });

  test("keeps all of a finished sequence", { timeout: SLOW }, async () => {
    cpSync(join(work, "whole"), join(work, "copy"), { recursive: true });
    expect((await makeFrames(wanted("copy"))).kept).toBe(7);
    expect(bytesIn("copy")).toEqual(bytesIn("whole"));
  });

  test("refuses a folder that holds another sequence, and a stretch outside the event", async () => {
    cpSync(join(work, "whole"), join(work, "other"), { recursive: true });
    await expect(makeFrames(wanted("other", { ground: "dark" }))).rejects.toThrow(/other holds 7 pictures of another sequence; empty it, or choose another folder by --out/);
    expect(bytesIn("other")).toEqual(bytesIn("whole"));
    await expect(makeFrames(wanted("late", { timing: { ...wanted("").timing, to: exactly("9") } }))).rejects.toThrow(/--from and --to must lie from -?0\.\d+ to 0\.\d+ s/);
  });

  test("refuses words that leave the safe area, unless told to let them", { timeout: SLOW }, async () => {
    const title = "Donaudampfschifffahrtsgesellschaftskapitaenswitwenverein";
    const short = { title, timing: { ...wanted("").timing, to: exactly("0.031") } };
    await expect(makeFrames(wanted("wide", short))).rejects.toThrow(/\u201cDonau.*reaches \d+(\.\d)? px out of the graphics-safe area; shorten the words, or add --allow-outside/);
    await makeFrames(wanted("allowed", { ...short, allowOutside: true }));
    expect((listIn("allowed")["checks"] as { outside: unknown[] }).outside.length).toBe(1);
  });
});

describe("sequenceChecks(…)", () => {
  const line = (words: string, size: number, x = 200): Words => ({ role: "value", words, x, y: 500, size, weight: "regular", tone: "ink", anchor: "start" });
  const plate = (...words: Words[]): Plate => ({ title: "", says: "", art: [], words });
  test("finds type that is too small in whichever frame has it, once, with the least height and the first frame", () => {
    const { see, report } = sequenceChecks("hd");
    [line("12 km/h", TEXT), line("13 km/h", 40), line("14 km/h", 30), line("15 km/h", 40)].forEach((words, frame) => see(plate(line("Title", TEXT), words), frame));
    // Capitals of the bundled type are 1490 of its 2048 units (its OS/2 table).
    expect(report()).toMatchObject({ outside: [], small: [{ words: "14 km/h", frame: 2, cap: Math.round((30 * 14900) / 2048) / 10 }], cap: Math.round((30 * 14900) / 2048) / 10, leastCap: 45 });
  });
  test("finds words that leave the safe area, how far they ever do, in pixels of the size that is asked for", () => {
    const by = (size: "hd" | "uhd"): number => {
      const { see, report } = sequenceChecks(size);
      [200, 96, 50, 90].forEach((x, frame) => see(plate(line("H 1", TEXT, x)), frame));
      const [fault, further] = report().outside;
      expect([fault?.frame, further]).toEqual([3, undefined]);
      return fault?.by as number;
    };
    expect(by("uhd")).toBeCloseTo(2 * by("hd"), 0);
    // 96 px is the edge (EBU R 95, as quoted by others); an H begins a few units of its em in.
    expect(by("hd")).toBeGreaterThan(30);
    expect(by("hd")).toBeLessThan(46);
  });
});

describe("progressOf(…)", () => {
  const said = (isTTY: boolean): string => {
    let text = "";
    let now = 0;
    const progress = progressOf(200, "frames", { isTTY, write: (more) => (text += more) }, 100, () => (now += 500));
    for (let done = 101; done <= 200; done++) progress.at(done);
    progress.end();
    return text;
  };
  test("keeps a bar on one line of a terminal", () => {
    expect(said(true)).toMatch(/^\r\[#{15}\.{15}\] 101 of 200 frames, /);
    expect(said(true)).toMatch(/\r\[#{30}\] 200 of 200 frames, [\d.]+ a second\x1b\[K\n$/);
  });
  test("writes a line for every tenth elsewhere", () => expect(said(false).split("\n").filter((line) => line !== "").map((line) => line.split(",")[0])).toEqual(["120 of 200 frames", "140 of 200 frames", "160 of 200 frames", "180 of 200 frames", "200 of 200 frames"]));
});
