/** The plotting library is a script of its own, added to the page on the first release of a drag. */
import type { plotFigure } from "../figures/plotOptions.ts";

type Draw = typeof plotFigure;

let coming: Promise<Draw | undefined> | undefined;

/** The drawing function, or nothing where the script cannot be had: the curves then keep the axes they have. */
const loadPlot = (): Promise<Draw | undefined> =>
  (coming ??= new Promise((resolve) => {
    const script = document.createElement("script");
    script.src = "plot.js";
    script.addEventListener("load", () => resolve((globalThis as { ridedownPlot?: { plotFigure: Draw } }).ridedownPlot?.plotFigure));
    script.addEventListener("error", () => resolve(undefined));
    document.head.append(script);
  }));

/** Rest in milliseconds before figures are drawn anew: keys that repeat, and a second drag, come first. */
const REST = 120;

const waiting = new Map<unknown, (draw: Draw) => void>();
let timer: ReturnType<typeof setTimeout> | undefined;

/** One figure a task, so that no task is long; a later request for the same figure replaces the earlier one. */
const drawNext = async (): Promise<void> => {
  const draw = await loadPlot();
  const [next] = waiting;
  if (next === undefined) return;
  waiting.delete(next[0]);
  if (draw !== undefined) next[1](draw);
  if (waiting.size > 0) timer = setTimeout(() => void drawNext());
};

export const drawWhenIdle = (who: unknown, work: (draw: Draw) => void): void => {
  waiting.set(who, work);
  clearTimeout(timer);
  timer = setTimeout(() => void drawNext(), REST);
};
