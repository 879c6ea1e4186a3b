// Headlines with their ranges as pictures: of every lesson of both shows the same numbers as on its card, to scale, and words that can be read on air.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { cachedStudy, headlinesOf } from "../../build/headlines.ts";
import { HOME } from "../../build/home.ts";
import { lessonAt } from "../../build/oneLesson.ts";
import { painterFor } from "../../build/picture.ts";
import { sheetsAt } from "../../build/showStates.ts";
import { makeStills } from "../../build/stills.ts";
import { type Card, linesOf } from "../../shared/card/card.ts";
import { makeCard } from "../../shared/card/makeCard.ts";
import type { Node } from "../../shared/drawing.ts";
import { cautionFor } from "../../shared/export/caution.ts";
import { GROUNDS, inkOf, type Words, writePlate } from "../../shared/export/plate.ts";
import { type RangePlate, rangePlate } from "../../shared/export/rangePlate.ts";
import { CAP } from "../../shared/export/type/outline.ts";
import { firstOf, partCard } from "../../shared/render/card.ts";
import { builtShow } from "../card/shows.ts";
import { SCENARIOS } from "./lessonsAt.ts";

const cache = join(HOME, ".cache");
const SLOW = 180_000;
/** Positions are written to a tenth of a pixel: two of them, and the length that they are shares of. */
const PIXELS = 0.2;
const DAY = "2031-05-17";

// EBU R 95, as quoted by others: the centre 90 % of 1920 x 1080. 24 of 576 lines for a capital: an accessibility checklist, as quoted by others.
const SAFE = { left: 96, top: 54, right: 1824, bottom: 1026 };
const LEAST_CAP = 45;
const EDGE = 0.5;

const paint = painterFor("light");

/** Plates of a card until nothing is left. */
const pagesOf = (card: Card, caution?: string): RangePlate[] => {
  const pages: RangePlate[] = [];
  for (let left = card; left.outputs.length + left.verdicts.length > 0; ) {
    const page = rangePlate({ card: left, caution }, paint);
    pages.push(page);
    left = { ...left, outputs: left.outputs.filter(({ name }) => page.leftOut.includes(name)), verdicts: left.verdicts.filter(({ name }) => page.leftOut.includes(name)) };
    if (pages.length > 9) throw new Error("a plate that leaves everything out");
  }
  return pages;
};

/** No-break spaces are spaces to a reader. */
const read = (text: string): string => text.replace(/\s+/gu, " ");

/** Numbers of a plate, row by row: what stands on one baseline at the right. */
const numbersOn = ({ words }: RangePlate): string[][] => {
  const rows = new Map<number, Words[]>();
  for (const line of words) if (line.role === "value" && line.anchor === "end") rows.set(line.y, [...(rows.get(line.y) ?? []), line]);
  return [...rows.values()].map((row) => row.sort((p, q) => p.x - q.x).map(({ words: text }) => text));
};

interface Marks {
  readonly zero: number;
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

const nodesOf = (nodes: readonly (Node | string)[]): Node[] => nodes.flatMap((each) => (typeof each === "string" ? [] : [each, ...nodesOf(each.children)]));

/** Marks of the strips of a plate, in pixels: a line, a tick at nought, a bar, an upright. */
const stripsOn = ({ art }: RangePlate): Marks[] => {
  const nodes = nodesOf(art).filter(({ tag }) => tag === "line" || tag === "rect");
  return Array.from({ length: nodes.length / 4 }, (_, i) => {
    const [, zero, bar, upright] = nodes.slice(4 * i, 4 * i + 4).map(({ attributes }) => (name: string) => Number(attributes[name]));
    if (!zero || !bar || !upright) throw new Error("a strip without its marks");
    return { zero: zero("x1"), low: bar("x"), high: bar("x") + bar("width"), likely: upright("x") + upright("width") / 2 };
  });
};

const value = (text: string): number => Number(text.replace("\u2212", "-").replace(/\s/gu, ""));

const cardWith = (some: Partial<Card> = {}): Card => ({
  lesson: "a", title: "A", question: "Which of the two?", scenario: "S", version: "0.1.0", frozen: DAY, by: "", study: "5000 runs, 3 inputs drawn at once.", inputs: [],
  outputs: [{ name: "push", label: "largest push", unit: "kN", low: "325", likely: "347", high: "375" }],
  verdicts: [{ name: "harder", label: "which pushes harder", answers: [{ answer: "neither", share: "in 97 of 100" }, { answer: "the heavier", share: "in 3 of 100" }] }],
  ...some,
});

describe.each(SCENARIOS)("ranges of every lesson of %s", (scenario) => {
  const cards: { slug: string; card: Card; caution: string | undefined; pages: readonly RangePlate[] }[] = [];
  beforeAll(async () => {
    const { site } = await builtShow(scenario);
    for (const { written, view, code, facts } of sheetsAt(site.sheets(), {}, cache)) {
      const outputs = headlinesOf(written, view.lesson);
      const study = cachedStudy({ lesson: view.lesson, inputs: view.state.inputs, outputs }, cache, written.slug, code);
      const whole = makeCard(view, study, { question: written.front.question, scenario: facts.scenarioTitle, version: facts.version, frozen: DAY, by: "", outputs });
      const card = { ...whole, ...partCard(whole, firstOf(view, outputs)).first };
      const caution = cautionFor(written.front.needs);
      cards.push({ slug: written.slug, card, caution, pages: pagesOf(card, caution) });
    }
  }, SLOW);

  test("print each number of the card's first sheet once, as the card has it", () => {
    expect(cards.length).toBeGreaterThan(10);
    for (const { slug, card, pages } of cards) {
      const lines = linesOf(card);
      const printed = card.outputs.map(({ name }) => ["low", "likely", "high"].map((key) => lines.find(({ path }) => path === `outputs.${name}.${key}`)?.text));
      expect([slug, ...pages.flatMap(numbersOn).map((row) => row.map((text) => read(text).replace("\u2212", "-")))]).toEqual([slug, ...printed]);
      for (const page of pages) expect([slug, page.title]).toEqual([slug, card.question]);
    }
  });

  test("say each verdict with the shares that the card prints", () => {
    for (const { slug, card, pages } of cards) {
      const said = read(pages.flatMap(({ words }) => words.filter(({ role, anchor }) => role === "value" && anchor === "start").map(({ words: text }) => text)).join(" ")).toLowerCase();
      for (const { label, answers } of card.verdicts) for (const text of [label, ...answers.map(({ answer, share }) => `${answer} (${share})`)]) expect([slug, said.includes(read(text).toLowerCase()), text]).toEqual([slug, true, text]);
    }
  });

  test("name every output in words beside its numbers, and in what is read out", () => {
    for (const { slug, card, pages } of cards) {
      const named = read(pages.flatMap(({ words }) => words.filter(({ role }) => role === "axis").map(({ words: text }) => text)).join(" ")).toLowerCase();
      const says = read(pages.map((page) => page.says).join(" ")).toLowerCase();
      for (const { label, low, high } of card.outputs) {
        expect([slug, named.includes(read(label).toLowerCase()), label]).toEqual([slug, true, label]);
        expect([slug, says.includes(`${read(label).toLowerCase()}: low ${read(low)}, `), says.includes(`high ${read(high)}`)]).toEqual([slug, true, true]);
      }
    }
  });

  test("draw low, likely and high to one scale for each unit, with nought on it", () => {
    for (const { slug, card, pages } of cards) {
      const drawn = pages.flatMap((page) => {
        const rows = numbersOn(page);
        const strips = stripsOn(page);
        expect([slug, strips.length]).toEqual([slug, rows.length]);
        const shown = rows.map((row, i) => ({ values: row.map(value) as [number, number, number], marks: strips[i] as Marks, unit: card.outputs.filter(({ name }) => !page.leftOut.includes(name)).find(({ low, likely, high }) => [low, likely, high].join() === row.join())?.unit }));
        return shown.map((one) => ({ ...one, others: shown.filter(({ unit }) => unit === one.unit) }));
      });
      for (const { values: [low, likely, high], marks, others } of drawn) {
        expect([slug, low <= likely && likely <= high]).toEqual([slug, true]);
        expect(marks.low - marks.likely).toBeLessThanOrEqual(PIXELS);
        expect(marks.likely - marks.high).toBeLessThanOrEqual(PIXELS);
        // Pixels for one of the unit, by the farthest of all marks of that unit on the plate.
        const far = others.flatMap(({ values, marks: m }) => [[values[0], m.low - m.zero], [values[2], m.high - m.zero]] as const).reduce((p, q) => (Math.abs(q[1]) > Math.abs(p[1]) ? q : p));
        if (far[0] === 0) continue;
        for (const [number, at] of [[low, marks.low], [likely, marks.likely], [high, marks.high]] as const) expect([slug, number, Math.abs(at - marks.zero - (number * far[1]) / far[0]) <= 2 * PIXELS]).toEqual([slug, number, true]);
      }
    }
  });

  test("keep all words inside the graphics-safe area, tall enough and off each other", () => {
    const faults = cards.flatMap(({ slug, pages }) =>
      pages.flatMap(({ words }) => {
        const lines = words.filter(({ words: text }) => text.trim() !== "");
        const inks = lines.map(inkOf);
        return lines.flatMap((line, i) => {
          const ink = inks[i] as (typeof inks)[number];
          const outside = ink.left < SAFE.left - EDGE || ink.top < SAFE.top - EDGE || ink.right > SAFE.right + EDGE || ink.bottom > SAFE.bottom + EDGE;
          const over = inks.slice(i + 1).some((other) => ink.left < other.right && other.left < ink.right && ink.top < other.bottom && other.top < ink.bottom);
          return [...(outside ? [`${slug}: ${line.words} outside`] : []), ...(line.size * CAP < LEAST_CAP ? [`${slug}: ${line.words} too small`] : []), ...(over ? [`${slug}: ${line.words} on other words`] : [])];
        });
      }),
    );
    expect(faults).toEqual([]);
  });

  test("end with runs, version and day, and where it is of staging with the caution", () => {
    for (const { slug, caution, pages } of cards)
      for (const { words, says } of pages) {
        const all = read(words.map(({ words: text }) => text).join(" "));
        expect([slug, /of 400 runs(?:, \d+ without a result)?; inputs.*on the prediction card; ridedown \d+\.\d+\.\d+\S*, 2031-05-17/.test(all)]).toEqual([slug, true]);
        expect([slug, caution === undefined || (all.endsWith(caution) && says.endsWith(caution))]).toEqual([slug, true]);
      }
    expect(cards.some(({ caution }) => caution !== undefined)).toBe(true);
  });
});

describe("rangePlate(…)", () => {
  const textOf = (plate: RangePlate): string => read(plate.words.map(({ words }) => words).join(" "));

  test("takes the title in place of the question", () => {
    expect(rangePlate({ card: cardWith(), title: "Neither" }, paint).words[0]?.words).toBe("Neither");
  });

  test("calls what is not frozen a draft, and says how many runs gave no result", () => {
    const text = textOf(rangePlate({ card: cardWith({ frozen: "", study: "5000 runs, 3 inputs drawn at once. 1\u202f234 of the runs gave no result (too fast) and are not in the ranges." }) }, paint));
    expect(text).toContain("ridedown 0.1.0, a draft, not frozen");
    expect(text).toContain("of 5000 runs, 1 234 without a result;");
    expect(text).not.toContain(DAY);
  });

  test("says a tie where the runs cannot tell two answers apart, and only there", () => {
    const verdicts = (one: number): Card["verdicts"] => [{ name: "v", label: "which", answers: [{ answer: "this", share: `in ${one} of 100` }, { answer: "that", share: `in ${100 - one} of 100` }] }];
    const card = (one: number): Card => cardWith({ study: "100 runs, x.", verdicts: verdicts(one) });
    // Of 100 runs the two counts differ by less than two standard deviations, 20, of their difference.
    expect(textOf(rangePlate({ card: card(55) }, paint))).toContain("a tie, as far as 100 runs can tell: this (in 55 of 100)");
    expect(textOf(rangePlate({ card: card(70) }, paint))).not.toContain("a tie");
  });

  test("draws no strip for a dash, and puts negative numbers on the other side of nought", () => {
    const row = (name: string, low: string, likely: string, high: string): Card["outputs"][number] => ({ name, label: name, unit: "kN", low, likely, high });
    expect(stripsOn(rangePlate({ card: cardWith({ outputs: [row("none", "\u2014", "\u2014", "\u2014"), row("some", "1", "2", "4")] }) }, paint))).toHaveLength(1);
    const [marks] = stripsOn(rangePlate({ card: cardWith({ outputs: [row("both", "\u22123", "0", "1")] }) }, paint)) as [Marks];
    expect(marks.zero - marks.low).toBeCloseTo(3 * (marks.high - marks.zero), 0);
    expect(marks.likely).toBeCloseTo(marks.zero, 0);
  });

  test("does not part what is said of the two bodies", () => {
    const label = "a quantity of the body with so long a name that it takes two lines";
    const row = (name: string): Card["outputs"][number] => ({ name, label: `${label} ${name}`, unit: "km/h", low: "1", likely: "2", high: "3" });
    const pages = pagesOf(cardWith({ outputs: ["speedA", "speedB", "changeA", "changeB"].map(row) }));
    expect(pages.length).toBeGreaterThan(1);
    for (const { words } of pages) {
      const text = read(words.map(({ words: each }) => each).join(" "));
      for (const stem of ["speed", "change"]) expect(text.includes(`${stem}A`)).toBe(text.includes(`${stem}B`));
    }
  });

  test("refuses a card with nothing on it, and a row that no plate has room for", () => {
    expect(() => rangePlate({ card: cardWith({ outputs: [], verdicts: [] }) }, paint)).toThrow("plate: the card has nothing to hold up");
    expect(() => pagesOf(cardWith({ verdicts: [{ name: "v", label: "far too long ".repeat(60), answers: [{ answer: "so", share: "in 100 of 100" }] }] }))).toThrow(/^plate: there is no room under the title for/);
  });

  test.each(GROUNDS)("is written on ground %s", (ground) => {
    const painter = painterFor(ground);
    const svg = writePlate(rangePlate({ card: cardWith() }, painter), painter, ground, "hd");
    expect(svg.includes(`width="1920" height="1080" fill="${painter.colours["--paper"]}"`)).toBe(!ground.startsWith("none"));
    expect(svg).toContain(`fill="${painter.colours["--ink"]}"`);
  });
});

describe("makeStills(…) of a whole lesson", () => {
  const work = mkdtempSync(join(tmpdir(), "ridedown-stills-"));
  afterAll(() => rmSync(work, { recursive: true, force: true }));
  const made = async (slug: string, name: string, card?: Card) => {
    const out = join(work, name);
    const at = await lessonAt({ slug, cache });
    const { stills, list } = await makeStills({ at, size: "hd", ground: "light", out, allowOutside: true, ...(card !== undefined && { card }) });
    return { stills, out, head: JSON.parse(readFileSync(list, "utf8")) as { made: string; day?: string } };
  };

  test("shows the instant of the largest push, each picture once", { timeout: SLOW }, async () => {
    const { stills } = await made("a-push-has-two-ends", "push");
    const instants = [...new Set(stills.flatMap(({ shows }) => (shows["scene"] === "meters" ? [shows["at"] as number] : [])))];
    expect(instants).toHaveLength(3);
    const [, middle] = instants as [number, number, number];
    const { says } = stills.find(({ shows }) => shows["at"] === middle) as { says: string };
    // The needles stand near the largest push of the lesson, which its own number gives.
    const { state } = await lessonAt({ slug: "a-push-has-two-ends", cache });
    const largest = (state.outputs["pushOnA"] as number) / 1000;
    const pushes = [...says.matchAll(/([\d.]+)\s*kN(?!\u00b7)/gu)].map(([, text]) => Number(text));
    expect(pushes.length).toBeGreaterThan(0);
    // 99 % of it is as good, and one digit is rounded.
    for (const push of pushes) expect(push).toBeGreaterThan(0.985 * largest);
    const seen = stills.map(({ files, shows }) => `${String(shows["scene"])} ${files.png.sha256}`);
    expect(new Set(seen).size).toBe(seen.length);
  });

  test("leaves out, by name, a picture whose words leave the safe area, and draws the others", { timeout: SLOW }, async () => {
    const scenario = join(work, "long-names.yaml");
    writeFileSync(scenario, readFileSync(join(HOME, SCENARIOS[0]), "utf8").replaceAll("name: Bollard", "name: Old Bollard of the Hollow Lane"));
    const at = await lessonAt({ slug: "two-ledgers", cache, scenario });
    const out = join(work, "long-names");
    await expect(makeStills({ at, size: "hd", ground: "light", out })).rejects.toThrow("graphics-safe");
    const { stills, warnings } = await makeStills({ at, size: "hd", ground: "light", out, leaveOut: true });
    const left = warnings.filter((words) => words.endsWith("; not drawn"));
    expect(left.length).toBeGreaterThan(0);
    expect(stills.length).toBeGreaterThan(0);
    for (const { checks } of stills) expect(checks.outside).toEqual([]);
    for (const { files } of stills) expect(left.some((words) => files.png.name.includes(`two-ledgers-${words.split(":")[0]}-hd`))).toBe(false);
  });

  test("writes the day into the list of a card's stills, and the same bytes at the same path whatever the day of the others", { timeout: SLOW }, async () => {
    const slug = "two-ledgers";
    const bare = await made(slug, "bare");
    const one = await made(slug, "one", cardWith());
    const other = await made(slug, "other", cardWith({ frozen: "2031-05-18" }));
    expect([bare.head.day, one.head.day, other.head.day]).toEqual([undefined, DAY, "2031-05-18"]);
    const pictures = (folder: string): string[] => readdirSync(folder).filter((name) => /\.(?:svg|png)$/.test(name));
    const common = pictures(one.out).filter((name) => pictures(other.out).includes(name));
    expect(common).toEqual(pictures(bare.out));
    for (const name of common) expect(readFileSync(join(one.out, name)).equals(readFileSync(join(other.out, name)))).toBe(true);
    // Ranges carry the day in their name.
    expect(pictures(one.out).filter((name) => !common.includes(name)).every((name) => name.includes(`ranges-${DAY}`))).toBe(true);
    expect(pictures(one.out).length).toBe(common.length + 2);
  });
});
