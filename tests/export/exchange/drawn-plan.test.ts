/** Features of a plan as writers take them: shapes, columns, cells of kinds that are ours and others. */
import type { Geometry } from "geojson";
import { describe, expect, it } from "vitest";
import {
  byKind,
  cellOf,
  columnsOf,
  drawnPlan,
  type PlanFeature,
  polygonsOf,
  shapeOf,
} from "../../../src/export/exchange/drawn-plan.ts";
import { linesOf } from "../../../src/model/lines-of.ts";

const WGS84 = { epsg: 4326, fromWgs84: () => [0, 0] } as never;
const SHIFTED = { epsg: 3857, fromWgs84: (x: number, y: number) => [x + 100, y + 200] } as never;
const point: Geometry = { type: "Point", coordinates: [1, 2] };
const ring = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 0],
];
const draw = (features: readonly unknown[], crs = WGS84) =>
  drawnPlan("Yard", features as PlanFeature[], crs).features;
const one = (geometry: Geometry | null, kind = "other") =>
  draw([{ geometry, properties: { kind } }])[0]!;

describe("features", () => {
  it("are in the coordinates that are to be written", () => {
    expect(draw([{ geometry: point, properties: { kind: "peg" } }], SHIFTED)[0]!.geometry).toEqual({
      type: "Point",
      coordinates: [101, 202],
    });
    expect(one(point).geometry).toBe(point);
    expect(one(null).geometry).toBeNull();
  });

  it("without properties are of no kind and no style", () => {
    expect(draw([{ geometry: point, properties: null }])[0]).toMatchObject({
      kind: "undefined",
      style: undefined,
      properties: {},
    });
  });

  it("are sorted by kind in the order in which kinds come", () => {
    const features = draw(
      ["b", "a", "b"].map((kind) => ({ geometry: point, properties: { kind } })),
    );
    expect([...byKind(features)].map(([kind, list]) => [kind, list.length])).toEqual([
      ["b", 2],
      ["a", 1],
    ]);
  });
});

describe("shapes", () => {
  it("of our kinds go by their table, of others by what they hold", () => {
    expect(shapeOf(one(null, "peg"))).toBe("point");
    expect(shapeOf(one(point))).toBe("point");
    expect(shapeOf(one({ type: "MultiPoint", coordinates: [[1, 2]] }))).toBe("point");
    expect(shapeOf(one({ type: "LineString", coordinates: ring }))).toBe("line");
    expect(shapeOf(one({ type: "MultiLineString", coordinates: [ring] }))).toBe("line");
    expect(shapeOf(one({ type: "Polygon", coordinates: [ring] }))).toBe("area");
    expect(shapeOf(one(null))).toBeUndefined();
    expect(shapeOf(one({ type: "GeometryCollection", geometries: [point] }))).toBeUndefined();
  });

  it("lines are lines or the rings of areas; polygons are polygons alone", () => {
    expect(linesOf({ type: "LineString", coordinates: ring })).toEqual([ring]);
    expect(linesOf({ type: "MultiLineString", coordinates: [ring, ring] })).toHaveLength(2);
    expect(linesOf({ type: "Polygon", coordinates: [ring] })).toEqual([ring]);
    expect(linesOf({ type: "MultiPolygon", coordinates: [[ring], [ring]] })).toHaveLength(2);
    expect(linesOf(point)).toEqual([]);
    expect(polygonsOf({ type: "Polygon", coordinates: [ring] })).toEqual([[ring]]);
    expect(polygonsOf({ type: "MultiPolygon", coordinates: [[ring]] })).toEqual([[ring]]);
    expect(polygonsOf(point)).toEqual([]);
  });
});

describe("tables", () => {
  const features = draw([
    { geometry: point, properties: { kind: "peg", number: "A1", chainage_m: 0, note: "x" } },
    { geometry: point, properties: { kind: "other", note: 7, is_on: true, list: [1], none: null } },
    { geometry: point, properties: { kind: "other", count: 3, list: undefined } },
  ]);

  it("have our columns first with their types, then others by their values", () => {
    expect(columnsOf(features)).toEqual([
      { name: "kind", type: "text" },
      { name: "number", type: "text" },
      { name: "chainage_m", type: "number" },
      // Text in one kind, a number in another.
      { name: "note", type: "text" },
      { name: "is_on", type: "flag" },
      { name: "list", type: "data" },
      { name: "count", type: "number" },
    ]);
  });

  it("hold what fits their type, and nothing else", () => {
    const cell = (value: unknown, type: "number" | "flag" | "text" | "data") =>
      cellOf({ a: value }, { name: "a", type });
    expect([cell(3, "number"), cell("3", "number"), cell(Number.NaN, "number")]).toEqual([
      3,
      null,
      null,
    ]);
    expect([cell(true, "flag"), cell("yes", "flag")]).toEqual([true, null]);
    expect([cell(3, "text"), cell("a", "text")]).toEqual(["3", "a"]);
    expect([cell([1, { b: 2 }], "data"), cell(null, "text"), cell(undefined, "data")]).toEqual([
      '[1,{"b":2}]',
      null,
      null,
    ]);
    expect(cell("a\ud800b", "text")).toBe("a\ufffdb");
  });
});
