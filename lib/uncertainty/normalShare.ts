/** Beyond this many standard deviations a double tells no more than 0 or 1. */
const FAR = 8.5;

/**
 * Share of a normal population of mean 0 and standard deviation 1 that lies below a value. Series of the integral of the bell;
 * absolute error about 1e-16 (Abramowitz and Stegun, 26.2.11).
 */
export const normalShare = (value: number): number => {
  if (value <= -FAR) return 0;
  if (value >= FAR) return 1;
  const square = value * value;
  let sum = value;
  let term = value;
  for (let odd = 3, before = NaN; sum !== before; odd += 2) {
    before = sum;
    term *= square / odd;
    sum += term;
  }
  return Math.min(1, Math.max(0, 0.5 + (sum * Math.exp(-0.5 * square)) / Math.sqrt(2 * Math.PI)));
};
