// After the take: measured values against printed ranges, misses included.
import { describe, expect, test } from "vitest";
import { compareCard, readMeasured, readMeasurements, tallyWords } from "../../shared/card/compareCard.ts";
import { renderComparison } from "../../shared/render/card.ts";
import { CARD } from "./fixture.ts";

const changeA = CARD.outputs[0]!;
const push = CARD.outputs[1]!;

describe("compareCard(card, measured)", () => {
  test("says inside, outside and open in plain words, with how far a miss lies out", () => {
    const compared = compareCard(CARD, { changeA: { value: -60.4, give: 0.2 }, push: { value: 380, give: 1 }, share: { value: 0.509, give: 0.005 } });
    expect(compared.map(({ verdict }) => verdict)).toEqual(["inside", "outside", "open"]);
    expect(compared[1]?.beyond).toBe(4);
    expect(compared[1]?.words).toBe("missed: 4.0\u00a0kN above the range");
    expect(compared[2]?.words).toContain("cannot be told");
  });

  test("reads negative printed numbers with their sign", () => expect(compareCard(CARD, { changeA: { value: -58, give: 0 } })[0]).toMatchObject({ verdict: "outside", beyond: 1 }));

  test("counts misses and what was not measured in the sentence and in the table", () => {
    const compared = compareCard(CARD, { push: { value: 300, give: 0 } });
    expect(tallyWords(CARD, compared)).toBe("Of 1 measured value, 0 inside the range, 1 missed, 0 too near an end to tell; 2 predicted but not measured.");
    const html = renderComparison(CARD, compared);
    expect(html).toContain("missed: 22.0\u00a0kN below the range");
    expect(html.match(/not measured/g)).toHaveLength(3);
  });
});

describe("readMeasured(value, give, output, locale)", () => {
  test("takes the card's unit, another unit of the same kind, and a decimal comma", () => {
    expect(readMeasured("-58.3", "", changeA, "en")).toEqual({ value: -58.3, give: 0 });
    // 1 mph is 1.609344 km/h exactly (international mile, 1959)
    expect(readMeasured("10 mph", "\u00b1 1 mph", changeA, "en")).toEqual({ value: 16.09344, give: 1.609344 });
    expect(readMeasured("340,5 kN", "2000 N", push, "de")).toEqual({ value: 340.5, give: 2 });
  });

  test("asks back where the unit does not fit, the number is none, or the give or take is below nothing", () => {
    for (const [value, give] of [["3 kg", ""], ["much", ""], ["3", "-1"], ["3", "1 kg"]] as const) expect(readMeasured(value, give, push, "en"), value).toHaveProperty("question");
  });
});

describe("readMeasurements(text, card, locale)", () => {
  const EXPECTED = { changeA: { value: -58.3, give: 0.5 }, push: { value: 360, give: 0 } };
  // header or none, semicolon or tab, both line ends, long and short names
  const files = [";", "\t"].flatMap((sign) => ["\n", "\r\n"].flatMap((end) => ["", ["quantity", "value", "give or take"].join(sign) + end].flatMap((head) => ["changeA", "Change of velocity of the Sprig"].map((name) => head + [[name, "-58.3", "0.5"].join(sign), ["push", "360"].join(sign), ""].join(end)))));
  test.each(files.map((text) => [JSON.stringify(text), text]))("reads %s", (_, text) => expect(readMeasurements(text, CARD, "en")).toEqual({ measured: EXPECTED, questions: [] }));

  test("names the line that it cannot read and keeps the others", () => {
    const { measured, questions } = readMeasurements("changeA; -58.3\npsuh; 360\npush; 3 kg\nchangeA; 1", CARD, "en");
    expect(Object.keys(measured)).toEqual(["changeA"]);
    expect(questions.map((q) => q.slice(0, 6))).toEqual(["Line 2", "Line 3", "Line 4"]);
  });
});
