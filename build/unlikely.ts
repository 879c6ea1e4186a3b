/** What a scenario file may say, but hardly means: told to its author, never an error. Rules of thumb; common practice, no source. */
import { fromSI } from "../lib/units.ts";
import type { Scenario } from "../shared/scenario/scenario.ts";

export interface Doubt {
  /** Where in the file. */
  readonly path: readonly (string | number)[];
  readonly message: string;
}

/** Cars and light lorries stay below: more is a slipped unit or decimal point. */
const MASS_RATIO = 10;
/** What a passenger car weighs as it runs: small electric ones to heavy off-roaders [kg]. */
const CAR = [300, 3500] as const;
/** Closing speed of the fastest staged collisions [m/s]. */
const CLOSING = 56;
/** Depth that all of both cars could give, fronts, cells and what is behind [m]. */
const DEEPEST = 6;

const round = (value: number): string => String(Number(value.toPrecision(3)));

export const unlikely = (scenario: Scenario): Doubt[] => {
  const { a, b, site, tow, cameras = [] } = scenario;
  const doubts: Doubt[] = [];
  const ratio = a.mass.value / b.mass.value;
  // A slip of one mass against the other is asked about once.
  if (Math.max(ratio, 1 / ratio) > MASS_RATIO) doubts.push({ path: [ratio > 1 ? "a" : "b", "mass"], message: `the one mass is ${round(Math.max(ratio, 1 / ratio))} times the other; over ${MASS_RATIO} is most often a slip of unit` });
  else
    for (const side of ["a", "b"] as const) {
      const { value } = scenario[side].mass;
      if (value < CAR[0] || value > CAR[1]) doubts.push({ path: [side, "mass"], message: `${round(value)} kg is ${value < CAR[0] ? "light" : "heavy"} for a passenger car; most weigh ${CAR[0]} to ${CAR[1]} kg` });
    }
  const closing = a.speed.value + b.speed.value;
  if (closing > CLOSING) doubts.push({ path: ["a", "speed"], message: `the two close in at ${round(fromSI(closing, "km/h"))} km/h; over ${round(fromSI(CLOSING, "km/h"))} km/h is most often a slip of unit` });
  // Energy of closing in the springs of both noses: (1/2) m v^2 = (1/2) k x^2 with the reduced mass and the springs in series.
  const depth = closing * Math.sqrt((a.mass.value * b.mass.value * (a.front.nose.value + b.front.nose.value)) / ((a.mass.value + b.mass.value) * a.front.nose.value * b.front.nose.value));
  if (depth > DEEPEST) doubts.push({ path: [a.front.nose.value < b.front.nose.value ? "a" : "b", "front", "nose"], message: `the noses alone would crush by ${round(depth)} m in all; N/m may have been meant as kN/m` });
  for (const side of ["a", "b"] as const) {
    const { name, front, occupants } = scenario[side];
    if (/^(the|an?)\s/i.test(name)) doubts.push({ path: [side, "name"], message: `lessons write "the" before the name: ${JSON.stringify(name)} would read "the ${name}"; leave the article out` });
    if (front.cell.value < front.nose.value) doubts.push({ path: [side, "front", "cell"], message: "the cell is softer than the nose ahead of it" });
    occupants.forEach((occupant, i) => {
      const at = [side, "occupants", i];
      if (occupant.headMass.value > occupant.torsoMass.value) doubts.push({ path: [...at, "headMass"], message: "the head is heavier than the torso" });
      if (occupant.belt !== null && occupant.belt.slack.value >= occupant.space.value) doubts.push({ path: [...at, "belt", "slack"], message: "the slack is all of the space ahead: this belt never takes hold; none says that there is no belt" });
      if (occupant.bag !== null && occupant.bag.torsoGap.value >= occupant.space.value) doubts.push({ path: [...at, "bag", "torsoGap"], message: "the gap is all of the space ahead: the torso never meets this bag" });
    });
  }
  if (tow?.recoilArea !== undefined) {
    const reach = Math.max(...([["a", tow.a], ["b", tow.b]] as const).map(([side, { travel, length }]) => Math.max(length?.value ?? 0, travel.value * tow.drop.value + (site?.coast[side].value ?? 0))));
    if (tow.recoilArea.reach.value < reach / 2) doubts.push({ path: ["tow", "recoilArea", "reach"], message: `the area kept empty round the lines is narrowed to ${round(tow.recoilArea.reach.value)} m, where a parted end can fly ${round(reach)} m` });
  }
  cameras.forEach((camera, i) => {
    if (camera.exposure.value * camera.captureRate.value > 1) doubts.push({ path: ["cameras", i, "exposure"], message: "the exposure is longer than the time from one picture to the next" });
  });
  return doubts;
};
