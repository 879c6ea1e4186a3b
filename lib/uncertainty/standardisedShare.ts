import { requireNonNegative, requirePositive, requireSameLength, requireSeries, requireThat } from "../check.ts";

/**
 * Share of a group that has some mark, as it would be in a common mix of strata: direct standardisation.
 *
 * Model: within each stratum the group keeps its own share; only the mix of strata is exchanged for the common one. Takes out what the
 * mix alone does when two groups are compared. Differences inside a stratum, and all that no stratum names, stay in.
 *
 * @param counts of the group with the mark in each stratum, shape (n,), each >= 0 and <= of there [1]
 * @param of the group in each stratum, shape (n,), n >= 1, each > 0 [1]
 * @param mix common weight of each stratum, shape (n,), each >= 0 and not all of them 0 [1]
 * @returns share in the common mix, 0 to 1 [1]
 * @returns crude share as the group stands, 0 to 1 [1]
 * @throws RangeError outside those ranges; TypeError for shapes that differ
 * @source common-practice, direct standardisation
 * @example standardisedShare({ counts: [1, 30], of: [100, 100], mix: [3, 1] }).share // 0.0825
 */
export const standardisedShare = ({ counts, of, mix }: { readonly counts: ArrayLike<number>; readonly of: ArrayLike<number>; readonly mix: ArrayLike<number> }) => {
  const kernel = "standardisedShare";
  requireSeries(kernel, "of", of, 1);
  requireSeries(kernel, "counts", counts, 1);
  requireSeries(kernel, "mix", mix, 1);
  requireSameLength(kernel, "counts", counts, "of", of);
  requireSameLength(kernel, "mix", mix, "of", of);
  let weights = 0;
  let weighted = 0;
  let marked = 0;
  let all = 0;
  for (let i = 0; i < of.length; i++) {
    const [count, size, weight] = [counts[i] as number, of[i] as number, mix[i] as number];
    requirePositive(kernel, `of[${i}]`, size);
    requireNonNegative(kernel, `counts[${i}]`, count);
    requireThat(count <= size, kernel, `counts[${i}]`, `<= ${size}, all of that stratum`, count);
    requireNonNegative(kernel, `mix[${i}]`, weight);
    weights += weight;
    weighted += (weight * count) / size;
    marked += count;
    all += size;
  }
  requireThat(weights > 0, kernel, "mix", "of sum > 0", weights);
  return { share: weighted / weights, crude: marked / all };
};
