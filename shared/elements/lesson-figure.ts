/** A figure: its curves follow a drag on axes that hold still; drawn anew on release, when the plotting script has come. */
import { moveFigure } from "../figures/index.ts";
import { figureOf, figureRows } from "../render/figure.ts";
import type { Change } from "../state/session.ts";
import { writeOf } from "../view.ts";
import { LiveElement, setText } from "./live.ts";
import { loadPlot } from "./plot-script.ts";

/** Drawing units of a figure: as wide as its place, so that its type keeps its size. */
const NARROWEST = 340;
const WIDEST = 720;
/** A landscape sheet on a wide page, nearer to a square on a phone. */
const heightFor = (width: number): number => Math.round(width < 480 ? width * 0.8 : width * 0.56);

export class LessonFigureElement extends LiveElement {
  #stale = false;

  get #name(): string {
    return this.dataset["figure"] ?? "";
  }

  protected prepare(): void {
    this.find("details")?.addEventListener("toggle", () => this.#table());
  }

  protected update(change: Change): void {
    if (change === "instant") return;
    const { view } = this.session;
    const figure = figureOf(view, this.#name);
    this.classList.toggle("none", figure === undefined);
    const svg = this.find<SVGSVGElement>(".picture svg");
    if (figure === undefined) {
      setText(this.find(".says"), view.state.outcome ?? "");
      return;
    }
    if (change === "drag") {
      if (svg) moveFigure(svg, figure);
      return;
    }
    setText(this.find(".title"), figure.title);
    setText(this.find(".says"), figure.says);
    this.#table();
    // What the page came with is right as it is until something changed.
    if (change === "settled" || this.#stale || !this.session.untouched) {
      if (svg) moveFigure(svg, figure);
      this.#stale = true;
      void this.#redraw();
    }
  }

  async #redraw(): Promise<void> {
    const draw = await loadPlot();
    const place = this.find<HTMLElement>(".picture");
    const { view } = this.session;
    const figure = figureOf(view, this.#name);
    if (draw === undefined || place === null || figure === undefined || !this.isConnected) return;
    const width = Math.round(Math.min(WIDEST, Math.max(NARROWEST, place.clientWidth)));
    place.replaceChildren(draw(figure, { document, width, height: heightFor(width), write: writeOf(view), units: view.units, locale: view.locale }));
  }

  #table(): void {
    const details = this.find<HTMLDetailsElement>("details");
    const place = this.find<HTMLElement>("details .table");
    const figure = figureOf(this.session.view, this.#name);
    if (details?.open && place && figure) place.innerHTML = figureRows(this.session.view, figure);
  }
}
