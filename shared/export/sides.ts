/** Who is who on a plate: a circle and a solid line for a, a square and a broken line for b, each with its colour. */
import { node, type Node } from "../drawing.ts";
import { ASCENT } from "./plate.ts";

export type Side = "a" | "b";
export const SIDES = ["a", "b"] as const;

/** Room that the mark and the piece of line take before the name. */
export const KEY_WIDTH = 168;
const MARK = 23;
const MIDDLE = ASCENT - 22;

/** The mark and a piece of line, in the room of a line of text whose top is `y`. Classes are those of the drawings. */
export const keyMark = (side: Side, x: number, y: number): Node =>
  node("g", { class: `body-${side}` }, [
    side === "a"
      ? node("circle", { cx: x + MARK, cy: y + MIDDLE, r: MARK, class: "tag-shape" })
      : node("rect", { x: x + 2, y: y + MIDDLE - MARK + 2, width: 2 * MARK - 4, height: 2 * MARK - 4, class: "tag-shape" }),
    node("g", { transform: `translate(${x + 2 * MARK + 14},${y + MIDDLE}) scale(2.6)` }, [node("path", { d: "M0,0L34,0", class: "curve" })]),
  ]);
