/**
 * Reads the doc comments of the kernels. They are the single source of what pages and generated tests say about a kernel.
 * A small reader of our own: only top-level exported functions, only the tags of the contract, no compiler needed.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join, relative, sep } from "node:path";

/** One `@param` or `@returns` line: `name text [unit]`. The unit is "" where the value has none (words, functions). */
export interface DocValue {
  readonly name: string;
  readonly text: string;
  readonly unit: string;
}

export interface DocComment {
  readonly name: string;
  /** Path from the folder read, with forward slashes. */
  readonly file: string;
  /** 1-based line of the declaration. */
  readonly line: number;
  readonly summary: string;
  /** The `Model:` paragraph: what is assumed, and where it holds. */
  readonly model: string;
  readonly params: readonly DocValue[];
  readonly returns: readonly DocValue[];
  readonly throws: readonly string[];
  readonly equations: readonly { readonly name: string; readonly expression: string }[];
  readonly sources: readonly { readonly id: string; readonly where: string }[];
  /** `value` is the text after `//`, as written. */
  readonly examples: readonly { readonly code: string; readonly value: string }[];
  /** `@sample name from to`: values inside the valid range, for generated tests. */
  readonly samples: readonly { readonly name: string; readonly from: number; readonly to: number }[];
  /** Every tag in order, the ones above included. */
  readonly tags: readonly { readonly tag: string; readonly text: string }[];
}

const oneLine = (text: string): string => text.replace(/\s+/g, " ").trim();

/** Body of a comment without its frame of asterisks. */
const bare = (comment: string): string[] =>
  comment
    .slice(3, -2)
    .split(/\r?\n/)
    .map((line) => line.replace(/^\s*\*? ?/, "").trimEnd());

const NAME = String.raw`[A-Za-z_$][\w$]*(?:\[\])?(?:\.[\w$]+(?:\[\])?)*`;
const plain = (name: string): string => name.replaceAll("[]", "");

/** `name, text [unit]`; the unit may be missing. */
const value = (text: string): DocValue | undefined => {
  const found = new RegExp(`^(${NAME})[:,]?\\s*(.*)$`).exec(text);
  if (!found) return undefined;
  const rest = found[2] as string;
  const unit = /\s*\[([^\]]*)\]\s*\.?$/.exec(rest);
  return { name: plain(found[1] as string), text: (unit ? rest.slice(0, unit.index) : rest).trim(), unit: unit?.[1]?.trim() ?? "" };
};

/** Items of a list on one line; `front: crush [m] and force [N]` are two, inside `front`. */
const items = (text: string): string[] =>
  text.split(/(?<=\])\s*[,;]\s*(?:and\s+)?(?=[A-Za-z_$])/).flatMap((item) => {
    const nested = /^([A-Za-z_$][\w$]*): (.*\]\s+and\s.*)$/.exec(item);
    const parts = (nested?.[2] ?? item).split(/(?<=\])\s+and\s+(?=[A-Za-z_$][\w$.]*\s)/);
    return nested ? parts.map((part) => `${nested[1]}.${part}`) : parts;
  });
const several = (found: readonly (DocValue | undefined)[]): DocValue[] => found.filter((v) => v !== undefined);

/** Dotted names that share one text: `a.mass, b.mass test mass [kg]`. */
const SHARING = new RegExp(`^((?:[A-Za-z_$][\\w$]*\\.[\\w$.]+,\\s*)+[A-Za-z_$][\\w$]*\\.[\\w$.]+)\\s+(.*)$`);

const sharing = (text: string): string[] => {
  const found = SHARING.exec(text);
  return found ? (found[1] as string).split(/,\s*/).map((name) => `${name} ${found[2]}`) : [text];
};

/** One line an output, or a list on one line: `peakForce [N], crush of each [m]`. */
const readReturns = (lines: readonly string[]): DocValue[] => several(lines.flatMap((line) => items(line).flatMap(sharing)).map(value));

/**
 * One line a parameter, dotted where nested. Also read: fields of one object on one line (`a mass > 0 [kg], stiffness > 0 [N/m]`),
 * `b the same`, which repeats the fields of the object before it, and `a as otherKernel`, which repeats those of a kernel above in the file.
 */
const readParams = (lines: readonly string[], above: readonly DocComment[]): DocValue[] => {
  const found: DocValue[] = [];
  for (const line of lines) {
    const [root = "", ...words] = line.split(" ");
    const rest = words.join(" ");
    const other = above.find(({ name }) => name === /^(?:,\s*)?as (?:for )?([\w$]+)/.exec(rest)?.[1]);
    const before = found.at(-1)?.name.split(".")[0];
    if (/^(?:,\s*)?(?:the same|likewise)\b/.test(rest) && before !== undefined)
      found.push(...found.filter(({ name }) => name === before || name.startsWith(`${before}.`)).map((v) => ({ ...v, name: root + v.name.slice(before.length) })));
    else if (other) found.push(...other.params.filter(({ name }) => name === root || name.startsWith(`${root}.`)));
    else if (items(rest).length > 1 && !root.includes(".")) found.push(...several(items(rest).map(value)).map((v) => ({ ...v, name: `${root}.${v.name}` })));
    else found.push(...several(sharing(line).map(value)));
  }
  return found;
};

/** First `=` that assigns. */
const splitEquation = (text: string): { name: string; expression: string } => {
  const at = /(?<![<>=!])=(?!=)/.exec(text)?.index ?? text.length;
  return { name: text.slice(0, at).trim(), expression: text.slice(at + 1).trim() };
};

const splitExample = (text: string): { code: string; value: string } => {
  const at = text.lastIndexOf("//");
  return at < 0 ? { code: text.trim(), value: "" } : { code: text.slice(0, at).trim(), value: text.slice(at + 2).trim() };
};

const splitSample = (text: string): { name: string; from: number; to: number } => {
  const [name = "", from = "", to = ""] = oneLine(text).split(" ");
  return { name: plain(name), from: from === "" ? NaN : Number(from), to: to === "" ? NaN : Number(to) };
};

const readComment = (comment: string, declared: { name: string; file: string; line: number }, above: readonly DocComment[]): DocComment => {
  const head: string[] = [];
  const tags: { tag: string; text: string }[] = [];
  let open: { tag: string; text: string } | undefined;
  for (const line of bare(comment)) {
    const tag = /^@([\w-]+)\s*(.*)$/.exec(line);
    if (tag) tags.push((open = { tag: tag[1] as string, text: tag[2] as string }));
    else if (open && line.trim() !== "") open.text = `${open.text}\n${line}`.trim();
    else if (open) open = undefined; // an empty line ends a tag
    else if (tags.length === 0) head.push(line);
  }
  const paragraphs = head.join("\n").split(/\n\s*\n|\n(?=Model:)/).map(oneLine).filter((p) => p !== "");
  const of = (name: string): string[] => tags.filter(({ tag }) => tag === name).map(({ text }) => text);
  return {
    ...declared,
    summary: paragraphs.find((p) => !p.startsWith("Model:")) ?? "",
    model: paragraphs.find((p) => p.startsWith("Model:"))?.slice("Model:".length).trim() ?? "",
    params: readParams(of("param").map(oneLine), above),
    returns: readReturns(of("returns").map(oneLine)),
    throws: of("throws").map(oneLine),
    equations: of("equation").map(oneLine).map(splitEquation),
    sources: of("source").map(oneLine).map((text) => {
      const [id = "", ...where] = text.split(",");
      return { id: id.trim(), where: where.join(",").trim() };
    }),
    examples: of("example").map(splitExample),
    samples: of("sample").map(splitSample),
    tags: tags.map(({ tag, text }) => ({ tag, text: oneLine(text) })),
  };
};

const CLOSING: Readonly<Record<string, string>> = { "(": ")", "[": "]", "{": "}" };

/** Index just after the bracket that closes the one at `start`. */
const skipBrackets = (text: string, start: number): number => {
  const open: string[] = [];
  for (let i = start; i < text.length; i++) {
    const c = text[i] as string;
    if (c in CLOSING) open.push(CLOSING[c] as string);
    else if (c === open.at(-1)) open.pop();
    if (open.length === 0) return i + 1;
  }
  return text.length;
};

/** True when what follows `const name` is a function: an arrow or a `function`, with or without a type before it. */
const isFunction = (afterName: string): boolean => {
  let i = 0;
  while (i < afterName.length && !(afterName[i] === "=" && afterName[i + 1] !== ">")) i = (afterName[i] as string) in CLOSING ? skipBrackets(afterName, i) : i + 1;
  const value = afterName.slice(i + 1).trimStart();
  if (/^(?:async\b|function\b|<|[\w$]+\s*=>)/.test(value)) return true;
  return value.startsWith("(") && /^\s*(?:=>|:)/.test(value.slice(skipBrackets(value, 0)));
};

/** Doc comments of the exported functions in one source text. */
export const docComments = (source: string, file: string): DocComment[] => {
  const found: DocComment[] = [];
  for (const comment of source.matchAll(/^\/\*\*[\s\S]*?\*\//gm)) {
    const end = comment.index + comment[0].length;
    const after = /^\s*export\s+(?:async\s+)?(function\*?|const)\s+([\w$]+)/.exec(source.slice(end));
    if (!after) continue;
    const declared = end + after[0].length;
    if (after[1] === "const" && !isFunction(source.slice(declared))) continue;
    found.push(readComment(comment[0], { name: after[2] as string, file, line: source.slice(0, declared).split("\n").length }, found));
  }
  return found;
};

/** Doc comments of every exported function below a folder, in order of path and line. */
export const readDocComments = (folder: string): DocComment[] =>
  readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((path) => path.endsWith(".ts") && !path.endsWith(".d.ts"))
    .sort()
    .flatMap((path) => docComments(readFileSync(join(folder, path), "utf8"), relative(folder, join(folder, path)).split(sep).join("/")));
