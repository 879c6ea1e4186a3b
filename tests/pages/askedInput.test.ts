/** A question may hold inputs of the lesson: boxes to type in, before the commit for reading, after it for work. */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { Site } from "../../build/site.ts";
import { launch, openPage } from "./browser.ts";

const HOME = join(import.meta.dirname, "../..");
const OUT = join(HOME, ".cache/asked-input");

let browser: Browser;
beforeAll(async () => {
  const lessons = join(OUT, "lessons");
  mkdirSync(lessons, { recursive: true });
  const written = readFileSync(join(import.meta.dirname, "fixtures/every-part.md"), "utf8");
  const asked = written.replace("Which way does the first go on?", "Which way does the first go on, of [900 kg](input:massA) at [54 km/h](input:speedA)?");
  expect(asked).not.toBe(written);
  writeFileSync(join(lessons, "asked-input.md"), asked);
  const built = await new Site({ home: HOME, lessons, cache: join(OUT, "cache") }).build({ claims: false });
  expect(built.problems).toEqual([]);
  for (const [name, text] of Object.entries(built.files)) writeFileSync(join(OUT, name), text);
  browser = await launch();
});
afterAll(() => browser?.close());

test("predict-gate closes its answers with the commit, and opens the inputs in its question", async () => {
  const { page, errors, close } = await openPage(browser, ".cache/asked-input/asked-input.html", { width: 1280, height: 900 });
  const box = page.locator('predict-gate quantity-input[data-input="massA"] .number');
  const answers = page.locator('predict-gate input[type="radio"]');
  expect(await box.isEditable()).toBe(false);
  await page.click('predict-gate button[type="submit"]');
  // The first answer is asked for, not the first box.
  expect(await answers.first().evaluate((one) => one === document.activeElement)).toBe(true);
  await page.check('predict-gate input[value="backwards"]');
  await page.click('predict-gate button[type="submit"]');
  expect(await answers.evaluateAll((all) => all.every((one) => (one as HTMLInputElement).disabled))).toBe(true);
  expect(await box.isEditable()).toBe(true);
  await box.fill("1000");
  await box.press("Enter");
  expect(await page.inputValue("#control-massA-number")).toBe("1000");
  await page.click('predict-gate quantity-input[data-input="massA"] [data-step="1"]');
  expect(await page.inputValue("#control-massA-number")).not.toBe("1000");
  expect(errors).toEqual([]);
  await close();
});
