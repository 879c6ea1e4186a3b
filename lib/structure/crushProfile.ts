import { requireNonNegative, requirePositive, requireSeries, requireThat } from "../check.ts";

/** Residual crush measured across a damaged width. */
export interface CrushProfile {
  /** Depth at equally spaced stations, the first and the last at the ends of the width [m] */
  readonly profile: ArrayLike<number>;
  /** Spanned by the stations, > 0 [m] */
  readonly width: number;
}

/** Refuses what is not a crush profile. */
export const requireProfile = (kernel: string, name: string, { profile, width }: CrushProfile): void => {
  const prefix = name === "" ? "" : `${name}.`;
  requireSeries(kernel, `${prefix}profile`, profile, 2, "m");
  for (let i = 0; i < profile.length; i++) if ((profile[i] as number) < 0) requireNonNegative(kernel, `${prefix}profile[${i}]`, profile[i] as number, "m");
  requirePositive(kernel, `${prefix}width`, width, "m");
};

/** Exact means over the width of straight lines between the stations: depth, its square, and depth times the share of the width. */
export const profileMeans = (profile: ArrayLike<number>): { readonly depth: number; readonly square: number; readonly moment: number } => {
  const zones = profile.length - 1;
  let depth = 0;
  let square = 0;
  let moment = 0;
  for (let i = 0; i < zones; i++) {
    const from = profile[i] as number;
    const to = profile[i + 1] as number;
    depth += (from + to) / 2;
    square += (from * from + from * to + to * to) / 3;
    moment += (i * (from + to)) / 2 + (from + 2 * to) / 6;
  }
  return { depth: depth / zones, square: square / zones, moment: moment / zones ** 2 };
};

/**
 * Area of a measured crush profile seen from above, and where it is centred.
 *
 * Model: straight lines between equally spaced stations. Depth is from the undamaged outline; the centroid is where the damage
 * balances, its lateral position from the first station.
 *
 * @param profile residual crush depth at equally spaced stations, shape (n,), n >= 2, each >= 0, not all 0 [m]
 * @param width > 0, spanned by the stations [m]
 * @returns area [m^2]
 * @returns meanDepth [m]
 * @returns meanSquareDepth mean of the square of the depth [m^2]
 * @returns centroid.depth from the undamaged outline [m]
 * @returns centroid.lateral from the first station, along the width [m]
 * @throws RangeError outside those ranges; TypeError for under 2 stations
 * @equation area = width * meanDepth
 * @equation centroid.depth = meanSquareDepth / (2 * meanDepth)
 * @source dot-hs-805-732, damage area and centroid
 * @source derived, straight lines integrated
 * @example crushProfile({ profile: [0.1, 0.25, 0.4, 0.45, 0.3, 0.15], width: 1.4 }).area // 0.427
 */
export const crushProfile = ({ profile, width }: CrushProfile) => {
  requireProfile("crushProfile", "", { profile, width });
  const { depth, square, moment } = profileMeans(profile);
  requireThat(depth > 0, "crushProfile", "profile", "deeper than 0 m somewhere (no crush has no centroid)", profile);
  return { area: width * depth, meanDepth: depth, meanSquareDepth: square, centroid: { depth: square / (2 * depth), lateral: (width * moment) / depth } };
};
