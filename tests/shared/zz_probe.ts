import { lesson, mass, speed } from "../../shared/lesson.ts";
import { collisionScene } from "../../shared/scenes/index.ts";
export const p = lesson({
  inputs: { massA: mass("one", { start: 900, from: 400, to: 3000, step: 10 }), pace: speed("pace", { start: 15, from: 1, to: 30, step: 1 }) },
  outputs: {},
  run: ({ massA }, call) => ({}),
  scenes: {
    roadway: collisionScene({
      title: "x",
      a: { name: "Sprig", drawnAs: "hatch", mass: { input: "massA", to: 3000 }, speed: { input: "pace", to: 30 } },
      b: { wall: "the wall" },
      motion: ({ inputs }) => ({ duration: 0.1, at: (time) => ({ force: 0, a: { travel: inputs.pace * time, velocity: inputs.pace, crush: inputs.pace * time } }) }),
    }),
  },
});
