/** A sequence of HD frames from the command line's own code: frames a second, and what one frame takes where. */
import { mkdtempSync, readdirSync, rmSync, statSync } from "node:fs";
import { availableParallelism, cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { makeFrames } from "../../build/frames.ts";
import { lessonAt } from "../../build/oneLesson.ts";
import { isClear } from "../../shared/export/plate.ts";
import { decimal, type Ratio, RATES } from "../../shared/export/rate.ts";
import { heading, row } from "./timing.ts";

/** 0.1 s slowed a hundred times is ten seconds: 250 frames. */
const TIMING = { rate: RATES["25"] as Ratio, slowed: decimal("100") as Ratio, from: decimal("-0.02") as Ratio, to: decimal("0.08") as Ratio };
const ROUNDS = 3;
/** What is promised, on two cores. */
const PROMISED = 20;

export const benchFrames = async (): Promise<void> => {
  const work = mkdtempSync(join(tmpdir(), "ridedown-bench-"));
  try {
    const at = await lessonAt({ slug: "sharing-out-a-change-of-velocity", cache: join(work, "cache") });
    heading(`250 HD frames as PNG, ${availableParallelism()} workers (${cpus()[0]?.model ?? "unknown processor"})`, "frames a second, the clock's: needs a quiet machine");
    for (const ground of ["light", "none"] as const) {
      const paces: number[] = [];
      const costs: number[] = [];
      let megabytes = 0;
      for (let round = 0; round < ROUNDS; round++) {
        const out = join(work, `${ground}-${round}`);
        const begun = performance.now();
        const spent = process.cpuUsage();
        const { count } = await makeFrames({ at, scene: "meeting", timing: TIMING, size: "hd", ground, out });
        paces.push(count / ((performance.now() - begun) / 1000));
        const { user, system } = process.cpuUsage(spent);
        costs.push((user + system) / 1000 / count);
        if (count !== 250) throw new Error(`250 frames expected, ${count} drawn`);
        megabytes = readdirSync(out).reduce((sum, name) => sum + statSync(join(out, name)).size, 0) / 1e6;
        rmSync(out, { recursive: true });
      }
      paces.sort((p, q) => p - q);
      costs.sort((p, q) => p - q);
      row(`  ${isClear(ground) ? "straight alpha, no ground" : "on light paper"}`, (paces[0] as number).toFixed(1), (paces[ROUNDS >> 1] as number).toFixed(1), `${megabytes.toFixed(0)} MB; ${(costs[ROUNDS >> 1] as number).toFixed(1)} ms of processor time a frame; promised ${PROMISED} a second on two cores, that is ${2000 / PROMISED} ms`);
    }
  } finally {
    rmSync(work, { recursive: true, force: true });
  }
};

// By itself: npx tsx tests/bench/frames.ts
if (process.argv[1] === fileURLToPath(import.meta.url)) await benchFrames();
