import { describe, expect, it } from "vitest";
import { heightsFromSpots } from "../../../src/geometry/height-tin.ts";
import { latticeOver } from "../../../src/geometry/lattice.ts";
import { planFiles, planInputs } from "../../../src/index.ts";
import { geojsonInput } from "../../support/planning.ts";
import { seeded } from "../../support/seeded.ts";
import { GARDEN, grid } from "./garden.ts";

const box = { minE: -10, minN: -10, maxE: 10, maxN: 10 };

describe("heights between surveyed points", () => {
  it("are exact on a plane, whatever the points; unknown outside them", () => {
    const random = seeded(7);
    const spots: number[] = [-14, -14, 0, 14, -14, 0, 14, 14, 0, -14, 14, 0];
    for (let i = 0; i < 60; i++) spots.push(20 * random() - 10, 20 * random() - 10, 0);
    for (let i = 0; i < spots.length; i += 3)
      spots[i + 2] = 5 + 0.3 * spots[i]! - 0.2 * spots[i + 1]!;
    const lattice = latticeOver(box, 0.5);
    const heights = heightsFromSpots(Float64Array.from(spots), lattice);
    heights.forEach((height, i) => {
      const e = lattice.westM + (i % lattice.columns) * 0.5;
      const n = lattice.northM - Math.floor(i / lattice.columns) * 0.5;
      expect(height).toBeCloseTo(5 + 0.3 * e - 0.2 * n, 9);
    });
    const half = heightsFromSpots(Float64Array.of(-5, -5, 1, 5, -5, 1, 0, 5, 1), lattice);
    const known = half.filter((height) => !Number.isNaN(height)).length;
    // A triangle of 50 m² has some 200 nodes of a quarter of a square metre each.
    expect(known).toBeGreaterThan(180);
    expect(known).toBeLessThan(235);
  });

  it("are left out in triangles with a side over 50 m", () => {
    const far = heightsFromSpots(
      Float64Array.of(-60, -60, 1, 60, -60, 1, 0, 60, 1),
      latticeOver(box, 1),
    );
    expect(far.every(Number.isNaN)).toBe(true);
  });
});

describe("a plan on the survey's own heights", () => {
  const at = (e: number, n: number, z?: number) => [
    ...grid.inverse([e, n]),
    ...(z === undefined ? [] : [z]),
  ];
  const point = (e: number, n: number, z: number) => ({
    type: "Feature" as const,
    properties: { role: "control" },
    geometry: { type: "Point" as const, coordinates: at(e, n, z) },
  });
  const contour = (e: number, elevation: number) => ({
    type: "Feature" as const,
    properties: { role: "control", elevation },
    geometry: { type: "LineString" as const, coordinates: [at(e, -12), at(e, 12)] },
  });
  const planned = async (features: Parameters<typeof geojsonInput>[0]) => {
    const outcome = await planInputs([GARDEN, geojsonInput(features, "heights.geojson")]);
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const { summary } = planFiles(outcome.value);
    return { summary, codes: outcome.value.findings.map((one) => one.code) };
  };

  // Up to the east by 25 %: the wire is 29.4 m by 17.4 m, its runs north, the bed's ring 4.6 m by 3.6 m.
  it.each([
    [
      "points",
      [-18, -6, 6, 18].flatMap((e) => [-12, 0, 12].map((n) => point(e, n, 60 + 0.25 * e))),
    ],
    [
      "contours with an attribute",
      [-18, -14, -10, -6, -2, 2, 6, 10, 14, 18].map((e) => contour(e, 60 + 0.25 * e)),
    ],
  ])("takes %s", async (_, features) => {
    const { summary, codes } = await planned(features);
    expect(codes).toContain("TERRAIN_FROM_SURVEY");
    expect(codes).not.toContain("LINE_DOES_NOT_FIT");
    expect(summary.terrain).toMatchObject({ from: "the survey", wire_without_height_m: 0 });
    const { length_m: flatM, ground_length_m: groundM } = summary.loops[0]!;
    const eastM = 2 * 29.4 + 2 * 4.6;
    // Pegs may cut corners by up to a decimetre.
    expect(groundM! - flatM).toBeCloseTo(eastM * (Math.hypot(1, 0.25) - 1), 1);
  });

  it("does not take a few benchmarks for the ground", async () => {
    const { summary, codes } = await planned([
      point(-14, -8, 60),
      point(-12, -8, 61),
      point(-13, -6, 60),
    ]);
    expect(codes).toContain("TERRAIN_SURVEY_SPARSE");
    expect(summary.terrain).toBeNull();
  });
});
