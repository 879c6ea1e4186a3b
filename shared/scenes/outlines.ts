/**
 * Invented outlines in side view, and how a front folds. Lengths in metres: depth `d` backwards from the foremost point, height `h`
 * above the ground. An outline never changes with mass; only crush and a lost part of the cabin change it.
 */
import type { DrawnAs } from "./spec.ts";

type DepthHeight = readonly [d: number, h: number];
type Stroke = readonly ["M" | "L", DepthHeight] | readonly ["Q", DepthHeight, DepthHeight] | readonly ["C", DepthHeight, DepthHeight, DepthHeight];

export interface Outline {
  readonly length: number;
  readonly height: number;
  /** Closed outline of the shell, flattened. */
  readonly shell: readonly DepthHeight[];
  readonly windows: readonly (readonly DepthHeight[])[];
  /** Thin lines inside the shell: door, sill, lamp. */
  readonly details: readonly (readonly DepthHeight[])[];
  readonly wheels: readonly { readonly d: number; readonly radius: number }[];
  /** Depth that folds where nothing else is said. */
  readonly fold: number;
  /** Depth of the wall between the front and the cabin, and of the pillar behind the front seat. */
  readonly firewall: number;
  readonly pillar: number;
  /** Hip of the person in the front seat. Left out: nobody rides. */
  readonly hip?: DepthHeight;
  /** Where the tag stands. */
  readonly tag: DepthHeight;
}

/** Pieces of a curve and of a straight line, which has to be able to fold too. */
const PIECES = { curve: 8, line: 3 } as const;

const flatten = (strokes: readonly Stroke[]): DepthHeight[] => {
  const points: DepthHeight[] = [];
  for (const stroke of strokes) {
    const end = stroke[stroke.length - 1] as DepthHeight;
    const from = points[points.length - 1];
    if (stroke[0] === "M" || !from) {
      points.push(end);
      continue;
    }
    // A Bezier of any degree, by repeated halfway points; straight lines too, so that they can fold.
    const controls = [from, ...(stroke.slice(1) as DepthHeight[])];
    const pieces = stroke[0] === "L" ? PIECES.line : PIECES.curve;
    for (let i = 1; i <= pieces; i++) {
      let row = controls;
      while (row.length > 1) row = row.slice(1).map((q, k) => [0, 1].map((axis) => (row[k] as DepthHeight)[axis as 0 | 1] + (i / pieces) * (q[axis as 0 | 1] - (row[k] as DepthHeight)[axis as 0 | 1])) as unknown as DepthHeight);
      points.push(row[0] as DepthHeight);
    }
  }
  return points;
};

const arch = (d: number, radius: number, floor: number): Stroke[] => {
  const half = radius * 1.2;
  return [
    ["L", [d + half, floor]],
    ["C", [d + half * 1.04, floor + radius * 1.78], [d - half * 1.04, floor + radius * 1.78], [d - half, floor]],
  ];
};

const hatch: Outline = {
  length: 3.55,
  height: 1.48,
  shell: flatten([
    ["M", [0.12, 0.2]],
    ["Q", [0, 0.21], [0, 0.36]],
    ["L", [0.015, 0.56]],
    ["Q", [0.03, 0.7], [0.2, 0.77]],
    ["Q", [0.58, 0.9], [0.98, 0.93]],
    ["Q", [1.32, 1.27], [1.66, 1.41]],
    ["Q", [2, 1.5], [2.5, 1.47]],
    ["Q", [2.98, 1.44], [3.2, 1.33]],
    ["Q", [3.38, 1.08], [3.46, 0.86]],
    ["Q", [3.55, 0.8], [3.55, 0.6]],
    ["L", [3.54, 0.34]],
    ["Q", [3.53, 0.22], [3.4, 0.2]],
    ...arch(2.96, 0.29, 0.2),
    ...arch(0.66, 0.29, 0.2),
    ["L", [0.12, 0.2]],
  ]),
  windows: [
    flatten([["M", [1.16, 0.95]], ["Q", [1.42, 1.22], [1.7, 1.33]], ["Q", [1.9, 1.37], [2.14, 1.375]], ["L", [2.14, 0.96]], ["L", [1.16, 0.95]]]),
    flatten([["M", [2.22, 0.96]], ["L", [2.22, 1.375]], ["Q", [2.74, 1.37], [3.02, 1.27]], ["Q", [3.16, 1.1], [3.2, 0.97]], ["L", [2.22, 0.96]]]),
  ],
  details: [
    flatten([["M", [1.06, 0.88]], ["L", [1.06, 0.34]], ["L", [2.18, 0.3]], ["L", [2.18, 0.96]]]),
    flatten([["M", [0.04, 0.62]], ["Q", [0.12, 0.7], [0.28, 0.72]], ["Q", [0.2, 0.6], [0.04, 0.62]]]),
    flatten([["M", [3.53, 0.7]], ["L", [3.38, 0.72]]]),
  ],
  wheels: [
    { d: 0.66, radius: 0.29 },
    { d: 2.96, radius: 0.29 },
  ],
  fold: 0.55,
  firewall: 1.02,
  pillar: 2.18,
  hip: [2.04, 0.5],
  tag: [2.76, 0.7],
};

const estate: Outline = {
  length: 4.8,
  height: 1.5,
  shell: flatten([
    ["M", [0.1, 0.2]],
    ["Q", [0, 0.21], [0, 0.36]],
    ["L", [0, 0.68]],
    ["Q", [0.01, 0.8], [0.16, 0.83]],
    ["Q", [0.8, 0.94], [1.36, 0.96]],
    ["Q", [1.66, 1.26], [1.98, 1.42]],
    ["Q", [2.24, 1.5], [3, 1.5]],
    ["L", [4.2, 1.47]],
    ["Q", [4.5, 1.46], [4.58, 1.36]],
    ["L", [4.74, 0.96]],
    ["Q", [4.8, 0.88], [4.8, 0.62]],
    ["L", [4.79, 0.36]],
    ["Q", [4.78, 0.22], [4.64, 0.2]],
    ...arch(3.72, 0.31, 0.2),
    ...arch(0.88, 0.31, 0.2),
    ["L", [0.1, 0.2]],
  ]),
  windows: [
    flatten([["M", [1.54, 0.97]], ["Q", [1.8, 1.26], [2.06, 1.37]], ["L", [2.5, 1.4]], ["L", [2.5, 0.98]], ["L", [1.54, 0.97]]]),
    flatten([["M", [2.58, 0.98]], ["L", [2.58, 1.4]], ["L", [3.46, 1.39]], ["L", [3.46, 0.98]], ["L", [2.58, 0.98]]]),
    flatten([["M", [3.54, 0.98]], ["L", [3.54, 1.39]], ["L", [4.36, 1.36]], ["L", [4.54, 0.98]], ["L", [3.54, 0.98]]]),
  ],
  details: [
    flatten([["M", [1.44, 0.9]], ["L", [1.44, 0.34]], ["L", [2.54, 0.3]], ["L", [2.54, 0.98]]]),
    flatten([["M", [0.02, 0.66]], ["L", [0.2, 0.68]], ["L", [0.2, 0.54]], ["L", [0.01, 0.54]]]),
    flatten([["M", [4.79, 0.72]], ["L", [4.66, 0.72]]]),
  ],
  wheels: [
    { d: 0.88, radius: 0.31 },
    { d: 3.72, radius: 0.31 },
  ],
  fold: 0.6,
  firewall: 1.38,
  pillar: 2.54,
  hip: [2.4, 0.5],
  tag: [3, 0.7],
};

/** A laboratory trolley: the front that folds is its long sprung buffer. */
const trolley: Outline = {
  length: 0.36,
  height: 0.115,
  shell: flatten([["M", [0.13, 0.028]], ["L", [0.13, 0.062]], ["L", [0.146, 0.072]], ["L", [0.344, 0.072]], ["L", [0.36, 0.062]], ["L", [0.36, 0.028]], ["L", [0.13, 0.028]]]),
  windows: [],
  details: [flatten([["M", [0.148, 0.05]], ["L", [0.342, 0.05]]])],
  wheels: [
    { d: 0.175, radius: 0.022 },
    { d: 0.315, radius: 0.022 },
  ],
  fold: 0.12,
  firewall: 0.13,
  pillar: 0.3,
  tag: [0.245, 0.096],
};

export const OUTLINES: Readonly<Record<DrawnAs, Outline>> = { hatch, estate, trolley };

/** How much longer the folding zone is drawn than the crush it can take: folded metal keeps some thickness. */
const ZONE = 1.33;
/** Least share of a drawn zone that stays, however deep the crush. */
const LEAST = 0.06;

export interface Folded {
  /** Depth now of what stood at depth `d` before. */
  readonly depth: (d: number) => number;
  /** Point of the shell now: the bonnet also buckles up. */
  readonly place: (point: DepthHeight) => DepthHeight;
  /** Back end of the folding zone before the crash. */
  readonly zone: number;
  /** Depth now of the back end of the folding zone, and of the firewall. */
  readonly zoneNow: number;
  readonly firewallNow: number;
}

/**
 * Where each part of an outline stands once its front is crushed. The foremost face stands at exactly `crush`; the zone behind it
 * folds; what is behind the zone is pushed back by `cabinLoss`, which the cabin takes up as far as the pillar.
 */
export const fold = (outline: Outline, crush: number, cabinLoss: number, foldLength: number): Folded => {
  const zone = Math.min(outline.firewall, Math.max(foldLength * ZONE, 0.02 * outline.length));
  // Each part keeps a little of its length. Where crush goes deeper than the parts ahead can take, the next one is pushed back.
  const parts = [0, zone, outline.firewall, outline.pillar, outline.length];
  const told = [crush, zone + cabinLoss, outline.firewall + cabinLoss, outline.pillar, outline.length];
  const now: number[] = [];
  told.forEach((place, i) => now.push(i === 0 ? place : Math.max(place, (now[i - 1] as number) + LEAST * ((parts[i] as number) - (parts[i - 1] as number)))));
  const [, zoneNow, firewallNow] = now as [number, number, number];
  const depth = (d: number): number => {
    let i = 1;
    while (i < parts.length - 1 && d > (parts[i] as number)) i++;
    const [from, to, fromNow, toNow] = [parts[i - 1] as number, parts[i] as number, now[i - 1] as number, now[i] as number];
    return to > from ? fromNow + ((d - from) * (toNow - fromNow)) / (to - from) : toNow;
  };
  const squeezed = 1 - (zoneNow - crush) / zone;
  const buckle = 0.12 * outline.height * Math.max(0, squeezed);
  const place = ([d, h]: DepthHeight): DepthHeight => {
    const high = h > 0.45 * outline.height && d < zone;
    return [depth(d), high ? h + buckle * Math.sin((Math.PI * d) / zone) * (0.7 + 0.3 * Math.sin((4 * Math.PI * d) / zone)) : h];
  };
  return { depth, place, zone, zoneNow, firewallNow };
};

/** Zigzag folds across the crushed zone, deeper the more it is squeezed. Empty while the front is whole. */
export const folds = (outline: Outline, folded: Folded, crush: number): readonly (readonly DepthHeight[])[] => {
  if (crush <= 0) return [];
  const low = 0.2 * outline.height;
  const high = 0.5 * outline.height;
  const count = 4;
  const steps = 6;
  return Array.from({ length: count }, (_, i) => {
    const d = (folded.zone * (i + 0.6)) / count;
    const swing = Math.min(0.35 * (folded.zoneNow - crush), 0.35 * crush) / count;
    return Array.from({ length: steps + 1 }, (_, k): DepthHeight => [folded.depth(d) + (k % 2 === 0 ? swing : -swing), low + ((high - low) * k) / steps]);
  });
};
