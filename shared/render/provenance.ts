/** "Where this comes from": the equation or law with the present numbers in it, limits, source with status, file and line. */
import { isUnit } from "../../lib/units.ts";
import type { FlipValue, Output, RecordedCall } from "../lesson.ts";
import { formatSignificant } from "../state/numbers.ts";
import { show, unitText } from "../state/units.ts";
import { docOf, type KernelDoc, type View } from "../view.ts";
import { type Expression, nameMath, namesIn, parseExpression, toMath, valueAt } from "./expression.ts";
import { capital, escape } from "./html.ts";
import { outputOf, outputText } from "./value.ts";

/** Digits of the working numbers: enough to follow the sum with a pocket calculator. */
const WORKING_DIGITS = 5;

/** Everything is phrasing content, so that it may stand inside a paragraph; the style sheet makes lines of it. */
const line = (kind: string, html: string): string => (html === "" ? "" : `<span class="line ${kind}">${html}</span>`);
const titled = (kind: string, title: string, html: string): string => line(kind, html === "" ? "" : `<b>${title}</b> ${html}`);

const siText = (unit: string): string => (isUnit(unit) ? unitText(unit) : unit.replace(/\^2/g, "\u00b2").replace(/ /g, "\u00b7"));

/** SI unit of an argument or a result, from the brackets of the doc comment: its own, or that of the value it is part of. */
export const docUnit = (values: KernelDoc["params"], path: string): string => {
  const keys = path.split(".");
  for (let length = keys.length; length > 0; length--) {
    const value = values.find((one) => one.name === keys.slice(0, length).join("."));
    if (value === undefined) continue;
    const inText = length === keys.length ? null : new RegExp(`\\b${keys.at(-1)}\\b[^\\[]*\\[([^\\]]*)\\]`).exec(`${value.text} [${value.unit}]`);
    return inText?.[1] ?? value.unit;
  }
  return "";
};

const withUnit = (view: View, value: number, unit: string): string => {
  const text = siText(unit);
  return `${formatSignificant(value, WORKING_DIGITS, view.locale)}${text === "" || text === "1" ? "" : `\u00a0${text}`}`;
};

const math = (inside: string): string => `<math display="block">${inside}</math>`;

const readable = (expression: string): Expression | undefined => {
  try {
    return parseExpression(expression);
  } catch {
    return undefined;
  }
};

const numberMath = (view: View, value: number): string => `<mn>${escape(formatSignificant(value, WORKING_DIGITS, view.locale))}</mn>`;

/**
 * The equation in words, then with the present numbers, then its result; and the same for each other result of the kernel that it
 * rests on, down to the arguments.
 */
const equationHtml = (view: View, doc: KernelDoc, call: RecordedCall, field: string, value: number): string => {
  // A name that is no argument is a defaulted one or another result, which the kernel returns.
  const lookup = (name: string): unknown => valueAt(call.input, name) ?? valueAt(call.result, name);
  const present = (name: string): string => {
    const at = lookup(name);
    if (typeof at !== "number") return nameMath(name);
    return at < 0 ? `<mrow><mo>(</mo><mo form="prefix">\u2212</mo>${numberMath(view, -at)}<mo>)</mo></mrow>` : numberMath(view, at);
  };
  const shown = new Set<string>();
  const named = new Set<string>();
  const lines = (name: string, result: number, opening: string): string => {
    const equation = doc.equations.find((e) => e.name === name);
    if (equation === undefined || shown.has(name)) return "";
    shown.add(name);
    const expression = readable(equation.expression);
    if (expression === undefined) return line("equation", `<code>${escape(`${equation.name} = ${equation.expression}`)}</code>`);
    const names = namesIn(expression);
    const further = names.filter((one) => valueAt(call.input, one) === undefined);
    for (const one of names) if (!further.includes(one)) named.add(one);
    return (
      (opening === "" ? "" : line("with", opening)) +
      line("equation", math(`<mrow>${nameMath(name)}<mo>=</mo>${toMath(expression, nameMath)}</mrow>`)) +
      line("equation", math(`<mrow><mo form="prefix">=</mo>${toMath(expression, present)}</mrow>`)) +
      line("result", `= ${escape(withUnit(view, result, docUnit(doc.returns, name)))}`) +
      further.map((one) => lines(one, lookup(one) as number, "where")).join("")
    );
  };
  const equations = lines(field, value, "");
  const arguments_ = [...named]
    .map((name) => ({ name, at: lookup(name) }))
    .filter((one): one is { name: string; at: number } => typeof one.at === "number")
    .map(({ name, at }) => `<span class="argument"><math>${nameMath(name)}</math> ${escape(withUnit(view, at, docUnit(doc.params, name)))}</span>`)
    .join("");
  return equations + line("arguments", arguments_);
};

/** A figure of the run as it is recorded, where no closed form exists: definition, scheme, step, error. */
const lawHtml = (view: View, doc: KernelDoc, call: RecordedCall, field: string): string => {
  const law = doc.equations.map((equation) => {
    const expression = readable(equation.expression);
    return expression === undefined ? line("equation", `<code>${escape(`${equation.name} = ${equation.expression}`)}</code>`) : line("equation", math(`<mrow>${nameMath(equation.name)}<mo>=</mo>${toMath(expression, nameMath)}</mrow>`));
  });
  const said = doc.returns.find((value) => field === value.name || field.startsWith(`${value.name}.`))?.text ?? "";
  const result = call.result as Record<string, unknown> | null;
  const step = typeof result?.["step"] === "number" ? `step ${formatSignificant(result["step"], WORKING_DIGITS, view.locale)}\u00a0s` : "";
  const energy = result?.["energy"] as Record<string, unknown> | undefined;
  const error = typeof energy?.["error"] === "number" ? `energy balance closes to ${formatSignificant(energy["error"], 2, view.locale)} of what was there at touch` : "";
  const tag = (name: string): string => (doc as { tags?: readonly { tag: string; text: string }[] }).tags?.find((t) => t.tag === name)?.text ?? "";
  return (
    titled("law", "Law.", escape(tag("law"))) +
    law.join("") +
    titled("definition", "This number.", escape(capital(said))) +
    titled("scheme", "Scheme.", escape([tag("scheme"), step, error].filter((text) => text !== "").join("; "))) +
    titled("limit", "Closed form beside it.", escape(tag("limit")))
  );
};

/** Arguments of a call as name and value, one level deep in names, numbers and words only. */
const flat = (input: unknown, prefix = "", depth = 3): [string, number | string][] => {
  if (typeof input === "number" || typeof input === "string") return [[prefix, input]];
  if (input === null || typeof input !== "object" || depth === 0 || ArrayBuffer.isView(input)) return [];
  return Object.entries(input).flatMap(([key, value]) => flat(value, prefix === "" ? key : Array.isArray(input) ? `${prefix}[${key}]` : `${prefix}.${key}`, depth - 1));
};

const MOST_ARGUMENTS = 24;

const argumentsHtml = (view: View, doc: KernelDoc, call: RecordedCall): string =>
  line(
    "arguments",
    flat(call.input)
      .slice(0, MOST_ARGUMENTS)
      .map(([name, value]) => `<span class="argument"><math>${nameMath(name)}</math> ${escape(typeof value === "number" ? withUnit(view, value, docUnit(doc.params, name)) : value)}</span>`)
      .join(""),
  );

const limitsHtml = (doc: KernelDoc): string =>
  titled("model", "Model.", escape(capital(doc.model ?? ""))) +
  doc.sources.map((source) => titled("source", "Source.", `${escape(source.title ?? source.id)}${source.where === "" ? "" : `, ${escape(source.where)}`}${source.status === undefined ? "" : ` <i class="status">${escape(source.status)}</i>`}`)).join("") +
  line("kernel", `<code>${escape(doc.name)}</code> in <code>${escape(doc.file.startsWith("lib/") ? doc.file : `lib/${doc.file}`)}:${doc.line}</code>`);

const kernelHtml = (view: View, call: RecordedCall, field?: string, value?: number): string => {
  const doc = docOf(view, call.kernel);
  if (doc === undefined) return "";
  const closed = field !== undefined && doc.equations.some((e) => e.name === field) && value !== undefined;
  return (
    line("summary", escape(doc.summary)) +
    (closed ? equationHtml(view, doc, call, field, value) : `${field === undefined ? "" : lawHtml(view, doc, call, field)}${argumentsHtml(view, doc, call)}`) +
    limitsHtml(doc)
  );
};

/** Each kernel that this run called, once. */
const callsOnce = (view: View): RecordedCall[] => view.state.calls.filter((call, i, all) => all.findIndex((other) => other.kernel === call.kernel) === i);

const kernelsHtml = (view: View): string => {
  const calls = callsOnce(view);
  return calls.length === 0 ? "" : line("rests", `It rests on ${calls.length === 1 ? "this kernel" : "these kernels"}:`) + calls.map((call) => kernelHtml(view, call)).join("");
};

const flipHtml = (view: View, output: Extract<Output, { type: "flip" }>, value: FlipValue | undefined): string => {
  const along = view.lesson.inputs[output.along];
  const verdict = view.lesson.outputs[output.of];
  const word = (w: string): string => (verdict?.type === "verdict" ? (verdict.words[w] ?? w) : w);
  if (along?.type !== "quantity") return "";
  const range = `${show(along.kind, along.from, view.units, view.locale).text} to ${show(along.kind, along.to, view.units, view.locale).text}`;
  return (
    line("summary", `Found by running this lesson along \u201c${escape(along.label)}\u201d from ${escape(range)}, everything else as it is now, and halving the interval in which \u201c${escape(verdict?.label ?? output.of)}\u201d changes.`) +
    (value === undefined ? "" : value.at === null ? line("summary", `It never changes there: ${escape(word(value.below))}.`) : line("summary", `Below: ${escape(word(value.below))}. Above: ${escape(word(value.above))}.`)) +
    line("summary", "The change nearest to the present value is shown.") +
    kernelsHtml(view)
  );
};

/** Both unit systems, since readers compare with what they know. */
const bothUnits = (view: View, output: Output, value: unknown): string => {
  if (!("kind" in output) || output.type === "flip" || typeof value !== "number") return "";
  const metric = show(output.kind, value, "metric", view.locale).text;
  const customary = show(output.kind, value, "customary", view.locale).text;
  const si = `${formatSignificant(value, WORKING_DIGITS, view.locale)}\u00a0${siText(output.kind.si)}`;
  return line("units", [...new Set([metric, customary, ...(output.kind.si === "1" || output.kind.si === output.kind.shown.metric ? [] : [si])])].map(escape).join(" \u2002=\u2002 "));
};

/** Where output `name` comes from, at the present state. Phrasing content only. */
export const renderProvenance = (view: View, name: string): string => {
  const output = outputOf(view, name);
  const { state } = view;
  const head = line("title", `${escape(capital(output.label))}`);
  if (state.outcome !== undefined) return head + line("summary", `No value here: ${escape(state.outcome)}.`);
  const value = state.outputs[name];
  if (output.type === "quantity") {
    const call = state.calls.find((c) => c.kernel === output.from && c.name === (output.call ?? ""));
    const recorded = typeof value === "number" ? value * (output.sense ?? 1) : undefined;
    return head + bothUnits(view, output, value) + (call === undefined ? "" : kernelHtml(view, call, output.field, recorded)) + (output.sense === -1 ? line("sense", "Shown with its sign turned: counted along the other direction.") : "");
  }
  if (output.type === "returned") {
    const call = output.from === undefined ? undefined : state.calls.find((c) => c.kernel === output.from);
    return head + bothUnits(view, output, value) + line("because", escape(output.because)) + (call === undefined ? kernelsHtml(view) : kernelHtml(view, call));
  }
  if (output.type === "flip") return head + flipHtml(view, output, value as FlipValue | undefined);
  const words =
    output.type === "verdict"
      ? line("summary", `${escape(capital(outputText(view, name) ?? ""))}. One of: ${Object.values(output.words).map((word) => escape(word)).join("; ")}.`)
      : output.type === "sentence"
        ? line("summary", "Written anew from the numbers of this case each time they change.")
        : output.type === "trace"
          ? line("summary", `On ${escape(output.axis.label)}: ${Object.values(output.series).map((one) => escape(one.label)).join(", ")}..`)
          : line("summary", `Columns: ${Object.values(output.columns).map((column) => escape(column.label)).join(", ")}.`);
  return head + words + kernelsHtml(view);
};

