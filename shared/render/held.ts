/** The case that the reader keeps, beside the present one. */
import type { Input, InputValue } from "../lesson.ts";
import { showInput } from "../state/units.ts";
import type { View } from "../view.ts";
import { capital, escape } from "./html.ts";
import { outputText } from "./value.ts";

const inputText = (view: View, input: Input, value: InputValue | undefined): string =>
  input.type === "quantity" ? showInput(input, value as number, view.units, view.locale).text : input.type === "choice" ? (input.words[value as string] ?? "") : "a table";

/** On a phone the cells stand below each other, each with its own head. */
const row = (label: string, held: string, now: string): string =>
  `<tr${held === now ? "" : ' class="differs"'}><th scope="row">${escape(capital(label))}</th><td data-head="held">${escape(held)}</td><td data-head="now">${escape(now)}</td></tr>`;

/** Without a held case the button that keeps one; with it the comparison. */
export const renderHeld = (view: View, locked: boolean): string => {
  const { held, lesson } = view;
  if (held === undefined) return `<button type="button" data-do="hold"${locked ? " disabled" : ""}>Hold this case</button>`;
  const inputs = Object.entries(lesson.inputs)
    .filter(([, input]) => input.type !== "table")
    .map(([name, input]) => ({ label: input.label, held: inputText(view, input, held.inputs[name]), now: inputText(view, input, view.state.inputs[name]) }))
    .filter((one) => one.held !== one.now);
  const outputs = Object.entries(lesson.outputs)
    .filter(([, output]) => output.type !== "trace" && output.type !== "table")
    .map(([name, output]) => ({ label: output.label, held: outputText(view, name, {}, held) ?? "", now: outputText(view, name) ?? "" }));
  return (
    `<button type="button" data-do="release">Let the held case go</button><div class="table" tabindex="0" role="region" aria-label="Held case and present case"><table><caption>Held case beside the present one</caption><thead><tr><th scope="col">Changed</th><th scope="col">held</th><th scope="col">now</th></tr></thead>` +
    `<tbody>${inputs.length === 0 ? '<tr><td colspan="3">Nothing yet: change an input.</td></tr>' : inputs.map((one) => row(one.label, one.held, one.now)).join("")}</tbody>` +
    `<thead><tr><th scope="col">Follows</th><th scope="col">held</th><th scope="col">now</th></tr></thead><tbody>${outputs.map((one) => row(one.label, one.held, one.now)).join("")}</tbody></table></div>`
  );
};
