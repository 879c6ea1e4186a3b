/** Figures at build time: the same drawing as on release of a drag, in a document of the builder's own. */
import { parseHTML } from "linkedom";
import type { Figure } from "../shared/figures/figure.ts";
import { plotFigure } from "../shared/figures/plotOptions.ts";
import type { UnitSystem } from "../shared/kinds.ts";
import type { Write } from "../shared/lesson.ts";

/** Drawing units of a figure on wide and on narrow pages; the ratios are those of the figures drawn on release. */
const SIZES = { wide: { width: 640, height: 358 }, narrow: { width: 358, height: 340 } } as const;
const DECIMALS = 2;

const { document } = parseHTML("<!doctype html><html><body></body></html>");

/** Coordinates beyond a hundredth of a drawing unit are only bytes. */
const rounded = (text: string): string => text.replace(/-?\d+\.\d{3,}(?:e-?\d+)?/g, (n) => String(Number(Number(n).toFixed(DECIMALS)) + 0));

const GEOMETRY = ["d", "x", "y", "x1", "x2", "y1", "y2", "cx", "cy", "r", "dx", "dy", "width", "height", "points", "transform"];

/** No inline style: the content policy refuses it. */
const strip = (element: Element): void => {
  element.removeAttribute("style");
  for (const name of GEOMETRY) {
    const value = element.getAttribute(name);
    if (value !== null) element.setAttribute(name, rounded(value));
  }
  for (const child of Array.from(element.children)) {
    if (child.localName === "style") child.remove();
    else strip(child);
  }
};

export const drawFigure = (figure: Figure, write: Write, size: keyof typeof SIZES = "wide", units: UnitSystem = "metric"): string => {
  const svg = plotFigure(figure, { document: document as unknown as Document, ...SIZES[size], write, units, locale: "en" });
  strip(svg);
  return svg.outerHTML;
};
