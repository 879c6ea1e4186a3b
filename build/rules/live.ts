/**
 * Core rule: links and images whose scheme names what they become turn into `live` tokens, each with its place in the file.
 * What the grammar refuses is reported here, as far as it can be seen without the lesson's code.
 */
import type { MarkdownIt, Token } from "markdown-it";
import { wayOut } from "../nearest.ts";
import type { Problem } from "../problem.ts";
import { anchorOf, type Ids } from "./anchors.ts";
import { placeIn } from "./positions.ts";

export const LINK_SCHEMES = ["input", "output", "claim", "name"] as const;
export const IMAGE_SCHEMES = ["figure", "scene"] as const;
export type Scheme = (typeof LINK_SCHEMES)[number] | (typeof IMAGE_SCHEMES)[number];
const SCHEMES: readonly string[] = [...LINK_SCHEMES, ...IMAGE_SCHEMES];
const ORDINARY = ["http", "https", "mailto"];
export const OPTIONS = ["unit", "digits", "show"];

export interface LivePart {
  readonly scheme: Scheme;
  readonly name: string;
  readonly options: Readonly<Record<string, string>>;
  /** Link text or alt text, without markup. */
  readonly text: string;
  readonly line: number;
  readonly column: number;
  readonly inner: readonly Token[];
  readonly id: string;
  /** Stands inside a reveal, or on the bench page, which is the teacher's. */
  readonly revealed: boolean;
  /** Stands on the bench page. */
  readonly bench: boolean;
  /** Stands in a line to be spoken. */
  readonly spoken: boolean;
}

/** What the rule hands to the reader, through markdown-it's `env`. */
export interface LiveEnv {
  readonly file: string;
  readonly lines: readonly string[];
  readonly ids: Ids;
  readonly parts: LivePart[];
  readonly links: { readonly href: string; readonly line: number; readonly column: number; readonly token: Token }[];
  readonly problems: Problem[];
}

const plainText = (tokens: readonly Token[]): string => tokens.map((t) => (t.type === "softbreak" || t.type === "hardbreak" ? " " : t.type === "image" ? plainText(t.children ?? []) : t.content)).join("");

const decode = (text: string): string => {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
};

/** Leftovers of the grammar in plain text. Each pattern is linear. */
const LEFTOVERS: readonly (readonly [RegExp, (found: RegExpExecArray) => string])[] = [
  [/\]\((input|output|claim|figure|scene|name):/gi, (m) => `](${(m[1] as string).toLowerCase()}: is left in plain text: live parts do not nest, and hold no spaces: [text](${(m[1] as string).toLowerCase()}:name)`],
  [/\b(input|output|claim|figure|scene|name):[A-Za-z]/g, (m) => `${m[1]}: is left in plain text; write [text](${m[1]}:name)`],
  [/\[[^\][]{1,200}\]\[[^\][]{0,200}\]/g, (m) => `${m[0]} names a reference that is not defined`],
  [/<\/?[A-Za-z][A-Za-z0-9-]{0,40}[^<>]{0,200}>/g, (m) => `${m[0].slice(0, 30)}: raw HTML is off; write it as Markdown, or between backquotes to show it as text`],
  [/^:{3,}/g, () => "::: without a container to close"],
];

/** Leftovers remembered, so that hostile input stays linear. */
const MOST_COVERED = 200;

/** Splits `scheme:name?unit=…&digits=…`, or says what is wrong with it. */
const readTarget = (href: string, form: "link" | "image", report: (message: string) => void): { scheme: Scheme; name: string; options: Record<string, string> } | undefined => {
  const [, written = "", rest = ""] = /^([A-Za-z][A-Za-z0-9+.-]*):(.*)$/s.exec(href) ?? [];
  const scheme = written.toLowerCase();
  if (!SCHEMES.includes(scheme)) {
    if (form === "image") report(`an image must be figure:name or scene:name, got ${href}${wayOut(scheme, [...IMAGE_SCHEMES])}`);
    else report(`${written}: is not a scheme${wayOut(scheme, [...SCHEMES, ...ORDINARY])}`);
    return undefined;
  }
  if (written !== scheme) {
    report(`a scheme is in lower case: ${scheme}:, got ${written}:`);
    return undefined;
  }
  const fits = (form === "link" ? LINK_SCHEMES : IMAGE_SCHEMES) as readonly string[];
  if (!fits.includes(scheme)) {
    report(form === "link" ? `a ${scheme} is an image: ![alt text](${scheme}:${rest})` : `${scheme}: is a link, not an image: [text](${scheme}:${rest})`);
    return undefined;
  }
  const [name = "", query, ...more] = decode(rest).split("?");
  if (!/^[a-z][A-Za-z0-9]*$/.test(name)) {
    report(`a name starts in lower case and holds letters and digits only, got ${JSON.stringify(name)}`);
    return undefined;
  }
  const options: Record<string, string> = {};
  if (more.length > 0) report("options follow one ?, parted by &");
  for (const pair of query === undefined ? [] : query.split("&")) {
    const [key = "", value, ...rest] = pair.split("=");
    if (!OPTIONS.includes(key)) report(`${key === "" ? "an empty option" : key} is not an option${wayOut(key, OPTIONS)}`);
    else if (value === undefined || value === "" || rest.length > 0) report(`${key} needs a value: ?${key}=…`);
    else if (key in options) report(`${key} is given twice`);
    else options[key] = value;
  }
  if (query !== undefined && !["input", "output"].includes(scheme)) report(`${scheme}: takes no options`);
  return { scheme: scheme as Scheme, name, options };
};

export const live = (md: MarkdownIt): void => {
  md.core.ruler.push("live", (state) => {
    const env = state.env as unknown as LiveEnv;
    const { lines, ids, parts, problems, file } = env;
    let line = 0;
    let heading = false;
    let table = 0;
    const containers: string[] = [];
    state.tokens.forEach((block, index) => {
      if (block.map !== null) line = block.map[0];
      if (block.type === "container_open") containers.push(block.info);
      else if (block.type === "container_close") containers.pop();
      else if (block.type === "heading_open") {
        heading = true;
        if (block.tag === "h1") problems.push({ file, line: line + 1, column: 1, message: "a heading in the prose starts at ##; the title is the page's only first-level heading" });
      } else if (block.type === "heading_close") heading = false;
      else if (block.type === "table_open") table++;
      else if (block.type === "table_close") table--;
      if (block.type !== "inline" || block.children === null) return;

      const content = block.content;
      let at = 0;
      const firstLine = block.map?.[0] ?? line;
      const place = (offset: number): { line: number; column: number } => placeIn(lines, content, firstLine, offset);
      const reportAt = (offset: number, message: string): void => void problems.push({ file, ...place(offset), message });
      const out: Token[] = [];
      const children = block.children;
      const bench = containers.includes("bench");
      const revealed = bench || containers.includes("reveal");
      const spoken = containers.includes("say");
      const add = (token: Token, target: NonNullable<ReturnType<typeof readTarget>>, text: string, inner: readonly Token[]): void => {
        const made = new state.Token("live", "", 0);
        const part: LivePart = { ...target, text, ...place(at), inner, id: ids.take(`${target.scheme}-${target.name}`), revealed, bench, spoken };
        made.meta = { part, at: token.meta?.["at"] };
        parts.push(part);
        out.push(made);
      };
      for (let i = 0; i < children.length; i++) {
        const child = children[i] as Token;
        if (typeof child.meta?.["at"] === "number") at = child.meta["at"];
        if (child.type === "link_open") {
          const close = children.findIndex((t, j) => j > i && t.type === "link_close");
          const inner = children.slice(i + 1, close);
          const href = String(child.attrGet("href") ?? "");
          const text = plainText(inner).trim();
          if (child.markup === "autolink" || child.markup === "linkify") {
            reportAt(at, `write [text](${href}); a bare address in <…> is refused`);
            i = close;
            continue;
          }
          if (text === "" && !inner.some((t) => t.type === "image")) reportAt(at, "a link needs text");
          const scheme = /^([A-Za-z][A-Za-z0-9+.-]*):/.exec(href)?.[1];
          if (inner.some((t) => t.type === "image")) {
            reportAt(at, "an image inside a link: live parts do not nest");
            i = close;
            continue;
          }
          if (scheme === undefined || ORDINARY.includes(scheme.toLowerCase())) {
            env.links.push({ href, ...place(at), token: child });
            if (scheme !== undefined) child.attrSet("rel", "noreferrer");
            out.push(child, ...inner, children[close] as Token);
            i = close;
            continue;
          }
          const target = readTarget(href, "link", (message) => reportAt(at, message));
          if (target !== undefined) {
            if (heading && target.scheme === "input") reportAt(at, "a heading holds no controls; name the input in the prose");
            add(child, target, text, inner);
          }
          i = close;
        } else if (child.type === "image") {
          const alt = child.children ?? [];
          const href = String(child.attrGet("src") ?? "");
          const text = plainText(alt).trim();
          if (alt.some((t) => t.type === "link_open" || t.type === "image")) reportAt(at, "a live part inside alt text; alt text is plain words");
          if (text === "") reportAt(at, "alt text is required: ![what the picture shows](…)");
          const target = readTarget(href, "image", (message) => reportAt(at, message));
          if (target !== undefined) {
            const alone = children.length === 1 && state.tokens[index - 1]?.type === "paragraph_open" && table === 0;
            if (!alone) reportAt(at, `a ${target.scheme} stands alone in its paragraph`);
            else {
              (state.tokens[index - 1] as Token).hidden = true;
              (state.tokens[index + 1] as Token).hidden = true;
            }
            add(child, target, text, []);
          }
        } else {
          if (child.type === "text" && child.content !== "") {
            const text = child.content;
            const base = Math.max(0, content.indexOf(text, i === 0 ? 0 : at));
            let covered: [number, number][] = [];
            for (const [pattern, message] of LEFTOVERS)
              for (const found of text.matchAll(pattern)) {
                if (pattern.source.startsWith("^") && i > 0) continue;
                const span: [number, number] = [found.index, found.index + found[0].length];
                if (covered.some(([from, to]) => span[0] < to && from < span[1])) continue;
                covered = [...covered.slice(-MOST_COVERED), span];
                reportAt(base + found.index, message(found));
              }
          }
          out.push(child);
        }
      }
      block.children = out;
      if (heading) {
        const open = state.tokens[index - 1] as Token;
        open.attrSet("id", ids.take(anchorOf(plainText(out.map((t) => (t.type === "live" ? Object.assign(new state.Token("text", "", 0), { content: (t.meta?.["part"] as LivePart).text }) : t))))));
      }
    });
  });
};
