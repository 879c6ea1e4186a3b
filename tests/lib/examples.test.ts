/** Every `@example` of lib is run: the number after `//` is what the call gives. */
import { describe, expect, test } from "vitest";
import { documented, evaluate } from "./kernels.ts";

const RELATIVE = 1e-6; // the digits that an example is expected to print

const stated = (text: string): unknown => {
  const number = /^-?(?:\d[\d_]*)?\.?\d+(?:e[+-]?\d+)?/i.exec(text)?.[0];
  if (number !== undefined) return Number(number.replaceAll("_", ""));
  try {
    return JSON.parse(text);
  } catch {
    return text;
  }
};

describe("examples in doc comments", () => {
  test("exist", () => expect(documented.flatMap(({ examples }) => examples).length).toBeGreaterThan(0));
  for (const { file, line, examples } of documented)
    for (const { code, value } of examples)
      test(`${code} gives ${value} (lib/${file}:${line})`, () => {
        expect(value, "an example states its value after //").not.toBe("");
        const given = evaluate(code);
        const wanted = stated(value);
        if (typeof wanted !== "number") return expect(given).toEqual(wanted);
        expect(typeof given).toBe("number");
        expect(Math.abs((given as number) - wanted), `gives ${given}`).toBeLessThanOrEqual(RELATIVE * Math.abs(wanted));
      });
});
