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
