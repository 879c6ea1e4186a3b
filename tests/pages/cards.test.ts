/** How sure, prediction card and cue card in a real browser, opened from disk. */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Sheet, Site } from "../../build/site.ts";
import { headlinesOf } from "../../build/headlines.ts";
import { captionsOf, writeVtt } from "../../shared/card/captions.ts";
import { codeOf, freeze, type KeptCard } from "../../shared/card/card.ts";
import { makeCard } from "../../shared/card/makeCard.ts";
import { findStudy, STUDY_RUNS } from "../../shared/card/wholeStudy.ts";
import { evaluateWhole } from "../../shared/lesson.ts";
import { renderStudy } from "../../shared/render/study.ts";
import { writeOf } from "../../shared/view.ts";
import { accessibilityFaults, launch, openPage } from "./browser.ts";

const HOME = join(import.meta.dirname, "../..");
const OUT = join(HOME, ".cache/cards");
/** A state that is not the start. */
const STATE = "#massA=1000";
const DAY = "2031-05-17";

let browser: Browser;
let sheet: Sheet;
beforeAll(async () => {
  const site = new Site({ home: HOME, lessons: join(import.meta.dirname, "fixtures"), cache: join(OUT, "cache") });
  const built = await site.build({ claims: false });
  expect(built.problems).toEqual([]);
  mkdirSync(OUT, { recursive: true });
  for (const [name, text] of Object.entries(built.files)) writeFileSync(join(OUT, name), text);
  sheet = site.sheets()[0] as Sheet;
  browser = await launch();
});
afterAll(() => browser?.close());

const open = (name: string, options = {}) => openPage(browser, `.cache/cards/${name}`, { width: 1280, height: 900, ...options });
/** The lesson at STATE, as Node sees it. */
const there = () => {
  const { view, written } = sheet;
  const state = evaluateWhole(view.lesson, { ...view.state.inputs, massA: 1000 }, writeOf(view));
  const outputs = headlinesOf(written, view.lesson);
  return { view: { ...view, state }, outputs, study: findStudy({ lesson: view.lesson, inputs: state.inputs, outputs }, STUDY_RUNS) };
};
const plain = (html: string): string => html.replace(/<[^>]*>/g, "").replace(/&lt;/g, "<").replace(/&gt;/g, ">").replace(/&#39;/g, "'").replace(/&amp;/g, "&");
const done = (page: Page, where: string): Promise<unknown> => page.waitForFunction((selector) => /Done|Frozen|Cancelled|not work/.test(document.querySelector(selector as string)?.textContent ?? ""), where, { timeout: 25_000 });

describe("study-panel", () => {
  test("finds in workers, from a file, exactly what Node finds", async () => {
    const { page, errors, close } = await open("every-part.html", { state: STATE });
    let workers = 0;
    page.on("worker", () => workers++);
    await page.click('[data-do="show"]');
    await page.click('study-panel [data-do="study"]');
    await done(page, ".study-status");
    const { view, study, outputs } = there();
    expect(await page.textContent(".study-found")).toBe(plain(renderStudy(view, study, outputs)));
    expect(workers).toBeGreaterThan(0);
    expect(errors).toEqual([]);
    await close();
  });

  test("finds the same where the browser gives no worker", async () => {
    const { page, errors, close } = await open("every-part.html", { state: STATE });
    await page.evaluate(() => Object.assign(globalThis, { Worker: undefined }));
    await page.click('[data-do="show"]');
    await page.click('study-panel [data-do="study"]');
    await done(page, ".study-status");
    const { view, study, outputs } = there();
    expect(await page.textContent(".study-found")).toBe(plain(renderStudy(view, study, outputs)));
    expect(errors).toEqual([]);
    await close();
  });

  test("is part of the answer, stops when told, and says when its numbers are of other values", async () => {
    const { page, close } = await open("every-part.html");
    expect(await page.locator("study-panel").count()).toBe(0);
    await page.click('[data-do="show"]');
    await page.evaluate(() => {
      (document.querySelector("study-panel") as HTMLElement).dataset["runs"] = "900000";
    });
    await page.click('study-panel [data-do="study"]');
    await page.click('study-panel [data-do="cancel"]');
    await done(page, ".study-status");
    expect(await page.textContent(".study-status")).toBe("Cancelled.");
    await page.click('#control-massA .step[data-step="1"]');
    expect(await page.textContent(".study-stale")).toContain("Run again");
    await close();
  });

  test("shows the start's ranges without scripts", async () => {
    const { page, close } = await open("every-part.html", { scripts: false });
    expect(await page.locator("study-panel table.ranges tbody tr").count()).toBeGreaterThan(0);
    expect(await page.locator('study-panel [data-do="study"]').isVisible()).toBe(false);
    await close();
  });
});

describe("prediction-card", () => {
  test("freezes, keeps a file, opens it again, shows a change, and compares what was measured", async () => {
    const { page, errors, close } = await open("every-part-card.html", { state: STATE });
    await page.fill("#card-day", DAY);
    await page.fill("#card-by", "Ada");
    await page.click('[data-do="freeze"]');
    await done(page, ".freeze-status");
    const { view, study, outputs } = there();
    const { written, facts } = sheet;
    const expected = freeze(makeCard(view, study, { question: written.front.question, scenario: facts.scenarioTitle, version: facts.version, frozen: DAY, by: "Ada", outputs }));
    expect(await page.textContent(".freeze-status")).toContain(codeOf(expected.hash));
    const [download] = await Promise.all([page.waitForEvent("download"), page.click('[data-do="keep"]')]);
    const path = join(OUT, "kept.json");
    await download.saveAs(path);
    const kept = JSON.parse(readFileSync(path, "utf8")) as KeptCard;
    expect(kept).toEqual(expected);

    await page.fill('[data-measure="after"] .value', "999");
    await page.press('[data-measure="after"] .value', "Tab");
    expect(await page.textContent(".tally")).toContain("0 inside the range, 1 missed");
    expect(await page.textContent("tr.outside")).toContain("missed");
    expect(await accessibilityFaults(page)).toEqual([]);

    const edited = structuredClone(kept) as unknown as { card: { outputs: { high: string }[] } };
    edited.card.outputs[0]!.high = "999";
    writeFileSync(join(OUT, "edited.json"), JSON.stringify(edited));
    await page.setInputFiles("#card-file", join(OUT, "edited.json"));
    await expect.poll(() => page.textContent(".check-found")).toMatch(/^Changed after freeze\..*999/);
    expect(await page.textContent(".card-place")).toContain("Changed after freeze");

    await page.setInputFiles("#card-file", path);
    await expect.poll(() => page.textContent(".check-found")).toMatch(/^Not changed after freeze/);
    await page.fill("#card-code", "AAAA-AAAA-AAAA-AAAA");
    await page.press("#card-code", "Tab");
    await expect.poll(() => page.textContent(".check-found")).toContain("Its code is not the one given.");
    await page.fill("#card-code", codeOf(kept.hash));
    await page.press("#card-code", "Tab");
    await expect.poll(() => page.textContent(".check-found")).toContain("Its code is the one given");
    expect(errors).toEqual([]);
    await close();
  });

  test("holds up the first sheet on a screen and prints the rest behind it, once, with no empty head", async () => {
    const { page, close } = await open("every-part-card.html");
    const appendix = page.locator("details.appendix table.given");
    expect(await appendix.isVisible()).toBe(false);
    expect(await page.locator("table.to-measure th:has-text('measured')").isVisible()).toBe(false);
    await page.emulateMedia({ media: "print" });
    expect(await appendix.isVisible()).toBe(true);
    expect(await page.locator("table.to-measure th:has-text('measured')").isVisible()).toBe(true);
    const { breakBefore, bare, twice } = await page.evaluate(() => {
      const seen = (element: Element | null): boolean => (element?.getBoundingClientRect().height ?? 0) > 0;
      const heads = [...document.querySelectorAll("main h2, main h3")].filter(seen);
      const rows = [...document.querySelectorAll("main table:not(.given) tbody th")].map((head) => head.textContent);
      return { breakBefore: getComputedStyle(document.querySelector("details.appendix") as Element).breakBefore, bare: heads.filter((head) => head.nextElementSibling !== null && !seen(head.nextElementSibling)).map((head) => head.textContent), twice: rows.length - new Set(rows).size };
    });
    expect({ breakBefore, bare, twice }).toEqual({ breakBefore: "page", bare: [], twice: 0 });
    await close();
  });

  test("prints the draft without scripts, and says that it is one", async () => {
    const { page, close } = await open("every-part-card.html", { scripts: false, print: true });
    expect(await page.textContent(".draft")).toContain("nothing is frozen");
    expect(await page.locator("table.predicted tbody tr").count()).toBeGreaterThan(0);
    expect(await page.locator('[data-do="freeze"]').isVisible()).toBe(false);
    await close();
  });
});

describe("cue-card", () => {
  test("counts again how often its verdicts hold at the values of a link, and till then says that it has not", async () => {
    // an own lesson of the course: the fixture says nothing aloud
    const { page, errors, close } = await openPage(browser, "dist/lighter-yet-maybe-the-better-seat-cue.html", { width: 1280, height: 900, state: "#massA=1200" });
    await expect.poll(() => page.textContent("section[aria-labelledby='verdicts']"), { timeout: 20_000 }).toMatch(/Of 400 runs:.*in \d+ of 100/);
    expect(await page.textContent("ol.lines")).not.toContain("not been counted");
    expect(errors).toEqual([]);
    await close();
  });
});

describe("WebVTT of captionsOf(…)", () => {
  test("is read by the browser's own parser as written", async () => {
    const captions = captionsOf(["The Sprig changes by about 60\u00a0km/h, and 3 < 4 & 5 > 2.", "Then\u00a0it stops. It takes a while to say all of this, more than two lines of it, so there are more captions."]);
    const { page, close } = await open("every-part-card.html");
    // on an empty page: ours refuses media by its content policy
    await page.goto("about:blank");
    const read = await page.evaluate(async (file) => {
      const video = document.body.appendChild(document.createElement("video"));
      const track = video.appendChild(document.createElement("track"));
      track.src = URL.createObjectURL(new Blob([file], { type: "text/vtt" }));
      track.track.mode = "hidden";
      await new Promise((loaded, failed) => {
        track.addEventListener("load", loaded);
        track.addEventListener("error", () => failed(new Error("the track does not load")));
      });
      return [...(track.track.cues ?? [])].map((cue) => ({ id: cue.id, from: cue.startTime, to: cue.endTime, lines: ((cue as VTTCue).getCueAsHTML().textContent ?? "").split("\n") }));
    }, writeVtt(captions, "a note"));
    expect(read).toEqual(captions);
    await close();
  });
});
