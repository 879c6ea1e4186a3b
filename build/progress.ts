/** How far a long job is: a bar that stays on one line of a terminal, a line now and then elsewhere. */
export interface Progress {
  readonly at: (done: number) => void;
  readonly end: () => void;
}

interface Stream {
  readonly isTTY?: boolean;
  readonly write: (text: string) => unknown;
}

const CELLS = 30;
/** Elsewhere than on a terminal: a line for every tenth. */
const LINES = 10;
/** A terminal is written to no oftener than this [ms]. */
const OFTEN = 100;

const clock = (seconds: number): string => (seconds < 60 ? `${Math.ceil(seconds)} s` : `${Math.floor(seconds / 60)} min ${Math.ceil(seconds % 60)} s`);

/** `already` were done before: they say nothing of the pace. */
export const progressOf = (total: number, what: string, stream: Stream = process.stderr, already = 0, now: () => number = () => performance.now()): Progress => {
  const begun = now();
  let [drawn, tenth] = [-Infinity, Math.floor((LINES * already) / total)];
  const line = (done: number): string => {
    const seconds = (now() - begun) / 1000;
    const pace = (done - already) / seconds;
    const left = done < total && pace > 0 ? `, ${clock((total - done) / pace)} left` : "";
    return `${done} of ${total} ${what}, ${pace.toFixed(1)} a second${left}`;
  };
  return {
    at: (done) => {
      if (stream.isTTY) {
        if (done < total && now() - drawn < OFTEN) return;
        drawn = now();
        const full = Math.round((CELLS * done) / total);
        stream.write(`\r[${"#".repeat(full)}${".".repeat(CELLS - full)}] ${line(done)}\x1b[K`);
      } else if (Math.floor((LINES * done) / total) > tenth) {
        tenth = Math.floor((LINES * done) / total);
        stream.write(`${line(done)}\n`);
      }
    },
    end: () => void (stream.isTTY && stream.write("\n")),
  };
};
