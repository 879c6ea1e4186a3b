/** Lessons that a scenario cannot show. */

/** Slug -> what the scenario lacks for it, each in words that follow "no". */
export type LeftOut = Readonly<Record<string, readonly string[]>>;

/** What is lacking where the lesson's model gives no answer at the values of the scenario. */
export const noStart = (why: string): string => `start that this lesson can show: ${why}`;

export const whyLeftOut = (lacking: readonly string[], scenario = "the scenario"): string => `${scenario} has no ${lacking.join(" and no ")}`;

/** `scenario` as messages name the file. */
export const writeLeftOut = (leftOut: LeftOut, scenario: string): string[] => Object.entries(leftOut).map(([slug, lacking]) => `left out: ${slug}, since ${whyLeftOut(lacking, scenario)}`);
