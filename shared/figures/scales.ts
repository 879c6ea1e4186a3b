/** The straight maps from SI values to places in a figure, kept on the svg so that a drag can write paths without moving the axes. */
import { fromSI, toSI, type UnitName } from "../../lib/units.ts";
import type { UnitSystem } from "../kinds.ts";
import { show } from "../state/units.ts";
import type { Axis, Figure } from "./figure.ts";

export interface Scale {
  /** SI values at the two ends of the axis. */
  readonly domain: readonly [number, number];
  /** Their places in the figure. */
  readonly range: readonly [number, number];
}

export interface Scales {
  readonly x: Scale;
  readonly y: Scale;
}

export const place = ({ domain, range }: Scale, si: number): number => range[0] + ((si - domain[0]) / (domain[1] - domain[0])) * (range[1] - range[0]);

/** Unit on screen of an axis: that in which its largest value is written, so that a bench trial is in newtons. */
const unitOf = (axis: Axis, units: UnitSystem, shown: Iterable<number>): UnitName => {
  let largest = 0;
  for (const si of shown) largest = Math.max(largest, Math.abs(si));
  return show(axis.kind, largest, units, "en").unit;
};

const STEPS = [1, 2, 5, 10];

/** A round distance between ticks: about `count` of them over `span`. */
export const tickStep = (span: number, count: number): number => {
  const rough = span / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  return (STEPS.find((step) => step * power >= rough * (1 - 1e-9)) ?? 10) * power;
};

export interface Extent {
  /** In the unit on screen, ending on ticks. */
  readonly from: number;
  readonly to: number;
  readonly ticks: readonly number[];
}

/** An axis that holds every value, begins or ends at 0 where all values are on one side, and ends on a tick. */
export const extentOf = (values: Iterable<number>, count: number, tight: boolean): Extent => {
  let low = 0;
  let high = 0;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  if (high - low < 1e-12) high = low + 1;
  const step = tickStep(high - low, count);
  // A hair of tolerance, so that a value that is a tick but for rounding does not add a whole step.
  const from = tight ? low : Math.floor(low / step + 1e-6) * step;
  const to = tight ? high : Math.ceil(high / step - 1e-6) * step;
  const ticks: number[] = [];
  for (let k = Math.ceil(from / step - 1e-6); k * step <= to + 1e-6 * step; k++) ticks.push(Number((k * step).toPrecision(12)));
  return { from, to, ticks };
};

/** SI values that an axis shows. */
function* shownValues(figure: Figure, axis: "x" | "y"): Generator<number> {
  for (const series of figure.series) for (let i = 0; i < series[axis].length; i++) if (Number.isFinite(series[axis][i])) yield series[axis][i] as number;
  for (const rule of figure.rules ?? []) if (rule.axis === axis) yield rule.at;
}

export interface Frame {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export interface Axes {
  readonly scales: Scales;
  readonly x: Extent & { readonly unit: UnitName };
  readonly y: Extent & { readonly unit: UnitName };
}

/** Room for words on the right of an upright rule, as a share of what the axis shows. */
const BESIDE_RULE = 0.25;

/** What the x axis shows: the data, and some room on the far side of each rule. */
const shownAcross = (figure: Figure): number[] => {
  const values = [0, ...shownValues(figure, "x")];
  let most = 0;
  for (const value of values) most = Math.max(most, value);
  for (const rule of figure.rules ?? []) if (rule.axis === "x") values.push(rule.at + BESIDE_RULE * most);
  return values;
};

/** More of the plane than the data needs, as shares of what it takes: places for words. */
export interface Spare {
  readonly right?: number;
  readonly above?: number;
  readonly below?: number;
}

/** The axes of a figure that has room `frame`. Time and depth end where the data ends; values end on a tick. */
export const axesOf = (figure: Figure, frame: Frame, units: UnitSystem, { right = 0, above = 0, below = 0 }: Spare = {}): Axes => {
  const [across, up] = [shownAcross(figure), [...shownValues(figure, "y")]];
  const reach = (values: readonly number[]): readonly [number, number] => values.reduce(([low, high], value) => [Math.min(low, value), Math.max(high, value)], [0, 0]);
  const [[first, last], [low, high]] = [reach(across), reach(up)];
  if (right > 0) across.push(last + right * (last - first));
  if (above > 0) up.push(high + above * (high - low));
  if (below > 0) up.push(low - below * (high - low));
  const [ux, uy] = [unitOf(figure.x, units, across), unitOf(figure.y, units, up)];
  const x = extentOf(across.map((si) => fromSI(si, ux)), frame.width < 480 ? 5 : 7, true);
  const y = extentOf(up.map((si) => fromSI(si, uy)), frame.height < 300 ? 4 : 5, false);
  return {
    scales: {
      x: { domain: [toSI(x.from, ux), toSI(x.to, ux)], range: [frame.left, frame.width - frame.right] },
      y: { domain: [toSI(y.from, uy), toSI(y.to, uy)], range: [frame.height - frame.bottom, frame.top] },
    },
    x: { ...x, unit: ux },
    y: { ...y, unit: uy },
  };
};

const numbers = (scale: Scale): string => [...scale.domain, ...scale.range].map((n) => Number(n.toPrecision(9))).join(" ");
const parse = (written: string | null): Scale | null => {
  const [a, b, c, d] = (written ?? "").split(" ").map(Number);
  return a === undefined || b === undefined || c === undefined || d === undefined || ![a, b, c, d].every(Number.isFinite) ? null : { domain: [a, b], range: [c, d] };
};

/** Keeps the scales on the svg, as text. */
export const writeScales = (svg: Element, { x, y }: Scales): void => {
  svg.setAttribute("data-x", numbers(x));
  svg.setAttribute("data-y", numbers(y));
};

/** The scales that an svg was drawn with; null where it is no figure of ours. */
export const readScales = (svg: Element): Scales | null => {
  const [x, y] = [parse(svg.getAttribute("data-x")), parse(svg.getAttribute("data-y"))];
  return x && y ? { x, y } : null;
};
