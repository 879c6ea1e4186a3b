/** What is found in a sequence of frames, picture by picture: words out of their place or too low, and flashes. The same on the page and on the command line. */
import { checkPlate, type PlateReport } from "./export/checks.ts";
import { type Cells, checkFlashes, type FlashReport } from "./export/flash.ts";
import { type Ground, isClear, type Plate, type Size } from "./export/plate.ts";

/** A fault, and the first frame that has it, from 1. */
type Since<F> = F & { readonly frame: number };
export interface SequenceReport extends Omit<PlateReport, "outside" | "small"> {
  readonly outside: readonly Since<PlateReport["outside"][number]>[];
  readonly small: readonly Since<PlateReport["small"][number]>[];
}

/** The same words with other numbers are one fault. */
const alike = (words: string): string => words.replace(/[\d.,\u2212]+/gu, "0");

/** Gathers the checks of every frame: each fault once, as bad as it ever is. */
export const sequenceChecks = (size: Size): { readonly see: (plate: Plate, frame: number) => PlateReport; readonly report: () => SequenceReport } => {
  const outside = new Map<string, SequenceReport["outside"][number]>();
  const small = new Map<string, SequenceReport["small"][number]>();
  let least: PlateReport | undefined;
  return {
    see: (plate, frame) => {
      const found = checkPlate(plate, size);
      if (least === undefined || found.cap < least.cap) least = found;
      for (const fault of found.outside) {
        const before = outside.get(alike(fault.words));
        if (before === undefined || fault.by > before.by) outside.set(alike(fault.words), { ...fault, frame: Math.min(frame + 1, before?.frame ?? Infinity) });
      }
      for (const fault of found.small) {
        const before = small.get(alike(fault.words));
        if (before === undefined || fault.cap < before.cap) small.set(alike(fault.words), { ...fault, frame: Math.min(frame + 1, before?.frame ?? Infinity) });
      }
      return found;
    },
    report: () => {
      if (least === undefined) throw new RangeError("frames: nothing was looked at");
      return { ...least, outside: [...outside.values()], small: [...small.values()] };
    },
  };
};

/** Over which greys a picture is judged: one without a ground may stand over any. */
export const groundsOf = (ground: Ground): number[] => (isClear(ground) ? [0, 255] : [0]);

/** The worst of a sequence over all its grounds: for each ground, the cells of all frames. */
export const worstFlashes = (cells: readonly (readonly Cells[])[], perSecond: number): FlashReport => {
  const reports = cells.map((each) => checkFlashes(each, perSecond));
  const worst = (of: (report: FlashReport) => number): number => Math.max(...reports.map(of));
  return {
    general: { most: worst(({ general }) => general.most), area: worst(({ general }) => general.area) },
    red: { most: worst(({ red }) => red.most), area: worst(({ red }) => red.area) },
    passes: reports.every(({ passes }) => passes),
  };
};

/** Words and how far out they reach, to be said. */
export const outsideText = (outside: PlateReport["outside"]): string => outside.map(({ words, by }) => `\u201c${words}\u201d by ${by} px`).join(", ");
