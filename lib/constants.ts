/**
 * Constants with their source. Kernels take them as defaulted parameters, never as literals inside a formula,
 * so that the unit-scaling test finds a hidden one.
 */

/**
 * Standard acceleration of free fall [m/s^2], exact by convention.
 * @source cgpm-1901
 */
export const STANDARD_GRAVITY = 9.80665;
