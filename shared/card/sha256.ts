/**
 * SHA-256 of a text, as in FIPS 180-4: the same code freezes a card on the page, where a file opened from disk may have no
 * cryptography of the browser's own, and in Node.
 */

const ROUNDS = 64;

/** First 32 bits of the fractional part of a root of a prime, worked out here rather than listed: whole-number arithmetic, so exact. */
const fractionOfRoot = (prime: number, degree: 2n | 3n): number => {
  // floor of the root of prime * 2^(32 degree), by Newton's steps from above
  const of = BigInt(prime) << (32n * degree);
  let root = 1n << 40n;
  for (;;) {
    const next = ((degree - 1n) * root + of / root ** (degree - 1n)) / degree;
    if (next >= root) return Number(root & 0xffffffffn);
    root = next;
  }
};

const primes = (count: number): number[] => {
  const found: number[] = [];
  for (let n = 2; found.length < count; n++) if (found.every((prime) => n % prime !== 0)) found.push(n);
  return found;
};

const START = primes(8).map((prime) => fractionOfRoot(prime, 2n));
const CONSTANTS = primes(ROUNDS).map((prime) => fractionOfRoot(prime, 3n));

const turned = (word: number, by: number): number => (word >>> by) | (word << (32 - by));

/** Message in whole blocks of 64 bytes: a 1 bit, zeros, and the length in bits. */
const padded = (message: Uint8Array): DataView => {
  const bytes = new Uint8Array((((message.length + 8) >> 6) + 1) << 6);
  bytes.set(message);
  bytes[message.length] = 0x80;
  const view = new DataView(bytes.buffer);
  view.setUint32(bytes.length - 8, Math.floor(message.length / 2 ** 29));
  view.setUint32(bytes.length - 4, (message.length << 3) >>> 0);
  return view;
};

export const sha256Bytes = (text: string): Uint8Array => {
  const blocks = padded(new TextEncoder().encode(text));
  const hash = Uint32Array.from(START);
  const w = new Uint32Array(ROUNDS);
  for (let block = 0; block < blocks.byteLength; block += 64) {
    for (let t = 0; t < 16; t++) w[t] = blocks.getUint32(block + 4 * t);
    for (let t = 16; t < ROUNDS; t++) {
      const early = w[t - 15] as number;
      const late = w[t - 2] as number;
      w[t] = (turned(late, 17) ^ turned(late, 19) ^ (late >>> 10)) + (w[t - 7] as number) + (turned(early, 7) ^ turned(early, 18) ^ (early >>> 3)) + (w[t - 16] as number);
    }
    let [a, b, c, d, e, f, g, h] = hash as unknown as [number, number, number, number, number, number, number, number];
    for (let t = 0; t < ROUNDS; t++) {
      const first = (h + (turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)) + ((e & f) ^ (~e & g)) + (CONSTANTS[t] as number) + (w[t] as number)) | 0;
      const second = ((turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      [a, b, c, d, e, f, g, h] = [(first + second) | 0, a, b, c, (d + first) | 0, e, f, g];
    }
    [a, b, c, d, e, f, g, h].forEach((word, i) => (hash[i] = (hash[i] as number) + word));
  }
  const bytes = new Uint8Array(32);
  hash.forEach((word, i) => new DataView(bytes.buffer).setUint32(4 * i, word));
  return bytes;
};

const hex = (bytes: Uint8Array): string => [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");

export const sha256 = (text: string): string => hex(sha256Bytes(text));

/** Letters and digits of RFC 4648, section 6: none that are taken for one another. */
const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

/** Base 32 of RFC 4648 without its padding. */
export const base32 = (bytes: Uint8Array): string => {
  let text = "";
  let bits = 0;
  let held = 0;
  for (const byte of bytes) {
    held = (held << 8) | byte;
    for (bits += 8; bits >= 5; bits -= 5) text += LETTERS[(held >>> (bits - 5)) & 31];
    held &= (1 << bits) - 1;
  }
  return bits > 0 ? text + LETTERS[(held << (5 - bits)) & 31] : text;
};

export const bytesOfHex = (text: string): Uint8Array => Uint8Array.from(text.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
