/** An input from a closed list: a select in prose, buttons in the panel. */
import type { Change } from "../state/session.ts";
import { capital } from "../render/html.ts";
import { LiveElement, setAttribute, setText } from "./live.ts";

export class ChoiceInputElement extends LiveElement {
  protected prepare(): void {
    this.addEventListener("change", (event) => {
      this.session.set(this.dataset["input"] ?? "", (event.target as HTMLInputElement | HTMLSelectElement).value);
    });
  }

  protected update(change: Change): void {
    if (change === "instant" || change === "drag") return;
    const name = this.dataset["input"] ?? "";
    const value = String(this.session.view.state.inputs[name]);
    const label = this.session.view.lesson.inputs[name]?.label ?? "";
    setText(this.find("legend"), capital(label));
    setAttribute(this.find("select"), "aria-label", label);
    for (const field of this.querySelectorAll<HTMLInputElement | HTMLSelectElement>("input, select")) {
      field.disabled = this.session.locked;
      if (field instanceof HTMLSelectElement) field.value = value;
      else field.checked = field.value === value;
    }
  }
}
