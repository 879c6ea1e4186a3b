/** "How sure": the study of the present values, on demand, with progress and a way to stop. */
import { STUDY_RUNS } from "../card/wholeStudy.ts";
import type { WholeStudy } from "../card/wholeStudy.ts";
import type { State } from "../lesson.ts";
import { renderStudy } from "../render/study.ts";
import { outcomeText } from "../render/value.ts";
import type { Change } from "../state/session.ts";
import { LiveElement, setText } from "./live.ts";
import { runStudy } from "./study-run.ts";

const STALE = "These are of other values than the present ones. Run again.";

export class StudyPanelElement extends LiveElement {
  #abort: AbortController | undefined;
  #found: { readonly study: WholeStudy; readonly inputs: State["inputs"] } | undefined;

  get #outputs(): string[] {
    return (this.dataset["outputs"] ?? "").split(" ").filter((name) => name !== "");
  }

  protected prepare(): void {
    this.find('[data-do="study"]')?.addEventListener("click", () => void this.#run());
    this.find('[data-do="cancel"]')?.addEventListener("click", () => this.#abort?.abort(new DOMException("cancelled", "AbortError")));
  }

  async #run(): Promise<void> {
    const { lesson, state } = this.session.view;
    if (this.#abort !== undefined) return;
    if (state.outcome !== undefined) return this.#say(outcomeText(this.session.view, state.outcome));
    const abort = new AbortController();
    this.#abort = abort;
    this.#working(true);
    const progress = this.find<HTMLProgressElement>("progress");
    try {
      const study = await runStudy({ lesson, inputs: state.inputs, outputs: this.#outputs }, Number(this.dataset["runs"] ?? STUDY_RUNS), { signal: abort.signal, onProgress: (share) => void (progress && (progress.value = share)) });
      this.#found = { study, inputs: state.inputs };
      this.#show();
      this.update("shown");
      this.#say("Done.");
    } catch (error) {
      this.#say(abort.signal.aborted ? "Cancelled." : `It did not work out: ${error instanceof Error ? error.message : String(error)}`);
    } finally {
      this.#abort = undefined;
      this.#working(false);
    }
  }

  #working(working: boolean): void {
    const [start, cancel, progress] = [this.find<HTMLButtonElement>('[data-do="study"]'), this.find<HTMLButtonElement>('[data-do="cancel"]'), this.find<HTMLProgressElement>("progress")];
    const focused = this.contains(document.activeElement);
    if (start) start.disabled = working;
    if (cancel) cancel.hidden = !working;
    if (progress) {
      progress.hidden = !working;
      progress.value = 0;
    }
    if (working) this.#say("Running\u2026");
    if (focused) (working ? cancel : start)?.focus();
  }

  #say(text: string): void {
    setText(this.find(".study-status"), text);
  }

  #show(): void {
    const place = this.find(".study-found");
    if (this.#found === undefined || place === null) return;
    const { view } = this.session;
    // Values and flip points beside the ranges are those of the state that was studied.
    if (view.state.inputs === this.#found.inputs) place.innerHTML = renderStudy(view, this.#found.study, this.#outputs);
  }

  protected update(change: Change): void {
    if (change === "instant" || change === "drag") return;
    const stale = this.#found === undefined ? !this.session.atStart : this.#found.inputs !== this.session.view.state.inputs;
    this.classList.toggle("stale", stale);
    // Seen, not said: a change of a value is announced once, in the words of the result.
    setText(this.find(".study-stale"), stale ? STALE : "");
    if (this.#abort === undefined && change !== "shown") this.#say("");
    if (change === "shown" || change === "found") this.#show();
    for (const link of this.querySelectorAll<HTMLAnchorElement>("a.with-state")) link.hash = location.hash.includes("=") ? location.hash : "";
  }
}
