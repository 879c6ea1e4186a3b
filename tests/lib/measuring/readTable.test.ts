import { describe, expect, test } from "vitest";
import { readTable } from "../../../lib/measuring/readTable.ts";

/** What spreadsheets write: cells that hold the separator are quoted (RFC 4180, from memory). */
const fileOf = (separator: string, decimal: string, ending: string): string => {
  const rows = [
    ["group", "time (ms)", "place [cm]", "cart / g"],
    ["red", "0", "-1.25", "500.5"],
    ["blue", "4.5", "0", "501"],
    ["Tom; Ann, Eve", "9", "3.75e1", "499.75"],
  ];
  const cell = (text: string, row: number, column: number): string => {
    const written = row > 0 && column > 0 ? text.replace(".", decimal) : text;
    return written.includes(separator) || written.includes('"') ? `"${written}"` : written;
  };
  return rows.map((row, i) => row.map((text, j) => cell(text, i, j)).join(separator)).join(ending) + ending;
};

const files = [[",", "comma"], [";", "semicolon"], ["\t", "tab"]].flatMap(([separator, name]) => [".", ","].flatMap((decimal) => [["\n", "LF"], ["\r\n", "CRLF"]].map(([ending, end]) => [name, decimal, end, fileOf(separator as string, decimal, ending as string)] as const)));

describe("readTable(…) on the 12 ways to write one table", () => {
  test("there are 12, all different", () => expect(new Set(files.map(([, , , text]) => text)).size).toBe(12));
  const wanted = [
    { name: "group", unit: "1", words: ["red", "blue", "Tom; Ann, Eve"] },
    { name: "time", unit: "ms", values: [0, 0.0045, 0.009] },
    { name: "place", unit: "cm", values: [-0.0125, 0, 0.375] },
    { name: "cart", unit: "g", values: [0.5005, 0.501, 0.49975] },
  ];
  test.each(files)("reads %s, decimal %s, %s the same", (separator, decimal, _, text) => {
    const table = readTable({ text });
    expect(table.rows).toBe(3);
    expect(table.separator).toBe(separator);
    expect(table.decimalMark).toBe(decimal);
    expect(table.columns.map(({ name, unit, words }) => ({ name, unit, words }))).toEqual(wanted.map(({ name, unit, words }) => ({ name, unit, words })));
    table.columns.forEach(({ values }, i) => expect(values?.length).toBe(wanted[i]?.values?.length));
    table.columns.forEach(({ values }, i) => values?.forEach((value, j) => expect(value).toBeCloseTo(wanted[i]?.values?.[j] ?? NaN, 12)));
  });
  test.each(files)("reads %s, decimal %s, %s to the same bits", (_, decimal, __, text) => {
    const { columns } = readTable({ text });
    expect(columns).toEqual(readTable({ text: files[0]?.[3] ?? "" }).columns);
    expect(decimal).toBe(readTable({ text }).decimalMark);
  });
});

describe("readTable(…)", () => {
  const column = (text: string, i = 0) => readTable({ text }).columns[i];

  test("reads 1,5 as one and a half, never as 15", () => expect(column("x\n1,5\n2,25")?.values).toEqual([1.5, 2.25]));
  test("skips the mark that some programs put before a text file, and blank lines", () => expect(readTable({ text: "\uFEFF\n\nx;y\n\n1;2\n\n" })).toMatchObject({ rows: 1, separator: "semicolon", columns: [{ name: "x" }, { name: "y" }] }));
  test("reads old line endings, a true minus sign and quoted names", () => expect(readTable({ text: '"way, along (mm)"\t"so ""called"""\r−1.5\t2\r' }).columns).toEqual([{ name: "way, along", unit: "mm", values: [-0.0015] }, { name: 'so "called"', unit: "1", values: [2] }]));
  test("brings every unit to SI", () => {
    const units = ["km/h", "m/s", "cm/s", "cm/s^2", "mm/s²", "gn", "px", "px/s", "lb", "1"];
    const sizes = [1 / 3.6, 1, 0.01, 0.01, 0.001, 9.80665, 1, 1, 0.45359237, 1];
    units.forEach((unit, i) => expect(column(`x (${unit})\n1`)?.values?.[0]).toBeCloseTo(sizes[i] as number, 12));
    expect(column("x (frames)\n7")?.values).toEqual([7]);
  });
  test("takes the stated decimal sign where the file leaves it open", () => {
    const text = "mass (g);way (mm)\n1,500;2,250";
    expect(() => readTable({ text })).toThrow("readTable: line 2, column 1 (mass) must be plain: it can mean a fraction or thousands (say which decimalMark the file has, or write 1500 or 1,5), got \"1,500\"");
    expect(readTable({ text, decimalMark: "," }).columns[1]?.values?.[0]).toBeCloseTo(0.00225, 15);
    expect(() => readTable({ text, decimalMark: "." })).toThrow(/line 2, column 1 \(mass\) must be written with the decimal sign \./);
  });
  test("finds the decimal sign where one cell settles it for all", () => expect(column("x;y\n1,500;0,125\n2,250;1", 0)?.values).toEqual([1.5, 2.25]));

  // Every refusal: where, what, and what to do.
  test.each([
    ["a letter in a number", "t (s);x (m)\n0;1,5\n1;12o", /line 3, column 2 \(x\) must be a number such as 1\.5 or 1,5, without unit, blanks or thousands .*got "12o"/],
    ["a unit in a cell", "t;x\n0 s;1\n1;2\n2;3", /line 2, column 1 \(t\) must be a number/],
    ["blanks for thousands", "m (g)\n1 500", /line 2, column 1 \(m\) must be a number .*got "1 500"/],
    ["points for thousands", "m (g)\n1.500,5", /line 2, column 1 \(m\) must be a number .*got "1\.500,5"/],
    ["an empty cell", "t;x (m)\n0;1\n1;\n2;3", /line 3, column 2 \(x\) must be filled \(type its value, or take the whole row out\)/],
    ["both decimal signs", "t;x\n0,5;1,5\n1,5;2.5", /line 3, column 2 \(x\) must be written with a decimal comma, like the numbers before it/],
    ["both decimal signs, the other way", "t;x\n0.5;1\n1,5;2", /line 3, column 1 \(t\) must be written with a decimal point/],
    ["a cell too many", "t;x\n0;1;2", /number of cells in line 2 must be 2, as in the first line .*got 3/],
    ["a cell too few", "t;x\n0;1\n2", /cells in line 3 must be 2.*add or take away cells/],
    ["decimal commas between commas", "t,x\n0,5,1,5", /cells in line 2 must be 2.*decimal commas need semicolons or tabs/],
    ["no names", "0;1\n1;2", /line 1 must be the names of the columns \(put a line such as time \(s\)/],
    ["one name twice", "x;x (m)\n1;2", /line 1, column 2 must be named otherwise than column 1/],
    ["a name left out", "x;\n1;2", /line 1, column 2 must be a name/],
    ["a unit nobody knows", "x (furlong)\n1", /line 1, column 1 \(x\) must be in a unit such as mm.*got "furlong"/],
    ["names alone", "t;x\n", /line 2 must be a row of values/],
    ["nothing", " \n ", /must be a first line of names/],
    ["a quote that stays open", 't;x\n0;"1\n1;2', /line 2, column 2 must be closed by a second quote/],
    ["text after a quote", 't;x\n0;"1"5', /line 2, column 2 must be ended by the quote that closes it/],
    ["a number beyond all bounds", "x\n1e999", /line 2, column 1 \(x\) must be a number that is not too large/],
  ])("refuses %s", (_, text, message) => {
    expect(() => readTable({ text })).toThrow(RangeError);
    expect(() => readTable({ text })).toThrow(message);
  });
  test("counts lines inside quoted cells", () => expect(() => readTable({ text: 'note;x (m)\n"one\ntwo";1\nthree;x' })).toThrow(/line 4, column 2/));
  test("refuses anything but text", () => expect(() => readTable({ text: 5 as never })).toThrow(TypeError));
});
