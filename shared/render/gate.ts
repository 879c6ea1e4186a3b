/** The question that a reader commits to before the reveal. */
import { escape } from "./html.ts";

export interface PredictOption {
  /** A word of the verdict. */
  readonly word: string;
  readonly textHtml: string;
  /** Said to those who chose it, after they committed. */
  readonly replyHtml?: string;
}

/** A prediction: the question, one answer for each word, commit, and the way past it. */
export const renderPredict = (verdict: string, questionHtml: string, options: readonly PredictOption[], id: string): string => {
  return (
    `<predict-gate id="${id}" data-verdict="${verdict}"><form><fieldset><legend id="${id}-legend">Before you look: what do you expect?</legend><div class="question">${questionHtml}</div>` +
    options.map((option) => `<label><input type="radio" name="${id}" value="${escape(option.word)}"><span>${option.textHtml}</span></label>`).join("") +
    `</fieldset><p class="unscripted-only">Choose for yourself before you read on. The answer stands under the heading \u201cAnswer\u201d.</p><p class="buttons"><button type="submit">Commit</button><button type="button" data-do="show">Just show me</button><span class="message" role="status"></span></p></form></predict-gate>`
  );
};

/** What is said to each answer: part of the reveal, so that a page without scripts gives nothing away before it. */
export const renderReplies = (options: readonly PredictOption[]): string => {
  const replies = options.filter((option) => option.replyHtml !== undefined);
  if (replies.length === 0) return "";
  return `<div class="replies">${replies.map((option) => `<div data-reply="${escape(option.word)}"><p class="kicker">To \u201c${option.textHtml}\u201d</p>${option.replyHtml}</div>`).join("")}</div>`;
};
