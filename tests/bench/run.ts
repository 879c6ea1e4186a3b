/**
 * How fast it is, beside the same natural code in C and beside general libraries. Sides are timed in turn in one run; only
 * ratios mean anything on another machine. Not part of the tests: nothing fails on a slow day, only on a wrong answer.
 */
import { referenceCrash } from "../lib/event/referenceCrash.ts";
import { FLAGS } from "./compiled.ts";
import { benchCrash } from "./crashInC.ts";
import { benchFilter } from "./filterInC.ts";
import { benchHeadCriterion } from "./headCriterion.ts";
import { heading, row } from "./timing.ts";

const input = { ...referenceCrash, step: 0.00025, duration: 0.15 };

console.log(`Node ${process.version}, cc ${FLAGS.join(" ")}`);
benchCrash(input);
benchHeadCriterion();
benchFilter();

// loaded only now: clearing up after large libraries would weigh on the rows above
const { benchOdeLibraries } = await import("./odeLibraries.ts");
benchOdeLibraries(input);
const { studyRows } = await import("./study.ts");
heading("Study of 10,000 crashes, 8 uncertain inputs", "seconds, the clock's: needs a quiet machine");
for (const [name, ...cells] of await studyRows()) row(`  ${name}`, ...cells);
const { benchFrames } = await import("./frames.ts");
await benchFrames();
