/** A value in prose: point value during a drag, everything on release; opens where it comes from. */
import { outputParts } from "../render/output.ts";
import { renderProvenance } from "../render/provenance.ts";
import type { Change } from "../state/session.ts";
import { LiveElement, setText } from "./live.ts";
import { optionsOf } from "./options.ts";
import { placePopover } from "./popover.ts";

export class QuantityOutputElement extends LiveElement {
  #value!: HTMLElement;
  #from!: HTMLElement;
  #html = "";
  #open = false;

  get #name(): string {
    return this.dataset["output"] ?? "";
  }

  protected prepare(): void {
    this.#value = this.find<HTMLElement>(".value") as HTMLElement;
    this.#from = this.find<HTMLElement>(".from") as HTMLElement;
    this.#html = this.#value.innerHTML;
    // What stands there for readers without scripts is half of a long page's elements.
    this.#from.replaceChildren();
    placePopover(this.#from, this.find<HTMLElement>("[popovertarget]") ?? this, (open) => {
      this.#open = open;
      if (open) this.#from.innerHTML = renderProvenance(this.session.view, this.#name);
      else this.#from.replaceChildren();
    });
  }

  protected update(change: Change): void {
    if (change === "instant") return;
    const { view } = this.session;
    // A long trace is of no use while it rushes by.
    if (change === "drag" && view.lesson.outputs[this.#name]?.type === "trace") return;
    const options = optionsOf(this);
    const { value, held } = outputParts(view, this.#name, options);
    // A value that needs a search stands until it is found, and says so; in place of a range stands the point value.
    this.classList.toggle("waiting", (value === undefined || (options.range === true && view.ranges === undefined && view.state.outcome === undefined)) && !this.session.untouched);
    if (value !== undefined && value !== this.#html) {
      this.#html = value;
      if (value.includes("<") || value.includes("&")) this.#value.innerHTML = value;
      else setText(this.#value, value);
    }
    this.classList.toggle("none", view.state.outcome !== undefined);
    if (change === "drag") return;
    const beside = this.find<HTMLElement>(".held");
    if (beside) {
      beside.hidden = held === "";
      beside.innerHTML = held;
    }
    if (this.#open) this.#from.innerHTML = renderProvenance(view, this.#name);
  }
}
