/** Names in place of the letters A and B, on a picture that has no key to them. */
import { type Side, SIDES } from "./sides.ts";

type Names = Readonly<Partial<Record<Side, string>>>;

/** Nouns that have a letter for a name of their own: "trolley A". */
const LETTERED = /\b(?:trolley|block|car|vehicle) [AB]\b/i;

/** Words that have a letter for sure: "A" at their start may be the article. */
export const hasLetter = (words: string): boolean => /\bB\b|(?!^)\bA\b/.test(words) && !LETTERED.test(words);

/** Names that are told apart by the letter itself leave it. */
const isLettered = (names: Names): boolean => SIDES.some((side) => new RegExp(`\\b${side}$`, "i").test(names[side] ?? ""));

/** Words with the names of some bodies in place of their letters. */
export const spelt = (words: string, names: Names, { sides = SIDES, article }: { readonly sides?: readonly Side[]; readonly article: boolean }): string =>
  LETTERED.test(words) || isLettered(names)
    ? words
    : words.replace(/\b[AB]\b/g, (letter, at: number) => {
        const side = letter === "A" ? "a" : "b";
        const name = names[side];
        if (name === undefined || !sides.includes(side) || (article && at === 0 && /^A [a-z]/.test(words))) return letter;
        return at === 0 ? name : `the ${name}`;
      });
