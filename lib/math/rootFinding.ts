import { requireFinite, requirePositive, requireThat } from "../check.ts";

/** Steps after which a bracketed root would long have been halved away. */
const MOST_STEPS = 200;

/**
 * Root of a continuous function between two values where it has opposite signs.
 *
 * Model: inverse quadratic interpolation, the secant or halving, whichever is safe; the root stays bracketed throughout.
 * Works in the unit of its arguments, whatever that is.
 *
 * @throws RangeError when the signs at both ends are equal, or the function is not finite
 * @source brent-1973, chapter 4
 * @example brent((x) => x * x - 2, 0, 2) // 1.4142135623730951
 */
export const brent = (f: (x: number) => number, from: number, to: number, tolerance = 1e-14): number => {
  requireFinite("brent", "from", from);
  requireFinite("brent", "to", to);
  requirePositive("brent", "tolerance", tolerance);
  let a = from;
  let b = to;
  let fa = f(a);
  let fb = f(b);
  requireFinite("brent", "f(from)", fa);
  requireFinite("brent", "f(to)", fb);
  if (fa === 0) return a;
  if (fb === 0) return b;
  requireThat(fa > 0 !== fb > 0, "brent", "f(to)", `of the other sign than f(from) = ${fa} (widen the bracket)`, fb);
  let c = a;
  let fc = fa;
  let step = b - a;
  let stepBefore = step;
  for (let i = 0; i < MOST_STEPS; i++) {
    if (fb > 0 === fc > 0) {
      c = a;
      fc = fa;
      step = stepBefore = b - a;
    }
    if (Math.abs(fc) < Math.abs(fb)) {
      a = b;
      b = c;
      c = a;
      fa = fb;
      fb = fc;
      fc = fa;
    }
    const near = 2 * Number.EPSILON * Math.abs(b) + 0.5 * tolerance;
    const half = 0.5 * (c - b);
    if (Math.abs(half) <= near || fb === 0) return b;
    if (Math.abs(stepBefore) >= near && Math.abs(fa) > Math.abs(fb)) {
      const s = fb / fa;
      let p: number;
      let q: number;
      if (a === c) {
        p = 2 * half * s;
        q = 1 - s;
      } else {
        const t = fa / fc;
        const r = fb / fc;
        p = s * (2 * half * t * (t - r) - (b - a) * (r - 1));
        q = (t - 1) * (r - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      else p = -p;
      if (2 * p < Math.min(3 * half * q - Math.abs(near * q), Math.abs(stepBefore * q))) {
        stepBefore = step;
        step = p / q;
      } else step = stepBefore = half;
    } else step = stepBefore = half;
    a = b;
    fa = fb;
    b += Math.abs(step) > near ? step : Math.sign(half) * near;
    fb = f(b);
    requireFinite("brent", "f(x)", fb);
  }
  return b;
};
