import { defineConfig } from "vitest/config";

/** The quick tests of the judge, for `npm run mutate`: each takes milliseconds. */
export default defineConfig({
  test: { include: ["tests/check/rules/**/*.test.ts"], testTimeout: 120_000 },
});
