// Contents page of the kernels. Read top to bottom; every name is documented where it is defined.

// Units and constants
export * from "./units.ts";
export * from "./constants.ts";

// Collision: momentum, energy, frames of reference, central impact
export { momentum } from "./collision/momentum.ts";
export { kineticEnergy } from "./collision/kineticEnergy.ts";
export { centreOfMass } from "./collision/centreOfMass.ts";
export { observedFrom } from "./collision/observedFrom.ts";
export { centralImpact } from "./collision/centralImpact.ts";

// Structure: force against crush, two fronts in series, linear closed forms
export { type ForceCrushCurve, type Unloading, crushForce, frontsInSeries, noseThenCell } from "./structure/forceCrushCurve.ts";
export { mutualCrush } from "./structure/mutualCrush.ts";
export { stiffnessFromWallTest, wallCrush } from "./structure/wallCrush.ts";
export { closingFromCrushEnergy } from "./structure/closingFromCrushEnergy.ts";

// Pulse: shapes, integration, characteristics, channel filter
export { crashPulse } from "./pulse/crashPulse.ts";
export { integratePulse } from "./pulse/integratePulse.ts";
export { pulseCharacteristics } from "./pulse/pulseCharacteristics.ts";
export { channelFilter, channelFilterGain, channelFilterWeights } from "./pulse/channelFilter.ts";

// Occupant: closed forms of ride-down and free flight
export { freeFlight } from "./occupant/freeFlight.ts";
export { rideDown } from "./occupant/rideDown.ts";
export { slackRestraint } from "./occupant/slackRestraint.ts";

// Event: the crash against time
export { crash, crashOutputs } from "./event/crash.ts";
export { vehiclesAlone, vehiclesAloneTraces } from "./event/vehiclesAlone.ts";
export type * from "./event/types.ts";

// Injury: criteria and chest measures (describe test dummies and populations, never one person)
export { chestMeasures } from "./injury/chestMeasures.ts";
export { clip3ms } from "./injury/clip3ms.ts";
export { headInjuryCriterion } from "./injury/headInjuryCriterion.ts";
export { INJURY_LIMITS, type InjuryLimit, type InjuryLimitName } from "./injury/limits.ts";
