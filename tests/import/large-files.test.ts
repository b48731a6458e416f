import fc from "fast-check";
import type { Geometry } from "geojson";
import { describe, expect, it } from "vitest";
import { PositionStore } from "../../src/import/position-store.ts";
import { readInputs } from "../../src/import/read-inputs.ts";
import type { ReadProgress } from "../../src/import/reader.ts";
import { splitFeatures } from "../../src/import/split-features.ts";
import { fixture, layersOf, textInput } from "./fixtures.ts";

const bytesOf = (text: string) => new TextEncoder().encode(text);

describe("features of a collection, found without parsing it", () => {
  const textOf = (text: string) => {
    const bytes = bytesOf(text);
    const split = splitFeatures(bytes, 50);
    if (split === undefined || split === "deep") return split;
    const decode = (part: Uint8Array) => new TextDecoder().decode(part);
    const features: unknown[] = [];
    for (let i = 0; i < split.bounds.length; i += 2) {
      features.push(JSON.parse(decode(bytes.subarray(split.bounds[i], split.bounds[i + 1]))));
    }
    return { ...(JSON.parse(decode(split.frame)) as object), features };
  };

  it("gives what JSON.parse gives, whatever the members hold", () => {
    const member = fc.jsonValue({ maxDepth: 4 });
    fc.assert(
      fc.property(
        fc.dictionary(fc.string(), member),
        fc.array(fc.dictionary(fc.string(), member)),
        fc.constantFrom(undefined, 1, "\t"),
        (others, features, space) => {
          const root = { ...others, type: "FeatureCollection", features };
          const text = JSON.stringify(root, null, space);
          expect(textOf(text)).toEqual(JSON.parse(text));
        },
      ),
      { numRuns: 500, seed: 5 },
    );
  });

  it.each([
    ["a missing comma", '{"features":[{} {}]}'],
    ["a comma too many", '{"features":[{},]}'],
    ["two commas", '{"features":[{},,{}]}'],
    ["a leading comma", '{"features":[,{}]}'],
    ["a value that is no object", '{"features":[{},1]}'],
    ["a list among them", '{"features":[[]]}'],
    ["a text among them", '{"features":["a"]}'],
    ["two lists of features", '{"features":[{}],"features":[]}'],
    ["no features", '{"type":"Feature"}'],
    ["an end too early", '{"features":[{}'],
    ["a name written with escapes", '{"f\\u0065atures":[{}]}'],
  ])("leaves %s to the parser", (_name, text) => {
    expect(splitFeatures(bytesOf(text), 50)).toBeUndefined();
  });

  it("reads a broken feature to the same message as a file parsed whole", async () => {
    const text = '{"type":"FeatureCollection",\n"features":[\n{"type":"Feature","a":}]}';
    const outcome = await readInputs([textInput("a.geojson", text)]);
    expect(!outcome.ok && outcome.problem).toMatchObject({ code: "JSON_BROKEN" });
    expect(!outcome.ok && outcome.problem.message).toContain("line 3");
  });

  it.each([
    ["UTF-8 with its mark", [0xef, 0xbb, 0xbf, ...bytesOf('"Größe"')]],
    ["Windows-1252", [...'"Gr\xf6\xdfe"'].map((letter) => letter.charCodeAt(0))],
  ])("reads %s", async (_name, name) => {
    const isMarked = name[0] === 0xef;
    const before = bytesOf('{"type":"FeatureCollection","name":');
    const after = bytesOf(
      ',"features":[{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[1,2]}}]}',
    );
    const bytes = new Uint8Array([
      ...(isMarked ? name.slice(0, 3) : []),
      ...before,
      ...(isMarked ? name.slice(3) : name),
      ...after,
    ]);
    const { layers } = await layersOf({ name: "a.geojson", bytes });
    expect(layers[0]?.layer).toBe("Größe");
  });
});

describe("packed positions", () => {
  const number = fc.double({ noNaN: true, noDefaultInfinity: true });
  const line = fc.integer({ min: 2, max: 3 }).chain((dimensions) =>
    fc.array(fc.array(number, { minLength: dimensions, maxLength: dimensions }), {
      maxLength: 12,
    }),
  );
  const geometry: fc.Arbitrary<Geometry> = fc.oneof(
    line.map((coordinates) => ({ type: "LineString", coordinates }) as Geometry),
    line.map((coordinates) => ({ type: "MultiPoint", coordinates }) as Geometry),
    fc.array(line).map((coordinates) => ({ type: "Polygon", coordinates }) as Geometry),
    fc.array(line).map((coordinates) => ({ type: "MultiLineString", coordinates }) as Geometry),
    fc
      .array(fc.array(line))
      .map((coordinates) => ({ type: "MultiPolygon", coordinates }) as Geometry),
  );

  it("come back as they were, each time anew", () => {
    const store = new PositionStore();
    fc.assert(
      fc.property(geometry, (shape) => {
        const feature = { number: 1, id: "a", geometry: shape, properties: { name: "x" } };
        const packed = store.packed(feature);
        expect(packed).toEqual(feature);
        expect({ ...packed }).toEqual(feature);
        expect(packed.geometry).toEqual(shape);
      }),
      { numRuns: 500, seed: 6 },
    );
  });
});

it("tells how far a long read has come, from 0 to 1 and never back", async () => {
  const told: ReadProgress[] = [];
  await readInputs([fixture("poly.shp"), fixture("garden.gpkg")], {
    onProgress: (progress) => told.push(progress),
  });
  const shares = told.map(({ share }) => share);
  expect(shares.at(-1)).toBe(1);
  expect(shares).toEqual([...shares].sort((a, b) => a - b));
  expect(new Set(told.map(({ file }) => file)).size).toBe(2);
});

it("reads Node's Buffers, whose slice is a view, as any other bytes, and changes none", async () => {
  const names = ["lawns.fgb", "garden.gpkg", "latin1-property.shp", "poly.zip", "lawns-z.shp"];
  for (const name of names) {
    const input = fixture(name);
    const siblings = Object.fromEntries(
      Object.entries(input.siblings ?? {}).map(([ending, bytes]) => [ending, Buffer.from(bytes)]),
    );
    const bytes = Buffer.from(input.bytes);
    if (name.endsWith(".gpkg")) bytes[18] = 2; // write-ahead mode: read from a copy
    const before = Buffer.from(new Uint8Array(bytes));
    const { layers } = await layersOf({ name: input.name, bytes, siblings });
    expect(layers).toEqual((await layersOf(input)).layers);
    expect(bytes.equals(before)).toBe(true);
  }
});
