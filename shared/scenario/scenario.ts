/** A presenter's show as data, in SI. Read from a YAML file by `build/scenario.ts`; every measured value carries its give or take. */

/** A value with the half-width its user would bet on 19 times in 20, and why. */
export interface Given {
  readonly value: number;
  readonly give: number;
  readonly reason: string;
}

export interface ScenarioOccupant {
  readonly name: string;
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
  readonly mass: Given;
  readonly speed: Given;
  readonly front: { readonly nose: Given; readonly cell: Given; readonly length: Given };
  readonly occupants: readonly ScenarioOccupant[];
}

export interface Scenario {
  readonly title: string;
  /** File the scenario was read from, for messages. */
  readonly file: string;
  readonly a: ScenarioVehicle;
  readonly b: ScenarioVehicle;
}
