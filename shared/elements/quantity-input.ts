/** An input quantity, in prose or in the panel: typed, stepped, slid. All ways end in the session, so all give the same state. */
import type { QuantityInput } from "../lesson.ts";
import { capital } from "../render/html.ts";
import { fieldLabel, giveText, inputNumber, inputSize, inputSpoken, trackEnds } from "../render/input.ts";
import { gridStep, keyed, slots, snap, stepped } from "../state/inputs.ts";
import type { Change } from "../state/session.ts";
import { readQuantity, unitFor, unitText } from "../state/units.ts";
import { LiveElement, setAttribute, setText } from "./live.ts";
import { optionsOf } from "./options.ts";

/** A number is dragged sideways: the whole range takes so many pixels, a step at most so many, and less than the first of them is a tap. */
const ACROSS = 400;
const PER_STEP = 12;
const TAP = 5;

export class QuantityInputElement extends LiveElement {
  #number!: HTMLInputElement;
  #slider: HTMLInputElement | null = null;
  /** The reader's own characters stand in the box. */
  #typing = false;
  #shownAs = "";

  get #name(): string {
    return this.dataset["input"] ?? "";
  }

  get #input(): QuantityInput {
    return this.session.view.lesson.inputs[this.#name] as QuantityInput;
  }

  protected prepare(): void {
    this.#number = this.find<HTMLInputElement>("input.number") as HTMLInputElement;
    this.#slider = this.find<HTMLInputElement>("input.slider");
    this.addEventListener("click", (event) => {
      const step = (event.target as Element).closest<HTMLElement>("[data-step]");
      if (step) this.#set(stepped(this.#input, this.#value, Number(step.dataset["step"]), this.session.view.units));
    });
    this.#number.addEventListener("input", () => {
      this.#typing = true;
    });
    this.#number.addEventListener("change", () => this.#take());
    this.#number.addEventListener("keydown", (event) => {
      if (event.key === "Enter") this.#take();
      else if (event.key === "Escape") this.#leave();
      // Home, End and the sideways arrows stay with the text.
      else if (/^(Arrow(Up|Down)|Page(Up|Down))$/.test(event.key)) this.#key(event);
    });
    this.#draggable(this.#number);
    this.#slider?.addEventListener("input", () => {
      const { valueAt } = slots(this.#input, this.session.view.units);
      this.session.drag(this.#name, valueAt(Number(this.#slider?.value)));
    });
    this.#slider?.addEventListener("change", () => this.session.release());
    this.#slider?.addEventListener("keydown", (event) => this.#key(event));
  }

  #draggable(number: HTMLInputElement): void {
    let from: { readonly pointer: number; readonly x: number; readonly value: number } | undefined;
    let moving = false;
    number.addEventListener("pointerdown", (event) => {
      // Where the caret already stands, a drag selects text.
      if (event.button === 0 && !this.session.locked && document.activeElement !== number) from = { pointer: event.pointerId, x: event.clientX, value: this.#value };
    });
    number.addEventListener("pointermove", (event) => {
      if (from?.pointer !== event.pointerId) return;
      const along = event.clientX - from.x;
      if (!moving) {
        if (Math.abs(along) < TAP) return;
        moving = true;
        number.setPointerCapture(event.pointerId);
        number.blur();
        this.#leave();
      }
      const { units } = this.session.view;
      const input = this.#input;
      this.session.drag(this.#name, snap(input, from.value + along * Math.max((input.to - input.from) / ACROSS, gridStep(input, units) / PER_STEP), units));
    });
    const end = (event: PointerEvent, cancelled: boolean): void => {
      if (from?.pointer !== event.pointerId) return;
      if (moving) {
        // The browser took the gesture for scrolling.
        if (cancelled) this.session.drag(this.#name, from.value);
        this.session.release();
      }
      from = undefined;
      moving = false;
    };
    number.addEventListener("pointerup", (event) => end(event, false));
    number.addEventListener("pointercancel", (event) => end(event, true));
  }

  get #value(): number {
    return this.session.value(this.#name) as number;
  }

  #key(event: KeyboardEvent): void {
    const value = keyed(this.#input, this.#value, event.key, this.session.view.units);
    if (value === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    this.#set(value);
  }

  #set(value: number): void {
    this.#typing = false;
    this.#say(this.session.set(this.#name, value) ?? "");
    this.update("shown");
  }

  /** What is in the box becomes the value, or gets a question. */
  #take(): void {
    if (!this.#typing) return;
    const { units, locale } = this.session.view;
    const read = readQuantity(this.#number.value, this.#input.kind, units, locale, optionsOf(this));
    const wrong = "question" in read ? read.question : this.session.set(this.#name, read.value);
    this.#say(wrong ?? "");
    if (wrong !== undefined) return;
    this.#typing = false;
    this.update("shown");
  }

  #leave(): void {
    this.#typing = false;
    this.#say("");
    this.update("shown");
  }

  #say(text: string): void {
    setText(this.find(".message"), text === "" ? "" : text.charAt(0).toUpperCase() + text.slice(1));
    if (text === "") this.#number.removeAttribute("aria-invalid");
    else this.#number.setAttribute("aria-invalid", "true");
  }

  protected update(change: Change): void {
    if (change === "instant") return;
    const { view, locked } = this.session;
    const input = this.#input;
    const value = view.state.inputs[this.#name] as number;
    if (!this.#typing || change === "settled") {
      if (this.#typing) this.#leave();
      const text = inputNumber(view, input, value, optionsOf(this));
      if (this.#number.value !== text) this.#number.value = text;
    }
    if (this.#slider) {
      const { count, slotOf } = slots(input, view.units);
      setAttribute(this.#slider, "max", String(count));
      const slot = String(slotOf(value));
      if (this.#slider.value !== slot) this.#slider.value = slot;
      setAttribute(this.#slider, "aria-valuetext", inputSpoken(view, input, value));
    }
    if (change === "drag") return;
    this.#number.readOnly = locked;
    for (const part of this.querySelectorAll<HTMLInputElement | HTMLButtonElement>(".step, .slider")) part.disabled = locked;
    const as = `${view.units} ${view.scale ?? ""}`;
    if (as === this.#shownAs) return;
    this.#shownAs = as;
    this.#dress(input);
  }

  /** Everything that hangs on the unit or the scale: label, unit, ends of the track, give or take. */
  #dress(input: QuantityInput): void {
    const { view } = this.session;
    const options = optionsOf(this);
    setText(this.find(".unit"), unitText(unitFor(input.kind, view.units, options)));
    setAttribute(this.#number, "aria-label", fieldLabel(view, input, options));
    this.#number.size = inputSize(view, this.#name, input, options);
    setText(this.find(".name"), capital(input.label));
    setText(this.find(".give"), giveText(view, input));
    setAttribute(this.#slider, "aria-label", input.label);
    for (const step of this.querySelectorAll<HTMLElement>(".step")) setAttribute(step, "aria-label", `${Number(step.dataset["step"]) < 0 ? "less" : "more"}: ${input.label}`);
    const ends = trackEnds(view, input);
    this.querySelectorAll(".ends > span").forEach((end, i) => setText(end, ends[i] ?? ""));
  }
}
