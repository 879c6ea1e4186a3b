import { requireThat } from "../check.ts";

const polynomial = (coefficients: readonly number[], x: number): number => coefficients.reduce((sum, coefficient) => sum * x + coefficient, 0);

// Highest power first: numerator and denominator for the middle, the flanks and the far tails.
const MIDDLE = [
  [2.5090809287301226727e3, 3.3430575583588128105e4, 6.7265770927008700853e4, 4.5921953931549871457e4, 1.3731693765509461125e4, 1.9715909503065514427e3, 1.3314166789178437745e2, 3.387132872796366608],
  [5.226495278852854561e3, 2.8729085735721942674e4, 3.930789580009271061e4, 2.1213794301586595867e4, 5.3941960214247511077e3, 6.871870074920579083e2, 4.2313330701600911252e1, 1],
] as const;
const FLANKS = [
  [7.7454501427834140764e-4, 2.27238449892691845833e-2, 2.4178072517745061177e-1, 1.27045825245236838258, 3.64784832476320460504, 5.7694972214606914055, 4.6303378461565452959, 1.42343711074968357734],
  [1.05075007164441684324e-9, 5.475938084995344946e-4, 1.51986665636164571966e-2, 1.4810397642748007459e-1, 6.8976733498510000455e-1, 1.6763848301838038494, 2.05319162663775882187, 1],
] as const;
const TAILS = [
  [2.01033439929228813265e-7, 2.71155556874348757815e-5, 1.2426609473880784386e-3, 2.65321895265761230930e-2, 2.9656057182850489123e-1, 1.7848265399172913358, 5.4637849111641143699, 6.6579046435011037772],
  [2.04426310338993978564e-15, 1.4215117583164458887e-7, 1.8463183175100546818e-5, 7.868691311456132591e-4, 1.48753612908506148525e-2, 1.3692988092273580531e-1, 5.9983220655588793769e-1, 1],
] as const;

/**
 * Value below which a share of a normal population of mean 0 and standard deviation 1 lies.
 *
 * Model: rational approximation, relative error about 1e-16.
 *
 * @throws RangeError unless 0 < share < 1
 * @source wichura-1988, PPND16
 * @example normalQuantile(0.975) // 1.959963984540054
 */
export const normalQuantile = (share: number): number => {
  requireThat(share > 0 && share < 1, "normalQuantile", "share", "above 0 and below 1", share);
  const q = share - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * polynomial(MIDDLE[0], r)) / polynomial(MIDDLE[1], r);
  }
  const r = Math.sqrt(-Math.log(q < 0 ? share : 1 - share));
  const [above, below, shift] = r <= 5 ? [...FLANKS, 1.6] : [...TAILS, 5];
  return (Math.sign(q) * polynomial(above, r - shift)) / polynomial(below, r - shift);
};
