/** A simple jointed figure in a seat: its chest and head move by exactly the travel given, the rest follows. */
import type { Node } from "../drawing.ts";
import { circle, group, line, type Point, polyline, rectangle } from "./marks.ts";
import type { OccupantMoment } from "./motion.ts";
import type { Outline } from "./outlines.ts";
import { node } from "../drawing.ts";

/** Lengths of an invented adult in side view [m]. */
const TORSO: readonly [number, number] = [0.1, 0.46];
const HEAD: readonly [number, number] = [0.1, 0.7];
const HEAD_RADIUS = 0.105;
const TORSO_WIDTH = 0.2;
/** The chest stands at this share of the way from hip to shoulder; a belted hip moves less than the chest. */
const CHEST = 0.62;
const HIP_FOLLOWS = 0.6;
/** Where nothing is said of the room ahead of the chest [m]. */
export const SPACE = 0.4;

export interface Seat {
  readonly belted: boolean;
  readonly bag: boolean;
  /** Free room ahead of the chest in the whole cabin [m]. */
  readonly space: number;
}

/** Depth of the chest's front at rest, and of the interior it could meet. */
export const chestFront = (outline: Outline): number => (outline.hip ? outline.hip[0] + CHEST * TORSO[0] - TORSO_WIDTH / 2 : 0);

/**
 * @param at turns depth and height [m] into a point of the drawing
 * @param scale drawing units per metre
 * @param interior depth now of the interior ahead of the chest [m]
 */
export const person = (outline: Outline, seat: Seat, moment: OccupantMoment, at: (d: number, h: number) => Point, scale: number, interior: number, className: string): Node => {
  const [hipD, hipH] = outline.hip as readonly [number, number];
  // The model has no seat back, so that a dummy thrown back would leave the car: it is drawn against its seat.
  const t = Math.max(0, moment.torsoTravel);
  const headTravel = Math.max(0, moment.headTravel);
  const hip = at(hipD - HIP_FOLLOWS * t, hipH);
  const shoulderTravel = (t - (1 - CHEST) * HIP_FOLLOWS * t) / CHEST;
  const shoulderD = hipD + TORSO[0] - shoulderTravel;
  const shoulder = at(shoulderD, hipH + TORSO[1]);
  const head = at(hipD + HEAD[0] - headTravel, hipH + HEAD[1]);
  const chestD = hipD + CHEST * TORSO[0] - t;
  const chestH = hipH + CHEST * TORSO[1];
  const knee = at(hipD - 0.42 - 0.3 * t, hipH + 0.1);
  const foot = at(hipD - 0.72, hipH - 0.2);
  const hand = at(interior + 0.02, hipH + 0.34);
  const elbow = at((interior + shoulderD) / 2 + 0.04, hipH + 0.22);
  const width = TORSO_WIDTH * scale;
  const limb = 0.075 * scale;
  // Each limb is an ink line with a narrower paper line on it: an outline that bends with its joints.
  const bone = (points: readonly Point[], thick: number): Node[] => {
    const d = points.map(([x, y], i) => `${i === 0 ? "M" : "L"}${x.toFixed(1)},${y.toFixed(1)}`).join("");
    return [node("path", { d, class: "bone-edge", "stroke-width": thick.toFixed(1) }), node("path", { d, class: "bone", "stroke-width": Math.max(1, thick - 2.4).toFixed(1) })];
  };
  const anchor = at(hipD + 0.24, hipH + 0.56);
  const front = at(chestD - TORSO_WIDTH / 2, chestH + 0.06);
  const lap = at(hipD - HIP_FOLLOWS * t - 0.1, hipH + 0.04);
  const taut = (moment.beltForce ?? 0) > 0;
  const bag = seat.bag && moment.bagStands === true;
  const bagBack = Math.max(interior + 0.06, Math.min(interior + 0.34, chestD - TORSO_WIDTH / 2 + 0.03));
  const bagCentre = at((interior + bagBack) / 2, chestH + 0.1);
  return group(`person ${className}`, [
    group("seat", [polyline([at(hipD - 0.34, hipH - 0.12), at(hipD + 0.16, hipH - 0.16), at(hipD + 0.3, hipH + 0.56)], "seat-line"), line(at(hipD + 0.31, hipH + 0.6), at(hipD + 0.35, hipH + 0.78), "seat-line")]),
    group("body", [
      ...bone([hip, knee, foot], limb * 1.35),
      ...bone([hip, shoulder], width),
      ...bone([shoulder, head], limb),
      circle(head, HEAD_RADIUS * scale, "head"),
      node("ellipse", { cx: bagCentre[0].toFixed(1), cy: bagCentre[1].toFixed(1), rx: bag ? ((Math.abs(bagBack - interior) / 2) * scale).toFixed(1) : 0, ry: bag ? (0.23 * scale).toFixed(1) : 0, class: "bag" }),
      ...bone([shoulder, elbow, hand], limb),
    ]),
    seat.belted ? group(taut ? "belt belt-taut" : "belt", [polyline([anchor, at(shoulderD - 0.06, hipH + TORSO[1] + 0.06), front, lap], "belt-line"), rectangle(anchor[0] - 2.5, anchor[1] - 2.5, 5, 5, "belt-anchor")]) : group("belt", []),
  ]);
};
