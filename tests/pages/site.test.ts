/** The pages around the lessons in a real browser, and a presenter's own show through every lesson. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readScenario } from "../../build/scenario.ts";
import { HOME } from "../../build/site.ts";
import { SECOND_SHOW } from "../secondShow.ts";
import { accessibilityFaults, launch, openPage } from "./browser.ts";
import { lessons } from "./everyLesson.ts";

const CHECKER_TIME = 120_000;

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

describe.each(["index", "misconceptions", "evidence", "reference"])("%s.html", (slug) => {
  test("opens from disk on a phone without an error or sideways scrolling, and axe-core finds nothing", async () => {
    const { page, errors, close } = await openPage(browser, `dist/${slug}.html`, { width: 390 });
    expect(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)).toBeLessThanOrEqual(0);
    expect(await accessibilityFaults(page)).toEqual([]);
    expect(errors).toEqual([]);
    await close();
  }, CHECKER_TIME);
});

test("index.html names every lesson", async () => {
  const { page, close } = await openPage(browser, "dist/index.html");
  for (const { slug } of lessons) expect(await page.locator(`a[href="${slug}.html"]`).count()).toBeGreaterThan(0);
  await close();
});

/** Room between the margins of print.css, in pixels of 1/96 inch: A4 and Letter, less 16 mm above and below and 14 mm on each side. */
const SHEETS = { A4: { width: 688, height: 1002 }, Letter: { width: 710, height: 934 } } as const;

describe.each(lessons.filter(({ prose }) => prose.containers.some(({ name }) => name === "handover")).map(({ slug }) => slug))("%s.html", (slug) => {
  test("prints what is handed over on one sheet, with its cautions", async () => {
    for (const [sheet, { width, height }] of Object.entries(SHEETS)) {
      const { page, close } = await openPage(browser, `dist/${slug}.html`, { width, print: true });
      for (const button of await page.$$('predict-gate:not(.answered) [data-do="show"]')) await button.evaluate((one) => (one as HTMLElement).click());
      const part = page.locator("section.hand-over");
      expect((await part.boundingBox())?.height, sheet).toBeLessThan(height);
      expect(await part.locator("table, [role=table], .grid").count(), sheet).toBeGreaterThan(0);
      expect(await part.innerText()).toMatch(/Assumed:[^]*Questions for/);
      expect(await part.evaluate((one) => [getComputedStyle(one).breakBefore, getComputedStyle(one).breakAfter])).toEqual(["page", "page"]);
      await close();
    }
  }, CHECKER_TIME);
});

test("a slider moved across the value that the headline lesson names turns its verdict, in words", async () => {
  const { page, close } = await openPage(browser, "dist/lighter-yet-maybe-the-better-seat.html");
  for (const button of await page.$$('predict-gate:not(.answered) [data-do="show"]')) await button.click();
  for (const [flip, input, verdict] of [["spaceFlip", "lengthB", "space"], ["rideFlip", "slackA", "rideDown"]] as const) {
    const turn = page.locator(`#output-${flip} .value`);
    const words = page.locator(`quantity-output[data-output="${verdict}"] .value`).first();
    const slider = page.locator(`#control-${input}-slider`);
    await expect.poll(() => turn.innerText()).toMatch(/^[\d.]+\sm$/);
    const at = Number.parseFloat(await turn.innerText());
    const metres = async (): Promise<number> => Number.parseFloat((await slider.getAttribute("aria-valuetext")) ?? "");
    const start = await metres();
    const before = await words.innerText();
    const [key, side] = start < at ? ["ArrowRight", 1] : ["ArrowLeft", -1];
    for (let last = start; (last - at) * side < 0; ) {
      expect(await words.innerText(), `${verdict} at ${last} m`).toBe(before);
      await slider.press(key as string);
      await expect.poll(metres).not.toBe(last);
      last = await metres();
    }
    await expect.poll(() => words.innerText(), { message: verdict }).not.toBe(before);
  }
  await close();
}, CHECKER_TIME);

test("evidence.html shows one kernel when asked, and everything again", async () => {
  const { page, close } = await openPage(browser, "dist/evidence.html");
  const all = await page.locator("section[data-kernel]:visible").count();
  await page.selectOption("#kernel-filter", "centralImpact");
  expect(await page.locator("section[data-kernel]:visible").count()).toBe(1);
  await page.selectOption("#kernel-filter", "");
  expect(await page.locator("section[data-kernel]:visible").count()).toBe(all);
  await close();
});

describe("the second scenario, the first vehicle the heavier", () => {
  const read = readScenario(join(HOME, "shared/scenario/cresswold.yaml"));
  if ("problems" in read) throw new Error("the second scenario has problems");
  const { scenario } = read;
  const built = lessons.filter(({ front }) => front.needs.every((part) => scenario[part as "site"] !== undefined)).map(({ slug }) => slug);

  test("goes through every lesson that it has the parts for, and no other", () => {
    const pages = readdirSync(join(HOME, SECOND_SHOW)).filter((name) => lessons.some(({ slug }) => name === `${slug}.html`));
    expect(pages.sort()).toEqual(built.map((slug) => `${slug}.html`).sort());
  });

  test("its pages open without an error and speak of its own vehicles only", async () => {
    for (const slug of built) {
      const { page, errors, close } = await openPage(browser, join(SECOND_SHOW, `${slug}.html`), { width: 390 });
      for (const button of await page.$$('predict-gate:not(.answered) [data-do="show"]')) await button.click();
      const text = await page.evaluate(() => document.querySelector("main")?.innerText ?? "");
      expect(text, slug).not.toMatch(/Sprig|Bollard|Thornwick/);
      expect(text, slug).not.toMatch(/NaN|undefined/);
      expect(errors, slug).toEqual([]);
      await close();
    }
  }, CHECKER_TIME);
});
