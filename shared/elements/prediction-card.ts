/** Freezes a prediction, keeps it, opens it again, and sets it beside what was measured. */
import { cardFile, codeOf, freeze, type KeptCard } from "../card/card.ts";
import { compareCard, readMeasured, readMeasurements, type Measured, unitWords } from "../card/compareCard.ts";
import { makeCard } from "../card/makeCard.ts";
import { checkWords, readCard, verifyCard } from "../card/verifyCard.ts";
import { STUDY_RUNS, type WholeStudy } from "../card/wholeStudy.ts";
import type { State } from "../lesson.ts";
import { partCard, renderCard, renderComparison } from "../render/card.ts";
import { renderReasons } from "../render/study.ts";
import { capital, escape } from "../render/html.ts";
import { outcomeText } from "../render/value.ts";
import type { Change } from "../state/session.ts";
import { goToOwnState } from "./own-state.ts";
import { LiveElement, setText } from "./live.ts";
import { runStudy } from "./study-run.ts";

const pad = (n: number): string => String(n).padStart(2, "0");
/** The day on the reader's own clock. */
const today = (): string => {
  const now = new Date();
  return `${now.getFullYear()}-${pad(now.getMonth() + 1)}-${pad(now.getDate())}`;
};

/** Hands a text over as a file. */
const save = (name: string, text: string, type: string): void => {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  // after the browser has taken it
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
};

export class PredictionCardElement extends LiveElement {
  #abort: AbortController | undefined;
  #study: { readonly study: WholeStudy; readonly inputs: State["inputs"] } | undefined;
  /** The card that was frozen here, or opened and found unchanged. */
  #kept: KeptCard | undefined;
  #measured: Readonly<Record<string, Measured>> = {};
  /** The file last opened, so that a code given later is checked too. */
  #opened: string | undefined;

  /** What matters, of the values that the card was built of. */
  #built = "";

  protected prepare(): void {
    goToOwnState(this);
    this.#built = this.find(".ranking")?.outerHTML ?? "";
    this.#fold();
    addEventListener("beforeprint", () => this.#appendix?.setAttribute("open", ""));
    addEventListener("afterprint", () => this.#fold());
    const day = this.find<HTMLInputElement>("#card-day");
    if (day && day.value === "") day.value = today();
    this.#on("freeze", () => void this.#freeze());
    this.#on("cancel", () => this.#abort?.abort());
    this.#on("keep", () => this.#kept && save(`${this.#kept.card.lesson}-card-${this.#kept.card.frozen}.json`, cardFile(this.#kept), "application/json"));
    this.#on("print", () => print());
    this.#on("thaw", () => this.#thaw());
    this.#on("read", () => this.#take(this.find<HTMLTextAreaElement>("#card-measurements")?.value ?? ""));
    this.#on("keep-result", () => this.#keepResult());
    this.find<HTMLInputElement>("#card-file")?.addEventListener("change", async (event) => {
      const file = (event.target as HTMLInputElement).files?.[0];
      if (file) this.#open(await file.text());
    });
    this.find<HTMLInputElement>("#card-code")?.addEventListener("change", () => this.#opened !== undefined && this.#open(this.#opened));
    this.find<HTMLInputElement>("#card-results")?.addEventListener("change", async (event) => {
      const file = (event.target as HTMLInputElement).files?.[0];
      if (file) this.#take(await file.text());
    });
    this.find(".measure-fields")?.addEventListener("change", () => this.#fromFields());
    for (const part of this.querySelectorAll<HTMLElement>("[data-waits]")) part.hidden = false;
    // A card of a show pack comes frozen.
    const { kept } = this.dataset;
    const read = kept === undefined ? undefined : readCard(kept);
    if (read !== undefined && "kept" in read && verifyCard(read.kept).unchanged) this.#use(read.kept, this.#built);
    this.#enable();
  }

  get #appendix(): HTMLElement | null {
    return this.find("details.appendix");
  }

  /** On a screen the sheet to hold up comes first, and the rest when it is asked for; on paper all of it stands. */
  #fold(): void {
    this.#appendix?.removeAttribute("open");
  }

  get #first(): readonly string[] {
    return (this.dataset["first"] ?? "").split(" ");
  }

  /** What matters at the values that were just studied. */
  #reasons(study: WholeStudy, outputs: readonly string[]): string {
    const reasons = renderReasons(this.session.view, study, outputs);
    return reasons === "" ? "" : `<section class="ranking" aria-labelledby="ranking-head"><h2 id="ranking-head">What matters, at the values of this card</h2>${reasons}</section>`;
  }

  #on(what: string, act: () => void): void {
    this.find(`[data-do="${what}"]`)?.addEventListener("click", act);
  }

  #say(where: string, text: string): void {
    setText(this.find(`.${where}`), text);
  }

  /** What can be pressed now. */
  #enable(): void {
    const frozen = this.#kept !== undefined;
    for (const name of ["keep", "thaw", "read", "keep-result"]) {
      const button = this.find<HTMLButtonElement>(`[data-do="${name}"]`);
      if (button) button.disabled = !frozen;
    }
    const start = this.find<HTMLButtonElement>('[data-do="freeze"]');
    if (start) start.disabled = this.#abort !== undefined || frozen;
    for (const field of this.querySelectorAll<HTMLInputElement>("#card-day, #card-by")) field.disabled = frozen;
    const measure = this.find<HTMLElement>(".measure-open");
    if (measure) measure.hidden = !frozen;
    const wait = this.find<HTMLElement>(".measure-wait");
    if (wait) wait.hidden = frozen;
  }

  async #freeze(): Promise<void> {
    const { view } = this.session;
    const { lesson, state } = view;
    const day = this.find<HTMLInputElement>("#card-day")?.value.trim() ?? "";
    if (!/^\d{4}-\d{2}-\d{2}$/.test(day)) return this.#say("freeze-status", "Which day? Write it as 2031-05-17.");
    if (state.outcome !== undefined) return this.#say("freeze-status", outcomeText(view, state.outcome));
    const abort = new AbortController();
    this.#abort = abort;
    this.#enable();
    const [progress, cancel] = [this.find<HTMLProgressElement>("progress"), this.find<HTMLButtonElement>('[data-do="cancel"]')];
    for (const element of [progress, cancel]) if (element) element.hidden = false;
    cancel?.focus();
    this.#say("freeze-status", "Running\u2026");
    try {
      const runs = Number(this.dataset["runs"] ?? STUDY_RUNS);
      const outputs = (this.dataset["outputs"] ?? "").split(" ");
      const study = this.#study?.inputs === state.inputs ? this.#study.study : await runStudy({ lesson, inputs: state.inputs, outputs }, runs, { signal: abort.signal, onProgress: (share) => void (progress && (progress.value = share)) });
      this.#study = { study, inputs: state.inputs };
      const by = this.find<HTMLInputElement>("#card-by")?.value ?? "";
      const controls = this.dataset["inputs"]?.split(" ") ?? [];
      const { question = "", scenario = "", version = "" } = this.dataset;
      this.#use(freeze(makeCard({ ...view, controls }, study, { question, scenario, version, frozen: day, by, outputs, madeUp: (this.dataset["madeUp"] ?? "").split(" ") })), this.#reasons(study, outputs));
      this.#say("freeze-status", `Frozen. Code to publish: ${codeOf(this.#kept?.hash ?? "")}. Keep the file.`);
    } catch (error) {
      this.#say("freeze-status", abort.signal.aborted ? "Cancelled; nothing is frozen." : `It did not work out: ${error instanceof Error ? error.message : String(error)}`);
    } finally {
      this.#abort = undefined;
      for (const element of [progress, cancel]) if (element) element.hidden = true;
      this.#enable();
      (this.#kept === undefined ? this.find<HTMLElement>('[data-do="freeze"]') : this.find<HTMLElement>('[data-do="keep"]'))?.focus();
    }
  }

  /** Puts a card on the page, with nothing measured yet; `more`: what goes into its appendix and is not sealed. */
  #use(kept: KeptCard, more = ""): void {
    this.#kept = kept;
    this.#measured = {};
    for (const [id, text] of [["card-day", kept.card.frozen], ["card-by", kept.card.by]] as const) {
      const field = this.find<HTMLInputElement>(`#${id}`);
      if (field) field.value = text;
    }
    const place = this.find(".card-place");
    if (place) place.innerHTML = renderCard(kept.card, kept, this.#first, more);
    this.#fold();
    const fields = this.find(".measure-fields");
    const fieldsOf = (outputs: KeptCard["card"]["outputs"]): string =>
      outputs
        .map(({ name, label, unit }) => {
          const sign = unitWords(unit);
          const what = `${capital(label)}${sign === "" ? "" : `, ${sign}`}`;
          return `<div class="measure" data-measure="${escape(name)}"><label><span>${escape(what)}</span><input type="text" inputmode="decimal" autocomplete="off" class="value"></label><label><span>give or take</span><input type="text" inputmode="decimal" autocomplete="off" class="give" aria-label="${escape(`give or take of: ${what}`)}"></label><span class="message" role="status"></span></div>`;
        })
        .join("");
    const { first, rest } = partCard(kept.card, this.#first);
    if (fields) fields.innerHTML = fieldsOf(first.outputs) + (rest.outputs.length === 0 ? "" : `<details${first.outputs.length === 0 ? " open" : ""}><summary>What else is predicted: ${rest.outputs.length}</summary>${fieldsOf(rest.outputs)}</details>`);
    this.#compare();
    this.#enable();
    this.update("shown");
  }

  #thaw(): void {
    this.#kept = undefined;
    this.#measured = {};
    this.#say("freeze-status", "Another card can be frozen. The one before is as good as the file you kept.");
    this.#say("check-status", "");
    this.#enable();
  }

  #open(text: string): void {
    this.#opened = text;
    const place = this.find(".check-found");
    if (place === null) return;
    const read = readCard(text);
    if ("question" in read) {
      place.innerHTML = `<p class="bad">${escape(read.question)}</p>`;
      return;
    }
    const check = verifyCard(read.kept, this.find<HTMLInputElement>("#card-code")?.value ?? "");
    const good = check.unchanged && check.published !== false;
    const [verdict = "", ...more] = checkWords(check);
    place.innerHTML = `<p class="${good ? "good" : "bad"}">${escape(verdict)}</p><ul>${more.map((line) => `<li>${escape(line)}</li>`).join("")}</ul><p>Code of its values: <span class="code">${check.code}</span></p>`;
    // A changed card is shown as it is, with its warning; nothing is measured against it.
    // The card that is on the page already keeps what was measured: a code may be given after that.
    if (check.unchanged) {
      if (this.#kept?.hash !== read.kept.hash) this.#use(read.kept);
    } else {
      this.#kept = undefined;
      const shown = this.find(".card-place");
      if (shown) shown.innerHTML = `<p class="bad" role="alert">Changed after freeze. This is no longer the card that was frozen on ${escape(read.kept.card.frozen)}.</p>${renderCard(read.kept.card, undefined, this.#first)}`.replace(/<p class="draft">.*?<\/p>/, "");
      this.#enable();
    }
  }

  #take(text: string): void {
    if (this.#kept === undefined) return;
    const { measured, questions } = readMeasurements(text, this.#kept.card, this.session.view.locale);
    this.#measured = { ...this.#measured, ...measured };
    this.#say("measure-status", [`${Object.keys(measured).length} read.`, ...questions].join(" "));
    for (const [name, { value, give }] of Object.entries(measured)) {
      const field = this.find(`[data-measure="${CSS.escape(name)}"]`);
      const [v, g] = [field?.querySelector<HTMLInputElement>(".value"), field?.querySelector<HTMLInputElement>(".give")];
      if (v) v.value = String(value);
      if (g) g.value = give === 0 ? "" : String(give);
    }
    this.#compare();
  }

  #fromFields(): void {
    if (this.#kept === undefined) return;
    const measured: Record<string, Measured> = {};
    for (const field of this.querySelectorAll<HTMLElement>("[data-measure]")) {
      const output = this.#kept.card.outputs.find(({ name }) => name === field.dataset["measure"]);
      const [value, give] = ["value", "give"].map((which) => field.querySelector<HTMLInputElement>(`.${which}`)?.value ?? "");
      const message = field.querySelector(".message");
      if (output === undefined || value === undefined || value.trim() === "") {
        setText(message, "");
        continue;
      }
      const read = readMeasured(value, give ?? "", output, this.session.view.locale);
      setText(message, "question" in read ? read.question : "");
      if (!("question" in read)) measured[output.name] = read;
    }
    this.#measured = measured;
    this.#compare();
  }

  #compare(): void {
    const place = this.find(".compared-place");
    if (place === null || this.#kept === undefined) return;
    place.innerHTML = renderComparison(this.#kept.card, compareCard(this.#kept.card, this.#measured));
  }

  /** What came of it, as a table that a spreadsheet opens: points in the numbers, semicolons between. */
  #keepResult(): void {
    if (this.#kept === undefined) return;
    const { card, hash } = this.#kept;
    const rows = compareCard(card, this.#measured);
    const cell = (text: string): string => (/[";\n]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text);
    const lines = card.outputs.map((output) => {
      const one = rows.find((row) => row.output.name === output.name);
      return [output.label, output.unit, output.low, output.high, one === undefined ? "" : String(one.measured.value), one === undefined ? "" : String(one.measured.give), one === undefined ? "not measured" : one.verdict];
    });
    save(`${card.lesson}-result-${card.frozen}.csv`, `${[[`quantity (card ${codeOf(hash)})`, "unit", "predicted low", "predicted high", "measured", "give or take", "verdict"], ...lines].map((cells) => cells.map(cell).join(";")).join("\n")}\n`, "text/csv");
  }

  protected update(change: Change): void {
    if (change === "instant" || change === "drag") return;
    const state = location.hash.includes("=") ? location.hash : "";
    for (const link of document.querySelectorAll<HTMLAnchorElement>("a.with-state")) link.hash = state;
    // A draft follows the present values; what is frozen does not.
    this.find(".draft-of")?.toggleAttribute("hidden", this.session.atStart || this.#kept !== undefined);
  }
}
