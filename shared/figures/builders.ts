/** The figures that collision lessons share, from SI histories. */
import { KINDS } from "../kinds.ts";
import type { Figure, Series } from "./figure.ts";

type Curve = ArrayLike<number>;
export interface Named<T> {
  readonly a: T;
  readonly b?: T;
}

interface Told {
  /** The point in one sentence, for readers who cannot see the figure. */
  readonly says: string;
  readonly title?: string;
  readonly rules?: NonNullable<Figure["rules"]>;
}

const of = <T>(names: Named<string>, data: Named<T>, one: (value: T) => Omit<Series, "label" | "belongs">): Series[] => [
  { label: names.a, belongs: "a", ...one(data.a) },
  ...(data.b === undefined ? [] : [{ label: names.b ?? "", belongs: "b" as const, ...one(data.b) }]),
];

/** Velocity of each body against time since first touch. All velocities on one axis over the ground, or each on its own: say which in `axis`. */
export const velocityFigure = ({ names, time, velocity, axis = "velocity", says, title = "Velocity against time", rules = [] }: Told & { readonly names: Named<string>; readonly time: Curve; readonly velocity: Named<Curve>; readonly axis?: string }): Figure => ({
  title,
  x: { label: "time since first touch", kind: KINDS.duration },
  y: { label: axis, kind: KINDS.velocity },
  series: of(names, velocity, (y) => ({ x: time, y })),
  rules,
  says,
});

/** Force against crush depth of each front; the area under a curve is the energy that front took in. */
export const forceCrushFigure = ({ names, curves, says, title = "Force against crush", rules = [] }: Told & { readonly names: Named<string>; readonly curves: Named<{ readonly crush: Curve; readonly force: Curve }> }): Figure => ({
  title,
  x: { label: "crush", kind: KINDS.distance, digits: 2 },
  y: { label: "force", kind: KINDS.force },
  series: of(names, curves, ({ crush, force }) => ({ x: crush, y: force, area: true })),
  rules,
  says,
});

/** Deceleration of each body, or of its occupant, against time; the area under a curve is its change of velocity. */
export const decelerationFigure = ({ names, time, deceleration, axis = "deceleration", area = false, mean = [], says, title = "Deceleration against time", rules = [] }: Told & { readonly names: Named<string>; readonly time: Curve; readonly deceleration: Named<Curve>; readonly axis?: string; readonly area?: boolean; /** Level lines with a label [m/s^2]. */ readonly mean?: readonly { readonly label: string; readonly at: number }[] }): Figure => ({
  title,
  x: { label: "time since first touch", kind: KINDS.duration },
  y: { label: axis, kind: KINDS.acceleration },
  series: of(names, deceleration, (y) => ({ x: time, y, area })),
  rules: [...mean.map(({ label, at }) => ({ axis: "y" as const, at, label })), ...rules],
  says,
});
