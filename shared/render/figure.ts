/** A figure with its point in words and the numbers behind it. */
import { type Figure, figureTable } from "../figures/index.ts";
import { type View, writeOf } from "../view.ts";
import { escape } from "./html.ts";
import { renderOnScreen } from "./onScreen.ts";

/** The figure as data at the present state; nothing where the state has no outputs. */
export const figureOf = (view: View, name: string, state = view.state): Figure | undefined => {
  const make = Object.hasOwn(view.lesson.figures, name) ? view.lesson.figures[name] : undefined;
  if (make === undefined) throw new RangeError(`render: there is no figure ${name}`);
  return state.outcome === undefined ? make(state as never) : undefined;
};

/** The figure with the curves of the held case behind the present ones. */
export const figureWithHeld = (view: View, name: string): Figure | undefined => {
  const figure = figureOf(view, name);
  const held = view.held === undefined ? undefined : figureOf(view, name, view.held);
  if (figure === undefined || held === undefined || view.held?.inputs === view.state.inputs) return figure;
  return { ...figure, series: [...figure.series, ...held.series.map(({ label, x, y }) => ({ label: `held: ${label}`, belongs: "other" as const, x, y }))] };
};

/** The numbers behind a figure. */
export const figureRows = (view: View, figure: Figure): string => {
  const { columns, rows } = figureTable(figure, writeOf(view));
  const body = rows.map((cells) => `<tr>${cells.map((cell, i) => (i === 0 ? `<th scope="row">${escape(cell)}</th>` : `<td>${escape(cell)}</td>`)).join("")}</tr>`);
  return `<table><caption>${escape(figure.title)}</caption><thead><tr>${columns.map((column) => `<th scope="col">${escape(column)}</th>`).join("")}</tr></thead><tbody>${body.join("")}</tbody></table>`;
};

/** A figure: drawing, its point in words, and a table that opens. The drawing comes as text, for wide and for narrow pages, and has one name. */
export const renderFigure = (view: View, name: string, altHtml: string, id: string, svg: string, narrowSvg = ""): string => {
  const figure = figureOf(view, name);
  const alt = altHtml.replace(/<[^>]*>/g, "");
  const pictures = narrowSvg === "" ? `<div class="picture">${svg}</div>` : `<div class="picture wide">${svg}</div><div class="picture narrow">${narrowSvg}</div>`;
  return (
    `<lesson-figure id="${id}" data-figure="${name}"><figure aria-labelledby="${id}-title"><figcaption><span class="title" id="${id}-title">${escape(figure?.title ?? alt)}</span></figcaption>` +
    `<div class="drawings" role="img" aria-label="${alt.replace(/"/g, "&quot;")}" aria-describedby="${id}-says">${pictures}</div><p class="says" id="${id}-says">${escape(figure?.says ?? "")}</p>` +
    `<details><summary>Numbers behind this figure</summary><div class="table" tabindex="0" role="region" aria-label="Numbers behind this figure: ${escape(figure?.title ?? alt)}">${figure === undefined ? "" : figureRows(view, figure)}</div></details>${renderOnScreen(`figure:${name}`, id)}</figure></lesson-figure>`
  );
};
