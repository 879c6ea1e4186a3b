import { requireBetween, requireOneOf, requireThat } from "../check.ts";

export const PULSE_SHAPES = ["square", "halfSine", "haversine", "triangle", "trapezoid"] as const;

/** How deceleration is spread over a pulse. Positions and parts are shares of its duration, 0 to 1. */
export interface PulseShape {
  readonly shape: (typeof PULSE_SHAPES)[number];
  /** Where a triangle has its peak: 0 at touch, 1 at the end; left out: in the middle. Other shapes have no use for it. */
  readonly peakPosition?: number;
  /** Part of a trapezoid that rises. Other shapes have no use for it. */
  readonly rise?: number;
  /** Part of a trapezoid that falls. Other shapes have no use for it. */
  readonly fall?: number;
}

/** A pulse of unit peak and unit duration: its height, and the integral of that once and twice, at a share of its duration. */
export interface UnitPulse {
  readonly at: (share: number) => { readonly height: number; readonly once: number; readonly twice: number };
  /** The integral over the whole pulse: mean over peak. */
  readonly area: number;
  /** Share of the duration at which the centre of the area lies. */
  readonly centroid: number;
}

/** Straight rise, level part, straight fall. Square and triangle are its limits. */
const trapezoidal = (rise: number, fall: number): UnitPulse => {
  const top = 1 - fall;
  const onceAtTop = top - rise / 2;
  const twiceAtTop = (top * top - rise * top) / 2 + (rise * rise) / 6;
  const area = 1 - (rise + fall) / 2;
  const moment = (rise * rise) / 3 + (top * top - rise * rise) / 2 + (fall * (1 - (2 * fall) / 3)) / 2;
  return {
    area,
    centroid: moment / area,
    at: (share) => {
      if (share < rise) return { height: share / rise, once: (share * share) / (2 * rise), twice: share ** 3 / (6 * rise) };
      if (share <= top) return { height: 1, once: share - rise / 2, twice: (share * share - rise * share) / 2 + (rise * rise) / 6 };
      const u = share - top;
      return { height: 1 - u / fall, once: onceAtTop + u - (u * u) / (2 * fall), twice: twiceAtTop + onceAtTop * u + (u * u) / 2 - u ** 3 / (6 * fall) };
    },
  };
};

const HALF_SINE: UnitPulse = {
  area: 2 / Math.PI,
  centroid: 0.5,
  at: (share) => {
    const angle = Math.PI * share;
    return { height: Math.sin(angle), once: (1 - Math.cos(angle)) / Math.PI, twice: (angle - Math.sin(angle)) / Math.PI ** 2 };
  },
};

const HAVERSINE: UnitPulse = {
  area: 0.5,
  centroid: 0.5,
  at: (share) => {
    const angle = 2 * Math.PI * share;
    return { height: (1 - Math.cos(angle)) / 2, once: share / 2 - Math.sin(angle) / (4 * Math.PI), twice: (share * share) / 4 + (Math.cos(angle) - 1) / (8 * Math.PI ** 2) };
  },
};

/** The unit pulse of a shape; refuses a shape that is none. */
export const unitPulse = (kernel: string, form: PulseShape): UnitPulse => {
  requireOneOf(kernel, "shape", form.shape, PULSE_SHAPES);
  switch (form.shape) {
    case "square":
      return trapezoidal(0, 0);
    case "halfSine":
      return HALF_SINE;
    case "haversine":
      return HAVERSINE;
    case "triangle": {
      const { peakPosition = 0.5 } = form;
      requireBetween(kernel, "peakPosition", peakPosition, 0, 1);
      return trapezoidal(peakPosition, 1 - peakPosition);
    }
    case "trapezoid": {
      const { rise, fall } = form as { readonly rise: number; readonly fall: number };
      requireBetween(kernel, "rise", rise, 0, 1);
      requireBetween(kernel, "fall", fall, 0, 1);
      requireThat(rise + fall <= 1, kernel, "rise + fall", "<= 1 (both are parts of the duration)", rise + fall);
      return trapezoidal(rise, fall);
    }
  }
};
