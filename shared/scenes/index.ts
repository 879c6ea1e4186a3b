// Drawn situations to scale, whose handles are the lesson's inputs.

// A collision: two vehicles on the road, two trolleys on a bench, one vehicle and a wall
export { collisionScene } from "./collisionScene.ts";
export type { Body, CollisionSpec, Dial, DrawnAs, FrontDial, SeatSpec, SpeedDial, Wall } from "./spec.ts";

// What moves in it
export { motionOfTraces } from "./motion.ts";
export type { BodyMoment, Moment, Motion, OccupantMoment, TraceOptions } from "./motion.ts";
