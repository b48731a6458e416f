/** Invented organic sites anywhere on earth, turned anyhow: every plan passes every measurement. */
import { describe, expect, it } from "vitest";
import { attempt, geojsonInput, judgeWritten } from "../support/planning.ts";
import { randomSite } from "../support/random-site.ts";

const PROFILES = ["small", "medium", "large"] as const;
const SEEDS = Array.from({ length: 32 }, (_, i) => i + 1);

describe.each([
  ["lawn and beds, every edge of one kind", true],
  ["beds, ponds, huts, gravel, trees, paths and edge lines", false],
])("%s", (_, oneKind) => {
  it.each(SEEDS)("seed %i", async (seed) => {
    const { features, truth } = randomSite(seed, { oneKind });
    const profile = PROFILES[seed % PROFILES.length]!;
    const made = await attempt([geojsonInput(features)], { profile });
    if (!made.ok) throw new Error(`not planned: ${made.problem.code}`);
    // Where all edges are of one kind the set-in is held strictly; else see the judge's rule.
    const { breaches, figures } = judgeWritten(made, truth, oneKind ? { relaxWithinM: 0 } : {});
    expect(breaches.slice(0, 5)).toEqual([]);
    expect(figures.setinMarginM).toBeGreaterThanOrEqual(-0.01);
    expect(made.summary.findings.filter((finding) => finding.severity === "error")).toEqual([]);
  });
});
