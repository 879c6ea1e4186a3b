/** A lesson's Markdown as tokens: containers, live parts and anchors found, mistakes listed with their places. */
import MarkdownItConstructor, { type MarkdownIt, type Token } from "markdown-it";
import { wayOut } from "./nearest.ts";
import type { Problem } from "./problem.ts";
import { Ids } from "./rules/anchors.ts";
import { container } from "./rules/container.ts";
import { live, type LiveEnv, type LivePart } from "./rules/live.ts";
import { positions } from "./rules/positions.ts";

/** Parts of the bench page. */
export const BENCH_PARTS = ["apparatus", "steps", "hazards", "worksheet", "key"];
/** Questions whose answers say of themselves whether they hold: word at the head of an answer -> it holds. */
export const QUESTIONS: Readonly<Record<string, Readonly<Record<string, boolean>>>> = { explain: { fits: true, misses: false }, transfer: { right: true, wrong: false } };
export const CONTAINERS = ["predict", "reveal", "explain", "transfer", "try", "words", "say", "algebra", "bench", ...BENCH_PARTS, "handover", "limits", "caution", "sources"];
/** Word after `::: transfer misconception` that says its case has no vehicles in it. */
const ELSEWHERE = "elsewhere";

export interface Fence {
  readonly code: string;
  /** 1-based line of the first line of code. */
  readonly line: number;
}

export interface Choice {
  readonly word: string;
  readonly line: number;
  readonly column: number;
  readonly text: Token[];
  readonly reply: Token[];
}

export interface Prediction {
  readonly verdict: string;
  readonly line: number;
  readonly question: Token[];
  readonly choices: readonly Choice[];
}

/** A question with answers that hold or do not: why something is so (`explain`), or another case of it (`transfer`). */
export interface Question {
  readonly kind: string;
  readonly line: number;
  readonly column: number;
  /** Id of the misconception that a transfer question is about. */
  readonly misconception?: string;
  readonly elsewhere: boolean;
  readonly question: Token[];
  readonly choices: readonly (Choice & { readonly holds: boolean })[];
}

export interface SourceMention {
  readonly id: string;
  readonly line: number;
  readonly column: number;
}

export interface Prose {
  readonly tokens: Token[];
  readonly parts: readonly LivePart[];
  readonly links: LiveEnv["links"];
  readonly fence: Fence | undefined;
  readonly prediction: Prediction | undefined;
  readonly questions: readonly Question[];
  /** What stands on the bench page; undefined where the lesson has none. */
  readonly bench: Token[] | undefined;
  /** Every container that the lesson has, with its place. */
  readonly containers: readonly { readonly name: string; readonly line: number; readonly inside: readonly string[] }[];
  readonly sources: readonly SourceMention[];
  readonly ids: Ids;
  readonly problems: readonly Problem[];
}

const make = (): MarkdownIt => {
  const md = new MarkdownItConstructor({ html: false, linkify: false, typographer: false });
  // Every target passes here; the grammar answers for each, so that a misspelt scheme cannot become literal text.
  md.validateLink = () => true;
  md.use(positions).use(container).use(live);
  return md;
};

export const md = make();

// A table wider than the column scrolls by itself.
md.renderer.rules["table_open"] = () => '<div class="table" tabindex="0" role="group" aria-label="Table"><table>\n';
// The corner of a table is no heading of anything.
const corner = (tokens: readonly Token[], i: number): boolean => (tokens[i + 1]?.content ?? "") === "";
md.renderer.rules["th_open"] = (tokens, i, options, _env, self) => {
  if (corner(tokens, i)) (tokens[i] as Token).tag = "td";
  return self.renderToken(tokens, i, options);
};
md.renderer.rules["th_close"] = (tokens, i, options, _env, self) => {
  if (corner(tokens, i - 2)) (tokens[i] as Token).tag = "td";
  return self.renderToken(tokens, i, options);
};
md.renderer.rules["table_close"] = () => "</table></div>\n";

/** Where the token at `open` is closed. */
export const closing = (tokens: readonly Token[], open: number): number => {
  let depth = 0;
  for (let i = open; i < tokens.length; i++) {
    depth += (tokens[i] as Token).nesting;
    if (depth === 0) return i;
  }
  return tokens.length - 1;
};

/** `source` with its front matter blanked. */
export const readProse = (source: string, file: string): Prose => {
  const lines = source.split("\n").map((l) => l.replace(/\r$/, ""));
  const problems: Problem[] = [];
  const ids = new Ids();
  const env: LiveEnv = { file, lines, ids, parts: [], links: [], problems };
  const all = md.parse(source, env as never);
  const report = (token: Token | undefined, message: string): void => void problems.push({ file, line: (token?.map?.[0] ?? 0) + 1, column: 1, message });

  let fence: Fence | undefined;
  let prediction: Prediction | undefined;
  const sources: SourceMention[] = [];
  const tokens: Token[] = [];

  const readSources = (inside: readonly Token[], open: Token): Token => {
    const made: SourceMention[] = [];
    for (const t of inside) {
      if (t.type !== "inline") continue;
      const line = (t.map?.[0] ?? 0) + 1;
      made.push({ id: t.content.trim(), line, column: (lines[line - 1] ?? "").indexOf(t.content) + 1 });
    }
    if (made.length === 0) report(open, "::: sources lists ids of lib/sources.yaml, each as - id");
    sources.push(...made);
    open.type = "source_list";
    open.nesting = 0;
    open.meta = { ids: made.map((m) => m.id) };
    return open;
  };

  const questions: Question[] = [];

  /** A question, then a list of answers: `- word: Text of the answer`, each with a reply in the same item. */
  const readAnswers = (inside: Token[], open: Token): { question: Token[]; choices: Choice[] } => {
    const name = open.info;
    const list = inside.findIndex((t) => t.type === "bullet_list_open" && t.level === open.level + 1);
    const question = list < 0 ? inside : inside.slice(0, list);
    const choices: Choice[] = [];
    if (list < 0) report(open, `::: ${name} holds a question, then a list of answers: - word: Text of the answer`);
    else {
      const end = closing(inside, list);
      if (end < inside.length - 1) report(inside[end + 1], `nothing follows the list of answers in ::: ${name}`);
      for (let i = list + 1; i < end; i = closing(inside, i) + 1) {
        const item = inside.slice(i + 1, closing(inside, i));
        const text = item.find((t) => t.type === "inline");
        const first = text?.children?.[0];
        const word = /^([^:\s][^:]*):\s+/.exec(first?.type === "text" ? first.content : "");
        const line = ((inside[i] as Token).map?.[0] ?? 0) + 1;
        if (text === undefined || first === undefined || word === null) {
          report(inside[i], "an answer reads - word: Text of the answer");
          continue;
        }
        first.content = first.content.slice(word[0].length);
        const column = (lines[line - 1] ?? "").indexOf(word[1] as string) + 1;
        const after = item.indexOf(text) + 2;
        choices.push({ word: word[1] as string, line, column, text: [text], reply: item.slice(after) });
      }
      if (choices.length < 2 && !problems.some((p) => p.line >= (open.map?.[0] ?? 0))) report(open, `::: ${name} needs two answers at least`);
    }
    if (question.every((t) => t.type !== "inline")) report(open, `::: ${name} asks a question before its answers`);
    return { question: [...question], choices };
  };

  const readQuestion = (inside: Token[], open: Token): Token => {
    const kind = open.info;
    const words = QUESTIONS[kind] as Readonly<Record<string, boolean>>;
    const [misconception = "", where = "", ...more] = String(open.meta?.["argument"] ?? "").split(/\s+/);
    if (kind === "transfer" && (!/^[a-z][a-z0-9-]*$/.test(misconception) || (where !== "" && where !== ELSEWHERE) || more.length > 0))
      report(open, `::: transfer names the misconception it asks about, and says ${ELSEWHERE} where its case has no vehicles: ::: transfer bigger-pushes-harder ${ELSEWHERE}`);
    const { question, choices } = readAnswers(inside, open);
    for (const { word, line, column } of choices) if (!Object.hasOwn(words, word)) problems.push({ file, line, column, message: `an answer of ::: ${kind} starts with ${Object.keys(words).join(": or ")}:, got ${word}:` });
    for (const { line, column, reply } of choices) if (reply.length === 0) problems.push({ file, line, column, message: "each answer has a reply: a paragraph of its own in the same list item" });
    if (choices.length > 1 && !choices.some(({ word }) => words[word])) report(open, `one answer of ::: ${kind} must be ${Object.keys(words)[0]}:`);
    const made: Question = {
      kind,
      line: (open.map?.[0] ?? 0) + 1,
      column: 1,
      ...(kind === "transfer" && { misconception }),
      elsewhere: where === ELSEWHERE,
      question,
      choices: choices.map((choice) => ({ ...choice, holds: words[choice.word] ?? false })),
    };
    questions.push(made);
    open.type = "question";
    open.nesting = 0;
    open.meta = { question: made, number: questions.length };
    return open;
  };

  const readPrediction = (inside: Token[], open: Token): Token => {
    const verdict = String(open.meta?.["argument"] ?? "");
    if (!/^[a-z][A-Za-z0-9]*$/.test(verdict)) report(open, "::: predict names the verdict that answers it: ::: predict verdictName");
    const { question, choices } = readAnswers(inside, open);
    if (prediction !== undefined) report(open, "a lesson has one ::: predict");
    prediction = { verdict, line: (open.map?.[0] ?? 0) + 1, question, choices };
    open.type = "prediction";
    open.nesting = 0;
    return open;
  };

  const containers: { name: string; line: number; inside: readonly string[] }[] = [];
  const inside: string[] = [];
  let bench: Token[] | undefined;
  let benchFrom = 0;
  let reveals = 0;
  let predicts = 0;
  let firstReveal: Token | undefined;
  for (let i = 0; i < all.length; i++) {
    const t = all[i] as Token;
    if (t.type === "fence" && /^(ts|typescript)\b/.test(t.info.trim())) {
      if (t.level > 0) report(t, "the ts fence stands at the top level of the file");
      if (fence !== undefined) report(t, "a lesson has one ts fence");
      else fence = { code: t.content, line: (t.map?.[0] ?? 0) + 2 };
      continue;
    }
    if (t.type === "container_close") inside.pop();
    if (t.type === "container_open") {
      const name = t.info;
      containers.push({ name, line: (t.map?.[0] ?? 0) + 1, inside: [...inside] });
      inside.push(name);
      if (t.meta?.["closed"] === false) report(t, `::: ${name} is never closed; end it with a line of :::`);
      if (!CONTAINERS.includes(name)) {
        report(t, `::: ${name} is not a container${wayOut(name, CONTAINERS)}`);
        continue;
      }
      if (name !== "predict" && name !== "transfer" && t.meta?.["argument"]) report(t, `::: ${name} takes nothing after its name`);
      if (["predict", "reveal", "bench"].includes(name) && t.level > 0) report(t, `::: ${name} stands at the top level of the file`);
      const end = closing(all, i);
      if (BENCH_PARTS.includes(name) && !inside.includes("bench")) report(t, `::: ${name} stands inside ::: bench`);
      const read = name === "sources" ? readSources : name === "predict" ? readPrediction : Object.hasOwn(QUESTIONS, name) ? readQuestion : undefined;
      if (read !== undefined) {
        tokens.push(read(all.slice(i + 1, end), t));
        if (name === "predict") predicts++;
        inside.pop();
        i = end;
        continue;
      }
      if (name === "bench") {
        if (bench !== undefined) report(t, "a lesson has one ::: bench");
        benchFrom = tokens.length;
      }
      if (name === "reveal") {
        reveals++;
        firstReveal ??= t;
      }
    }
    tokens.push(t);
    if (t.type === "container_close" && t.info === "bench") bench = tokens.splice(benchFrom).slice(1, -1);
  }
  if (fence === undefined) problems.push({ file, line: 1, column: 1, message: "a lesson has one ts fence that exports lesson({ … }) as its default" });
  if (predicts > 0 && reveals === 0) problems.push({ file, line: prediction?.line ?? 1, column: 1, message: "::: predict needs a ::: reveal that holds all that answers it" });
  if (reveals > 0 && predicts === 0) report(firstReveal, "::: reveal needs a ::: predict before it");
  return { tokens: answersLast(tokens), parts: env.parts, links: env.links, fence, prediction, questions, bench, containers, sources, ids, problems };
};

/** Containers that may stand after the answer: they close a page. */
const CLOSERS = new Set(["limits", "caution", "sources"]);

/** The reveals moved, as one, behind the rest of the page, but before the closing limits, cautions and sources. */
const answersLast = (tokens: Token[]): Token[] => {
  const blocks: Token[][] = [];
  for (let i = 0; i < tokens.length; ) {
    const end = (tokens[i] as Token).nesting === 1 ? closing(tokens, i) : i;
    blocks.push(tokens.slice(i, end + 1));
    i = end + 1;
  }
  const isReveal = (b: readonly Token[]): boolean => b[0]?.type === "container_open" && b[0].info === "reveal";
  const reveals = blocks.filter(isReveal);
  const open = reveals[0]?.[0];
  const close = reveals[0]?.at(-1);
  if (open === undefined || close === undefined) return tokens;
  const rest = blocks.filter((b) => !isReveal(b));
  let at = rest.length;
  while (at > 0) {
    const head = rest[at - 1]?.[0];
    if (head?.type === "source_list" || (head?.type === "container_open" && CLOSERS.has(head.info))) at--;
    else break;
  }
  return [...rest.slice(0, at).flat(), open, ...reveals.flatMap((b) => b.slice(1, -1)), close, ...rest.slice(at).flat()];
};

