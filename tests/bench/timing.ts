/** Processor time, least and middle of many rounds. What other programs take meanwhile counts for neither side, as far as they share nothing. */
export interface Times {
  readonly least: number;
  readonly middle: number;
}

export const timesOf = (values: readonly number[]): Times => {
  const sorted = [...values].sort((x, y) => x - y);
  return { least: sorted[0] ?? NaN, middle: sorted[sorted.length >> 1] ?? NaN };
};

/** Of one call, in microseconds. Kernel and user time together are exact; either alone is sampled. */
export const timed = (run: () => unknown, repeats: number): number => {
  const start = process.cpuUsage();
  for (let i = 0; i < repeats; i++) run();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / repeats;
};

/** Entries timed in turn, round by round, so that whatever else goes on falls on all of them; each round's times by name. */
export const inTurn = <Name extends string>(entries: Readonly<Record<Name, () => number>>, rounds: number): Record<Name, number[]> => {
  const names = Object.keys(entries) as Name[];
  const times = Object.fromEntries(names.map((name) => [name, [] as number[]])) as Record<Name, number[]>;
  for (let round = 0; round < rounds; round++) for (const name of names) times[name].push(entries[name]());
  return times;
};

/** One side's time over the other's, round by round. */
export const ratios = (over: readonly number[], under: readonly number[]): Times => timesOf(over.map((value, i) => value / (under[i] as number)));

const COLUMNS = [46, 12, 12];
export const row = (...cells: readonly string[]): void =>
  console.log(cells.map((cell, i) => (i === 0 ? cell.padEnd(COLUMNS[0] as number) : i < COLUMNS.length ? cell.padStart(COLUMNS[i] as number) : `  ${cell}`)).join("").trimEnd());

export const heading = (title: string, unit: string): void => {
  console.log(`\n${title}`);
  row(unit, "minimum", "median");
};

export const timeRow = (name: string, { least, middle }: Times, note = ""): void => row(`  ${name}`, round(least), round(middle), note);

const round = (value: number): string => (value >= 1000 ? Math.round(value).toLocaleString("en") : value.toPrecision(3));
