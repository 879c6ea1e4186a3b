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
export { type ContactOutcome, planarImpact } from "./collision/planarImpact.ts";
export { momentumBalance } from "./collision/momentumBalance.ts";
export { RESTITUTION_OBSERVED, restitutionAtClosingSpeed, restitutionFromBounce, restitutionFromVelocities } from "./collision/restitution.ts";
export { ballisticPendulumSpeed, ballisticPendulumSwing, pendulumRise } from "./collision/ballisticPendulum.ts";

// Structure: force against crush, two fronts in series, linear closed forms
export { type ForceCrushCurve, type Unloading, crushForce, frontsInSeries, noseThenCell } from "./structure/forceCrushCurve.ts";
export { mutualCrush } from "./structure/mutualCrush.ts";
export { stiffnessFromWallTest, wallCrush } from "./structure/wallCrush.ts";
export { wallAgainstMutual } from "./structure/wallAgainstMutual.ts";
export { crushProfile } from "./structure/crushProfile.ts";
export { crushEnergy } from "./structure/crushEnergy.ts";
export { equivalentBarrierSpeed } from "./structure/equivalentBarrierSpeed.ts";
export { stiffnessFromSpeeds, stiffnessFromTests } from "./structure/stiffnessFromTests.ts";
export { closingFromCrushEnergy } from "./structure/closingFromCrushEnergy.ts";
export { closingFromDamage } from "./structure/closingFromDamage.ts";

// Pulse: shapes, integration, characteristics, channel filter
export { crashPulse } from "./pulse/crashPulse.ts";
export { integratePulse } from "./pulse/integratePulse.ts";
export { pulseCharacteristics } from "./pulse/pulseCharacteristics.ts";
export { pulseComparison } from "./pulse/pulseComparison.ts";
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
export { severityIndex } from "./injury/severityIndex.ts";
export { CHEST_DEPTHS, viscousCriterion } from "./injury/viscousCriterion.ts";
export { CONDYLE_DISTANCE, NECK_CRITICAL, type NeckLoad, neckCriterion } from "./injury/neckCriterion.ts";
export { femurForce } from "./injury/femurForce.ts";
export { tibiaIndex } from "./injury/tibiaIndex.ts";
export { INJURY_LIMITS, type InjuryLimit, type InjuryLimitName } from "./injury/limits.ts";

// Injury risk, for the evidence page only: published curves of test dummies and populations, never one person, never beside a result
export { injuryRisk, injuryRisksSideBySide, jointInjuryRisk, RISK_CURVES, type RiskCurve, type RiskCurveName } from "./injury/riskCurves.ts";
export { combinedThoracicIndex, THORACIC_INTERCEPTS } from "./injury/combinedThoracicIndex.ts";
export { fourthPowerRisk, massRatioRisk } from "./injury/populationRisk.ts";

// Uncertainty: give or take, sampling, propagation, sensitivity
export { type Correlation, type Run, type Uncertain, type UncertainInputs } from "./uncertainty/uncertain.ts";
export { study } from "./uncertainty/study.ts";
export { type Range, type StudySummary } from "./uncertainty/summary.ts";
export { propagate } from "./uncertainty/propagate.ts";
export { sensitivityBars } from "./uncertainty/sensitivityBars.ts";
export { combinedUncertainty } from "./uncertainty/combinedUncertainty.ts";
export { standardUncertainty } from "./uncertainty/standardUncertainty.ts";
export { coverageFactor } from "./uncertainty/coverageFactor.ts";
export { repeatedReadings } from "./uncertainty/repeatedReadings.ts";
export { groupVariance } from "./uncertainty/groupVariance.ts";
export { proportion } from "./uncertainty/proportion.ts";
export { standardisedShare } from "./uncertainty/standardisedShare.ts";

// Staging: gravity tow, lines and pulleys, arrival, run-on and braking (planning aid for discussion; not for the design of lifting gear)
export { gravityTow, gravityTowMass, type TowedVehicle } from "./staging/gravityTow.ts";
export { towEfficiency } from "./staging/towEfficiency.ts";
export { lineParts } from "./staging/lineParts.ts";
export { towMotion, type TowMotionInput } from "./staging/towMotion.ts";
export type { TowedOnLine, TowFailure } from "./staging/towStepping.ts";
export { dropOnSpring, takeUp } from "./staging/takeUp.ts";
export { mostPull } from "./staging/mostPull.ts";
export { lineStretch } from "./staging/lineStretch.ts";
export { LINE_RECOIL, type LineRecoilFact, type LineRecoilFactName } from "./staging/lineRecoil.ts";
export { pulleyResultant } from "./staging/pulleyResultant.ts";
export { steadyPull } from "./staging/steadyPull.ts";
export { coast, rollingFromCoast } from "./staging/coast.ts";
export { meetingShift } from "./staging/meetingShift.ts";
export { coastMeeting } from "./staging/coastMeeting.ts";
export { speedTrap } from "./staging/speedTrap.ts";
export { type Front, frontOverlap } from "./staging/frontOverlap.ts";
export { frictionFromSlide, slideSpeed, stoppingDistance, stoppingForce } from "./staging/stoppingDistance.ts";

// Filming: frames, blur, field of view, record length, the three rates of a film
export { framesInPulse } from "./filming/frames.ts";
export { exposureStops, motionBlur, shutterExposure } from "./filming/motionBlur.ts";
export { rollingShutterLean } from "./filming/rollingShutter.ts";
export { distanceForField, fieldOfView, thinLens } from "./filming/fieldOfView.ts";
export { recordLength } from "./filming/recordLength.ts";
export { parallaxError } from "./filming/parallax.ts";
export { FILM_CLOCKS, type FilmRates, playbackRatio, trueSpeed } from "./filming/playback.ts";

// Measuring: tables of readings, marker tracks to motion with bands, momentum and restitution from film, bench readings
export { DECIMAL_MARKS, type DecimalMark, readTable, type Separator, type TableColumn } from "./measuring/readTable.ts";
export { scaleFromBaseline } from "./measuring/scaleFromBaseline.ts";
export { velocityFromFrames } from "./measuring/velocityFromFrames.ts";
export { differentiationNoise } from "./measuring/differentiationNoise.ts";
export { markerMotion, type MarkerTrack } from "./measuring/markerMotion.ts";
export { filteredMarkerMotion } from "./measuring/filteredMarkerMotion.ts";
export { type Contact, velocitiesFromTrack } from "./measuring/velocitiesFromTrack.ts";
export { restitutionFromTracks } from "./measuring/restitutionFromTracks.ts";
export { momentumCheck, type TrackedBody } from "./measuring/momentumCheck.ts";
export { benchMeasurements } from "./measuring/benchMeasurements.ts";
export { predictionVerdict } from "./measuring/predictionVerdict.ts";

// Mathematics behind measuring: least squares, statistics, local polynomials
export { leastSquares, polynomialFit } from "./math/leastSquares.ts";
export { summaryStatistics } from "./math/statistics.ts";
export { localPolynomialWeights } from "./math/localPolynomial.ts";
