/** The YAML block at the head of a lesson: what the page is called, and the numbers that a teacher may change. */
import { isMap, isScalar, isSeq, LineCounter, parseDocument, type Node } from "yaml";
import { PARTS, type ScenarioPart } from "../shared/scenario/scenario.ts";
import { wayOut } from "./nearest.ts";
import type { Problem } from "./problem.ts";
import { yamlProblems } from "./yamlProblems.ts";

export interface Placed<T> {
  readonly value: T;
  readonly line: number;
  readonly column: number;
}

/** Scale -> input -> option (`start`, `from` …) -> text as written. */
export type WrittenScales = Readonly<Record<string, Readonly<Record<string, Placed<Readonly<Record<string, Placed<string>>>>>>>>;

export interface FrontMatter {
  readonly title: string;
  readonly question: string;
  readonly minutes: number;
  /** The one idea, in a sentence. */
  readonly idea: string;
  /** Most mathematics that the core of the lesson asks for. */
  readonly mathematics: Mathematics | undefined;
  readonly scales: WrittenScales;
  readonly misconceptions: readonly string[];
  readonly curriculum: readonly string[];
  /** Parts of the scenario without which there is no such page. */
  readonly needs: readonly ScenarioPart[];
  /** Place in the index; lessons without one follow by name. */
  readonly order: number;
  /** Where each key stands. */
  readonly places: Readonly<Record<string, { readonly line: number; readonly column: number }>>;
}

export const MATHEMATICS = ["none", "ratios", "algebra"] as const;
export type Mathematics = (typeof MATHEMATICS)[number];

const KEYS = ["title", "question", "minutes", "idea", "mathematics", "scales", "misconceptions", "curriculum", "needs", "order"];
const REQUIRED = ["title", "question", "minutes"];
/** Options of an input that are words, and stand as they are. */
export const SCALE_TEXTS = ["label", "reason"];
export const SCALE_OPTIONS = ["start", "from", "to", "step", "give", ...SCALE_TEXTS];

const BLOCK = /^---[ \t]*\r?\n([\s\S]*?)^---[ \t]*$/m;

export interface ReadFrontMatter {
  readonly front: FrontMatter;
  /** The file with the block's lines blanked, so that line numbers stay true. */
  readonly rest: string;
  readonly problems: readonly Problem[];
}

export const readFrontMatter = (source: string, file: string): ReadFrontMatter => {
  const problems: Problem[] = [];
  const report = (line: number, column: number, message: string): void => void problems.push({ file, line, column, message });
  const found: Record<string, unknown> = {};
  const places: Record<string, { line: number; column: number }> = {};
  const block = BLOCK.exec(source);
  if (block === null || block.index !== 0) {
    report(1, 1, "a lesson starts with a front matter block: a line of ---, then title, question and minutes, then a line of ---");
    return { front: complete(found, places), rest: source, problems };
  }
  const counter = new LineCounter();
  const document = parseDocument(block[1] as string, { lineCounter: counter });
  const place = (node: Node | null | undefined): { line: number; column: number } => {
    const at = counter.linePos(node?.range?.[0] ?? 0);
    return { line: at.line + 1, column: Math.max(1, at.col) };
  };
  for (const { offset, message } of yamlProblems(document, block[1] as string, counter)) {
    const { line, col } = counter.linePos(offset);
    report(line + 1, col, `front matter: ${message}`);
  }

  const scalar = (node: Node | null | undefined): string | undefined => (isScalar(node) && node.value !== null ? String(node.source ?? node.value) : undefined);
  const list = (key: string, node: Node | null | undefined): string[] => {
    const { line, column } = place(node);
    if (!isSeq(node)) {
      report(line, column, `${key} must be a list, such as [one, two]`);
      return [];
    }
    return node.items.map((item) => String(isScalar(item) ? item.value : ""));
  };
  const scales = (node: Node | null | undefined): WrittenScales => {
    const out: Record<string, Record<string, Placed<Record<string, Placed<string>>>>> = {};
    if (!isMap(node)) {
      const { line, column } = place(node);
      report(line, column, "scales must read { scale: { input: { start: 0.5 kg, from: 0.2 kg, to: 2 kg } } }");
      return out;
    }
    for (const scale of node.items) {
      const name = String((scale.key as { value?: unknown }).value);
      const inputs = scale.value as Node | null;
      if (!/^[a-z][A-Za-z0-9]*$/.test(name) || !isMap(inputs)) {
        const { line, column } = place(scale.key as Node);
        report(line, column, `scale ${name} must be a plain lower-case name that holds { input: { start: … } }`);
        continue;
      }
      const entries: Record<string, Placed<Record<string, Placed<string>>>> = {};
      for (const input of inputs.items) {
        const inputName = String((input.key as { value?: unknown }).value);
        const at = place(input.key as Node);
        const options = input.value as Node | null;
        if (!isMap(options)) {
          report(at.line, at.column, `${inputName} must hold { ${SCALE_OPTIONS.join(", ")} }`);
          continue;
        }
        const written: Record<string, Placed<string>> = {};
        for (const option of options.items) {
          const optionName = String((option.key as { value?: unknown }).value);
          const where = place(option.key as Node);
          const text = scalar(option.value as Node | null);
          const before = Object.values(written).at(-1);
          if (text === undefined && /^\d/.test(optionName) && before !== undefined && /^[-+]?\d+$/.test(before.value)) report(before.line, before.column, `a comma splits the value here; write ${before.value}.${optionName}`);
          else if (!SCALE_OPTIONS.includes(optionName)) report(where.line, where.column, `${optionName} is not an option of an input${wayOut(optionName, SCALE_OPTIONS)}`);
          else if (text === undefined) report(where.line, where.column, `${optionName} needs a value with its unit, such as 0.5 kg`);
          else written[optionName] = { value: text, ...place(option.value as Node) };
        }
        entries[inputName] = { value: written, ...at };
      }
      out[name] = entries;
    }
    return out;
  };

  const contents = document.contents as Node | null;
  if (isMap(contents)) {
    for (const pair of contents.items) {
      const key = String((pair.key as { value?: unknown }).value);
      const node = pair.value as Node | null;
      const { line, column } = place(pair.key as Node);
      places[key] = { line, column };
      if (!KEYS.includes(key)) report(line, column, `${key} is not a key of the front matter${wayOut(key, KEYS)}`);
      else if (key === "scales") found[key] = scales(node);
      else if (key === "misconceptions" || key === "curriculum" || key === "needs") {
        const names = list(key, node);
        found[key] = names;
        if (key === "needs") for (const name of names) if (!(PARTS as readonly string[]).includes(name)) report(line, column, `${name} is not a part of a scenario${wayOut(name, PARTS)}`);
      }
      else if (key === "minutes" || key === "order") {
        const value = isScalar(node) ? node.value : undefined;
        const least = key === "minutes" ? 1 : 0;
        if (typeof value !== "number" || !Number.isFinite(value) || value < least) report(line, column, `${key} must be a number >= ${least}, got ${scalar(node) ?? "nothing"}`);
        found[key] = value;
      } else {
        const text = isScalar(node) && node.value !== null ? String(node.value).trim() : "";
        if (text === "") report(line, column, `${key} must be a line of text`);
        else if (key === "mathematics" && !(MATHEMATICS as readonly string[]).includes(text)) report(line, column, `mathematics must be one of ${MATHEMATICS.join(", ")}, got ${text}${wayOut(text, MATHEMATICS)}`);
        found[key] = text;
      }
    }
  } else if (document.errors.length === 0) report(2, 1, "front matter must be `key: value` lines");
  for (const key of REQUIRED) if (!(key in found) && document.errors.length === 0) report(1, 1, `front matter lacks ${key}`);
  const lines = block[0].length;
  return { front: complete(found, places), rest: source.slice(0, lines).replace(/[^\n]+/g, "") + source.slice(lines), problems };
};

const complete = (found: Record<string, unknown>, places: FrontMatter["places"]): FrontMatter => ({
  places,
  title: (found["title"] as string | undefined) ?? "",
  question: (found["question"] as string | undefined) ?? "",
  minutes: (found["minutes"] as number | undefined) ?? 0,
  idea: (found["idea"] as string | undefined) ?? "",
  mathematics: found["mathematics"] as Mathematics | undefined,
  scales: (found["scales"] as WrittenScales | undefined) ?? {},
  misconceptions: (found["misconceptions"] as string[] | undefined) ?? [],
  needs: (found["needs"] as ScenarioPart[] | undefined) ?? [],
  curriculum: (found["curriculum"] as string[] | undefined) ?? [],
  order: (found["order"] as number | undefined) ?? Number.MAX_SAFE_INTEGER,
});
