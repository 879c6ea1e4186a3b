/** A figure: its curves follow a drag on axes that hold still; drawn anew after the release, when the plotting script has come. */
import { type Figure, moveFigure } from "../figures/index.ts";
import type { plotFigure } from "../figures/plotOptions.ts";
import { figureRows, figureWithHeld } from "../render/figure.ts";
import type { Change } from "../state/session.ts";
import { writeOf } from "../view.ts";
import { NARROW } from "./lesson-scene.ts";
import { LiveElement, setText } from "./live.ts";
import { drawWhenIdle } from "./plot-script.ts";

type Draw = typeof plotFigure;

/** Drawing units of a figure: as wide as its place, so that its type keeps its size. */
const NARROWEST = 340;
const WIDEST = 720;
const ON_PAPER = 640;
/** A landscape sheet on a wide page, nearer to a square on a phone. */
const heightFor = (width: number): number => Math.round(width < 480 ? width * 0.95 : width * 0.56);

export class LessonFigureElement extends LiveElement {
  readonly #narrow = matchMedia(NARROW);
  /** Only what the reader can see is worth drawing; the rest waits until it is. */
  #seen = false;
  /** The curves, or the whole drawing, lag behind the state. */
  #curvesLag = false;
  #drawingLags = false;
  /** The state, or what is shown of it, is not what the page came with any more. */
  #changed = false;
  /** Here once the plotting script has come. */
  #draw: Draw | undefined;

  get #name(): string {
    return this.dataset["figure"] ?? "";
  }

  get #picture(): HTMLElement | null {
    return this.find<HTMLElement>(`.picture.${this.#narrow.matches ? "narrow" : "wide"}`) ?? this.find<HTMLElement>(".picture");
  }

  protected prepare(): void {
    this.find("details")?.addEventListener("toggle", () => this.#table());
    this.#narrow.addEventListener("change", () => this.update("shown"));
    addEventListener("beforeprint", () => this.#print());
  }

  protected update(change: Change): void {
    if (change === "instant") return;
    // What the page came with is right as it is until something has changed.
    this.#changed ||= !this.session.untouched || this.session.view.held !== undefined || change === "drag" || change === "settled";
    if (this.#changed) {
      this.#curvesLag = true;
      this.#drawingLags ||= change !== "drag";
    }
    if (change !== "drag") this.#words();
    this.#catchUp();
  }

  override sighted(seen: boolean): void {
    this.#seen = seen;
    super.sighted(seen);
    this.#catchUp();
  }

  #catchUp(): void {
    if (!this.isConnected) return;
    if (this.#seen && this.#curvesLag) {
      this.#curvesLag = false;
      const figure = this.#figure();
      const svg = this.#picture?.querySelector("svg");
      if (figure && svg) moveFigure(svg, figure);
    }
    // Out of sight only the script is fetched: paper may be asked for before the figure is seen.
    if (this.#drawingLags && (this.#seen || this.#draw === undefined))
      drawWhenIdle(this, (draw) => {
        this.#draw = draw;
        if (!this.#seen || !this.isConnected) return;
        this.#drawingLags = false;
        const picture = this.#picture;
        if (picture) this.#redraw(picture, Math.round(Math.min(WIDEST, Math.max(NARROWEST, picture.clientWidth))));
      });
  }

  #figure(): Figure | undefined {
    const figure = figureWithHeld(this.session.view, this.#name);
    this.classList.toggle("none", figure === undefined);
    return figure;
  }

  #redraw(picture: HTMLElement, width: number): void {
    const { view } = this.session;
    const figure = this.#figure();
    if (figure === undefined || this.#draw === undefined) return;
    picture.replaceChildren(this.#draw(figure, { document, width, height: heightFor(width), write: writeOf(view), units: view.units, locale: view.locale }));
  }

  /** Paper shows the wide drawing of every figure, seen on the screen or not. */
  #print(): void {
    if (!this.isConnected || !this.#changed) return;
    const picture = this.find<HTMLElement>(".picture.wide") ?? this.#picture;
    const figure = this.#figure();
    const svg = picture?.querySelector("svg");
    if (picture && this.#draw) this.#redraw(picture, ON_PAPER);
    else if (figure && svg) moveFigure(svg, figure);
  }

  #words(): void {
    const { view } = this.session;
    const figure = figureWithHeld(view, this.#name);
    if (figure) setText(this.find(".title"), figure.title);
    setText(this.find(".says"), figure?.says ?? "");
    this.#table();
  }

  #table(): void {
    const details = this.find<HTMLDetailsElement>("details");
    const place = this.find<HTMLElement>("details .table");
    const figure = figureWithHeld(this.session.view, this.#name);
    if (details?.open && place && figure) place.innerHTML = figureRows(this.session.view, figure);
  }
}
