import { readFileSync } from "node:fs";
import type { Position } from "geojson";
import { describe, expect, it } from "vitest";
import type { RawFeature } from "../../src/model/features.ts";
import { inputAt, layersOf, problemOf, textInput } from "./fixtures.ts";

const FOLDER = "tests/fixtures/dxf";

interface Measured {
  readonly entity: string;
  readonly length: number;
  readonly area: number;
  readonly box: readonly [number, number, number, number];
}

/** Measured by ezdxf, counted by GDAL: see scripts/make-drawings.py. */
const expected = JSON.parse(readFileSync(`${FOLDER}/garden.expected.json`, "utf8")) as {
  layers: Record<string, Measured[]>;
  gdalCounts: Record<string, Record<string, number>>;
};

function partsOf(feature: RawFeature): Position[][] {
  const { geometry } = feature;
  if (geometry?.type === "Point") return [[geometry.coordinates]];
  if (geometry?.type === "LineString") return [geometry.coordinates];
  if (geometry?.type === "Polygon") return geometry.coordinates;
  throw new Error(`did not expect ${geometry?.type}`);
}

function measure(feature: RawFeature): Measured {
  const rings = partsOf(feature).map((points) => {
    let [length, twice] = [0, 0];
    const [x0, y0] = points[0] as [number, number];
    for (let i = 1; i < points.length; i++) {
      const [ax, ay] = points[i - 1] as [number, number];
      const [bx, by] = points[i] as [number, number];
      length += Math.hypot(bx - ax, by - ay);
      twice += (ax - x0) * (by - y0) - (bx - x0) * (ay - y0);
    }
    return { length, area: Math.abs(twice) / 2 };
  });
  const outer = partsOf(feature)[0]!;
  const [xs, ys] = [outer.map((p) => p[0]!), outer.map((p) => p[1]!)];
  return {
    entity: String(feature.properties.entity),
    length: rings.reduce((sum, ring) => sum + ring.length, 0),
    area: rings[0]!.area - rings.slice(1).reduce((sum, ring) => sum + ring.area, 0),
    box: [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)],
  };
}

describe("DXF against ezdxf and GDAL", async () => {
  const { layers, findings, codes } = await layersOf(inputAt(`${FOLDER}/garden.dxf`));
  const byName = new Map(layers.map((layer) => [layer.layer, layer]));

  it("has the layers on which something is drawn, in the drawing's unit", () => {
    expect([...byName.keys()].sort()).toEqual(Object.keys(expected.layers).sort());
    expect(layers.every(({ unitM, crs }) => unitM === 1 && crs.kind === "none")).toBe(true);
  });

  it.each(Object.keys(expected.layers))(
    "every shape of layer %s has its length, area and place, chords within 1 mm of curves",
    (name) => {
      const features = byName
        .get(name)!
        .features.filter((one) => one.properties.joined === undefined);
      const joined = byName
        .get(name)!
        .features.filter((one) => one.properties.joined !== undefined);
      const open = joined.reduce((sum, one) => sum + Number(one.properties.joined), 0);
      const all = expected.layers[name]!;
      expect(features.length + open).toBe(all.length);
      const left = [...all];
      for (const found of features.map(measure)) {
        const place = left.findIndex((one) =>
          one.box.every((value, i) => Math.abs(value - found.box[i]!) < 0.00101),
        );
        expect(place, `${found.entity} at ${found.box}`).toBeGreaterThanOrEqual(0);
        const [one] = left.splice(place, 1);
        // An inscribed line is shorter; a sagitta of 1 mm takes off 8/3 mm² a millimetre of chord at most.
        expect(found.length).toBeLessThan(one!.length + 1e-5);
        expect(found.length).toBeGreaterThan(one!.length * (1 - 0.003) - 1e-5);
        expect(Math.abs(found.area - one!.area)).toBeLessThan(0.001 * one!.length + 1e-5);
      }
      const length = left.reduce((sum, one) => sum + one.length, 0);
      expect(joined.map(measure).reduce((sum, one) => sum + one.length, 0)).toBeCloseTo(length, 2);
    },
  );

  it("joins lines and arcs whose ends meet to a ring: 10 m by 10 m and half a disc", () => {
    const ring = byName.get("Beds")!.features.find((one) => one.properties.joined !== undefined)!;
    expect(ring.properties.joined).toBe(4);
    expect(measure(ring).area).toBeCloseTo(100 + (Math.PI * 25) / 2, 1);
    expect(byName.get("Paths")?.features).toHaveLength(3); // A fork is left as it is.
  });

  it("keeps heights, and has none where the drawing says 0", () => {
    const [lawn] = byName.get("Lawn")!.features;
    expect(partsOf(lawn!)[0]!.every((position) => position[2] === 12.5)).toBe(true);
    const [terrain] = byName.get("Terrain")!.features;
    expect(partsOf(terrain!)[0]!.map((position) => position[2])).toEqual([10, 10.5, 11.25]);
    expect(partsOf(byName.get("Fence")!.features[0]!)[0]![0]).toHaveLength(2);
  });

  it("has as many features as GDAL 3.6.2, a placed block being one there", () => {
    for (const [name, counts] of Object.entries(expected.gdalCounts)) {
      const gdal = Object.values(counts).reduce((sum, count) => sum + count, 0);
      const texts = name === "Lawn" ? 2 : 0;
      // GDAL puts what blocks hold on the layer of the block's place, and each copy of an array.
      if (["Trees", "Kerb", "0"].includes(name)) continue;
      expect(byName.get(name)?.featuresInFile, name).toBe(gdal - texts);
    }
  });

  it("says what was taken, left out or hidden", () => {
    expect([...new Set(codes)].sort()).toEqual([
      "CURVES_AS_CHORDS",
      "DXF_ENTITY_NOT_READ",
      "DXF_LAYER_HIDDEN",
      "DXF_LINES_JOINED",
      "DXF_PAPER_SPACE",
    ]);
    const message = (code: string) => findings.find((one) => one.code === code)?.message;
    expect(message("CURVES_AS_CHORDS")).toContain("none farther than 1 mm");
    expect(message("DXF_ENTITY_NOT_READ")).toContain("1 MTEXT");
    expect(message("DXF_LAYER_HIDDEN")).toMatch(/Kerb \(frozen\)/);
    expect(message("DXF_LAYER_HIDDEN")).toMatch(/Fence \(off\)/);
  });
});

const pairs = (...values: (string | number)[]) => `${values.join("\n")}\n`;
const section = (name: string, ...values: (string | number)[]) =>
  pairs(0, "SECTION", 2, name, ...values, 0, "ENDSEC");
const lineFrom0 = [0, "LINE", 8, "Lawn", 10, 0, 20, 0, 11, 5, 21, 0];
const drawing = (...sections: string[]) => textInput("x.dxf", `${sections.join("")}0\nEOF\n`);

describe("drawings that are not as they should be", () => {
  it("takes the reference system's unit where the header says none", async () => {
    const { layers, codes } = await layersOf(drawing(section("ENTITIES", ...lineFrom0)));
    expect(codes).toContain("DXF_UNIT_MISSING");
    expect(layers[0]?.unitM).toBeUndefined();
  });

  it.each([
    [1, 0.0254],
    [2, 0.3048],
    [4, 0.001],
    [5, 0.01],
    [6, 1],
    [21, 1200 / 3937],
  ])("$INSUNITS %i is %f m (NIST SP 811; DXF reference)", async (code, metres) => {
    const header = section("HEADER", 9, "$INSUNITS", 70, code);
    const { layers } = await layersOf(drawing(header, section("ENTITIES", ...lineFrom0)));
    expect(layers[0]?.unitM).toBeCloseTo(metres, 12);
  });

  it.each([
    ["DXF_TRUNCATED", textInput("x.dxf", "0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nLawn\n10\n5")],
    ["DXF_BROKEN", textInput("x.dxf", "0\nSECTION\n2\nENTITIES\nLINE\n0\nx\ny\n")],
    ["DXF_BROKEN", drawing(section("ENTITIES", 0, "LINE", 8, "a", 10, 0, 0, "LINE", 8, "a"))],
    ["DXF_NO_SHAPES", drawing(section("ENTITIES", 0, "TEXT", 8, "a", 10, 0, 20, 0, 1, "hello"))],
    ["DXF_BINARY", textInput("x.dxf", "AutoCAD Binary DXF\r\n\x1a\0")],
  ])("%s", async (code, input) => {
    expect((await problemOf(input)).code).toBe(code);
  });

  it("reads on where end marks are missing, and leaves out what is no number", async () => {
    const vertices = [0, "VERTEX", 8, "a", 10, 0, 20, 0, 0, "VERTEX", 8, "a", 10, 3, 20, 4];
    const entities = section(
      "ENTITIES",
      ...[0, "POLYLINE", 8, "a", 70, 0, ...vertices],
      ...[0, "CIRCLE", 8, "a", 10, 1, 20, 1, 40, "wide"],
      ...lineFrom0,
    );
    const { layers, codes } = await layersOf(drawing(entities));
    expect(layers.map(({ layer, features }) => [layer, features.length])).toEqual([
      ["a", 1],
      ["Lawn", 1],
    ]);
    expect(codes).toContain("COORDINATE_NOT_A_NUMBER");
  });

  it("leaves out blocks that hold themselves or are missing, with a finding", async () => {
    const block = (name: string, ...inner: (string | number)[]) => [
      ...[0, "BLOCK", 2, name, 10, 0, 20, 0, ...inner, 0, "ENDBLK"],
    ];
    const insert = (name: string, ...more: (string | number)[]) => [
      ...[0, "INSERT", 8, "a", 2, name, 10, 0, 20, 0, ...more],
    ];
    const blocks = section("BLOCKS", ...block("X", ...insert("X"), ...lineFrom0));
    const entities = section("ENTITIES", ...insert("X"), ...insert("GONE"));
    const { layers, findings } = await layersOf(drawing(blocks, entities));
    expect(layers[0]?.features).toHaveLength(1);
    expect(findings.find(({ code }) => code === "DXF_BLOCK_MISSING")?.message).toContain(
      "1 X, 1 GONE",
    );
  });

  it("stops at arrays of arrays of blocks that would fill the memory", async () => {
    const array = [70, 1000, 71, 1000, 44, 1, 45, 1];
    const bomb = (name: string, inner: string) => [
      ...[0, "BLOCK", 2, name, 10, 0, 20, 0],
      ...[0, "INSERT", 8, "a", 2, inner, 10, 0, 20, 0, ...array, 0, "ENDBLK"],
    ];
    const blocks = section(
      "BLOCKS",
      ...[0, "BLOCK", 2, "L", 10, 0, 20, 0, ...lineFrom0, 0, "ENDBLK"],
      ...bomb("M", "L"),
      ...bomb("N", "M"),
    );
    const entities = section("ENTITIES", 0, "INSERT", 8, "a", 2, "N", 10, 0, 20, 0, ...array);
    expect((await problemOf(drawing(blocks, entities))).code).toBe("DXF_TOO_MANY_SHAPES");
  });
});

describe("a drawing by another writer (GDAL 3.6.2)", () => {
  it("has every outline of the file that it was made from, in degrees", async () => {
    const { layers } = await layersOf(inputAt(`${FOLDER}/by-gdal.dxf`));
    const source = await layersOf(inputAt("fixtures/demo/house-garden.geojson"));
    const count = (all: typeof layers) => all.reduce((sum, one) => sum + one.features.length, 0);
    expect(count(layers)).toBe(count(source.layers));
  });
});
