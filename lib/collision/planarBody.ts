import { requireFinite, requirePositive } from "../check.ts";

/** A vector in the plane. */
export interface Planar {
  readonly x: number;
  readonly y: number;
}

/** A mass moving in the plane. */
export interface PlanarBody {
  /** > 0 [kg] */
  readonly mass: number;
  /** [m/s] */
  readonly velocity: Planar;
}

/** Refuses what is not a vector in the plane. */
export const requirePlanar = (kernel: string, name: string, vector: Planar, unit: string): void => {
  requireFinite(kernel, `${name}.x`, vector.x, unit);
  requireFinite(kernel, `${name}.y`, vector.y, unit);
};

/** Refuses what is not a body in the plane. */
export const requirePlanarBody = (kernel: string, name: string, body: PlanarBody): void => {
  requirePositive(kernel, `${name}.mass`, body.mass, "kg");
  requirePlanar(kernel, `${name}.velocity`, body.velocity, "m/s");
};

/** Energy of motion of a body that does not turn [J]. */
export const planarEnergy = ({ mass, velocity }: PlanarBody): number => 0.5 * mass * (velocity.x ** 2 + velocity.y ** 2);
