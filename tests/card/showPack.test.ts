// A whole show from its scenario file alone: complete, frozen, with its cautions, and left out by name what the scenario lacks.
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { cameraPlan } from "../../build/cameraPlan.ts";
import { crashMasses, madeUpInputs } from "../../build/scenarioInputs.ts";
import { STAGING_CAUTIONS } from "../../build/cautions.ts";
import { readLessons } from "../../build/readLessons.ts";
import { readScenario } from "../../build/scenario.ts";
import { makeShow, packOf, type Show } from "../../build/showPack.ts";
import { readStates } from "../../build/showStates.ts";
import { HOME } from "../../build/site.ts";
import { writeSite } from "../../build/writeSite.ts";
import { codeOf, type KeptCard } from "../../shared/card/card.ts";
import { NOT_FROM_FILE } from "../../shared/card/makeCard.ts";
import { sha256 } from "../../shared/card/sha256.ts";
import { PAGE_RUNS } from "../../shared/study.ts";
import { readCard, verifyCard } from "../../shared/card/verifyCard.ts";
import type { Page } from "playwright-core";
import { addressOf, launch } from "../pages/browser.ts";
import { builtShow, CACHE, SHOWS } from "./shows.ts";
import { readVtt } from "./vtt.ts";

const SLOW = 180_000;
const DATE = "2031-05-17";
/** A4 without its margins of 14 mm, at 96 pixels an inch. */
const NARROWEST_SHEET = Math.floor(((210 - 2 * 14) / 25.4) * 96);
/** Rows that fit a sheet with its code and its head. */
const MOST_HELD_UP = 8;
mkdirSync(join(HOME, ".cache"), { recursive: true });
const work = mkdtempSync(join(HOME, ".cache/show-test-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** What no page of a pack says of anything: words of leave, in any form. "no go" and "is not safe" would be caught too. */
const LEAVE = /\b(safe|safely|safer|approved|approval|compliant|compliance|certified|survivable|GO)\b/;

const lessons = readLessons(join(HOME, "lessons"));
/** With as many runs as a page is built with, so that a study is made once; a show has thousands. */
const make = async (path: string): Promise<Show> => {
  const { site, built } = await builtShow(path);
  return packOf(site, built, { cache: CACHE, date: DATE, by: "the producer", runs: PAGE_RUNS });
};

const MEETING = "meeting-on-the-mark";
/** Cells of the sheet of the day, row by row, without its head: what, found, limit, state, signed. */
const dayRows = (html: string): string[][] =>
  [...html.matchAll(/role="row">([\s\S]*?)(?=<span role="row"|<\/span><\/span><\/span>)/g)].slice(1).map(([, row]) => [...(row as string).matchAll(/role="(?:rowheader|cell)">([^<]*)/g)].map(([, text]) => (text as string).replace(/&#39;/g, "'")));
const cardOf = (show: Show, slug: string): KeptCard["card"] => (readCard(show.files[`${slug}-card.json`] as string) as { kept: KeptCard }).kept.card;

const slugs = lessons.map(({ slug }) => slug);
const needs = (slug: string): readonly string[] => lessons.find((one) => one.slug === slug)?.front.needs ?? [];

describe.each(SHOWS)("packOf(…) of %s", (path) => {
  let show: Show;
  const read = readScenario(join(HOME, path));
  if ("problems" in read) throw new Error("the scenario has problems");
  const { scenario } = read;
  const made = slugs.filter((slug) => needs(slug).every((part) => scenario[part as "site"] !== undefined));
  beforeAll(async () => {
    show = await make(path);
    expect(show.problems).toEqual([]);
  }, SLOW);
  const own = (): string[] => ["index.html", "hand-over.html", "camera-plan.html", "sheet-of-the-day.html", ...Object.keys(show.files).filter((name) => /-(plan|card|cue)\.html$/.test(name))];

  test("has for each lesson its page, frozen card, kept card, cue card and captions", () => {
    expect([...show.lessons].sort()).toEqual([...made].sort());
    for (const slug of made) for (const name of [`${slug}.html`, `${slug}-card.html`, `${slug}-card.json`, `${slug}-cue.html`, `${slug}.vtt`]) expect(Object.keys(show.files), name).toContain(name);
  });

  test("has a plan for each lesson of staging, the camera plan, the hand-over list and an index that names them all", () => {
    const plans = made.filter((slug) => needs(slug).length > 0).map((slug) => `${slug}-plan.html`);
    expect(plans.length).toBeGreaterThan(0);
    for (const name of [...plans, "camera-plan.html", "sheet-of-the-day.html", "hand-over.html"]) {
      expect(Object.keys(show.files), name).toContain(name);
      expect(show.files["index.html"]).toContain(`href="${name}"`);
    }
  });

  test("leaves out by name what the scenario has no part for", () => {
    const without = slugs.filter((slug) => !made.includes(slug));
    expect(show.leftOut).toHaveLength(without.length);
    for (const slug of without) {
      expect(show.leftOut.join("\n")).toContain(slug);
      expect(show.files["index.html"]).toContain(slug);
      expect(Object.keys(show.files).filter((name) => name.startsWith(slug))).toEqual([]);
    }
  });

  test("freezes cards that verify, with the code the index and the list of codes print", () => {
    const list = made.map((slug) => ({ slug, kept: (readCard(show.files[`${slug}-card.json`] as string) as { kept: KeptCard }).kept }));
    for (const { slug, kept } of list) {
      const check = verifyCard(kept, codeOf(kept.hash));
      expect(check, slug).toMatchObject({ unchanged: true, published: true });
      expect(kept.card).toMatchObject({ frozen: DATE, by: "the producer", scenario: scenario.title, lesson: slug });
      expect(kept.card.outputs.length + kept.card.verdicts.length, slug).toBeGreaterThan(0);
      for (const page of [`${slug}-card.html`, "index.html"]) expect(show.files[page]?.replace(/<\/?span>/g, ""), page).toContain(check.code);
      expect(show.files[`${slug}-card.html`]).toContain(kept.hash);
      expect(show.files["codes.txt"]).toContain(`${slug} ${kept.hash}\n`);
      readVtt(show.files[`${slug}.vtt`] as string);
    }
    const lines = (show.files["codes.txt"] as string).split("\n").filter((line) => /^[a-z0-9-]+ [0-9a-f]{64}$/.test(line)).map((line) => `${line}\n`).join("");
    expect(codeOf(sha256(lines))).toBe(show.code);
    expect(show.files["index.html"]).toContain(show.code);
  });

  test("says on every page of its own the show, the version and the day", () => {
    const { version } = JSON.parse(readFileSync(join(HOME, "package.json"), "utf8")) as { version: string };
    for (const name of own()) for (const words of [scenario.title, `ridedown ${version}`, DATE]) expect(show.files[name], `${name}: ${words}`).toContain(words);
    for (const slug of made) expect(show.files[`${slug}.vtt`], slug).toMatch(new RegExp(`^WEBVTT\n\nNOTE\n.*${scenario.title}\\. ridedown ${version}\\. ${DATE}\\.\n`));
  });

  test("marks what a lesson made up on its card, its cue card and the index, and nothing that the file gives", () => {
    const reasons = new Set([...JSON.stringify(scenario).matchAll(/"reason":"((?:[^"\\]|\\.)*)"/g)].map(([, reason]) => JSON.parse(`"${reason}"`) as string));
    let marked = 0;
    for (const slug of made) {
      const { inputs } = cardOf(show, slug);
      for (const { label, reason } of inputs) {
        const [, own] = new RegExp(`^${NOT_FROM_FILE}: (.*)$`).exec(reason) ?? [];
        if (own === undefined) {
          if (reason.startsWith("invented")) expect(reasons, `${slug}: ${label}`).toContain(reason);
          continue;
        }
        marked++;
        expect(reasons, `${slug}: ${label}`).not.toContain(own);
        const there = label.replace(/'/g, "&#39;");
        expect(show.files[`${slug}-cue.html`], slug).toMatch(/class="made-up">Not from the show/);
        for (const page of [`${slug}-cue.html`, "index.html"]) expect(show.files[page], `${slug}: ${label}`).toContain(there);
      }
    }
    expect(marked).toBeGreaterThan(4);
    expect(cardOf(show, MEETING).inputs.filter(({ reason }) => reason.startsWith(NOT_FROM_FILE)).map(({ name }) => name)).toContain("delay");
  });

  test("says what a car alone and too fast needs, against the free track, and holds it up on the first sheet of the card", () => {
    const { outputs } = cardOf(show, MEETING);
    const first = (show.files[`${MEETING}-card.html`] as string).split('<details class="appendix"')[0] as string;
    const { tow, site } = scenario as Required<typeof scenario>;
    const fits = (["a", "b"] as const).map((side) => {
      const name = scenario[side].name;
      const output = outputs.find(({ label }) => label === `run-on and braking of the ${name}, alone and too fast`);
      expect(first).toContain(`un-on and braking of the ${name}, alone and too fast`);
      // worked again without the kernels: all the work of the weight goes into the falling mass and one car
      const other = side === "a" ? "b" : "a";
      const push = (one: "a" | "b"): number => scenario[one].mass.value * tow[one].travel.value ** 2 / tow[one].efficiency.value;
      const drag = (one: "a" | "b"): number => (site.rolling.value * scenario[one].mass.value * tow[one].travel.value) / tow[one].efficiency.value;
      const weight = tow.fallingMass.value;
      const share = Math.sqrt((((weight - drag(side)) / (weight + push(side))) * (weight + push(side) + push(other))) / (weight - drag(side) - drag(other)));
      // as planned, or as the tow itself gives it if that is more
      const alone = tow[side].travel.value * Math.sqrt((2 * site.gravity.value * tow.drop.value * (weight - drag(side))) / (weight + push(side)));
      const v = Math.max(scenario[side].speed.value * share, alone);
      const needed = v * site.braking.delay.value + v ** 2 / (2 * site.braking.deceleration.value);
      // metres, as printed; the middle of seeded runs lies a little off the value of the middle
      expect(Math.abs(Number(output?.likely) / needed - 1), name).toBeLessThan(0.03);
      // judged with every give or take against the car
      const { braking: { delay, deceleration }, runOn } = site;
      const worst = v * (1 + scenario[side].speed.give / scenario[side].speed.value);
      return worst * (delay.value + delay.give) + worst ** 2 / (2 * (deceleration.value - deceleration.give)) <= runOn[side].value - runOn[side].give;
    });
    const cue = show.files[`${MEETING}-cue.html`] as string;
    const said = fits[0] && fits[1] ? "both have as much free track as they may need" : fits[0] ? `the ${scenario.b.name} has less free track than it may need` : fits[1] ? `the ${scenario.a.name} has less free track than it may need` : "neither has as much free track as it may need";
    expect(cue).toContain(said);
    expect(show.files[`${MEETING}.vtt`]?.replace(/\s+/g, " ")).toContain(said);
    expect(first.toLowerCase()).toContain(said.toLowerCase());
  });

  test("hands over one row of mass for each vehicle, and asks where it was weighed and where its centre lies", () => {
    const html = show.files["hand-over.html"] as string;
    const masses = /<section class="handover masses">[\s\S]*?<\/section>/.exec(html)?.[0] ?? "";
    for (const { name, total } of crashMasses(scenario)) expect(masses).toMatch(new RegExp(`<th scope="row">${name}</th>.*<td>${total}</td>`));
    expect(html).toMatch(/weighed as it runs on the day: ballast, fluids, dummies and cameras/);
    expect(html).toMatch(/centre of mass of each vehicle lie/);
  });

  test("has every caution of staging on each plan and on the hand-over list", () => {
    const staging = Object.keys(STAGING_CAUTIONS);
    // C12 is of the bench, in the lessons
    expect(staging).toEqual([...Array.from({ length: 11 }, (_, i) => `C${i + 1}`), "C13"]);
    for (const name of own().filter((one) => /-plan\.html$|hand-over/.test(one) && one !== "camera-plan.html")) {
      const cautions = [...(show.files[name] as string).matchAll(/<section class="caution"[\s\S]*?<\/section>/g)].map(([html]) => html).join("");
      for (const id of staging) expect(cautions, `${name}: ${id}`).toMatch(new RegExp(`\\b${id}\\b`));
    }
  });

  test("hands over every input of the scenario, every limit of its lessons and every question, numbered through, with labelled blanks", () => {
    const html = show.files["hand-over.html"] as string;
    const plain = (text: string): string => text.replace(/<[^>]*>/g, " ").replace(/&#39;/g, "'").replace(/&quot;/g, '"').replace(/\s+/g, " ");
    const part = (name: string): string => new RegExp(`<section class="handover ${name}">[\\s\\S]*?</section>`).exec(html)?.[0] ?? "";
    // as many rows as the scenario has values, by a walk of our own
    const given = (value: unknown): number => (typeof value !== "object" || value === null ? 0 : "give" in value ? 1 : Object.values(value).reduce((sum: number, one) => sum + given(one), 0));
    const rows = [...part("inputs").matchAll(/<tr><th scope="row">([\s\S]*?)<\/tr>/g)].map(([row]) => row);
    const words = rows.filter((row) => /<td>(none|yes|no, apart)<\/td>/.test(row)).length;
    expect(rows.length - words).toBe(given(scenario));
    expect(plain(part("inputs"))).toContain(scenario.a.mass.reason);
    // three columns beside the name, none of them empty
    for (const row of rows) expect([...row.matchAll(/<td>[^<]+<\/td>/g)], row).toHaveLength(3);
    // each list goes on where the one before it ended
    for (const [name, count] of [["questions", 0], ["assumptions", 2 * made.length]] as const) {
      let next = 1;
      for (const [, start, list] of part(name).matchAll(/<ol start="(\d+)">([\s\S]*?)<\/ol>/g)) {
        expect(Number(start), name).toBe(next);
        next += (list as string).split("<li").length - 1;
      }
      expect(next - 1, name).toBeGreaterThan(count);
    }
    for (const slug of made) expect(plain(part("assumptions")), slug).toContain(lessons.find((one) => one.slug === slug)?.front.title.replace(/\s+/g, " "));
    expect([...html.matchAll(/class="blank"/g)].length).toBe([...html.matchAll(/class="to-fill">[A-Z][a-z ]+: <span class="blank">/g)].length);
    expect(html).toMatch(/every line of the hand-over sheet/);
  });

  /** Pages that a printer makes of a page of the pack, by format. */
  const printed = async (page: Page, name: string): Promise<Record<string, number>> => {
    await page.goto(addressOf(join(out(), name)));
    const pages: Record<string, number> = {};
    for (const format of ["A4", "Letter"]) pages[format] = (await page.pdf({ format })).toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
    return pages;
  };
  const out = (): string => join(work, `sheet-${basename(path, ".yaml")}`);

  test("prints the sheet of the day and what each lesson of staging hands over on one page each, A4 or Letter, with a place to sign on each row, and NO-GO while a row is open", async () => {
    const html = show.files["sheet-of-the-day.html"] as string;
    const rows = [...html.matchAll(/role="row">([\s\S]*?)(?=<span role="row"|<\/span><\/span><\/span>)/g)].map(([, row]) => row as string).slice(1);
    expect(rows.length).toBeGreaterThan(10);
    for (const row of rows) expect(row).toMatch(/>_{8,}/);
    // made before the day: nobody has found anything yet; only a plan that does not fit is out already
    for (const [what, found, limit, state] of dayRows(html)) {
      expect([found, limit === ""], what).toEqual(["", false]);
      expect(state, what).toBe(/^(free track of the .*, plan|speed of the .* off plan, tow gives) .*$/.test(what as string) ? "OUT OF LIMIT" : "BLANK");
    }
    expect(dayRows(html)).toHaveLength(rows.length);
    expect(html.replace(/<[^>]*>/g, "")).toMatch(/The sheet says:\s*NO-GO/);
    const handed = made.map((slug) => `${slug}-hand-over.html`).filter((name) => Object.hasOwn(show.files, name));
    expect(handed.length).toBeGreaterThan(1);
    for (const name of handed) expect((show.files[name] as string).replace(/<[^>]*>/g, " "), name).toMatch(/(?=[^]*\bC1\b)[^]*Assumed:[^]*Questions for[^]*Checked by/);
    writeSite(out(), show.files);
    const browser = await launch();
    try {
      const page = await browser.newPage();
      await page.goto(addressOf(join(out(), "sheet-of-the-day.html")));
      // nothing is cut off at the side, the places to sign least of all
      await page.emulateMedia({ media: "print" });
      await page.setViewportSize({ width: NARROWEST_SHEET, height: 1000 });
      expect(await page.evaluate(() => [...document.querySelectorAll(".day *")].filter((part) => part.getBoundingClientRect().right > document.documentElement.clientWidth).map((part) => part.textContent))).toEqual([]);
      await page.emulateMedia({ media: null });
      for (const name of ["sheet-of-the-day.html", ...handed]) expect(await printed(page, name), name).toEqual({ A4: 1, Letter: 1 });
    } finally {
      await browser.close();
    }
  }, SLOW);

  test("prints first what is held up, and every other row once, behind a page break", () => {
    for (const slug of made) {
      const { card } = (readCard(show.files[`${slug}-card.json`] as string) as { kept: KeptCard }).kept;
      const html = show.files[`${slug}-card.html`] as string;
      const cut = html.indexOf('<details class="appendix"');
      const rowsIn = (text: string): number => [...text.matchAll(/<table class="predicted[^"]*">[\s\S]*?<\/table>/g)].reduce((sum, [table]) => sum + table.split('<th scope="row">').length - 1, 0);
      const verdictsIn = (text: string): number => [...text.matchAll(/<ul class="verdicts">[\s\S]*?<\/ul>/g)].reduce((sum, [list]) => sum + list.split("<li>").length - 1, 0);
      const [first, rest] = [html.slice(0, cut), html.slice(cut)];
      expect([rowsIn(first) + rowsIn(rest), verdictsIn(first) + verdictsIn(rest)], slug).toEqual([card.outputs.length, card.verdicts.length]);
      expect(rowsIn(first) + verdictsIn(first), slug).toBeGreaterThan(0);
      expect(rowsIn(first), slug).toBeLessThanOrEqual(MOST_HELD_UP);
      expect(first.match(/Code to publish/), slug).not.toBeNull();
      expect(html, slug).not.toContain('<table class="ranges"');
      if (card.verdicts.length > 0) expect(html, slug).toContain(`, of ${PAGE_RUNS} runs.`);
    }
  });

  test("gives no leave: nothing in it is called safe, approved or compliant, and it never prints GO", () => {
    for (const name of own().concat(made.map((slug) => `${slug}-cue.html`))) {
      const text = (show.files[name] as string).replace(/<[^>]*>/g, " ").replace(/NO-GO/g, "").replace(/&[a-z#0-9]+;/g, " ");
      expect(LEAVE.exec(text)?.[0], name).toBeUndefined();
    }
    expect(LEAVE.test("This is safe.")).toBe(true);
  });

  test("asks for nothing outside its folder, and has no dead link in its own pages", () => {
    const out = join(work, scenario.title.replace(/\W+/g, "-"));
    writeSite(out, show.files);
    const there = readdirSync(out);
    for (const name of own()) for (const [, href] of (show.files[name] as string).matchAll(/(?:href|src)="([^"#]+)[^"]*"/g)) if (href !== "data:,") expect(there, `${name} links to ${href}`).toContain(href);
  });
});

describe("makeShow(…) of a show without tow and cameras", () => {
  test("leaves their pages out by name and makes the rest", async () => {
    const demo = readFileSync(join(HOME, "shared/scenario/demo.yaml"), "utf8");
    const section = (name: string, text: string): string => text.replace(new RegExp(`^${name}:[\\s\\S]*?(?=^[a-z]|(?![\\s\\S]))`, "m"), "");
    const bare = join(work, "bare.yaml");
    writeFileSync(bare, ["tow", "cameras", "markers"].reduce((text, name) => section(name, text), demo));
    // two small lessons, one of which needs the tow
    const folder = join(work, "two");
    mkdirSync(folder);
    const fixture = readFileSync(join(HOME, "tests/build/fixtures/lessons/fixture.md"), "utf8");
    writeFileSync(join(folder, "fixture.md"), fixture);
    writeFileSync(join(folder, "towed.md"), fixture.replace(/^---\n/, "---\nneeds: [tow]\n"));
    const show = await makeShow({ scenario: bare, home: HOME, lessons: folder, cache: join(work, "cache"), date: DATE, by: "", claims: false, runs: PAGE_RUNS });
    expect(show.problems).toEqual([]);
    expect(show.lessons).toEqual(["fixture"]);
    expect(Object.keys(show.files)).not.toContain("camera-plan.html");
    expect(Object.keys(show.files).filter((name) => name.startsWith("towed"))).toEqual([]);
    expect(show.leftOut).toEqual(["towed, its card, its cue card and its plan: the scenario has no tow.", "the camera plan: the scenario has no cameras."]);
    expect(show.files["index.html"]).toContain("Left out");
  }, SLOW);
});

describe("makeShow(…) of the sheet of the day at a state of one's own", () => {
  test("writes in what was measured, and leaves every other row blank", async () => {
    const folder = join(work, "the-day");
    mkdirSync(folder);
    writeFileSync(join(folder, `${MEETING}.md`), readFileSync(join(HOME, `lessons/${MEETING}.md`)));
    const show = await makeShow({ home: HOME, lessons: folder, cache: CACHE, date: DATE, by: "", claims: false, runs: PAGE_RUNS, states: readStates([`${MEETING}.html#asFound=measured&delay=0.01&triggers=2&checkedHours=1`]) });
    expect(show.problems).toEqual([]);
    const rows = dayRows(show.files["sheet-of-the-day.html"] as string);
    expect(rows.filter(([, , , state]) => state === "in limit").map(([what]) => what)).toEqual(["meeting place from the mark", "offset of the fronts", "yaw, the larger", "free track of the Bollard, at least", "independent camera triggers"]);
    for (const [what, found, , state] of rows) expect(found === "", what).toBe(state === "BLANK");
    // 10 ms at 15 and 10 m/s: 0.06 m
    expect(rows[0]?.[1]).toBe("0.06\u00a0m");
    expect(cardOf(show, MEETING).inputs.find(({ name }) => name === "delay")?.reason).not.toContain(NOT_FROM_FILE);
  }, SLOW);
});

describe("makeShow(…) at states of one's own", () => {
  const folder = join(work, "at-states");
  const fixture = readFileSync(join(HOME, "tests/build/fixtures/lessons/fixture.md"), "utf8");
  mkdirSync(folder);
  writeFileSync(join(folder, "fixture.md"), fixture);
  const make = (...typed: string[]): Promise<Show> => makeShow({ home: HOME, lessons: folder, cache: join(work, "cache"), date: DATE, by: "", claims: false, runs: PAGE_RUNS, states: readStates(typed) });
  const LINK = "https://example.org/pages/fixture.html#massA=1200";
  const cardOf = (show: Show) => (readCard(show.files["fixture-card.json"] as string) as { kept: KeptCard }).kept;

  test("freezes the state of a share link, and every page of the pack leads to it", async () => {
    const [show, start] = [await make(LINK), await make()];
    const inputOf = (kept: KeptCard): string | undefined => kept.card.inputs.find(({ name }) => name === "massA")?.value;
    expect([inputOf(cardOf(start)), inputOf(cardOf(show))]).toEqual(["900\u00a0kg", "1200\u00a0kg"]);
    expect(verifyCard(cardOf(show), codeOf(cardOf(show).hash))).toMatchObject({ unchanged: true, published: true });
    expect(verifyCard(cardOf(show), codeOf(cardOf(start).hash))).toMatchObject({ published: false });
    expect(show.code).not.toBe(start.code);
    expect(show.files["index.html"]).toContain('href="fixture.html#massA=1200"');
    expect(show.files["index.html"]).toContain("1200\u00a0kg");
    expect(show.files["fixture-card.html"]).toContain('data-state="#massA=1200"');
    // the start card is that of a show without states
    expect(start.files["fixture-card.html"]).not.toContain("data-state");
  }, SLOW);

  test("gives the same bytes again", async () => {
    const [show, again] = [await make(LINK), await make(LINK)];
    expect(again.files).toEqual(show.files);
  }, SLOW);

  test.each([
    ["no lesson", "#massA=900", /^--state must be the link of a lesson's page such as .*, got #massA=900$/],
    ["no state", "fixture.html#answer", /^--state must be the link of a lesson's page/],
    ["a lesson that is not there", "fixtur.html#massA=900", /^--state: the show has no lesson fixtur; the nearest is fixture$/],
    ["an input that is not there", "fixture.html#masA=900", /^--state: fixture: .*masA.*no input/],
    ["a value out of range", "fixture.html#massA=9e9", /^--state: fixture: .*massA|^--state: fixture: /],
    ["a scale", "fixture.html#page.scale=bench", /^--state: fixture: a show has its own vehicles, not those of scale bench$/],
  ])("refuses a link with %s", async (_, link, message) => {
    await expect((async () => make(link))()).rejects.toThrow(message);
  }, SLOW);

  test("refuses two states of one lesson", () => {
    expect(() => readStates([LINK, "fixture-card.html#massA=900"])).toThrow("--state: fixture has two; a pack shows each lesson at one");
  });
});

describe("cameraPlan(scenario)", () => {
  test("reproduces frame spacing and frames in the pulse worked by hand", () => {
    const read = readScenario(join(HOME, "shared/scenario/demo.yaml"));
    if ("problems" in read) throw new Error("the scenario has problems");
    const html = cameraPlan(read.scenario) as string;
    // 15 m/s at 1000 and 240 frames a second: 15 mm and 62.5 mm; 67 ms at them: 67 and 16 whole frames
    for (const cell of ["15\u00a0mm", "62.5\u00a0mm", ">67<", ">16<"]) expect(html).toContain(cell);
    // 25.6 mm sensor, 35 mm lens, 14 m away: 25.6 / 35 * 14 = 10.24 m
    expect(html).toContain("10.2\u00a0m");
    // 14 m away, 0.1 ms; 2 m at 10.24 m / 1920 px, from 13.1 m in place of 14 m: 401 px, and 0.9 / 14 = 6.43 % short
    for (const cell of ["<td>14\u00a0m \u00b1 0.1\u00a0m</td>", "<td>0.1\u00a0ms</td>", "401\u00a0px; 6.43\u00a0% too short"]) expect(html).toContain(cell);
    // 3 m at 15 m/s and 67.3 ms: 268 pictures of 1920 * 1080 * 1.5 bytes
    expect(html).toContain("<td>0.834\u00a0GB of 32\u00a0GB</td>");
    expect(html).not.toContain("TOO LITTLE");
    const [first, ...others] = read.scenario.cameras ?? [];
    if (first === undefined) throw new Error("the scenario has no camera");
    expect(cameraPlan({ ...read.scenario, cameras: [{ ...first, memory: { ...first.memory, value: 0.8e9 } }, ...others] })).toContain("of 0.8\u00a0GB: TOO LITTLE");
  });
});

describe("crashMasses(scenario)", () => {
  test("adds those counted apart, with the give or take of all, as worked by hand", () => {
    const read = readScenario(join(HOME, "shared/scenario/cresswold.yaml"));
    if ("problems" in read) throw new Error("the scenario has problems");
    // 2300 kg, and a dummy of 70 lb = 31.7515 kg and 4 kg; give 30 kg, 4 lb = 1.81437 kg and 0.1 kg: hypot = 30.055
    const [one, two] = crashMasses(read.scenario);
    expect(one).toEqual({ name: "Mangle", weighed: "2300\u00a0kg", apart: "35.75\u00a0kg", total: "2336\u00a0kg", give: "30.1\u00a0kg" });
    expect(two).toMatchObject({ apart: "none", total: "1040\u00a0kg", give: "12\u00a0kg" });
  });
});

describe("madeUpInputs(lesson, scenario)", () => {
  const quantity = (reason: string) => ({ type: "quantity", reason });
  const lesson = { inputs: { fromFile: quantity("invented; weighed"), own: quantity("invented; two hooks"), asked: quantity("a quarter, to ask the question with"), limit: quantity("published"), chosen: { type: "choice" } } } as unknown as Parameters<typeof madeUpInputs>[0];
  test("goes by reasons that the file does not have", () => {
    const file = { a: { mass: { value: 1, give: 0, reason: "invented; weighed" } } } as unknown as Parameters<typeof madeUpInputs>[1];
    expect(madeUpInputs(lesson, file)).toEqual(["own", "asked"]);
    expect(madeUpInputs(lesson, undefined)).toEqual(["fromFile", "own", "asked"]);
  });
});
