/** The value of an output in words, numbers and units. */
import type { FlipValue, Output, OutputValue, State, TableRows, TraceValue } from "../lesson.ts";
import { type ShowOptions, show } from "../state/units.ts";
import type { View } from "../view.ts";
import { escape } from "./html.ts";
import { spokenDigits } from "./spoken.ts";
import { countsText, rangeText } from "./range.ts";

const MISSING = "\u2014";

/** Words of the verdict a flip point is about. */
const wordOf = (view: View, verdict: string, word: string): string => {
  const output = view.lesson.outputs[verdict];
  return (output?.type === "verdict" ? output.words[word] : undefined) ?? word;
};

/** Declared output `name`; a page with a wrong name does not get past the builder. */
export const outputOf = (view: View, name: string): Output => {
  const output = Object.hasOwn(view.lesson.outputs, name) ? view.lesson.outputs[name] : undefined;
  if (output === undefined) throw new RangeError(`render: there is no output ${name}`);
  return output;
};

const flipText = (view: View, output: Extract<Output, { type: "flip" }>, value: FlipValue, options: ShowOptions): string => {
  if (value.below === "") return MISSING;
  if (value.at !== null) return show(output.kind, value.at, view.units, view.locale, options).text;
  return `nowhere ${value.silent === undefined ? "in the range" : "where there is an answer"}: ${wordOf(view, output.of, value.below)} throughout`;
};

/** Why a state has no result, as a sentence. A rule of `where` says what a state must be; an outcome of `run` what came of it. */
export const outcomeText = ({ lesson }: View, outcome: string): string => `No result here: ${Object.hasOwn(lesson.where, outcome) ? "this needs that " : ""}${outcome}.`;

/** Text of an output at `state`; `undefined` while it is being searched. */
export const outputText = (view: View, name: string, options: ShowOptions = {}, state: State = view.state): string | undefined => {
  const output = outputOf(view, name);
  // Why is said once on the page, by `outcomeText`.
  if (state.outcome !== undefined) return MISSING;
  const value: OutputValue | undefined = state.outputs[name];
  if (value === undefined) return output.type === "flip" ? undefined : MISSING;
  switch (output.type) {
    case "quantity":
    case "returned":
      return (options.range && state === view.state && rangeText(view, name, output.kind, options)) || show(output.kind, value as number, view.units, view.locale, options.spoken ? { ...options, significant: spokenDigits(view, name) } : options).text;
    case "verdict":
      return (options.range && state === view.state && countsText(view, name)) || output.words[value as string] || String(value);
    case "sentence":
      return String(value);
    case "flip":
      return flipText(view, output, value as FlipValue, options);
    case "trace":
      return `${output.label}: ${(value as TraceValue).axis.length} values`;
    case "table":
      return `${output.label}: ${(value as TableRows).length} rows`;
  }
};

const row = (role: string, cells: readonly string[]): string => `<span role="row">${cells.map((cell, i) => `<span role="${cell === "" ? "cell" : i === 0 && role === "cell" ? "rowheader" : role}">${cell}</span>`).join("")}</span>`;

/** A table as phrasing content, since an output may stand inside a paragraph. */
const grid = (label: string, head: readonly string[], body: readonly (readonly string[])[]): string =>
  `<span class="grid" role="table" aria-label="${escape(label)}"><span role="rowgroup">${row("columnheader", head)}</span><span role="rowgroup">${body.map((cells) => row("cell", cells)).join("")}</span></span>`;

/** Rows shown of a long trace: enough to check a curve by hand. */
const TRACE_ROWS = 21;

/** What goes inside an output: text, or a grid for a table or a trace. */
export const outputHtml = (view: View, name: string, options: ShowOptions = {}, state: State = view.state): string | undefined => {
  const output = outputOf(view, name);
  const value = state.outputs[name];
  if (value !== undefined && state.outcome === undefined && output.type === "table") {
    const columns = Object.entries(output.columns);
    return grid(
      output.label,
      columns.map(([, column]) => escape(column.label)),
      (value as TableRows).map((cells) => columns.map(([key, column]) => escape(column.kind === "text" || typeof cells[key] !== "number" ? String(cells[key] ?? "") : show(column.kind, cells[key], view.units, view.locale, options).text))),
    );
  }
  if (value !== undefined && state.outcome === undefined && output.type === "trace") {
    const trace = value as TraceValue;
    const series = Object.entries(output.series);
    const last = trace.axis.length - 1;
    const count = Math.min(TRACE_ROWS, trace.axis.length);
    const picked = Array.from({ length: count }, (_, i) => (count === 1 ? 0 : Math.round((i * last) / (count - 1))));
    return grid(
      output.label,
      [output.axis.label, ...series.map(([, one]) => one.label)].map(escape),
      picked.map((i) => [show(output.axis.kind, trace.axis[i] as number, view.units, view.locale).text, ...series.map(([key, one]) => show(one.kind, trace.series[key]?.[i] as number, view.units, view.locale).text)].map(escape)),
    );
  }
  // In place of the page's sentence stands why there is none; once, the other places keep their dash.
  if (state.outcome !== undefined && state === view.state && output.type === "sentence" && Object.keys(view.lesson.outputs).find((other) => view.lesson.outputs[other]?.type === "sentence") === name) return escape(outcomeText(view, state.outcome));
  const text = outputText(view, name, options, state);
  return text === undefined ? undefined : escape(text);
};
