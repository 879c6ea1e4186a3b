/** PNG with straight alpha, 8 bits a channel, from the pixels of the renderer; and back, for files that this wrote. */

/** Compresses to a zlib stream. */
export type Deflate = (bytes: Uint8Array) => Uint8Array;

const SIGNATURE = [137, 80, 78, 71, 13, 10, 26, 10];
const CHANNELS = 4;
/** Each row as its difference from the one above (PNG, second edition, 9.2): flat ground becomes noughts. */
const UP = 2;

const CRC = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

const crcOf = (bytes: Uint8Array): number => {
  let c = 0xffffffff;
  for (let i = 0; i < bytes.length; i++) c = (CRC[(c ^ (bytes[i] as number)) & 0xff] as number) ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
};

const chunk = (name: string, data: Uint8Array): Uint8Array => {
  const out = new Uint8Array(data.length + 12);
  const view = new DataView(out.buffer);
  view.setUint32(0, data.length);
  for (let i = 0; i < 4; i++) out[4 + i] = name.charCodeAt(i);
  out.set(data, 8);
  view.setUint32(8 + data.length, crcOf(out.subarray(4, 8 + data.length)));
  return out;
};

const wordsIn = (pixels: Uint8Array): Uint32Array => (pixels.byteOffset % 4 === 0 ? new Uint32Array(pixels.buffer, pixels.byteOffset, pixels.length >> 2) : new Uint32Array(pixels.slice().buffer));

/** Colour as it is, whatever the alpha: the renderer's pixels are already multiplied by it. Changes them in place. */
export const straighten = (pixels: Uint8Array): void => {
  for (let i = 3; i < pixels.length; i += CHANNELS) {
    const alpha = pixels[i] as number;
    if (alpha === 255 || alpha === 0) continue;
    for (let k = i - 3; k < i; k++) pixels[k] = Math.min(255, Math.round(((pixels[k] as number) * 255) / alpha));
  }
};

/** Writes straight RGBA pixels. Marked as sRGB. */
export const encodePng = (pixels: Uint8Array, width: number, height: number, deflate: Deflate): Uint8Array => {
  if (pixels.length !== width * height * CHANNELS) throw new RangeError(`png: pixels must be ${width * height * CHANNELS} bytes, got ${pixels.length}`);
  const words = wordsIn(pixels);
  const stride = width * CHANNELS + 1;
  const rows = new Uint8Array(stride * height);
  const row = new Uint32Array(width);
  const bytes = new Uint8Array(row.buffer);
  row.set(words.subarray(0, width));
  rows.set(bytes, 1);
  rows[0] = UP;
  for (let y = 1; y < height; y++) {
    const at = y * width;
    rows[y * stride] = UP;
    let x = 0;
    while (x < width && words[at + x] === words[at + x - width]) x++;
    // A row like the one above stays noughts.
    if (x === width) continue;
    row.fill(0, 0, x);
    for (; x < width; x++) {
      // Four bytes at once, each less its own neighbour above.
      const p = words[at + x] as number;
      const q = words[at + x - width] as number;
      row[x] = p === q ? 0 : ((p | 0x80808080) - (q & 0x7f7f7f7f)) ^ ((p ^ ~q) & 0x80808080);
    }
    rows.set(bytes, y * stride + 1);
  }
  const header = new Uint8Array(13);
  const view = new DataView(header.buffer);
  view.setUint32(0, width);
  view.setUint32(4, height);
  header.set([8, 6, 0, 0, 0], 8);
  const parts = [Uint8Array.from(SIGNATURE), chunk("IHDR", header), chunk("sRGB", Uint8Array.of(0)), chunk("IDAT", deflate(rows)), chunk("IEND", new Uint8Array())];
  const out = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
};

export interface Picture {
  readonly width: number;
  readonly height: number;
  /** Straight RGBA. */
  readonly pixels: Uint8Array;
}

/** Reads a file that `encodePng` wrote; undefined where it is damaged or another's. */
export const decodePng = (file: Uint8Array, inflate: (bytes: Uint8Array) => Uint8Array): Picture | undefined => {
  if (!SIGNATURE.every((byte, i) => file[i] === byte)) return undefined;
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  let at = 8;
  let [width, height] = [0, 0];
  let data: Uint8Array | undefined;
  for (;;) {
    if (at + 12 > file.length) return undefined;
    const length = view.getUint32(at);
    if (at + 12 + length > file.length) return undefined;
    const name = String.fromCharCode(...file.subarray(at + 4, at + 8));
    const body = file.subarray(at + 8, at + 8 + length);
    if (view.getUint32(at + 8 + length) !== crcOf(file.subarray(at + 4, at + 8 + length))) return undefined;
    if (name === "IHDR") [width, height] = [view.getUint32(at + 8), view.getUint32(at + 12)];
    else if (name === "IDAT" && data === undefined) data = body;
    else if (name === "IEND") break;
    at += 12 + length;
  }
  if (data === undefined) return undefined;
  let rows: Uint8Array;
  try {
    rows = inflate(data);
  } catch {
    return undefined;
  }
  const stride = width * CHANNELS + 1;
  if (rows.length !== stride * height) return undefined;
  const pixels = new Uint8Array(width * height * CHANNELS);
  for (let y = 0; y < height; y++) {
    if (rows[y * stride] !== UP) return undefined;
    const out = y * width * CHANNELS;
    const from = y * stride + 1;
    for (let x = 0; x < width * CHANNELS; x++) pixels[out + x] = ((rows[from + x] as number) + (y === 0 ? 0 : (pixels[out + x - width * CHANNELS] as number))) & 255;
  }
  return { width, height, pixels };
};
