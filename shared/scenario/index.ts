/** The scenario of this build. The builder puts the YAML file's content in place of this module (`build/fence.ts`). */
import type { Scenario, ScenarioPart } from "./scenario.ts";

export type { Given, Scenario, ScenarioCamera, ScenarioLine, ScenarioMarkers, ScenarioOccupant, ScenarioPart, ScenarioRecoilArea, ScenarioSite, ScenarioTow, ScenarioVehicle } from "./scenario.ts";
export declare const scenario: Scenario;
/** A part that the lesson names under `needs`: without it there is no such page. */
export declare const part: <P extends ScenarioPart>(name: P) => NonNullable<Scenario[P]>;
