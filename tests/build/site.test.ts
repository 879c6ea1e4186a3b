// Whole builds of a small lesson: what is refused, with its place; and that the same lesson gives the same bytes.
import { createHash } from "node:crypto";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { checkFences } from "../../build/checkFences.ts";
import { newLesson } from "../../build/new.ts";
import { HOME, Site } from "../../build/site.ts";
import { weights, writeWeights } from "../../build/size.ts";

const FIXTURE = readFileSync(join(HOME, "tests/build/fixtures/lessons/fixture.md"), "utf8");
mkdirSync(join(HOME, ".cache"), { recursive: true });
const work = mkdtempSync(join(HOME, ".cache/site-test-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

let count = 0;
/** A folder with one lesson in it. */
const folderWith = (source: string): string => {
  const folder = join(work, String(count++));
  mkdirSync(folder);
  writeFileSync(join(folder, "fixture.md"), source);
  return folder;
};
const build = (lessons: string, options: { scenario?: string } = {}) => new Site({ lessons, cache: join(work, "cache"), ...options }).build();
const changed = (from: string, to: string): string => {
  expect(FIXTURE).toContain(from);
  return FIXTURE.replace(from, to);
};
/** Line and column of `text` in the changed lesson. */
const placeOf = (source: string, text: string): string => {
  const before = source.slice(0, source.indexOf(text)).split("\n");
  return `${before.length}:${(before.at(-1) as string).length + 1}`;
};

describe("new Site(…).build()", () => {
  test("makes complete pages with the values of the start in them", async () => {
    const { files, problems, lessons } = await build(folderWith(FIXTURE));
    expect(problems).toEqual([]);
    expect(lessons).toEqual(["fixture"]);
    expect(Object.keys(files).sort()).toEqual(expect.arrayContaining(["fixture.html", "fixture.js", "gate.js", "index.html", "page.css", "page.js"]));
    const html = files["fixture.html"] as string;
    expect(html).toContain("−60.0\u00a0km/h");
    expect(html).toContain("−16.67\u00a0m/s");
    expect(html).toMatch(/Tested on [\d\u202f]+ states/);
    expect(html).toContain("<svg");
    expect(html).toContain("light trolley");
    expect(html.indexOf("data-reveal")).toBeLessThan(html.indexOf("What this leaves out"));
    expect(files["index.html"]).toContain("Which one changes velocity more?");
  });

  test("has a strict content policy, no inline script or style, unique ids, and asks for nothing off its origin", async () => {
    const { files } = await build(folderWith(FIXTURE));
    for (const [name, html] of Object.entries(files)) {
      if (!name.endsWith(".html")) continue;
      expect(html).toContain(`content="default-src 'none'; script-src 'self'; style-src 'self';`);
      expect(html).not.toContain("connect-src");
      expect(html).not.toMatch(/<style|\sstyle=|<script(?![^>]* src=)|\son[a-z]+=/);
      expect(html).not.toMatch(/(?:src|href)="(?:https?:)?\/\//);
      const ids = [...html.matchAll(/\sid="([^"]+)"/g)].map((m) => m[1]);
      expect(new Set(ids).size).toBe(ids.length);
    }
  });

  test("gives the same bytes each time", async () => {
    const folder = folderWith(FIXTURE);
    const [once, again] = [await build(folder), await build(folder)];
    // digests, so that a difference is not answered with the megabytes of both sites
    const digests = (files: Readonly<Record<string, string | Uint8Array>>): Record<string, string> => Object.fromEntries(Object.entries(files).map(([path, content]) => [path, createHash("sha256").update(content).digest("hex")]));
    expect(digests(again.files)).toEqual(digests(once.files));
  });

  test("names no path of the machine it runs on", async () => {
    const { files } = await build(folderWith(FIXTURE));
    for (const text of Object.values(files)) expect(text).not.toContain(HOME);
  });

  test("keeps lessons that did not change", async () => {
    const folder = folderWith(FIXTURE);
    const site = new Site({ lessons: folder, cache: join(work, "cache") });
    await site.build();
    writeFileSync(join(folder, "fixture.md"), changed("Two trolleys meet and stick.", "Two trolleys touch and stick."));
    expect((await site.build({ claims: false })).files["fixture.html"]).toContain("touch and stick");
  });

  test("reports what each page weighs", async () => {
    const { files } = await build(folderWith(FIXTURE));
    const page = weights(files).find((w) => w.page === "fixture.html");
    expect(Object.keys(page?.parts ?? {})).toEqual(["fixture.html", "page.css", "gate.js", "page.js", "fixture.js"]);
    expect(page?.bytes).toBe(Object.values(page?.parts ?? {}).reduce((sum, n) => sum + n, 0));
    const all = [{ page: "light.html", bytes: 1000, parts: { "light.html": 1000 } }, { page: "heavy.html", bytes: 9000, parts: { "heavy.html": 2000, "page.js": 7000 } }];
    expect(writeWeights(all)).toBe("heaviest first load of 2 pages, after gzip -9: 9.0 kB  heavy.html");
    expect(writeWeights(all, 8000).split("\n").slice(1)).toEqual(["  9.0 kB  heavy.html, over 8.0 kB; of it page.js 7.0 kB"]);
  });

  const cases: readonly (readonly [what: string, from: string, to: string, at: string, message: RegExp])[] = [
    ["a link text that the lesson does not compute", "[-60 km/h](output:changeA)", "[-61 km/h](output:changeA)", "[-61", /^the text of output:changeA is "-61 km\/h", but the lesson computes "−60.0 km\/h"$/],
    ["an input's text that is not its start", "[900 kg](input:massA)", "[901 kg](input:massA)", "[901", /^the text of input:massA is "901 kg", but the lesson computes "900 kg"$/],
    ["a name that is not the scenario's", "[light trolley](name:a)", "[heavy trolley](name:a)", "[heavy", /^the text of name:a is/],
    ["a fence that is no TypeScript", "run: ({ massA,", "run: ({ massA massB,", "massB, massB,", /Expected "}" but found "massB"/],
    ["an import that is not offered", 'from "ridedown/lesson"', 'from "ridedown/leson"', '"ridedown/leson"', /the nearest is ridedown\/lesson/],
    ["a kernel that does not exist", "import { centralImpact }", "import { centralImpct as centralImpact }", "centralImpct as", /No matching export .*"centralImpct"; the nearest is centralImpact/],
    ["a fence that is no lesson", "export default lesson({", "lesson({", "import { centralImpact", /the fence must say: export default lesson/],
    ["a run that throws at the start", "const { deltaV } =", "if (massA > 0) throw new Error('stuck');\n    const { deltaV } =", "new Error('stuck')", /does not run at its start: stuck/],
    ["a start outside its range", "start: 900, from: 100, to: 2000, step: 10, give: 10", "start: 9000, from: 100, to: 2000, step: 10, give: 10", "massA: mass(", /start must be between 100 and 2000 kg, got 9000/],
    ["a start state that has no outputs", "start: -10, from: -20", "start: 19, from: -20", "inputs: {", /they never meet/],
    ["a verdict that is not one of its words", 'massA === massB ? "same"', 'massA === 900 ? ("x" as never)', "more: verdict", /verdict more is x at the start/],
    ["an output that no kernel call gives", "call(centralImpact, {", "centralImpact({", "", /output changeA must come from a recorded call/],
    ["a claim that is false", "Math.abs(outputs.changeA) - Math.abs(outputs.changeB)", "10 - Math.abs(outputs.changeA)", "[The *lighter*", /^claim lighterChangesMore fails at .*: its margin is -\S+ \(in SI; 0 or more holds\), at .* −?\d+\.\d km\/h; mend the sentence/],
    ["a claim about almost nothing", "inputs.massA < inputs.massB,", "inputs.massA === 100 && inputs.massB === 2000 && inputs.velocityA === 20,", "[The *lighter*", /only \d+ states meet its when; 100 are needed/],
    ["a claim that fails at bench scale only", "({ outputs }) => Math.abs(outputs.changeA) - Math.abs(outputs.changeB)", "({ inputs }) => inputs.massB - 10", "[The *lighter*", /fails at bench scale at the start state: its margin is -9 \(in SI; 0 or more holds\); mend the sentence/],
    ["a run that fails somewhere in the box", "restitution: 0 }", "restitution: massA > 1950 ? 2 : 0 }", "import { centralImpact", /^run fails at .*restitution must be between 0 and 1, got 2/],
    ["a scale of an input that is not there", "massB: { start: 1 kg,", "masB: { start: 1 kg,", "masB:", /the lesson has no such input; the nearest is massB/],
  ];
  for (const [what, from, to, at, message] of cases)
    test(`refuses ${what}, at its place`, async () => {
      const source = changed(from, to);
      const { problems } = await build(folderWith(source));
      const found = problems.find((p) => message.test(p.message));
      expect(found, problems.map((p) => `${p.line}:${p.column} ${p.message}`).join("\n")).toBeDefined();
      if (at !== "") expect(`${found?.line}:${found?.column}`).toBe(placeOf(source, at));
    });

  test("lists the mistakes of every lesson", async () => {
    const folder = folderWith(changed("(input:massA)", "(input:masA)"));
    writeFileSync(join(folder, "other.md"), changed("(name:a)", "(name:b)"));
    const { problems } = await build(folder);
    expect(problems.map((p) => `${p.file.split("/").at(-1)} ${p.message}`)).toEqual(["fixture.md there is no input masA; the nearest is massA", "other.md there is no name b; the nearest is a"]);
  });

  test("does not compare link texts under another scenario", async () => {
    const source = changed('names: { a: "light trolley" }', 'names: { a: "another name" }');
    const own = join(work, "own.yaml");
    writeFileSync(own, readFileSync(join(HOME, "shared/scenario/demo.yaml")));
    expect((await build(folderWith(source))).problems).toHaveLength(1);
    expect((await build(folderWith(source), { scenario: own })).problems).toEqual([]);
  });

  test("answers a scenario that is wrong with its place", async () => {
    const own = join(work, "wrong.yaml");
    writeFileSync(own, readFileSync(join(HOME, "shared/scenario/demo.yaml"), "utf8").replace("drawnAs: hatch ", "drawnAs: hach "));
    const { problems, files } = await build(folderWith(FIXTURE), { scenario: own });
    expect(files).toEqual({});
    expect(problems[0]).toMatchObject({ message: expect.stringContaining("hatch") as unknown, line: expect.any(Number) as unknown });
  });
});

describe("newLesson(title, folder)", () => {
  test("writes a lesson that builds, with types that hold", async () => {
    const folder = join(work, "new");
    const made = newLesson('A push has "two" ends: why?', folder);
    expect(made).toEqual({ path: expect.stringMatching(/a-push-has-two-ends-why\.md$/) as unknown });
    const { problems, files } = await build(folder);
    expect(problems).toEqual([]);
    expect(files["a-push-has-two-ends-why.html"]).toContain("A push has &quot;two&quot; ends: why?");
    expect(await checkFences(HOME, folder)).toEqual([]);
  });

  test("refuses a title without letters and a lesson that is there", () => {
    const folder = join(work, "twice");
    expect(newLesson("  ", folder)).toHaveProperty("problem");
    newLesson("Once", folder);
    expect(newLesson("Once", folder)).toMatchObject({ problem: expect.stringMatching(/once\.md is there already/) as unknown });
  });
});

describe("checkFences(root, lessons)", () => {
  test("names the line and column of the Markdown file", async () => {
    const source = changed("massA === massB ?", "massA === massC ?");
    const problems = await checkFences(HOME, folderWith(source));
    expect(problems).toHaveLength(1);
    expect(`${problems[0]?.line}:${problems[0]?.column}`).toBe(placeOf(source, "massC"));
    expect(resolve(problems[0]?.file ?? "")).toMatch(/fixture\.md$/);
  });

  test("finds an output that run forgets, and one that it makes up", async () => {
    const forgets = changed("return { more, said:", "return { said:");
    const invents = changed("return { more, said:", "return { more, extra: 1, said:");
    expect((await checkFences(HOME, folderWith(forgets)))[0]?.message).toMatch(/more/);
    expect((await checkFences(HOME, folderWith(invents)))[0]?.message).toMatch(/extra/);
  });
});
