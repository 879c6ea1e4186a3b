// The page "How we know", drawn from the rows and curves of this very code: what it must say, and in which order.
import { fileURLToPath } from "node:url";
import { parseHTML } from "linkedom";
import { evaluate } from "mathjs";
import { describe, expect, test } from "vitest";
import { evidencePage } from "../../build/evidencePage.ts";
import { readKernels } from "../../build/kernels.ts";
import { referencePage, topicsOf } from "../../build/referencePage.ts";
import type { SiteFacts } from "../../build/shell.ts";
import { injuryRisk, RISK_CURVES, type RiskCurve, type RiskCurveName } from "../../lib/index.ts";
import { fromSI, toSI } from "../../lib/units.ts";

const HOME = fileURLToPath(new URL("../..", import.meta.url));
const kernels = readKernels(HOME);
const facts: SiteFacts = { version: "0", scenarioTitle: "a show", units: "metric", invented: true, lessons: [], sources: kernels.sources, serving: false };
const { evidence } = kernels;
const { document } = parseHTML(evidencePage(facts, evidence));
const textOf = (selector: string): string[] => [...document.querySelectorAll(selector)].map((element) => element.textContent ?? "");
const place = (id: string): number => [...document.querySelectorAll("[id]")].findIndex((element) => element.id === id);

describe("evidencePage(…)", () => {
  const wrong = evidence.filter(({ expected, published }) => expected !== published);

  test("has a row for every value, with its status and its source by title", () => {
    expect(textOf("#every tbody tr").length).toBe(evidence.length);
    for (const row of textOf("#every tbody td:last-child > .status")) expect(["read", "second-hand", "from memory", "common practice", "derived"]).toContain(row);
    const titles = Object.values(kernels.sources).map(({ title }) => title);
    for (const source of textOf("#every tbody td:last-child")) expect(titles.some((title) => source.startsWith(title)), source).toBe(true);
  });

  test("begins with the values of a source that is wrong, each with the right one, then with sources that disagree", () => {
    expect(wrong.length).toBeGreaterThan(0);
    expect(textOf("section:has(#wrong) tbody tr").length).toBe(wrong.length);
    for (const row of textOf("section:has(#wrong) tbody tr")) expect(row).toMatch(/wrong; right is [−\d]/);
    const disagree = evidence.filter(({ row }) => row.disagrees === true);
    expect(textOf("section:has(#disagree) tbody tr").length).toBe(disagree.length);
    for (const { row } of disagree) expect(row.note, `${row.id} says how`).toBeTruthy();
    expect([place("wrong"), place("disagree"), place("every")]).toEqual([place("wrong"), place("disagree"), place("every")].toSorted((p, q) => p - q));
  });

  test("keeps the wrong ones first within their kernel too", () => {
    for (const kernel of new Set(wrong.map(({ row }) => row.kernel))) expect(textOf(`section[data-kernel="${kernel}"] tbody tr`)[0]).toContain("wrong; right is");
  });

  test("has a place for every kernel that a panel or the reference links to, and offers each in the filter", () => {
    for (const kernel of Object.keys(kernels.checks)) {
      expect(document.getElementById(kernel)?.closest("section")?.getAttribute("data-kernel")).toBe(kernel);
      expect(document.querySelector(`#kernel-filter option[value="${kernel}"]`)).not.toBeNull();
    }
  });

  test("says which kernels have no value from outside, so that every kernel is either compared or named", () => {
    const named = textOf("section:has(#unpublished) a > code");
    const topics = topicsOf(HOME, kernels).flatMap((topic) => topic.kernels.map(({ name }) => name));
    expect([...named, ...Object.keys(kernels.checks)].toSorted()).toEqual(topics.toSorted());
  });

  test("draws and names every published curve of injury risk with source and status, behind the caution, and no other page does", () => {
    const section = document.getElementById("injury-risk")?.parentElement as Element;
    const inner = section.innerHTML;
    expect(inner.indexOf("describe test dummies and populations, never one person")).toBeGreaterThan(0);
    expect(inner.indexOf("never one person")).toBeLessThan(inner.indexOf("<figure"));
    const rows = [...section.querySelectorAll("tbody tr")];
    for (const [name, curve] of Object.entries(RISK_CURVES) as [RiskCurveName, RiskCurve][]) {
      const at = rows.findIndex((row) => new RegExp(`\\b${name}\\b`).test(row.querySelector("th")?.textContent ?? ""));
      expect(at, name).toBeGreaterThanOrEqual(0);
      const about = rows[at + 1]?.textContent ?? "";
      expect(about).toContain(kernels.sources[curve.source]?.title);
      expect(about).toContain(curve.status);
    }
    for (const svg of section.querySelectorAll("figure > svg")) expect(svg.getAttribute("aria-label")).toMatch(/ against .*never one person/);
    expect(section.querySelectorAll("figure > svg path.line").length).toBe(section.querySelectorAll("tbody th").length);
  });

  test("sets the three sources for AIS 4 of the head side by side: about 11, 17 and 18 per cent at 1000", () => {
    const figure = [...document.querySelectorAll("figure.risk")].find((one) => one.querySelector("figcaption")?.textContent === "Head injury criterion, AIS 4 or more") as Element;
    expect([...figure.querySelectorAll("tbody th + td")].map((cell) => cell.textContent)).toEqual(["11 %", "17 %", "18 %"]);
    expect(figure.querySelector(".differ")?.textContent).toBe("Sources disagree: at 1000 they give from 11 % to 18 %.");
  });

  test("prints formulas that give what the curves give", () => {
    const rows = [...(document.getElementById("injury-risk")?.parentElement as Element).querySelectorAll("tbody tr")];
    let compared = 0;
    for (const [name, curve] of Object.entries(RISK_CURVES) as [RiskCurveName, RiskCurve][]) {
      if (curve.form === "lognormal") continue; // no plain expression for the normal distribution
      const at = rows.findIndex((row) => new RegExp(`\\b${name}\\b`).test(row.querySelector("th")?.textContent ?? ""));
      const age = curve.years === undefined ? undefined : 25;
      const formula = (rows[at + 1]?.querySelector("code")?.textContent ?? "").replaceAll("\u2212", "-").replaceAll("\u00d7", "*");
      const x = fromSI(injuryRisk({ curve: name, value: 0, ...(age === undefined ? {} : { age }) }).median, curve.unit) / 2; // on the steep part
      const printed = evaluate(formula, { x, age }) as number; // as mathjs reads it
      expect(printed).toBeCloseTo(injuryRisk({ curve: name, value: toSI(x, curve.unit), ...(age === undefined ? {} : { age }) }).probability, 9);
      compared++;
    }
    expect(compared).toBeGreaterThan(10);
  });
});

test("every row names a source of lib/sources.yaml first", () => {
  for (const { row } of evidence) expect(Object.keys(kernels.sources), row.id).toContain(/^[a-z0-9-]+/.exec(row.source)?.[0]);
});

test("referencePage(…) lists every kernel that lib/index.ts exports, once", async () => {
  const { document: reference } = parseHTML(referencePage(facts, topicsOf(HOME, kernels), kernels.checks));
  const conversions = Object.keys(await import("../../lib/units.ts"));
  const exported = Object.entries(await import("../../lib/index.ts")).flatMap(([name, value]) => (typeof value === "function" && !conversions.includes(name) ? [name] : []));
  const listed = [...reference.querySelectorAll("section.kernel > h3")].map((heading) => heading.id);
  expect(new Set(listed).size).toBe(listed.length);
  expect(listed.toSorted()).toEqual(exported.toSorted());
});
