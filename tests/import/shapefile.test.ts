import { zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { readInputs } from "../../src/import/read-inputs.ts";
import { fixture, layersOf, problemOf } from "./fixtures.ts";

const poly = fixture("poly.shp");
const withoutSiblings = { ...poly, siblings: {} };

describe("shapefile (ESRI Shapefile Technical Description, July 1998)", () => {
  it("reads shapes, attributes and .prj (ogrinfo 3.6.2: 10 polygons; first EAS_ID 168)", async () => {
    const { layers, findings } = await layersOf(poly);
    expect(findings).toEqual([]);
    expect(layers[0]).toMatchObject({ layer: "poly", featuresInFile: 10 });
    expect(layers[0]?.fields).toEqual(["AREA", "EAS_ID", "PRFEDEA"]);
    expect(layers[0]?.features[0]?.properties).toMatchObject({ EAS_ID: 168, PRFEDEA: "35043411" });
    expect(layers[0]?.crs).toMatchObject({ kind: "definition", from: ".prj" });
  });

  it("reads the set in a .zip to the same features", async () => {
    const zipped = await layersOf(fixture("poly.zip"));
    const plain = await layersOf(poly);
    const shapes = (read: typeof plain) => read.layers[0]?.features.map(({ geometry }) => geometry);
    expect(shapes(zipped)).toEqual(shapes(plain));
    expect(zipped.layers[0]?.fields).toEqual(plain.layers[0]?.fields);
  });

  it("reads several sets of one archive as layers, and passes over system clutter", async () => {
    const { bytes, siblings } = poly;
    const stacks = fixture("Stacks.shp");
    const zip = zipSync({
      "site/lawn.shp": bytes,
      "site/LAWN.DBF": siblings![".dbf"]!,
      "site/beds.shp": stacks.bytes,
      "site/beds.prj": stacks.siblings![".prj"]!,
      "__MACOSX/site/._lawn.shp": bytes.subarray(0, 20),
    });
    const { layers, codes } = await layersOf({ name: "site.zip", bytes: zip });
    expect(layers.map(({ layer, features }) => [layer, features.length])).toEqual([
      ["lawn", 10],
      ["beds", 1],
    ]);
    expect(layers[0]?.fields).toContain("EAS_ID");
    expect(codes).toEqual(["PRJ_MISSING", "DBF_MISSING"]);
  });

  it("reads the shapes without .dbf and .prj, and says so", async () => {
    const { layers, codes } = await layersOf(withoutSiblings);
    expect(codes.sort()).toEqual(["DBF_MISSING", "PRJ_MISSING"]);
    expect(layers[0]?.features).toHaveLength(10);
    expect(layers[0]?.crs).toEqual({ kind: "none" });
  });

  it("decodes attributes by .cpg, by the bytes, or as Windows-1252", async () => {
    const values = async (name: string, siblings?: Record<string, Uint8Array>) => {
      const input = fixture(name);
      const { layers } = await layersOf(siblings ? { ...input, siblings } : input);
      return layers[0]?.features.map(({ properties }) => Object.values(properties)[0]);
    };
    expect(await values("latin1-property.shp")).toEqual(["México"]);
    expect(await values("utf8-property.shp")).toEqual(["ηελλο ςορλδ"]);
    const dbf = fixture("utf8-property.shp").siblings![".dbf"]!.slice();
    dbf[29] = 0; // no code page in the header either
    expect(await values("utf8-property.shp", { ".dbf": dbf })).toEqual(["ηελλο ςορλδ"]);
  });

  it("keeps measured polygons (ogrinfo 3.6.2 counts 2)", async () => {
    const { layers } = await layersOf(fixture("polygonm_with_m.shp"));
    expect(layers[0]?.features.map(({ geometry }) => geometry?.type)).toEqual([
      "Polygon",
      "Polygon",
    ]);
  });
});

describe("damage", () => {
  it("a file cut anywhere is a problem, never an exception", async () => {
    for (let length = 4; length < poly.bytes.length; length += 37) {
      const outcome = await readInputs([{ ...poly, bytes: poly.bytes.subarray(0, length) }]);
      expect(outcome.ok).toBe(false);
      if (!outcome.ok) expect(outcome.problem.code).toBe("SHP_TRUNCATED");
    }
  });

  it("bytes changed anywhere give features or a coded problem, never an exception", async () => {
    let seed = 7;
    const next = (limit: number) => {
      seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
      return seed % limit;
    };
    for (let round = 0; round < 200; round++) {
      const bytes = poly.bytes.slice();
      const dbf = poly.siblings![".dbf"]!.slice();
      for (let k = 0; k < 6; k++) bytes[next(bytes.length)] = next(256);
      dbf[next(dbf.length)] = next(256);
      const outcome = await readInputs([{ ...poly, bytes, siblings: { ".dbf": dbf } }]);
      if (!outcome.ok) expect(outcome.problem.code).toMatch(/^[A-Z_]+$/);
    }
  });

  it("a damaged record is left out, and attributes stay with their shapes", async () => {
    const bytes = poly.bytes.slice();
    const view = new DataView(bytes.buffer);
    view.setInt32(100 + 8 + 40, 1_000_000, true); // points of record 1
    const { layers, findings } = await layersOf({ ...poly, bytes });
    expect(findings[0]).toMatchObject({
      code: "SHP_RECORD_DAMAGED",
      severity: "error",
      feature: "#1",
    });
    expect(layers[0]?.features[0]).toMatchObject({ number: 2, properties: { EAS_ID: 179 } });
  });

  it.each([
    ["SHAPE_TYPE_NOT_READ", "multipatch.shp"],
    ["SHP_RECORD_DAMAGED", "buggymultipoly.shp"],
  ])("%s of %s", async (code, name) => {
    expect(await problemOf(fixture(name))).toMatchObject({ code, kind: "input" });
  });

  it("says what to give where a part of the set is given", async () => {
    const problem = await problemOf({ name: "lawn.dbf", bytes: poly.siblings![".dbf"]! });
    expect(problem.code).toBe("SHAPEFILE_PART");
  });

  it("refuses an archive that unpacks to more than the limit, or that is damaged", async () => {
    const zip = zipSync({ "a.shp": new Uint8Array(100_000) });
    const large = await readInputs([{ name: "a.zip", bytes: zip }], { unpackedBytesMax: 50_000 });
    expect(!large.ok && large.problem.code).toBe("ZIP_TOO_LARGE");
    const broken = await problemOf({ name: "a.zip", bytes: zip.subarray(0, 60) });
    expect(broken.code).toBe("ZIP_DAMAGED");
  });
});
