/** Everything that a scenario puts in, as rows for people: what it is, its value, its give or take, and why that. And what it does not. */
import { fromSI } from "../lib/units.ts";
import { type Kind, KINDS } from "../shared/kinds.ts";
import type { Lesson } from "../shared/lesson.ts";
import type { Given, Scenario } from "../shared/scenario/scenario.ts";
import { tidy } from "../shared/state/numbers.ts";
import { unitFor, unitText } from "../shared/state/units.ts";

export interface ScenarioRow {
  readonly label: string;
  readonly value: string;
  readonly give: string;
  readonly reason: string;
}

export interface ScenarioGroup {
  readonly label: string;
  readonly rows: readonly ScenarioRow[];
}

const { mass, speed, distance, duration, force, stiffness, damping, ratio, angle, acceleration, gravity, frequency, count } = KINDS;

/** Keys of a scenario file in words. A key that says something else in another part has the part before it. */
const WORDS: Readonly<Record<string, readonly [label: string, kind: Kind]>> = {
  mass: ["mass", mass],
  width: ["width", distance],
  speed: ["speed at the meeting", speed],
  "front.nose": ["stiffness of the nose", stiffness],
  "front.cell": ["stiffness of the cell", stiffness],
  "front.length": ["length of the nose", distance],
  torsoMass: ["mass that belt and bag must stop", mass],
  headMass: ["mass of the head", mass],
  "belt.slack": ["slack of the belt", distance],
  "belt.stiffness": ["stiffness of the belt", stiffness],
  "belt.limit": ["force at which the belt gives way", force],
  "bag.fireTime": ["bag there after", duration],
  "bag.torsoGap": ["gap from chest to bag", distance],
  "bag.torsoStiffness": ["stiffness of the bag to the chest", stiffness],
  "bag.headGap": ["gap from head to bag", distance],
  "bag.headStiffness": ["stiffness of the bag to the head", stiffness],
  space: ["free room ahead of the chest", distance],
  interiorStiffness: ["stiffness of the interior", stiffness],
  "neck.stiffness": ["stiffness of the neck", stiffness],
  "neck.damping": ["damping of the neck", damping],
  gravity: ["strength of gravity", gravity],
  rolling: ["rolling resistance, as a share of weight", ratio],
  "coast.a": ["from release to the meeting, vehicle a", distance],
  "coast.b": ["from release to the meeting, vehicle b", distance],
  "runOn.a": ["free track past the meeting, vehicle a", distance],
  "runOn.b": ["free track past the meeting, vehicle b", distance],
  "braking.delay": ["delay until brakes act", duration],
  "braking.deceleration": ["deceleration by the brakes", acceleration],
  offset: ["fronts off-centre by", distance],
  yaw: ["angle between the two axes", angle],
  fallingMass: ["falling mass", mass],
  drop: ["drop", distance],
  "a.length": ["line to a: length from end to end", distance],
  "b.length": ["line to b: length from end to end", distance],
  "a.travel": ["line to a: travel for each unit of drop", ratio],
  "a.efficiency": ["line to a: pull at the vehicle over pull at the frame", ratio],
  "a.stiffness": ["line to a: stiffness", stiffness],
  "a.damping": ["line to a: damping", damping],
  "a.slack": ["line to a: slack", distance],
  "b.travel": ["line to b: travel for each unit of drop", ratio],
  "b.efficiency": ["line to b: pull at the vehicle over pull at the frame", ratio],
  "b.stiffness": ["line to b: stiffness", stiffness],
  "b.damping": ["line to b: damping", damping],
  "b.slack": ["line to b: slack", distance],
  "recoilArea.reach": ["recoil area kept empty: narrowed to, from every line and pulley", distance],
  captureRate: ["capture rate", frequency],
  projectRate: ["project rate", frequency],
  playbackRate: ["playback rate", frequency],
  exposure: ["exposure", duration],
  sensorWidth: ["width of the sensor", distance],
  focalLength: ["focal length", distance],
  distance: ["distance", distance],
  pixelsAcross: ["pixels across", count],
  pixelsDown: ["pixels down", count],
  bitsPerPixel: ["bits for each pixel", count],
  memory: ["memory, in bytes", count],
  "markers.width": ["width of a marker", distance],
  "markers.baseline": ["known length in the picture", distance],
  "markers.baselineOffset": ["known length nearer the camera by", distance],
};

/** As many as a file gives to a value that was measured; the give or take has fewer. */
const FIGURES = 6;
const GIVE_FIGURES = 3;

/** A choice is not measured. */
const NO_GIVE = "\u2014";

const isGiven = (value: unknown): value is Given => typeof value === "object" && value !== null && "give" in value && "value" in value;

const quantity = (kind: Kind, units: Scenario["units"]): ((si: number, figures: number) => string) => {
  const unit = unitFor(kind, units);
  const sign = unitText(unit);
  return (si, figures) => `${String(tidy(Number(fromSI(si, unit).toPrecision(figures)))).replace("-", "\u2212")}${sign === "" ? "" : `\u00a0${sign}`}`;
};

/** The numbers of one part, in the order of the file. */
const rowsOf = (part: object, units: Scenario["units"], before = ""): ScenarioRow[] =>
  Object.entries(part).flatMap(([key, value]): ScenarioRow[] => {
    const path = `${before}${key}`;
    if (isGiven(value)) {
      const [label, kind] = WORDS[path] ?? [path, undefined];
      if (kind === undefined) throw new Error(`the hand-over page has no words for ${path} of a scenario`);
      const text = quantity(kind, units);
      return [{ label, value: text(value.value, FIGURES), give: value.give > 0 ? text(value.give, GIVE_FIGURES) : "taken as exact", reason: value.reason === "" ? "none given" : value.reason }];
    }
    if (key === "belt" || key === "bag") return value === null ? [{ label: key, value: "none", give: NO_GIVE, reason: "chosen" }] : rowsOf(value as object, units, `${path}.`);
    if (key === "counted") return [{ label: "counted in the mass of the vehicle", value: value === "inside" ? "yes" : "no, apart", give: NO_GIVE, reason: "chosen" }];
    if (path === "recoilArea.by" || path === "recoilArea.reason") return [{ label: `recoil area narrowed: ${key}`, value: value as string, give: NO_GIVE, reason: "written in the file" }];
    return typeof value === "object" && value !== null && !Array.isArray(value) ? rowsOf(value as object, units, `${path}.`) : [];
  });

/** All of a scenario: its vehicles, who sits in them, and the parts that it has. */
export const scenarioInputs = ({ a, b, site, tow, cameras, markers, units }: Scenario): ScenarioGroup[] => {
  const group = (label: string, part: object | undefined, before = ""): ScenarioGroup[] => (part === undefined ? [] : [{ label, rows: rowsOf(part, units, before) }]);
  return [
    ...([["a", a], ["b", b]] as const).flatMap(([side, vehicle]) => [
      ...group(`Vehicle ${side}: ${vehicle.name}, ${vehicle.description}`, vehicle),
      ...vehicle.occupants.flatMap((occupant, i) => group(`In ${vehicle.name}: ${occupant.name ?? `dummy ${i + 1}`}`, occupant)),
    ]),
    ...group("Site", site),
    ...group("Tow", tow),
    ...(cameras ?? []).flatMap((camera) => group(`Camera: ${camera.name}`, camera)),
    ...group("Markers", markers, "markers."),
  ];
};

/** What one vehicle brings into the crash: itself as weighed, and who in it was not weighed with it. */
export interface CrashMass {
  readonly name: string;
  readonly weighed: string;
  readonly apart: string;
  readonly total: string;
  readonly give: string;
}

/** A sum of what was weighed. */
const SUM_FIGURES = 4;

export const crashMasses = ({ a, b, units }: Scenario): CrashMass[] => {
  const text = quantity(mass, units);
  return [a, b].map(({ name, mass: weighed, occupants }) => {
    const apart = occupants.flatMap(({ counted, torsoMass, headMass }) => (counted === "apart" ? [torsoMass, headMass] : []));
    const sum = (parts: readonly Given[]): number => parts.reduce((total, { value }) => total + value, 0);
    const all = [weighed, ...apart];
    // independent of each other: half-widths add as the sides of a right angle
    return { name, weighed: text(weighed.value, FIGURES), apart: apart.length === 0 ? "none" : text(sum(apart), SUM_FIGURES), total: text(sum(all), SUM_FIGURES), give: all.every(({ give }) => give > 0) ? text(Math.hypot(...all.map(({ give }) => give)), GIVE_FIGURES) : "not given for each part" };
  });
};

const reasonsIn = (value: unknown): string[] => (typeof value !== "object" || value === null ? [] : isGiven(value) ? [value.reason] : Object.values(value).flatMap(reasonsIn));

/** Reasons by which a lesson says that it made a value up. */
const MADE_UP = /^invented\b|\bto ask the question with\b/;

/** Inputs of a lesson that start at a value which it made up itself: its reason says so, and no value of the show's file has that reason. */
export const madeUpInputs = ({ inputs }: Lesson, scenario: Scenario | undefined): string[] => {
  const own = new Set(reasonsIn(scenario));
  return Object.entries(inputs).flatMap(([name, input]) => (input.type === "quantity" && MADE_UP.test(input.reason ?? "") && !own.has(input.reason ?? "") ? [name] : []));
};
