/** Inputs: the boxed dimension in prose, and the panel with all of them. */
import type { ChoiceInput, Input, QuantityInput, TableInput, TableValue } from "../lesson.ts";
import { slots } from "../state/inputs.ts";
import { formatSignificant } from "../state/numbers.ts";
import { tableText } from "../state/table.ts";
import { showInput, type ShowOptions, showSet, unitFor, unitSpoken, unitText } from "../state/units.ts";
import { fromSI } from "../../lib/units.ts";
import type { View } from "../view.ts";
import { capital, escape } from "./html.ts";

/** Declared input `name`. */
export const inputOf = (view: View, name: string): Input => {
  const input = Object.hasOwn(view.lesson.inputs, name) ? view.lesson.inputs[name] : undefined;
  if (input === undefined) throw new RangeError(`render: there is no input ${name}`);
  return input;
};

/** Options as data for the element to read back. */
export const optionData = (options: ShowOptions): string => (options.unit === undefined ? "" : ` data-unit="${escape(options.unit)}"`) + (options.digits === undefined ? "" : ` data-digits="${options.digits}"`) + (options.spoken ? ' data-show="spoken"' : options.range ? ' data-show="range"' : "");

/** The number in the box, without its unit. */
export const inputNumber = (view: View, input: QuantityInput, value: number, options: ShowOptions = {}): string => showInput(input, value, view.units, view.locale, options).number;

/** The value as it is said: "900 kilograms". */
export const inputSpoken = (view: View, input: QuantityInput, value: number): string => {
  const shown = showInput(input, value, view.units, view.locale);
  return `${shown.number} ${unitSpoken(shown.unit)}`.trim();
};

const FEWEST_CHARACTERS = 2;

/** Room for the widest value of the range, so that the line does not shift during a drag. */
export const inputSize = (view: View, name: string, input: QuantityInput, options: ShowOptions = {}): number =>
  Math.max(FEWEST_CHARACTERS, ...[input.from, input.to, view.state.inputs[name] as number].map((value) => inputNumber(view, input, value, options).length));

/** What a field is called by those who do not see it. */
export const fieldLabel = (view: View, input: QuantityInput, options: ShowOptions = {}): string => [input.label, unitText(unitFor(input.kind, view.units, options))].filter((text) => text !== "").join(", ");

const box = (view: View, name: string, input: QuantityInput, value: number, options: ShowOptions, id: string): string => {
  const unit = unitText(unitFor(input.kind, view.units, options));
  const label = escape(input.label);
  return (
    `<span class="box"><button type="button" class="step" data-step="-1" aria-label="less: ${label}">\u2212</button>` +
    `<input class="number" id="${id}-number" type="text" inputmode="decimal" autocomplete="off" spellcheck="false" readonly size="${inputSize(view, name, input, options)}" value="${escape(inputNumber(view, input, value, options))}" aria-label="${escape(fieldLabel(view, input, options))}" aria-describedby="${id}-message">` +
    `<span class="unit" aria-hidden="true">${escape(unit)}</span>` +
    `<button type="button" class="step" data-step="1" aria-label="more: ${label}">+</button></span><span class="message" id="${id}-message" role="status"></span>`
  );
};

const choiceInline = (input: ChoiceInput, value: string, id: string): string =>
  `<select class="number" id="${id}-choice" aria-label="${escape(input.label)}" disabled>${Object.entries(input.words)
    .map(([word, text]) => `<option value="${escape(word)}"${word === value ? " selected" : ""}>${escape(text)}</option>`)
    .join("")}</select>`;

/** An input in prose: a boxed dimension with step buttons; type in it. Opens nothing. */
export const renderInput = (view: View, name: string, options: ShowOptions, id: string): string => {
  const input = inputOf(view, name);
  const value = view.state.inputs[name];
  if (input.type === "quantity") return `<quantity-input id="${id}" data-input="${name}"${optionData(options)}>${box(view, name, input, value as number, options, id)}</quantity-input>`;
  if (input.type === "choice") return `<choice-input id="${id}" data-input="${name}">${choiceInline(input, value as string, id)}</choice-input>`;
  return `<a class="to-table" href="#control-${name}">${escape(input.label)}</a>`;
};

/** Both ends of the range as they stand under the track. */
export const trackEnds = (view: View, input: QuantityInput): readonly [string, string] => {
  const end = (at: number): string => showSet(input.kind, at, input.step, view.units, view.locale).text;
  return [end(input.from), end(input.to)];
};

const slider = (view: View, name: string, input: QuantityInput, value: number): string => {
  const { count, slotOf } = slots(input, view.units);
  const [from, to] = trackEnds(view, input).map(escape);
  return (
    `<span class="track"><input class="slider" id="control-${name}-slider" type="range" min="0" max="${count}" step="1" value="${slotOf(value)}" disabled aria-label="${escape(input.label)}" aria-valuetext="${escape(inputSpoken(view, input, value))}">` +
    `<span class="ends" aria-hidden="true"><span>${from}</span><span>${to}</span></span></span>`
  );
};

/** A give or take is itself a rough number: two digits say what is known of it. */
const GIVE_DIGITS = 2;

/** What the give or take is, in the reader's unit, and why. */
export const giveText = (view: View, input: QuantityInput): string => {
  const unit = unitFor(input.kind, view.units);
  const give = input.give > 0 ? `give or take ${formatSignificant(fromSI(input.give, unit), GIVE_DIGITS, view.locale)}\u00a0${unitText(unit)}`.trim() : "";
  return [give, input.reason ?? ""].filter((text) => text !== "").join(": ");
};

const FEWEST_LINES = 4;
const MOST_LINES = 14;

/** What can be pasted there, as `readTable` takes it. */
const tableHint = ({ columns, start }: TableInput): string => {
  const rows = Object.keys(columns).length > 1 ? "One row a line, columns parted by semicolons, tabs or commas. Decimal points or decimal commas; with commas between the columns, points only." : "One value a line, with a decimal point or a decimal comma.";
  return `${Object.values(start).some((column) => column.length > 0) ? "Invented values to start with. " : ""}${rows} A first line may name columns and units. Paste or open your own; they stay in this page.`;
};

const tableControl = (view: View, name: string, input: TableInput, value: TableValue): string => {
  const text = tableText(input, value, view.units, view.locale);
  const lines = Math.min(MOST_LINES, Math.max(FEWEST_LINES, text.split("\n").length));
  return (
    `<table-input class="control" id="control-${name}" data-input="${name}"><label class="name" for="control-${name}-text">${escape(capital(input.label))}</label>` +
    `<span class="hint" id="control-${name}-hint">${tableHint(input)}</span>` +
    `<textarea id="control-${name}-text" rows="${lines}" spellcheck="false" readonly aria-describedby="control-${name}-hint control-${name}-message">${escape(text)}</textarea>` +
    `<span class="open"><label for="control-${name}-file">Open a CSV file</label><input id="control-${name}-file" type="file" accept=".csv,.txt,text/csv" disabled></span>` +
    `<span class="message" id="control-${name}-message" role="status"></span></table-input>`
  );
};

const control = (view: View, name: string, input: Input): string => {
  const id = `control-${name}`;
  const value = view.state.inputs[name];
  if (input.type === "table") return tableControl(view, name, input, value as TableValue);
  if (input.type === "choice") {
    const options = Object.entries(input.words).map(
      ([word, text]) => `<label><input type="radio" name="${id}" value="${escape(word)}"${word === value ? " checked" : ""} disabled><span>${escape(text)}</span></label>`,
    );
    return `<choice-input class="control" id="${id}" data-input="${name}"><fieldset><legend class="name">${escape(capital(input.label))}</legend>${options.join("")}</fieldset></choice-input>`;
  }
  return (
    `<quantity-input class="control" id="${id}" data-input="${name}"><label class="name" for="${id}-number">${escape(capital(input.label))}</label>` +
    `${box(view, name, input, value as number, {}, id)}${slider(view, name, input, value as number)}<span class="give">${escape(giveText(view, input))}</span></quantity-input>`
  );
};

/** The panel of all inputs, with what acts on all of them: undo, reset, keep a case, copy the link. */
export const renderControls = (view: View): string => {
  const scales =
    view.scales === undefined || view.scales.length === 0
      ? ""
      : `<scale-switch><fieldset><legend>Scale</legend>${["road", ...view.scales].map((scale) => `<label><input type="radio" name="page-scale" value="${escape(scale)}"${scale === (view.scale ?? "road") ? " checked" : ""} disabled><span>${escape(scale)}</span></label>`).join("")}</fieldset></scale-switch>`;
  return (
    `<section class="controls" aria-label="Inputs"><p class="locked-note">Commit to a prediction first, or press \u201cJust show me\u201d; then everything here moves.</p>${scales}<case-outcome></case-outcome><div class="panel">${Object.entries(view.lesson.inputs)
      .filter(([name]) => view.controls?.includes(name) ?? true)
      .map(([name, input]) => control(view, name, input))
      .join("")}</div>` + `<case-bar><button type="button" data-do="undo" disabled>Undo</button><button type="button" data-do="reset" disabled>Back to the start</button></case-bar><held-case></held-case><share-link></share-link></section>`
  );
};
