import { describe, expect, test } from "vitest";
import { crash, crashOutputs } from "../../../lib/event/crash.ts";
import type { CrashInput, CrashOccupant, OccupiedVehicle } from "../../../lib/event/types.ts";
import { vehiclesAlone, vehiclesAloneTraces } from "../../../lib/event/vehiclesAlone.ts";
import { freeFlight } from "../../../lib/occupant/freeFlight.ts";
import { noseThenCell } from "../../../lib/structure/forceCrushCurve.ts";
import { fromSI } from "../../../lib/units.ts";
import { REFERENCE, referenceCrash } from "./referenceCrash.ts";

/** What the default step promises, on every answer of the reference. */
const PROMISED = 1e-3;
/** Sum of energy after against before, at the default step. */
const LEDGER = 5e-5;
const relative = (got: number, want: number): number => Math.abs(got / want - 1);

const occupant: CrashOccupant = {
  torsoMass: 34,
  headMass: 4.6,
  counted: "inside",
  belt: { slack: 0.03, stiffness: 90000, limit: 5000 },
  bag: { fireTime: 0.025, torsoGap: 0.1, torsoStiffness: 40000, headGap: 0.15, headStiffness: 9000 },
  space: 0.4,
  interiorStiffness: 260000,
  neck: { stiffness: 6000, damping: 95 },
};
const unbelted: CrashOccupant = { ...occupant, belt: "none", bag: "none" };
const sprig: OccupiedVehicle = { mass: 900, speed: 15, front: noseThenCell({ noseStiffness: 1.2e6, cellStiffness: 4e6, noseLength: 0.55 }), unloading: "none", occupants: [occupant, unbelted] };
const bollard: OccupiedVehicle = { mass: 1800, speed: 10, front: noseThenCell({ noseStiffness: 0.45e6, cellStiffness: 0.45e6, noseLength: 0.6 }), unloading: "none", occupants: [{ ...unbelted, space: 0.3 }, { ...occupant, belt: { slack: 0.06, stiffness: 90000, limit: "none" }, bag: "none" }] };
/** Everything at once: intrusion on an unbelted occupant, a belt paying out, fronts that hold together. */
const demo: CrashInput = { a: sprig, b: bollard };
/** A bag that opens where the occupant already is. */
const lateBag: CrashInput = { a: { ...sprig, occupants: [{ ...occupant, bag: { fireTime: 0.0502, torsoGap: 0.1, torsoStiffness: 40000, headGap: 0.1, headStiffness: 9000 } }] }, b: bollard };

const without = ({ a, b, ...rest }: CrashInput): CrashInput => ({ a: { ...a, occupants: [] }, b: { ...b, occupants: [] }, ...rest });

describe("crash(…) of the reference", () => {
  const r = crash(referenceCrash);
  const occupants = [...r.occupants.a, ...r.occupants.b];
  const pairs: [string, number[], readonly number[]][] = [
    ["change of velocity", [r.deltaV.a, r.deltaV.b], REFERENCE.deltaV],
    ["crush", [r.crush.a, r.crush.b], REFERENCE.crush],
    ["peak force", [r.peakForce], [REFERENCE.peakForce]],
    ["peak vehicle acceleration", [fromSI(r.peakDeceleration.a, "gn"), fromSI(r.peakDeceleration.b, "gn")], REFERENCE.peakVehicle],
    ["head injury criterion", occupants.map((o) => o.hic15), REFERENCE.hic15],
    ["3 ms clip", occupants.map((o) => fromSI(o.chestClip, "gn")), REFERENCE.clip],
    ["peak chest acceleration", occupants.map((o) => fromSI(o.chestPeak, "gn")), REFERENCE.chestPeak],
  ];
  test.each(pairs)("gives the %s to better than 0.1 % at the default step", (_name, got, want) => {
    expect(got.length).toBe(want.length);
    got.forEach((value, i) => expect(relative(value, want[i] as number)).toBeLessThan(PROMISED));
  });

  test("comes 50 times nearer at a sixteenth of the step", () => {
    const fine = crashOutputs({ ...referenceCrash, step: 0.00025 / 16 });
    const FINE = 2e-5; // second order would be 4e-6 of a smooth law; kinks scatter by a few times that
    expect(relative(fine.deltaV.a, REFERENCE.deltaV[0] as number)).toBeLessThan(FINE);
    expect(relative(fine.occupants.a[1]?.hic15 as number, REFERENCE.hic15[1] as number)).toBeLessThan(FINE);
    expect(relative(fromSI(fine.occupants.a[1]?.chestPeak as number, "gn"), REFERENCE.chestPeak[1] as number)).toBeLessThan(FINE);
  });

  test("reports contact with the interior for those it pressed, and no others", () => {
    const pressed = [...r.traces.occupants.a, ...r.traces.occupants.b].map(({ interiorForce }) => interiorForce.some((force) => force > 0));
    expect(pressed).toContain(true);
    expect(pressed).toContain(false);
    expect(occupants.map((o) => o.contact.met)).toEqual(pressed);
    expect(occupants.map((o) => o.rideDown.spaceLeft < 0)).toEqual(pressed);
  });
});

describe("crash(…)", () => {
  test.each([["the reference", referenceCrash], ["the demo pair", demo], ["a late bag", lateBag]])("closes its energy ledger for %s, and at second order", (_name, input) => {
    const steps = [4, 2, 1, 1 / 2, 1 / 4, 1 / 8].map((share) => share * 0.00025);
    const errors = steps.map((step) => Math.abs(crashOutputs({ ...input, step }).energy.error));
    expect(errors[2]).toBeLessThan(LEDGER);
    // slope of log error on log step: 2, but kinks of the force laws fall anywhere in a step and scatter the points
    const x = steps.map(Math.log);
    const y = errors.map(Math.log);
    const mean = (v: number[]): number => v.reduce((s, t) => s + t, 0) / v.length;
    const slope = x.reduce((s, xi, i) => s + (xi - mean(x)) * ((y[i] as number) - mean(y)), 0) / x.reduce((s, xi) => s + (xi - mean(x)) ** 2, 0);
    expect(slope).toBeGreaterThan(1.6);
    expect(slope).toBeLessThan(2.6);
  });

  test("accounts separately for what intrusion and a late bag put in", () => {
    expect(crash(demo).energy.after.intrusion).toBeLessThan(0);
    expect(crash(referenceCrash).energy.after.intrusion).toBe(0);
    const { torsoGap, torsoStiffness, headGap, headStiffness } = { torsoGap: 0.1, torsoStiffness: 40000, headGap: 0.1, headStiffness: 9000 };
    const r = crash({ ...lateBag, step: 0.00025 / 8 });
    const trace = r.traces.occupants.a[0];
    const at = Math.round(0.0502 / r.step);
    const into = Math.max(0, (trace?.chestTravel[at] as number) - torsoGap);
    const headInto = Math.max(0, (trace?.headTravel[at] as number) - headGap);
    // the sample is up to half a fine step from the opening
    expect(relative(-r.energy.after.bagOpening, (torsoStiffness * into ** 2 + headStiffness * headInto ** 2) / 2)).toBeLessThan(0.02);
  });

  test.each([["the reference", referenceCrash], ["the demo pair", demo]])("keeps the momentum of %s at every instant", (_name, input) => {
    const { traces, step } = crash(input);
    expect(step).toBe(0.00025);
    const momentum = (i: number): number =>
      (["a", "b"] as const).reduce((sum, name) => {
        const vehicle = input[name];
        let bare = vehicle.mass;
        let own = 0;
        vehicle.occupants.forEach((o, k) => {
          if (o.counted === "inside") bare -= o.torsoMass + o.headMass;
          const trace = traces.occupants[name][k];
          own += o.torsoMass * (trace?.chestVelocity[i] as number) + o.headMass * (trace?.headVelocity[i] as number);
        });
        own += bare * (traces.vehicles[name].velocity[i] as number);
        return sum + (name === "a" ? own : -own);
      }, 0);
    const ROUNDING = 1e-7; // kg m/s, of some 20,000 after 600 steps
    for (let i = 1; i < traces.time.length; i++) expect(Math.abs(momentum(i) - momentum(0))).toBeLessThan(ROUNDING);
  });

  test.each([["the reference fronts", without(referenceCrash)], ["the demo fronts", without(demo)], ["one front of each kind", { a: without(demo).a, b: without(referenceCrash).b }]])("tends to vehiclesAlone without occupants, for %s", (_name, input) => {
    const exact = vehiclesAlone(input);
    const fine = crash({ ...input, step: 0.00025 / 4 });
    const coarse = crash({ ...input, step: 0.00025 });
    const TOLERANCE = 5e-6; // second order: about 1e-5 at four times this step
    expect(relative(fine.deltaV.a, exact.deltaV.a)).toBeLessThan(TOLERANCE);
    expect(relative(fine.deltaV.b, exact.deltaV.b)).toBeLessThan(TOLERANCE);
    expect(relative(fine.peakForce, exact.peakForce)).toBeLessThan(TOLERANCE);
    expect(relative(fine.times.commonVelocity as number, exact.times.commonVelocity as number)).toBeLessThan(TOLERANCE);
    if (exact.times.separation === null) expect(fine.times.separation).toBeNull();
    else expect(relative(fine.times.separation as number, exact.times.separation)).toBeLessThan(TOLERANCE);
    expect(Math.abs(coarse.peakForce / exact.peakForce - 1)).toBeGreaterThan(4 * Math.abs(fine.peakForce / exact.peakForce - 1));
    const traced = vehiclesAloneTraces({ ...input, time: fine.traces.time });
    const WORST = 1e-5; // m, of 0.6 m
    fine.traces.vehicles.a.position.forEach((x, i) => expect(Math.abs(x - (traced.vehicles.a.position[i] as number))).toBeLessThan(WORST));
    fine.traces.vehicles.b.crush.forEach((x, i) => expect(Math.abs(x - (traced.vehicles.b.crush[i] as number))).toBeLessThan(WORST));
  });

  test("mirrors when the vehicles change places", () => {
    const { a, b } = crash(demo).occupants;
    const mirrored = crash({ a: bollard, b: sprig });
    const SUMS = 1e-9; // sums taken in the other order
    mirrored.occupants.b.forEach((o, i) => expect(relative(o.hic15, a[i]?.hic15 as number)).toBeLessThan(SUMS));
    mirrored.occupants.a.forEach((o, i) => expect(relative(o.chestPeak, b[i]?.chestPeak as number)).toBeLessThan(SUMS));
  });

  test("treats two like vehicles alike", () => {
    const r = crash({ a: bollard, b: bollard });
    expect(r.deltaV.a).toBe(r.deltaV.b);
    expect(r.occupants.a).toEqual(r.occupants.b);
    expect(Math.abs(r.deltaV.a + bollard.speed)).toBeLessThan(1e-9);
  });

  test("gives the same outputs with and without traces, each within them", () => {
    const { traces, ...outputs } = crash(demo);
    expect(crashOutputs(demo)).toEqual(outputs);
    expect(Math.max(...(traces.occupants.a[0]?.chestAcceleration ?? []).map(Math.abs))).toBe(outputs.occupants.a[0]?.chestPeak);
    // equal velocity falls inside a step, so that the peak lies between two samples
    expect(Math.max(...traces.force)).toBeLessThanOrEqual(outputs.peakForce);
    expect(relative(Math.max(...traces.force), outputs.peakForce)).toBeLessThan(1e-4);
  });

  test("carries an unbelted occupant as free flight does, in a square pulse", () => {
    // a front of almost constant force, a heavy vehicle: 20 m/s^2 for each, so light an occupant hardly matters
    const force = 400000;
    const front = { crush: [0, 1e-4, 3], force: [0, force, force * (1 + 1e-6)] };
    const wall: OccupiedVehicle = { mass: 2000, speed: 12, front, unloading: "none", occupants: [{ ...unbelted, counted: "apart", torsoMass: 0.01, headMass: 0.001, interiorStiffness: 10, neck: { stiffness: 0, damping: 0 } }] };
    const r = crashOutputs({ a: wall, b: { ...wall, occupants: [] }, step: 1e-5 });
    const closed = freeFlight({ speed: 12, deceleration: force / 2000, gap: unbelted.space });
    const contact = r.occupants.a[0]?.contact;
    const TOLERANCE = 2e-4; // the 0.1 mm on which the force rises, and the occupant's own mass
    expect(contact?.met).toBe(true);
    if (contact?.met !== true) return;
    expect(relative(contact.speed, Math.min(closed.contactSpeed, 12))).toBeLessThan(TOLERANCE);
    expect(relative(contact.time, closed.time)).toBeLessThan(TOLERANCE);
  });

  test("takes interior space for what the crush exceeds the nose by", () => {
    const { cabinLoss, crush } = crash(demo);
    expect(cabinLoss.a).toBe(0);
    expect(cabinLoss.b).toBeCloseTo(crush.b - 0.6, 12);
    const roomy = crash({ ...demo, b: { ...bollard, front: { ...bollard.front, noseLength: 5 } } });
    expect(roomy.occupants.b[1]?.rideDown.spaceLeft as number).toBeGreaterThan(crash(demo).occupants.b[1]?.rideDown.spaceLeft as number);
  });

  test("adds up the ride-down: path of the vehicle and travel inside it", () => {
    const { occupants, traces } = crash(referenceCrash);
    const { rideDown } = occupants.a[0] as NonNullable<(typeof occupants.a)[0]>;
    expect(rideDown.stopped).toBe(true);
    expect(rideDown.efficiency).toBeGreaterThan(0);
    expect(rideDown.efficiency).toBeLessThan(1);
    const { a, b } = referenceCrash;
    const all = (v: OccupiedVehicle): number => v.mass + v.occupants.reduce((m, o) => m + o.torsoMass + o.headMass, 0);
    const drift = (all(a) * a.speed - all(b) * b.speed) / (all(a) + all(b));
    const i = Math.floor(rideDown.time / 0.00025);
    const position = (traces.vehicles.a.position[i] as number) + (traces.occupants.a[0]?.chestTravel[i] as number) - drift * i * 0.00025;
    expect(Math.abs(position - rideDown.distance)).toBeLessThan(1e-4);
    expect(relative(rideDown.meanDeceleration * rideDown.distance * 2, (a.speed - drift) ** 2)).toBeLessThan(1e-12);
  });

  test("shortens the step to divide the duration, and keeps the duration", () => {
    const r = crash({ ...demo, step: 0.0002, duration: 0.1501 });
    expect(r.duration).toBeCloseTo(0.1501, 12);
    expect(r.step).toBeLessThanOrEqual(0.0002);
    expect(r.traces.time.at(-1)).toBeCloseTo(0.1501, 12);
  });

  test.each([
    ["a.mass must be > the 77.2 kg of the occupants counted inside it, got 50", { ...demo, a: { ...sprig, mass: 50 } }],
    ["a.occupants must be at most 2 occupants", { ...demo, a: { ...sprig, occupants: [occupant, occupant, occupant] } }],
    ["b.occupants[0].belt.stiffness must be > 0 N/m, got 0", { ...demo, b: { ...bollard, occupants: [{ ...occupant, belt: { slack: 0, stiffness: 0, limit: "none" as const } }] } }],
    ["b.occupants[0].space must be >= 0 m, got -0.1", { ...demo, b: { ...bollard, occupants: [{ ...occupant, space: -0.1 }] } }],
    ["step must be <=", { ...demo, step: 0.05 }],
    ["duration must be >= 0.003 s", { ...demo, duration: 0.002 }],
    ["a.speed + b.speed must be > 0 m/s", { a: { ...sprig, speed: 0 }, b: { ...bollard, speed: 0 } }],
  ])("refuses: %s", (message, input) => {
    expect(() => crash(input)).toThrow(`crash: ${message}`);
    expect(() => crashOutputs(input)).toThrow(`crashOutputs: ${message}`);
  });
});
