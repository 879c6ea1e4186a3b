/** A figure as data: what `plotOptions` turns into Observable Plot options, and what the page redraws by hand during a drag. */
import type { Kind } from "../kinds.ts";

/** Who a curve belongs to: decides line, marker and colour together, so that colour never carries the meaning alone. */
export type Belongs = "a" | "b" | "both" | "other";

export interface Series {
  readonly label: string;
  readonly belongs: Belongs;
  /** SI values on the two axes, same length. */
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  /** Fill under the curve: for areas that mean something (energy, velocity change). */
  readonly area?: boolean;
  /** Readings, each on its own: dots that no line joins. */
  readonly points?: boolean;
}

export interface Axis {
  readonly label: string;
  readonly kind: Kind;
  /** Unit on screen where the kind's own is not wanted (crush in m, time in ms). */
  readonly digits?: number;
}

export interface Figure {
  readonly title: string;
  readonly x: Axis;
  readonly y: Axis;
  readonly series: readonly Series[];
  /** Straight reference lines with a label: a limit, a common velocity, an instant. */
  readonly rules?: readonly { readonly axis: "x" | "y"; readonly at: number; readonly label: string }[];
  /** The point in one sentence, for readers who cannot see the figure. */
  readonly says: string;
}
