import { describe, expect, it } from "vitest";
import { readWkt } from "../../src/import/wkt/wkt-geometry.ts";
import { layersOf, textInput } from "./fixtures.ts";

describe("well-known text", () => {
  // OGC 06-103r4, table 6 ("Example Well-known Text Representation of Geometry").
  it.each([
    ["Point (10 10)", "Point", [10, 10]],
    [
      "LineString ( 10 10, 20 20, 30 40)",
      "LineString",
      [
        [10, 10],
        [20, 20],
        [30, 40],
      ],
    ],
    [
      "Polygon ((10 10, 10 20, 20 20, 20 15, 10 10))",
      "Polygon",
      [
        [
          [10, 10],
          [10, 20],
          [20, 20],
          [20, 15],
          [10, 10],
        ],
      ],
    ],
    [
      "MultiPoint ((10 10), (20 20))",
      "MultiPoint",
      [
        [10, 10],
        [20, 20],
      ],
    ],
    [
      "MULTIPOINT (10 10, 20 20)",
      "MultiPoint",
      [
        [10, 10],
        [20, 20],
      ],
    ],
    [
      "MultiLineString ((10 10, 20 20), (15 15, 30 15))",
      "MultiLineString",
      [
        [
          [10, 10],
          [20, 20],
        ],
        [
          [15, 15],
          [30, 15],
        ],
      ],
    ],
    ["Point Z (10 10 5)", "Point", [10, 10, 5]],
    ["PointZ(10 10 5)", "Point", [10, 10, 5]],
    ["Point ZM (10 10 5 40)", "Point", [10, 10, 5]],
    ["Point M (10 10 40)", "Point", [10, 10]],
    ["SRID=4326;POINT(-1.5e1 +.5)", "Point", [-15, 0.5]],
  ])("%s", (text, type, coordinates) => {
    expect(readWkt(text)).toEqual({ kind: "geometry", geometry: { type, coordinates } });
  });

  it("a collection, and empty shapes", () => {
    expect(readWkt("GeometryCollection (POINT (10 10), LINESTRING (15 15, 20 20))")).toMatchObject({
      geometry: { geometries: [{ type: "Point" }, { type: "LineString" }] },
    });
    expect(readWkt("POLYGON EMPTY")).toEqual({ kind: "geometry", geometry: null });
    expect(readWkt("POINT Z EMPTY")).toEqual({ kind: "geometry", geometry: null });
  });

  it.each([
    "",
    "POINT",
    "POINT(1)",
    "POINT(1 2",
    "POINT(1 2) x",
    "POINT(1 2 3 4 5)",
    "CIRCULARSTRING(0 0, 1 1, 2 0)",
    "LINESTRING(1 2,)",
    "=1+1",
    "GEOMETRYCOLLECTION(".repeat(1000),
  ])("is refused with a reason where it is broken: %s", (text) => {
    const read = readWkt(text);
    expect(read.kind).toBe("damaged");
    expect(read.kind === "damaged" && read.why.length).toBeGreaterThan(5);
  });
});

describe("a table with shapes", () => {
  const rows = [
    "wkt;name;crs",
    '"POLYGON((0 0,4 0,4 4,0 0))";"Lawn; north";EPSG:32633',
    ";nowhere;EPSG:32633",
    "POINT(1);broken;EPSG:32633",
  ];

  it("has attributes, a reference system and findings", async () => {
    const { layers, codes } = await layersOf(textInput("garden.csv", rows.join("\r\n")));
    expect(layers[0]).toMatchObject({
      format: "wkt-table",
      layer: "garden",
      crs: { kind: "epsg", code: 32633 },
      features: [
        { number: 1, geometry: { type: "Polygon" }, properties: { name: "Lawn; north" } },
        { number: 2, geometry: null },
      ],
    });
    expect(codes).toContain("GEOMETRY_DAMAGED");
    expect(codes).toContain("GEOMETRY_MISSING");
  });

  it("is told from survey points, and says no system where rows differ", async () => {
    const text = "WKT,easting,northing,crs\nPOINT(1 2),1,2,EPSG:1\nPOINT(1 2),1,2,EPSG:2\n";
    const { layers } = await layersOf(textInput("p.csv", text));
    expect(layers[0]).toMatchObject({ format: "wkt-table", crs: { kind: "none" } });
    const points = await layersOf(textInput("p.csv", "number,easting,northing\n1,5,6\n2,6,7\n"));
    expect(points.layers[0]!.format).toBe("survey-points");
  });
});
