import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    // A forgotten `.only` would hide the other tests.
    allowOnly: false,
    testTimeout: 20_000,
    projects: [
      {
        extends: true,
        test: {
          name: "unit",
          include: ["packages/*/src/**/*.test.ts", "apps/*/src/**/*.test.ts", "bench/**/*.test.ts"],
          setupFiles: ["tests/property-seed.ts"],
          // the packages keep no state that a test could leave behind: importing them anew for each file took most of the time
          isolate: false,
        },
      },
      {
        extends: true,
        test: {
          name: "whole",
          include: ["tests/**/*.test.ts"],
          setupFiles: ["tests/property-seed.ts"],
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
    ],
    coverage: {
      provider: "v8",
      include: ["packages/*/src/**/*.ts", "apps/*/src/**/*.ts"],
      exclude: ["**/*.test.ts", "**/testing/**", "**/index.ts"],
      reporter: ["text"],
      thresholds: { lines: 95, functions: 95, branches: 90 },
    },
  },
});
