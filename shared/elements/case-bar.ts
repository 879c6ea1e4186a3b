/** Undo and back to the start. */
import type { Change } from "../state/session.ts";
import { LiveElement } from "./live.ts";

export class CaseBarElement extends LiveElement {
  protected prepare(): void {
    this.addEventListener("click", (event) => {
      const what = (event.target as Element).closest<HTMLElement>("[data-do]")?.dataset["do"];
      if (what === "undo") this.session.undo();
      else if (what === "reset") this.session.reset();
    });
  }

  protected update(change: Change): void {
    if (change === "instant" || change === "drag") return;
    const enable = (what: string, on: boolean): void => {
      const button = this.find<HTMLButtonElement>(`[data-do="${what}"]`);
      if (button) button.disabled = !on;
    };
    enable("undo", this.session.canUndo && !this.session.locked);
    enable("reset", !this.session.atStart && !this.session.locked);
  }
}
