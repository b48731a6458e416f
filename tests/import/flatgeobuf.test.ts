import { Builder } from "flatbuffers";
import { Feature } from "flatgeobuf/lib/mjs/flat-geobuf/feature.js";
import { Geometry } from "flatgeobuf/lib/mjs/flat-geobuf/geometry.js";
import { GeometryType } from "flatgeobuf/lib/mjs/flat-geobuf/geometry-type.js";
import { buildHeader } from "flatgeobuf/lib/mjs/generic/featurecollection.js";
import { describe, expect, it } from "vitest";
import { readInputs } from "../../src/import/read-inputs.ts";
import { fixture, layersOf, problemOf } from "./fixtures.ts";

const MAGIC = [0x66, 0x67, 0x62, 3, 0x66, 0x67, 0x62, 0];
const fgb = (...parts: ArrayLike<number>[]) => ({
  name: "site.fgb",
  bytes: new Uint8Array([MAGIC, ...parts].flatMap((part) => Array.from(part))),
});
const header = (columns: { name: string; type: number }[] = [], featuresCount = 0) =>
  buildHeader({
    geometryType: GeometryType.Unknown,
    columns,
    envelope: null,
    featuresCount,
    indexNodeSize: 0,
    crs: null,
    title: null,
    description: null,
    metadata: null,
  } as never);

describe("FlatGeobuf 3", () => {
  it("reads what ogrinfo 3.6.2 lists, with and without index", async () => {
    for (const name of ["lawns.fgb", "lawns-unindexed.fgb"]) {
      const { layers, codes } = await layersOf(fixture(name));
      expect(codes).toEqual([]);
      expect(layers[0]).toMatchObject({
        format: "fgb",
        layer: "lawns",
        featuresInFile: 2,
        fields: ["name", "role", "height_m", "grass"],
        crs: { kind: "epsg", code: 25832, from: "FlatGeobuf header" },
      });
      const strips = layers[0]?.features.find(({ properties }) => properties.grass === 1);
      expect(strips?.properties.role).toBe("lawn");
      const heights = layers[0]?.features.flatMap(({ geometry }) =>
        geometry?.type === "MultiPolygon"
          ? geometry.coordinates.flat(2).map((position) => position[2])
          : (geometry as GeoJSON.Polygon).coordinates.flat().map((position) => position[2]),
      );
      expect(heights?.every((height) => height! >= 99 && height! <= 104.25)).toBe(true);
    }
  });

  it("keeps measures beside heights", async () => {
    const { layers } = await layersOf(fixture("stakes.fgb"));
    expect(layers[0]?.features.map(({ measures }) => measures).sort()).toEqual([[1], [2.5]]);
  });

  it("leaves out curves, and says which", async () => {
    const builder = new Builder();
    const xy = Geometry.createXyVector(builder, [0, 0, 1, 1, 2, 0]);
    Geometry.startGeometry(builder);
    Geometry.addXy(builder, xy);
    Geometry.addType(builder, GeometryType.CircularString);
    const geometry = Geometry.endGeometry(builder);
    Feature.startFeature(builder);
    Feature.addGeometry(builder, geometry);
    builder.finishSizePrefixed(Feature.endFeature(builder));
    const { findings } = await layersOf(fgb(header(), builder.asUint8Array()));
    expect(findings[0]).toMatchObject({ code: "GEOMETRY_TYPE_NOT_READ", severity: "error" });
    expect(findings[0]?.message).toContain("CircularString");
  });
});

describe("hostile FlatGeobuf", () => {
  it("a feature whose parts are one part many times over is left out, not unfolded", async () => {
    const builder = new Builder();
    const xy = Geometry.createXyVector(builder, [0, 0, 1, 0, 1, 1, 0, 0]);
    Geometry.startGeometry(builder);
    Geometry.addXy(builder, xy);
    Geometry.addType(builder, GeometryType.Polygon);
    let inner = Geometry.endGeometry(builder);
    for (let level = 0; level < 12; level++) {
      const parts = Geometry.createPartsVector(builder, Array(20).fill(inner));
      Geometry.startGeometry(builder);
      Geometry.addParts(builder, parts);
      Geometry.addType(builder, GeometryType.GeometryCollection);
      inner = Geometry.endGeometry(builder);
    }
    Feature.startFeature(builder);
    Feature.addGeometry(builder, inner);
    builder.finishSizePrefixed(Feature.endFeature(builder));
    const { findings } = await layersOf(fgb(header(), builder.asUint8Array()));
    expect(findings[0]).toMatchObject({ code: "GEOMETRY_DAMAGED", feature: "#1" });
  });

  it("a column named __proto__ is left out with a finding", async () => {
    const builder = new Builder();
    const text = new TextEncoder().encode('{"polluted":true}');
    const bytes = [0, 0, text.length, 0, 0, 0, ...text];
    const properties = Feature.createPropertiesVector(builder, bytes as never);
    Feature.startFeature(builder);
    Feature.addProperties(builder, properties);
    builder.finishSizePrefixed(Feature.endFeature(builder));
    const columns = [{ name: "__proto__", type: 12 }]; // 12: Json
    const { layers, codes } = await layersOf(fgb(header(columns), builder.asUint8Array()));
    expect(codes).toContain("ATTRIBUTE_NAME_UNSAFE");
    const [feature] = layers[0]!.features;
    expect(feature?.properties).toEqual({});
    expect("polluted" in feature!.properties).toBe(false);
  });

  it.each([
    ["a header length of 4 GB", fgb([255, 255, 255, 255])],
    ["a feature length of 4 GB", fgb(header(), [255, 255, 255, 255, 0, 0])],
    ["more features than the file has", fgb(header([], 9))],
    ["a header of noise", fgb([8, 0, 0, 0, 255, 255, 255, 127, 1, 2, 3, 4])],
  ])("%s is refused", async (_name, input) => {
    expect((await problemOf(input)).code).toBe("FGB_DAMAGED");
  });

  it("bytes overwritten anywhere give layers or a coded problem, never an exception", async () => {
    const { bytes } = fixture("lawns.fgb");
    let seed = 11;
    const random = () => {
      seed = (seed * 1103515245 + 12345) % 2 ** 31;
      return seed / 2 ** 31;
    };
    for (let round = 0; round < 300; round++) {
      const copy = bytes.slice();
      for (let k = 0; k < 4; k++)
        copy[8 + Math.floor(random() * (copy.length - 8))] = random() * 256;
      const outcome = await readInputs([{ name: "x.fgb", bytes: copy }]);
      if (!outcome.ok) expect(outcome.problem.code).toBe("FGB_DAMAGED");
      else expect(outcome.value).toHaveLength(1);
    }
  });
});
