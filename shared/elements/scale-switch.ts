/** The lesson at road scale, or as a bench version with its own numbers. */
import { OWN_SCALE } from "../state/session.ts";
import { LiveElement } from "./live.ts";

export class ScaleSwitchElement extends LiveElement {
  protected prepare(): void {
    this.addEventListener("change", (event) => {
      const { value } = event.target as HTMLInputElement;
      this.session.useScale(value === OWN_SCALE ? undefined : value);
    });
  }

  protected update(): void {
    for (const field of this.querySelectorAll("input")) {
      field.disabled = this.session.locked;
      field.checked = field.value === (this.session.view.scale ?? OWN_SCALE);
    }
  }
}
