/** One scene or figure over the whole screen. Nothing moves but by a key, a clicker, the scrub or a finger. */
import { setAttribute, setText } from "./elements/live.ts";
import type { Painter } from "./export/paint.ts";
import { type Ground, type Plate, writePlate } from "./export/plate.ts";
import { ExportingPanel, type OnShow } from "./exportingPanel.ts";
import { type Part, readPart, type Show, showOf } from "./onScreenParts.ts";
import { rangeAsked, Ranges } from "./onScreenRange.ts";
import { clockSteps, clockText, sceneOf } from "./render/scene.ts";
import { renderScreen } from "./render/screen.ts";
import { SCREEN_KEY, writeLink } from "./state/link.ts";
import type { Session } from "./state/session.ts";

export type Painters = Readonly<Record<"light" | "dark", Painter>>;

/** A finger that goes further than this along turns over; one that goes less taps. */
const SWIPE = 48;
const TAP = 10;

/** Rest in milliseconds before the picture is said: a key held down says nothing on its way. */
const REST = 400;

/** Keys that turn the pages of a clicker, one way and the other. */
const ONWARD = ["PageDown", " ", "Enter"];
const BACKWARD = ["PageUp"];

const micro = (seconds: number): number => Math.round(seconds * 1e6) / 1e6;

export class OnScreenView {
  readonly #session: Session;
  readonly #painters: Painters;
  readonly #version: string;
  readonly #dialog = document.createElement("dialog");
  readonly #panel: ExportingPanel;
  readonly #ranges = new Ranges(() => this.#part?.kind === "range" && this.#lay());
  #opener: HTMLElement | undefined;
  #part: Part | undefined;
  #show: Show | undefined;
  #instant = 0;
  #ground: Ground = "light";
  #covered = false;
  #waiting = false;
  #saying: ReturnType<typeof setTimeout> | undefined;
  #stop: (() => void) | undefined;

  constructor(session: Session, painters: Painters, version: string) {
    this.#session = session;
    this.#painters = painters;
    this.#version = version;
    this.#dialog.className = "screen";
    this.#dialog.setAttribute("aria-label", "On screen");
    this.#dialog.innerHTML = renderScreen();
    this.#panel = new ExportingPanel(this.#find(".keep"), () => this.#onShow, (part) => this.#goWithin(part));
    document.body.append(this.#dialog);
    if (matchMedia("(prefers-color-scheme: dark)").matches) this.#useGround("dark");
    this.#listen();
  }

  /** Opens what stands behind a button of the page. */
  open(opener: HTMLElement): void {
    this.#covered = false;
    this.#go(opener);
    this.#set(this.#pageInstant(opener));
    this.#dialog.classList.remove("quiet");
    if (!this.#dialog.open) this.#dialog.showModal();
    this.#find(".frame").focus();
    this.#stop ??= this.#session.subscribe((change) => {
      if (change === "settled" || change === "shown") this.#lay();
    });
  }

  // ---------------------------------------------------------------- what is shown

  #find<E extends HTMLElement>(selector: string): E {
    return this.#dialog.querySelector<E>(selector) as E;
  }

  /** What opens each scene and figure that the page shows now, and last its study: what waits behind a question is not among them. */
  get #openers(): HTMLElement[] {
    const study = document.querySelector("study-panel .study")?.closest<HTMLElement>("study-panel");
    return [...document.querySelectorAll<HTMLElement>("on-screen"), ...(study && !this.#session.locked ? [study] : [])];
  }

  /** Where the page's own clock stands. */
  #pageInstant(opener: HTMLElement): number {
    const scrub = opener.closest("lesson-scene")?.querySelector<HTMLInputElement>(".scrub input");
    return scrub ? Number(scrub.value) / 1000 : 0;
  }

  /** Shows what an opener stands for, from its beginning. */
  #go(opener: HTMLElement): void {
    this.#opener = opener;
    this.#part = opener.localName === "study-panel" ? { kind: "range", name: "ranges" } : readPart(opener.dataset["part"] ?? "");
    this.#lay();
    this.#set(0);
    this.#link(true);
  }

  /** One of the parts of what is shown. */
  #goWithin(part: number | undefined): void {
    if (this.#part === undefined) return;
    const instant = this.#instant;
    this.#part = { ...this.#part, part };
    this.#lay();
    this.#set(instant);
  }

  #shown(part: Part): Show | string {
    const { view } = this.#session;
    return part.kind === "range" ? this.#ranges.show(view, rangeAsked(this.#opener as HTMLElement, this.#version), part.part, this.painter) : showOf(view, part);
  }

  /** Lays the part out for the present state. */
  #lay(): void {
    let made: Show | string;
    try {
      made = this.#part === undefined ? "" : this.#shown(this.#part);
    } catch (error) {
      made = error instanceof Error ? error.message : String(error);
    }
    this.#show = typeof made === "string" ? undefined : made;
    const none = this.#find(".no-picture");
    none.hidden = typeof made !== "string";
    setText(none, typeof made === "string" ? made : "");
    if (typeof made === "string") {
      this.#find(".sheet").replaceChildren();
      setAttribute(this.#find(".sheet"), "aria-label", made);
      this.#say(made);
    }
    this.#set(this.#instant);
  }

  /** Moves to an instant; drawn with the next frame. */
  #set(instant: number): void {
    this.#instant = this.#session.locked ? 0 : micro(Math.min(this.#show?.duration ?? 0, Math.max(0, instant)));
    if (this.#waiting) return;
    this.#waiting = true;
    requestAnimationFrame(() => {
      this.#waiting = false;
      this.#draw();
    });
  }

  /** The plate as it is on screen now. */
  plate(instant = this.#instant): Plate | undefined {
    return this.#show?.at(instant, this.painter, this.#covered);
  }

  /** As it is to be kept. */
  get #onShow(): OnShow | undefined {
    const show = this.#show;
    const { view, units } = this.#session;
    if (show === undefined || this.#session.locked) return undefined;
    const { painter } = this;
    const covered = this.#covered;
    return {
      part: show.part,
      slug: view.slug,
      link: writeLink(view.lesson, view.state.inputs, units, view.scale),
      version: this.#version,
      locale: view.locale,
      instant: this.#instant,
      duration: show.duration,
      touch: show.part.kind === "scene" ? (sceneOf(view, show.part.name).touch?.(view.state) ?? 0) : 0,
      ground: this.#ground,
      painter,
      parts: show.parts,
      plateAt: (instant) => show.at(instant, painter, covered),
    };
  }

  get painter(): Painter {
    return this.#painters[this.#ground === "dark" ? "dark" : "light"];
  }

  #draw(): void {
    const plate = this.plate();
    this.#bar();
    if (plate === undefined) return;
    const sheet = this.#find(".sheet");
    sheet.innerHTML = writePlate(plate, this.painter, this.#ground, "hd");
    // Said by the sheet itself; a title inside would show as a tip under the pointer.
    for (const said of sheet.querySelectorAll("svg > title, svg > desc, .sheet > title, .sheet > desc")) said.remove();
    const words = this.#words(plate);
    setAttribute(sheet, "aria-label", words);
    this.#say(words);
  }

  #say(words: string): void {
    clearTimeout(this.#saying);
    this.#saying = setTimeout(() => setText(this.#find(".said"), words), REST);
  }

  /** The picture for ears: a scene tells its own instant. */
  #words(plate: Plate): string {
    const { view } = this.#session;
    const { part, parts = [] } = this.#show ?? {};
    const which = part?.part === undefined ? "" : ` Part ${part.part} of ${parts.at(-1)}.`;
    const clock = part?.kind === "scene" ? ` ${clockText(sceneOf(view, part.name), view.state, this.#instant, view.locale).spoken}.` : "";
    return `${plate.title}.${which}${clock} ${plate.says}`.trim();
  }

  #bar(): void {
    const { view, locked } = this.#session;
    const show = this.#show;
    const scene = show?.part.kind === "scene" && show.duration > 0 ? sceneOf(view, show.part.name) : undefined;
    const scrub = this.#find<HTMLInputElement>(".scrub input");
    this.#find(".scrub").hidden = this.#find(".time").hidden = scene === undefined;
    if (scene && show) {
      const text = clockText(scene, view.state, this.#instant, view.locale);
      scrub.max = String(Math.round(show.duration * 1000));
      scrub.value = String(Math.round(this.#instant * 1000));
      scrub.disabled = locked;
      setAttribute(scrub, "aria-valuetext", text.spoken);
      setText(this.#find(".time"), text.now);
    }
    const reveal = this.#button("reveal");
    setText(reveal.firstChild as unknown as Element, locked ? "Just show" : this.#covered ? "Reveal" : "Cover");
    this.#button("guides").setAttribute("aria-pressed", String(!this.#find(".guides").hasAttribute("hidden")));
    this.#button("blank").setAttribute("aria-pressed", String(!this.#find(".blank").hidden));
    this.#button("full").setAttribute("aria-pressed", String(document.fullscreenElement !== null));
    this.#button("keep").disabled = show === undefined || locked;
    if (!this.#find(".keep").hidden) this.#panel.update();
  }

  #button(action: string): HTMLButtonElement {
    return this.#find<HTMLButtonElement>(`[data-do="${action}"]`);
  }

  // ---------------------------------------------------------------- what is done

  /** One stop on or back, over to the next part where there is none left, and over to the next scene or figure after the last. */
  #turn(by: 1 | -1): void {
    const { locked } = this.#session;
    const stops = locked ? [0] : (this.#show?.stops ?? [0]);
    const next = by > 0 ? stops.find((at) => at > this.#instant) : stops.findLast((at) => at < this.#instant);
    if (next !== undefined) return this.#set(next);
    const { part, parts = [] } = this.#show ?? {};
    const at = parts.indexOf(part?.part) + by;
    if (at >= 0 && at < parts.length) this.#goWithin(parts[at]);
    else {
      const openers = this.#openers;
      const other = openers[openers.indexOf(this.#opener as HTMLElement) + by];
      if (other === undefined) return;
      this.#covered = false;
      this.#go(other);
      if (by < 0) this.#goWithin(this.#show?.parts.at(-1));
    }
    const there = this.#show?.stops ?? [0];
    this.#set((by > 0 ? there[0] : there.at(-1)) ?? 0);
  }

  #step(by: number, large: boolean): void {
    const duration = this.#show?.duration ?? 0;
    // A still has nothing to step through: its arrows turn over.
    if (duration === 0 || this.#session.locked) return this.#turn(by > 0 ? 1 : -1);
    this.#set(this.#instant + by * clockSteps(duration)[large ? 1 : 0]);
  }

  /** Before the prediction, what its own button on the page does; after it, results are covered and shown again. */
  #reveal(): void {
    if (this.#session.locked) document.querySelector<HTMLButtonElement>('predict-gate:not(.answered) [data-do="show"]')?.click();
    else this.#covered = !this.#covered;
    this.#set(this.#instant);
  }

  #toggle(selector: string): void {
    this.#find(selector).toggleAttribute("hidden");
    this.#bar();
  }

  #useGround(ground: Ground): void {
    this.#ground = ground;
    this.#dialog.dataset["ground"] = ground;
    this.#find<HTMLSelectElement>(".ground select").value = ground;
  }

  async #full(): Promise<void> {
    try {
      await (document.fullscreenElement ? document.exitFullscreen() : this.#dialog.requestFullscreen());
    } catch {
      setText(this.#find(".said"), "This browser does not give the whole screen; its own menu may.");
    }
    this.#bar();
  }

  #keep(on: boolean): void {
    this.#find(".keep").hidden = !on;
    this.#button("keep").setAttribute("aria-expanded", String(on));
    if (on) this.#panel.update();
  }

  #do(action: string): void {
    if (action === "close") this.#dialog.close();
    else if (action === "next" || action === "back") this.#turn(action === "next" ? 1 : -1);
    else if (action === "reveal") this.#reveal();
    else if (action === "guides") this.#toggle(".guides");
    else if (action === "blank") this.#toggle(".blank");
    else if (action === "full") void this.#full();
    else if (action === "keep") this.#keep(this.#find(".keep").hidden !== false);
  }

  // ---------------------------------------------------------------- how it is asked for

  #listen(): void {
    const dialog = this.#dialog;
    dialog.addEventListener("click", (event) => {
      const button = (event.target as Element).closest<HTMLButtonElement>("[data-do]");
      if (button) this.#do(button.dataset["do"] as string);
    });
    this.#find<HTMLInputElement>(".scrub input").addEventListener("input", (event) => this.#set(Number((event.target as HTMLInputElement).value) / 1000));
    const ground = this.#find<HTMLSelectElement>(".ground select");
    let byPointer = false;
    ground.addEventListener("pointerdown", () => (byPointer = true));
    ground.addEventListener("keydown", () => (byPointer = false));
    ground.addEventListener("change", () => {
      this.#useGround(ground.value as Ground);
      this.#set(this.#instant);
      // The next arrow is meant for the clock.
      if (byPointer) this.#find(".frame").focus();
    });
    // On the document: a click beside the frame leaves the focus nowhere.
    document.addEventListener("keydown", (event) => dialog.open && this.#key(event));
    // Frames under way are not thrown away by a slip of the finger.
    dialog.addEventListener("cancel", (event) => {
      if (event.target !== dialog || !this.#panel.busy) return;
      event.preventDefault();
      setText(this.#find(".kept"), "Frames are being drawn: cancel that first, or press Escape again.");
    });
    dialog.addEventListener("close", () => {
      this.#panel.cancel();
      this.#ranges.stop();
      this.#keep(false);
      this.#stop?.();
      this.#stop = undefined;
      this.#link(false);
      this.#opener?.querySelector("button")?.focus();
    });
    dialog.addEventListener("fullscreenchange", () => this.#bar());
    this.#pointer();
  }

  #key(event: KeyboardEvent): void {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const { key } = event;
    if (key === "Tab") return void this.#dialog.classList.remove("quiet");
    const within = (event.target as Element).closest<HTMLElement>("button, select, input, summary");
    const turning = key === "PageDown" || key === "PageUp";
    // What a control does with a key comes first; only the keys of a clicker are never its own.
    if (within && !turning) {
      const own = within.localName === "select" || (within as HTMLInputElement).type !== "range" ? within.localName !== "button" || key === "Enter" || key === " " : /^(?:Arrow|Home|End)/.test(key);
      if (own) return;
    }
    const letter = key.length === 1 ? key.toLowerCase() : key;
    const work = this.#work(letter, event.shiftKey);
    if (work === undefined) return;
    event.preventDefault();
    // A clicker clears the screen wherever the focus was left; not from under someone at work in the panel.
    if ((turning || !within) && this.#find(".keep").hidden) {
      this.#dialog.classList.add("quiet");
      this.#find(".frame").focus();
    }
    // The first step brings the picture back.
    const blank = this.#find(".blank");
    if (!blank.hidden && letter !== "b" && letter !== ".") return this.#toggle(".blank");
    work();
  }

  #work(key: string, shift: boolean): (() => void) | undefined {
    if (ONWARD.includes(key)) return () => this.#turn(1);
    if (BACKWARD.includes(key)) return () => this.#turn(-1);
    if (key === "ArrowRight" || key === "ArrowLeft") return () => this.#step(key === "ArrowRight" ? 1 : -1, shift);
    if (key === "ArrowDown" || key === "ArrowUp") return () => this.#step(key === "ArrowDown" ? 1 : -1, true);
    if (key === "Home") return () => this.#set(0);
    if (key === "End") return () => this.#set(this.#show?.duration ?? 0);
    if (key === "r") return () => this.#reveal();
    if (key === "g") return () => this.#toggle(".guides");
    if (key === "b" || key === ".") return () => this.#toggle(".blank");
    if (key === "f") return () => void this.#full();
    return undefined;
  }

  /** A moved pointer brings the bar; a tap brings it or takes it away; a finger along turns over. */
  #pointer(): void {
    const frame = this.#find(".frame");
    let from: { readonly x: number; readonly y: number } | undefined;
    this.#dialog.addEventListener("pointermove", (event) => {
      if (event.pointerType === "mouse" && Math.hypot(event.movementX, event.movementY) > 2) this.#dialog.classList.remove("quiet");
    });
    frame.addEventListener("pointerdown", (event) => (from = { x: event.clientX, y: event.clientY }));
    frame.addEventListener("pointerup", (event) => {
      if (from === undefined) return;
      const [x, y] = [event.clientX - from.x, event.clientY - from.y];
      from = undefined;
      if (Math.abs(x) > SWIPE && Math.abs(x) > 2 * Math.abs(y)) this.#turn(x < 0 ? 1 : -1);
      else if (Math.hypot(x, y) < TAP) this.#dialog.classList.toggle("quiet");
    });
  }

  /** The address names what is on screen, so that it can be opened again directly. */
  #link(on: boolean): void {
    const asked = new URLSearchParams(location.hash.includes("=") ? location.hash.slice(1) : "");
    const part = this.#opener?.dataset["part"];
    if (on && this.#show && part !== undefined) asked.set(SCREEN_KEY, part);
    else asked.delete(SCREEN_KEY);
    const text = asked.toString().replace(/%3A/gi, ":");
    history.replaceState(null, "", text === "" ? location.pathname + location.search : `#${text}`);
  }
}
