/** The cue card: lines to say, each number as shown and as said, and the captions. */
import { type Caption, captionProblems } from "../card/captions.ts";
import { crossings, type CueLine, cueNumbers, type CuePart, lineText, partHeld, partText, spokenVerdicts } from "../card/cue.ts";
import { type Held, outOfHundred } from "../card/held.ts";
import { inWords } from "../card/numberWords.ts";
import { formatNumber } from "../state/numbers.ts";
import { PLACE_KEY } from "../state/link.ts";
import type { View } from "../view.ts";
import { capital, escape } from "./html.ts";
import { tieWords } from "./study.ts";

/** Address of a number on the lesson's page, with the values of this card. */
const address = (view: View, anchor: string, state: string): string => `${view.slug}.html${state === "" ? `#${anchor}` : `${state}&${PLACE_KEY}=${anchor}`}`;

const isNumber = (view: View, part: CuePart, numbers: ReadonlySet<string>): boolean => part.scheme !== "name" && numbers.has(`${part.scheme} ${part.name}`) && partText(view, part) !== "";

const lineHtml = (view: View, line: CueLine, state: string, numbers: ReadonlySet<string>, held: Held): string =>
  line
    .map((part) => {
      if (typeof part === "string") return escape(part);
      const text = escape(partText(view, part));
      return isNumber(view, part, numbers) ? `<a class="number" href="${escape(address(view, part.anchor, state))}">${text}</a>` : text + escape(partHeld(view, part, held));
    })
    .join("");

const seconds = (s: number): string => `${Math.floor(s / 60)}:${(s % 60).toFixed(1).padStart(4, "0")}`;

/** Of every verdict that is said, how often each answer came out, and of how many runs. */
const verdictsHtml = (view: View, lines: readonly CueLine[], { counts, runs }: Held): string => {
  const rows = spokenVerdicts(view, lines).flatMap((name) => {
    const output = view.lesson.outputs[name];
    if (output?.type !== "verdict") return [];
    const answers = Object.entries(counts[name] ?? {}).filter(([, count]) => count > 0).sort(([, p], [, q]) => q - p);
    return [`<li><b>${escape(capital(output.label))}</b>: ${answers.length === 0 ? "not counted at these values" : tieWords(answers.map(([, count]) => count), `${formatNumber(runs, 0, view.locale)} runs`) + answers.map(([word, count]) => `${escape(output.words[word] ?? word)} (in ${outOfHundred(count, runs)})`).join("; ")}.</li>`];
  });
  return rows.length === 0 ? "" : `<section aria-labelledby="verdicts"><h2 id="verdicts">The verdicts</h2><p>Said with no more words only where 95 of 100 runs agree, each run with every input drawn from its give or take. ${runs === 0 ? "" : `Of ${formatNumber(runs, 0, view.locale)} runs:`}</p><ul>${rows.join("")}</ul></section>`;
};

export const renderCue = (view: View, lines: readonly CueLine[], captions: readonly Caption[], held: Held, state = ""): string => {
  const numbers = cueNumbers(view, lines);
  const keys = new Set(numbers.map(({ part }) => `${part.scheme} ${part.name}`));
  const said = lines.map((line) => {
    const text = lineText(view, line, held);
    const words = inWords(text);
    return `<li><p class="spoken">${lineHtml(view, line, state, keys, held)}</p>${words === text ? "" : `<p class="in-words">${escape(words)}</p>`}</li>`;
  });
  const rows = numbers.map(({ part, label, shown, words }) => `<tr><th scope="row"><a href="${escape(address(view, part.anchor, state))}">${escape(capital(label))}</a></th><td>${escape(shown)}</td><td>${escape(words)}</td></tr>`);
  const crossed = crossings(view, numbers);
  const problems = [...crossed, ...captionProblems(captions)];
  const last = captions.at(-1);
  return (
    `<section class="cue" aria-labelledby="to-say"><h2 id="to-say">To say</h2><ol class="lines">${said.join("")}</ol></section>` +
    `<section aria-labelledby="numbers"><h2 id="numbers">The numbers</h2><p>On screen, in the caption and aloud each number is the same, rounded once: to two figures, and to three where two would make unlike numbers sound alike, or a sum that is said would not add up.</p>` +
    `<div class="table" tabindex="0" role="region" aria-label="The numbers"><table class="spoken-numbers"><thead><tr><th scope="col">What it is</th><th scope="col">on screen</th><th scope="col">aloud</th></tr></thead><tbody>${rows.join("")}</tbody></table></div></section>` +
    verdictsHtml(view, lines, held) +
    `<section aria-labelledby="captions"><h2 id="captions">Captions</h2><p>${captions.length} ${captions.length === 1 ? "caption" : "captions"}, ${last === undefined ? "" : `${seconds((last.to) - (captions[0]?.from ?? 0))} in all. `}${problems.length === 0 ? "None asks for more than 180 words a minute, has more than two lines, or a line of more than 42 characters; no rounding hides which of two numbers is larger, or spoils a sum." : ""}</p>` +
    `${problems.length === 0 ? "" : `<ul class="problems">${problems.map((problem) => `<li>${escape(problem)}</li>`).join("")}</ul>`}` +
    `<ol class="captions">${captions.map(({ from, to, lines: text }) => `<li><span class="time">${seconds(from)}\u2013${seconds(to)}</span> <span class="text">${text.map(escape).join("<br>")}</span></li>`).join("")}</ol></section>`
  );
};
