/** The scale bars of the scenes: as long as they say, in whatever unit they say it. */
import { describe, expect, it } from "vitest";
import type { Drawing, Node } from "../../shared/drawing.ts";
import { evaluate, type Scene, startOf } from "../../shared/lesson.ts";
import { makeWrite } from "../../shared/state/units.ts";
import { lessonAtScales } from "./lessonAtScales.ts";

/** Metres. The foot: NIST Special Publication 811 (2008), appendix B.8, exact. */
const METRES: Readonly<Record<string, number>> = { m: 1, cm: 0.01, ft: 0.3048 };
/** Places are rounded to a hundredth of a drawing unit; a bar is at least 20 units long. */
const ROUNDED = 0.001;

const walk = function* (nodes: readonly (Node | string)[]): Generator<Node> {
  for (const child of nodes) {
    if (typeof child === "string") continue;
    yield child;
    yield* walk(child.children);
  }
};

/** Drawing units per metre, by each bar and the words beside it. */
const perMetre = ({ nodes }: Drawing): number[] =>
  [...walk(nodes)]
    .filter(({ attributes }) => attributes["class"] === "scale-bar")
    .map(({ children }) => {
      const parts = children as readonly Node[];
      const length = Math.max(...parts.map(({ attributes }) => Number(attributes["width"] ?? 0)));
      const [, said, unit] = /([\d.]+)\s(\w+)$/.exec(parts.flatMap((part) => (part.tag === "text" ? part.children : [])).join("")) ?? [];
      return length / (Number(said) * (METRES[unit as string] as number));
    });

describe.each([
  "a-push-has-two-ends",
  "the-total-that-stays",
  "bounce-thud-or-in-between",
  "two-ledgers",
  "seen-from-the-other-seat",
  "wall-mirror-and-mismatch",
  "whose-metal-gives-way",
  "ride-down-or-fly-on",
  "lighter-yet-maybe-the-better-seat",
  "sharing-out-a-change-of-velocity",
  "buying-time-with-crumple",
  "off-centre-and-spinning",
  "meeting-on-the-mark",
  "a-fall-that-pulls",
  "how-sure-are-we",
  "from-dots-to-deceleration",
])("%s", (slug) => {
  it("draw(…) draws every bar as long as the words beside it say, to one scale in every unit", async () => {
    for (const lesson of Object.values(await lessonAtScales(slug)))
      for (const [name, scene] of Object.entries(lesson.scenes) as [string, unknown][])
        for (const width of ["wide", "narrow"] as const) {
          const [metric = [], ...rest] = (["metric", "customary", "laboratory"] as const).map((units) => {
            const write = makeWrite(units, "en");
            return perMetre((scene as Scene).draw(evaluate(lesson, startOf(lesson), write), 0, width, write));
          });
          expect(metric.length, name).toBeGreaterThan(0);
          for (const bars of rest) bars.forEach((bar, i) => expect(Math.abs(bar / (metric[i] as number) - 1), `${name} ${lesson.scale ?? "road"} ${width}`).toBeLessThanOrEqual(ROUNDED));
        }
  });
});
