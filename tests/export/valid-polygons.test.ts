import Coordinate from "jsts/org/locationtech/jts/geom/Coordinate.js";
import GeometryFactory from "jsts/org/locationtech/jts/geom/GeometryFactory.js";
import IsValidOp from "jsts/org/locationtech/jts/operation/valid/IsValidOp.js";
import { beforeAll, describe, expect, it } from "vitest";
import { polygonInDegrees } from "../../src/export/degrees.ts";
import { validPolygons } from "../../src/export/valid-polygons.ts";
import { loadEngine } from "../../src/geometry/engine.ts";
import type { AreaM } from "../../src/model/geometry.ts";
import { sampleGrid } from "./sample-plan.ts";

beforeAll(() => loadEngine());

const grid = sampleGrid();
const area = (...shell: number[]): AreaM => ({ shell: Float64Array.from(shell), holes: [] });

/** Judged by jsts directly, not by way of the project's own check. */
function isValid(polygons: readonly (readonly (readonly number[])[])[][]): boolean {
  const factory = new GeometryFactory();
  const parts = polygons.map((rings) => {
    const [shell, ...holes] = rings.map((ring) =>
      factory.createLinearRing(ring.map(([x, y]) => new Coordinate(x!, y!))),
    );
    return factory.createPolygon(shell!, holes);
  });
  return new IsValidOp(factory.createMultiPolygon(parts)).isValid();
}

function signedArea(ring: readonly (readonly number[])[]): number {
  const [x0, y0] = ring[0] as [number, number];
  let twice = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const [[x1, y1], [x2, y2]] = [ring[i], ring[i + 1]] as [[number, number], [number, number]];
    twice += (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
  }
  return twice / 2;
}

/** A square with a comb of slits so thin that rounding to 0.1 mm closes or crosses them. */
function comb(): AreaM {
  const shell = [0, 0, 10, 0, 10, 10];
  for (let i = 99; i >= 1; i--) {
    const east = i / 10;
    const thin = 0.00002 * (1 + (i % 5));
    shell.push(east + thin, 10, east + 0.013, 2.1, east - thin, 10);
  }
  return area(...shell, 0, 10);
}

describe("validPolygons", () => {
  it("leaves sound areas as they are", () => {
    const square = area(0, 0, 5, 0, 5, 5, 0, 5);
    const written = validPolygons([square], grid);
    expect(written).toEqual({ polygons: [polygonInDegrees(square, grid)], notDrawnM2: 0 });
  });

  it("mends slits that rounding folds over", () => {
    const raw = polygonInDegrees(comb(), grid);
    expect(isValid([raw])).toBe(false);
    const { polygons } = validPolygons([comb()], grid);
    expect(polygons.length).toBeGreaterThan(0);
    expect(isValid(polygons)).toBe(true);
  });

  it("draws neighbours that share an edge apart, as a valid multipolygon", () => {
    const { polygons, notDrawnM2 } = validPolygons(
      [area(0, 0, 5, 0, 5, 5, 0, 5), area(5, 1, 9, 1, 9, 4, 5, 4)],
      grid,
    );
    expect(isValid(polygons)).toBe(true);
    expect(notDrawnM2).toBeLessThan(0.005);
  });

  it("draws no ring that rounding turns over", () => {
    // Thin anticlockwise triangles some tenths of a millimetre long, in every direction.
    for (let i = 0; i < 500; i++) {
      const [e, n, turn] = [i * 0.137, i * 0.0731, i * 0.1];
      const at = (along: number, across: number) => [
        e + along * Math.cos(turn) - across * Math.sin(turn),
        n + along * Math.sin(turn) + across * Math.cos(turn),
      ];
      const sliver = area(...at(0, 0), ...at(0.0006, 0), ...at(0.0003, 0.00002));
      const { polygons } = validPolygons([sliver], grid);
      for (const [shell] of polygons) expect(signedArea(shell!)).toBeGreaterThan(0);
    }
  });

  it("says how much a sliver held that cannot be drawn at all", () => {
    const { polygons, notDrawnM2 } = validPolygons([area(0, 0, 10, 0, 10, 0.00002)], grid);
    expect(polygons).toEqual([]);
    expect(notDrawnM2).toBeCloseTo(0.0001, 9);
  });
});

describe("validPolygons of nested areas", () => {
  it("keeps an area that lies in a hole of a broken one", () => {
    const hole = Float64Array.of(1, 0.5, 1, 1.5, 3, 1.5, 3, 0.5);
    const outer: AreaM = { ...comb(), holes: [hole] };
    const inner = area(1.5, 0.7, 2.5, 0.7, 2.5, 1.3, 1.5, 1.3);
    const { polygons, notDrawnM2 } = validPolygons([outer, inner], grid);
    expect(isValid(polygons)).toBe(true);
    expect(polygons.length).toBeGreaterThanOrEqual(2);
    // The comb's edges, 1.6 km of them, drawn an eighth of a millimetre smaller: 0.2 m².
    expect(notDrawnM2).toBeLessThan(0.21);
  });
});
