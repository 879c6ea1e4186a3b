/** Tables as text: what a reader pastes or opens, and what stands in the box. */
import { fromSI, toSI } from "../../lib/units.ts";
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

/** Rows beyond this are a mistake, and would stall the page. */
const MOST_ROWS = 20_000;

/** Reads a table. Parted by tab, semicolon, or comma where no semicolon and no tab occurs. A first line without numbers is a header. */
export const readTable = (text: string, input: TableInput, units: UnitSystem, locale: string, exact?: "si"): { readonly value: TableValue } | { readonly question: string } => {
  const columns = Object.entries(input.columns);
  const lines = text.replace(/^\ufeff/, "").split(/\r\n?|\n/).map((content, i) => ({ content: content.trim(), number: i + 1 })).filter(({ content }) => content !== "");
  const sign = text.includes("\t") ? "\t" : text.includes(";") ? ";" : columns.length > 1 ? "," : "\n";
  if (lines[0] !== undefined && !/^[-+\u2212.,]?\d/.test(lines[0].content)) lines.shift();
  if (lines.length === 0) return { question: "There are no rows with numbers." };
  if (lines.length > MOST_ROWS) return { question: `${lines.length} rows are too many; at most ${MOST_ROWS}.` };
  const value = Object.fromEntries(columns.map(([key]) => [key, [] as number[]]));
  for (const { content, number } of lines) {
    const cells = content.split(sign).map((cell) => cell.trim());
    if (cells.length !== columns.length) return { question: `Line ${number} has ${cells.length} ${cells.length === 1 ? "value" : "values"}; it needs ${columns.length}: ${columns.map(([, column]) => column.label).join(", ")}.` };
    for (const [i, [key, column]] of columns.entries()) {
      const parsed = parseNumber(cells[i] ?? "", sign === "," ? "en" : locale);
      if ("question" in parsed) return { question: `Line ${number}, ${column.label}: ${parsed.question}` };
      if (parsed.rest !== "") return { question: `Line ${number}, ${column.label}: type the number alone, without \u201c${parsed.rest}\u201d.` };
      value[key]?.push(exact !== undefined ? parsed.value : tidy(toSI(parsed.value, unitFor(column.kind, units))));
    }
  }
  return { value };
};
