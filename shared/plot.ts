/** The script that a page adds on the first release of a drag: Observable Plot behind one function. */
import { plotFigure } from "./figures/plotOptions.ts";

(globalThis as unknown as { ridedownPlot: { plotFigure: typeof plotFigure } }).ridedownPlot = { plotFigure };
