/** Figures at build time: Observable Plot in a document of its own, without the inline style that the content policy forbids. */
import { parseHTML } from "linkedom";
import type { Figure } from "../shared/figures/figure.ts";
import type { Write } from "../shared/lesson.ts";

/** Drawing units of a figure on a page. */
const WIDTH = 640;
const DECIMALS = 2;

const path = "../shared/figures/plotOptions.ts";
// eslint-disable-next-line
const plotFigure: any = await import(path).then((m: any) => m.plotFigure, () => undefined); // TEMPORARY

const { document } = parseHTML("<!doctype html><html><body></body></html>");

/** Coordinates beyond a hundredth of a drawing unit are only bytes. */
const rounded = (text: string): string => text.replace(/-?\d+\.\d{3,}(?:e-?\d+)?/g, (n) => String(Number(Number(n).toFixed(DECIMALS)) + 0));

const GEOMETRY = new Set(["d", "x", "y", "x1", "x2", "y1", "y2", "cx", "cy", "r", "dx", "dy", "width", "height", "points", "transform", "viewBox"]);

const strip = (element: Element): void => {
  element.removeAttribute("style");
  for (const attribute of [...element.attributes]) if (GEOMETRY.has(attribute.name)) element.setAttribute(attribute.name, rounded(attribute.value));
  for (const child of [...element.children]) {
    if (child.tagName.toLowerCase() === "style") child.remove();
    else strip(child);
  }
};

export const drawFigure = (figure: Figure, write: Write): string => {
  const svg = plotFigure(figure, { document: document as unknown as Document, width: WIDTH, write, theme: "page" } as never) as unknown as Element;
  strip(svg);
  return svg.outerHTML;
};
