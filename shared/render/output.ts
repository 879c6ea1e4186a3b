/** Outputs, claims and names in prose. */
import type { ShowOptions } from "../state/units.ts";
import type { View } from "../view.ts";
import { capital, escape } from "./html.ts";
import { optionData } from "./input.ts";
import { renderProvenance } from "./provenance.ts";
import { outputHtml, outputOf } from "./value.ts";

/** A value being searched: shown until the reader lets go. */
const SEARCHING = "\u2026";

/** What stands in the button of an output, and beside it where a case is held. */
export const outputParts = (view: View, name: string, options: ShowOptions): { readonly value: string | undefined; readonly held: string } => {
  const value = outputHtml(view, name, options);
  const held = view.held === undefined ? undefined : outputHtml(view, name, options, view.held);
  return { value, held: held === undefined || held === value || outputOf(view, name).type === "table" || outputOf(view, name).type === "trace" ? "" : `held: ${held}` };
};

/** A value in prose. It opens "where this comes from" in place, without scripts too. */
export const renderOutput = (view: View, name: string, options: ShowOptions, id: string): string => {
  const output = outputOf(view, name);
  const { value, held } = outputParts(view, name, options);
  const long = output.type === "sentence" || output.type === "table" || output.type === "trace";
  const from = `<span class="from" id="${id}-from" popover tabindex="0" role="dialog" aria-label="Where this comes from: ${escape(output.label)}">${renderProvenance(view, name, true)}</span>`;
  const heldHtml = `<span class="held"${held === "" ? " hidden" : ""}>${held}</span>`;
  // A whole sentence or table would make an odd button: it keeps its text selectable and gets a small one of its own.
  const body = long
    ? `<span class="value"${output.type === "sentence" ? "" : ' tabindex="0"'}>${value ?? SEARCHING}</span> <button type="button" class="why" popovertarget="${id}-from" aria-label="Where this comes from: ${escape(output.label)}">?</button>`
    : `<button type="button" class="value" popovertarget="${id}-from" title="${escape(capital(output.label))}: where this comes from">${value ?? SEARCHING}</button>`;
  return `<quantity-output id="${id}" class="${output.type}" data-output="${name}"${optionData(options)}>${body}${heldHtml}${from}</quantity-output>`;
};

/** How often a claim was tested, in words that claim no proof. */
export const claimNote = (view: View, result: { readonly samples: number; readonly smallestMargin: number } | undefined): string =>
  result === undefined ? "Tested when the page is built: a case that breaks this sentence stops the build." : `Tested on ${result.samples.toLocaleString(view.locale).replace(/[,.\u00a0]/g, "\u202f")} states of the inputs; smallest margin ${Number(result.smallestMargin.toPrecision(3))}. Not a proof.`;

/** A sentence of the prose that the builder tests. */
export const renderClaim = (view: View, name: string, textHtml: string, result: { readonly samples: number; readonly smallestMargin: number } | undefined, id: string): string => {
  // The mark keeps to the last word: at the head of the next line it would belong to nothing.
  const [, before = "", last = ""] = /^(.*?)([^\s<>]*)$/s.exec(textHtml) ?? [];
  const mark = `<button type="button" class="tested" popovertarget="${id}-note" aria-label="How this was tested">\u2713</button>`;
  return `<claim-note id="${id}" data-claim="${name}"><span class="claim">${before}<span class="marked">${last === "" ? "\u2060" : last}${mark}</span></span><span class="from" id="${id}-note" popover tabindex="0" role="dialog" aria-label="How this was tested">${escape(claimNote(view, result))}</span></claim-note>`;
};

/** A name that the lesson gives. */
export const renderName = (view: View, name: string): string => {
  const text = Object.hasOwn(view.lesson.names, name) ? view.lesson.names[name] : undefined;
  if (text === undefined) throw new RangeError(`render: there is no name ${name}`);
  return name === "a" || name === "b" ? `<span class="name-${name}">${escape(text)}</span>` : escape(text);
};
