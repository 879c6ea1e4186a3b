/** A figure with its point in words and the numbers behind it. */
import type { Figure, Series } from "../figures/figure.ts";
import { fromSI } from "../../lib/units.ts";
import type { Kind } from "../kinds.ts";
import { formatNumber } from "../state/numbers.ts";
import { digitsFor, unitFor, unitText } from "../state/units.ts";
import type { View } from "../view.ts";
import { capital, escape } from "./html.ts";

/** The figure as data at the present state; nothing where the state has no outputs. */
export const figureOf = (view: View, name: string, state = view.state): Figure | undefined => {
  const make = Object.hasOwn(view.lesson.figures, name) ? view.lesson.figures[name] : undefined;
  if (make === undefined) throw new RangeError(`render: there is no figure ${name}`);
  return state.outcome === undefined ? make(state as never) : undefined;
};

/** Rows of the table behind a figure: enough to redraw it by hand. */
const MOST_ROWS = 26;

const cell = (view: View, kind: Kind, value: number | undefined, digits?: number): string => {
  if (value === undefined) return "";
  const unit = unitFor(kind, view.units);
  return formatNumber(fromSI(value, unit), digits ?? digitsFor(kind, unit) + (kind.digits === 0 ? 1 : 0), view.locale);
};

const heading = (view: View, label: string, kind: Kind): string => {
  const unit = unitText(unitFor(kind, view.units));
  return escape(unit === "" ? label : `${label} [${unit}]`);
};

const sameAxis = (all: readonly Series[]): boolean => all.every((one) => one.x.length === all[0]?.x.length && (one.x === all[0]?.x || Array.prototype.every.call(one.x, (x: number, i: number) => x === all[0]?.x[i])));

const picked = (length: number): number[] => (length <= MOST_ROWS ? Array.from({ length }, (_, i) => i) : Array.from({ length: MOST_ROWS }, (_, i) => Math.round((i * (length - 1)) / (MOST_ROWS - 1))));

const oneTable = (view: View, figure: Figure, series: readonly Series[], caption: string): string => {
  const rows = picked(series[0]?.x.length ?? 0).map(
    (i) => `<tr><th scope="row">${cell(view, figure.x.kind, series[0]?.x[i], figure.x.digits)}</th>${series.map((one) => `<td>${cell(view, figure.y.kind, one.y[i], figure.y.digits)}</td>`).join("")}</tr>`,
  );
  return `<table><caption>${escape(caption)}</caption><thead><tr><th scope="col">${heading(view, figure.x.label, figure.x.kind)}</th>${series
    .map((one) => `<th scope="col">${heading(view, series.length === 1 && one.label === "" ? figure.y.label : one.label, figure.y.kind)}</th>`)
    .join("")}</tr></thead><tbody>${rows.join("")}</tbody></table>`;
};

/** The numbers behind a figure: one table where the curves share their axis, else one a curve. */
export const figureTable = (view: View, figure: Figure): string => {
  const tables = sameAxis(figure.series) ? oneTable(view, figure, figure.series, `${figure.title}: ${figure.y.label}`) : figure.series.map((one) => oneTable(view, figure, [one], `${figure.title}: ${one.label}`)).join("");
  const rules = (figure.rules ?? []).map((rule) => {
    const axis = figure[rule.axis];
    return `<li>${escape(capital(rule.label))}: ${escape(axis.label)} ${cell(view, axis.kind, rule.at, axis.digits)} ${escape(unitText(unitFor(axis.kind, view.units)))}</li>`;
  });
  return tables + (rules.length === 0 ? "" : `<ul>${rules.join("")}</ul>`);
};

/** A figure: drawing, its point in words, and a table that opens. `svg` is the drawing as text. */
export const renderFigure = (view: View, name: string, altHtml: string, id: string, svg: string): string => {
  const figure = figureOf(view, name);
  const alt = altHtml.replace(/<[^>]*>/g, "");
  return (
    `<lesson-figure id="${id}" data-figure="${name}"><figure aria-labelledby="${id}-title"><figcaption><span class="title" id="${id}-title">${escape(figure?.title ?? alt)}</span><span class="alt">${altHtml}</span></figcaption>` +
    `<div class="drawing" role="img" aria-label="${alt.replace(/"/g, "&quot;")}" aria-describedby="${id}-says">${svg}</div><p class="says" id="${id}-says">${escape(figure?.says ?? view.state.outcome ?? "")}</p>` +
    `<details><summary>Numbers behind this figure</summary><div class="table" tabindex="0" role="region" aria-label="Numbers behind this figure: ${escape(figure?.title ?? alt)}">${figure === undefined ? "" : figureTable(view, figure)}</div></details></figure></lesson-figure>`
  );
};
