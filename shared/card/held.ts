/** How often a verdict holds over the give or take of the inputs, and how that is said: no verdict is spoken as settled that is not. */
import { doTask, type StudySubject, studyOf, type TaskResult, type WholeStudy } from "./wholeStudy.ts";

/** Runs, and how many of them gave each answer: verdict -> word -> runs. */
export type Held = Pick<WholeStudy, "runs" | "counts">;

/** Shares of the runs from which a verdict is said with no more words, and from which it is said with its share alone. */
const SETTLED = 0.95;
const CLOSE = 0.9;
/** Counts differ by more than this many standard deviations of their difference, or are a tie: one in twenty, as for every give. */
const DEVIATIONS = 2;

/** Whether two counts are so near that as many other runs could turn them round. Their difference has the variance of their sum. */
export const isTie = (one: number, other: number): boolean => Math.abs(one - other) <= DEVIATIONS * Math.sqrt(one + other);

/** "51 of 100"; never all or none where a run says otherwise. */
export const outOfHundred = (count: number, runs: number): string => {
  const percent = (100 * count) / runs;
  return `${percent >= 99.5 && count < runs ? "more than 99" : percent <= 0.5 && count > 0 ? "fewer than 1" : String(Math.round(percent))} of 100`;
};

/** What is said behind the answer `word` of a verdict; nothing where it is settled. */
export const heldWords = ({ counts, runs }: Held, verdict: string, word: string): string => {
  const all = Object.hasOwn(counts, verdict) ? counts[verdict] : undefined;
  if (all === undefined) return ", but how often that holds has not been counted";
  const count = all[word] ?? 0;
  const share = count / runs;
  if (share >= SETTLED) return "";
  const often = `in ${outOfHundred(count, runs)} runs`;
  if (share >= CLOSE) return `, ${often}`;
  const other = Math.max(0, ...Object.entries(all).flatMap(([one, n]) => (one === word ? [] : [n])));
  return `, but that is ${isTie(count, other) ? "a tie" : "too close to call"} within the give or take: ${often}`;
};

/** The counts of a whole study of as many runs, without the rest of it, in short stretches. */
export function* heldSearch(subject: StudySubject, runs: number): Generator<void, Held> {
  const results: TaskResult[] = [yield* doTask(subject, { from: 0, to: runs })];
  const { counts } = studyOf(subject, results);
  return { runs, counts };
}

/** `heldSearch` run to its end. */
export const findHeld = (subject: StudySubject, runs: number): Held => {
  const search = heldSearch(subject, runs);
  for (;;) {
    const step = search.next();
    if (step.done === true) return step.value;
  }
};
