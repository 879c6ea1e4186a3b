/** What the prose says against what the code declares: names, units, claims, predictions, link texts. Nothing is guessed. */
import { isUnit, sameDimension, UNITS, type UnitName } from "../lib/units.ts";
import type { Lesson, Output } from "../shared/lesson.ts";
import { wayOut } from "./nearest.ts";
import type { Problem } from "./problem.ts";
import { rangeProblem } from "./scales.ts";
import type { WrittenLesson } from "./readLessons.ts";
import type { LivePart, Scheme } from "./rules/live.ts";

const MOST_DIGITS = 6;

/** Names that each scheme may point at. */
export const namesOf = (lesson: Lesson): Readonly<Record<Scheme, readonly string[]>> => ({
  input: Object.keys(lesson.inputs),
  output: Object.keys(lesson.outputs),
  claim: Object.keys(lesson.claims),
  figure: Object.keys(lesson.figures),
  scene: Object.keys(lesson.scenes),
  name: Object.keys(lesson.names),
});

/** 1-based place of `name:` in the fence, or of the fence itself. */
export const placeInFence = (written: WrittenLesson, name: string): { line: number; column: number } => {
  const { fence } = written.prose;
  if (fence === undefined) return { line: 1, column: 1 };
  const lines = fence.code.split("\n");
  const found = lines.findIndex((l) => new RegExp(`\\b${name}\\s*:`).test(l));
  return found < 0 ? { line: fence.line, column: 1 } : { line: fence.line + found, column: (lines[found] as string).search(new RegExp(`\\b${name}\\s*:`)) + 1 };
};

const kindOf = (part: LivePart, lesson: Lesson): UnitName | undefined => {
  const declared = part.scheme === "input" ? lesson.inputs[part.name] : lesson.outputs[part.name];
  return declared !== undefined && "kind" in declared ? declared.kind.si : undefined;
};

const checkOptions = (part: LivePart, lesson: Lesson, report: (message: string) => void): void => {
  const { unit, digits, show } = part.options;
  if (show !== undefined) {
    if (show !== "range") report(`show must be range, got ${show}`);
    else if (part.scheme !== "output" || !["quantity", "returned", "verdict"].includes(lesson.outputs[part.name]?.type ?? "")) report(`${part.scheme} ${part.name} has no range; an output that is a quantity or a verdict has one`);
  }
  if (unit === undefined && digits === undefined) return;
  const si = kindOf(part, lesson);
  if (si === undefined) return report(`${part.scheme} ${part.name} is not a quantity; it takes no options`);
  if (unit !== undefined) {
    const fitting = (Object.keys(UNITS) as UnitName[]).filter((u) => sameDimension(u, si));
    if (!isUnit(unit)) report(`${unit} is not a unit${wayOut(unit, fitting)}`);
    else if (!sameDimension(unit, si)) report(`${unit} does not fit ${part.name}; there are ${fitting.join(", ")}`);
  }
  if (digits !== undefined && !(/^\d$/.test(digits) && Number(digits) <= MOST_DIGITS)) report(`digits must be a whole number from 0 to ${MOST_DIGITS}, got ${digits}`);
};

const checkLesson = (lesson: Lesson, report: (name: string, message: string) => void): void => {
  for (const name of Object.keys(lesson.inputs)) {
    if (Object.hasOwn(lesson.outputs, name)) report(name, `${name} is both an input and an output; give one of them another name`);
  }
  for (const [name, output] of Object.entries(lesson.outputs) as [string, Output][]) {
    if (output.type !== "flip") continue;
    const verdicts = Object.entries(lesson.outputs).filter(([, o]) => o.type === "verdict").map(([n]) => n);
    const quantities = Object.entries(lesson.inputs).filter(([, i]) => i.type === "quantity").map(([n]) => n);
    if (!verdicts.includes(output.of)) report(name, `flip point ${name}: ${output.of} is not a verdict of this lesson${wayOut(output.of, verdicts)}`);
    if (!quantities.includes(output.along)) report(name, `flip point ${name}: ${output.along} is not a quantity input of this lesson${wayOut(output.along, quantities)}`);
  }
  for (const name of [...Object.keys(lesson.inputs), ...Object.keys(lesson.outputs), ...Object.keys(lesson.claims), ...Object.keys(lesson.figures), ...Object.keys(lesson.scenes), ...Object.keys(lesson.names)])
    if (!/^[a-z][A-Za-z0-9]*$/.test(name)) report(name, `${name}: a name starts in lower case and holds letters and digits only`);
};

/** Inputs whose numbers do not go together, or which the values of the scenario take out of their range. */
export const checkRanges = (written: WrittenLesson, lesson: Lesson): Problem[] =>
  Object.entries(lesson.inputs).flatMap(([name, input]) => {
    const wrong = rangeProblem(input);
    return wrong === undefined ? [] : [{ file: written.file, ...placeInFence(written, name), message: `input ${name}: ${wrong}` }];
  });

/** Everything that can be checked before the lesson is run, but for its numbers. */
export const checkProse = (written: WrittenLesson, lesson: Lesson, sources: readonly string[]): Problem[] => {
  const { prose, file } = written;
  const problems: Problem[] = [];
  const names = namesOf(lesson);
  checkLesson(lesson, (name, message) => problems.push({ file, ...placeInFence(written, name), message }));

  for (const part of prose.parts) {
    const report = (message: string): void => void problems.push({ file, line: part.line, column: part.column, message });
    if (!names[part.scheme].includes(part.name)) {
      const elsewhere = (Object.keys(names) as Scheme[]).find((s) => names[s].includes(part.name));
      report(elsewhere !== undefined ? `${part.name} is not ${article(part.scheme)} but ${article(elsewhere)}: write ${elsewhere}:${part.name}` : `there is no ${part.scheme} ${part.name}${wayOut(part.name, names[part.scheme])}`);
    } else if (part.scheme === "input" || part.scheme === "output") checkOptions(part, lesson, report);
  }
  const marked = new Set(prose.parts.filter((p) => p.scheme === "claim").map((p) => p.name));
  for (const name of names.claim) if (!marked.has(name)) problems.push({ file, ...placeInFence(written, name), message: `no sentence marks the claim ${name}; write [the sentence](claim:${name})` });

  const bench = prose.containers.find(({ name }) => name === "bench");
  if (bench !== undefined && written.front.scales["bench"] === undefined) problems.push({ file, line: bench.line, column: 1, message: "::: bench needs the numbers of the apparatus: scales: { bench: { … } } in the front matter" });

  const { prediction } = prose;
  if (prediction !== undefined && prediction.verdict !== "") {
    const at = (line: number, column: number, message: string): void => void problems.push({ file, line, column, message });
    const verdicts = Object.entries(lesson.outputs).filter(([, o]) => o.type === "verdict").map(([n]) => n);
    const verdict = Object.hasOwn(lesson.outputs, prediction.verdict) ? lesson.outputs[prediction.verdict] : undefined;
    if (verdict?.type !== "verdict") at(prediction.line, 1, `::: predict: there is no verdict ${prediction.verdict}${wayOut(prediction.verdict, verdicts)}`);
    else {
      for (const part of prose.parts) {
        const output = part.scheme === "output" && !part.revealed ? lesson.outputs[part.name] : undefined;
        if (part.name === prediction.verdict || (output?.type === "flip" && output.of === prediction.verdict))
          if (output !== undefined) at(part.line, part.column, `output ${part.name} answers the prediction; it belongs inside ::: reveal`);
      }
      const words = Object.keys(verdict.words);
      const seen = new Set<string>();
      for (const choice of prediction.choices) {
        if (!words.includes(choice.word)) at(choice.line, choice.column, `${choice.word} is not a word of ${prediction.verdict}${wayOut(choice.word, words)}`);
        if (seen.has(choice.word)) at(choice.line, choice.column, `${choice.word} is answered twice`);
        seen.add(choice.word);
      }
    }
  }
  for (const source of prose.sources) if (!sources.includes(source.id)) problems.push({ file, line: source.line, column: source.column, message: `${source.id} is not in lib/sources.yaml${wayOut(source.id, sources)}` });
  return problems;
};

const article = (scheme: string): string => (/^[aeiou]/.test(scheme) ? `an ${scheme}` : `a ${scheme}`);

/** Links to other pages of the site and to headings of this one. Markdown addresses become those of the site. */
export const checkLinks = (written: WrittenLesson, slugs: readonly string[], leftOut: readonly string[] = []): Problem[] => {
  const problems: Problem[] = [];
  for (const { href, line, column, token } of written.prose.links) {
    const report = (message: string): void => void problems.push({ file: written.file, line, column, message });
    if (/^[a-z]+:/i.test(href)) continue;
    const [path = "", anchor] = href.split("#");
    if (path === "") {
      if (anchor !== undefined && !written.prose.ids.has(anchor)) report(`there is no heading #${anchor} on this page${wayOut(anchor, written.prose.ids.all())}`);
      continue;
    }
    const slug = /^(?:\.\/)?([a-z][a-z0-9-]*)\.(?:md|html)$/.exec(path)?.[1];
    if (slug === undefined || !slugs.includes(slug)) report(`${path} is not a lesson of this site${wayOut(path.replace(/\.(md|html)$/, ""), slugs)}`);
    // This show has no such page: the index says what there is.
    else if (leftOut.includes(slug)) token.attrSet("href", "index.html");
    else token.attrSet("href", `${slug}.html${anchor === undefined ? "" : `#${anchor}`}`);
  }
  return problems;
};

/** A text as it is compared: markup, spaces of all kinds, and the shape of the minus sign do not count. */
const bare = (text: string): string => text.replace(/[\s\u00a0\u202f\u2009]+/g, "").replace(/[\u2212\u2013]/g, "-").replace(/[\u2018\u2019]/g, "'").replace(/[\u201c\u201d]/g, '"');

/** Trailing zeros do not count either: 54 km/h is 54.0 km/h. */
const withoutZeros = (text: string): string => text.replace(/(\d+)\.(\d*?)0+(?!\d)/g, (_, whole: string, rest: string) => (rest === "" ? whole : `${whole}.${rest}`));

export const sameText = (written: string, computed: string): boolean => withoutZeros(bare(written)) === withoutZeros(bare(computed)) || bare(written).toLowerCase() === bare(computed).toLowerCase();
