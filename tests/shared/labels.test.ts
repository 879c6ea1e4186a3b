/** Labels stand inside sentences that the pages put together: "this needs that …", "most by the …". */
import { describe, expect, it } from "vitest";
import { readLessons } from "../../build/readLessons.ts";
import { lessonAtScales } from "./lessonAtScales.ts";

const slugs = readLessons("lessons").map(({ slug }) => slug);

describe.each(slugs)("labels of %s", (slug) => {
  it("say under `where` what is needed, not what went wrong", async () => {
    for (const [scale, { where }] of Object.entries(await lessonAtScales(slug)))
      // up to the first mark; what follows may say what comes of it else
      for (const label of Object.keys(where)) expect(label.split(/[;:,]/)[0], scale).not.toMatch(/\b(never|not|no|less than|stops? (one|both)|too)\b/);
  });

  it("name each input that has a give or take by a noun that takes an article", async () => {
    for (const [scale, { inputs }] of Object.entries(await lessonAtScales(slug)))
      for (const [name, input] of Object.entries(inputs)) if (input.type === "quantity" && input.give > 0) expect(input.label, `${name} at ${scale}`).not.toMatch(/^(how|from|to|what|which|whether|where|when|as|of|in|on|by|with) /i);
  });
});
