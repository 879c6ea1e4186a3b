import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

const path = (fromRoot: string): string => fileURLToPath(new URL(`../${fromRoot}`, import.meta.url));
const shared = { root: path("."), pool: "threads" } as const;

export default defineConfig({
  root: path("."),
  cacheDir: path(".cache/vite"),
  test: {
    maxWorkers: 2, // unset, the browser files run one after another on a small machine
    reporters: ["default", path("tests/closingLine.ts")],
    projects: [
      // Kernels hold no module state, so files can share a worker.
      { test: { ...shared, name: "unit", include: ["tests/**/*.test.ts"], exclude: ["tests/pages/**"], isolate: false, testTimeout: 20_000 } },
      { test: { ...shared, name: "pages", include: ["tests/pages/**/*.test.ts"], isolate: true, testTimeout: 30_000, hookTimeout: 30_000 } },
    ],
  },
});
