/**
 * What is wrong with a YAML file, in words for someone who has never heard of YAML: where, what, and the way out.
 * One slip makes a parser stumble again and again; only where it first stumbles is said.
 */
import { type Document, isScalar, type LineCounter, type Node, visit, type YAMLError } from "yaml";

export interface YamlProblem {
  /** Where in the source. */
  readonly offset: number;
  readonly message: string;
}

const shortened = (text: string): string => (text.length > 40 ? `${text.slice(0, 39)}…` : text);

/** The line that holds `offset`: where it starts, and its text without a comment. */
const lineAt = (source: string, offset: number): { from: number; text: string } => {
  const from = source.lastIndexOf("\n", offset - 1) + 1;
  const end = source.indexOf("\n", from);
  return { from, text: source.slice(from, end < 0 ? undefined : end).replace(/\s#.*$/, "").trimEnd() };
};

/** Columns (from 0) of an entry's key, past the dashes that open list items. */
const keyColumn = (line: string): number => (/^\s*(?:-\s+)*/.exec(line) as RegExpExecArray)[0].length;

/** The last line before `from` that says anything. */
const lineBefore = (source: string, from: number): { from: number; text: string } | undefined => {
  for (let at = from; at > 0; ) {
    const line = lineAt(source, at - 1);
    if (line.text.trim() !== "" && !line.text.trimStart().startsWith("#")) return line;
    at = line.from;
  }
  return undefined;
};

/** The first line after the one that starts at `from` that says anything. */
const lineAfter = (source: string, from: number): { from: number; text: string } | undefined => {
  for (let end = source.indexOf("\n", from); end >= 0; end = source.indexOf("\n", end + 1)) {
    const line = lineAt(source, end + 1);
    if (line.text.trim() !== "" && !line.text.trimStart().startsWith("#")) return line;
  }
  return undefined;
};

const SAME_COLUMN = "keys of one group start in the same column";

/** A key and its value where a value cannot be a group of its own: by far most often a text with a colon in it. */
const secondColon = (source: string, offset: number): YamlProblem => {
  const line = lineAt(source, offset);
  const value = line.text.slice(offset - line.from);
  if (/^\s*-[^\s-]/.test(line.text)) return { offset: line.from + line.text.indexOf("-"), message: "a dash that opens a list item has a space after it: - name: …" };
  if (value.endsWith("}") && !value.includes("{")) return { offset, message: `the closing } has no { before it; write { ${shortened(value.slice(0, -1).trim())} }` };
  if (/:(\s|$)/.test(value)) return { offset, message: `a text with a colon in it needs quotes: "${shortened(value)}"` };
  const next = lineAfter(source, line.from);
  return { offset: (next?.from ?? line.from) + keyColumn(next?.text ?? line.text), message: `this line stands deeper than the line above, which already has its value; ${SAME_COLUMN}` };
};

const notAnEntry = (source: string, offset: number): YamlProblem => {
  const { text } = lineAt(source, offset);
  const [, key, value] = /^\s*(?:-\s+)*([A-Za-z]+):(\S.*)$/.exec(text) ?? /^\s*(?:-\s+)*([A-Za-z]+)\s+(.+)$/.exec(text) ?? [];
  return { offset, message: `after a key come a colon and a space${key === undefined || value === undefined ? "" : `: ${key}: ${shortened(value)}`}` };
};

/** The last { or [ before `offset` that nothing closes. */
const openBefore = (source: string, offset: number): number => {
  let depth = 0;
  for (let at = offset - 1; at >= 0; at--) {
    if ("}]".includes(source[at] as string)) depth++;
    else if ("{[".includes(source[at] as string) && depth-- === 0) return at;
  }
  return offset;
};

const wrongColumn = (source: string, offset: number, message: string): YamlProblem => {
  if (message.startsWith("Flow")) {
    const open = openBefore(source, offset);
    return { offset: open, message: `this ${source[open]} is never closed; end the line with ${source[open] === "[" ? "]" : "}"}` };
  }
  const line = lineAt(source, offset);
  const before = lineBefore(source, line.from);
  const column = keyColumn(line.text);
  return { offset: line.from + column, message: `this line starts in column ${column + 1}${before === undefined ? "" : `, the one above in column ${keyColumn(before.text) + 1}`}; ${SAME_COLUMN}` };
};

/** The first quotation mark before `end` that is closed on no line, so that keys further down became part of the text. */
const openQuote = (document: Document, source: string, end: number): number | undefined => {
  let found: number | undefined;
  visit(document, {
    Scalar: (_key, node) => {
      if (!String(node.type).startsWith("QUOTE") || !node.range || node.range[0] >= end) return undefined;
      const [from, to] = node.range;
      if (!/\n\s*(-\s+)?[A-Za-z]+:(\s|$)/.test(source.slice(from, to)) && to < end) return undefined;
      found = from;
      return visit.BREAK;
    },
  });
  return found;
};
const NEVER_CLOSED = "this quotation mark is never closed on its line";

const duplicate = (document: Document, offset: number, lines: LineCounter): YamlProblem | undefined => {
  let message: string | undefined = "this key stands twice in one group; keep one of them";
  visit(document, {
    Map: (_key, map) => {
      const keys = map.items.map(({ key }) => key as Node);
      const at = keys.findIndex((key) => key?.range?.[0] === offset);
      const again = keys[at];
      const first = isScalar(again) ? keys.find((key) => isScalar(key) && key.value === again.value) : undefined;
      if (isScalar(again) && first?.range) message = `the key ${JSON.stringify(String(again.value))} stands twice in one group, first in line ${lines.linePos(first.range[0]).line}; keep one of them`;
      // Inside { … } these are no keys but what stands behind commas in the values: their reader says so.
      if (at >= 0 && map.flow === true && !(map.items[at]?.value as Node | null)?.range?.[1]) message = undefined;
    },
  });
  return message === undefined ? undefined : { offset, message };
};

const inWords = (error: YAMLError, document: Document, source: string, lines: LineCounter): YamlProblem | undefined => {
  const [offset] = error.pos;
  const here = (message: string): YamlProblem => ({ offset, message });
  const rest = source.slice(offset, source.indexOf("\n", offset) < 0 ? undefined : source.indexOf("\n", offset));
  switch (error.code) {
    case "DUPLICATE_KEY":
      return duplicate(document, offset, lines);
    case "TAB_AS_INDENT":
      return here("a tab stands here; indent with spaces, in this line and in all others");
    case "BLOCK_AS_IMPLICIT_KEY":
      return secondColon(source, offset);
    case "MULTILINE_IMPLICIT_KEY":
      return notAnEntry(source, offset);
    case "BAD_INDENT":
      return wrongColumn(source, offset, error.message);
    case "BLOCK_IN_FLOW":
      return here("inside { … } a comma parts the keys, and a text with a colon in it needs quotes");
    case "MISSING_CHAR":
      if (!error.message.includes("closing")) return here("inside { … } a comma parts the keys");
      return here(NEVER_CLOSED);
    case "BAD_SCALAR_START":
    case "BAD_ALIAS":
    case "TAG_RESOLVE_FAILED":
      return here(`a text that starts with ${rest[0] ?? "a sign"} needs quotes: "${shortened(rest.trim())}"`);
    case "BAD_DQ_ESCAPE":
      return here("a backslash between double quotes starts a code; put the text in single quotes");
    case "MULTIPLE_DOCS":
      return here("the file goes on after a line of ---; take that line out");
    case "UNEXPECTED_TOKEN":
      if (/^[}\]]/.test(rest)) return here(`there is nothing that this ${rest[0]} closes`);
      return here("nothing may follow a closing quotation mark; put the whole text in one pair of quotes");
    default:
      return here("this cannot be read as key: value; put quotes around a text with signs in it");
  }
};

/** What keeps `document` from being read. Keys that stand twice are all named, for they do not lead to one another. */
export const yamlProblems = (document: Document, source: string, lines: LineCounter): YamlProblem[] => {
  const errors = [...document.errors, ...document.warnings].sort((p, q) => p.pos[0] - q.pos[0]);
  const slips = errors.filter(({ code }) => code !== "DUPLICATE_KEY");
  const first = slips.find(({ code }) => code === "TAB_AS_INDENT") ?? slips[0];
  const open = first === undefined ? undefined : openQuote(document, source, first.pos[0]);
  if (open !== undefined) return [{ offset: open, message: NEVER_CLOSED }];
  return (first === undefined ? errors : [first]).flatMap((error) => inWords(error, document, source, lines) ?? []);
};
