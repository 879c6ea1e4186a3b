// A frozen card: bytes and hash pinned, and every change found.
import { createHash } from "node:crypto";
import { describe, expect, test } from "vitest";
import { canonicalText, type Card, cardFile, codeOf, freeze, hashOf, type KeptCard, linesOf, sealOf } from "../../shared/card/card.ts";
import { checkWords, readCard, verifyCard } from "../../shared/card/verifyCard.ts";
import { CARD } from "./fixture.ts";

/** Written out by hand from the definition at the head of shared/card/card.ts. */
const TEXT = `ridedown prediction card 1
lesson = sharing
title = Sharing out
question = Which one changes velocity more?
scenario = The Thornwick silo test
version = 0.1.0
frozen = 2031-05-17
by = Ada
study = 5000 runs
inputs.massA.label = mass of the Sprig
inputs.massA.value = 900 kg
inputs.massA.give = 10 kg
inputs.massA.reason = weighed
inputs.meeting.label = how they meet
inputs.meeting.value = they stick
inputs.meeting.give = 
inputs.meeting.reason = chosen
outputs.changeA.label = change of velocity of the Sprig
outputs.changeA.low = -61.0
outputs.changeA.likely = -60.0
outputs.changeA.high = -59.0
outputs.changeA.unit = km/h
outputs.push.label = largest push
outputs.push.low = 322
outputs.push.likely = 349
outputs.push.high = 376
outputs.push.unit = kN
outputs.share.label = share
outputs.share.low = 0.492
outputs.share.likely = 0.500
outputs.share.high = 0.508
outputs.share.unit = 1
verdicts.sharing.label = whose velocity changes more
verdicts.sharing.1.answer = the lighter one
verdicts.sharing.1.share = in 98 of 100
verdicts.sharing.2.answer = both alike
verdicts.sharing.2.share = in 2 of 100
`;
/** Of the bytes above, by Node's own SHA-256 at the time of writing: a card frozen then must still verify. */
const HASH = "63e2c3f1889d54b25211215ec8ea7e14bd091ea633ef6a6ef63c5dfec941c75f";

const copy = (): KeptCard => JSON.parse(JSON.stringify(freeze(CARD))) as KeptCard;

/** Every text of a card, as a way to change it in place. */
const places = (value: unknown, path: string): { readonly path: string; readonly change: (card: Card) => void }[] =>
  typeof value === "string"
    ? [{ path, change: (card) => {
        const keys = path.split("/").slice(1);
        const last = keys.pop() as string;
        const holder = keys.reduce<unknown>((at, key) => (at as Record<string, unknown>)[key], card) as Record<string, string>;
        holder[last] = `${holder[last]}9`;
      } }]
    : Object.entries(value as object).flatMap(([key, one]) => places(one, `${path}/${key}`));

describe("canonicalText(card)", () => {
  test("is the text that its definition gives", () => expect(canonicalText(CARD)).toBe(TEXT));

  test("hashes to the pinned value", () => {
    expect(createHash("sha256").update(TEXT, "utf8").digest("hex")).toBe(HASH);
    expect(hashOf(CARD)).toBe(HASH);
  });

  test("does not change with the kind of space, minus or letter composition", () => {
    const typed: Card = { ...CARD, question: "  Which one changes\u202fvelocity\n more? ", by: "Ada", outputs: CARD.outputs.map((o) => ({ ...o, low: o.low.replace("\u2212", "-") })) };
    expect(hashOf(typed)).toBe(HASH);
    expect(hashOf({ ...CARD, by: "Zo\u00eb" })).toBe(hashOf({ ...CARD, by: "Zoe\u0308" }));
  });

  test("cannot be made to hold another card's line by a value with a line feed", () => {
    const forged = { ...CARD, by: "Ada\nstudy = 9 runs" };
    expect(canonicalText(forged).split("\n").length).toBe(TEXT.split("\n").length);
    expect(hashOf(forged)).not.toBe(HASH);
  });
});

describe("codeOf(hash)", () => {
  test("is the first 80 bits in base 32, four groups of four", () => {
    const bits = [...Buffer.from(HASH, "hex").subarray(0, 10)].map((byte) => byte.toString(2).padStart(8, "0")).join("");
    const letters = (bits.match(/.{5}/g) ?? []).map((five) => "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"[Number.parseInt(five, 2)]).join("");
    expect(codeOf(HASH)).toBe(letters.replace(/(.{4})(?=.)/g, "$1-"));
  });
});

describe("verifyCard(kept)", () => {
  test("finds a card as frozen unchanged, after a round trip through its file", () => {
    const read = readCard(cardFile(freeze(CARD)));
    expect(read).toHaveProperty("kept");
    const check = verifyCard((read as { kept: KeptCard }).kept, codeOf(HASH).toLowerCase().replaceAll("-", " "));
    expect(check).toMatchObject({ unchanged: true, changes: [], hash: HASH, published: true });
    expect(checkWords(check)[0]).toMatch(/^Not changed after freeze/);
  });

  const every = places(CARD, "").filter(({ path }) => !path.endsWith("/name"));
  test("covers every text of the card but the short names that are part of each path", () => expect(every.length).toBe(linesOf(CARD).length));

  test.each(every)("shows a change at $path, and says what stands there now", ({ change }) => {
    const kept = copy();
    change(kept.card);
    const check = verifyCard(kept, codeOf(HASH));
    expect(check.unchanged).toBe(false);
    expect(check.published).toBe(false);
    expect(check.changes).toHaveLength(1);
    expect(check.changes[0]?.what).toBe("changed");
    expect(check.changes[0]?.text).toMatch(/9$/);
    expect(checkWords(check).slice(0, 2).join(" ")).toMatch(/^Changed after freeze\. Changed: .*9\u201d\.$/);
  });

  test("shows a change of a short name, a value taken out, and one put in", () => {
    const renamed = copy();
    (renamed.card.outputs as unknown as { name: string }[])[1]!.name = "shove";
    expect(verifyCard(renamed).changes.map(({ what }) => what)).toEqual(expect.arrayContaining(["added", "removed"]));
    const shorter = copy();
    (shorter.card.outputs as unknown[]).pop();
    expect(verifyCard(shorter).changes.every(({ what }) => what === "removed")).toBe(true);
    expect(verifyCard(shorter).unchanged).toBe(false);
    const longer = copy();
    (longer.card.inputs as unknown[]).push({ name: "luck", label: "luck", value: "1", give: "", reason: "" });
    expect(verifyCard(longer).changes.map(({ what }) => what)).toEqual(["added", "added", "added", "added"]);
  });

  test("shows another order of the values, and a seal or hash that was rewritten", () => {
    const turned = copy();
    (turned.card.outputs as unknown[]).reverse();
    expect(verifyCard(turned)).toMatchObject({ unchanged: false, changes: [] });
    expect(checkWords(verifyCard(turned)).join(" ")).toContain("the order of the values");
    const resealed = copy();
    (resealed.card.outputs[1] as { high: string }).high = "400";
    (resealed.seals as Record<string, string>)["outputs.push.high"] = sealOf(linesOf(resealed.card).find(({ path }) => path === "outputs.push.high")!);
    expect(verifyCard(resealed)).toMatchObject({ unchanged: false, changes: [] });
    expect(verifyCard({ ...copy(), hash: HASH.replace(/^6/, "f") }).unchanged).toBe(false);
  });

  test("tells a card made anew from the one whose code was published", () => {
    const anew = freeze({ ...CARD, outputs: CARD.outputs.map((o) => ({ ...o, high: "999" })) });
    const check = verifyCard(anew, codeOf(HASH));
    expect(check).toMatchObject({ unchanged: true, published: false });
    expect(checkWords(check).at(-1)).toContain("Its code is not the one given.");
    expect(checkWords(verifyCard(anew)).at(-1)).toContain("only a code published before the take");
  });
});

describe("readCard(text)", () => {
  const but = (change: (kept: Record<string, unknown>) => void): string => {
    const kept = copy() as unknown as Record<string, unknown>;
    change(kept);
    return JSON.stringify(kept);
  };
  test.each<[string, string, RegExp]>([
    ["no JSON", "hello", /cannot be read/],
    ["a list", "[]", /no group of values/],
    ["another format", but((k) => (k["format"] = "card 9")), /card 9/],
    ["an extra part", but((k) => (k["note"] = "x")), /\u201cnote\u201d, which no card has/],
    ["an extra value inside", but((k) => ((k["card"] as Record<string, unknown>)["extra"] = "x")), /\u201cextra\u201d, which no card has/],
    ["a number for a text", but((k) => (((k["card"] as Record<string, unknown>)["outputs"] as Record<string, unknown>[])[0]!["low"] = 3)), /no text for \u201clow\u201d/],
    ["no list", but((k) => ((k["card"] as Record<string, unknown>)["inputs"] = {})), /no list of inputs/],
    ["one name twice", but((k) => ((k["card"] as { outputs: unknown[] }).outputs.push((k["card"] as { outputs: unknown[] }).outputs[0]))), /twice/],
    ["no seals", but((k) => delete k["seals"]), /seals/],
    ["a file without end", "x".repeat(3_000_000), /too long/],
  ])("refuses %s in words", (_, text, words) => expect((readCard(text) as { question: string }).question).toMatch(words));
});
