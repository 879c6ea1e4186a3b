/** The pages around the lessons in a real browser, and a presenter's own show through every lesson. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { HOME, Site } from "../../build/site.ts";
import { writeSite } from "../../build/writeSite.ts";
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
  const folder = mkdtempSync(join(tmpdir(), "second-show-"));
  let built: Awaited<ReturnType<Site["build"]>>;
  beforeAll(async () => {
    built = await new Site({ scenario: join(HOME, "shared/scenario/cresswold.yaml") }).build({ claims: false });
    writeSite(folder, built.files);
  }, CHECKER_TIME);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test("goes through every lesson that it has the parts for", () => {
    expect(built.problems).toEqual([]);
    expect([...built.lessons, ...Object.keys(built.leftOut)].sort()).toEqual(lessons.map(({ slug }) => slug).sort());
  });

  test("its pages open without an error and speak of its own vehicles only", async () => {
    for (const slug of built.lessons) {
      const { page, errors, close } = await openPage(browser, join(folder, `${slug}.html`), { width: 390 });
      for (const button of await page.$$('predict-gate:not(.answered) [data-do="show"]')) await button.click();
      const text = await page.evaluate(() => document.querySelector("main")?.innerText ?? "");
      expect(text, slug).not.toMatch(/Sprig|Bollard|Thornwick/);
      expect(text, slug).not.toMatch(/NaN|undefined/);
      expect(errors, slug).toEqual([]);
      await close();
    }
  }, CHECKER_TIME);
});
