import { describe, expect, it } from "vitest";
import type { AreaM, RingM } from "../../src/model/geometry.ts";
import { randomDrives } from "../../src/physics/coverage/drive.ts";
import { LawnCells } from "../../src/physics/coverage/lawn-cells.ts";
import { RayRoom } from "../../src/physics/coverage/ray-room.ts";
import { seeded } from "../../src/physics/coverage/seeded.ts";

const ring = (...points: [number, number][]): RingM => new Float64Array(points.flat());
const disc = (radiusM: number, count: number): RingM =>
  ring(
    ...Array.from({ length: count }, (_, i): [number, number] => {
      const angle = (2 * Math.PI * i) / count;
      return [radiusM * Math.cos(angle), radiusM * Math.sin(angle)];
    }),
  );

/** Mean length of many drives, and drives that slipped out. */
function meanDrive(area: AreaM, start: [number, number], drives: number) {
  let [count, sum] = [0, 0];
  const slips = randomDrives(new RayRoom([area]), start, seeded(5), (_from, _to, lengthM) => {
    sum += lengthM;
    return ++count < drives;
  });
  return { mean: sum / count, slips };
}

// Mean chord of random straight lines: π A / P for a convex region (Cauchy–Crofton; Santaló, Integral
// Geometry and Geometric Probability, 1976, from memory). For pieces of lines from edge to edge it
// holds in any region: both sides count lines by the edge that they leave from.
describe("mean drive against π A / P, within 1 %", () => {
  const square = ring([0, 0], [10, 0], [10, 10], [0, 10]);
  const ell = ring([0, 0], [12, 0], [12, 4], [5, 4], [5, 11], [0, 11]);
  const hole = new Float64Array([4, 4, 4, 6, 6, 6, 6, 4]);
  const cases: [string, AreaM, number, number][] = [
    [
      "disc",
      { shell: disc(7, 360), holes: [] },
      360 * 0.5 * 49 * Math.sin(Math.PI / 180),
      720 * 7 * Math.sin(Math.PI / 360),
    ],
    ["square", { shell: square, holes: [] }, 100, 40],
    ["L", { shell: ell, holes: [] }, 12 * 4 + 5 * 7, 46],
    ["square with a square bed", { shell: square, holes: [hole] }, 96, 48],
  ];
  for (const [name, area, areaM2, edgeM] of cases) {
    it(name, () => {
      const start: [number, number] = name === "disc" ? [0.1, 0.2] : [1.1, 2.2];
      const { mean, slips } = meanDrive(area, start, 200_000);
      expect(Math.abs(mean / ((Math.PI * areaM2) / edgeM) - 1)).toBeLessThan(0.01);
      expect(slips).toBe(0);
    });
  }
});

describe("cells of a lawn", () => {
  it("cover its area, holes left out", () => {
    const shell = ring([0, 0], [10, 0], [10, 6], [0, 6]);
    const hole = new Float64Array([2, 2, 2, 4, 5, 4, 5, 2]);
    const cells = new LawnCells([{ shell, holes: [hole] }], 0.1);
    expect(cells.total).toBe(6000 - 600);
  });

  it("a straight drive mows its length times the width of the blades", () => {
    const cells = new LawnCells(
      [{ shell: ring([0, 0], [10, 0], [10, 6], [0, 6]), holes: [] }],
      0.02,
    );
    cells.mow(0, [1, 1], [8, 4], 0.3);
    const expected = Math.hypot(7, 3) * 0.3;
    expect(Math.abs((cells.reached * 0.0004) / expected - 1)).toBeLessThan(0.02);
    const before = cells.reached;
    cells.mow(1, [1, 1], [8, 4], 0.3);
    expect(cells.reached).toBe(before);
    expect(cells.largestMissed()!.areaM2).toBeGreaterThan(20);
  });

  it("with random drives k passes leave about e^-k uncut (Poisson; elementary)", () => {
    const area = { shell: disc(8, 120), holes: [] };
    const cells = new LawnCells([area], 0.1);
    const areaM2 = Math.PI * 64;
    let [drive, drivenM] = [0, 0];
    randomDrives(new RayRoom([area]), [0, 0.1], seeded(3), (from, to, lengthM) => {
      cells.mow(drive++, from, to, 0.2);
      drivenM += lengthM;
      return (drivenM * 0.2) / areaM2 < 2;
    });
    expect(Math.abs(1 - cells.reached / cells.total - Math.exp(-2))).toBeLessThan(0.03);
  });
});
