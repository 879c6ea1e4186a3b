/** The plotting library is a script of its own, added to the page on the first release of a drag. */
import type { plotFigure } from "../figures/plotOptions.ts";

type Draw = typeof plotFigure;

let coming: Promise<Draw | undefined> | undefined;

/** The drawing function, or nothing where the script cannot be had: the curves then keep the axes they have. */
export const loadPlot = (): Promise<Draw | undefined> =>
  (coming ??= new Promise((resolve) => {
    const script = document.createElement("script");
    script.src = "plot.js";
    script.addEventListener("load", () => resolve((globalThis as { ridedownPlot?: { plotFigure: Draw } }).ridedownPlot?.plotFigure));
    script.addEventListener("error", () => resolve(undefined));
    document.head.append(script);
  }));
