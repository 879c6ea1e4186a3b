/** The caution that a picture of staging carries wherever it goes. */
import { broken } from "./type/outline.ts";
import { column, LEADING, LIVE, TEXT, type Words } from "./plate.ts";

/** Parts of a scenario that make a lesson one about staging. */
const STAGING = ["tow", "site"];

const WORDS = "Planning aid for discussion; the named people decide.";

/** The line for a lesson that needs these parts of a scenario, where it needs one. */
export const cautionFor = (needs: readonly string[]): string | undefined => (needs.some((part) => STAGING.includes(part)) ? WORDS : undefined);

/** The caution at the foot of a plate, and the height that is left above it. */
export const cautionAt = (caution: string | undefined): { readonly words: readonly Words[]; readonly floor: number } => {
  if (caution === undefined) return { words: [], floor: LIVE.bottom };
  const lines = broken(caution, TEXT, "regular", LIVE.right - LIVE.left);
  const floor = LIVE.bottom - lines.length * LEADING;
  return { words: column(lines, floor, { role: "caution", x: LIVE.left, tone: "soft" }).words, floor };
};

/** What a picture says, with its caution. */
export const withCaution = (says: string, caution: string | undefined): string => (caution === undefined ? says : `${says.trimEnd()} ${caution}`);
