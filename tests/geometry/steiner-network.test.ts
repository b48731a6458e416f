import { describe, expect, it } from "vitest";
import { discRing } from "../../src/geometry/rings.ts";
import { spanningNetwork } from "../../src/geometry/spanning-network.ts";
import { fermatPoint, STEINER_RATIO, steinerNetwork } from "../../src/geometry/steiner-network.ts";
import type { PointM } from "../../src/model/geometry.ts";
import { seeded } from "../support/seeded.ts";

const TINY_M = 1e-5;
const OPTIONS = { barred: () => false, worthM: 1e-6 };

function networkOver(points: readonly PointM[], size: number) {
  const rings = points.map(([e, n]) => discRing([e * size, n * size], TINY_M));
  const links = spanningNetwork(rings);
  const treeM = links.reduce((sum, link) => sum + link.lengthM, 0);
  return { treeM, steiner: steinerNetwork(rings, links, OPTIONS) };
}

describe("fermatPoint", () => {
  it("sees the three corners under 120° (definition)", () => {
    const corners: PointM[] = [
      [0, 0],
      [5, 1],
      [2, 4],
    ];
    const at = fermatPoint(corners[0]!, corners[1]!, corners[2]!);
    const angles = corners.map(([e, n]) => Math.atan2(n - at[1], e - at[0])).sort((a, b) => a - b);
    expect(angles[1]! - angles[0]!).toBeCloseTo((2 * Math.PI) / 3, 9);
    expect(angles[2]! - angles[1]!).toBeCloseTo((2 * Math.PI) / 3, 9);
  });

  it("is a corner of 120° or more", () => {
    expect(fermatPoint([0, 0], [10, 1], [-10, 1])).toEqual([0, 0]);
  });
});

describe("steinerNetwork", () => {
  // Gilbert & Pollak, Steiner minimal trees, SIAM J. Appl. Math. 16 (1968) (from memory).
  it("joins the corners of a unit square by 1 + √3, where the tree has 3", () => {
    const corners: PointM[] = [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ];
    const { treeM, steiner } = networkOver(corners, 100);
    expect(treeM / 100).toBeCloseTo(3, 5);
    expect(steiner.lengthM / 100).toBeGreaterThan((1 + Math.sqrt(3)) * 0.99999);
    expect(steiner.lengthM / 100).toBeLessThan((1 + Math.sqrt(3)) * 1.005);
  });

  it("joins an equilateral triangle by √3, where the tree has 2", () => {
    const corners: PointM[] = [
      [0, 0],
      [1, 0],
      [0.5, Math.sqrt(3) / 2],
    ];
    const { treeM, steiner } = networkOver(corners, 100);
    expect(treeM / 100).toBeCloseTo(2, 5);
    expect(steiner.lengthM / 100).toBeCloseTo(Math.sqrt(3), 4);
  });

  it("needs no junction in a regular hexagon: five sides are shortest", () => {
    const corners = Array.from(
      { length: 6 },
      (_, i): PointM => [Math.cos((Math.PI * i) / 3), Math.sin((Math.PI * i) / 3)],
    );
    const { steiner } = networkOver(corners, 100);
    expect(steiner.lengthM / 100).toBeCloseTo(5, 3);
  });

  it("is never longer than the tree, nor shorter than the proved ratio allows", () => {
    const random = seeded(5);
    let saved = 0;
    for (let k = 0; k < 60; k++) {
      const points = Array.from(
        { length: 3 + Math.floor(random() * 20) },
        (): PointM => [random(), random()],
      );
      const { treeM, steiner } = networkOver(points, 100);
      expect(steiner.lengthM).toBeLessThanOrEqual(treeM + 1e-9);
      expect(steiner.lengthM).toBeGreaterThanOrEqual(STEINER_RATIO * treeM - 1e-6);
      expect(steiner.edges).toHaveLength(points.length - 1 + steiner.junctions.length);
      saved += 1 - steiner.lengthM / treeM;
    }
    // Random points in a square save about 3 % (Gilbert & Pollak's own experiments, from memory).
    expect(saved / 60).toBeGreaterThan(0.02);
    expect(saved / 60).toBeLessThan(0.045);
  });
});
