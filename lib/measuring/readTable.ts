import { requireOneOf, requireThat } from "../check.ts";
import { isUnit, UNITS } from "../units.ts";

const SEPARATORS = { tab: "\t", semicolon: ";", comma: "," } as const;
export type Separator = keyof typeof SEPARATORS | "none";
export const DECIMAL_MARKS = [".", ","] as const;
export type DecimalMark = (typeof DECIMAL_MARKS)[number];

export interface TableColumn {
  readonly name: string;
  /** As the header writes it; "1" where it names none. */
  readonly unit: string;
  /** Numbers, in SI; undefined for a column of words. */
  readonly values?: readonly number[];
  /** Words; undefined for a column of numbers. */
  readonly words?: readonly string[];
}

/** Counts, without dimension, that film and class tables name as units. */
const COUNTS = ["px", "frame", "frames"];
const NUMBER = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?$/;
/** One to three digits, a comma, three digits: could as well be thousands. */
const AMBIGUOUS = /^[+-]?[1-9]\d{0,2},\d{3}$/;
const HEADER_UNIT = /^(.*?)\s*(?:\(([^()]*)\)|\[([^[\]]*)\]|\s\/\s*(\S+))$/;

interface Cell {
  readonly text: string;
  /** From 1; a quoted cell may span lines. */
  readonly line: number;
  /** Place among the cells of its row, from 1. */
  readonly column: number;
}

const refuse = (where: string, rule: string, got: unknown): never => {
  requireThat(false, "readTable", where, rule, got);
  throw new Error("unreachable");
};

/** Rows of cells. Quotes may enclose any cell; a quote inside is doubled. Blank lines are left out. */
const rowsOf = (text: string, separator: string | undefined): Cell[][] => {
  const rows: Cell[][] = [];
  let row: Cell[] = [];
  let cell = "";
  let line = 1;
  let start = 1;
  let quoteLine = 0;
  let state: "open" | "quoted" | "closed" = "open";
  const place = (): string => `line ${start}, column ${row.length + 1}`;
  const endCell = (): void => {
    row.push({ text: state === "closed" ? cell : cell.trim(), line: start, column: row.length + 1 });
    cell = "";
    state = "open";
    start = line;
  };
  const endRow = (): void => {
    endCell();
    if (row.some(({ text: content }) => content !== "")) rows.push(row);
    row = [];
  };
  for (const character of text) {
    if (state === "quoted") {
      if (character === "\n") line++;
      if (character === '"') state = "closed";
      else cell += character;
    } else if (character === '"' && state === "closed") {
      cell += character;
      state = "quoted";
    } else if (character === '"' && cell.trim() === "") {
      cell = "";
      state = "quoted";
      quoteLine = line;
    } else if (character === "\n") {
      line++;
      endRow();
      start = line;
    } else if (character === separator) endCell();
    else if (state === "closed") {
      if (character.trim() !== "") refuse(place(), "ended by the quote that closes it (double a quote inside a cell)", `${cell}"${character}`);
    } else cell += character;
  }
  if (state === "quoted") refuse(`line ${quoteLine}, column ${row.length + 1}`, 'closed by a second quote (none follows; take the " away or add one)', cell.slice(0, 20));
  if (cell !== "" || row.length > 0) endRow();
  return rows;
};

/** The first of tab, semicolon and comma that the header holds outside quotes. */
const separatorOf = (text: string): Separator => {
  let quoted = false;
  const found = new Set<string>();
  let some = false;
  for (const character of text) {
    if (character === '"') quoted = !quoted;
    else if (character === "\n" && !quoted && some) break;
    else if (!quoted) found.add(character);
    if (character.trim() !== "") some = true;
  }
  return (Object.keys(SEPARATORS) as (keyof typeof SEPARATORS)[]).find((name) => found.has(SEPARATORS[name])) ?? "none";
};

/** Size in SI of a unit of lib/units, of a count, or of a quotient such as cm/s^2. */
const sizeOf = (unit: string): number | undefined => {
  if (isUnit(unit)) return UNITS[unit].size;
  if (COUNTS.includes(unit)) return 1;
  const [above, below, ...more] = unit.split("/");
  const power = /^([^^]+)(?:\^([23]))?$/.exec(below ?? "");
  const over = power?.[1] ?? "";
  if (above === undefined || more.length > 0 || !(isUnit(above) || COUNTS.includes(above)) || !(isUnit(over) || COUNTS.includes(over))) return undefined;
  const one = (name: string): number => (isUnit(name) ? UNITS[name].size : 1);
  return one(above) / one(over) ** Number(power?.[2] ?? 1);
};

/** Name and unit of a header such as "time (ms)", "time [ms]" or "time / ms". */
const headerOf = ({ text, line, column }: Cell): { name: string; unit: string; size: number; given: boolean } => {
  const found = HEADER_UNIT.exec(text);
  const written = (found?.[2] ?? found?.[3] ?? found?.[4])?.trim();
  const name = (found?.[1] ?? text).trim();
  if (name === "") refuse(`line ${line}, column ${column}`, "a name, with its unit in brackets where it has one: time (ms)", text);
  if (written === undefined || written === "") return { name, unit: "1", size: 1, given: false };
  const unit = written.replace("²", "^2").replace("³", "^3");
  const size = sizeOf(unit);
  if (size === undefined) return refuse(`line ${line}, column ${column} (${name})`, `in a unit such as mm, ms, km/h, kg or px (write one of those, or take the brackets away)`, written);
  return { name, unit, size, given: true };
};

const plain = (text: string): string => text.replace(/^−/, "-");
const isNumber = (text: string): boolean => NUMBER.test(plain(text));

/** The sign that parts whole numbers from fractions all through a file, told from its cells. */
const decimalMarkOf = (cells: readonly Cell[], nameOf: (cell: Cell) => string): DecimalMark => {
  const point = cells.find(({ text }) => text.includes("."));
  const comma = cells.find(({ text }) => text.includes(","));
  if (point && comma) {
    const later = point.line > comma.line || (point.line === comma.line && point.column > comma.column) ? point : comma;
    const mark = later === point ? "comma" : "point";
    refuse(nameOf(later), `written with a decimal ${mark}, like the numbers before it (one sign for the whole file, none for thousands)`, later.text);
  }
  if (!comma) return ".";
  if (cells.every(({ text }) => !text.includes(",") || AMBIGUOUS.test(plain(text)))) refuse(nameOf(comma), "plain: it can mean a fraction or thousands (say which decimalMark the file has, or write 1500 or 1,5)", comma.text);
  return ",";
};

/**
 * Table of measurements out of a text file: marker tracks, or what a class has measured.
 *
 * Model: the first line names the columns, with units in brackets or after a stroke; each further line is a row. Cells are parted by tab, semicolon or
 * comma, whichever the first line holds, in that order; quotes may enclose a cell. Point or comma as decimal sign, one for the whole file, never
 * a sign for thousands. Numbers come out in SI. A column without unit whose cells are mostly not numbers is one of words. Nothing is
 * guessed: a file that can be read in two ways is refused, with line, column and what to do.
 *
 * @param text of the file
 * @param decimalMark point or comma; told from the file where left out
 * @returns columns.name without its unit
 * @returns columns.unit as written, "1" where there is none
 * @returns columns.values of a column of numbers, in SI [1]
 * @returns columns.words of a column of words
 * @returns rows below the first line [1]
 * @returns separator tab, semicolon, comma or none
 * @returns decimalMark point or comma
 * @throws RangeError for a file that is broken or can be read in two ways; TypeError for anything but text
 * @source rfc-4180, section 2
 * @example readTable({ text: "time (ms);place (mm)\n0;12,5\n4;27,5" }).columns[1].values[1] // 0.0275
 */
export const readTable = ({ text, decimalMark }: { readonly text: string; readonly decimalMark?: DecimalMark }): { columns: TableColumn[]; rows: number; separator: Separator; decimalMark: DecimalMark } => {
  requireOneOf("readTable", "kind of text", typeof text, ["string"]);
  if (decimalMark !== undefined) requireOneOf("readTable", "decimalMark", decimalMark, DECIMAL_MARKS);
  const content = text.replace(/^\uFEFF/, "").replace(/\r\n?/g, "\n");
  const separator = separatorOf(content);
  const [first, ...rows] = rowsOf(content, separator === "none" ? undefined : SEPARATORS[separator]);
  if (!first) return refuse("text", "a first line of names and a line for each row (the file is empty)", "");
  if (first.every(({ text: cell }) => isNumber(cell))) refuse(`line ${first[0]?.line}`, "the names of the columns (put a line such as time (s), place (m) above the numbers)", first.map(({ text: cell }) => cell).join(" "));
  const headers = first.map(headerOf);
  headers.forEach(({ name }, i) => {
    const twin = headers.findIndex((other) => other.name === name);
    if (twin < i) refuse(`line ${first[i]?.line}, column ${i + 1}`, `named otherwise than column ${twin + 1}`, name);
  });
  if (rows.length === 0) refuse(`line ${(first[0]?.line ?? 1) + 1}`, "a row of values (the file has only names)", "");
  for (const row of rows)
    if (row.length !== headers.length) {
      const hint = row.length > headers.length && separator === "comma" ? "decimal commas need semicolons or tabs between cells, or quotes round each" : "add or take away cells, or quote a cell that holds the separator";
      refuse(`number of cells in line ${row[0]?.line}`, `${headers.length}, as in the first line (${hint})`, row.length);
    }
  const cellsOf = (column: number): Cell[] => rows.map((row) => row[column] as Cell);
  const nameOf = ({ line, column }: Cell): string => `line ${line}, column ${column} (${headers[column - 1]?.name})`;
  const numeric = headers.map(({ given }, column) => given || 2 * cellsOf(column).filter(({ text: cell }) => isNumber(cell)).length >= rows.length);
  const cells = numeric.flatMap((is, column) => (is ? cellsOf(column) : [])).sort((p, q) => p.line - q.line || p.column - q.column);
  for (const cell of cells)
    if (!isNumber(cell.text)) refuse(nameOf(cell), cell.text === "" ? "filled (type its value, or take the whole row out)" : "a number such as 1.5 or 1,5, without unit, blanks or thousands (units go into the first line)", cell.text);
  const mark = decimalMark ?? decimalMarkOf(cells, nameOf);
  const foreign = mark === "." ? "," : ".";
  const wrong = cells.find(({ text: cell }) => cell.includes(foreign));
  if (wrong) refuse(nameOf(wrong), `written with the decimal sign ${mark} (decimalMark says so)`, wrong.text);
  const columns = headers.map(({ name, unit, size }, column): TableColumn => {
    const found = cellsOf(column);
    if (!numeric[column]) return { name, unit, words: found.map(({ text: cell }) => cell) };
    const values = found.map((cell) => {
      const value = Number(plain(cell.text).replace(",", ".")) * size;
      return Number.isFinite(value) ? value : refuse(nameOf(cell), "a number that is not too large to hold", cell.text);
    });
    return { name, unit, values };
  });
  return { columns, rows: rows.length, separator, decimalMark: mark };
};
