/** Frame rates as exact ratios, and the instants of frames from whole numbers alone: an hour of frames drifts by nothing. */

/** A fraction of whole numbers in lowest terms. */
export interface Ratio {
  readonly over: bigint;
  readonly under: bigint;
}

const common = (p: bigint, q: bigint): bigint => (q === 0n ? p : common(q, p % q));

export const ratio = (over: bigint, under: bigint): Ratio => {
  if (under <= 0n) throw new RangeError(`rate: a denominator must be > 0, got ${under}`);
  const shared = common(over < 0n ? -over : over, under) || 1n;
  return { over: over / shared, under: under / shared };
};

export const times = (p: Ratio, q: Ratio): Ratio => ratio(p.over * q.over, p.under * q.under);
export const less = (p: Ratio, q: Ratio): Ratio => ratio(p.over * q.under - q.over * p.under, p.under * q.under);
export const valueOf = ({ over, under }: Ratio): number => Number(over) / Number(under);
export const ratioText = ({ over, under }: Ratio): string => (under === 1n ? String(over) : `${over}/${under}`);

/** The smallest whole number that is no less. */
export const ceiling = ({ over, under }: Ratio): number => Number(over > 0n ? (over + under - 1n) / under : -(-over / under));

const DECIMAL = /^([-+]?)(\d*)(?:\.(\d*))?$/;

/** A decimal as typed, exactly: "0.05" is 1/20. */
export const decimal = (text: string): Ratio | undefined => {
  const [, sign, whole = "", fraction = ""] = DECIMAL.exec(text.trim()) ?? [];
  if (sign === undefined || whole + fraction === "") return undefined;
  return ratio(BigInt(`${whole}${fraction}`) * (sign === "-" ? -1n : 1n), 10n ** BigInt(fraction.length));
};

/** A computed number to the microsecond. */
export const toMicro = (value: number): Ratio => ratio(BigInt(Math.round(value * 1e6)), 1_000_000n);

/** The rates of production (ITU-R BT.2020, as quoted by others) by the names that people type; the broken ones are ratios to 1001. */
export const RATES: Readonly<Record<string, Ratio>> = {
  "23.976": ratio(24000n, 1001n),
  "24": ratio(24n, 1n),
  "25": ratio(25n, 1n),
  "29.97": ratio(30000n, 1001n),
  "30": ratio(30n, 1n),
  "50": ratio(50n, 1n),
  "59.94": ratio(60000n, 1001n),
  "60": ratio(60n, 1n),
};

export interface Timing {
  readonly rate: Ratio;
  /** The event runs so many times slower than it was. */
  readonly slowed: Ratio;
  /** Stretch of the event, in seconds of the event. */
  readonly from: Ratio;
  readonly to: Ratio;
}

/** Frames that begin within the stretch: its length on screen times the rate, and one more where a part of a frame is left. */
export const countOf = ({ rate, slowed, from, to }: Timing): number => ceiling(times(times(less(to, from), slowed), rate));

/** Instant of the event that frame `i` shows, from 0: i / rate on screen, slowed down. */
export const instantOf = ({ rate, slowed, from }: Timing, i: number): number => {
  const passed = ratio(BigInt(i) * rate.under * slowed.under, rate.over * slowed.over);
  return valueOf(ratio(from.over * passed.under + passed.over * from.under, from.under * passed.under));
};
