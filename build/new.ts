/** `npm run new -- "Title"`: a small lesson that builds, to change into another. */
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { typed } from "./home.ts";
import { anchorOf } from "./rules/anchors.ts";
import { named } from "./readLessons.ts";

const TEMPLATE = (title: string): string => `---
title: ${JSON.stringify(title)}
question: Two vehicles of unlike mass meet head-on and lock together. Which of them changes its velocity more?
minutes: 5
idea: One push, shared by two masses, changes the velocity of the smaller mass more.
mathematics: ratios
misconceptions: [bigger-pushes-harder]
---

\`\`\`ts
import { centralImpact, toSI } from "ridedown";
import { lesson, mass, sentence, speed, velocityChange, verdict } from "ridedown/lesson";
import { scenario } from "ridedown/scenario";

const { a, b } = scenario;
// One range for both, so that a reader can make either of them the heavier or the faster.
const masses = { from: Math.min(a.mass.value, b.mass.value) / 2, to: Math.max(a.mass.value, b.mass.value) * 1.5, step: 10 };
const speeds = { from: 0, to: Math.max(toSI(20, "km/h"), 2 * a.speed.value, 2 * b.speed.value), step: toSI(1, "km/h") };
/** Masses nearer to each other than this share are called alike. */
const ALIKE = 0.005;

export default lesson({
  names: { a: a.name, b: b.name },
  inputs: {
    massA: mass(\`mass of the \${a.name}\`, { start: a.mass.value, give: a.mass.give, reason: a.mass.reason, ...masses }),
    massB: mass(\`mass of the \${b.name}\`, { start: b.mass.value, give: b.mass.give, reason: b.mass.reason, ...masses }),
    speedA: speed(\`speed of the \${a.name}\`, { start: a.speed.value, give: a.speed.give, reason: a.speed.reason, ...speeds }),
    speedB: speed(\`speed of the \${b.name}\`, { start: b.speed.value, give: b.speed.give, reason: b.speed.reason, ...speeds }),
  },
  where: { "they close in on each other": ({ speedA, speedB }) => speedA + speedB > 0 },
  outputs: {
    said: sentence("result in one sentence"),
    changesMore: verdict("which changes its velocity more", { lighter: "the lighter", heavier: "the heavier", alike: "both alike" }),
    changeA: velocityChange(\`change of velocity of the \${a.name}\`, { from: centralImpact, field: "deltaV.a", sense: -1 }),
    changeB: velocityChange(\`change of velocity of the \${b.name}\`, { from: centralImpact, field: "deltaV.b" }),
  },
  run: ({ massA, massB, speedA, speedB }, call, write) => {
    // SI inside. The second one comes the other way, so its velocity is negative.
    const { deltaV } = call(centralImpact, { a: { mass: massA, velocity: speedA }, b: { mass: massB, velocity: -speedB }, restitution: 0 });
    const changes = { [a.name]: write("velocityChange", -deltaV.a), [b.name]: write("velocityChange", deltaV.b) };
    if (Math.abs(massA / massB - 1) < ALIKE) return { changesMore: "alike", said: \`The two weigh about the same, and both change velocity by about \${changes[a.name]}.\` };
    const [light, heavy] = massA < massB ? [a.name, b.name] : [b.name, a.name];
    return {
      changesMore: Math.abs(deltaV.a) > Math.abs(deltaV.b) === massA < massB ? "lighter" : "heavier",
      said: \`The \${light} is the lighter and changes velocity by \${changes[light]}, the \${heavy} by \${changes[heavy]}.\`,
    };
  },
  claims: {
    lighterChangesMore: {
      when: ({ inputs: { massA, massB } }) => massA !== massB,
      // how far from failing, in m/s: 0 or more holds
      margin: ({ inputs: { massA, massB }, outputs: { changeA, changeB } }) => (massA < massB ? changeA - changeB : changeB - changeA),
    },
  },
});
\`\`\`

The [Sprig](name:a), [900 kg](input:massA), runs at [54 km/h](input:speedA). The [Bollard](name:b), [1800 kg](input:massB), comes
straight at it at [36 km/h](input:speedB). They lock together.

::: predict changesMore
Which of the two changes its velocity more?

- heavier: The heavier one. It brings more momentum.

  Momentum does pass from each to the other, and as much one way as the other way. Look at how much mass shares it.

- alike: Both alike. They push each other equally hard.

  They do push equally hard; keep that. Now ask what the same push does to a full cart and to an empty one.

- lighter: The lighter one.

  Yes. Now say why, without the word "stronger".
:::

::: reveal
[The Sprig is the lighter and changes velocity by 60.0 km/h, the Bollard by 30.0 km/h.](output:said)
[The lighter of the two always changes velocity more](claim:lighterChangesMore).

::: explain
Why does the lighter one change its velocity more?

- misses: The heavier one pushes it harder.

  A push has two ends. Whatever the one does to the other, the other does to it, at the same time.

- fits: Both get the same push for the same time, and the lighter one has less mass to move.

  Yes: the same momentum, divided by less mass.
:::

::: transfer bigger-pushes-harder
A loaded van runs into an empty one of the same make. Which of the two is pushed harder?

- wrong: The empty one.

  It changes velocity more, and so it looks pushed harder. The push has two ends of one size.

- right: Neither. The pushes are equal.

  Yes, at every instant.
:::

::: transfer bigger-pushes-harder elsewhere
Two skaters at rest push each other off. One has twice the mass of the other. Who feels the larger push?

- wrong: The lighter one, for that one moves off faster.

  Faster, yes. But that is what an equal push does to less mass.

- right: Both feel a push of one size.

  Yes; so the lighter one ends up faster.
:::

::: say
The same push acts on both. One of them changes velocity by about [60 km/h](output:changeA), the other by about [30 km/h](output:changeB).
:::

::: words
Two bodies that meet push each other equally hard for equally long. The one with less mass changes its velocity more.
:::
:::

::: limits
They meet in line and lock together, and for so short a time that nothing else can push. Nothing here says how gently they are stopped.
:::

::: sources
- derived
- openstax-college-physics-2e
:::
`;

export const newLesson = (title: string, folder: string): { readonly path: string } | { readonly problem: string } => {
  const plain = title.trim().replace(/\s+/g, " ");
  if (!/[A-Za-z]/.test(plain)) return { problem: `a lesson needs a title, such as ${typed("new")} "Light meets heavy"` };
  const slug = anchorOf(plain).replace(/^[^a-z]+/, "");
  const path = join(folder, `${slug}.md`);
  if (existsSync(path)) return { problem: `${named(path)} is there already; choose another title` };
  mkdirSync(folder, { recursive: true });
  writeFileSync(path, TEMPLATE(plain));
  return { path: named(path) };
};
