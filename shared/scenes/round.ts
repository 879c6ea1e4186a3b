/** Sizes that are round for the reader: they are chosen in the unit on screen and drawn as long as they are. */
import { fromSI, toSI } from "../../lib/units.ts";
import { type KindId, KINDS } from "../kinds.ts";
import type { Write } from "../lesson.ts";

/** Whose unit it is; metric where left out. */
type Reader = Pick<Write, "units">;

const HEADS = [1, 2, 5, 10];

/** Round values around `about` in the unit that `write` writes, smallest first; all in SI. */
const roundValues = (kind: KindId, about: number, write: Reader): number[] => {
  const unit = KINDS[kind].shown[write.units ?? "metric"];
  const power = 10 ** Math.floor(Math.log10(fromSI(about, unit) * (1 + 1e-9)));
  return HEADS.map((head) => toSI(head * power, unit));
};

/** The round value nearest to `about`, as a ratio. */
export const roundNear = (kind: KindId, about: number, write: Reader): number => {
  const off = (value: number): number => Math.abs(Math.log(value / about));
  return roundValues(kind, about, write).reduce((best, value) => (off(value) < off(best) ? value : best));
};

/** The smallest round value that is no less than `least`. */
export const roundUp = (kind: KindId, least: number, write: Reader): number => roundValues(kind, least, write).find((value) => value >= least * (1 - 1e-9)) as number;

/** A round value in words, with as few digits as show the whole of it: 1 m, 0.5 ft, 10 cm. */
export const roundText = (kind: KindId, value: number, write: Write): string => {
  const shown = fromSI(value, KINDS[kind].shown[write.units ?? "metric"]);
  const digits = [0, 1, 2, 3].find((each) => Math.abs(Number(shown.toFixed(each)) - shown) <= 1e-9 * Math.abs(shown));
  return write(kind, value, digits === undefined ? {} : { digits });
};
