/** What `inspect` says of files, and the site file that is drafted from it. */
import type { Geometry } from "geojson";
import { describe, expect, it } from "vitest";
import { extentM, inspectLayers } from "../../src/jobs/inspection.ts";
import type { GridLayer, RawLayer } from "../../src/model/features.ts";
import { readSiteFile } from "../../src/sitefile/read-site-file.ts";
import { siteFileText } from "../../src/sitefile/site-file-text.ts";

const ring = [
  [0, 0],
  [4, 0],
  [4, 3],
  [0, 0],
];
const SHAPES: (Geometry | null)[] = [
  { type: "Point", coordinates: [1, 2] },
  {
    type: "MultiPoint",
    coordinates: [
      [1, 2],
      [3, 4],
    ],
  },
  { type: "LineString", coordinates: ring },
  { type: "MultiLineString", coordinates: [ring, ring] },
  { type: "Polygon", coordinates: [ring] },
  { type: "MultiPolygon", coordinates: [[ring], [ring, ring]] },
  {
    type: "GeometryCollection",
    geometries: [
      { type: "Point", coordinates: [9, 9] },
      { type: "LineString", coordinates: ring },
    ],
  },
  null,
];
const raw = (more: Partial<RawLayer> = {}): RawLayer => ({
  file: "a.kml",
  format: "kml",
  layer: "Garden",
  features: SHAPES.map((geometry, i) => ({ number: i + 1, geometry, properties: {} })),
  fields: ["name"],
  crs: { kind: "none" },
  ...more,
});
const placed = (geometries: (Geometry | null)[]): GridLayer =>
  ({
    ...raw(),
    features: geometries.map((geometry, i) => ({ number: i + 1, geometry, properties: {} })),
    crsName: "WGS 84",
    crsFrom: "the format",
  }) as unknown as GridLayer;

describe("a layer", () => {
  it("is counted by kinds of geometry, with all vertices", () => {
    const [input] = inspectLayers([raw()], undefined, undefined);
    expect(input).toEqual({
      file: "a.kml",
      format: "kml",
      layers: [
        {
          name: "Garden",
          features: 8,
          geometries: {
            GeometryCollection: 1,
            LineString: 1,
            MultiLineString: 1,
            MultiPoint: 1,
            MultiPolygon: 1,
            Point: 1,
            Polygon: 1,
            null: 1,
          },
          // 1 + 2 + 4 + 8 + 4 + 12 + 5.
          vertices: 36,
          crs: null,
          crs_from: null,
          role: null,
          roles: {},
          role_from: null,
          extent_m: null,
          fields: ["name"],
        },
      ],
    });
  });

  it("has the features that the file holds, members of one counted once", () => {
    const features = [1, 1, 2].map((number) => ({ number, geometry: null, properties: {} }));
    const of = (more: Partial<RawLayer>) =>
      inspectLayers([raw({ features, ...more })], undefined, undefined)[0]!.layers[0]!;
    expect(of({}).features).toBe(2);
    expect(of({ featuresInFile: 7 }).features).toBe(7);
  });

  it("has its system, role and extent where they are known", () => {
    const of = (roles: object, because: string) =>
      inspectLayers([raw()], [placed(SHAPES)], [{ roles, because } as never])[0]!.layers[0]!;
    expect(of({ lawn: 8 }, "the layer's name")).toMatchObject({
      crs: "WGS 84",
      crs_from: "the format",
      role: "lawn",
      roles: { lawn: 8 },
      role_from: "the layer's name",
      extent_m: [9, 9],
    });
    expect(of({ lawn: 3, bed: 5 }, "x").role).toBe("several");
    expect(of({}, "")).toMatchObject({ role: null, role_from: null });
  });

  it("is listed under its file", () => {
    const layers = [raw(), raw({ layer: "Trees" }), raw({ file: "b.kml" })];
    expect(
      inspectLayers(layers, undefined, undefined).map(({ file, layers: own }) => [
        file,
        own.length,
      ]),
    ).toEqual([
      ["a.kml", 2],
      ["b.kml", 1],
    ]);
  });
});

it("an extent leaves out what has no place, and is none where nothing has one", () => {
  expect(
    extentM([
      placed([
        {
          type: "LineString",
          coordinates: [
            [1, 2],
            [Number.NaN, 50],
            [60, Infinity],
            [4, 6],
          ],
        },
      ]),
    ]),
  ).toEqual([3, 4]);
  expect(extentM([placed([null])])).toBeNull();
  expect(extentM([])).toBeNull();
});

describe("a drafted site file", () => {
  const layer = {
    name: "Lawns",
    features: 1,
    geometries: { Polygon: 1 },
    roles: { lawn: 1 },
    because: "the layer's name",
    isPlain: true,
    fields: ["name"],
  };
  const text = (more: object = {}, input: object = {}, crs?: string | number) =>
    siteFileText({
      name: "Yard",
      lawns: 1,
      ...(crs === undefined ? {} : { crs }),
      inputs: [
        {
          file: "a.kml",
          format: "kml",
          extentM: [10, 20],
          crs: "WGS 84",
          layers: [{ ...layer, ...more }],
          ...input,
        },
      ],
    } as never);

  it("says what the inputs are, and rules that would not change a thing", () => {
    const said = text();
    expect(readSiteFile(said, "pegline.json").ok).toBe(true);
    expect(said).toContain('"a.kml", // kml, 1 layer, 10.0 m × 20.0 m');
    expect(said).toContain('// "crs": "EPSG:27700",');
    expect(said).toContain('//   "a.kml": WGS 84');
    expect(said).toContain('// "a.kml", layer "Lawns": 1 feature (');
    expect(said).toContain("//   attributes: name\n");
    expect(said).toContain('\n    { "layer": "Lawns", "role": "lawn" },');
  });

  it("with a system, without extents, systems, shapes, roles or attributes", () => {
    const said = text(
      { roles: {}, geometries: {}, fields: [], features: 2 },
      { extentM: null, crs: undefined },
      "EPSG:2154",
    );
    expect(said).toContain('"crs": "EPSG:2154",');
    expect(said).toContain('//   "a.kml": not known');
    expect(said).toContain('"a.kml", // kml, 1 layer\n');
    expect(said).toContain('layer "Lawns": 2 features\n');
    expect(said).toContain("//   is nothing of use yet");
    expect(said).not.toContain("attributes:");
    expect(readSiteFile(said, "pegline.json").ok).toBe(true);
  });

  it("rules that would say more than is known are comments; long lists are cut", () => {
    const many = Array.from({ length: 14 }, (_, i) => `f${i}`);
    const said = text({ isPlain: false, fields: many, roles: { bed: 1, lawn: 3 } });
    expect(said).toContain('// { "layer": "Lawns", "role": "lawn" },');
    expect(said).toContain("f11, …\n");
    expect(text({ name: "" })).toContain('// { "layer": "", "role"');
  });
});
