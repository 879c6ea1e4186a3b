/** A figure with its point in words and the numbers behind it. */
import { type Figure, figureTable } from "../figures/index.ts";
import { type View, writeOf } from "../view.ts";
import { escape } from "./html.ts";

/** The figure as data at the present state; nothing where the state has no outputs. */
export const figureOf = (view: View, name: string, state = view.state): Figure | undefined => {
  const make = Object.hasOwn(view.lesson.figures, name) ? view.lesson.figures[name] : undefined;
  if (make === undefined) throw new RangeError(`render: there is no figure ${name}`);
  return state.outcome === undefined ? make(state as never) : undefined;
};

/** The numbers behind a figure. */
export const figureRows = (view: View, figure: Figure): string => {
  const { columns, rows } = figureTable(figure, writeOf(view));
  const body = rows.map((cells) => `<tr>${cells.map((cell, i) => (i === 0 ? `<th scope="row">${escape(cell)}</th>` : `<td>${escape(cell)}</td>`)).join("")}</tr>`);
  return `<table><caption>${escape(figure.title)}</caption><thead><tr>${columns.map((column) => `<th scope="col">${escape(column)}</th>`).join("")}</tr></thead><tbody>${body.join("")}</tbody></table>`;
};

/** A figure: drawing, its point in words, and a table that opens. `svg` is the drawing as text. */
export const renderFigure = (view: View, name: string, altHtml: string, id: string, svg: string): string => {
  const figure = figureOf(view, name);
  const alt = altHtml.replace(/<[^>]*>/g, "");
  return (
    `<lesson-figure id="${id}" data-figure="${name}"><figure aria-labelledby="${id}-title"><figcaption><span class="title" id="${id}-title">${escape(figure?.title ?? alt)}</span></figcaption>` +
    `<div class="picture" role="img" aria-label="${alt.replace(/"/g, "&quot;")}" aria-describedby="${id}-says">${svg}</div><p class="says" id="${id}-says">${escape(figure?.says ?? view.state.outcome ?? "")}</p>` +
    `<details><summary>Numbers behind this figure</summary><div class="table" tabindex="0" role="region" aria-label="Numbers behind this figure: ${escape(figure?.title ?? alt)}">${figure === undefined ? "" : figureRows(view, figure)}</div></details></figure></lesson-figure>`
  );
};
