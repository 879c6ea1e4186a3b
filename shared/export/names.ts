/** Who is who in a picture of a lesson: its own names, and those of the apparatus at another scale. */
import type { Lesson } from "../lesson.ts";
import type { Side } from "./sides.ts";

export const namesOf = ({ names: { a, b }, scale }: Lesson): Readonly<Partial<Record<Side, string>>> =>
  scale !== undefined ? { a: "Trolley A", b: "Trolley B" } : { ...(a !== undefined && { a }), ...(b !== undefined && { b }) };
