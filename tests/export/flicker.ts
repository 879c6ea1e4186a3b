// A lesson whose pictures must not be kept as they are: one flashes five times a second over half of the plate, in another a word
// that no line holds comes up on the way and goes again, and a third has two parts with more readings than a plate holds.

/** Flashes a second of the scene's own clock. */
export const FLASHES = 5;
/** Readings of each part. */
export const READINGS = 16;

/** From when to when the long word is there [s]: of frames 40 ms apart, in the fourth alone. */
const [FROM, TO] = [0.1, 0.15];
export const LONG = `${"M".repeat(70)} 12`;

export const FLICKER = `---
title: A lamp and a long word
question: Does the lamp blink?
minutes: 1
---

\`\`\`ts
import { centralImpact } from "ridedown";
import { lesson, mass, sentence, velocityChange } from "ridedown/lesson";

const still = { touch: () => 0, describe: () => "A lamp." };

export default lesson({
  names: {},
  inputs: { lampMass: mass("mass of the lamp", { start: 900, from: 100, to: 2000, step: 10, give: 10 }) },
  outputs: { change: velocityChange("change of velocity of the lamp", { from: centralImpact, field: "deltaV.a" }), said: sentence("what happens") },
  run: ({ lampMass }, call) => {
    call(centralImpact, { a: { mass: lampMass, velocity: 10 }, b: { mass: 900, velocity: -10 }, restitution: 0 });
    return { said: "The lamp blinks." };
  },
  scenes: {
    lamp: {
      title: "A lamp",
      ...still,
      duration: () => 1,
      draw: (_, instant) => ({
        width: 1000,
        height: 420,
        nodes: [{ tag: "rect", attributes: { x: 10, y: 10, width: 980, height: 400, class: Math.floor(instant * ${2 * FLASHES} + 1e-9) % 2 === 0 ? "hub" : "wall-face" }, children: [] }],
        handles: [],
      }),
    },
    words: {
      title: "A long word",
      ...still,
      duration: () => 0.2,
      draw: (_, instant) => ({
        width: 1000,
        height: 420,
        nodes: [
          { tag: "rect", attributes: { x: 400, y: 10, width: 200, height: 100, class: "wall-face" }, children: [] },
          ...(instant < ${FROM} || instant > ${TO} ? [] : [{ tag: "text", attributes: { x: 10, y: 300, class: "label label-strong" }, children: ["${LONG}"] }]),
        ],
        handles: [],
      }),
    },
    readings: {
      title: "Two rows of lamps",
      ...still,
      duration: () => 0.2,
      draw: () => ({
        width: 1000,
        height: 700,
        nodes: [0, 350].flatMap((top) => [
          { tag: "rect", attributes: { x: 100, y: top + 20, width: 800, height: 100, class: "wall-face" }, children: [] },
          ...Array.from({ length: ${READINGS} }, (_, i) => ({ tag: "text", attributes: { x: 100 + 50 * i, y: top + 140 + 5 * (i % 2), class: "label label-strong" }, children: ["lamp " + String.fromCharCode(99 + i) + (top === 0 ? "" : " below") + " " + i + " W"] })),
          ...(top === 0 ? [{ tag: "line", attributes: { x1: 0, x2: 1000, y1: 345, y2: 345, class: "rule" }, children: [] }] : []),
        ]),
        handles: [],
      }),
    },
  },
});
\`\`\`

A lamp of [900 kg](input:lampMass) changes its velocity by [−36.0 km/h](output:change). [The lamp blinks.](output:said)

![A lamp](scene:lamp)

![A long word](scene:words)

![Two rows of lamps](scene:readings)

::: sources
- derived
:::
`;
