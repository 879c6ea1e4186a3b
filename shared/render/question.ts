/** A question whose answers say of themselves whether they hold: to check one's own understanding, not the lesson's numbers. */
import { escape } from "./html.ts";

export interface Answer {
  readonly holds: boolean;
  readonly textHtml: string;
  readonly replyHtml: string;
}

export interface AskedQuestion {
  /** `explain` asks why, and offers room for one's own words; `transfer` asks about another case. */
  readonly kind: string;
  readonly kicker: string;
  readonly questionHtml: string;
  readonly answers: readonly Answer[];
}

/** Words beside a reply: the mark is never a colour alone. */
export const MARK = { true: "Yes.", false: "Not so." } as const;

/** The question; its replies stand folded below it, and open there without scripts too. */
export const renderQuestion = ({ kind, kicker, questionHtml, answers }: AskedQuestion, id: string): string =>
  `<answer-check id="${id}" class="${kind}"><form><fieldset><legend class="kicker">${escape(kicker)}</legend><div class="question">${questionHtml}</div>` +
  answers.map(({ textHtml }, i) => `<label><input type="radio" name="${id}" value="${i}"><span>${textHtml}</span></label>`).join("") +
  `</fieldset>` +
  (kind === "explain" ? `<p class="own"><label for="${id}-own">In your own words, if you like; it stays in this page and is not kept</label><textarea id="${id}-own" rows="3"></textarea></p>` : "") +
  `<p class="buttons"><button type="submit">Check</button><span class="message" role="status"></span></p></form>` +
  `<details class="answers"><summary>What to make of each answer</summary><ol>${answers.map(({ holds, textHtml, replyHtml }, i) => `<li data-answer="${i}"><p class="restated">\u201c${textHtml}\u201d <strong>${MARK[`${holds}`]}</strong></p>${replyHtml}</li>`).join("")}</ol></details></answer-check>`;
