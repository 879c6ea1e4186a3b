import type { UnitName } from "../units.ts";

/** Something published about a line that parts under tension. */
export interface LineRecoilFact {
  /** What is said, in our words. */
  readonly fact: string;
  /** Number and unit as printed; left out where none is. */
  readonly printed?: number;
  readonly unit?: UnitName;
  /** The work it comes from, which may be unlike a tow. */
  readonly from: string;
  /** In lib/sources.yaml. */
  readonly source: string;
  readonly status: "read" | "second-hand" | "from memory";
}

/**
 * What is published about the recoil of a parted line. None of it is a limit for a tow: the whole area round every tensioned line and pulley
 * is dangerous, and who may be where is for those responsible for the site to decide.
 */
export const LINE_RECOIL = {
  wireSpeed: { fact: "end of a parted wire, up to", printed: 500, unit: "km/h", from: "mooring of ships", source: "line-recoil-alert-2013", status: "read" },
  syntheticSpeed: { fact: "end of a parted synthetic rope, up to", printed: 800, unit: "km/h", from: "mooring of ships", source: "line-recoil-alert-2013", status: "read" },
  reach: { fact: "a parted end flies past its anchorage by nearly the length that is left, and in an arc round a pulley", from: "mooring of ships", source: "line-recoil-alert-2013", status: "read" },
  wholeArea: { fact: "the entire deck is a recoil zone; painted zones give false security", from: "mooring of ships", source: "merchant-seafarer-code", status: "second-hand" },
  strapStandOff: { fact: "stand-off over length of the strap, at least; other work, perhaps too small for a tow", printed: 1.5, unit: "1", from: "recovery of vehicles with a strap", source: "vehicle-recovery-handbook", status: "second-hand" },
  pileStandOff: { fact: "stand-off over length of the pile, at least; other work, perhaps too small for a tow", printed: 1.5, unit: "1", from: "pitching of piles", source: "us-army-tm-5-3810-307", status: "second-hand" },
} as const satisfies Record<string, LineRecoilFact>;

export type LineRecoilFactName = keyof typeof LINE_RECOIL;
