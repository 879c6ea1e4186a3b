/** How long 10,000 whole crashes take in worker threads, on one and on two. Prints its table when run by itself. */
import { availableParallelism } from "node:os";
import { pathToFileURL } from "node:url";
import { startStudies, type StudyRequest } from "../../build/study.ts";
import { referenceCrash } from "../lib/event/referenceCrash.ts";

const RUNS = 10_000;
const ROUNDS = 3;
/** Runs before timing, so that every worker's compiler has settled. */
const WARM = 2000;
/** On one worker, and how much quicker two are; on a quiet machine. */
const PROMISES = { seconds: 1, gain: 1.8 };

const sides = ["a", "b"] as const;
const request: StudyRequest = {
  task: {
    kernel: "crashOutputs",
    template: { ...referenceCrash, step: 0.00025 },
    outputs: ["peakForce", ...sides.flatMap((side) => [`deltaV.${side}`, `crush.${side}`, `cabinLoss.${side}`, ...[0, 1].flatMap((seat) => ["chestClip", "hic15", "rideDown.distance"].map((output) => `occupants.${side}.${seat}.${output}`))])],
  },
  inputs: {
    "a.mass": { value: 1280, give: 20 },
    "b.mass": { value: 1690, give: 25 },
    "a.speed": { value: 13.5, give: 0.4 },
    "b.speed": { value: 11, give: 0.4 },
    "a.front.force.2": { value: 150000, give: 20000 },
    "b.front.force.2": { value: 195000, give: 25000 },
    "a.occupants.0.belt.slack": { value: 0.03, give: 0.02, from: 0 },
    "b.occupants.0.belt.slack": { value: 0.025, give: 0.02, from: 0 },
  },
  seed: 1,
  runs: RUNS,
};

/** One line of the table: name, minimum, median, note. */
export type StudyRow = readonly [name: string, minimum: string, median: string, note: string];

export const studyRows = async (): Promise<readonly StudyRow[]> => {
  const [one, two] = await Promise.all([startStudies(1), startStudies(2)]);
  try {
    const times = { one: [] as number[], two: [] as number[], gain: [] as number[] };
    await one.study({ ...request, runs: WARM });
    await two.study({ ...request, runs: 2 * WARM });
    const answers = new Set<string>();
    for (let round = 0; round < ROUNDS; round++) {
      const took: number[] = [];
      for (const studies of [one, two]) {
        const start = performance.now();
        const { summary } = await studies.study(request);
        took.push((performance.now() - start) / 1000);
        answers.add(JSON.stringify(summary));
      }
      const [first = NaN, second = NaN] = took;
      times.one.push(first);
      times.two.push(second);
      times.gain.push(first / second);
    }
    if (answers.size !== 1) throw new Error("one worker and two differ");
    const sorted = (values: readonly number[]): number[] => [...values].sort((x, y) => x - y);
    const row = (name: string, values: readonly number[], note: string): StudyRow => [name, (sorted(values)[0] ?? NaN).toFixed(3), (sorted(values)[values.length >> 1] ?? NaN).toFixed(3), note];
    return [
      row("10,000 crashes, one worker, s", times.one, `aim ${PROMISES.seconds}; same bits as on two`),
      row("10,000 crashes, two workers, s", times.two, `${availableParallelism()} processors here`),
      row("one worker over two", times.gain, `aim ${PROMISES.gain} on a quiet machine`),
    ];
  } finally {
    await Promise.all([one.close(), two.close()]);
  }
};

if (import.meta.url === pathToFileURL(process.argv[1] ?? "").href) {
  const print = ([name, minimum, median, note]: StudyRow): void => console.log(`${name.padEnd(32)}${minimum.padStart(10)}${median.padStart(10)}  ${note}`);
  print([`${ROUNDS} rounds, the clock's time`, "minimum", "median", ""]);
  (await studyRows()).forEach(print);
}
