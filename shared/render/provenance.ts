/** "Where this comes from": the equation or law with the present numbers in it, limits, source with status, file and line. */
import { isUnit } from "../../lib/units.ts";
import { KINDS, type Kind } from "../kinds.ts";
import type { FlipValue, Output, RecordedCall } from "../lesson.ts";
import { formatSignificant } from "../state/numbers.ts";
import { show, unitText } from "../state/units.ts";
import { docOf, type KernelDoc, type View } from "../view.ts";
import { type Expression, nameHtml, nameMath, namesIn, parseExpression, toMath, valueAt } from "./expression.ts";
import { capital, escape } from "./html.ts";
import { statusMeaning } from "./status.ts";
import { outcomeText, outputOf, outputText } from "./value.ts";

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

/** The reader's own unit, where a kind is measured in `unit`. */
const inReadersUnit = (view: View, value: number, unit: string): string => {
  const kind: Kind | undefined = Object.values(KINDS).find(({ si }) => si === unit && si !== "1");
  return kind === undefined ? withUnit(view, value, unit) : show(kind, value, view.units, view.locale).text;
};

/** A number as it stands in the equation, and as the reader knows it. */
const inBoth = (view: View, value: number, unit: string): string => {
  const [si, own] = [withUnit(view, value, unit), inReadersUnit(view, value, unit)];
  return si === own || siText(unit) === "" || own.endsWith(`\u00a0${siText(unit)}`) ? si : `${si} = ${own}`;
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
 * Each equation in words, then with the present numbers, then its result; and the same for each other result of the kernel that it
 * rests on, down to the arguments.
 */
const equationsHtml = (view: View, doc: KernelDoc, call: RecordedCall, fields: readonly string[]): string => {
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
      line("result", `= ${escape(inBoth(view, result, docUnit(doc.returns, name)))}`) +
      further.map((one) => lines(one, lookup(one) as number, "where")).join("")
    );
  };
  const equations = fields.map((field) => lines(field, valueAt(call.result, field) as number, "")).join("");
  const arguments_ = [...named]
    .map((name) => ({ name, at: lookup(name) }))
    .filter((one): one is { name: string; at: number } => typeof one.at === "number")
    .map(({ name, at }) => argument(name, inBoth(view, at, docUnit(doc.params, name))))
    .join("");
  return equations + line("arguments", arguments_);
};

const argument = (name: string, text: string): string => `<span class="argument">${nameHtml(name)} <b>${escape(text)}</b></span>`;

/** Arrays of a result by their dotted path. */
const series = (value: unknown, prefix: string, depth = 5): [string, ArrayLike<number>][] => {
  if (ArrayBuffer.isView(value) && !(value instanceof DataView)) return [[prefix, value as unknown as ArrayLike<number>]];
  if (value === null || typeof value !== "object" || depth === 0) return [];
  // Places in a list are not named in the doc comments.
  return Object.entries(value).flatMap(([key, inner]) => series(inner, Array.isArray(value) ? prefix : prefix === "" ? key : `${prefix}.${key}`, depth - 1));
};

const MOST_TERMS = 24;

/** The terms of a law at one instant: where the first history of the run is largest. */
const termsHtml = (view: View, doc: KernelDoc, call: RecordedCall, field: string): string => {
  const all = series((call.result as Record<string, unknown> | null)?.["traces"], "traces");
  const time = all.find(([path]) => path === "traces.time")?.[1];
  const [first] = all.filter(([path]) => path !== "traces.time");
  if (time === undefined || first === undefined) return "";
  let at = 0;
  for (let i = 1; i < first[1].length; i++) if (Math.abs(first[1][i] as number) > Math.abs(first[1][at] as number)) at = i;
  // An output of one body is explained by that body's terms.
  const body = /(?:^|\.)([ab])(?:\.|$)/.exec(field)?.[1];
  const shown = all.filter(([path]) => path !== "traces.time" && (body === undefined || !new RegExp(`\\.${body === "a" ? "b" : "a"}(\\.|$)`).test(path))).slice(0, MOST_TERMS);
  const terms = shown.map(([path, values]) => argument(path.replace(/^traces\.(vehicles\.|occupants\.)?/, ""), inReadersUnit(view, values[at] as number, docUnit(doc.returns, path))));
  const when = `${formatSignificant((time[at] as number) * 1000, WORKING_DIGITS, view.locale)}\u00a0ms`;
  return line("with", `<b>Terms</b> at ${escape(when)}, when ${nameHtml(first[0].replace(/^traces\./, ""))} is largest:`) + line("arguments", terms.join(""));
};

/** What a run without a closed form rests on: law, definition, terms, scheme, step and error, and the closed form it tends to. */
const lawHtml = (view: View, doc: KernelDoc, call: RecordedCall, field: string): string => {
  const tagged = (name: string): string[] => (doc.tags ?? []).filter(({ tag }) => tag === name).map(({ text }) => text);
  const said = doc.returns.find((value) => field === value.name || field.startsWith(`${value.name}.`))?.text ?? "";
  const result = call.result as Record<string, unknown> | null;
  const step = typeof result?.["step"] === "number" ? [`step ${formatSignificant(result["step"], WORKING_DIGITS, view.locale)}\u00a0s`] : [];
  const energy = result?.["energy"] as Record<string, unknown> | undefined;
  const error = typeof energy?.["error"] === "number" ? [`energy balance closes to ${formatSignificant(Math.abs(energy["error"]), 2, view.locale)} of what was there at touch`] : [];
  return (
    tagged("law").map((law) => titled("law", "Law.", escape(capital(law.replace(/ \* /g, " \u00b7 ").replace(/ - /g, " \u2212 ").replace(/= -/g, "= \u2212"))))).join("") +
    titled("definition", "This number.", field === "" ? "" : escape(capital(said))) +
    termsHtml(view, doc, call, field) +
    titled("scheme", "Scheme.", escape(capital([...tagged("scheme"), ...step, ...error].join("; ")))) +
    tagged("limit").map((limit) => titled("limit", "Closed form beside it.", escape(capital(limit)))).join("")
  );
};

/** Arguments of a call as name and value: numbers and words. A list says nothing that its rows on the page do not say better. */
const flat = (input: unknown, prefix = "", depth = 3): [string, number | string][] => {
  if (typeof input === "number" || typeof input === "string") return [[prefix, input]];
  if (input === null || typeof input !== "object" || depth === 0 || Array.isArray(input) || ArrayBuffer.isView(input)) return [];
  return Object.entries(input).flatMap(([key, value]) => flat(value, prefix === "" ? key : `${prefix}.${key}`, depth - 1));
};

const MOST_ARGUMENTS = 24;

const argumentsHtml = (view: View, doc: KernelDoc, call: RecordedCall): string => {
  const shown = flat(call.input)
    .slice(0, MOST_ARGUMENTS)
    .map(([name, value]) => argument(name, typeof value === "number" ? inReadersUnit(view, value, docUnit(doc.params, name)) : value));
  return shown.length === 0 ? "" : line("with", "<b>With</b>") + line("arguments", shown.join(""));
};

/** Whether anybody else's value stands beside it. */
const checksHtml = ({ name, checks }: KernelDoc): string => {
  if (checks === undefined) return "";
  return line("checks", checks > 0 ? `<a href="evidence.html#${name}">Compared with ${checks} published ${checks === 1 ? "value" : "values"}</a>` : `Nobody else\u2019s value was found to compare it with; <a href="evidence.html#unpublished">how it is tested instead</a>`);
};

const limitsHtml = (doc: KernelDoc): string =>
  titled("model", "Model.", escape(capital(doc.model ?? ""))) +
  doc.sources.map((source) => titled("source", "Source.", `${escape(source.title ?? source.id)}${source.where === "" ? "" : `, ${escape(source.where)}`}${source.status === undefined ? "" : ` <i class="status"${statusMeaning(source.status) === undefined ? "" : ` title="${escape(statusMeaning(source.status) as string)}"`}>${escape(source.status)}</i>`}`)).join("") +
  checksHtml(doc) +
  line("kernel", `<code>${escape(doc.name)}</code> in <code>${escape(doc.file.startsWith("lib/") ? doc.file : `lib/${doc.file}`)}:${doc.line}</code>`);

/** Results of a kernel that the lesson shows, or else all of them. */
const fieldsShown = (view: View, doc: KernelDoc, call: RecordedCall): string[] => {
  const closed = doc.equations.map(({ name }) => name).filter((name) => typeof valueAt(call.result, name) === "number");
  const read = new Set(Object.values(view.lesson.outputs).flatMap((output) => (output.type === "quantity" && output.from === call.kernel ? [output.field] : [])));
  return closed.some((name) => read.has(name)) ? closed.filter((name) => read.has(name)) : closed;
};

/** Where the reference page of the site tells the rest. */
const referenceTo = (doc: KernelDoc): string => `<a href="reference.html#${doc.name}"><code>${escape(doc.name)}</code></a>`;

const kernelHtml = (view: View, call: RecordedCall, brief: boolean, field?: string): string => {
  const doc = docOf(view, call.kernel);
  if (doc === undefined) return "";
  const fields = field === undefined ? fieldsShown(view, doc, call) : doc.equations.some((e) => e.name === field) ? [field] : [];
  return (
    line("summary", escape(doc.summary)) +
    (fields.length > 0 ? equationsHtml(view, doc, call, fields) : lawHtml(view, doc, call, field ?? "") + (brief ? "" : argumentsHtml(view, doc, call))) +
    (brief ? line("kernel", `Limits, source, file and line: ${referenceTo(doc)}`) : limitsHtml(doc))
  );
};

/** Each kernel that this run called, once. */
const callsOnce = (view: View): RecordedCall[] => view.state.calls.filter((call, i, all) => all.findIndex((other) => other.kernel === call.kernel) === i);

const kernelsHtml = (view: View, brief: boolean): string => {
  const calls = callsOnce(view);
  if (brief) {
    const docs = calls.flatMap((call) => docOf(view, call.kernel) ?? []);
    return docs.length === 0 ? "" : line("rests", `It rests on ${docs.map(referenceTo).join(", ")}.`);
  }
  return calls.length === 0 ? "" : line("rests", `It rests on ${calls.length === 1 ? "this kernel" : "these kernels"}:`) + calls.map((call) => kernelHtml(view, call, false)).join("");
};

const flipHtml = (view: View, output: Extract<Output, { type: "flip" }>, value: FlipValue | undefined, brief: boolean): string => {
  const along = view.lesson.inputs[output.along];
  const verdict = view.lesson.outputs[output.of];
  const word = (w: string): string => (verdict?.type === "verdict" ? (verdict.words[w] ?? w) : w);
  if (along?.type !== "quantity") return "";
  const range = `${show(along.kind, along.from, view.units, view.locale).text} to ${show(along.kind, along.to, view.units, view.locale).text}`;
  return (
    line("summary", `Found by running this lesson along \u201c${escape(along.label)}\u201d from ${escape(range)}, everything else as it is now, and halving the interval in which \u201c${escape(verdict?.label ?? output.of)}\u201d changes.`) +
    (value === undefined ? "" : value.at === null ? line("summary", `It never changes there: ${escape(word(value.below))}.`) : line("summary", `Below: ${escape(word(value.below))}. Above: ${escape(word(value.above))}.`)) +
    line("summary", "The change nearest to the present value is shown.") +
    (value?.silent === undefined ? "" : line("summary", `Part of the range has no verdict: ${escape(value.silent)}.`)) +
    kernelsHtml(view, brief)
  );
};

/** The reader's unit and those of both road systems, since readers compare with what they know. */
const bothUnits = (view: View, output: Output, value: unknown): string => {
  if (!("kind" in output) || output.type === "flip" || typeof value !== "number") return "";
  const metric = show(output.kind, value, "metric", view.locale).text;
  const customary = show(output.kind, value, "customary", view.locale).text;
  const si = `${formatSignificant(value, WORKING_DIGITS, view.locale)}\u00a0${siText(output.kind.si)}`;
  return line("units", [...new Set([show(output.kind, value, view.units, view.locale).text, metric, customary, ...(output.kind.si === "1" || output.kind.si === output.kind.shown.metric ? [] : [si])])].map(escape).join(" \u2002=\u2002 "));
};

/** Where output `name` comes from, at the present state. Phrasing content only. In brief, for the page as built: what the kernel itself says stands on the reference page. */
export const renderProvenance = (view: View, name: string, brief = false): string => {
  const output = outputOf(view, name);
  const { state } = view;
  const head = line("title", `${escape(capital(output.label))}`);
  if (state.outcome !== undefined) return head + line("summary", escape(outcomeText(view, state.outcome)));
  const value = state.outputs[name];
  if (output.type === "quantity") {
    const call = state.calls.find((c) => c.kernel === output.from && c.name === (output.call ?? ""));
    return head + bothUnits(view, output, value) + (call === undefined ? "" : kernelHtml(view, call, brief, output.field)) + (output.sense === -1 ? line("sense", "Shown with its sign turned: counted along the other direction.") : "");
  }
  if (output.type === "returned") {
    const call = output.from === undefined ? undefined : state.calls.find((c) => c.kernel === output.from);
    return head + bothUnits(view, output, value) + line("because", escape(output.because)) + (call === undefined ? kernelsHtml(view, brief) : kernelHtml(view, call, brief));
  }
  if (output.type === "flip") return head + flipHtml(view, output, value as FlipValue | undefined, brief);
  const words =
    output.type === "verdict"
      ? line("summary", `${escape(capital(outputText(view, name) ?? ""))}. One of: ${Object.values(output.words).map((word) => escape(word)).join("; ")}.`)
      : output.type === "sentence"
        ? line("summary", "Written anew from the numbers of this case each time they change.")
        : output.type === "trace"
          ? line("summary", `On ${escape(output.axis.label)}: ${Object.values(output.series).map((one) => escape(one.label)).join(", ")}.`)
          : line("summary", `Columns: ${Object.values(output.columns).map((column) => escape(column.label)).join(", ")}.`);
  return head + words + kernelsHtml(view, brief);
};

