/** The cue card at the values of the link: lines, numbers, captions, and the caption file. */
import { captionsOf, SPEAKING_PACE, writeVtt } from "../card/captions.ts";
import { type CueLine, lineText, spokenVerdicts } from "../card/cue.ts";
import { type Held, heldSearch } from "../card/held.ts";
import { renderCue } from "../render/cue.ts";
import type { InputValue } from "../lesson.ts";
import type { Change } from "../state/session.ts";
import { PAGE_RUNS } from "../study.ts";
import { goToOwnState } from "./own-state.ts";
import { LiveElement } from "./live.ts";

/** Longest stretch of counting between frames, in milliseconds. */
const STRETCH = 10;
const UNCOUNTED: Held = { runs: 0, counts: {} };

export class CueCardElement extends LiveElement {
  #lines: readonly CueLine[] = [];
  /** How often what is said holds, and of which values that was counted. */
  #held = UNCOUNTED;
  #counted: Readonly<Record<string, InputValue>> | undefined;

  protected prepare(): void {
    goToOwnState(this);
    this.#lines = JSON.parse(this.dataset["lines"] ?? "[]") as CueLine[];
    for (const field of this.querySelectorAll("input")) field.addEventListener("change", () => this.#show());
    const button = this.find<HTMLButtonElement>('[data-do="captions"]');
    if (button) button.disabled = false;
    button?.addEventListener("click", () => {
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([writeVtt(this.#captions(), this.dataset["note"] ?? "")], { type: "text/vtt" }));
      link.download = `${this.session.view.slug}.vtt`;
      link.click();
      // after the browser has taken it
      setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
    });
  }

  #number(id: string, least: number, most: number, other: number): number {
    const value = Number(this.find<HTMLInputElement>(`#${id}`)?.value.replace(",", "."));
    return value >= least && value <= most ? value : other;
  }

  /** Counts anew for other values than the card was made of; what is said meanwhile says that it is not counted. */
  #count(): void {
    const { view, atStart } = this.session;
    const { inputs, outcome } = view.state;
    if (this.#counted === inputs) return;
    this.#counted = inputs;
    const { held, state } = this.dataset;
    if (held !== undefined && (state === undefined ? atStart : location.hash === state)) {
      this.#held = JSON.parse(held) as Held;
      return;
    }
    this.#held = UNCOUNTED;
    const outputs = spokenVerdicts(view, this.#lines);
    if (outputs.length === 0 || outcome !== undefined) return;
    const search = heldSearch({ lesson: view.lesson, inputs, outputs }, PAGE_RUNS);
    const stretch = (): void => {
      if (this.#counted !== inputs || !this.isConnected) return;
      for (const begun = performance.now(); performance.now() - begun < STRETCH; ) {
        const step = search.next();
        if (step.done !== true) continue;
        this.#held = step.value;
        this.#show();
        return;
      }
      setTimeout(stretch);
    };
    setTimeout(stretch);
  }

  #captions() {
    const { view } = this.session;
    return captionsOf(this.#lines.map((line) => lineText(view, line, this.#held)), { pace: this.#number("cue-pace", 60, 400, SPEAKING_PACE), start: this.#number("cue-start", 0, 86_400, 0) });
  }

  #show(): void {
    this.#count();
    const place = this.find(".cue-place");
    if (place) place.innerHTML = renderCue(this.session.view, this.#lines, this.#captions(), this.#held, location.hash.includes("=") ? location.hash : "");
  }

  protected update(change: Change): void {
    if (change === "instant" || change === "drag") return;
    this.#show();
    for (const link of document.querySelectorAll<HTMLAnchorElement>("a.with-state")) link.hash = location.hash.includes("=") ? location.hash : "";
  }
}
