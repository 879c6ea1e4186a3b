import { expect, test } from "vitest";
import { requireBetween, requireFinite, requireIncreasing, requireNonNegative, requireOneOf, requirePositive, requireSameLength, requireSeries } from "../../lib/check.ts";

const CASES: readonly [string, () => void, string, typeof Error][] = [
  ["requirePositive refuses a negative width", () => requirePositive("crushEnergy", "width", -1.5, "m"), "crushEnergy: width must be > 0 m, got -1.5", RangeError],
  ["requirePositive refuses zero", () => requirePositive("k", "mass", 0, "kg"), "k: mass must be > 0 kg, got 0", RangeError],
  ["requireFinite refuses NaN", () => requireFinite("k", "velocity", Number.NaN, "m/s"), "k: velocity must be finite m/s, got NaN", RangeError],
  ["requirePositive refuses infinity", () => requirePositive("k", "mass", Infinity, "kg"), "k: mass must be > 0 kg, got Infinity", RangeError],
  ["requireNonNegative refuses a text", () => requireNonNegative("k", "mass", "12" as never, "kg"), 'k: mass must be a number >= 0 kg, got "12"', TypeError],
  ["requireBetween names both ends", () => requireBetween("k", "restitution", 1.16, 0, 1), "k: restitution must be between 0 and 1, got 1.16", RangeError],
  ["requireSeries says how many it needs", () => requireSeries("k", "time", [1], 2, "s"), "k: time must have at least 2 values, got 1", TypeError],
  ["requireSeries names the broken entry", () => requireSeries("k", "time", [0, Number.NaN], 2, "s"), "k: time[1] must be finite s, got NaN", RangeError],
  ["requireSameLength says both lengths", () => requireSameLength("k", "time", [1, 2], "force", [1]), "k: time and force must have the same length, got 2 and 1", TypeError],
  ["requireIncreasing names the place", () => requireIncreasing("k", "time", [0, 1, 1], "s"), "k: time[2] must be > 1 s (values must rise), got 1", RangeError],
  ["requireOneOf lists the words", () => requireOneOf("k", "shape", "sine", ["square", "halfSine"]), 'k: shape must be one of square, halfSine, got "sine"', TypeError],
];

test.each(CASES)("%s", (_, refuse, message, kind) => {
  expect(refuse).toThrow(new kind(message));
  expect(refuse).toThrow(kind);
});
