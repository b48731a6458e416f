import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../../src/geometry/engine.ts";
import { areasAbove } from "../../../src/geometry/level-areas.ts";
import { totalAreaM2 } from "../../../src/geometry/rings.ts";
import { made } from "./garden.ts";
import { type Ground, gridText, latticeOf, rasterFile } from "./rasters.ts";

beforeAll(() => loadEngine());

describe("areas above a level", () => {
  const above = (ground: Ground, level: number, stepM: number) => {
    const lattice = latticeOf(ground, stepM);
    return areasAbove({ ...lattice, values: lattice.heightsM }, level);
  };

  it("is exact for a plane: half of the square, and a corner of it", () => {
    expect(totalAreaM2(above((e) => e, 0.25, 1))).toBeCloseTo(49.75 * 100, 2);
    // e + n > 80 in a square of 100 m round the origin: a triangle with legs of 20 m.
    expect(totalAreaM2(above((e, n) => e + n, 80, 1))).toBeCloseTo(200, 2);
  });

  it("is a disc for a cone, within 0.1 %, in one piece; a ring for a crater", () => {
    const disc = above((e, n) => 30 - Math.hypot(e, n), 10, 0.5);
    expect(disc).toHaveLength(1);
    expect(totalAreaM2(disc) / (Math.PI * 400)).toBeCloseTo(1, 3);
    const [ring] = above((e, n) => -Math.abs(Math.hypot(e, n) - 20), -5, 0.5);
    expect(ring!.holes).toHaveLength(1);
    expect(totalAreaM2([ring!]) / (Math.PI * (625 - 225))).toBeCloseTo(1, 3);
  });

  it("leaves out what is not known", () => {
    const known = above((e, n) => (e > 0.5 ? Number.NaN : 50 + 0 * n), 10, 1);
    expect(totalAreaM2(known)).toBeCloseTo(5000, 2);
  });
});

// The garden is 30 m by 18 m, its wire 0.30 m inside; the medium machine climbs 35 % and bears a
// fall of 20 % at an edge. The bed of 4 m by 3 m in its middle has its wire 0.30 m outside.
describe("slopes of a plan", () => {
  const planOn = (ground: Ground) => made(rasterFile(gridText(ground)));
  const kinds = (plan: { features: { properties: { kind: string } }[] }, kind: string) =>
    plan.features.filter((one) => one.properties.kind === kind);

  it("finds nothing on a gentle slope", async () => {
    const { summary, codes, plan } = await planOn((x, y) => 50 + 0.1 * x + 0.1 * y);
    expect(summary.terrain).toMatchObject({ steep_m2: 0, steepest_percent: null });
    expect(summary.terrain).toMatchObject({ edge_falls_m: 0, edge_fall_most_percent: null });
    expect(codes).not.toContain("GROUND_STEEP");
    expect(codes).not.toContain("EDGE_FALLS_AWAY");
    expect(kinds(plan, "steep-area")).toEqual([]);
    expect(summary.cautions.map((one) => one.code)).not.toContain("STEEP_GROUND");
  });

  it("tells a bank of 40 % from its foot on, within a cell, and the edge above it", async () => {
    const { summary, codes, plan } = await planOn((x) => 50 - 0.4 * Math.max(0, x - 6));
    // East of x = 6 the wire encloses 8.7 m by 17.4 m; east of x = 7, 7.7 m.
    expect(summary.terrain!.steep_m2).toBeGreaterThan(7.7 * 17.4 - 4);
    expect(summary.terrain!.steep_m2).toBeLessThan(8.7 * 17.4 + 4);
    expect(summary.terrain!.steepest_percent).toBeCloseTo(40, 0);
    // Only the eastern edge falls outwards; the other two run along the bank's fall.
    expect(summary.terrain!.edge_falls_m).toBeGreaterThan(16.3);
    expect(summary.terrain!.edge_falls_m).toBeLessThan(18);
    expect(summary.terrain!.edge_fall_most_percent).toBeCloseTo(40, 0);
    expect(codes).toEqual(expect.arrayContaining(["GROUND_STEEP", "EDGE_FALLS_AWAY"]));
    expect(summary.cautions.map((one) => one.code)).toContain("STEEP_GROUND");
    expect(kinds(plan, "steep-area")).toHaveLength(1);
    expect(kinds(plan, "edge-fall")).toHaveLength(1);
  });

  it("knows the outside of boundary and island, and that paired runs have none", async () => {
    // Up to the east by 30 %: the western edge falls outwards (17.4 m), and so does the wire east
    // of the bed (3.6 m), whose outside is the bed. The run to the bed goes across the slope.
    const { summary, plan } = await planOn((x) => 50 + 0.3 * x);
    expect(kinds(plan, "paired-run")).toHaveLength(1);
    expect(summary.terrain!.edge_falls_m).toBeGreaterThan(17.4 + 3.6 - 1.5);
    expect(summary.terrain!.edge_falls_m).toBeLessThan(17.4 + 3.6 + 1);
    expect(summary.terrain!.edge_fall_most_percent).toBeCloseTo(30, 0);
    expect(summary.terrain!.steep_m2).toBe(0);
  });

  it("takes the limits from the profile", async () => {
    const { result } = await planOn(() => 50);
    expect(result.plan.profile.terrain).toEqual({ slopeMaxPercent: 35, edgeSlopeMaxPercent: 20 });
  });
});
