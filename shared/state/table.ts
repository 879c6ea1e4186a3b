/** Tables as text: what a reader pastes or opens, and what stands in the box. */
import { fromSI, toSI, unitNamed, type UnitName } from "../../lib/units.ts";
import type { UnitSystem } from "../kinds.ts";
import type { TableInput, TableValue } from "../lesson.ts";
import { formatNumber, parseNumber, tidy } from "./numbers.ts";
import { unitFor, unitText } from "./units.ts";

/** What a reader wrote comes back as written: more figures than any ruler or scale gives, and no more. */
const FIGURES = 6;
const MOST_DIGITS = 9;
const cell = (value: number, locale: string): string => {
  const rounded = Number(value.toPrecision(FIGURES));
  let digits = 0;
  while (digits < MOST_DIGITS && Number(rounded.toFixed(digits)) !== rounded) digits++;
  return formatNumber(rounded, digits, locale).replace(/\u202f/g, "");
};

/** Header, then one line a row, columns parted by semicolons, so that a decimal comma parts nothing. `si` writes all digits, in SI. */
export const tableText = (input: TableInput, value: TableValue, units: UnitSystem, locale: string, exact?: "si"): string => {
  const columns = Object.entries(input.columns);
  const head = columns.map(([, column]) => {
    const unit = unitText(unitFor(column.kind, units));
    return unit === "" ? column.label : `${column.label} [${unit}]`;
  });
  const count = value[columns[0]?.[0] ?? ""]?.length ?? 0;
  const lines = Array.from({ length: count }, (_, i) =>
    columns.map(([key, column]) => {
      if (exact !== undefined) return String(value[key]?.[i]);
      const unit = unitFor(column.kind, units);
      return cell(fromSI(value[key]?.[i] as number, unit), locale);
    }),
  );
  return [head, ...lines].map((cells) => cells.join("; ")).join("\n");
};

/** Bad lines named one by one. */
const MOST_NAMED = 3;

/** Rows beyond this are a mistake, and would stall the page. */
const MOST_ROWS = 20_000;

/** Cells of a line; a cell in quotes may hold the sign that parts them, and a doubled quote. */
const cellsOf = (line: string, sign: string): string[] => {
  const cells = [""];
  let quoted = false;
  let previous = "";
  for (const character of line) {
    // one that closes and opens again at once stands for itself
    const doubled = character === '"' && previous === '"' && !quoted;
    if (character === '"') quoted = !quoted;
    if (character === sign && !quoted) cells.push("");
    else if (character !== '"' || doubled) cells[cells.length - 1] += character;
    previous = character;
  }
  // spreadsheets part empty cells too
  while (cells.length > 1 && cells.at(-1)?.trim() === "") cells.pop();
  return cells.map((text) => text.trim());
};

const NUMERIC = /^[-+\u2212]?[.,]?\d[\d.,]*(?:[eE][-+\u2212]?\d+)?$/;
/** A comma that can mark a fraction only, not thousands. */
const FRACTION = /^[-+\u2212]?(?:0?,\d+|\d+,(?:\d{1,2}|\d{4,})|\d{4,},\d+)$/;
const WITH_UNIT = /^(.*?)\s*(?:\[([^[\]]*)\]|\(([^()]*)\))$/;

/** Which cell each column is in, and the unit that the header gives it: by name where all are named, else in order. */
const placesOf = (header: readonly string[] | undefined, input: TableInput, units: UnitSystem): { readonly places: readonly { readonly cell: number; readonly unit: UnitName }[]; readonly least: number; readonly most: number } | { readonly question: string } => {
  const names = (header ?? []).map((text) => {
    const found = WITH_UNIT.exec(text);
    return { name: (found?.[1] ?? text).toLowerCase(), unit: found?.[2] ?? found?.[3] };
  });
  const columns = Object.entries(input.columns);
  const named = columns.map(([key, { label }]) => names.findIndex(({ name }) => name === key.toLowerCase() || name === label.toLowerCase()));
  const byName = named.every((cell) => cell >= 0);
  const places: { cell: number; unit: UnitName }[] = [];
  for (const [i, [, { label, kind }]] of columns.entries()) {
    const cell = byName ? (named[i] as number) : i;
    const own = unitFor(kind, units);
    const written = names[cell]?.unit;
    const unit = written === undefined || own === "1" || written === unitText(own) ? own : unitNamed(written, kind.si);
    if (unit === undefined) return { question: `${label}: \u201c${written}\u201d is no unit for it. Write ${unitText(own)}, or take it away.` };
    places.push({ cell, unit });
  }
  return { places, least: 1 + Math.max(...places.map(({ cell }) => cell)), most: byName ? names.length : columns.length };
};

/**
 * Reads a table. Parted by tab, semicolon, or comma where no semicolon and no tab occurs; quotes may enclose a cell. A first line
 * without a number is a header: it may name the columns, in any order and among others, and their units.
 */
export const readTable = (text: string, input: TableInput, units: UnitSystem, locale: string, exact?: "si"): { readonly value: TableValue } | { readonly question: string } => {
  const columns = Object.entries(input.columns);
  const content = text.replace(/^\ufeff/, "");
  const bare = content.replace(/"[^"]*"/g, "");
  const sign = bare.includes("\t") ? "\t" : bare.includes(";") ? ";" : columns.length > 1 ? "," : "\n";
  const lines = content.split(/\r\n?|\n/).map((line, i) => ({ cells: cellsOf(line, sign), number: i + 1 })).filter(({ cells }) => cells.some((cell) => cell !== ""));
  const header = lines[0] !== undefined && !lines[0].cells.some((cell) => NUMERIC.test(cell)) ? lines.shift()?.cells : undefined;
  if (lines.length === 0) return { question: "There are no rows with numbers." };
  if (lines.length > MOST_ROWS) return { question: `${lines.length} rows are too many; at most ${MOST_ROWS}.` };
  const found = placesOf(header, input, units);
  if ("question" in found) return found;
  const { places, least, most } = found;
  const numbers = lines.flatMap(({ cells }) => cells);
  const fractions = numbers.some((cell) => FRACTION.test(cell)) && !numbers.some((cell) => cell.includes("."));
  const reading = fractions ? "de" : sign === "," ? "en" : locale;
  const value = Object.fromEntries(columns.map(([key]) => [key, [] as number[]]));
  /** What is wrong with a line, if anything; its values are taken. */
  const take = (cells: readonly string[]): string | undefined => {
    if (cells.length < least || cells.length > most) return ` has ${cells.length} ${cells.length === 1 ? "value" : "values"}; it needs ${least}.`;
    for (const [i, [key, column]] of columns.entries()) {
      const { cell, unit } = places[i] as { cell: number; unit: UnitName };
      const parsed = parseNumber(cells[cell] ?? "", reading);
      if ("question" in parsed) return `, ${column.label}: ${parsed.question}`;
      if (parsed.rest !== "") return `, ${column.label}: type the number alone, without \u201c${parsed.rest}\u201d.`;
      value[key]?.push(exact !== undefined ? parsed.value : tidy(toSI(parsed.value, unit)));
    }
    return undefined;
  };
  const faults = lines.flatMap(({ cells, number }) => {
    const wrong = take(cells);
    return wrong === undefined ? [] : [`Line ${number}${wrong}`];
  });
  if (faults.length === 0) return { value };
  const more = faults.length - MOST_NAMED;
  return {
    question: [
      ...faults.slice(0, MOST_NAMED),
      ...(more > 0 ? [`And ${more} more ${more === 1 ? "line" : "lines"}.`] : []),
      ...(lines.some(({ cells }) => cells.length < least || cells.length > most) ? [`Wanted in each: ${columns.map(([, column]) => column.label).join("; ")}.`] : []),
      ...(sign === "," && lines.some(({ cells }) => cells.length > most) ? ["Decimal commas need semicolons or tabs between the values, or quotes round each."] : []),
    ].join(" "),
  };
};
