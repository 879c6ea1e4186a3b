/** What a lesson says to get a collision drawn: who meets whom, which inputs can be dragged, and how it moves. */
import type { Write } from "../lesson.ts";
import type { Motion } from "./motion.ts";

/** Which invented outline a body has. None of them changes with mass. */
export type DrawnAs = "hatch" | "estate" | "trolley";

/**
 * A quantity shown on the sheet. With `input` its end is a handle for that input of the lesson; with `value` it only shows.
 * `to` is the largest value that the sheet leaves room for: give both bodies the same and equal lengths mean equal values.
 */
export type Dial<S> = { readonly to: number; readonly digits?: number } & ({ readonly input: string } | { readonly value: (state: S) => number });

/** An approach speed. `signed`: the number is a velocity, positive to the right for both bodies; else a speed towards the other. */
export type SpeedDial<S> = Dial<S> & { readonly signed?: boolean };

/** The front as the small force-crush line under a body. */
export interface FrontDial<S> {
  /** Stiffness of the nose: the end of the first straight line [N/m]. */
  readonly nose: Dial<S>;
  /** Stiffness of the cell behind it: the end of the second [N/m]. */
  readonly cell?: Dial<S>;
  /** Crush at which the cell is reached [m]. */
  readonly noseLength: (state: S) => number;
}

/** Somebody in a front seat. The second of two is drawn behind the first, in thinner ink. */
export interface SeatSpec<S> {
  readonly belted: boolean;
  readonly bag: boolean;
  /** Free room ahead of the chest in the whole cabin, drawn to scale [m]. */
  readonly space?: (state: S) => number;
}

export interface Body<S> {
  readonly name: string;
  readonly drawnAs: DrawnAs;
  readonly mass: Dial<S>;
  readonly speed: SpeedDial<S>;
  readonly front?: FrontDial<S>;
  /**
   * How much of the drawn front folds before the cabin is reached [m]; left out: `crushLength`, else the nose length of `front`,
   * else the outline's own.
   */
  readonly foldLength?: (state: S) => number;
  /** A length of the front that is dragged: a dimension line from the foremost point backwards [m]. */
  readonly crushLength?: Dial<S>;
  /** Figures drawn in the seats at rest; their motion comes with `Motion`. */
  readonly occupants?: readonly SeatSpec<S>[];
}

/** A rigid wall in place of the second body. */
export interface Wall {
  readonly wall: string;
}

export interface CollisionSpec<S> {
  readonly title: string;
  /** `road`: metres, tonnes; `bench`: trolleys on a track, centimetres. */
  readonly at?: "road" | "bench";
  readonly a: Body<S>;
  readonly b: Body<S> | Wall;
  /** Called for states that have outputs only, and once for each state. */
  readonly motion: (state: S) => Motion;
  /** Added to the spoken description at an instant. */
  readonly describe?: (state: S, instant: number, write: Write) => string;
  /** Largest force that the sheet leaves room for; left out: the largest of the motion [N]. */
  readonly forceTo?: number;
}

export const isWall = <S>(body: Body<S> | Wall): body is Wall => "wall" in body;
