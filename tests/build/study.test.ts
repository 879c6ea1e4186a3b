import { createHash } from "node:crypto";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { lessonStudy, startStudies, type Studies, type StudyRequest } from "../../build/study.ts";
import { kernelRun, lessonRun } from "../../build/studyWorker.ts";
import { drawRuns, type StudyRuns } from "../../lib/uncertainty/runs.ts";
import { summarise } from "../../lib/uncertainty/summary.ts";
import { referenceCrash } from "../lib/event/referenceCrash.ts";
import { HOME } from "../../build/site.ts";

const inputs = {
  "a.mass": { value: 1280, give: 20 },
  "b.mass": { value: 1690, give: 25 },
  "a.speed": { value: 13.5, give: 0.4 },
  "b.speed": { value: 11, give: 0.4, shape: "flat" as const },
  "a.front.force.2": { value: 150000, give: 20000 },
  "a.occupants.0.belt.slack": { value: 0.03, give: 0.02, from: 0 },
};
const outputs = ["deltaV.a", "deltaV.b", "peakForce", "cabinLoss.a", "times.separation", "occupants.a.0.chestClip", "occupants.a.0.hic15", "occupants.b.1.hic15"];
const crashes = (runs: number): StudyRequest => ({ task: { kernel: "crashOutputs", template: referenceCrash, outputs }, inputs, correlations: [{ first: "a.speed", second: "b.speed", coefficient: 0.5 }], seed: 2024, runs });

/** Every column to the last bit, and every word. Comparing typed arrays one entry at a time takes seconds. */
const bitsOf = ({ inputs: drawn, numbers, words, outcomes }: StudyRuns): string => {
  const hash = createHash("sha256").update(JSON.stringify([words, outcomes]));
  for (const [name, column] of [...Object.entries(drawn), ...Object.entries(numbers)]) hash.update(name).update(column);
  return hash.digest("hex");
};

let single: Studies;
let double: Studies;
beforeAll(async () => {
  [single, double] = await Promise.all([startStudies(1), startStudies(2)]);
});
afterAll(() => Promise.all([single.close(), double.close()]));

const MANY = 330;
const PART = 50; // seven parts, the last one short

describe("study(…) of whole crashes in worker threads", () => {
  test("gives the same bits on one worker, on two, and in this thread", async () => {
    const request = { ...crashes(MANY), chunk: PART };
    const [one, two] = await Promise.all([single.study(request), double.study(request)]);
    const here = drawRuns(kernelRun("crashOutputs", referenceCrash, outputs), request, 0, MANY);
    expect(bitsOf(two.runs)).toBe(bitsOf(one.runs));
    expect(bitsOf(one.runs)).toBe(bitsOf(here));
    expect(JSON.stringify(two.summary)).toBe(JSON.stringify(one.summary));
    expect(JSON.stringify(one.summary)).toBe(JSON.stringify(summarise(here)));
    expect(one.summary.ranges["deltaV.a"]?.count).toBe(MANY);
    expect(Object.keys(one.summary.ranges).length).toBeGreaterThan(6);
  });

  test("makes the parts that are asked for, whatever their length", async () => {
    const [odd, whole] = await Promise.all([double.study({ ...crashes(100), chunk: 7 }), single.study({ ...crashes(100), chunk: 100 })]);
    expect(bitsOf(odd.runs)).toBe(bitsOf(whole.runs));
  });

  test("tells its progress up to the end", async () => {
    const seen: number[] = [];
    await double.study({ ...crashes(400), chunk: 100, onProgress: (done, runs) => seen.push(done, runs) });
    expect(seen).toEqual([100, 400, 200, 400, 300, 400, 400, 400]);
  });

  test("stops when told to, soon, and is ready for the next", async () => {
    const stop = new AbortController();
    let made = 0;
    const stopped = double.study({ ...crashes(200_000), signal: stop.signal, onProgress: (done) => ((made = done), stop.abort()) });
    await expect(stopped).rejects.toThrow(/abort/i);
    expect(made).toBeLessThan(10_000);
    await expect(double.study({ ...crashes(10), signal: stop.signal })).rejects.toThrow(/abort/i);
    expect((await double.study(crashes(10))).summary.runs).toBe(10);
  });

  test("passes on errors, by name, and is ready for the next", async () => {
    await expect(double.study({ ...crashes(10), task: { kernel: "crush", template: {}, outputs } })).rejects.toThrow('study: kernel must be a name that lib exports, got "crush"');
    await expect(double.study({ ...crashes(500), correlations: [], inputs: { "a.mass": { value: 10, give: 100 } } })).rejects.toThrow(RangeError);
    await expect(double.study({ ...crashes(10), correlations: [], inputs: { "a.weight": { value: 10, give: 1 } } })).rejects.toThrow(/^asRun: a.weight must be the path of a number/);
    await expect(double.study({ ...crashes(10), seed: -1 })).rejects.toThrow("study: seed must be a whole number from 0 to 4294967295, got -1");
    const slip = (): void => {
      throw new Error("slip in the caller");
    };
    await expect(double.study({ ...crashes(10), onProgress: slip })).rejects.toThrow("slip in the caller");
    expect((await double.study(crashes(10))).summary.runs).toBe(10);
  });

  test("refuses work once closed", async () => {
    const studies = await startStudies(1);
    const cut = studies.study(crashes(200_000));
    const refused = expect(cut).rejects.toThrow("study: a worker ended before its work was done");
    await new Promise((done) => setTimeout(done, 50));
    await studies.close();
    await refused;
    await expect(studies.study(crashes(1))).rejects.toThrow("study: the workers are closed");
    await expect(startStudies(0)).rejects.toThrow(/^startStudies: count must be a whole number from 1/);
  });
});

describe("lessonStudy(…)", () => {
  const cache = mkdtempSync(join(tmpdir(), "study-"));
  afterAll(() => rmSync(cache, { recursive: true }));

  test("runs a lesson over its give or take: ranges of quantities, counts of verdicts, the same on one worker, two and here", async () => {
    const RUNS = 300;
    const { lesson, task, inputs: uncertain } = await lessonStudy("fixture", { cache, lessons: join(HOME, "tests/build/fixtures/lessons") });
    if (!("lesson" in task)) throw new TypeError("not the task of a lesson");
    const request = { task, inputs: uncertain, seed: 1, runs: RUNS };
    const [one, two] = await Promise.all([single.study(request), double.study(request)]);
    expect(bitsOf(two.runs)).toBe(bitsOf(one.runs));
    const here = summarise(drawRuns(lessonRun(lesson, task.present, task.outputs), request, 0, RUNS));
    expect(one.summary).toEqual(here);
    expect(Object.keys(here.ranges).length).toBeGreaterThan(0);
  });
});
