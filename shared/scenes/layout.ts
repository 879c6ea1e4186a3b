/** Where things stand on the sheet: one composition for wide screens, one for phones, where the rear ends run off the sheet. */
export interface Layout {
  readonly width: number;
  readonly height: number;
  readonly margin: number;
  readonly font: number;
  /** Type of the words of forces and crushes. */
  readonly small: number;
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
  height: 544,
  margin: 28,
  font: 15,
  small: 15,
  ground: 320,
  tallest: 156,
  heading: 40,
  crushA: 346,
  crushB: 368,
  forceLength: 230,
  speedLength: 300,
  half: { a: 34, b: 626, width: 540 },
  mass: { x: 0, y: 414, width: 230 },
  front: { x: 290, y: 414, width: 242, height: 82 },
  narrow: false,
};

/** As wide as a page on a phone of 390 pixels has room for, so that its type keeps its size. */
export const NARROW: Layout = {
  width: 358,
  height: 546,
  margin: 12,
  font: 15,
  small: 13,
  ground: 244,
  tallest: 84,
  heading: 30,
  crushA: 268,
  crushB: 290,
  forceLength: 120,
  speedLength: 132,
  half: { a: 14, b: 190, width: 154 },
  mass: { x: 0, y: 336, width: 138 },
  front: { x: 16, y: 414, width: 134, height: 82 },
  narrow: true,
};
