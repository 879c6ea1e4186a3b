// Figures as data, and everything about them that needs no plotting library. `plotOptions.ts` draws them by Observable Plot.

export type { Axis, Belongs, Figure, Series } from "./figure.ts";

// Builders for lessons
export { decelerationFigure, forceCrushFigure, velocityFigure } from "./builders.ts";
export type { Named } from "./builders.ts";

// The numbers behind a figure
export { figureTable } from "./figureTable.ts";
export type { FigureTable } from "./figureTable.ts";

// Redrawing by hand during a drag
export { moveFigure, pathData } from "./paths.ts";
export type { SeriesPath } from "./paths.ts";
export { readScales } from "./scales.ts";
export type { Scale, Scales } from "./scales.ts";
