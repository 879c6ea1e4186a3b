// The hash of a card against the standard's own examples and against Node's implementation.
import { createHash } from "node:crypto";
import { describe, expect, test } from "vitest";
import { uniform } from "../../lib/math/random.ts";
import { base32, bytesOfHex, sha256 } from "../../shared/card/sha256.ts";

const SEED = 7;

describe("sha256(text)", () => {
  // NIST, examples for FIPS 180-4, SHA-256: one block, two blocks; the empty text. From memory, and checked against Node below.
  test.each([
    ["", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"],
    ["abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"],
    ["abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"],
  ])("gives the standard's example for %j", (text, hash) => expect(sha256(text)).toBe(hash));

  test("agrees with Node for every length from 0 to 200, beyond ASCII too", () => {
    const letters = [..."aZ09 =\n\u00e9\u2212\u2099\u{1f697}"];
    for (let length = 0; length <= 200; length++) {
      const text = Array.from({ length }, (_, i) => letters[Math.floor(uniform(SEED, length, i) * letters.length)]).join("");
      expect(sha256(text), `length ${length}`).toBe(createHash("sha256").update(text, "utf8").digest("hex"));
    }
  });

  test("agrees with Node for a text of a megabyte", () => {
    const text = "0123456789abcdef".repeat(65_536);
    expect(sha256(text)).toBe(createHash("sha256").update(text).digest("hex"));
  });
});

describe("base32(bytes)", () => {
  // RFC 4648, section 10, test vectors; padding left out.
  test.each([
    ["", ""],
    ["f", "MY"],
    ["fo", "MZXQ"],
    ["foo", "MZXW6"],
    ["foob", "MZXW6YQ"],
    ["fooba", "MZXW6YTB"],
    ["foobar", "MZXW6YTBOI"],
  ])("writes %j as RFC 4648 does", (text, code) => expect(base32(new TextEncoder().encode(text))).toBe(code));

  test("reads back the hex it is given", () => expect([...bytesOfHex("00ff10")]).toEqual([0, 255, 16]));
});
