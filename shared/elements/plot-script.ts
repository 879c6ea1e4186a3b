/** The plotting library is a script of its own, added to the page on the first release of a drag. */
import type { Figure } from "../figures/figure.ts";
import type { Write } from "../lesson.ts";

type Draw = (figure: Figure, write: Write) => Element;

let coming: Promise<Draw | undefined> | undefined;

const drawer = (): Draw | undefined => (globalThis as { ridedownPlot?: { drawFigure?: Draw } }).ridedownPlot?.drawFigure;

/** The drawing function, or nothing where the script cannot be had: the curves then keep the axes they have. */
export const loadPlot = (): Promise<Draw | undefined> =>
  (coming ??= new Promise((resolve) => {
    const script = document.createElement("script");
    script.src = "plot.js";
    script.addEventListener("load", () => resolve(drawer()));
    script.addEventListener("error", () => resolve(undefined));
    document.head.append(script);
  }));
