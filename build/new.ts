/** `npm run new -- "Title"`: a small lesson that builds, to change into another. */
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { anchorOf } from "./rules/anchors.ts";
import { named } from "./readLessons.ts";

const TEMPLATE = (title: string): string => `---
title: ${JSON.stringify(title)}
question: A light and a heavy trolley meet and stick together. Which of the two changes its velocity more?
minutes: 5
---

\`\`\`ts
import { centralImpact } from "ridedown";
import { lesson, mass, speed, velocityChange, verdict } from "ridedown/lesson";

export default lesson({
  inputs: {
    massA: mass("mass of the first trolley", { start: 900, from: 100, to: 2000, step: 10, give: 10 }),
    massB: mass("mass of the second trolley", { start: 1800, from: 100, to: 2000, step: 10, give: 10 }),
    closingSpeed: speed("speed at which they meet", { start: 15, from: 1, to: 30, step: 0.5, give: 0.5 }),
  },
  outputs: {
    changeA: velocityChange("loss of velocity of the first trolley", { from: centralImpact, field: "deltaV.a", sense: -1 }),
    changeB: velocityChange("gain of velocity of the second trolley", { from: centralImpact, field: "deltaV.b" }),
    changesMore: verdict("which changes its velocity more", { lighter: "the lighter", heavier: "the heavier", alike: "both alike" }),
  },
  run: ({ massA, massB, closingSpeed }, call) => {
    const { deltaV } = call(centralImpact, { a: { mass: massA, velocity: closingSpeed }, b: { mass: massB, velocity: 0 }, restitution: 0 });
    if (massA === massB) return { changesMore: "alike" };
    return { changesMore: Math.abs(deltaV.a) > Math.abs(deltaV.b) === massA < massB ? "lighter" : "heavier" };
  },
  claims: {
    lighterChangesMore: {
      when: ({ inputs }) => inputs.massA < inputs.massB,
      margin: ({ outputs }) => outputs.changeA - outputs.changeB,
    },
  },
});
\`\`\`

A trolley of [900 kg](input:massA) rolls at [54.0 km/h](input:closingSpeed) into one of [1800 kg](input:massB) that stands still.
They stick together.

::: predict changesMore
Which of the two changes its velocity more?

- lighter: The lighter one
- heavier: The heavier one
- alike: Both change alike
:::

::: reveal
The first loses [36.0 km/h](output:changeA), the second gains [18.0 km/h](output:changeB): [the lighter](output:changesMore) changes more.
[Both push equally hard, so the lighter one gives way further](claim:lighterChangesMore).
:::

::: limits
They meet on one line, and for so short a time that nothing else can push.
:::

::: sources
- derived
:::
`;

export const newLesson = (title: string, folder: string): { readonly path: string } | { readonly problem: string } => {
  const plain = title.trim().replace(/\s+/g, " ");
  if (!/[A-Za-z]/.test(plain)) return { problem: 'a lesson needs a title, such as npm run new -- "A push has two ends"' };
  const slug = anchorOf(plain).replace(/^[^a-z]+/, "");
  const path = join(folder, `${slug}.md`);
  if (existsSync(path)) return { problem: `${named(path)} is there already; choose another title` };
  mkdirSync(folder, { recursive: true });
  writeFileSync(path, TEMPLATE(plain));
  return { path: named(path) };
};
