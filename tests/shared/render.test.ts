import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { parseHTML } from "linkedom";
import { evaluate as mathjs } from "mathjs";
import { describe, expect, test } from "vitest";
import { docComments } from "../../build/docComments.ts";
import { mutualCrush } from "../../lib/structure/mutualCrush.ts";
import { node } from "../../shared/drawing.ts";
import { choice, distance, evaluateWhole, flipPoint, force, KINDS, type Lesson, lesson, mass, rows, type Scene, sentence, speed, startOf, table, trace, verdict } from "../../shared/lesson.ts";
import { escape, makeWrite, renderClaim, renderControls, renderFigure, renderHeld, renderInput, renderName, renderOutput, renderPredict, renderProvenance, renderReplies, renderScene } from "../../shared/render.ts";
import { evaluateExpression, namesIn, parseExpression, toMath } from "../../shared/render/expression.ts";
import { docUnit } from "../../shared/render/provenance.ts";
import { clockText, slowness } from "../../shared/render/scene.ts";
import { statusLine } from "../../shared/render/status.ts";
import { readTable } from "../../shared/state/table.ts";
import { outcomeText } from "../../shared/render/value.ts";
import type { View } from "../../shared/view.ts";

const HOME = join(dirname(fileURLToPath(import.meta.url)), "../..");
/** A name that must not become markup. */
const HOSTILE = '<b onclick="x">Sprig & "Co"</b>';

const example: Lesson = lesson({
  names: { a: HOSTILE },
  inputs: {
    massA: mass(`test mass of the ${HOSTILE}`, { start: 900, from: 500, to: 2500, step: 10, give: 10, reason: "weighed" }),
    closing: speed("closing speed", { start: 25, from: 1, to: 40, step: 1 / 3.6, give: 0.3 }),
    front: choice("front", { start: "soft", words: { soft: "soft nose", stiff: "stiff nose" } }),
    points: table("measured points", { columns: { depth: { label: "depth", kind: KINDS.distance } }, start: { depth: [0, 0.1] }, example: () => ({ depth: [0] }) }),
  },
  where: { "they close in on each other": ({ massA }) => massA !== 777 },
  outputs: {
    peak: force("peak force", { from: mutualCrush, field: "peakForce" }),
    crushA: distance("crush of the first", { from: mutualCrush, field: "crush.a" }),
    turned: distance("crush, turned", { from: mutualCrush, field: "crush.a", sense: -1 }),
    wide: distance("both crushes", { because: "the sum of the two crushes that mutualCrush gives", from: mutualCrush }),
    who: verdict("who crushes more", { a: "the first", b: "the second" }),
    said: sentence("result"),
    flip: flipPoint("speed", "speed at which it changes", { of: "who", along: "closing" }),
    curve: trace("force against crush", { axis: { label: "crush", kind: KINDS.distance }, series: { f: { label: "force", kind: KINDS.force } } }),
    list: rows("both", { who: { label: "which", kind: "text" }, crush: { label: "crush", kind: KINDS.distance } }),
  },
  run: ({ massA, closing, front }, call, write) => {
    const { crush, peakForce } = call(mutualCrush, { a: { mass: massA, stiffness: front === "soft" ? 300e3 : 1200e3 }, b: { mass: 1800, stiffness: 450e3 }, closingSpeed: closing });
    return { who: crush.a > crush.b ? "a" : "b", said: `They push with ${write("force", peakForce)} < each other`, wide: crush.a + crush.b, curve: { axis: [0, crush.a], series: { f: [0, peakForce] } }, list: [{ who: HOSTILE, crush: crush.a }] };
  },
  figures: { line: () => ({ title: HOSTILE, x: { label: "crush", kind: KINDS.distance }, y: { label: "force", kind: KINDS.force }, series: [{ label: "a", belongs: "a", x: [0, 1], y: [0, 1000] }], says: "It rises." }) },
  scenes: { road: { title: "Road", duration: () => 0.12, draw: () => ({ width: 100, height: 50, nodes: [node("line", { x1: 0, y1: 0, x2: 1, y2: 1 })], handles: [] }), describe: () => "Two bodies." } },
});

const provenance = Object.fromEntries(
  docComments(readFileSync(join(HOME, "lib/structure/mutualCrush.ts"), "utf8"), "structure/mutualCrush.ts").map((doc) => [doc.name, { ...doc, sources: doc.sources.map((source) => ({ ...source, title: "Worked out here", status: "derived" })) }]),
);
const viewAt = (changed: Record<string, number | string> = {}, more: Partial<View> = {}): View => {
  const write = makeWrite(more.units ?? "metric", "en");
  return { slug: "x", title: "x", lesson: example, state: evaluateWhole(example, { ...startOf(example), ...changed }, write), units: "metric", locale: "en", provenance, ...more };
};
const view = viewAt();
const parse = (html: string): Document => parseHTML(`<!doctype html><html><body>${html}</body></html>`).document as unknown as Document;

const ANSWERS = [{ word: "a", textHtml: "the first", replyHtml: "<p>Because.</p>" }, { word: "b", textHtml: "the second" }];

/** Everything the page can be made of, at one view. */
const everything = (v: View): string =>
  [
    ...Object.keys(example.inputs).map((name, i) => renderInput(v, name, {}, `input-${i}`)),
    ...Object.keys(example.outputs).map((name, i) => renderOutput(v, name, {}, `output-${i}`)),
    renderClaim(v, "c", "A sentence.", { samples: 12345, smallestMargin: 0.00123456 }, "claim-1"),
    renderName(v, "a"),
    renderFigure(v, "line", "A line", "figure-1", "<svg></svg>"),
    renderScene(v, "road", HOSTILE, "scene-1"),
    renderControls(v),
    renderHeld(v, false),
    renderPredict("who", "<p>Who?</p>", ANSWERS, "predict"),
    renderReplies(ANSWERS),
  ].join("\n");

describe("expressions", () => {
  const names = { a: { mass: 900 }, b: { mass: 1800 }, e: 0.3 };

  // Outside check: mathjs, a general-purpose mathematics library, reads the same text by itself.
  test.each(["1 + 2 * 3", "-2^2", "2^3^2", "2^-1", "(1 + 2) * 3", "8 / 4 / 2", "8 - 4 - 2", "-a.mass + b.mass", "sqrt(a.mass * b.mass / (a.mass + b.mass))", "max(1, e, 3) - min(2, e)", "exp(-e) * cos(pi * e)", "1e3 + .5", "abs(-e)", "atan2(1, e)", "2 * -e"])("evaluateExpression(%s) agrees with mathjs", (text) => {
    expect(evaluateExpression(parseExpression(text), names)).toBeCloseTo(mathjs(text, structuredClone(names)) as number, 12);
  });

  test("evaluateExpression(…) agrees with mathjs on 300 seeded trees", () => {
    const { expression } = fc.letrec<{ expression: string }>((tie) => ({
      expression: fc.oneof(
        { depthSize: "small" },
        fc.constantFrom("a.mass", "b.mass", "e", "2", "0.5"),
        fc.tuple(tie("expression"), fc.constantFrom("+", "-", "*", "/"), tie("expression")).map(([left, sign, right]) => `(${left}) ${sign} ${right.length > 12 ? `(${right})` : right}`),
        // A power of a negative number is complex there and not a number here.
        fc.tuple(tie("expression"), fc.constantFrom("2", "-2", "e", "0.5^2")).map(([base, exponent]) => `abs(${base})^${exponent}`),
        tie("expression").map((inner) => `-(${inner})`),
        tie("expression").map((inner) => `sqrt(abs(${inner}))`),
      ),
    }));
    fc.assert(
      fc.property(expression, (text) => {
        const ours = evaluateExpression(parseExpression(text), names);
        const theirs = mathjs(text, structuredClone(names)) as unknown;
        // A division by zero: nothing to compare.
        if (typeof theirs !== "number" || !Number.isFinite(theirs)) return;
        expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(1e-12 * Math.max(1, Math.abs(theirs)));
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  test.each(["", "1 +", "(1", "1 2", "foo(1)", "a..b", "1 ? 2 : 3", "alert`1`"])("parseExpression(%s) refuses what it cannot read", (text) => {
    expect(() => parseExpression(text)).toThrow(SyntaxError);
  });

  test("namesIn(…) gives each name once, without constants", () => {
    expect(namesIn(parseExpression("pi * a.mass + a.mass / sqrt(e)"))).toEqual(["a.mass", "e"]);
  });

  test("toMath(…) brackets what needs it and nothing else", () => {
    const leaf = (name: string): string => `<mi>${name}</mi>`;
    expect(toMath(parseExpression("(a + b) * c"), leaf)).toContain("<mo>(</mo><mrow><mi>a</mi><mo>+</mo>");
    expect(toMath(parseExpression("a + b * c"), leaf)).not.toContain("<mo>(</mo>");
    expect(toMath(parseExpression("a - (b - c)"), leaf)).toContain("<mo>(</mo>");
    expect(toMath(parseExpression("(a + b) / c"), leaf)).toBe("<mfrac><mrow><mi>a</mi><mo>+</mo><mi>b</mi></mrow><mi>c</mi></mfrac>");
  });
});

describe("the page's HTML", () => {
  test("everything is well-formed, with unique ids and every reference resolved", () => {
    const document = parse(everything(view));
    const ids = [...document.querySelectorAll("[id]")].map((element) => element.id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const attribute of ["aria-describedby", "aria-labelledby", "for", "popovertarget"])
      for (const element of document.querySelectorAll(`[${attribute}]`)) for (const id of (element.getAttribute(attribute) ?? "").split(" ")) expect(ids, `${attribute} of ${element.outerHTML.slice(0, 80)}`).toContain(id);
  });

  test("nothing carries an inline style, a handler or a script", () => {
    for (const element of parse(everything(view)).querySelectorAll("*")) {
      expect(element.localName).not.toBe("script");
      for (const name of element.getAttributeNames()) expect(name === "style" || name.startsWith("on")).toBe(false);
    }
  });

  test("a hostile name stays text wherever it stands", () => {
    const html = everything(view);
    expect(parse(html).querySelectorAll("[onclick]")).toHaveLength(0);
    expect(html).toContain(escape(HOSTILE));
    expect(html).not.toContain("<b onclick");
  });

  test("what stands in a paragraph is phrasing content, so that the parser does not close the paragraph", () => {
    const blocks = /<(address|article|aside|blockquote|details|div|dl|fieldset|figure|footer|form|h[1-6]|header|hr|main|nav|ol|p|pre|section|table|ul)\b/;
    for (const name of Object.keys(example.outputs)) expect(renderOutput(view, name, {}, "x")).not.toMatch(blocks);
    for (const name of Object.keys(example.inputs)) expect(renderInput(view, name, {}, "x")).not.toMatch(blocks);
    expect(renderClaim(view, "c", "x", undefined, "x")).not.toMatch(blocks);
  });

  test("every field and button has a name", () => {
    const document = parse(everything(view));
    for (const field of document.querySelectorAll("input, select, textarea, button")) {
      const labelled = field.getAttribute("aria-label") ?? field.closest("label")?.textContent ?? document.querySelector(`label[for="${field.id}"]`)?.textContent ?? field.textContent ?? "";
      expect(labelled.trim(), field.outerHTML).not.toBe("");
    }
  });
});

describe("renderProvenance(…)", () => {
  const text = (v: View, name: string): string => parse(renderProvenance(v, name)).body.textContent ?? "";

  test("shows equation, present numbers with units, result, model, source with status, file and line", () => {
    const html = renderProvenance(view, "crushA");
    const said = text(view, "crushA");
    expect(html.match(/<math display="block">/g)).toHaveLength(6);
    expect(html).toContain("<mn>900</mn>");
    expect(html).toContain("<mn>300\u202f000</mn>");
    expect(said).toContain("= 0.86603\u00a0m");
    expect(said).toContain("25\u00a0m/s");
    expect(said).toContain("Model.");
    expect(said).toContain("Worked out here, reduced mass on two springs in series derived");
    expect(said).toMatch(/mutualCrush in lib\/structure\/mutualCrush\.ts:\d+/);
  });

  test("of a sentence shows the equations it rests on with present numbers, in the reader's units too, and no lists", () => {
    const said = text(view, "said");
    expect(renderProvenance(view, "said")).toContain("<mn>900</mn>");
    expect(said).toContain("closing speed 25\u00a0m/s = 90.0\u00a0km/h");
    const listed = (_: { mass: number; time: readonly number[] }) => ({ count: 1 });
    const doc = docComments("/**\n * A count.\n *\n * @param mass > 0 [kg]\n * @param time when [s]\n * @returns count\n */\nexport const listed = (input) => input;", "math/listed.ts")[0];
    const made = lesson({ inputs: { m: mass("mass", { start: 900, from: 1, to: 2000, step: 1 }) }, outputs: { said: sentence("said") }, run: ({ m }, call) => (call(listed, { mass: m, time: [0, 1, 2] }), { said: "Said." }) });
    const v: View = { ...view, lesson: made, state: evaluateWhole(made, { m: 900 }, makeWrite("metric", "en")), provenance: { listed: doc as NonNullable<typeof doc> } };
    expect(text(v, "said")).toContain("mass 900\u00a0kg");
    expect(renderProvenance(v, "said")).not.toMatch(/"argument">time/);
  });

  test("follows the state", () => {
    expect(renderProvenance(viewAt({ massA: 1234 }), "peak")).toContain("<mn>1234</mn>");
  });

  test("shows the value in both unit systems", () => {
    expect(text(view, "peak")).toContain("kN");
    expect(text(view, "peak")).toContain("lbf");
  });

  test("says that a sign is turned, how a returned value comes about, and how a flip point is found", () => {
    expect(text(view, "turned")).toContain("sign turned");
    expect(text(view, "wide")).toContain("the sum of the two crushes");
    expect(text(view, "flip")).toContain("halving the interval");
    expect(text(view, "flip")).toContain("It never changes there");
  });

  test("says the words of an outcome where there is no value", () => {
    expect(text(viewAt({ massA: 777 }), "peak")).toContain("they close in on each other");
  });

  test("shows law, terms at an instant, scheme, step, error and limit of a simulated kernel", () => {
    const simulated = (_: { mass: number }) => ({ step: 0.00025, deltaV: { a: -2 }, energy: { error: -1.234e-6 }, traces: { time: Float64Array.of(0, 0.01, 0.02), force: Float64Array.of(0, 5000, 1000), vehicles: { a: { velocity: Float64Array.of(3, 2, 1) }, b: { velocity: Float64Array.of(9, 8, 7) } } } });
    const doc = docComments(
      `/**\n * A push.\n *\n * Model: one mass.\n *\n * @param mass > 0 [kg]\n * @returns deltaV of each: after less before [m/s]\n * @returns traces.force between them [N]\n * @returns traces.vehicles.a.velocity, traces.vehicles.b.velocity over the ground [m/s]\n * @law mass * acceleration = -force\n * @scheme fixed step, second order\n * @limit a spring\n */\nexport const simulated = (input) => input;`,
      "event/simulated.ts",
    )[0];
    const made = lesson({ inputs: { m: mass("mass", { start: 1, from: 1, to: 2, step: 1 }) }, outputs: { change: speed("change", { from: simulated, field: "deltaV.a" }) }, run: ({ m }, call) => (call(simulated, { mass: m }), {}) });
    const v: View = { slug: "x", title: "x", lesson: made, state: evaluateWhole(made, { m: 1 }, makeWrite("metric", "en")), units: "metric", locale: "en", provenance: { simulated: doc as NonNullable<typeof doc> } };
    const said = text(v, "change");
    expect(said).toContain("Law. Mass \u00b7 acceleration = \u2212force");
    expect(said).toContain("This number. Of each: after less before");
    expect(said).toContain("Terms at 10\u00a0ms, when force is largest:force 5.0\u00a0kN");
    expect(said).toContain("velocityA 7.2\u00a0km/h");
    expect(said).not.toContain("velocityB");
    expect(said).toContain("Scheme. Fixed step, second order; step 0.00025\u00a0s; energy balance closes to 1.2\u00d710\u207b\u2076");
    expect(said).toContain("Closed form beside it. A spring");
  });

  test("says beside whose values the kernel stands, and where there are none, how it is tested", () => {
    const checked = (checks: number): string => renderProvenance({ ...view, provenance: { mutualCrush: { ...(provenance["mutualCrush"] as NonNullable<(typeof provenance)[string]>), checks } } }, "peak");
    expect(checked(3)).toContain('<a href="evidence.html#mutualCrush">Compared with 3 published values</a>');
    expect(checked(0)).toMatch(/Nobody else\u2019s value was found[^<]*<a href="evidence\.html#unpublished">/);
  });

  test("docUnit(…) finds the unit of a nested argument", () => {
    const doc = provenance["mutualCrush"];
    expect(docUnit(doc?.params ?? [], "a.mass")).toBe("kg");
    expect(docUnit(doc?.params ?? [], "b.stiffness")).toBe("N/m");
    expect(docUnit(doc?.params ?? [], "closingSpeed")).toBe("m/s");
    expect(docUnit(doc?.returns ?? [], "crush.a")).toBe("m");
    expect(docUnit(doc?.returns ?? [], "energy.b")).toBe("J");
  });
});

describe("values", () => {
  const value = (v: View, name: string): string => parse(renderOutput(v, name, {}, "x")).querySelector(".value")?.textContent ?? "";

  test("renderOutput(…) shows each kind of output", () => {
    expect(value(view, "peak")).toBe("259.8\u00a0kN");
    expect(value(view, "turned")).toBe("\u22120.866\u00a0m");
    expect(value(view, "who")).toBe("the first");
    expect(value(view, "said")).toBe("They push with 259.8\u00a0kN < each other");
    expect(value(view, "flip")).toBe("nowhere in the range: the first throughout");
    expect(parse(renderOutput(view, "list", {}, "x")).querySelectorAll('.value [role="row"]')).toHaveLength(2);
    expect(parse(renderOutput(view, "curve", {}, "x")).querySelectorAll('.value [role="row"]')).toHaveLength(3);
  });

  test("renderOutput(…) shows no number where the state has no outputs", () => {
    const none = viewAt({ massA: 777 });
    expect(value(none, "peak")).toBe("\u2014");
    // In place of the sentence stands why; the rest keep their dash.
    expect([value(none, "said"), value(none, "who")]).toEqual(["No result here: this needs that they close in on each other.", "\u2014"]);
  });

  test("outcomeText(…) says a rule as what is needed, and an outcome as it is", () => {
    expect(outcomeText(view, "they close in on each other")).toBe("No result here: this needs that they close in on each other.");
    expect(outcomeText(view, "they never meet")).toBe("No result here: they never meet.");
  });

  test("renderOutput(…) shows the held case beside the present one", () => {
    const html = renderOutput(viewAt({ massA: 2000 }, { held: view.state }), "peak", {}, "x");
    expect(parse(html).querySelector(".held")?.textContent).toBe("held: 259.8\u00a0kN");
  });

  test("renderHeld(…) lists what differs", () => {
    const html = renderHeld(viewAt({ massA: 2000 }, { held: view.state }), false);
    const differing = [...parse(html).querySelectorAll("tr.differs")].map((row) => row.textContent);
    expect(differing[0]).toContain("900\u00a0kg2000\u00a0kg");
    expect(differing.some((row) => row?.startsWith("Closing"))).toBe(false);
  });

  test("renderInput(…) names unit and value, in both systems", () => {
    const field = parse(renderInput(view, "closing", {}, "x")).querySelector("input");
    expect([field?.getAttribute("value"), field?.getAttribute("aria-label")]).toEqual(["90", "closing speed, km/h"]);
    expect(renderInput(viewAt({}, { units: "customary" }), "closing", {}, "x")).toContain("mph");
  });

  test("renderClaim(…) says how it was tested, never that it is proven", () => {
    const html = renderClaim(view, "c", "x", { samples: 12345, smallestMargin: 0.00123456 }, "x");
    expect(html).toContain("Tested on 12\u202f345 states of the inputs; smallest margin 0.00123. Not a proof.");
    expect(html).not.toMatch(/proven/i);
  });

  test("renderClaim(…) keeps its mark on the line of the last word", () => {
    const marked = (html: string): string | undefined => parse(renderClaim(view, "c", html, undefined, "x")).querySelector(".marked")?.textContent?.replace("\u2060", "");
    expect(marked("The lighter one changes more")).toBe("more\u2713");
    expect(marked("More for the <b>Sprig</b>")).toBe("\u2713");
    expect(parse(renderClaim(view, "c", "The <i>lighter</i> one", undefined, "x")).querySelector(".claim")?.textContent).toBe("The lighter one\u2713");
  });

  test("renderControls(…) says of a table what its reader takes", () => {
    const input = { type: "table" as const, label: "slope", columns: { height: { label: "height", kind: KINDS.distance }, way: { label: "way", kind: KINDS.distance } }, start: { height: [0], way: [1] }, example: () => ({ height: [0], way: [1] }) };
    const two = lesson({ inputs: { slope: input }, outputs: { said: sentence("said") }, run: () => ({ said: "" }) }) as unknown as Lesson;
    const hint = parse(renderControls({ ...view, lesson: two, state: evaluateWhole(two, startOf(two), makeWrite("metric", "en")) })).querySelector(".hint")?.textContent ?? "";
    for (const [named, text] of Object.entries({ "semicolons, tabs or commas": "1.5; 2.5", tabs: "1.5\t2.5", commas: "1.5,2.5", "decimal commas": "1,5; 2,5", "A first line may name columns and units": "way [cm], height\n250, 1.5" })) {
      expect(hint).toContain(named);
      expect(readTable(text, input, "metric", "en"), text).toEqual({ value: { height: [1.5], way: [2.5] } });
    }
    expect(parse(renderControls(view)).querySelector(".hint")?.textContent).toContain("One value a line");
  });

  test("renderOutput(…) and its neighbours name what does not exist", () => {
    expect(() => renderOutput(view, "nope", {}, "x")).toThrow("there is no output nope");
    expect(() => renderInput(view, "constructor", {}, "x")).toThrow("there is no input constructor");
    expect(() => renderName(view, "toString")).toThrow("there is no name toString");
    expect(() => renderScene(view, "nope", "", "x")).toThrow("there is no scene nope");
  });

  test("clockText(…) counts from first touch where there is one", () => {
    const scene = example.scenes["road"] as unknown as Scene;
    const said = (instant: number, touch?: number) => clockText(touch === undefined ? scene : { ...scene, touch: () => touch }, view.state, instant, "en");
    expect(said(0.04)).toEqual({ now: "40\u00a0ms", whole: "of 120\u00a0ms", spoken: "40\u00a0ms of 120\u00a0ms" });
    expect(said(0, 0.045)).toEqual({ now: "\u221245\u00a0ms", whole: "\u221245\u00a0\u2026\u00a0+75\u00a0ms", spoken: "45\u00a0ms before first touch" });
    expect(said(0.05, 0.045)).toMatchObject({ now: "5\u00a0ms", spoken: "5\u00a0ms after first touch" });
  });

  test("renderScene(…) sets apart what can only be done with scripts", () => {
    const caption = parse(renderScene(view, "road", "Two cars. Drag the arrows. They meet.", "x")).querySelector("figcaption .alt");
    expect([caption?.textContent, caption?.querySelector(".scripted-only")?.textContent]).toEqual(["Two cars. Drag the arrows. They meet.", "Drag the arrows."]);
  });

  test("renderControls(…) writes give or take in the reader's unit", () => {
    const give = (v: View) => parse(renderControls(v)).querySelector("#control-massA .give")?.textContent;
    expect(give(view)).toBe("give or take 10\u00a0kg: weighed");
    // 10 kg are 22.05 lb (NIST SP 811, appendix B: 1 lb = 0.453 592 37 kg, second-hand).
    expect(give(viewAt({}, { units: "customary" }))).toBe("give or take 22\u00a0lb: weighed");
  });

  test("renderOutput(…, {range}) has the point value until the range is worked out, and for the held case", () => {
    const shown = (v: View) => parse(renderOutput(v, "peak", { range: true }, "x"));
    const ranges = { peak: { low: 250e3, likely: 260e3, high: 270e3 } };
    expect(shown(view).querySelector(".value")?.textContent).toBe("259.8\u00a0kN");
    expect(shown({ ...view, ranges }).querySelector(".value")?.textContent).toBe("250 to 270\u00a0kN");
    expect(shown({ ...viewAt({ massA: 2000 }), ranges, held: view.state }).querySelector(".held")?.textContent).toBe("held: 259.8\u00a0kN");
  });

  test("statusLine(…) explains the words that occur, and no others", () => {
    expect(statusLine(["read", "from memory", "read"])).toBe("read: read in the text itself; from memory: not looked up again");
  });

  test("slowness(…) makes an event last some seconds", () => {
    expect(slowness(0.157)).toBe(50);
    expect(slowness(0.15)).toBe(50);
    expect(slowness(10)).toBe(1);
  });
});
