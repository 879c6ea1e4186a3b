/**
 * How quick the pages are: building them, and dragging in them with the processor slowed to a quarter. A report, never a test.
 */
import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { CDPSession, Page } from "playwright-core";
import { HOME, Site } from "../../build/site.ts";
import { writeSite } from "../../build/writeSite.ts";
import { launch, openPage } from "../pages/browser.ts";

const ROUNDS = 5;
const SLOWED = 4;
const MOVES = 60;

const median = (values: readonly number[]): number => [...values].sort((p, q) => p - q)[Math.floor(values.length / 2)] as number;
const milliseconds = async (work: () => Promise<unknown>): Promise<number> => {
  const begun = performance.now();
  await work();
  return performance.now() - begun;
};
const row = (name: string, values: readonly number[], aim: string): void => console.log(`${name.padEnd(58)}${Math.min(...values).toFixed(1).padStart(9)}${median(values).toFixed(1).padStart(9)}  ${aim}`);

const buildTimes = async (folder: string): Promise<void> => {
  const lessons = join(folder, "lessons");
  mkdirSync(lessons);
  for (const name of readdirSync(join(HOME, "lessons"))) copyFileSync(join(HOME, "lessons", name), join(lessons, name));
  const count = readdirSync(lessons).length;
  const whole: number[] = [];
  for (let i = 0; i < ROUNDS; i++) whole.push(await milliseconds(() => new Site({ lessons, cache: join(folder, "cache") }).build({ claims: false })));
  row(`the whole site, ${count} lessons, claims apart (ms)`, whole, "aim 2000");
  const site = new Site({ lessons, cache: join(folder, "cache") });
  await site.build({ claims: false });
  const prose: number[] = [];
  const code: number[] = [];
  for (const name of readdirSync(lessons)) {
    const path = join(lessons, name);
    const source = readFileSync(path, "utf8");
    writeFileSync(path, source.replace("\n## ", "\n\n## "));
    prose.push(await milliseconds(() => site.build({ claims: false })));
    writeFileSync(path, source.replace("```ts\n", "```ts\n// changed\n"));
    code.push(await milliseconds(() => site.build({ claims: false })));
    writeFileSync(path, source);
    await site.build({ claims: false });
  }
  row("one lesson again after a change of its prose (ms)", prose, "aim 200");
  row("one lesson again after a change of its code (ms)", code, "aim 200");
};

/** Lengths of the tasks of the page's main thread, in milliseconds, while `work` goes on. */
const tasks = async (client: CDPSession, work: () => Promise<void>): Promise<number[]> => {
  const events: { name: string; ph: string; dur?: number; tid: number; pid: number; args?: { name?: string } }[] = [];
  const collect = ({ value }: { value: unknown[] }): void => void events.push(...(value as typeof events));
  client.on("Tracing.dataCollected", collect);
  await client.send("Tracing.start", { transferMode: "ReportEvents", traceConfig: { includedCategories: ["toplevel", "disabled-by-default-devtools.timeline", "__metadata"] } });
  await work();
  const complete = new Promise<void>((resolve) => client.once("Tracing.tracingComplete", () => resolve()));
  await client.send("Tracing.end");
  await complete;
  client.off("Tracing.dataCollected", collect);
  const main = events.filter((e) => e.name === "thread_name" && e.args?.name === "CrRendererMain");
  const on = (e: { tid: number; pid: number }): boolean => main.some(({ tid, pid }) => tid === e.tid && pid === e.pid);
  return events.filter((e) => e.name === "RunTask" && e.ph === "X" && on(e)).map((e) => (e.dur ?? 0) / 1000);
};

const drag = async (page: Page, client: CDPSession): Promise<{ moving: number[]; released: number[] }> => {
  const handle = page.locator("lesson-scene .handle:not([hidden])").first();
  await handle.scrollIntoViewIfNeeded();
  const box = await handle.boundingBox();
  if (box === null) throw new Error("the scene has no handle to drag");
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  const moving = await tasks(client, async () => {
    for (let i = 0; i < MOVES; i++) await page.mouse.move(x + 20 * Math.sin(i / 6), y);
  });
  const released = await tasks(client, async () => {
    await page.mouse.up();
    await page.waitForTimeout(600);
  });
  return { moving, released };
};

const folder = mkdtempSync(join(tmpdir(), "page-bench-"));
try {
  console.log(`${"pages".padEnd(58)}${"minimum".padStart(9)}${"median".padStart(9)}`);
  await buildTimes(folder);
  const site = await new Site({ cache: join(folder, "cache") }).build({ claims: false });
  const out = join(folder, "dist");
  writeSite(out, site.files);
  const browser = await launch();
  console.log(`\ndragging, processor slowed ${SLOWED} times: longest task (ms), share of tasks over 16 ms; longest after letting go`);
  for (const slug of site.lessons) {
    const { page, close } = await openPage(browser, join(out, `${slug}.html`), { width: 1280, height: 1600 });
    for (const button of await page.$$('predict-gate [data-do="show"]')) await button.click();
    await page.waitForTimeout(500);
    const client = await page.context().newCDPSession(page);
    await client.send("Emulation.setCPUThrottlingRate", { rate: SLOWED });
    const runs = [];
    for (let i = 0; i < 3; i++) runs.push(await drag(page, client));
    // the first drag compiles the code; a reader's second is what a page is like
    const last = runs.at(-1) as { moving: number[]; released: number[] };
    const over = last.moving.filter((t) => t > 16).length;
    console.log(`${slug.padEnd(48)}${Math.max(0, ...last.moving).toFixed(1).padStart(9)}${`${over} of ${last.moving.filter((t) => t > 1).length}`.padStart(12)}${Math.max(0, ...last.released).toFixed(1).padStart(9)}  aim 16, none, 50`);
    await close();
  }
  await browser.close();
} finally {
  rmSync(folder, { recursive: true, force: true });
}
