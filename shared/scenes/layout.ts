/** Where things stand on the sheet: one composition for wide screens, one for phones, where the rear ends run off the sheet. */
export interface Layout {
  readonly width: number;
  readonly height: number;
  readonly margin: number;
  readonly font: number;
  readonly ground: number;
  /** Most drawing units per metre of height 1.5: keeps roofs under the lanes. */
  readonly tallest: number;
  /** Baseline of the heading. */
  readonly heading: number;
  /** Heights of the two crush dimensions under the ground. */
  readonly crushA: number;
  readonly crushB: number;
  /** Longest force arrow, longest speed arrow. */
  readonly forceLength: number;
  readonly speedLength: number;
  /** The instruments under the drawing: left edge of each body's half, and places inside it. */
  readonly half: { readonly a: number; readonly b: number; readonly width: number };
  readonly mass: { readonly x: number; readonly y: number; readonly width: number };
  readonly front: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  readonly narrow: boolean;
}

export const WIDE: Layout = {
  width: 1200,
  height: 520,
  margin: 28,
  font: 15,
  ground: 326,
  tallest: 146,
  heading: 40,
  crushA: 352,
  crushB: 376,
  forceLength: 230,
  speedLength: 300,
  half: { a: 32, b: 620, width: 548 },
  mass: { x: 0, y: 424, width: 270 },
  front: { x: 316, y: 424, width: 216, height: 62 },
  narrow: false,
};

export const NARROW: Layout = {
  width: 390,
  height: 520,
  margin: 14,
  font: 14,
  ground: 250,
  tallest: 88,
  heading: 29,
  crushA: 276,
  crushB: 300,
  forceLength: 120,
  speedLength: 158,
  half: { a: 16, b: 204, width: 170 },
  mass: { x: 0, y: 340, width: 166 },
  front: { x: 0, y: 418, width: 166, height: 74 },
  narrow: true,
};
