/** States that a show is packed at: lessons by the share links of their pages, as typed after `pack-show`. */
import { evaluateWhole, OWN_SCALE } from "../shared/lesson.ts";
import { readLink, scaleOfLink, writeLink } from "../shared/state/link.ts";
import { makeWrite } from "../shared/state/units.ts";
import { LOCALE } from "./firstRender.ts";
import { wayOut } from "./nearest.ts";
import { showsRanges } from "./page.ts";
import { cachedRanges } from "./ranges.ts";
import { Refusal } from "./refusal.ts";
import type { Sheet } from "./site.ts";

/** A lesson as the show has it. */
export interface ShownSheet extends Sheet {
  /** Its state as a share link; empty at the start. */
  readonly link: string;
}

/** Slug -> hash of a link, from addresses: `page.html#massA=900`, with or without what comes before; a card's or a cue card's does too. */
export const readStates = (typed: readonly string[]): Readonly<Record<string, string>> => {
  const states: Record<string, string> = {};
  for (const address of typed) {
    const [, page = "", hash = ""] = /^([^#]*)(#.*=.*)$/s.exec(address) ?? [];
    const slug = page.replace(/^.*[\\/]/, "").replace(/(?:-(?:card|cue))?\.html(?:\?.*)?$/, "");
    if (slug === "") throw new Refusal(`--state must be the link of a lesson's page such as "two-ledgers.html#massA=900", got ${address}`);
    if (Object.hasOwn(states, slug)) throw new Refusal(`--state: ${slug} has two; a pack shows each lesson at one`);
    states[slug] = hash;
  }
  return states;
};

/** The sheets of a show, each at its state. A link that does not fit is refused: what is frozen has to be what was asked for. */
export const sheetsAt = (sheets: readonly Sheet[], states: Readonly<Record<string, string>>, cache: string): ShownSheet[] => {
  const slugs = sheets.map(({ written }) => written.slug);
  for (const slug of Object.keys(states)) if (!slugs.includes(slug)) throw new Refusal(`--state: the show has no lesson ${slug}${wayOut(slug, slugs)}`);
  return sheets.map((sheet): ShownSheet => {
    const { written, view, code, facts } = sheet;
    const hash = states[written.slug];
    if (hash === undefined) return { ...sheet, link: "" };
    const refused = (why: string): Refusal => new Refusal(`--state: ${written.slug}: ${why}`);
    const scale = scaleOfLink(hash);
    if (scale !== undefined && scale !== OWN_SCALE) throw refused(`a show has its own vehicles, not those of scale ${scale}`);
    const linked = readLink(view.lesson, hash, LOCALE);
    if (linked.problems.length > 0) throw refused(linked.problems.join(" "));
    const units = linked.units ?? facts.units;
    const write = makeWrite(units, LOCALE);
    const state = evaluateWhole(view.lesson, linked.inputs, write);
    if (state.outcome !== undefined) throw refused(`there is nothing to predict: ${state.outcome}`);
    const ranges = showsRanges(written, false) ? cachedRanges(view.lesson, state, write, cache, `${written.slug}-show`, code) : {};
    return { ...sheet, view: { ...view, state, units, ranges }, link: writeLink(view.lesson, linked.inputs, units, undefined, facts.units) };
  });
};
