/** A table that the reader types, pastes or opens. It never leaves the page and never enters the link. */
import type { TableInput, TableValue } from "../lesson.ts";
import type { Change } from "../state/session.ts";
import { readTable, tableText } from "../state/table.ts";
import { LiveElement, setText } from "./live.ts";

export class TableInputElement extends LiveElement {
  #area!: HTMLTextAreaElement;
  #shown: TableValue | undefined;

  get #name(): string {
    return this.dataset["input"] ?? "";
  }

  protected prepare(): void {
    this.#area = this.find<HTMLTextAreaElement>("textarea") as HTMLTextAreaElement;
    this.#area.addEventListener("change", () => this.#take(this.#area.value));
    this.find<HTMLInputElement>('input[type="file"]')?.addEventListener("change", async (event) => {
      const file = (event.target as HTMLInputElement).files?.[0];
      if (file === undefined) return;
      const text = await file.text();
      this.#area.value = text;
      this.#take(text);
    });
  }

  #take(text: string): void {
    const { view } = this.session;
    const input = view.lesson.inputs[this.#name] as TableInput;
    const read = readTable(text, input, view.units, view.locale);
    const wrong = "question" in read ? read.question : this.session.set(this.#name, read.value);
    this.#say(wrong);
  }

  #say(wrong: string | undefined): void {
    setText(this.find(".message"), wrong === undefined ? "" : `${wrong.charAt(0).toUpperCase()}${wrong.slice(1)}${wrong.endsWith(".") ? "" : "."} Until this is mended, everything below still shows the readings that could last be read.`);
    if (wrong === undefined) this.#area.removeAttribute("aria-invalid");
    else this.#area.setAttribute("aria-invalid", "true");
  }

  protected update(change: Change): void {
    if (change === "instant" || change === "drag") return;
    const { view, locked } = this.session;
    this.#area.readOnly = locked;
    const file = this.find<HTMLInputElement>('input[type="file"]');
    if (file) file.disabled = locked;
    const value = view.state.inputs[this.#name] as TableValue;
    // What could not be read stays for the reader to mend, until another table takes its place.
    if (this.#area.getAttribute("aria-invalid") === "true") {
      if (value === this.#shown) return;
      this.#say(undefined);
    }
    this.#shown = value;
    const text = tableText(view.lesson.inputs[this.#name] as TableInput, value, view.units, view.locale);
    if (this.#area.value !== text) this.#area.value = text;
  }
}
