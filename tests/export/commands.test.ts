// `stills` and `frames` as they are typed: separate processes, real files.
import { execFile } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { HOME } from "../../build/home.ts";
import { versionOf } from "../../build/oneLesson.ts";
import { stillsCommand } from "../../build/pictureCommands.ts";
import { readPng } from "../../build/raster.ts";
import { FLASHES, FLICKER, LONG } from "./flicker.ts";

const SLOW = 90_000;
const SLUG = "sharing-out-a-change-of-velocity";
const work = mkdtempSync(join(tmpdir(), "ridedown-pictures-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

const run = (...args: string[]): Promise<{ code: number; out: string; err: string }> =>
  new Promise((done) => {
    const child = execFile(process.execPath, ["--import", "tsx", join(HOME, "build/main.ts"), ...args], { cwd: HOME }, (_error, out, err) => done({ code: child.exitCode ?? -1, out, err }));
  });

describe("stills", () => {
  test("writes a scene at a state of a share link, as SVG and PNG, and says what was checked", { timeout: SLOW }, async () => {
    const out = join(work, "one");
    const NAME = (shows: string): string => `${SLUG}-${shows}-page.units-customary-massA-1200-uhd-none-v${versionOf(HOME)}`;
    const { code, out: said, err } = await run("stills", SLUG, "--state", "https://example.org/page.html#massA=1200&page.units=customary", "--scene", "meeting", "--at", "0.05", "--size", "uhd", "--ground", "none", "--out", out);
    expect([code, err]).toEqual([0, ""]);
    expect(readdirSync(out).sort()).toEqual([`${NAME("meeting-0050ms")}.png`, `${NAME("meeting-0050ms")}.svg`, `${NAME("stills")}.json`]);
    expect(said).toContain("capitals of 90.2 px or more");
    const picture = readPng(readFileSync(join(out, `${NAME("meeting-0050ms")}.png`)));
    expect([picture?.width, picture?.height, picture?.pixels[3]]).toEqual([3840, 2160, 0]);
    const list = JSON.parse(readFileSync(join(out, `${NAME("stills")}.json`), "utf8")) as { inputs: Record<string, number>; units: string; stills: { shows: object; says: string; checks: object }[] };
    expect(list).toMatchObject({ inputs: { massA: 1200 }, units: "customary", alpha: "straight", stills: [{ shows: { scene: "meeting", at: 0.05 }, checks: { outside: [], small: [], leastCap: 90 } }] });
    expect(list.stills[0]?.says).toContain("mph");
  });

  test("writes every scene and figure of a lesson of one's own show", { timeout: SLOW }, async () => {
    const out = join(work, "all");
    const { code } = await run("stills", "two-ledgers", "--scenario", join(HOME, "shared/scenario/cresswold.yaml"), "--ground", "dark", "--out", out);
    expect(code).toBe(0);
    const names = readdirSync(out);
    expect(names.filter((name) => name.endsWith(".svg")).length).toBeGreaterThan(2);
    expect(names.filter((name) => name.endsWith(".png")).length).toBe(names.filter((name) => name.endsWith(".svg")).length);
  });

  test("exits with 1 and the way out on the error output", { timeout: SLOW }, async () => {
    const out = join(work, "nothing");
    const { code, out: said, err } = await run("stills", "sharing-out-a-change-of-velocit", "--out", out);
    expect([code, said, existsSync(out)]).toEqual([1, "", false]);
    expect(err).toBe(`there is no lesson sharing-out-a-change-of-velocit in lessons; the nearest is ${SLUG}\n`);
  });

  test.each([
    ["no lesson", undefined, {}, /^which lesson\?$/],
    ["a misspelt scene", SLUG, { scene: "meting" }, /^--scene: .* has no scene meting; the nearest is meeting$/],
    ["a misspelt figure", SLUG, { figure: "pushs" }, /^--figure: .* has no figure pushs; the nearest is pushes$/],
    ["both", SLUG, { figure: "pushes", scene: "meeting" }, /^--scene or --figure, not both$/],
    ["a size that is none", SLUG, { size: "4k" }, /^--size must be one of hd, uhd, got 4k$/],
    ["a ground that is none", SLUG, { ground: "blue" }, /^--ground must be one of light, dark, none, none-dark, got blue$/],
    ["an instant outside the event", SLUG, { scene: "meeting", at: "5" }, /^--at must be from -?0\.\d+ to 0\.\d+ s for scene meeting, got 5$/],
    ["an instant that is no number", SLUG, { scene: "meeting", at: "0,05" }, /^--at must be a decimal number, got 0,05$/],
    ["a link that does not fit", SLUG, { state: ["#masA=900"] }, /^--state: \u201cmasA=900\u201d: this page has no input of that name/],
    ["what is no link", SLUG, { state: ["900"] }, /^--state must be a share link such as "#massA=900", got 900$/],
    ["a scale that the lesson lacks", SLUG, { state: ["#page.scale=benhc"] }, /^--state: .* has no scale benhc; the nearest is bench$/],
    ["a part that is not there", SLUG, { scene: "meeting", part: "9" }, /^plate: part must be a whole number from 1 to \d, got 9$/],
    ["a folder that is not there", SLUG, { lessons: "nowhere" }, /^there is no folder .*nowhere$/],
  ] as const)("answers %s with the way out, and writes nothing", { timeout: SLOW }, async (_, slug, options, message) => {
    const out = join(work, "nothing");
    await expect(stillsCommand(slug, { ...options, out })).rejects.toThrow(message);
    expect(existsSync(out)).toBe(false);
  });
});

describe("frames", () => {
  test("writes a numbered sequence, with plain lines of progress where there is no terminal", { timeout: SLOW }, async () => {
    const out = join(work, "frames");
    const { code, out: said, err } = await run("frames", SLUG, "--scene", "meeting", "--rate", "29.97", "--slowed", "20", "--from", "0.03", "--to", "0.05", "--out", out);
    expect(code).toBe(0);
    // 0.4 s of 30000/1001 a second is 11.99 frames.
    expect(readdirSync(out).filter((name) => name.endsWith(".png")).length).toBe(12);
    expect(said).toMatch(/^12 frames of 29\.97 a second \(30000\/1001\), the event slowed 20 times, in .*: 12 drawn in [\d.]+ s\nflashes in any one second: general 0, red 0; /);
    expect(err).toMatch(/^\d+ of 12 frames, [\d.]+ a second/);
    expect(err).not.toContain("\r");
    const again = await run("frames", SLUG, "--scene", "meeting", "--rate", "29.97", "--slowed", "20", "--from", "0.03", "--to", "0.05", "--out", out);
    expect(again.out).toMatch(/: 0 drawn in [\d.]+ s, 12 kept from before\n/);
  });

  test("answers a rate that is none with those there are", { timeout: SLOW }, async () => {
    const { code, err } = await run("frames", SLUG, "--scene", "meeting", "--rate", "23.98");
    expect([code, err]).toEqual([1, "--rate must be one of 23.976, 24, 25, 29.97, 30, 50, 59.94, 60, got 23.98\n"]);
  });
});

describe("a lesson whose pictures must not be kept as they are", () => {
  const lessons = join(work, "lessons");
  const flicker = (scene: string, folder: string, ...more: string[]) => run("frames", "flicker", "--lessons", lessons, "--scene", scene, "--rate", "25", "--out", join(work, folder), ...more);
  const listOf = (folder: string): { finished: boolean; checks: { flashes: { passes: boolean; general: { most: number } }; outside: { words: string; frame: number }[] } } => JSON.parse(readFileSync(join(work, folder, "frames.json"), "utf8"));
  beforeAll(() => {
    mkdirSync(lessons);
    writeFileSync(join(lessons, "flicker.md"), FLICKER);
  });

  test("names --part where the whole has no room for all readings, and no longer where a part is shown", { timeout: SLOW }, async () => {
    const said: string[] = [];
    const log = vi.spyOn(console, "log").mockImplementation((line: string) => void said.push(line));
    const hinted = async (part?: string): Promise<string> => {
      said.length = 0;
      await stillsCommand("flicker", { lessons, scene: "readings", out: join(work, `part-${part}`), ...(part !== undefined && { part }) });
      return said[0] as string;
    };
    try {
      const [whole, part] = [await hinted(), await hinted("1")];
      expect(whole).toMatch(/; no room for \d+ of the scene's readings, --part shows one part larger$/);
      expect(part).toMatch(/; no room for \d+ of the scene's readings$/);
    } finally {
      log.mockRestore();
    }
  });

  test("refuses a scene that flashes more than three times in a second, drawn now or there from before, and keeps it slowed", { timeout: SLOW }, async () => {
    for (const drawn of ["25 drawn", "0 drawn"]) {
      const { code, out, err } = await flicker("lamp", "flashes");
      expect(code).toBe(1);
      expect(out).toContain(drawn);
      expect(err).toMatch(/more than three flashes in a second: not for viewers; slow the event further\n$/);
      // Ten half periods of a second have nine changes between them: four pairs.
      expect(listOf("flashes")).toMatchObject({ finished: false, checks: { flashes: { passes: false, general: { most: FLASHES - 1 } } } });
    }
    const slowed = await flicker("lamp", "slowed", "--slowed", "4");
    expect(slowed.code).toBe(0);
    expect(listOf("slowed")).toMatchObject({ finished: true, checks: { flashes: { passes: true } } });
  });

  test("refuses words out of the safe area in a frame between the first and the last, and names that frame where they are allowed", { timeout: SLOW }, async () => {
    const refused = await flicker("words", "words");
    expect(refused.code).toBe(1);
    expect(refused.err).toContain(`frame 4: \u201c${LONG.split(" ")[0]}\u201d reaches `);
    expect(refused.err).toMatch(/out of the graphics-safe area; shorten the words, or add --allow-outside\n$/);
    expect(listOf("words").finished).toBe(false);
    const allowed = await flicker("words", "words", "--allow-outside");
    expect(allowed.code).toBe(0);
    expect(allowed.err).toMatch(/^warning: from frame 4: \u201cM+\u201d reaches /m);
    expect(listOf("words")).toMatchObject({ finished: true, checks: { outside: [{ frame: 4 }] } });
    // What was drawn under leave is not kept without it.
    expect((await flicker("words", "words")).code).toBe(1);
  });
});
