/** What can be typed after `stills` and `frames`. Apart from what carries it out, which a build need not load. */
import { RATES } from "../shared/export/rate.ts";
import { typed } from "./home.ts";

/** Rates by the names that people type, slowest first. */
export const RATE_NAMES = Object.keys(RATES).sort((p, q) => Number(p) - Number(q));

/** Options of both commands, as typed. */
export const PICTURE_OPTIONS = {
  state: { type: "string", multiple: true },
  scene: { type: "string" },
  figure: { type: "string" },
  at: { type: "string" },
  part: { type: "string" },
  title: { type: "string" },
  size: { type: "string" },
  ground: { type: "string" },
  rate: { type: "string" },
  slowed: { type: "string" },
  from: { type: "string" },
  to: { type: "string" },
  "allow-outside": { type: "boolean" },
} as const;

export const PICTURE_USAGE = `  ${typed("stills")} <lesson> [--state "#massA=900&…"] [--scene name [--at 0.05] [--part 1] | --figure name] [--size hd|uhd] [--ground light|dark|none|none-dark]
  ${typed("frames")} <lesson> --scene name --rate ${RATE_NAMES.join("|")} --slowed 50 [--from 0] [--to 0.1] [--state "#…"] [--size hd|uhd] [--ground light|dark|none|none-dark]
    both: [--title "…"] [--scenario file.yaml] [--lessons folder] [--out folder] [--allow-outside]`;
