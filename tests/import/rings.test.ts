import type { Position } from "geojson";
import { describe, expect, it } from "vitest";
import { groupRings } from "../../src/import/rings.ts";

/** A square ring, clockwise (a shell by the format) or anticlockwise (a hole). */
function square(x: number, y: number, size: number, clockwise = true): Position[] {
  const ring = [
    [x, y],
    [x, y + size],
    [x + size, y + size],
    [x + size, y],
    [x, y],
  ];
  return clockwise ? ring : ring.reverse();
}

describe("rings of a shapefile record", () => {
  it("pairs holes with shells in any order of the rings", () => {
    const [a, holeA] = [square(0, 0, 10), square(2, 2, 2, false)];
    const [b, holeB] = [square(20, 0, 10), square(22, 2, 2, false)];
    for (const order of [
      [a, holeA, b, holeB],
      [holeB, holeA, b, a],
      [holeA, b, a, holeB],
    ]) {
      const { geometry, contrary } = groupRings(order);
      expect(contrary).toBe(0);
      expect(geometry.type === "MultiPolygon" && new Set(geometry.coordinates)).toEqual(
        new Set([
          [a, holeA],
          [b, holeB],
        ]),
      );
    }
  });

  it("gives a hole to the island it lies in, not to the lawn round that island", () => {
    const rings = [
      square(0, 0, 100),
      square(10, 10, 50, false),
      square(20, 20, 30),
      square(25, 25, 5, false),
    ];
    const { geometry } = groupRings(rings);
    expect(geometry).toEqual({
      type: "MultiPolygon",
      coordinates: [
        [rings[0], rings[1]],
        [rings[2], rings[3]],
      ],
    });
  });

  it("tells holes by what lies inside what where the winding is wrong, and counts those rings", () => {
    const rings = [square(0, 0, 10), square(2, 2, 2)];
    expect(groupRings(rings)).toEqual({
      geometry: { type: "Polygon", coordinates: rings },
      contrary: 1,
    });
  });

  it("finds a hole whose vertices all lie on its shell", () => {
    const shell = square(0, 0, 4);
    const hole: Position[] = [
      [0, 2],
      [2, 0],
      [4, 2],
      [2, 4],
      [0, 2],
    ];
    const { geometry } = groupRings([shell, hole]);
    expect(geometry.type).toBe("Polygon");
  });
});
