/**
 * A question to commit to. Until then what it guards is out of the document, so that no search, no speech and no print gives it away.
 * It guards the reveals that follow it, up to the next question.
 */
import { outputText } from "../render/value.ts";
import { answerKey, storeIn } from "../state/storage.ts";
import { LiveElement, setText } from "./live.ts";

/** A question may hold inputs of the lesson too: they are not answers, and stay at work after the commit. */
const ANSWERS = "form > fieldset > label > input";

/** An answer outlasts a reload and going back, in this tab. */
const answers = storeIn(() => sessionStorage);

export class PredictGateElement extends LiveElement {
  readonly #kept: { readonly marker: Comment; readonly section: Element }[] = [];
  #replies: Element | null = null;
  #said: HTMLElement | undefined;
  #choice: string | undefined;
  #closed = false;

  protected prepare(): void {
    const all = [...document.querySelectorAll("predict-gate, [data-reveal]")];
    const own = all.indexOf(this);
    for (const [i, section] of all.entries()) {
      if (section === this || section.localName === "predict-gate") continue;
      const before = all.slice(0, i).filter((other) => other.localName === "predict-gate");
      // A reveal ahead of every question belongs to the first one.
      const guard = before.at(-1) ?? all.find((other) => other.localName === "predict-gate");
      if (guard !== all[own]) continue;
      const marker = document.createComment("");
      section.replaceWith(marker);
      this.#kept.push({ marker, section });
    }
    this.#replies = this.#kept.map(({ section }) => section.querySelector(".replies")).find((one) => one !== null) ?? null;
    this.#replies?.remove();
    this.#closed = true;
    this.session.changeQuestions((open) => open.add(this));
    const form = this.find<HTMLFormElement>("form");
    form?.addEventListener("submit", (event) => {
      event.preventDefault();
      const chosen = form.querySelector<HTMLInputElement>(`${ANSWERS}:checked`);
      if (chosen === null) {
        setText(this.find(".message"), "Choose an answer first, or press \u201cJust show me\u201d.");
        form.querySelector<HTMLInputElement>(ANSWERS)?.focus();
      } else this.#answer(chosen.value);
    });
    form?.querySelector('[data-do="show"]')?.addEventListener("click", () => this.#answer(undefined));
    const given = answers.read(this.#key);
    const field = [...(form?.querySelectorAll<HTMLInputElement>(ANSWERS) ?? [])].find(({ value }) => value === given);
    if (field) field.checked = true;
    if (field || given === "") this.#open(field?.value);
    else if (!this.session.atStart) {
      const note = document.createElement("p");
      note.className = "linked";
      note.textContent = "This link holds a case. Commit to a prediction, or press \u201cJust show me\u201d, to see it.";
      form?.before(note);
    }
  }

  get #key(): string {
    return answerKey(this.session.view.slug, this.id);
  }

  #answer(choice: string | undefined): void {
    answers.write(this.#key, choice ?? "");
    this.#open(choice);
    // The form is spent: go on where the answer begins.
    this.#said?.focus();
  }

  protected update(): void {
    if (!this.#closed) this.#compare();
  }

  #open(choice: string | undefined): void {
    if (!this.#closed) return;
    this.#closed = false;
    this.#choice = choice;
    setText(this.find(".message"), "");
    for (const field of this.querySelectorAll<HTMLInputElement | HTMLButtonElement>(`${ANSWERS}, .buttons button`)) field.disabled = true;
    const said = document.createElement("div");
    said.className = "compared";
    said.tabIndex = -1;
    this.#said = said;
    said.append(...["agreement", "words"].map((name) => Object.assign(document.createElement("p"), { className: name })));
    const reply = choice === undefined ? null : [...(this.#replies?.children ?? [])].find((one) => (one as HTMLElement).dataset["reply"] === choice);
    // The reply is about the answer, whichever case is on the page.
    setText(reply?.querySelector(".kicker") ?? null, "What to know about this answer:");
    if (reply) said.append(reply);
    this.find(".linked")?.remove();
    this.append(said);
    this.classList.add("answered");
    for (const { marker, section } of this.#kept) marker.replaceWith(section);
    this.#kept.length = 0;
    this.session.changeQuestions((open) => open.delete(this));
    this.#compare();
  }

  /** Says whether the guess agrees with what is computed now; it keeps watch, since the reader may move the case away from it. */
  #compare(): void {
    const { view } = this.session;
    const name = this.dataset["verdict"] ?? "";
    const output = view.lesson.outputs[name];
    const now = outputText(view, name) ?? "";
    if (output?.type !== "verdict") return;
    const { outcome, outputs } = view.state;
    const guess = this.#choice === undefined ? undefined : (output.words[this.#choice] ?? this.#choice);
    // Why a case has no result is said beside the inputs.
    const result = outcome === undefined ? `The lesson computes: ${now}.` : "";
    const agreement = guess === undefined || outcome !== undefined ? "" : outputs[name] === this.#choice ? "Your expectation agrees with this case." : "Your expectation does not agree with this case.";
    setText(this.find(".agreement"), agreement);
    setText(this.find(".words"), guess === undefined ? result : `You expected: ${guess}. ${result}`.trim());
  }
}
