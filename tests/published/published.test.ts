// Every row of every lib/<topic>/checks.yaml: the kernel, called with the row's inputs, gives what is published, or what is true
// where the printed figure is wrong. The page "How we know" is made of the same evaluation.
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { evaluateRow, rowsOf, topicsWithChecks } from "../../build/evidence.ts";

const HOME = fileURLToPath(new URL("../..", import.meta.url));
const STATUSES = ["read", "second-hand", "from memory", "common practice", "derived"];
const topics = topicsWithChecks(HOME);
const all = topics.flatMap((topic) => rowsOf(HOME, topic));

test("every row has an id of its own, a source and one of the statuses", () => {
  const ids = all.map((row) => row.id);
  expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([]);
  expect(ids.length).toBeGreaterThan(0);
  for (const row of all) {
    expect(row.source, row.id).toBeTruthy();
    expect(STATUSES, row.id).toContain(row.status);
  }
});

describe.each(topics)("lib/%s/checks.yaml", (topic) => {
  test.each(rowsOf(HOME, topic).map((row) => [row.id, row.kernel, row] as const))("%s: %s(…) agrees with its source", (_, kernel, row) => {
    expect(Object.keys(row.tolerance).sort()).toEqual(Object.keys(row.published).sort());
    for (const { output, ours, expected, tolerance, within } of evaluateRow(row, topic)) expect(within, `${kernel}: ${output}: got ${ours}, expected ${expected} within ${tolerance}`).toBe(true);
    for (const [output, target] of Object.entries(row.corrected ?? {})) expect(row.published[output], `${output} is corrected to itself`).not.toBe(target);
  });
});
