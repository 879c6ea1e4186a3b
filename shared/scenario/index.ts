/** The scenario of this build. The builder puts the YAML file's content in place of this module (`build/bundle.ts`). */
import type { Scenario } from "./scenario.ts";

export type { Given, Scenario, ScenarioOccupant, ScenarioVehicle } from "./scenario.ts";
export declare const scenario: Scenario;
