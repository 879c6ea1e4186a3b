/** A presenter's show as data, in SI. Read from a YAML file by `build/scenario.ts`; every measured value carries its give or take. */
import type { ReaderUnits } from "../kinds.ts";

/** A value with the half-width its user would bet on 19 times in 20, and why. */
export interface Given {
  readonly value: number;
  readonly give: number;
  readonly reason: string;
}

export interface ScenarioOccupant {
  readonly name?: string;
  /** Mass that the belt and bag must stop, and mass of the head. */
  readonly torsoMass: Given;
  readonly headMass: Given;
  /** Whether the vehicle's test mass already holds this occupant. */
  readonly counted: "inside" | "apart";
  readonly belt: { readonly slack: Given; readonly stiffness: Given; readonly limit?: Given } | null;
  readonly bag: { readonly fireTime: Given; readonly torsoGap: Given; readonly torsoStiffness: Given; readonly headGap: Given; readonly headStiffness: Given } | null;
  /** Free space ahead of the torso, and the stiffness of what it meets there. */
  readonly space: Given;
  readonly interiorStiffness: Given;
  readonly neck: { readonly stiffness: Given; readonly damping: Given };
}

export interface ScenarioVehicle {
  readonly name: string;
  readonly description: string;
  /** Outline in the drawings. */
  readonly drawnAs: "hatch" | "estate";
  /** Across the front, for how much of it meets the other. */
  readonly width?: Given;
  readonly mass: Given;
  readonly speed: Given;
  readonly front: { readonly nose: Given; readonly cell: Given; readonly length: Given };
  readonly occupants: readonly ScenarioOccupant[];
}

/** The ground on which both vehicles run towards the meeting point. */
export interface ScenarioSite {
  readonly description: string;
  /** Local strength of gravity. */
  readonly gravity: Given;
  /** Rolling resistance of the track, as a share of weight. */
  readonly rolling: Given;
  /** From release to the meeting point, where the lines no longer pull. */
  readonly coast: { readonly a: Given; readonly b: Given };
  /** Free track past the meeting point, for a vehicle that missed the other, and what stops it there. */
  readonly runOn: { readonly a: Given; readonly b: Given };
  readonly braking: { readonly delay: Given; readonly deceleration: Given };
  /** Between the middles of the two fronts, across the line of approach, and the angle between the two axes. */
  readonly offset: Given;
  readonly yaw: Given;
}

/** One vehicle's line, from the frame over its pulleys to the tow point. */
export interface ScenarioLine {
  /** From end to end, with what goes round pulleys. */
  readonly length?: Given;
  /** Travel of the vehicle for each unit of drop, by the reeving. */
  readonly travel: Given;
  /** Pull at the vehicle over pull at the frame. */
  readonly efficiency: Given;
  readonly stiffness: Given;
  readonly damping: Given;
  readonly slack: Given;
}

/** A guided falling mass that pulls both vehicles. */
export interface ScenarioTow {
  readonly fallingMass: Given;
  readonly drop: Given;
  readonly a: ScenarioLine;
  readonly b: ScenarioLine;
  /** Narrower than all that a parted end can reach: only by a person with a name, for a reason that is written down. */
  readonly recoilArea?: ScenarioRecoilArea;
}

/** The area round the tensioned lines that is kept empty. */
export interface ScenarioRecoilArea {
  /** From every line and pulley to its edge. */
  readonly reach: Given;
  readonly by: string;
  readonly reason: string;
}

export interface ScenarioCamera {
  readonly name: string;
  /** Which vehicle, or the meeting itself, it watches. */
  readonly watches: "a" | "b" | "both";
  readonly captureRate: Given;
  readonly projectRate: Given;
  readonly playbackRate: Given;
  readonly exposure: Given;
  readonly sensorWidth: Given;
  readonly focalLength: Given;
  readonly distance: Given;
  readonly pixelsAcross: Given;
  readonly pixelsDown: Given;
  readonly bitsPerPixel: Given;
  /** Room for pictures, in bytes of 8 bits. */
  readonly memory: Given;
}

export interface ScenarioMarkers {
  readonly width: Given;
  /** Known length in the picture, and how far its plane is from the plane of motion, towards the camera. */
  readonly baseline: Given;
  readonly baselineOffset: Given;
}

/** Parts of a show that it may lack: pages that need one are then left out, by name. */
export const PARTS = ["site", "tow", "cameras", "markers"] as const;
export type ScenarioPart = (typeof PARTS)[number];

export interface Scenario {
  readonly title: string;
  /** File the scenario was read from, for messages. */
  readonly file: string;
  /** Units that its author thinks in: pages start with them. */
  readonly units: ReaderUnits;
  readonly a: ScenarioVehicle;
  readonly b: ScenarioVehicle;
  readonly site?: ScenarioSite;
  readonly tow?: ScenarioTow;
  readonly cameras?: readonly ScenarioCamera[];
  readonly markers?: ScenarioMarkers;
}
