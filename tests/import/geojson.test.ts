import { describe, expect, it } from "vitest";
import { fixture, layersOf, problemOf, textInput } from "./fixtures.ts";

const square = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
  [0, 0],
];
const polygon = { type: "Polygon", coordinates: [square] };
const feature = (geometry: unknown, properties: unknown = {}) => ({
  type: "Feature",
  properties,
  geometry,
});
const collection = (...features: unknown[]) => ({ type: "FeatureCollection", features });

describe("GeoJSON (RFC 7946)", () => {
  it("reads a FeatureCollection, a Feature and a bare geometry alike", async () => {
    for (const root of [collection(feature(polygon)), feature(polygon), polygon]) {
      const { layers, findings } = await layersOf(textInput("garden.geojson", root));
      expect(findings).toEqual([]);
      expect(layers).toHaveLength(1);
      expect(layers[0]).toMatchObject({
        format: "geojson",
        layer: "garden",
        featuresInFile: 1,
        crs: { kind: "wgs84", from: "RFC 7946" },
      });
      expect(layers[0]?.features[0]?.geometry).toEqual(polygon);
    }
  });

  it("splits a GeometryCollection into features of one number, with a finding", async () => {
    const { layers, codes } = await layersOf(fixture("geometrycollection.geojson"));
    expect(codes).toEqual(["COLLECTION_SPLIT"]);
    expect(layers[0]?.features.map(({ number, part }) => [number, part])).toEqual([
      [1, 1],
      [1, 2],
    ]);
    expect(layers[0]?.featuresInFile).toBe(1); // ogrinfo 3.6.2 counts 1
  });

  it("reads a file with a byte order mark", async () => {
    const { layers } = await layersOf(fixture("point_with_utf8bom.json"));
    expect(layers[0]?.features[0]?.geometry?.type).toBe("Point");
  });

  it("keeps heights, ids, field order and the layer's own name", async () => {
    const root = {
      ...collection(
        { ...feature({ type: "Point", coordinates: [1, 2, 345.6] }, { b: 1, a: 2 }), id: 7 },
        feature(null, { c: 3 }),
      ),
      name: "beds",
    };
    const { layers, codes } = await layersOf(textInput("x.geojson", root));
    expect(layers[0]?.layer).toBe("beds");
    expect(layers[0]?.fields).toEqual(["b", "a", "c"]);
    expect(layers[0]?.features[0]).toMatchObject({
      id: "7",
      geometry: { coordinates: [1, 2, 345.6] },
    });
    expect(layers[0]?.features[1]?.geometry).toBeNull();
    expect(codes).toEqual(["GEOMETRY_MISSING"]);
  });

  it("does not mind clockwise shells, open rings or missing properties", async () => {
    const clockwise = { type: "Polygon", coordinates: [[...square].reverse()] };
    const open = { type: "Polygon", coordinates: [square.slice(0, 4)] };
    const triangle = { type: "Polygon", coordinates: [square.slice(0, 3)] };
    const root = collection(feature(clockwise), feature(open), feature(triangle), {
      type: "Feature",
      geometry: polygon,
    });
    const { layers, findings } = await layersOf(textInput("x.geojson", root));
    expect(layers[0]?.features).toHaveLength(4);
    expect(findings).toEqual([]);
  });

  it("takes the legacy crs member, with a finding", async () => {
    const named = (name: string) => ({
      ...collection(feature(polygon)),
      crs: { type: "name", properties: { name } },
    });
    const cases = [
      ["urn:ogc:def:crs:EPSG::27700", { kind: "epsg", code: 27700, from: "crs member" }],
      ["EPSG:25832", { kind: "epsg", code: 25832, from: "crs member" }],
      ["urn:ogc:def:crs:EPSG:6.9:2154", { kind: "epsg", code: 2154, from: "crs member" }],
      ["http://www.opengis.net/def/crs/EPSG/0/2263", { kind: "epsg", code: 2263 }],
      ["urn:ogc:def:crs:OGC:1.3:CRS84", { kind: "wgs84" }],
    ] as const;
    for (const [name, crs] of cases) {
      const { layers, codes } = await layersOf(textInput("x.geojson", named(name)));
      expect(layers[0]?.crs).toMatchObject(crs);
      expect(codes).toEqual(["LEGACY_CRS_MEMBER"]);
    }
  });
});

describe("broken features", () => {
  it("are left out with an error, and the rest is read", async () => {
    const { layers, findings } = await layersOf(fixture("stringcoord.geojson"));
    expect(layers[0]?.features.map(({ number }) => number)).toEqual([2]);
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({
      code: "COORDINATE_NOT_A_NUMBER",
      severity: "error",
      feature: "#1",
    });
    expect(findings[0]?.message).toContain("39.36827914916011");
  });

  it.each([
    ["COORDINATE_NOT_A_NUMBER", { type: "Point", coordinates: [null, 1] }],
    ["POSITION_MALFORMED", { type: "Point", coordinates: [1] }],
    ["POSITION_MALFORMED", { type: "Polygon", coordinates: [[null]] }],
    ["TOO_FEW_POSITIONS", { type: "Polygon", coordinates: [[]] }],
    ["TOO_FEW_POSITIONS", { type: "LineString", coordinates: [[1, 2]] }],
    ["FEATURE_MALFORMED", { type: "Circle", coordinates: [1, 2] }],
    ["FEATURE_MALFORMED", { type: "Polygon" }],
  ])("%s of %j, skipped in company and a problem alone", async (code, geometry) => {
    const both = await layersOf(
      textInput("x.geojson", collection(feature(geometry), feature(polygon))),
    );
    expect(both.codes).toEqual([code]);
    expect(both.layers[0]?.featuresInFile).toBe(2);
    expect(both.layers[0]?.features).toHaveLength(1);
    const alone = await problemOf(textInput("x.geojson", feature(geometry)));
    expect(alone).toMatchObject({ code, kind: "input", file: "x.geojson" });
  });

  it("bare NaN, as some programs write it, spoils its feature and not the file", async () => {
    const text = `{"type":"FeatureCollection","features":[
      {"type":"Feature","properties":{"n":"NaN stays"},"geometry":{"type":"Point","coordinates":[NaN, 1]}},
      {"type":"Feature","properties":{"n":"NaN stays"},"geometry":{"type":"Point","coordinates":[2, 1]}}]}`;
    const { layers, codes } = await layersOf(textInput("x.geojson", text));
    expect(codes).toEqual(["COORDINATE_NOT_A_NUMBER"]);
    expect(layers[0]?.features[0]?.properties.n).toBe("NaN stays");
  });
});

describe("files that are not GeoJSON", () => {
  it.each([
    ["FILE_EMPTY", ""],
    ["FILE_EMPTY", " \n "],
    ["JSON_BROKEN", '{"type": "FeatureCollection", "features": ['],
    ["JSON_BROKEN", "lawn"],
    ["FILE_IS_WEB_PAGE", "<!DOCTYPE html><html><body>Sign in</body></html>"],
    ["NOT_GEOJSON", '{"a": 1}'],
    ["NOT_GEOJSON", "[]"],
    ["NOT_GEOJSON", "3"],
    ["NOT_GEOJSON", '{"type": "featurecollection", "features": []}'],
    ["NOT_GEOJSON", '{"type": "FeatureCollection", "features": {}}'],
    ["TOPOJSON_NOT_READ", '{"type": "Topology", "objects": {}}'],
  ])("%s: %s", async (code, text) => {
    const problem = await problemOf(textInput("site.geojson", text));
    expect(problem).toMatchObject({ code, kind: "input", file: "site.geojson" });
    expect(problem.remedy.length).toBeGreaterThan(10);
  });

  it("names line and column of broken JSON", async () => {
    const problem = await problemOf(textInput("x.json", '{\n  "type": "Feature",\n  oops\n}'));
    expect(problem.message).toContain("line 3, column 3");
  });

  it("names the formats where the ending and the content say nothing", async () => {
    const problem = await problemOf(textInput("notes.txt", "mow on Friday"));
    expect(problem.code).toBe("FORMAT_UNKNOWN");
    expect(problem.remedy).toMatch(/GeoJSON.*KML|KML.*GeoJSON/);
  });
});
