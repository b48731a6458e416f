import { zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { encodingFromCpg, encodingOfDriver } from "../../src/import/dbf-encoding.ts";
import type { InputFile } from "../../src/model/features.ts";
import { fixture, layersOf } from "./fixtures.ts";

/** A shapefile of the given records: type, then content after the type, as the format lays it out. */
function shp(type: number, records: readonly { type: number; content: Uint8Array }[]): Uint8Array {
  const total = records.reduce((sum, { content }) => sum + 12 + content.length, 100);
  const view = new DataView(new ArrayBuffer(total));
  view.setInt32(0, 9994);
  view.setInt32(24, total / 2);
  view.setInt32(28, 1000, true);
  view.setInt32(32, type, true);
  let at = 100;
  for (const [index, record] of records.entries()) {
    view.setInt32(at, index + 1);
    view.setInt32(at + 4, (4 + record.content.length) / 2);
    view.setInt32(at + 8, record.type, true);
    new Uint8Array(view.buffer).set(record.content, at + 12);
    at += 12 + record.content.length;
  }
  return new Uint8Array(view.buffer);
}

const doubles = (...values: number[]) => new Uint8Array(new Float64Array(values).buffer);
const ints = (...values: number[]) => new Uint8Array(new Int32Array(values).buffer);
const joined = (...parts: Uint8Array[]) => new Uint8Array(parts.flatMap((part) => [...part]));
const alone = (bytes: Uint8Array): InputFile => ({ name: "x.shp", bytes });

const SQUARE = [0, 0, 0, 4, 4, 4, 4, 0, 0, 0]; // clockwise: a shell
const HOLE = [1, 1, 2, 1, 2, 2, 1, 2, 1, 1];

/** A dBASE table of one text field, with the language driver and the marks of deletion given. */
function dbf(driver: number, values: readonly Uint8Array[], marks = "", field = "NAME") {
  const bytes = new Uint8Array(65 + values.length * 11 + 1).fill(0x20);
  bytes.fill(0, 0, 65);
  const view = new DataView(bytes.buffer);
  bytes[0] = 3;
  view.setUint32(4, values.length, true);
  view.setUint16(8, 65, true);
  view.setUint16(10, 11, true);
  bytes[29] = driver;
  bytes.set(new TextEncoder().encode(field), 32);
  bytes[43] = 0x43;
  bytes[48] = 10;
  bytes[64] = 0x0d;
  values.forEach((value, index) => {
    bytes[65 + 11 * index] = marks[index] === "*" ? 0x2a : 0x20;
    bytes.set(value, 66 + 11 * index);
  });
  bytes[bytes.length - 1] = 0x1a;
  return bytes;
}

describe("heights and measures (ESRI Shapefile Technical Description, pages 11 to 20)", () => {
  it("reads PolygonZ as ogrinfo 3.6.2 does, null shape included", async () => {
    const { layers, codes } = await layersOf(fixture("lawns-z.shp"));
    const [lawn, shapeless, strips] = layers[0]!.features;
    expect(lawn?.geometry?.type === "Polygon" && lawn.geometry.coordinates[0]).toContainEqual([
      571640, 5539125, 104.25,
    ]);
    expect(lawn?.geometry?.type === "Polygon" && lawn.geometry.coordinates[1]).toContainEqual([
      571616, 5539114, 103,
    ]);
    expect(shapeless?.geometry).toBeNull();
    expect(strips).toMatchObject({ properties: { name: "Äpfelbaum strips" } });
    // GDAL 3.6.2 wound the hole like a shell, since its heights differ from the shell's, and itself
    // reads two shells there: by nesting it is a hole.
    expect(codes).toEqual(["RING_WINDS_OTHERWISE", "GEOMETRY_MISSING"]);
  });

  it("reads PointZ with measures", async () => {
    const { layers } = await layersOf(fixture("stakes-zm.shp"));
    expect(layers[0]?.features).toMatchObject([
      { geometry: { coordinates: [571600, 5539100, 101.5] }, measures: [1] },
      { geometry: { coordinates: [571640, 5539100, 102] }, measures: [2.5] },
    ]);
  });

  it("keeps heights and measures with their positions when holes come before shells", async () => {
    const content = joined(
      doubles(0, 0, 4, 4),
      ints(2, 10, 0, 5),
      doubles(...HOLE, ...SQUARE),
      doubles(1, 10, ...[1, 2, 3, 4, 1], ...[5, 6, 7, 8, 5]),
      doubles(0, 9, ...[10, 20, 30, 40, 10], ...[50, 60, 70, -1e39, 50]),
    );
    const { layers } = await layersOf(alone(shp(15, [{ type: 15, content }])));
    const [feature] = layers[0]!.features;
    expect(feature?.geometry).toEqual({
      type: "Polygon",
      coordinates: [
        [
          [0, 0, 5],
          [0, 4, 6],
          [4, 4, 7],
          [4, 0, 8],
          [0, 0, 5],
        ],
        [
          [1, 1, 1],
          [2, 1, 2],
          [2, 2, 3],
          [1, 2, 4],
          [1, 1, 1],
        ],
      ],
    });
    expect(feature?.measures).toEqual([50, 60, 70, Number.NaN, 50, 10, 20, 30, 40, 10]);
  });

  it.each([
    [11, doubles(1, 2, 3), "Point", [1, 2, 3], undefined],
    [11, doubles(1, 2, 3, 9), "Point", [1, 2, 3], [9]],
    [21, doubles(1, 2, 9), "Point", [1, 2], [9]],
    [
      18,
      joined(doubles(0, 0, 1, 1), ints(2), doubles(1, 2, 3, 4, 7, 8, 7, 8)),
      "MultiPoint",
      [
        [1, 2, 7],
        [3, 4, 8],
      ],
      undefined,
    ],
    [
      28,
      joined(doubles(0, 0, 1, 1), ints(2), doubles(1, 2, 3, 4, 7, 8, 7, 8)),
      "MultiPoint",
      [
        [1, 2],
        [3, 4],
      ],
      [7, 8],
    ],
    [
      13,
      joined(doubles(0, 0, 1, 1), ints(1, 2, 0), doubles(1, 2, 3, 4, 7, 8, 7, 8)),
      "LineString",
      [
        [1, 2, 7],
        [3, 4, 8],
      ],
      undefined,
    ],
    [
      23,
      joined(doubles(0, 0, 1, 1), ints(1, 2, 0), doubles(1, 2, 3, 4, 7, 8, 7, 8)),
      "LineString",
      [
        [1, 2],
        [3, 4],
      ],
      [7, 8],
    ],
  ])("type %i", async (type, content, name, coordinates, measures) => {
    const { layers } = await layersOf(alone(shp(type, [{ type, content }])));
    const [feature] = layers[0]!.features;
    expect(feature?.geometry).toEqual({ type: name, coordinates });
    expect(feature?.measures).toEqual(measures);
  });

  it("says where a type with heights holds none", async () => {
    const content = joined(doubles(0, 0, 1, 1), ints(1, 2, 0), doubles(1, 2, 3, 4));
    const { layers, codes } = await layersOf(alone(shp(13, [{ type: 13, content }])));
    expect(codes).toContain("SHP_HEIGHTS_MISSING");
    expect(layers[0]?.features[0]?.geometry).toMatchObject({ type: "LineString" });
  });

  it("reads a file that mixes types, each record as what it is", async () => {
    const line = joined(doubles(0, 0, 1, 1), ints(1, 2, 0), doubles(1, 2, 3, 4));
    const { layers } = await layersOf(
      alone(
        shp(1, [
          { type: 1, content: doubles(5, 6) },
          { type: 3, content: line },
          { type: 0, content: new Uint8Array() },
          { type: 1, content: doubles(7, 8) },
        ]),
      ),
    );
    expect(layers[0]?.features.map(({ geometry }) => geometry?.type)).toEqual([
      "Point",
      "LineString",
      undefined,
      "Point",
    ]);
  });
});

describe("attributes", () => {
  const points = (count: number) =>
    shp(
      1,
      Array.from({ length: count }, (_, i) => ({ type: 1, content: doubles(i, i) })),
    );
  const withDbf = (count: number, table: Uint8Array, cpg?: string): InputFile => ({
    name: "x.shp",
    bytes: points(count),
    siblings: { ".dbf": table, ...(cpg ? { ".cpg": new TextEncoder().encode(cpg) } : {}) },
  });
  const latin = (text: string) => new Uint8Array([...text].map((letter) => letter.charCodeAt(0)));

  it("leaves out records that are marked as deleted, with one finding", async () => {
    const { layers, findings } = await layersOf(
      withDbf(3, dbf(3, [latin("a"), latin("b"), latin("c")], " * ")),
    );
    expect(layers[0]).toMatchObject({ featuresInFile: 2 });
    expect(layers[0]?.features.map(({ number, properties }) => [number, properties.NAME])).toEqual([
      [1, "a"],
      [3, "c"],
    ]);
    expect(findings.find(({ code }) => code === "RECORDS_DELETED")?.feature).toBe("#2");
  });

  // The bytes of one word in code pages, by Python 3.11's codecs: 'Größe'.encode('cp850') and so on.
  it.each([
    ["CP437 by driver 1", 1, undefined, [0x47, 0x72, 0x94, 0xe1, 0x65], "Größe"],
    ["CP850 by driver 2", 2, undefined, [0x47, 0x72, 0x94, 0xe1, 0x65], "Größe"],
    ["Windows-1252 by driver 87", 87, undefined, [0x47, 0x72, 0xf6, 0xdf, 0x65], "Größe"],
    ["CP852 by driver 100", 100, undefined, [0x88, 0xa5, 0x6b, 0x61], "łąka"],
    ["CP866 by driver 101", 101, undefined, [0xe1, 0xa0, 0xa4], "сад"],
    ["Windows-1251 by driver 201", 201, undefined, [0xf1, 0xe0, 0xe4], "сад"],
    ["Shift JIS by driver 19", 19, undefined, [0x92, 0xeb], "庭"],
    ["GBK by driver 77", 77, undefined, [0xd4, 0xb0], "园"],
    ["UTF-8 by .cpg before the driver", 87, "UTF-8", [0xc3, 0xb6], "ö"],
    ["CP850 by .cpg", 0, "OEM 850", [0x94], "ö"],
    ["ISO 8859-2 by .cpg", 0, "ISO 88592", [0xb3], "ł"],
    ["ISO 8859-2 by .cpg with a hyphen", 0, "8859-2", [0xb3], "ł"],
  ])("%s", async (name, driver, cpg, bytes, text) => {
    const { layers, codes } = await layersOf(withDbf(1, dbf(driver, [new Uint8Array(bytes)]), cpg));
    if (name === "ISO 8859-2 by .cpg") expect(codes).toContain("ENCODING_UNKNOWN");
    else expect(layers[0]?.features[0]?.properties).toEqual({ NAME: text });
  });

  it("names encodings as ESRI's .cpg files write them", () => {
    expect(
      ["UTF-8", "utf8", "65001", "1252", "ANSI 1250", "CP437", "8859_1", "88591"].map(
        encodingFromCpg,
      ),
    ).toEqual([
      "utf-8",
      "utf-8",
      "utf-8",
      "windows-1252",
      "windows-1250",
      "cp437",
      "windows-1252",
      "windows-1252",
    ]);
    expect(encodingOfDriver(0)).toBeUndefined();
  });

  it("a field named __proto__ is left out with a finding", async () => {
    const { layers, codes } = await layersOf(withDbf(1, dbf(3, [latin("x")], "", "__proto__")));
    expect(codes).toContain("ATTRIBUTE_NAME_UNSAFE");
    expect(layers[0]?.features[0]?.properties).toEqual({});
  });

  it.each([
    ["4 thousand million records", (bytes: Uint8Array) => bytes.fill(255, 4, 8)],
    ["a header of 64 KB", (bytes: Uint8Array) => bytes.fill(255, 8, 10)],
    ["records of 64 KB", (bytes: Uint8Array) => bytes.fill(255, 10, 12)],
    ["records of no bytes", (bytes: Uint8Array) => bytes.fill(0, 10, 12)],
  ])("a header that promises %s harms nothing", async (_name, change) => {
    const table = dbf(3, [latin("a"), latin("b")]);
    change(table);
    const { layers } = await layersOf(withDbf(2, table));
    expect(layers[0]?.features).toHaveLength(2);
  });
});

describe("archives", () => {
  it("one bad layer does not take the others with it", async () => {
    const bytes = zipSync({
      "good.shp": fixture("poly.shp").bytes,
      "bad.shp": fixture("multipatch.shp").bytes,
    });
    const { layers, findings } = await layersOf({ name: "site.zip", bytes });
    expect(layers.map(({ layer }) => layer)).toEqual(["good"]);
    expect(findings.find(({ severity }) => severity === "error")).toMatchObject({
      code: "SHAPE_TYPE_NOT_READ",
      layer: "bad",
    });
  });

  it("names data of other formats beside shapefiles", async () => {
    const bytes = zipSync({
      "a.shp": fixture("poly.shp").bytes,
      "b.geojson": new TextEncoder().encode("{}"),
    });
    const { codes } = await layersOf({ name: "site.zip", bytes });
    expect(codes).toContain("ZIP_ENTRIES_NOT_READ");
  });
});
