/** Reporter: counts of a run. On its own it prints them as the closing line; under tests/run.ts it hands them up. */
import type { Reporter, TestModule } from "vitest/node";

export interface Counts {
  readonly passed: number;
  readonly failed: number;
}

export const closingLine = ({ passed, failed }: Counts): string => `${passed} passed, ${failed} failed`;

/** Counts of the modules run. A file that does not load and an error outside any test are one failure each. */
export const count = (modules: readonly TestModule[], errors: readonly unknown[]): Counts => {
  let passed = 0;
  let failed = errors.length;
  for (const module of modules) {
    failed += module.errors().length;
    for (const suite of module.children.allSuites()) failed += suite.errors().length;
    for (const test of module.children.allTests()) {
      const { state } = test.result();
      if (state === "passed") passed++;
      else if (state === "failed") failed++;
    }
  }
  return { passed, failed };
};

export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    const counts = count(modules, errors);
    if (process.env["COUNTS_TO_PARENT"] && process.send) process.send(counts);
    else process.stdout.write(`\n${closingLine(counts)}\n`);
  }
}
