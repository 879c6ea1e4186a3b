/**
 * General and red flashes in a sequence of frames, for viewers whom flashing can harm.
 *
 * A flash is a pair of opposite changes of relative luminance by a tenth of full white or more, where the darker picture is below
 * 0.80; a red flash, a pair of opposite changes to or from saturated red (W3C, WCAG 2.2, general flash and red flash thresholds, from
 * memory). Broadcast guidance (ITU-R BT.1702, as quoted by others) has the same step on a screen of 200 cd/m2: 20 cd/m2, darker
 * picture below 160; more than three in any one second over more than a quarter of the picture fail in both.
 * The picture is judged in cells, by their means; a cell is far smaller than a quarter of it.
 */

export const COLUMNS = 32;
export const ROWS = 18;
const CELLS = COLUMNS * ROWS;

/** Luminance and redness of each cell: two numbers a cell. */
export type Cells = Float32Array;

const STEP = 0.1;
const DARKER = 0.8;
const RED_STEP = 20 / 320;
const SATURATED = 0.8;
const AREA = 0.25;
export const MOST_FLASHES = 3;

/** Relative luminance of an sRGB value (IEC 61966-2-1, from memory). */
const LINEAR = Float64Array.from({ length: 256 }, (_, v) => (v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4));
const [RED, GREEN, BLUE] = [0.2126, 0.7152, 0.0722];

/** Every so many-th pixel of a cell is looked at: a hundred of each. */
const STRIDE = 6;

/** The cells of straight RGBA pixels over a grey ground from 0 to 255. */
export const cellsOf = (pixels: Uint8Array, width: number, height: number, ground: number): Cells => {
  const cells = new Float32Array(2 * CELLS);
  const stride = Math.max(1, Math.round((STRIDE * height) / 1080));
  const under = LINEAR[ground] as number;
  for (let row = 0; row < ROWS; row++) {
    const [top, bottom] = [Math.floor((row * height) / ROWS), Math.floor(((row + 1) * height) / ROWS)];
    for (let col = 0; col < COLUMNS; col++) {
      const [left, right] = [Math.floor((col * width) / COLUMNS), Math.floor(((col + 1) * width) / COLUMNS)];
      let r = 0;
      let g = 0;
      let b = 0;
      let n = 0;
      for (let y = top; y < bottom; y += stride)
        for (let x = left; x < right; x += stride) {
          const i = 4 * (y * width + x);
          const alpha = pixels[i + 3] as number;
          n++;
          if (alpha === 0) {
            r += under;
            g += under;
            b += under;
            continue;
          }
          // Editing suites blend the encoded values; so does this.
          const rest = alpha === 255 ? 0 : ground * (255 - alpha);
          r += LINEAR[alpha === 255 ? (pixels[i] as number) : (((pixels[i] as number) * alpha + rest) / 255 + 0.5) | 0] as number;
          g += LINEAR[alpha === 255 ? (pixels[i + 1] as number) : (((pixels[i + 1] as number) * alpha + rest) / 255 + 0.5) | 0] as number;
          b += LINEAR[alpha === 255 ? (pixels[i + 2] as number) : (((pixels[i + 2] as number) * alpha + rest) / 255 + 0.5) | 0] as number;
        }
      const at = 2 * (row * COLUMNS + col);
      cells[at] = (RED * r + GREEN * g + BLUE * b) / n;
      // Positive where saturated: how red it is; else nought.
      cells[at + 1] = r + g + b > 0 && r / (r + g + b) >= SATURATED ? Math.max(0, (r - g - b) / n) : 0;
    }
  }
  return cells;
};

export interface Flashes {
  /** Most flashes in any one second over a quarter of the picture. */
  readonly most: number;
  /** Largest share of the picture that changes at once by a step that counts. */
  readonly area: number;
}

export interface FlashReport {
  readonly general: Flashes;
  readonly red: Flashes;
  readonly passes: boolean;
}

/** Follows one value of one cell: +1 or -1 where it has turned by a step, else 0. */
const follower = (step: number, counts: (low: number) => boolean): ((value: number) => -1 | 0 | 1) => {
  let [low, high] = [NaN, NaN];
  let way = 0;
  return (value) => {
    if (Number.isNaN(low)) {
      low = high = value;
      return 0;
    }
    if (way >= 0 && value > high) high = value;
    if (way <= 0 && value < low) low = value;
    if (way !== 1 && value - low >= step && counts(low)) {
      way = 1;
      high = value;
      return 1;
    }
    if (way !== -1 && high - value >= step && counts(value)) {
      way = -1;
      low = value;
      return -1;
    }
    return 0;
  };
};

/** Changes of each cell, frame by frame, to flashes over a quarter of the picture within a second. */
const flashesOf = (frames: readonly Cells[], channel: 0 | 1, perSecond: number): Flashes => {
  const [step, counts] = channel === 0 ? [STEP, (low: number): boolean => low < DARKER] : [RED_STEP, (): boolean => true];
  const followers = Array.from({ length: CELLS }, () => follower(step, counts));
  const window = Math.max(1, Math.round(perSecond));
  /** Frames at which each cell changed, within the last second. */
  const changes: number[][] = followers.map(() => []);
  let [most, area] = [0, 0];
  /** Changes of the whole picture, wherever in it: frames, alternating in direction. */
  const whole: number[] = [];
  let way = 0;
  frames.forEach((cells, frame) => {
    let [up, down] = [0, 0];
    followers.forEach((follow, i) => {
      const turned = follow(cells[2 * i + channel] as number);
      if (turned === 0) return;
      (changes[i] as number[]).push(frame);
      if (turned > 0) up++;
      else down++;
    });
    area = Math.max(area, Math.max(up, down) / CELLS);
    for (const [share, direction] of [[up / CELLS, 1], [down / CELLS, -1]] as const)
      if (share >= AREA && direction !== way) {
        whole.push(frame);
        way = direction;
      }
    while ((whole[0] ?? frame) <= frame - window) whole.shift();
    const counted: number[] = [];
    for (const list of changes) {
      while ((list[0] ?? frame) <= frame - window) list.shift();
      if (list.length > 1) counted.push(list.length >> 1);
    }
    counted.sort((p, q) => q - p);
    most = Math.max(most, whole.length >> 1, counted[Math.ceil(AREA * CELLS) - 1] ?? 0);
  });
  return { most, area };
};

/** Judges a sequence shown at `perSecond` frames a second. */
export const checkFlashes = (frames: readonly Cells[], perSecond: number): FlashReport => {
  const general = flashesOf(frames, 0, perSecond);
  const red = flashesOf(frames, 1, perSecond);
  return { general, red, passes: general.most <= MOST_FLASHES && red.most <= MOST_FLASHES };
};
