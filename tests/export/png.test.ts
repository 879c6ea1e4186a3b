// PNG files against the renderer's own reader of PNG, which is another's.
import { deflateSync, inflateSync } from "node:zlib";
import { Resvg } from "@resvg/resvg-js";
import { describe, expect, test } from "vitest";
import { decodePng, encodePng, straighten } from "../../shared/export/png.ts";

const deflate = (bytes: Uint8Array): Uint8Array => deflateSync(bytes, { level: 1 });
const inflate = (bytes: Uint8Array): Uint8Array => inflateSync(bytes);

/** Straight pixels of any alpha, the same for one seed. */
const pixelsOf = (width: number, height: number, opaque: boolean): Uint8Array => {
  let seed = 12345;
  const next = (): number => (seed = (Math.imul(seed, 1103515245) + 12345) >>> 0) >>> 24;
  const pixels = new Uint8Array(4 * width * height);
  for (let i = 0; i < width * height; i++) {
    // Runs of one colour, and rows that repeat.
    if (i % 7 < 4 && i >= width) pixels.copyWithin(4 * i, 4 * (i - width), 4 * (i - width) + 4);
    else pixels.set([next(), next(), next(), opaque ? 255 : next()], 4 * i);
  }
  return pixels;
};

describe("encodePng(…)", () => {
  test("is read back by the renderer's own reader to the same pixels", () => {
    const pixels = pixelsOf(61, 40, true);
    const url = `data:image/png;base64,${Buffer.from(encodePng(pixels, 61, 40, deflate)).toString("base64")}`;
    const image = new Resvg(`<svg xmlns="http://www.w3.org/2000/svg" width="61" height="40"><image width="61" height="40" href="${url}" image-rendering="optimizeSpeed"/></svg>`).render();
    expect(Buffer.compare(image.pixels, Buffer.from(pixels))).toBe(0);
  });
  test("says that its values are sRGB, 8 bits, with alpha", () => {
    const file = Buffer.from(encodePng(pixelsOf(5, 3, false), 5, 3, deflate));
    // PNG, second edition, 11.2.2 and 11.3.3.5: width, height, depth, colour type 6; then the sRGB chunk.
    expect([...file.subarray(16, 29)]).toEqual([0, 0, 0, 5, 0, 0, 0, 3, 8, 6, 0, 0, 0]);
    expect(file.subarray(37, 41).toString("latin1")).toBe("sRGB");
  });
  test("refuses pixels of another size", () => expect(() => encodePng(new Uint8Array(12), 2, 2, deflate)).toThrow(/pixels must be 16 bytes, got 12/));
});

describe("decodePng(…)", () => {
  test("gives back what was written, straight", () => {
    const pixels = pixelsOf(33, 21, false);
    const read = decodePng(encodePng(pixels, 33, 21, deflate), inflate);
    expect([read?.width, read?.height]).toEqual([33, 21]);
    expect(Buffer.compare(Buffer.from(read?.pixels ?? []), Buffer.from(pixels))).toBe(0);
  });
  test("takes no file that was cut short or changed", () => {
    const file = encodePng(pixelsOf(33, 21, false), 33, 21, deflate);
    const changed = file.slice();
    changed[200] = (changed[200] as number) ^ 1;
    expect([file.slice(0, -1), file.slice(0, 60), changed, new Uint8Array(0)].map((each) => decodePng(each, inflate))).toEqual(Array.from({ length: 4 }, () => undefined));
  });
});

describe("straighten(…)", () => {
  test("undoes the renderer's multiplication: half-opaque #ff8040", () => {
    const pixels = new Resvg('<svg xmlns="http://www.w3.org/2000/svg" width="1" height="1"><rect width="1" height="1" fill="#ff8040" fill-opacity="0.50196"/></svg>').render().pixels;
    expect([...pixels]).toEqual([128, 64, 32, 128]);
    straighten(pixels);
    expect([...pixels]).toEqual([255, 128, 64, 128]);
  });
});
