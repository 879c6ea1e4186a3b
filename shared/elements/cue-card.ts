/** The cue card at the values of the link: lines, numbers, captions, and the caption file. */
import { captionsOf, SPEAKING_PACE, writeVtt } from "../card/captions.ts";
import { type CueLine, lineText } from "../card/cue.ts";
import { renderCue } from "../render/cue.ts";
import type { Change } from "../state/session.ts";
import { goToOwnState } from "./own-state.ts";
import { LiveElement } from "./live.ts";

export class CueCardElement extends LiveElement {
  #lines: readonly CueLine[] = [];

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

  #captions() {
    const { view } = this.session;
    return captionsOf(this.#lines.map((line) => lineText(view, line)), { pace: this.#number("cue-pace", 60, 400, SPEAKING_PACE), start: this.#number("cue-start", 0, 86_400, 0) });
  }

  #show(): void {
    const place = this.find(".cue-place");
    if (place) place.innerHTML = renderCue(this.session.view, this.#lines, this.#captions(), location.hash.includes("=") ? location.hash : "");
  }

  protected update(change: Change): void {
    if (change === "instant" || change === "drag") return;
    this.#show();
    for (const link of document.querySelectorAll<HTMLAnchorElement>("a.with-state")) link.hash = location.hash.includes("=") ? location.hash : "";
  }
}
