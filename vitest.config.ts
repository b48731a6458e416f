import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    testTimeout: 60_000,
    // By `npm run coverage`: of what the tests run in their own process, so not of `cli`.
    coverage: {
      provider: "v8",
      include: ["src/**/*.ts"],
      exclude: ["src/**/*.d.ts", "src/**/*.data.ts"],
      // A run with a failure tells its figures all the same.
      reportOnFailure: true,
      reporter: ["text-summary", "json-summary", "json"],
    },
  },
});
