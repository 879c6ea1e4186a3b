/** Undo and back to the start. */
import type { Change } from "../state/session.ts";
import { LiveElement } from "./live.ts";

const TEXT_FIELD = 'textarea, input:not([type="range"], [type="radio"], [type="file"])';

export class CaseBarElement extends LiveElement {
  protected prepare(): void {
    this.addEventListener("click", (event) => {
      const what = (event.target as Element).closest<HTMLElement>("[data-do]")?.dataset["do"];
      if (what === "undo") this.session.undo();
      else if (what === "reset") this.session.reset();
    });
    addEventListener("keydown", (event) => {
      if (event.key.toLowerCase() !== "z" || !(event.ctrlKey || event.metaKey) || event.shiftKey || event.altKey || event.defaultPrevented) return;
      // In a text field the keys undo what was typed there.
      if (!this.isConnected || (event.target as Element).closest(TEXT_FIELD) !== null || !this.session.canUndo || this.session.locked) return;
      event.preventDefault();
      this.session.undo();
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
