import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { UNITS, toSI } from "../../lib/units.ts";
import { type KindId, KINDS } from "../../shared/kinds.ts";
import { choice, evaluateWhole, type Lesson, lesson, mass, type QuantityInput, ratio, sentence, speed, startOf, table, verdict, flipPoint } from "../../shared/lesson.ts";
import { gridStep, keyed, refusal, slots, snap, stepped } from "../../shared/state/inputs.ts";
import { readLink, writeLink } from "../../shared/state/link.ts";
import { formatNumber, formatSignificant, parseNumber, tidy } from "../../shared/state/numbers.ts";
import { type Change, type PageData, Session } from "../../shared/state/session.ts";
import { readTable, tableText } from "../../shared/state/table.ts";
import { digitsFor, makeWrite, readQuantity, show, showInput, showSet, unitText } from "../../shared/state/units.ts";

const NBSP = "\u00a0";
const NARROW = "\u202f";

describe("numbers", () => {
  // SI Brochure, 9th edition, section 5.4.4: groups of three parted by a thin space, not for four digits alone (from memory).
  test("formatNumber(…) groups by thin spaces from five digits on", () => {
    expect(formatNumber(1800, 0, "en")).toBe("1800");
    expect(formatNumber(18000, 0, "en")).toBe(`18${NARROW}000`);
    expect(formatNumber(1234567.891, 2, "en")).toBe(`1${NARROW}234${NARROW}567.89`);
  });

  test("formatNumber(…) writes a true minus, and none before a zero", () => {
    expect(formatNumber(-60, 1, "en")).toBe("\u221260.0");
    expect(formatNumber(-0.04, 1, "en")).toBe("0.0");
    expect(formatNumber(-0, 0, "en")).toBe("0");
  });

  // Outside reference: the platform's own locale data (Unicode CLDR) for the decimal sign and the digits.
  test.each(["en", "de", "fr", "pl", "es"])("formatNumber(…, %s) has the digits and decimal sign of the platform", (locale) => {
    const reference = new Intl.NumberFormat(locale, { minimumFractionDigits: 2, maximumFractionDigits: 2, useGrouping: false });
    fc.assert(
      fc.property(fc.integer({ min: -99_999, max: 99_999 }), (hundredths) => {
        const value = hundredths / 100;
        expect(formatNumber(value, 2, locale).replace("\u2212", "-").replaceAll(NARROW, "")).toBe(reference.format(value === 0 ? 0 : value).replace("\u2212", "-"));
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  test("formatSignificant(…) keeps the digits that matter and drops zeros", () => {
    expect(formatSignificant(350256.14, 5, "en")).toBe(`350${NARROW}256`);
    expect(formatSignificant(0.29188, 5, "en")).toBe("0.29188");
    expect(formatSignificant(1800, 5, "en")).toBe("1800");
    expect(formatSignificant(-1.5e-6, 5, "en")).toBe("\u22121.5\u00d710\u207b\u2076");
  });

  test.each([
    ["1.5", "en", 1.5],
    ["1,5", "en", 1.5],
    ["1.5", "de", 1.5],
    ["1,5", "de", 1.5],
    ["\u221260", "en", -60],
    ["-60", "en", -60],
    ["\u201360", "en", -60],
    ["+7", "en", 7],
    [".5", "en", 0.5],
    [",5", "en", 0.5],
    ["0,015", "en", 0.015],
    ["0.125", "de", 0.125],
    ["1.500", "en", 1.5],
    ["1,500", "de", 1.5],
    ["1,500.25", "en", 1500.25],
    ["1.500,25", "en", 1500.25],
    ["1 500", "en", 1500],
    [`18${NARROW}000,5`, "en", 18000.5],
    ["1,500,000", "en", 1_500_000],
    ["1'500", "en", 1500],
    ["1e3", "en", 1000],
    ["2500,5", "en", 2500.5],
  ] as const)("parseNumber(%s, %s) reads %d", (text, locale, value) => {
    expect(parseNumber(text, locale)).toEqual({ value, rest: "" });
  });

  test.each([
    ["1,500", "en", "1500 or 1.500"],
    ["1.500", "de", "1500 or 1,500"],
    ["12,345", "en", "12345 or 12.345"],
  ] as const)("parseNumber(%s, %s) asks which is meant", (text, locale, asked) => {
    const read = parseNumber(text, locale);
    expect("question" in read && read.question).toContain(asked);
  });

  test.each(["", "abc", "1 50", "1,50,000", "1.2.3,4,5", "12..5", "--5"])("parseNumber(%s) does not guess", (text) => {
    const read = parseNumber(text, "en");
    expect("question" in read || read.rest !== "").toBe(true);
  });

  test("parseNumber(formatNumber(x)) gives x back in every locale", () => {
    fc.assert(
      fc.property(fc.integer({ min: -9_999_999, max: 9_999_999 }), fc.integer({ min: 0, max: 3 }), fc.constantFrom("en", "de", "fr"), (n, digits, locale) => {
        const value = n / 10 ** digits;
        expect(parseNumber(formatNumber(value, digits, locale), locale)).toEqual({ value: value === 0 ? 0 : value, rest: "" });
      }),
      { seed: 2, numRuns: 500 },
    );
  });

  test("parseNumber(…) is quick on hostile input", () => {
    const begun = performance.now();
    for (const text of ["1,".repeat(20_000), "1 ".repeat(20_000), ".".repeat(40_000), `1${" ".repeat(40_000)}x`]) parseNumber(text, "en");
    // Backtracking would take minutes here; a second is generous on any machine.
    expect(performance.now() - begun).toBeLessThan(1000);
  });
});

describe("units", () => {
  test("makeWrite(…) parts number and unit by a no-break space", () => {
    expect(makeWrite("metric", "en")("speed", 15)).toBe(`54.0${NBSP}km/h`);
    expect(makeWrite("metric", "de")("speed", 15)).toBe(`54,0${NBSP}km/h`);
    expect(makeWrite("metric", "en")("velocityChange", -50 / 3)).toBe(`\u221260.0${NBSP}km/h`);
    expect(makeWrite("metric", "en")("ratio", 0.5)).toBe("0.50");
  });

  // NIST SP 811, appendix B: 1 lb = 0.453 592 37 kg, 1 mi/h = 0.447 04 m/s, 1 ft = 0.3048 m (second-hand).
  test("makeWrite(customary) converts by the published factors", () => {
    const write = makeWrite("customary", "en");
    expect(write("mass", 0.45359237 * 2000)).toBe(`2000${NBSP}lb`);
    expect(write("speed", 0.44704 * 35)).toBe(`35.0${NBSP}mph`);
    expect(write("distance", 0.3048 * 2.5)).toBe(`2.50${NBSP}ft`);
  });

  test("makeWrite(…) writes multiples of gravity so that no one reads grams", () => {
    expect(makeWrite("metric", "en")("acceleration", 9.80665 * 39.7)).toBe(`39.7${NBSP}g\u2099`);
    expect(unitText("gn")).not.toBe(unitText("g"));
  });

  test("makeWrite(…) keeps digits for bench values in the next smaller unit", () => {
    const write = makeWrite("metric", "en");
    expect(write("energy", 191_250)).toBe(`191.3${NBSP}kJ`);
    expect(write("energy", 0.25)).toBe(`0.25${NBSP}J`);
    expect(write("force", 12.34)).toBe(`12.3${NBSP}N`);
    expect(write("mass", 0.5)).toBe(`0.50${NBSP}kg`);
    expect(write("energy", 0)).toBe(`0.0${NBSP}kJ`);
  });

  test("makeWrite(…) writes what rounds to nought as nought, never negative, in every system and kind", () => {
    for (const system of ["metric", "customary", "laboratory"] as const) {
      const write = makeWrite(system, "en");
      // what binary rounding leaves of sums of such numbers
      for (const kind of Object.keys(KINDS) as KindId[]) for (const residue of [-0, 1e-16, -1e-16, -3e-13]) expect(write(kind, residue), `${kind} ${system}`).toBe(write(kind, 0));
    }
  });

  test("digitsFor(…) keeps the resolution of the metric unit to within half a digit", () => {
    for (const kind of Object.values(KINDS)) {
      const coarse = UNITS[kind.shown.metric].size * 10 ** -kind.digits;
      const unit = kind.shown.customary;
      const digits = digitsFor(kind, unit);
      if (digits > 0) expect(Math.abs(Math.log10((UNITS[unit].size * 10 ** -digits) / coarse))).toBeLessThanOrEqual(0.5);
    }
  });

  test("show(…, {unit, digits}) obeys the author in metric and the reader in the other system", () => {
    expect(show(KINDS.speed, 15, "metric", "en", { unit: "m/s", digits: 2 }).text).toBe(`15.00${NBSP}m/s`);
    expect(show(KINDS.speed, 15, "customary", "en", { unit: "m/s" }).text).toBe(`33.6${NBSP}mph`);
    expect(show(KINDS.duration, 0.0671, "customary", "en", { unit: "s" }).text).toBe(`0.067${NBSP}s`);
  });

  test("showSet(…) shows the digits of the step, and more where more were typed", () => {
    expect(showSet(KINDS.mass, 900, 10, "metric", "en").text).toBe(`900${NBSP}kg`);
    expect(showSet(KINDS.mass, 902.5, 10, "metric", "en").text).toBe(`902.5${NBSP}kg`);
    expect(showSet(KINDS.speed, 15, 1 / 3.6, "metric", "en").text).toBe(`54${NBSP}km/h`);
    expect(showSet(KINDS.mass, 0.5, 0.05, "metric", "en").text).toBe(`0.50${NBSP}kg`);
  });

  test("showInput(…) shows a start value that was converted to the digits its step or give warrants, a typed one as typed", () => {
    const of = (start: number, options: { step: number; give: number }, kind = mass) => kind("x", { start, from: 0, to: 5000, ...options }) as QuantityInput;
    const at = (input: QuantityInput, units: "metric" | "customary" = "metric", si = input.start) => showInput(input, si, units, "en").text;
    // A mass weighed as 3483 lb, a speed of 25 mph.
    const weighed = of(toSI(3483, "lb"), { step: 10, give: 10 });
    expect(at(weighed)).toBe(`1580${NBSP}kg`);
    expect(at(weighed, "customary")).toBe(`3483${NBSP}lb`);
    expect(at(weighed, "metric", 1580.25)).toBe(`1580.25${NBSP}kg`);
    expect(at(weighed, "customary", toSI(3483.5, "lb"))).toBe(`3483.5${NBSP}lb`);
    expect(at(of(toSI(25, "mph"), { step: 1 / 3.6, give: 0.3 }, speed))).toBe(`40${NBSP}km/h`);
    expect(at(of(902.5, { step: 10, give: 0.5 }))).toBe(`902.5${NBSP}kg`);
    expect(at(of(902.5, { step: 10, give: 0 }))).toBe(`902.5${NBSP}kg`);
  });

  test.each([
    ["54", 15],
    ["54 km/h", 15],
    ["15 m/s", 15],
    ["10 mph", 4.4704],
    ["36,0", 10],
  ])("readQuantity(%s) of a speed gives %d m/s", (text, si) => {
    expect(readQuantity(text, KINDS.speed, "metric", "en")).toEqual({ value: si });
  });

  test("readQuantity(…) refuses a unit of another dimension, and takes g only where it can only be gravity", () => {
    expect(readQuantity("54 kg", KINDS.speed, "metric", "en")).toHaveProperty("question");
    expect(readQuantity("20 g", KINDS.acceleration, "metric", "en")).toEqual({ value: tidy(20 * 9.80665) });
    expect(readQuantity("500 g", KINDS.mass, "metric", "en")).toEqual({ value: 0.5 });
  });

  test("readQuantity(show(x)) gives x back within the digits shown, in both systems", () => {
    for (const kind of Object.values(KINDS))
      for (const units of ["metric", "customary"] as const) {
        const si = toSI(1234.5, kind.shown[units]);
        const read = readQuantity(show(kind, si, units, "en").text, kind, units, "en");
        expect("value" in read && Math.abs(read.value - si) / UNITS[kind.shown[units]].size).toBeLessThanOrEqual(0.5 * 10 ** -digitsFor(kind, kind.shown[units]) + 1e-9);
      }
  });
});

const input = mass("test mass", { start: 900, from: 400, to: 3000, step: 10 }) as QuantityInput;
const speedInput = speed("speed", { start: 15, from: 0, to: 25, step: 1 / 3.6 }) as QuantityInput;

describe("inputs", () => {
  test("snap(…) lands on the same number from both sides, for 500 seeded values", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 90 }), fc.double({ min: -0.49, max: 0.49, noNaN: true }), (kmh, off) => {
        expect(snap(speedInput, (kmh + off) / 3.6, "metric")).toBe(tidy(toSI(kmh, "km/h")));
      }),
      { seed: 3, numRuns: 500 },
    );
  });

  test("stepped(…) goes up and down the grid and stops at the ends", () => {
    expect(stepped(input, 900, 1, "metric")).toBe(910);
    expect(stepped(input, 900, -1, "metric")).toBe(890);
    expect(stepped(input, 905, 1, "metric")).toBe(910);
    expect(stepped(input, 905, -1, "metric")).toBe(900);
    expect(stepped(input, 3000, 1, "metric")).toBe(3000);
    expect(stepped(input, 400, -10, "metric")).toBe(400);
  });

  test("gridStep(customary) is a round step of the unit on screen", () => {
    expect(gridStep(input, "customary")).toBeCloseTo(toSI(20, "lb"), 12);
    expect(stepped(input, toSI(2000, "lb"), 1, "customary")).toBe(tidy(toSI(2020, "lb")));
  });

  // WAI-ARIA Authoring Practices, slider pattern: right and up raise, left and down lower, Home and End go to the ends (from memory).
  test("keyed(…) follows the slider pattern", () => {
    const at = (key: string): number | undefined => keyed(input, 900, key, "metric");
    expect([at("ArrowRight"), at("ArrowUp"), at("ArrowLeft"), at("ArrowDown")]).toEqual([910, 910, 890, 890]);
    expect([at("PageUp"), at("PageDown"), at("Home"), at("End"), at("x")]).toEqual([1000, 800, 400, 3000, undefined]);
  });

  test("keyed(…) turns with a handle that points left or down", () => {
    expect(keyed(input, 900, "ArrowLeft", "metric", { x: true })).toBe(910);
    expect(keyed(input, 900, "ArrowUp", "metric", { x: true })).toBe(910);
    expect(keyed(input, 900, "ArrowDown", "metric", { y: true })).toBe(910);
  });

  test("slots(…) reach every value of the grid", () => {
    const { count, slotOf, valueAt } = slots(input, "metric");
    expect(count).toBe(260);
    for (let value = 400; value <= 3000; value += 10) expect(valueAt(slotOf(value))).toBe(value);
  });

  test("refusal(…) names the range in the reader's unit", () => {
    expect(refusal(input, 900, "metric", "en")).toBeUndefined();
    expect(refusal(input, 3001, "metric", "en")).toBe(`test mass must be between 400 and 3000${NBSP}kg`);
    expect(refusal(speedInput, 26, "metric", "en")).toBe(`speed must be between 0.0 and 90.0${NBSP}km/h`);
    expect(refusal(input, Number.NaN, "metric", "en")).toBe("test mass must be a number");
  });
});

const momentum = ({ a, b }: { a: { mass: number; speed: number }; b: { mass: number; speed: number } }) => ({ common: (a.mass * a.speed - b.mass * b.speed) / (a.mass + b.mass) });
const example: Lesson = lesson({
  inputs: {
    massA: input,
    speedA: speedInput,
    front: choice("front", { start: "soft", words: { soft: "soft nose", stiff: "stiff nose" } }),
    measured: table("measured points", { columns: { time: { label: "time", kind: KINDS.duration }, depth: { label: "depth", kind: KINDS.distance } }, start: { time: [0, 0.01], depth: [0, 0.125] }, example: () => ({ time: [0], depth: [0] }) }),
  },
  where: { "the first one moves": ({ speedA }) => speedA > 0 },
  outputs: {
    common: ratio("common velocity", { from: momentum, field: "common" }),
    way: verdict("which way they go on", { a: "the first one's way", b: "the second one's way" }),
    flip: flipPoint("mass", "mass at which they stop dead", { of: "way", along: "massA" }),
    said: sentence("result"),
  },
  run: ({ massA, speedA }, call, write) => {
    const { common } = call(momentum, { a: { mass: massA, speed: speedA }, b: { mass: 1800, speed: 10 } });
    if (massA === 2990) throw new RangeError("momentum: does not like 2990 kg");
    return { way: common > 0 ? "a" : "b", said: `They go on at ${write("velocity", common)}` };
  },
});

describe("link", () => {
  test("writeLink(…) names SI values of what differs, and readLink(…) gives the state back", () => {
    const inputs = { ...startOf(example), massA: 910, speedA: 12.5, front: "stiff" };
    const link = writeLink(example, inputs, "customary", "bench");
    expect(link).toBe("#page.scale=bench&page.units=customary&massA=910&speedA=12.5&front=stiff");
    expect(readLink(example, link, "en")).toEqual({ inputs, problems: [], units: "customary", scale: "bench" });
    expect(writeLink(example, startOf(example), "metric")).toBe("");
  });

  test("readLink(…) falls back value by value and says why", () => {
    const { inputs, problems } = readLink(example, "#massA=99999&speedA=12&front=huge&colour=red&measured=1", "en");
    expect(inputs).toEqual({ ...startOf(example), speedA: 12 });
    expect(problems).toHaveLength(4);
    expect(problems[0]).toBe(`\u201cmassA=99999\u201d: test mass must be between 400 and 3000${NBSP}kg; 900${NBSP}kg is shown instead.`);
    expect(problems[1]).toMatch(/^\u201cfront=huge\u201d: .* must be one of .*; \u201c.+\u201d is shown instead\.$/);
    expect(problems[2]).toBe("\u201ccolour=red\u201d: this page has no input of that name; it is left out.");
    expect(problems[3]).toContain("that a link can set");
    expect(readLink(example, "#massA=99999", "en", "customary").problems[0]).toMatch(/between 882 and 6614\u00a0lb; .*\u00a0lb is shown instead/);
  });

  test("readLink(…) survives any text", () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const { inputs } = readLink(example, `#massA=${text}&${text}=1&__proto__=1&constructor=2`, "en");
        expect(refusal(input, inputs["massA"] as number, "metric", "en")).toBeUndefined();
      }),
      { seed: 4, numRuns: 300 },
    );
  });

  test("readLink(…) takes an anchor for no state", () => {
    expect(readLink(example, "#answer", "en")).toEqual({ inputs: startOf(example), problems: [] });
  });
});

const data: PageData = { slug: "x", title: "x", provenance: {}, scales: { bench: { massA: { start: 0.5, from: 0.2, to: 2, step: 0.05 } } } };
const makeSession = (hash = "") => {
  let present = hash;
  const frames: (() => void)[] = [];
  const waiting: (() => void)[] = [];
  const changes: Change[] = [];
  const session = new Session(example, data, { frame: (work) => void frames.push(work), later: (work) => void waiting.push(work), now: () => performance.now(), hash: () => present, setHash: (next) => void (present = next) });
  session.subscribe((change) => changes.push(change));
  return { session, changes, hash: () => present, frame: () => frames.splice(0).forEach((work) => work()), rest: () => { while (waiting.length > 0) waiting.shift()?.(); } };
};

describe("Session with tables", () => {
  const measured = lesson({
    inputs: { runs: table("class measurements", { columns: { mass: { label: "mass", kind: KINDS.mass }, speed: { label: "speed", kind: KINDS.speed } }, start: { mass: [1], speed: [2] }, example: () => ({ mass: [1, 2], speed: [3, 4] }) }) },
    outputs: { said: sentence("result") },
    run: ({ runs }) => ({ said: `${runs.mass?.length ?? 0} runs` }),
  });
  const own = { mass: [0.5, 1 / 3], speed: [1.25, 1e-7] };
  const opened = (kept: Map<string, string>) => {
    const later: (() => void)[] = [];
    return new Session(measured, data, { frame: (work) => work(), later: (work) => void later.push(work), now: () => 0, hash: () => "", setHash: () => {}, keep: { read: (key) => kept.get(key) ?? null, write: (key, text) => void (text === null ? kept.delete(key) : kept.set(key, text)) } });
  };

  test("set(table) outlasts a reload, digit for digit, and reset() leaves nothing behind", () => {
    const kept = new Map<string, string>();
    opened(kept).set("runs", own);
    expect([...kept.keys()]).toEqual(["ridedown.table.x.runs"]);
    const again = opened(kept);
    expect(again.view.state.inputs["runs"]).toEqual(own);
    again.reset();
    expect(again.view.state.inputs["runs"]).toEqual({ mass: [1], speed: [2] });
    expect(kept.size).toBe(0);
  });

  test("a kept table that is broken is left aside", () => {
    expect(opened(new Map([["ridedown.table.x.runs", "no table"]])).view.state.inputs["runs"]).toEqual({ mass: [1], speed: [2] });
  });
});

describe("Session", () => {
  test("drag(…) computes once a frame, without flip points, and leaves the link alone", () => {
    const { session, changes, hash, frame, rest } = makeSession();
    session.drag("massA", 910);
    session.drag("massA", 920);
    expect(changes).toEqual([]);
    frame();
    expect(changes).toEqual(["drag"]);
    expect(session.view.state.inputs["massA"]).toBe(920);
    expect(session.view.state.outputs["flip"]).toBeUndefined();
    expect(hash()).toBe("");
    session.release();
    expect(changes).toEqual(["drag", "settled"]);
    rest();
    expect(changes).toEqual(["drag", "settled", "found"]);
    expect(session.view.state.outputs["flip"]).toMatchObject({ below: "b", above: "a" });
    expect(hash()).toBe("#massA=920");
  });

  test("the search for flip points is overtaken by a new state, and gives what evaluateWhole(…) gives", () => {
    const { session, changes, rest } = makeSession();
    session.set("massA", 950);
    session.set("speedA", 12);
    rest();
    expect(changes).toEqual(["settled", "settled", "found"]);
    expect(session.view.state.outputs["flip"]).toEqual(evaluateWhole(example, session.view.state.inputs, makeWrite("metric", "en")).outputs["flip"]);
  });

  test("release(…) before the frame came settles on the last value", () => {
    const { session, changes, frame } = makeSession();
    session.drag("massA", 950);
    session.release();
    frame();
    expect(changes).toEqual(["settled"]);
    expect(session.view.state.inputs["massA"]).toBe(950);
  });

  test("set(…) refuses in words and changes nothing", () => {
    const { session, changes } = makeSession();
    expect(session.set("massA", 5)).toContain("must be between");
    expect(changes).toEqual([]);
  });

  test("undo() goes back release by release, over scales too", () => {
    const { session } = makeSession();
    session.set("massA", 910);
    session.useScale("bench");
    expect(session.view.state.inputs["massA"]).toBe(0.5);
    session.set("massA", 0.55);
    session.undo();
    expect(session.view.state.inputs["massA"]).toBe(0.5);
    session.undo();
    expect([session.view.state.inputs["massA"], session.view.scale]).toEqual([910, undefined]);
    session.undo();
    expect([session.atStart, session.canUndo]).toEqual([true, false]);
  });

  test("useUnits(…) twice gives the identical state", () => {
    const { session, rest } = makeSession("#massA=912.345&speedA=13.7");
    rest();
    expect(session.view.state.outputs["flip"]).toBeDefined();
    const before = structuredClone({ inputs: session.view.state.inputs, outputs: session.view.state.outputs });
    session.useUnits("customary");
    expect(session.view.state.outputs["said"]).toContain("mph");
    session.useUnits("metric");
    expect({ inputs: session.view.state.inputs, outputs: session.view.state.outputs }).toEqual(before);
  });

  test("hold(…) keeps a case while the present one moves on", () => {
    const { session } = makeSession();
    session.hold(session.view.state);
    session.set("massA", 2000);
    expect(session.view.held?.inputs["massA"]).toBe(900);
    session.hold(undefined);
    expect(session.view.held).toBeUndefined();
  });

  test("an open question locks every way to change a state", () => {
    const { session, frame } = makeSession();
    session.changeQuestions((open) => open.add(1));
    session.drag("massA", 910);
    session.set("massA", 920);
    frame();
    expect(session.view.state.inputs["massA"]).toBe(900);
    session.changeQuestions((open) => open.delete(1));
    session.set("massA", 920);
    expect(session.view.state.inputs["massA"]).toBe(920);
  });

  test("a state outside where, and a kernel that refuses, are said in words", () => {
    const { session } = makeSession();
    session.set("speedA", 0);
    expect(session.view.state.outcome).toBe("the first one moves");
    session.set("speedA", 10);
    session.set("massA", 2990);
    expect(session.view.state.outcome).toContain("does not like 2990 kg");
  });

  test("a link with a scale is read against that scale", () => {
    const { session } = makeSession("#page.scale=bench&massA=0.7");
    expect([session.view.scale, session.view.state.inputs["massA"], session.problems]).toEqual(["bench", 0.7, []]);
    expect(makeSession("#page.scale=moon").session.problems).toHaveLength(1);
  });

  test("problems of a link go with the first change, whatever it is", () => {
    const changes: Readonly<Record<string, (session: ReturnType<typeof makeSession>["session"]) => void>> = {
      drag: (session) => session.drag("massA", 910),
      set: (session) => void session.set("massA", 910),
      reset: (session) => session.reset(),
      useUnits: (session) => session.useUnits("customary"),
      useScale: (session) => session.useScale("bench"),
    };
    for (const [name, change] of Object.entries(changes)) {
      const { session } = makeSession("#massA=99999");
      expect(session.problems, name).toHaveLength(1);
      change(session);
      expect(session.problems, name).toEqual([]);
    }
  });

  test("useScale(bench) speaks laboratory units and gives the reader's own back", () => {
    const { session } = makeSession("#page.units=customary");
    session.useScale("bench");
    expect([session.view.units, session.units]).toEqual(["laboratory", "customary"]);
    expect(makeWrite(session.view.units, "en")("speed", 0.75)).toBe(`0.750${NBSP}m/s`);
    session.useScale(undefined);
    expect(session.view.units).toBe("customary");
  });

  test("release() announces once for a drag of 200 steps", () => {
    const { session, changes, frame } = makeSession();
    for (let i = 0; i < 200; i++) {
      session.drag("massA", 900 + i);
      frame();
    }
    session.release();
    expect(changes.filter((change) => change === "settled")).toHaveLength(1);
  });
});

describe("tables", () => {
  const points = example.inputs["measured"];
  if (points?.type !== "table") throw new Error("the example has a table");

  test("readTable(tableText(…)) gives the table back in both systems and locales", () => {
    for (const units of ["metric", "customary"] as const)
      for (const locale of ["en", "de"]) {
        const read = readTable(tableText(points, points.start, units, locale), points, units, locale);
        expect("value" in read && read.value["time"]).toEqual([0, 0.01]);
        // Three decimals of a foot.
        expect("value" in read && read.value["depth"]?.[1]).toBeCloseTo(0.125, 3);
      }
  });

  test.each(["time;depth\n0;0\n10;0,125", "0\t0\n10\t0.125", "0,0\n10,0.125", "\ufefftime, depth\r\n0,0\r\n10,0.125\r\n"])("readTable(%j) takes the usual separators", (text) => {
    expect(readTable(text, points, "metric", "en")).toEqual({ value: { time: [0, 0.01], depth: [0, 0.125] } });
  });

  test.each(['time,depth\n"0","0"\n"10","0,125"', '"0","0,0"\r\n"10","0,125"', "depth;note;time\n0;;0\n0.125;deep;10", "time (s);depth [mm]\n0;0\n0.01;125", "0;0;\n10;0.125;"])("readTable(%j) takes quoted decimal commas, columns by their names, and units", (text) => {
    const read = readTable(text, points, "metric", "en");
    if ("question" in read) throw new Error(read.question);
    expect(read.value["time"]).toEqual([0, 0.01]);
    read.value["depth"]?.forEach((depth, i) => expect(depth).toBeCloseTo(i * 0.125, 12));
  });

  test("readTable(…) names line and column of what it cannot read", () => {
    const wrong = (text: string): string => {
      const read = readTable(text, points, "metric", "en");
      return "question" in read ? read.question : "";
    };
    expect(wrong("0;0\n10")).toBe("Line 2 has 1 value; it needs 2. Wanted in each: time; depth.");
    expect(wrong("0;0\n10;x")).toContain("Line 2, depth");
    const many = wrong("0;0\nx;1\n10\n10;1\n20;y\n30;z\n40;z");
    expect([...many.matchAll(/Line (\d+)/g)].map(([, line]) => line)).toEqual(["2", "3", "5"]);
    expect(many).toContain(" And 2 more lines.");
    expect(wrong("x;0\nx;1\nx;2\nx;3")).toMatch(/ And 1 more line\.$/);
    expect(wrong("x;0\nx;1\nx;2")).not.toContain("more");
    expect(wrong("time;depth")).toContain("no rows");
    expect(wrong("x;0\n10;1")).toContain("Line 1, time");
    expect(wrong("0,5,1\n10,2")).toContain("Decimal commas need semicolons or tabs");
    expect(wrong("time (furlong);depth\n0;0")).toContain("is no unit for it");
  });
});
