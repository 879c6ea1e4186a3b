/** A real browser for the page tests: where to find one, and how to open a built page in it. */
import { accessSync, constants } from "node:fs";
import { createRequire } from "node:module";
import { homedir } from "node:os";
import { delimiter, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium, type Browser, type BrowserContextOptions, type Page } from "playwright-core";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));

const NAMES = ["chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "headless_shell"];
const PLACES: Readonly<Record<string, readonly string[]>> = {
  darwin: ["/Applications/Google Chrome.app/Contents/MacOS/Google Chrome", "/Applications/Chromium.app/Contents/MacOS/Chromium"].flatMap((p) => [p, join(homedir(), p)]),
  win32: ["ProgramFiles", "ProgramFiles(x86)", "LocalAppData"].flatMap((name) => (process.env[name] ? [join(process.env[name], "Google/Chrome/Application/chrome.exe")] : [])),
};

const runs = (path: string): boolean => {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
};

/** Path of a browser on this machine: CHROMIUM_PATH first, then PATH, then the usual places, then one that playwright-core has fetched. */
export const findBrowser = (): string | undefined => {
  const named = process.env["CHROMIUM_PATH"];
  if (named) {
    if (!runs(named)) throw new Error(`CHROMIUM_PATH names ${named}, which cannot be run. Correct it, or unset it to have a browser searched for.`);
    return named;
  }
  const onPath = NAMES.flatMap((name) => (process.env["PATH"] ?? "").split(delimiter).map((folder) => join(folder, name)));
  return [...onPath, ...(PLACES[process.platform] ?? []), chromium.executablePath()].find((path) => path !== "" && runs(path));
};

/** No sandbox, since a build machine often runs as root; the rest keeps the browser from speaking to anyone. */
const FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];

/** Launches a headless browser. Close it in `afterAll`. */
export const launch = (): Promise<Browser> => {
  const executablePath = findBrowser(); // none: playwright-core looks for its own headless shell and words the error
  return chromium.launch({ headless: true, args: FLAGS, ...(executablePath ? { executablePath } : {}) });
};

export interface OpenOptions {
  readonly width?: number;
  readonly height?: number;
  readonly colourScheme?: "light" | "dark";
  /** Scripts on. Default true. */
  readonly scripts?: boolean;
  readonly reducedMotion?: boolean;
  readonly touch?: boolean;
  readonly locale?: string;
  readonly print?: boolean;
  /** Appended to the address: `#massA=900` or `?massA=900`. */
  readonly state?: string;
  /** Any other option of a browser context. */
  readonly context?: BrowserContextOptions;
}

export interface OpenedPage {
  readonly page: Page;
  /** Uncaught errors, console errors and refusals by the content policy, as they happen. */
  readonly errors: readonly string[];
  /** Every address that the page asked for. */
  readonly requests: readonly string[];
  close(): Promise<void>;
}

/** Address of a target: a URL as it is, else a path from the project's root. */
export const addressOf = (target: string): string => (/^(?:https?|file|about|data):/.test(target) ? target : pathToFileURL(resolve(ROOT, target)).href);

/** Opens a built page (a path from the root such as "dist/index.html", or a URL) in a fresh context. */
export const openPage = async (browser: Browser, target: string, options: OpenOptions = {}): Promise<OpenedPage> => {
  const context = await browser.newContext({
    viewport: { width: options.width ?? 1024, height: options.height ?? 800 },
    colorScheme: options.colourScheme ?? "light",
    javaScriptEnabled: options.scripts ?? true,
    reducedMotion: options.reducedMotion ? "reduce" : "no-preference",
    hasTouch: options.touch ?? false,
    locale: options.locale ?? "en-GB",
    ...options.context,
  });
  try {
    const page = await context.newPage();
    if (options.print) await page.emulateMedia({ media: "print" });
    const errors: string[] = [];
    const requests: string[] = [];
    page.on("pageerror", (error) => errors.push(error.stack ?? error.message));
    page.on("console", (message) => {
      if (message.type() === "error") errors.push(message.text());
    });
    page.on("request", (request) => requests.push(request.url()));
    await page.goto(addressOf(target) + (options.state ?? ""), { waitUntil: "load" });
    return { page, errors, requests, close: () => context.close() };
  } catch (error) {
    await context.close();
    throw error;
  }
};

/** Accessibility rules that a page breaks, by the checker axe-core: one readable line each. */
export const accessibilityFaults = async (page: Page): Promise<string[]> => {
  const { source } = createRequire(import.meta.url)("axe-core") as { source: string };
  await page.evaluate(source); // by the debugging protocol, so the page's content policy stays in force
  const found = (await page.evaluate("axe.run(document, { resultTypes: ['violations'], preload: false })")) as { violations: { id: string; help: string; nodes: { target: unknown[]; failureSummary?: string }[] }[] };
  return found.violations.flatMap(({ id, help, nodes }) => nodes.map((node) => `${id}: ${help} at ${node.target.join(" ")}${node.failureSummary ? ` (${node.failureSummary.replace(/\s+/g, " ")})` : ""}`));
};
