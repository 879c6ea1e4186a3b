/** How sure the headlines are, as the last thing shown of a lesson. The study behind it is worked out when it is first asked for, with the draws of the page's own. */
import { makeCard } from "./card/makeCard.ts";
import { STUDY_RUNS, type WholeStudy } from "./card/wholeStudy.ts";
import { runStudy } from "./elements/study-run.ts";
import { rangePlate, rangePlates } from "./export/rangePlate.ts";
import type { Painter } from "./export/paint.ts";
import { firstOf, partCard } from "./render/card.ts";
import { formatNumber } from "./state/numbers.ts";
import { cautionOf, type Show, stillShow } from "./onScreenParts.ts";
import type { View } from "./view.ts";

/** What the page asks its own study: the outputs, how many runs, and the question over it. */
export interface RangeAsked {
  readonly outputs: readonly string[];
  readonly runs: number;
  readonly question: string;
  readonly version: string;
}

/** Off the page's own panel, where it shows a study at all. */
export const rangeAsked = (panel: HTMLElement, version: string): RangeAsked => ({
  outputs: (panel.dataset["outputs"] ?? "").split(" ").filter((name) => name !== ""),
  runs: Number(panel.dataset["runs"] ?? STUDY_RUNS),
  question: document.querySelector("article.lesson .question")?.textContent ?? "",
  version,
});

/** Sheets of ranges: what one has no room for stands on the next. */
const rangeShow = (view: View, study: WholeStudy, { outputs, question, version }: RangeAsked, asked: number | undefined, painter: Painter): Show | string => {
  const card = makeCard(view, study, { question, version, outputs, scenario: "", frozen: "", by: "" });
  const caution = cautionOf(view);
  const sheets = rangePlates({ card: { ...card, ...partCard(card, firstOf(view, outputs)).first }, caution }, painter);
  if (sheets.length === 0) return "At these values no give or take moves a headline.";
  const parts: Show["parts"] = sheets.length === 1 ? [undefined] : sheets.map((_, i) => i + 1);
  const part = parts.includes(asked) ? asked : parts[0];
  const sheet = sheets[(part ?? 1) - 1] as (typeof sheets)[number];
  return stillShow({ kind: "range", name: "ranges", part }, parts, (paint) => rangePlate({ card: sheet.card, caution }, paint));
};

export class Ranges {
  readonly #changed: () => void;
  #found: { readonly study: WholeStudy; readonly inputs: View["state"]["inputs"] } | undefined;
  #running: { readonly inputs: View["state"]["inputs"]; readonly abort: AbortController; share: number } | undefined;
  #failed = "";

  /** `changed`: there is more to show. */
  constructor(changed: () => void) {
    this.#changed = changed;
  }

  /** The sheet that is asked for, or what there is to say meanwhile. */
  show(view: View, asked: RangeAsked, part: number | undefined, painter: Painter): Show | string {
    const { state, locale } = view;
    if (state.outcome !== undefined) return state.outcome;
    if (this.#found?.inputs === state.inputs) return rangeShow(view, this.#found.study, asked, part, painter);
    if (this.#running?.inputs !== state.inputs) {
      if (this.#failed !== "") return this.#failed;
      void this.#run(view, asked);
    }
    return `The ranges are being worked out: ${formatNumber(asked.runs, 0, locale)} runs at the present values, ${formatNumber(100 * (this.#running?.share ?? 0), 0, locale)}\u00a0% done.`;
  }

  /** Nobody looks at it any more. */
  stop(): void {
    this.#running?.abort.abort(new DOMException("cancelled", "AbortError"));
    this.#running = undefined;
    this.#failed = "";
  }

  async #run({ lesson, state: { inputs } }: View, { outputs, runs }: RangeAsked): Promise<void> {
    this.stop();
    const mine = { inputs, abort: new AbortController(), share: 0 };
    this.#running = mine;
    try {
      const onProgress = (share: number): void => {
        if (this.#running !== mine) return;
        mine.share = share;
        this.#changed();
      };
      const study = await runStudy({ lesson, inputs, outputs }, runs, { signal: mine.abort.signal, onProgress });
      if (this.#running === mine) this.#found = { study, inputs };
    } catch (error) {
      if (this.#running === mine) this.#failed = `The ranges did not work out: ${error instanceof Error ? error.message : String(error)}. \u201cHow sure\u201d on the page runs them too.`;
    }
    if (this.#running !== mine) return;
    this.#running = undefined;
    this.#changed();
  }
}
