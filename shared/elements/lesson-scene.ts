/** A scene: its drawing, the handles in it, its clock. Nothing moves until asked. */
import type { Drawing, Handle } from "../drawing.ts";
import type { QuantityInput } from "../lesson.ts";
import { inputSpoken } from "../render/input.ts";
import { clockText, drawScene, sceneOf, type Width } from "../render/scene.ts";
import { keyed, snap } from "../state/inputs.ts";
import type { Change } from "../state/session.ts";
import { patch } from "../svg.ts";
import { writeOf } from "../view.ts";
import { LiveElement, setAttribute, setText } from "./live.ts";

/** Narrower than this a drawing made for wide pages has labels too small to read. A figure is drawn as wide as its place; a scene is scaled. */
export const NARROW = "(max-width: 43.99rem)";
const NARROW_SCENE = "(max-width: 59.99rem)";
/** Pictures that stand for the motion where motion is not wanted. */
const STILLS = 8;

interface Grip {
  readonly element: HTMLElement;
  handle: Handle;
}

export class LessonSceneElement extends LiveElement {
  readonly #narrow = matchMedia(NARROW_SCENE);
  readonly #still = matchMedia("(prefers-reduced-motion: reduce)");
  readonly #grips = new Map<string, Grip>();
  #drawing: Drawing | undefined;
  #instant = 0;
  #playing = false;

  get #name(): string {
    return this.dataset["scene"] ?? "";
  }

  get #width(): Width {
    return this.#narrow.matches ? "narrow" : "wide";
  }

  get #duration(): number {
    const { view } = this.session;
    return sceneOf(view, this.#name).duration(view.state);
  }

  protected prepare(): void {
    const sheet = this.find<HTMLElement>(".board") as HTMLElement;
    const handles = document.createElement("div");
    handles.className = "handles";
    handles.setAttribute("role", "group");
    handles.setAttribute("aria-label", "Handles in the drawing");
    sheet.append(handles);
    this.#narrow.addEventListener("change", () => this.update("shown"));
    this.#still.addEventListener("change", () => this.update("shown"));
    addEventListener("beforeprint", () => this.#print());
    this.addEventListener("click", (event) => {
      const button = (event.target as Element).closest<HTMLButtonElement>(".clock button");
      if (button === null) return;
      if (button.dataset["do"] === "play") this.#play();
      else this.#show(this.#instant + Number(button.dataset["step"]), true);
    });
    this.find<HTMLInputElement>(".scrub input")?.addEventListener("input", (event) => this.#show(Number((event.target as HTMLInputElement).value) / 1000, true));
    this.find<HTMLInputElement>(".scrub input")?.addEventListener("change", () => this.#describe());
  }

  /** Moves the clock; a step or a scrub stops the motion. */
  #show(instant: number, stop: boolean): void {
    if (stop) this.#playing = false;
    // Whole microseconds: the same instant whichever way it was reached.
    this.#instant = Math.round(Math.min(this.#duration, Math.max(0, instant)) * 1e6) / 1e6;
    this.session.showInstant(this.#instant);
    this.#draw();
    if (stop) this.#describe();
  }

  #play(): void {
    const duration = this.#duration;
    if (this.#still.matches) {
      this.#show(this.#instant >= duration ? 0 : this.#instant + duration / STILLS, true);
      return;
    }
    this.#playing = !this.#playing;
    if (!this.#playing) {
      this.#draw();
      this.#describe();
      return;
    }
    if (this.#instant >= duration) this.#instant = 0;
    let before: number | undefined;
    const frame = (now: number): void => {
      if (!this.#playing || !this.isConnected) return;
      const slower = Number(this.find<HTMLSelectElement>(".slower select")?.value ?? 1);
      const passed = before === undefined ? 0 : (now - before) / 1000 / slower;
      before = now;
      const next = this.#instant + passed;
      const ended = next >= this.#duration;
      this.#show(next, ended);
      if (!ended) requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
    this.#draw();
  }

  protected update(change: Change): void {
    if (change === "instant") return;
    if (this.session.locked) {
      this.#playing = false;
      this.#instant = 0;
    }
    this.#instant = Math.min(this.#instant, this.#duration);
    this.#draw();
    if (change !== "drag") this.#describe();
  }

  #draw(): void {
    const { view, locked } = this.session;
    const svg = this.find<SVGSVGElement>(`.picture.${this.#width} svg`);
    const drawing = drawScene(view, this.#name, this.#instant, this.#width);
    this.#drawing = drawing;
    if (svg) patch(svg, drawing);
    this.#placeHandles(locked ? [] : drawing.handles);
    this.#clock();
  }

  /** Paper shows the narrow drawing, whose type stays legible there, whichever the screen does. */
  #print(): void {
    const svg = this.find<SVGSVGElement>(".picture.narrow svg");
    if (this.isConnected && svg) patch(svg, drawScene(this.session.view, this.#name, this.#instant, "narrow"));
  }

  #clock(): void {
    const duration = this.#duration;
    const { locale } = this.session.view;
    const locked = this.session.locked;
    const play = this.find<HTMLButtonElement>(".play");
    if (play === null) return;
    setText(play, this.#still.matches ? "Next still" : this.#playing ? "Pause" : "Play");
    play.classList.toggle("playing", this.#playing);
    const scrub = this.find<HTMLInputElement>(".scrub input");
    const text = clockText(sceneOf(this.session.view, this.#name), this.session.view.state, this.#instant, locale);
    if (scrub) {
      setAttribute(scrub, "max", String(Math.round(duration * 1000)));
      const at = String(Math.round(this.#instant * 1000));
      if (scrub.value !== at) scrub.value = at;
      setAttribute(scrub, "aria-valuetext", text.spoken);
    }
    setText(this.find(".time .now"), text.now);
    setText(this.find(".time .whole"), text.whole);
    for (const part of this.querySelectorAll<HTMLButtonElement | HTMLInputElement | HTMLSelectElement>(".clock button, .clock input, .clock select")) if (part.disabled !== locked) part.disabled = locked;
  }

  #describe(): void {
    if (this.#playing) return;
    const { view } = this.session;
    setText(this.find(".says"), sceneOf(view, this.#name).describe(view.state, this.#instant, writeOf(view)));
  }

  #placeHandles(handles: readonly Handle[]): void {
    const drawing = this.#drawing;
    if (drawing === undefined) return;
    const { view } = this.session;
    for (const handle of handles) {
      const input = view.lesson.inputs[handle.input] as QuantityInput;
      const value = this.session.value(handle.input) as number;
      const grip = this.#grips.get(handle.input) ?? this.#makeGrip(handle);
      grip.handle = handle;
      const { style } = grip.element;
      style.left = `${((handle.origin[0] + handle.perUnit[0] * value) / drawing.width) * 100}%`;
      style.top = `${((handle.origin[1] + handle.perUnit[1] * value) / drawing.height) * 100}%`;
      grip.element.hidden = false;
      setAttribute(grip.element, "aria-label", input.label);
      setAttribute(grip.element, "aria-valuemin", String(input.from));
      setAttribute(grip.element, "aria-valuemax", String(input.to));
      setAttribute(grip.element, "aria-valuenow", String(value));
      setAttribute(grip.element, "aria-valuetext", inputSpoken(view, input, value));
    }
    const present = new Set(handles.map((handle) => handle.input));
    for (const [name, grip] of this.#grips) if (!present.has(name)) grip.element.hidden = true;
  }

  #makeGrip(handle: Handle): Grip {
    const name = handle.input;
    const element = document.createElement("div");
    const grip: Grip = { element, handle };
    element.className = "handle";
    element.tabIndex = 0;
    element.dataset["input"] = name;
    element.setAttribute("role", "slider");
    element.setAttribute("aria-orientation", Math.abs(handle.perUnit[0]) >= Math.abs(handle.perUnit[1]) ? "horizontal" : "vertical");
    this.find(".handles")?.append(element);
    this.#grips.set(name, grip);

    element.addEventListener("keydown", (event) => {
      if (event.altKey || event.ctrlKey || event.metaKey) return;
      const { view } = this.session;
      const [x, y] = grip.handle.perUnit;
      const value = keyed(view.lesson.inputs[name] as QuantityInput, this.session.value(name) as number, event.key, view.units, { x: x < 0, y: y > 0 });
      if (value === undefined) return;
      event.preventDefault();
      this.session.set(name, value);
    });

    let pointer: number | undefined;
    let from = { x: 0, y: 0, value: 0, perUnit: handle.perUnit, perPixel: 1 };
    element.addEventListener("pointerdown", (event) => {
      if (event.button !== 0 || pointer !== undefined) return;
      const sheet = this.find<HTMLElement>(`.picture.${this.#width}`);
      if (sheet === null || this.#drawing === undefined) return;
      this.#playing = false;
      pointer = event.pointerId;
      // A focus by hand: preventing the default keeps text from being selected, and focus from moving.
      event.preventDefault();
      element.focus({ preventScroll: true });
      element.setPointerCapture(event.pointerId);
      element.classList.add("held-down");
      from = { x: event.clientX, y: event.clientY, value: this.session.value(name) as number, perUnit: grip.handle.perUnit, perPixel: this.#drawing.width / sheet.getBoundingClientRect().width };
    });
    element.addEventListener("pointermove", (event) => {
      if (event.pointerId !== pointer) return;
      const { view } = this.session;
      const [x, y] = from.perUnit;
      const along = ((event.clientX - from.x) * x + (event.clientY - from.y) * y) * from.perPixel;
      this.session.drag(name, snap(view.lesson.inputs[name] as QuantityInput, from.value + along / (x * x + y * y), view.units));
    });
    const end = (event: PointerEvent, cancelled: boolean): void => {
      if (event.pointerId !== pointer) return;
      pointer = undefined;
      element.classList.remove("held-down");
      // The browser took the gesture for scrolling: the reader did not mean to drag.
      if (cancelled) this.session.drag(name, from.value);
      this.session.release();
    };
    element.addEventListener("pointerup", (event) => end(event, false));
    element.addEventListener("pointercancel", (event) => end(event, true));
    return grip;
  }
}
