/** A question to check one's own understanding: shows what is said to the chosen answer, and lets one choose again. */
import { LiveElement, setText } from "./live.ts";

export class AnswerCheckElement extends LiveElement {
  protected prepare(): void {
    const form = this.find<HTMLFormElement>("form");
    const folded = this.find<HTMLDetailsElement>("details.answers");
    const reply = document.createElement("div");
    reply.className = "reply";
    reply.tabIndex = -1;
    reply.hidden = true;
    folded?.before(reply);
    // Until an answer is checked, nothing of the others shows.
    if (folded) folded.hidden = true;
    form?.addEventListener("submit", (event) => {
      event.preventDefault();
      const chosen = form.querySelector<HTMLInputElement>("input:checked");
      setText(this.find(".message"), chosen === null ? "Choose an answer first." : "");
      if (chosen === null) {
        form.querySelector<HTMLInputElement>("input")?.focus();
        return;
      }
      const said = this.querySelector(`[data-answer="${chosen.value}"]`);
      if (said) reply.replaceChildren(...[...said.cloneNode(true).childNodes]);
      reply.hidden = false;
      if (folded) folded.hidden = false;
      this.classList.add("answered");
      reply.focus();
    });
  }

  protected update(): void {
    // Nothing here depends on the state of the lesson.
  }
}
