/** The question that a reader commits to before the reveal. */
import type { View } from "../view.ts";
import { escape } from "./html.ts";
import { outputOf } from "./value.ts";

export interface PredictOption {
  /** A word of the verdict. */
  readonly word: string;
  readonly textHtml: string;
  /** Said to those who chose it, after they committed. */
  readonly replyHtml?: string;
}

/** A prediction: the question, one answer for each word, commit, and the way past it. */
export const renderPredict = (view: View, verdict: string, questionHtml: string, options: readonly PredictOption[], id: string): string => {
  const output = outputOf(view, verdict);
  return (
    `<predict-gate id="${id}" data-verdict="${verdict}"><form><fieldset><legend id="${id}-legend">Before you look: what do you expect?</legend><div class="question">${questionHtml}</div>` +
    options.map((option) => `<label><input type="radio" name="${id}" value="${escape(option.word)}"><span>${option.textHtml}</span></label>`).join("") +
    `</fieldset><p class="buttons"><button type="submit">Commit</button><button type="button" data-do="show">Just show me</button><span class="message" role="status"></span></p></form>` +
    `<div class="replies" data-label="${escape(output.label)}">${options.map((option) => (option.replyHtml === undefined ? "" : `<div data-reply="${escape(option.word)}">${option.replyHtml}</div>`)).join("")}</div></predict-gate>`
  );
};
