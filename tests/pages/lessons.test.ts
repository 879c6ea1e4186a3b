/** Every built lesson in a real browser, from disk: what a reader does, and the kernels' answers to it. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { evaluateFence } from "../../build/fence.ts";
import { readLesson, type WrittenLesson } from "../../build/readLessons.ts";
import { readScenario } from "../../build/scenario.ts";
import { evaluateWhole, type Lesson, startOf } from "../../shared/lesson.ts";
import { makeWrite, show } from "../../shared/state/units.ts";
import { accessibilityFaults, launch, type OpenedPage, openPage } from "./browser.ts";

const HOME = join(import.meta.dirname, "../..");
const LOCALE = "en-GB";
const write = makeWrite("metric", LOCALE);
/** The accessibility checker looks at every node of a long page, four times; a busy machine takes its time [ms]. */
const CHECKER_TIME = 120_000;

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

const lessons: readonly WrittenLesson[] = readdirSync(join(HOME, "lessons"))
  .filter((name) => name.endsWith(".md"))
  .map((name) => readLesson(join(HOME, "lessons", name)));

const evaluated = async (written: WrittenLesson): Promise<Lesson> => {
  const read = readScenario(join(HOME, "shared/scenario/demo.yaml"));
  if (!("scenario" in read)) throw new Error("the demo scenario has problems");
  const fence = written.prose.fence;
  if (fence === undefined) throw new Error(`${written.file} has no fence`);
  const result = await evaluateFence(fence, { home: HOME, cache: join(HOME, ".cache"), file: written.file, slug: `${written.slug}-in-test`, scenario: read.scenario });
  if (!("lesson" in result)) throw new Error(JSON.stringify(result.problems));
  return result.lesson;
};

/** The input that the reader drags first: a mass where the lesson has one. */
const draggedOf = async (page: Page, lesson: Lesson): Promise<string> => {
  const handles = await page.$$eval("lesson-scene .handle:not([hidden])", (all) => all.map((one) => (one as HTMLElement).dataset["input"] as string));
  const masses = handles.filter((name) => {
    const input = lesson.inputs[name];
    return input?.type === "quantity" && input.kind.id === "mass";
  });
  const chosen = masses[0] ?? handles[0];
  if (chosen === undefined) throw new Error("the scene has no handle");
  return chosen;
};

const open = async (written: WrittenLesson, options: Parameters<typeof openPage>[2] = {}): Promise<OpenedPage> => {
  const opened = await openPage(browser, `dist/${written.slug}.html`, { width: 1280, height: 900, ...options });
  for (const button of await opened.page.$$('predict-gate [data-do="show"]')) await button.click();
  return opened;
};

const plain = (text: string): string => text.replace(/[\u00a0\u202f\s]+/g, " ").trim();

/** What the page shows for each quantity, verdict and sentence, and what the lesson gives in Node for the page's inputs. */
const compared = async (page: Page, lesson: Lesson): Promise<{ shown: Record<string, string>; wanted: Record<string, string>; inputs: Record<string, unknown> }> => {
  const inputs = { ...startOf(lesson) };
  const set = await page.$$eval("lesson-scene .handle:not([hidden])", (all) => all.map((one) => [(one as HTMLElement).dataset["input"], Number(one.getAttribute("aria-valuenow"))] as const));
  for (const [name, value] of set) if (name !== undefined) inputs[name] = value;
  const state = evaluateWhole(lesson, inputs, write);
  const texts = await page.$$eval("quantity-output", (all) =>
    all.map((one) => ({ name: (one as HTMLElement).dataset["output"] as string, unit: (one as HTMLElement).dataset["unit"], digits: (one as HTMLElement).dataset["digits"], text: one.querySelector(".value")?.textContent ?? "" })),
  );
  const shown: Record<string, string> = {};
  const wanted: Record<string, string> = {};
  for (const [i, { name, unit, digits, text }] of texts.entries()) {
    const output = lesson.outputs[name];
    const value = state.outputs[name];
    if (output === undefined || (output.type !== "quantity" && output.type !== "returned" && output.type !== "sentence")) continue;
    const key = `${name} (${i})`;
    shown[key] = plain(text);
    wanted[key] = plain(
      typeof value === "number" && output.type !== "sentence"
        ? show(output.kind, value, "metric", LOCALE, { ...(unit === undefined ? {} : { unit: unit as never }), ...(digits === undefined ? {} : { digits: Number(digits) }) }).text
        : String(value),
    );
  }
  return { shown, wanted, inputs };
};

const valueOf = (page: Page, name: string): Promise<number> => page.$eval(`lesson-scene .handle[data-input="${name}"]`, (one) => Number(one.getAttribute("aria-valuenow")));

const settle = (page: Page): Promise<unknown> => page.waitForTimeout(150);

/** Drags the handle of `name` by mouse or finger, both ways, so that one of them is along its path. */
const dragBy = async (page: Page, name: string, touch: boolean): Promise<void> => {
  const handle = page.locator(`lesson-scene .handle[data-input="${name}"]`).first();
  await handle.scrollIntoViewIfNeeded();
  const box = await handle.boundingBox();
  if (box === null) throw new Error(`the handle of ${name} is not on the page`);
  const x = box.x + box.width / 2;
  const y = box.y + box.height / 2;
  const [dx, dy] = [18, -18];
  if (touch) {
    const client = await page.context().newCDPSession(page);
    await client.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: [{ x, y }] });
    for (let i = 1; i <= 6; i++) await client.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: [{ x: x + (dx * i) / 6, y: y + (i > 2 ? (dy * i) / 24 : 0) }] });
    await client.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
  } else {
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + dx, y + dy, { steps: 6 });
    await page.mouse.up();
  }
  await settle(page);
};

describe.each(lessons.map((written) => [written.slug, written] as const))("%s", (_slug, written) => {
  test("opens from disk at 1440 and 390 px, light and dark, without an error, a foreign request or sideways scrolling", async () => {
    for (const width of [1440, 390])
      for (const colourScheme of ["light", "dark"] as const) {
        const { page, errors, requests, close } = await open(written, { width, colourScheme });
        await settle(page);
        expect(errors).toEqual([]);
        expect(requests.filter((url) => !url.startsWith("file:") && !url.startsWith("blob:") && !url.startsWith("data:"))).toEqual([]);
        expect(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)).toBeLessThanOrEqual(0);
        await close();
      }
  });

  test("breaks no rule of the accessibility checker axe-core, before and after the reveal", async () => {
    for (const [width, colourScheme] of [
      [1440, "light"],
      [390, "dark"],
    ] as const) {
      const closed = await openPage(browser, `dist/${written.slug}.html`, { width, colourScheme });
      expect(await accessibilityFaults(closed.page)).toEqual([]);
      await closed.close();
      const opened = await open(written, { width, colourScheme });
      expect(await accessibilityFaults(opened.page)).toEqual([]);
      await opened.close();
    }
  }, CHECKER_TIME);

  test("keeps the answer out of the page until the reader commits", async () => {
    const { page, close } = await openPage(browser, `dist/${written.slug}.html`);
    expect(await page.locator("[data-reveal]").count()).toBe(0);
    expect(await page.locator("predict-gate").count()).toBeGreaterThan(0);
    expect(await page.locator("lesson-scene .handle:not([hidden])").count()).toBe(0);
    for (const form of await page.$$("predict-gate form")) {
      await (await form.$('input[type="radio"]'))?.check();
      await (await form.$('button[type="submit"]'))?.click();
    }
    expect(await page.locator("[data-reveal]").count()).toBeGreaterThan(0);
    expect(await page.locator("lesson-scene .handle:not([hidden])").count()).toBeGreaterThan(0);
    await close();
  });

  test("reads whole with scripts off: values, drawing, answer and cautions", async () => {
    const { page, errors, close } = await openPage(browser, `dist/${written.slug}.html`, { scripts: false });
    expect(await page.locator("[data-reveal]").first().isVisible()).toBe(true);
    expect(await page.locator("lesson-scene svg:visible").count()).toBeGreaterThan(0);
    for (const text of await page.locator("quantity-output .value").allTextContents()) expect(text).not.toMatch(/NaN|undefined|…/);
    expect(errors).toEqual([]);
    await close();
  });

  test.each(["mouse", "touch", "keyboard", "step button", "typing"] as const)("set by %s, shows the numbers that the lesson gives for that state", async (route) => {
    const lesson = await evaluated(written);
    const { page, errors, close } = await open(written, route === "touch" ? { width: 390, touch: true } : {});
    const name = await draggedOf(page, lesson);
    const before = await valueOf(page, name);
    const handle = page.locator(`lesson-scene .handle[data-input="${name}"]`).first();
    const control = page.locator(`quantity-input[data-input="${name}"]`).first();
    if (route === "mouse" || route === "touch") await dragBy(page, name, route === "touch");
    else if (route === "keyboard") {
      await handle.focus();
      await page.keyboard.press("PageUp");
    } else if (route === "step button") await control.locator('button[data-step="1"]').click();
    else {
      const input = lesson.inputs[name];
      if (input?.type !== "quantity") throw new Error(`${name} is no quantity`);
      const value = input.start + (input.start + 3 * input.step <= input.to ? 3 : -3) * input.step;
      const box = control.locator("input.number");
      await box.fill(show(input.kind, value, "metric", LOCALE, { digits: 4 }).number);
      await box.press("Enter");
    }
    await settle(page);
    expect(await valueOf(page, name)).not.toBe(before);
    const { shown, wanted } = await compared(page, lesson);
    expect(Object.keys(shown).length).toBeGreaterThan(2);
    expect(shown).toEqual(wanted);
    expect(errors).toEqual([]);
    await close();
  });

  test("opens at the state that its link names, and falls back in words for a broken link", async () => {
    const lesson = await evaluated(written);
    const first = await open(written);
    const name = await draggedOf(first.page, lesson);
    await first.page.locator(`lesson-scene .handle[data-input="${name}"]`).first().focus();
    await first.page.keyboard.press("PageUp");
    await settle(first.page);
    const value = await valueOf(first.page, name);
    const hash = await first.page.evaluate(() => location.hash);
    expect(hash).toContain(name);
    await first.close();
    const again = await open(written, { state: hash });
    expect(await valueOf(again.page, name)).toBe(value);
    await again.close();
    const broken = await open(written, { state: `#${name}=%ZZ&nothing=1` });
    const input = lesson.inputs[name];
    expect(await valueOf(broken.page, name)).toBe(input?.type === "quantity" ? input.start : undefined);
    expect(broken.errors).toEqual([]);
    expect(await broken.page.locator("share-link").first().textContent()).not.toBe("");
    await broken.close();
  });
});

test("index.html names every lesson and opens from disk without an error", async () => {
  const { page, errors, close } = await openPage(browser, "dist/index.html", { width: 390 });
  for (const { slug } of lessons) expect(await page.locator(`a[href="${slug}.html"]`).count()).toBeGreaterThan(0);
  expect(await accessibilityFaults(page)).toEqual([]);
  expect(errors).toEqual([]);
  await close();
});
