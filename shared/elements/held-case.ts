/** Keeps one case beside the present one and shows what differs. */
import { renderHeld } from "../render/held.ts";
import type { Change } from "../state/session.ts";
import { LiveElement } from "./live.ts";

export class HeldCaseElement extends LiveElement {
  #html = "";

  protected prepare(): void {
    this.addEventListener("click", (event) => {
      const what = (event.target as Element).closest<HTMLElement>("[data-do]")?.dataset["do"];
      if (what === "hold") this.session.hold(this.session.view.state);
      else if (what === "release") this.session.hold(undefined);
      if (what !== undefined) this.find<HTMLElement>("[data-do]")?.focus();
    });
  }

  protected update(change: Change): void {
    if (change === "instant" || change === "drag") return;
    const html = renderHeld(this.session.view, this.session.locked);
    if (html === this.#html) return;
    this.#html = html;
    this.innerHTML = html;
  }
}
