import { defineConfig } from "vitest/config";

/**
 * The quick tests of the planner's decisions, for `npm run mutate`. Those that plan estates and random
 * sites take too long to be run for every change: `tests/plan/split`, `guide`, `run-ground`, `opening`.
 */
const QUICK = [
  "words",
  "small-parts",
  "pencil-sites",
  "decisions",
  "islands",
  "beside-peg",
  "sound-wire",
  "station",
];

export default defineConfig({
  test: { include: QUICK.map((name) => `tests/plan/${name}.test.ts`), testTimeout: 120_000 },
});
