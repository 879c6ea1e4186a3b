// Drawn situations to scale, whose handles are the lesson's inputs.

// A collision: two vehicles on the road, two trolleys on a bench, one vehicle and a wall
export { collisionScene } from "./collisionScene.ts";
export type { Body, CollisionSpec, Dial, DrawnAs, FrontDial, SeatSpec, SpeedDial, Wall } from "./spec.ts";

// Two trolleys on a bench, with boxes that give and blocks that slide
export { blocksScene } from "./blocksScene.ts";
export type { BlocksSpec, BlockTrolley } from "./blocksScene.ts";

// Several scenes under one name, such as one for the road and one for a bench
export { fittingScene } from "./fittingScene.ts";

// What moves in it
export { motionOfTraces } from "./motion.ts";
export type { BodyMoment, Moment, Motion, OccupantMoment, TraceOptions } from "./motion.ts";

// A falling mass that pulls two vehicles
export { towScene } from "./towScene.ts";
export type { TowedBody, TowedMoment, TowMotionDrawn, TowSpec } from "./towScene.ts";

// Sizes of the drawn outlines, such as how much front there is to crush
export { OUTLINES } from "./outlines.ts";

// Two bodies with a force meter on each front, and each body by itself
export { pushMetersScene } from "./pushMetersScene.ts";
export type { MeteredBody, MeteredMoment, PushMetersSpec, PushMotion } from "./pushMetersScene.ts";

// Two vehicles that are to meet on a mark, from above
export { arrivalScene } from "./arrivalScene.ts";
export type { ArrivalBar, ArrivalMotion, ArrivalSpec, Arriving } from "./arrivalScene.ts";

// Two that meet and part, above the ladder of the gap between them
export { bounceLadderScene } from "./bounceLadderScene.ts";
export type { BounceLadderSpec, BounceMotion } from "./bounceLadderScene.ts";

// Momenta with their signs, head to tail, under the event that they belong to
export { momentumStripScene } from "./momentumStripScene.ts";
export type { MomentumStripSpec, StripBody, StripMoment, StripMotion } from "./momentumStripScene.ts";

// Two that meet, above two running ledgers: momentum and energy
export { ledgersScene } from "./ledgersScene.ts";
export type { LedgersMoment, LedgersMotion, LedgersSpec } from "./ledgersScene.ts";

// One car that stops with two riders in it, one strapped and one loose
export { rideDownScene } from "./rideDownScene.ts";
export type { RideDownSpec, RideMoment, RideMotion, RiderMoment } from "./rideDownScene.ts";

// A camera's picture, frame by frame, with the dots that are read off it
export { filmScene } from "./filmScene.ts";
export type { FilmSpec } from "./filmScene.ts";

// One meeting drawn twice: from the road and from a seat that goes along
export { twoSeatsScene } from "./twoSeatsScene.ts";
export type { SeatedMotion, TwoSeatsSpec } from "./twoSeatsScene.ts";

// Three set-ups at one instant: a wall, a mirror image, an unlike partner
export { wallMirrorScene } from "./wallMirrorScene.ts";
export type { StruckMoment, ThreeMoments, ThreeMotion, WallMirrorSpec } from "./wallMirrorScene.ts";

// Two fronts nose to nose on one force axis
export { oneForceAxisScene } from "./oneForceAxisScene.ts";
export type { AxisBody, AxisMoment, OneForceAxisSpec } from "./oneForceAxisScene.ts";

// One crash run many times within the give or take of its numbers
export { manyRunsScene } from "./manyRunsScene.ts";
export type { GiveBar, ManyRuns, ManyRunsSpec } from "./manyRunsScene.ts";

// Two bodies that meet off-centre, from above
export { offCentreScene } from "./offCentreScene.ts";
export type { OffCentreSpec, PlanBar, PlanBody, PlanMotion } from "./offCentreScene.ts";

// Records of two groups as a field of counted marks
export { recordsScene } from "./recordsScene.ts";
export type { RecordsSpec, Stratum } from "./recordsScene.ts";

// Four trolleys of a class at a stop, each with a block that slides
export { FLEET_ROOM, fleetScene } from "./fleetScene.ts";
export type { FleetMoment, FleetMotion, FleetSpec } from "./fleetScene.ts";
