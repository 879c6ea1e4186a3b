/** Metric or US customary: shows the same state in other units. */
import { LiveElement } from "./live.ts";

export class UnitSwitchElement extends LiveElement {
  protected prepare(): void {
    this.addEventListener("change", (event) => {
      const { value } = event.target as HTMLInputElement;
      if (value === "metric" || value === "customary") this.session.useUnits(value);
    });
  }

  protected update(): void {
    for (const field of this.querySelectorAll("input")) {
      // At bench scale everybody reads laboratory units.
      field.disabled = this.session.view.units === "laboratory";
      field.checked = field.value === this.session.units;
    }
  }
}
