import { requireBetween, requireFinite, requireNonNegative, requirePositive, requireThat } from "../check.ts";

/** Velocities along one line. */
interface Pair {
  readonly a: number;
  readonly b: number;
}

/** Of the largest speed: what rounding leaves between bodies that stick, or part as fast as they met. */
const ROUNDING = 1e-12;

/**
 * Restitution of a central impact, from velocities before and after.
 *
 * Model: both move along one line and a comes from behind. Separation speed over closing speed, Newton's definition. A value above 1
 * would mean that energy was set free; it is refused, since it nearly always means a wrong sign.
 *
 * @param before.a signed along the common line [m/s]
 * @param before.b signed along the common line, < before.a [m/s]
 * @param after.a signed along the common line [m/s]
 * @param after.b signed along the common line, >= after.a [m/s]
 * @returns closingSpeed > 0 [m/s]
 * @returns separationSpeed >= 0 [m/s]
 * @returns restitution 0 to 1 [1]
 * @throws RangeError when they never meet, pass through each other, or part faster than they met
 * @equation closingSpeed = before.a - before.b
 * @equation separationSpeed = after.b - after.a
 * @equation restitution = (after.b - after.a) / (before.a - before.b)
 * @source openstax-college-physics-2e, section 8.5
 * @sample before.a 8 12
 * @sample before.b -2 2
 * @sample after.a -2 1
 * @sample after.b 1 4
 * @example restitutionFromVelocities({ before: { a: 8, b: 0 }, after: { a: -2, b: 2.5 } }).restitution // 0.5625
 */
export const restitutionFromVelocities = ({ before, after }: { readonly before: Pair; readonly after: Pair }) => {
  const kernel = "restitutionFromVelocities";
  for (const [name, { a, b }] of [["before", before], ["after", after]] as const) {
    requireFinite(kernel, `${name}.a`, a, "m/s");
    requireFinite(kernel, `${name}.b`, b, "m/s");
  }
  const closingSpeed = before.a - before.b;
  const parting = after.b - after.a;
  const rounding = ROUNDING * Math.max(Math.abs(before.a), Math.abs(before.b), Math.abs(after.a), Math.abs(after.b));
  requireThat(closingSpeed > 0, kernel, "before.a", `> ${before.b} m/s, the velocity of b (they never meet: name the one behind a, or turn the line round)`, before.a);
  requireThat(parting >= -rounding, kernel, "after.b", `>= ${after.a} m/s, the velocity of a (they cannot pass through each other)`, after.b);
  requireThat(parting <= closingSpeed + rounding, kernel, "restitution", "<= 1 (they part faster than they met: look for a wrong sign)", parting / closingSpeed);
  const separationSpeed = Math.min(Math.max(parting, 0), closingSpeed);
  return { closingSpeed, separationSpeed, restitution: separationSpeed / closingSpeed };
};

/**
 * Restitution of a body on a floor, from the heights it falls from and comes back to.
 *
 * Model: free fall without drag; the floor does not move. Heights of the same point of the body.
 *
 * @param dropHeight > 0 [m]
 * @param bounceHeight >= 0, <= dropHeight [m]
 * @returns restitution 0 to 1 [1]
 * @throws RangeError outside those ranges
 * @equation restitution = sqrt(bounceHeight / dropHeight)
 * @source openstax-college-physics-2e, section 8.5
 * @sample dropHeight 1 2
 * @sample bounceHeight 0 1
 * @example restitutionFromBounce({ dropHeight: 1, bounceHeight: 0.7225 }).restitution // 0.85
 */
export const restitutionFromBounce = ({ dropHeight, bounceHeight }: { readonly dropHeight: number; readonly bounceHeight: number }) => {
  requirePositive("restitutionFromBounce", "dropHeight", dropHeight, "m");
  requireNonNegative("restitutionFromBounce", "bounceHeight", bounceHeight, "m");
  requireThat(bounceHeight <= dropHeight, "restitutionFromBounce", "bounceHeight", `<= ${dropHeight} m, the drop height`, bounceHeight);
  return { restitution: Math.sqrt(bounceHeight / dropHeight) };
};

/** Closing speed past which the published fit has no data behind it [m/s]. */
const FIT_REACHES = 10;

/**
 * Restitution that a published fit gives for two cars meeting bumper to bumper, at one closing speed.
 *
 * Model: a fit to low-speed bumper tests that falls with closing speed. Coefficients and speed unit from memory, not confirmed; not
 * beyond 10 m/s; single tests scatter widely about any such curve. A measured value is better wherever there is one.
 *
 * @units-fixed the coefficients of the fit belong to metres and seconds
 * @param closingSpeed 0 to 10 [m/s]
 * @returns restitution of the fit [1]
 * @throws RangeError outside those ranges
 * @equation restitution = 0.5992 * exp(-0.2508 * closingSpeed + 0.01934 * closingSpeed^2 - 0.001279 * closingSpeed^3)
 * @source antonetti-1998, fit of restitution against closing speed
 * @example restitutionAtClosingSpeed({ closingSpeed: 2 }).restitution // 0.388046
 */
export const restitutionAtClosingSpeed = ({ closingSpeed }: { readonly closingSpeed: number }) => {
  requireBetween("restitutionAtClosingSpeed", "closingSpeed", closingSpeed, 0, FIT_REACHES, "m/s");
  return { restitution: 0.5992 * Math.exp(closingSpeed * (-0.2508 + closingSpeed * (0.01934 - 0.001279 * closingSpeed))) };
};

/** Restitution as published tests found it: bands, not formulas. Where the source gives one value it stands under `about`, and the band is ours. Speeds in m/s. */
export const RESTITUTION_OBSERVED = [
  { what: "standing cars struck from behind, by their change of velocity", speedChange: { from: 0.89408, to: 2.2352 }, restitution: { from: 0.2, to: 0.4 }, source: "howard-1993", status: "read" },
  { what: "medium and high closing speeds", about: 0.1, restitution: { from: 0, to: 0.2 }, source: "howard-1993", status: "read", note: "The abstract says approximately 0.1; the band around it is ours." },
] as const;
