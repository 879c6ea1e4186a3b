import type { ChannelFrequencyClass } from "../pulse/channelFilter.ts";
import type { UnitName } from "../units.ts";
import type { ClipDefinition } from "./clip3ms.ts";

/** How far the text behind a figure was seen: read in it, in a text quoting it, or neither. */
export type LimitStatus = "read" | "second-hand" | "from memory";

/** A limit as a rule prints it, with all that the rule asks of the value set beside it. */
export interface InjuryLimit {
  readonly measure: "head injury criterion" | "head acceleration, 3 ms" | "chest acceleration, 3 ms" | "chest deflection";
  /** Number and unit as printed. */
  readonly printed: number;
  readonly unit: UnitName;
  /** Longest window of the head injury criterion [s]. */
  readonly window?: number;
  /** Which 3 ms clip the rule means. */
  readonly definition?: ClipDefinition;
  /** What is taken: the resultant of three axes, or one of them. */
  readonly component: "resultant" | "one axis";
  readonly filterClass: ChannelFrequencyClass;
  readonly filterStatus: LimitStatus;
  readonly dummy: string;
  readonly regulation: string;
  /** In lib/sources.yaml. */
  readonly source: string;
  readonly status: LimitStatus;
  readonly note?: string;
}

const US_208 = { dummy: "mid-size male", regulation: "US 49 CFR 571.208", source: "us-49cfr-571-208" } as const;
const UN_94 = { dummy: "mid-size male", regulation: "UN Regulation No. 94, Revision 4 (2022), 5.2.1", source: "un-r94-rev4" } as const;

/**
 * Limits that rules print for frontal tests. A test's pass or fail needs the whole rule: its test, its dummy and all its limits at
 * once; one figure beside one of these says nothing about a person.
 */
export const INJURY_LIMITS = {
  us208HeadInjury15: {
    ...US_208,
    regulation: `${US_208.regulation}, S6.2`,
    measure: "head injury criterion",
    printed: 700,
    unit: "1",
    window: 0.015,
    component: "resultant",
    filterClass: 1000,
    filterStatus: "from memory",
    status: "read",
  },
  us208HeadInjury36: {
    ...US_208,
    regulation: `${US_208.regulation}, S6.2`,
    measure: "head injury criterion",
    printed: 1000,
    unit: "1",
    window: 0.036,
    component: "resultant",
    filterClass: 1000,
    filterStatus: "from memory",
    status: "read",
    note: "Older alternative.",
  },
  us208ChestAcceleration: {
    ...US_208,
    regulation: `${US_208.regulation}, S6.3`,
    measure: "chest acceleration, 3 ms",
    printed: 60,
    unit: "gn",
    definition: "cumulative",
    component: "resultant",
    filterClass: 180,
    filterStatus: "from memory",
    status: "second-hand",
    note: "May be exceeded for 3 ms in all.",
  },
  us208ChestDeflection: {
    ...US_208,
    regulation: `${US_208.regulation}, S6.4(b)`,
    measure: "chest deflection",
    printed: 63,
    unit: "mm",
    component: "one axis",
    filterClass: 600,
    filterStatus: "from memory",
    status: "second-hand",
    note: "The rule prints 2.5 in beside it, which is 63.5 mm; the printed millimetres count here.",
  },
  us208ChestDeflectionOlder: {
    ...US_208,
    regulation: `${US_208.regulation}, S6.4(a)`,
    measure: "chest deflection",
    printed: 76,
    unit: "mm",
    component: "one axis",
    filterClass: 600,
    filterStatus: "from memory",
    status: "second-hand",
    note: "Older alternative. The rule prints 3.0 in beside it, which is 76.2 mm; the printed millimetres count here.",
  },
  un94HeadInjury36: {
    ...UN_94,
    measure: "head injury criterion",
    printed: 1000,
    unit: "1",
    window: 0.036,
    component: "resultant",
    filterClass: 1000,
    filterStatus: "read",
    status: "read",
  },
  un94HeadAcceleration: {
    ...UN_94,
    measure: "head acceleration, 3 ms",
    printed: 80,
    unit: "gn",
    definition: "cumulative",
    component: "resultant",
    filterClass: 1000,
    filterStatus: "read",
    status: "read",
  },
  un94ChestDeflection: {
    ...UN_94,
    measure: "chest deflection",
    printed: 42,
    unit: "mm",
    component: "one axis",
    filterClass: 180,
    filterStatus: "from memory",
    status: "read",
    note: "50 mm before the 03 series of amendments (from memory): date the limit that you quote.",
  },
} as const satisfies Record<string, InjuryLimit>;

export type InjuryLimitName = keyof typeof INJURY_LIMITS;
