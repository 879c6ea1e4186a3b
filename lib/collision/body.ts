import { requireFinite, requirePositive } from "../check.ts";

/** A mass moving along one line. */
export interface Body {
  /** > 0 [kg] */
  readonly mass: number;
  /** Signed along the common line [m/s]. */
  readonly velocity: number;
}

/** Two bodies on one line. */
export interface TwoBodies {
  readonly a: Body;
  readonly b: Body;
}

/** Refuses what is not a body. */
export const requireBody = (kernel: string, name: string, body: Body): void => {
  const prefix = name === "" ? "" : `${name}.`;
  requirePositive(kernel, `${prefix}mass`, body.mass, "kg");
  requireFinite(kernel, `${prefix}velocity`, body.velocity, "m/s");
};
