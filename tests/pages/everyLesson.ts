/**
 * Every built lesson in a real browser, from disk: what a reader does, and the kernels' answers to it. A lesson is opened four
 * times only, and its tests go on where the last one left off, since a browser page is what takes the time.
 */
import { existsSync, readdirSync } from "node:fs";
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

export const lessons: readonly WrittenLesson[] = readdirSync(join(HOME, "lessons"))
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

const reveal = async (page: Page): Promise<void> => {
  for (const button of await page.$$('predict-gate:not(.answered) [data-do="show"]')) await button.click();
};

const plain = (text: string): string => text.replace(/[\u00a0\u202f\s]+/g, " ").trim();

/** What the page shows for each quantity, verdict and sentence, and what the lesson gives in Node for the page's inputs. */
const compared = async (page: Page, lesson: Lesson): Promise<{ shown: Record<string, string>; wanted: Record<string, string>; inputs: Record<string, unknown> }> => {
  const inputs = { ...startOf(lesson) };
  const set = await page.$$eval("lesson-scene .handle:not([hidden])", (all) => all.map((one) => [(one as HTMLElement).dataset["input"], Number(one.getAttribute("aria-valuenow"))] as const));
  for (const [name, value] of set) if (name !== undefined) inputs[name] = value;
  const state = evaluateWhole(lesson, inputs, write);
  const texts = await page.$$eval("quantity-output:not([data-show])", (all) =>
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

/** A change is computed in the next frame; in the one after it, it is on the page. */
const settle = (page: Page): Promise<unknown> => page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done)))));

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

const plainRequest = (url: string): boolean => /^(?:file|blob|data):/.test(url);
const overflow = (page: Page): Promise<number> => page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

/** The page shows what the kernels give for its inputs, and its first value has moved from `before`. */
const agrees = async (page: Page, lesson: Lesson, name: string, before: number): Promise<void> => {
  await settle(page);
  expect(await valueOf(page, name)).not.toBe(before);
  const { shown, wanted } = await compared(page, lesson);
  expect(Object.keys(shown).length).toBeGreaterThan(2);
  expect(shown).toEqual(wanted);
};

/** The tests of every `parts`-th lesson from `part` on: a file for each part, so that they run side by side. */
export const testLessons = (part: number, parts: number): void => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser?.close());

  describe.each(lessons.filter((_, i) => i % parts === part).map((written) => [written.slug, written] as const))("%s", (slug, written) => {
    const address = `dist/${slug}.html`;

    describe("on a wide screen, light", () => {
      let opened: OpenedPage;
      let lesson: Lesson;
      let name = "";
      beforeAll(async () => {
        lesson = await evaluated(written);
        opened = await openPage(browser, address, { width: 1440, height: 900 });
      });
      afterAll(() => opened?.close());
      const control = () => opened.page.locator(`quantity-input.control[data-input="${name}"]`).first();

      test("keeps the answer out of the page until the reader commits, and breaks no rule of the accessibility checker axe-core", async () => {
        const { page } = opened;
        expect(await page.locator("[data-reveal]").count()).toBe(0);
        expect(await page.locator("predict-gate").count()).toBeGreaterThan(0);
        expect(await page.locator("lesson-scene .handle:not([hidden])").count()).toBe(0);
        // The parts of a page are the same in every lesson: closed, one of them is looked at; open, all are.
        if (written === lessons[part]) expect(await accessibilityFaults(page)).toEqual([]);
        for (const form of await page.$$("predict-gate form")) {
          await (await form.$('input[type="radio"]'))?.check();
          await (await form.$('button[type="submit"]'))?.click();
        }
        expect(await page.locator("[data-reveal]").count()).toBeGreaterThan(0);
        expect(await page.locator("lesson-scene .handle:not([hidden])").count()).toBeGreaterThan(0);
        name = await draggedOf(page, lesson);
      }, CHECKER_TIME);

      test("set by mouse, shows the numbers that the lesson gives for that state", async () => {
        const before = await valueOf(opened.page, name);
        await dragBy(opened.page, name, false);
        await agrees(opened.page, lesson, name, before);
      });

      test("set by keyboard, shows the numbers that the lesson gives for that state", async () => {
        const before = await valueOf(opened.page, name);
        await opened.page.locator(`lesson-scene .handle[data-input="${name}"]`).first().focus();
        const input = lesson.inputs[name];
        await opened.page.keyboard.press(input?.type === "quantity" && before + 10 * input.step > input.to ? "PageDown" : "PageUp");
        await agrees(opened.page, lesson, name, before);
      });

      test("set by step button, shows the numbers that the lesson gives for that state", async () => {
        const before = await valueOf(opened.page, name);
        const input = lesson.inputs[name];
        await control().locator(`button[data-step="${input?.type === "quantity" && before + input.step > input.to ? -1 : 1}"]`).click();
        await agrees(opened.page, lesson, name, before);
      });

      test("set by typing, shows the numbers that the lesson gives for that state, and its link keeps them", async () => {
        const { page } = opened;
        const input = lesson.inputs[name];
        if (input?.type !== "quantity") throw new Error(`${name} is no quantity`);
        const before = await valueOf(page, name);
        const value = input.start + (input.start + 3 * input.step <= input.to ? 3 : -3) * input.step;
        const box = control().locator("input.number");
        await box.fill(show(input.kind, value, "metric", LOCALE, { digits: 4 }).number);
        await box.press("Enter");
        await agrees(page, lesson, name, before);
        const typed = await valueOf(page, name);
        expect(await page.evaluate(() => location.hash)).toContain(name);
        await page.reload();
        await reveal(page);
        await settle(page);
        expect(await valueOf(page, name)).toBe(typed);
      });

      test("falls back in words for a broken link", async () => {
        const { page } = opened;
        const bare = page.url().replace(/#.*$/, "");
        await page.goto("about:blank"); // the page reads a link as it loads
        await page.goto(`${bare}#${name}=%ZZ&nothing=1`);
        await reveal(page);
        const input = lesson.inputs[name];
        expect(await valueOf(page, name)).toBe(input?.type === "quantity" ? input.start : undefined);
        expect(await page.textContent("link-notice")).not.toBe("");
      });

      test("made no error, no foreign request and no sideways scrolling, and breaks no rule of axe-core with its answer open", async () => {
        expect(await overflow(opened.page)).toBeLessThanOrEqual(0);
        expect(opened.errors).toEqual([]);
        expect(opened.requests.filter((url) => !plainRequest(url))).toEqual([]);
        expect(await accessibilityFaults(opened.page)).toEqual([]);
      }, CHECKER_TIME);
    });

    test("on a phone, dark: by touch shows the numbers of that state, without an error, a foreign request or sideways scrolling, and axe-core finds nothing", async () => {
      const lesson = await evaluated(written);
      const { page, errors, requests, close } = await openPage(browser, address, { width: 390, touch: true, colourScheme: "dark" });
      expect(await overflow(page)).toBeLessThanOrEqual(0);
      await reveal(page);
      const name = await draggedOf(page, lesson);
      const before = await valueOf(page, name);
      await dragBy(page, name, true);
      await agrees(page, lesson, name, before);
      expect(await overflow(page)).toBeLessThanOrEqual(0);
      expect(errors).toEqual([]);
      expect(requests.filter((url) => !plainRequest(url))).toEqual([]);
      expect(await accessibilityFaults(page)).toEqual([]);
      await close();
    }, CHECKER_TIME);

    test("reads whole with scripts off: values, drawing, answer and cautions", async () => {
      const { page, errors, close } = await openPage(browser, address, { scripts: false });
      expect(await page.locator("[data-reveal]").first().isVisible()).toBe(true);
      // what is said to each answer belongs to the answer: nothing gives it away above
      expect(await page.locator("[data-reveal] [data-reply]").count()).toBe(await page.locator("[data-reply]").count());
      expect(await page.locator("[data-reply]").count()).toBeGreaterThan(0);
      expect(await page.locator("lesson-scene svg:visible").count()).toBeGreaterThan(0);
      for (const text of await page.locator("quantity-output .value").allTextContents()) expect(text).not.toMatch(/NaN|undefined|…/);
      expect(errors).toEqual([]);
      await close();
    });

    test.runIf(written.prose.bench !== undefined)("has a bench page that opens at bench scale, on a phone, without an error, and axe-core finds nothing", async () => {
      expect(existsSync(join(HOME, `dist/${slug}-bench.html`))).toBe(true);
      const { page, errors, close } = await openPage(browser, `dist/${slug}-bench.html`, { width: 390 });
      await expect.poll(() => page.locator('quantity-output[data-show="range"].waiting').count()).toBe(0);
      expect(await overflow(page)).toBeLessThanOrEqual(0);
      expect(await page.locator("section.worksheet").count()).toBe(1);
      for (const text of await page.locator("quantity-output .value").allTextContents()) expect(text).not.toMatch(/NaN|undefined|…/);
      expect(await accessibilityFaults(page)).toEqual([]);
      expect(errors).toEqual([]);
      await close();
    }, CHECKER_TIME);
  });
};
