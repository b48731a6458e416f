import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readInputs } from "../../src/import/read-inputs.ts";
import { FIXTURES, fixture, layersOf, problemOf } from "./fixtures.ts";

const { bytes } = fixture("garden.gpkg");
const gpkg = (content: Uint8Array) => ({ name: "garden.gpkg", bytes: content });

/** A copy of the database changed by SQL, as a hostile or unusual writer would make it. */
async function changed(sql: string) {
  const { default: init } = await import("sql.js/dist/sql-wasm-inline.js");
  const sqlite = await init();
  const database = new sqlite.Database(bytes) as unknown as {
    exec(sql: string): unknown;
    export(): Uint8Array;
  };
  database.exec(sql);
  return gpkg(database.export());
}

describe("GeoPackage (OGC 12-128r18)", () => {
  it("reads layers, heights, attributes and reference systems as ogrinfo 3.6.2 lists them", async () => {
    const { layers } = await layersOf(gpkg(bytes));
    expect(layers.map(({ layer, features }) => [layer, features.length])).toEqual([
      ["lawns", 3],
      ["stakes", 2],
      ["edges", 3], // Two in the file; one is a collection of two shapes.
      ["curves", 1], // Two in the file; one is a curve.
    ]);
    const [lawn, shapeless, strips] = layers[0]!.features;
    expect(lawn).toMatchObject({
      id: "1",
      properties: { name: "Upper lawn", role: "lawn", height_m: 0.05, grass: 1 },
    });
    expect(lawn?.geometry).toMatchObject({ type: "Polygon" });
    expect(lawn?.geometry?.type === "Polygon" && lawn.geometry.coordinates[0]?.[2]).toEqual([
      571640, 5539125, 104.25,
    ]);
    expect(shapeless?.geometry).toBeNull();
    expect(strips?.properties.name).toBe("Äpfelbaum strips");
    expect(layers[0]?.crs).toEqual({ kind: "epsg", code: 25832, from: "gpkg_spatial_ref_sys" });
    expect(layers[2]?.crs.kind).toBe("definition"); // A compound system without a number.
    expect(layers[3]?.crs.kind).toBe("none");
  });

  it("keeps measures beside heights", async () => {
    const { layers } = await layersOf(gpkg(bytes));
    expect(layers[1]?.features[1]).toMatchObject({
      geometry: { type: "Point", coordinates: [571640, 5539100, 102] },
      measures: [2.5],
    });
  });

  it("says what it leaves out: curves, tables without shapes, features without geometry", async () => {
    const { findings } = await layersOf(gpkg(bytes));
    expect(findings.map(({ code, layer }) => [code, layer])).toEqual([
      ["GPKG_TABLE_NOT_READ", undefined],
      ["GEOMETRY_MISSING", "lawns"],
      ["COLLECTION_SPLIT", "edges"],
      ["GEOMETRY_TYPE_NOT_READ", "curves"],
    ]);
    expect(findings[3]?.message).toContain("CurvePolygon");
  });

  it("reads a feature table that says nothing about its geometry column as none", async () => {
    const problem = await problemOf(await changed("DELETE FROM gpkg_geometry_columns"));
    expect(problem.code).toBe("GPKG_NO_FEATURES");
  });

  it("takes -1 and 0 for no reference system (clause 1.1.2.1.2)", async () => {
    for (const id of [-1, 0]) {
      const { layers } = await layersOf(
        await changed(`UPDATE gpkg_geometry_columns SET srs_id = ${id}`),
      );
      expect(layers[0]?.crs).toEqual({ kind: "none" });
    }
  });

  it("reads envelopes of every kind, empty geometries and either byte order", async () => {
    const point = (little: boolean) => {
      const view = new DataView(new ArrayBuffer(21));
      view.setUint8(0, little ? 1 : 0);
      view.setUint32(1, 1, little);
      view.setFloat64(5, 7, little);
      view.setFloat64(13, 8, little);
      return Buffer.from(view.buffer).toString("hex");
    };
    const head = (flags: number, envelope: number) =>
      `4750${"00"}${flags.toString(16).padStart(2, "0")}00000000${"00".repeat(envelope)}`;
    const blobs = [
      head(0x00, 0) + point(false),
      head(0x01, 0) + point(true),
      head(0x03, 32) + point(true),
      head(0x05, 48) + point(false),
      head(0x07, 48) + point(true),
      head(0x09, 64) + point(true),
      head(0x11, 0) + point(true), // Marked as empty.
      head(0x0b, 0) + point(true), // Envelope kind 5: invalid.
      head(0x21, 0) + point(true), // Extended type.
      "00", // No header at all.
    ];
    const rows = blobs.map((hex) => `(X'${hex}')`).join(",");
    const { layers, findings } = await layersOf(
      await changed(`DELETE FROM stakes; INSERT INTO stakes (geom) VALUES ${rows}`),
    );
    const stakes = layers.find(({ layer }) => layer === "stakes")!;
    expect(stakes.featuresInFile).toBe(10);
    expect(stakes.features.map(({ geometry }) => geometry && "read")).toEqual([
      ...Array(6).fill("read"),
      null,
    ]);
    for (const { geometry } of stakes.features.slice(0, 6)) {
      expect(geometry).toEqual({ type: "Point", coordinates: [7, 8] });
    }
    const own = findings.filter(({ layer }) => layer === "stakes").map(({ code }) => code);
    expect(own.sort()).toEqual([
      "GEOMETRY_DAMAGED",
      "GEOMETRY_DAMAGED",
      "GEOMETRY_MISSING",
      "GEOMETRY_TYPE_NOT_READ",
    ]);
  });

  it("reads a table whose name is made to end its quoting", async () => {
    const name = 'x"; DROP TABLE lawns; --';
    const sql = `ALTER TABLE lawns RENAME TO "${name.replaceAll('"', '""')}";
      UPDATE gpkg_contents SET table_name = '${name}' WHERE table_name = 'lawns';
      UPDATE gpkg_geometry_columns SET table_name = '${name}' WHERE table_name = 'lawns';`;
    const { layers } = await layersOf(await changed(sql));
    expect(layers[0]).toMatchObject({ layer: name, featuresInFile: 3 });
  });

  it("does not run a view, which may be a program without end", async () => {
    const sql = `ALTER TABLE lawns RENAME TO hidden;
      CREATE VIEW lawns AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT i AS fid, zeroblob(i) AS geom FROM n;`;
    const { layers, findings } = await layersOf(await changed(sql));
    expect(layers.map(({ layer }) => layer)).toEqual(["stakes", "edges", "curves"]);
    expect(findings[0]).toMatchObject({ code: "GPKG_TABLE_NOT_READ", severity: "warning" });
    expect(findings[0]?.message).toContain("lawns (a view)");
  });

  it("leaves out a column named __proto__, and binary values, with findings", async () => {
    const sql = `ALTER TABLE stakes ADD COLUMN "__proto__" TEXT; ALTER TABLE stakes ADD COLUMN photo BLOB;
      UPDATE stakes SET "__proto__" = 'x', photo = X'00';`;
    const { layers, codes } = await layersOf(await changed(sql));
    expect(codes).toContain("ATTRIBUTE_NAME_UNSAFE");
    expect(codes).toContain("BINARY_FIELD_NOT_READ");
    expect(layers[1]?.fields).toEqual(["code"]);
    expect(Object.getPrototypeOf(layers[1]?.features[0]?.properties)).toBe(Object.prototype);
  });

  it("reads a file saved in write-ahead mode, and says that its log is not read", async () => {
    const logged = bytes.slice();
    logged[18] = 2;
    logged[19] = 2;
    const { layers, codes } = await layersOf(gpkg(logged));
    expect(layers).toHaveLength(4);
    expect(codes[0]).toBe("GPKG_LOG_NOT_READ");
  });
});

describe("damaged GeoPackage", () => {
  it("a file cut anywhere is a problem with a code", async () => {
    for (let length = 100; length < bytes.length; length += 9973) {
      expect((await problemOf(gpkg(bytes.slice(0, length)))).code).toBe("GPKG_DAMAGED");
    }
  });

  it("bytes overwritten anywhere give layers or a coded problem, never an exception", async () => {
    let seed = 7;
    const random = () => {
      seed = (seed * 1103515245 + 12345) % 2 ** 31;
      return seed / 2 ** 31;
    };
    for (let round = 0; round < 60; round++) {
      const copy = bytes.slice();
      for (let k = 0; k < 40; k++)
        copy[100 + Math.floor(random() * (copy.length - 100))] = random() * 256;
      const outcome = await readInputs([gpkg(copy)]);
      if (!outcome.ok) expect(outcome.problem.kind).toBe("input");
      else expect(outcome.value.length).toBeGreaterThan(0);
    }
  });

  it("a database that is no GeoPackage is told", async () => {
    const problem = await problemOf(await changed("DROP TABLE gpkg_geometry_columns"));
    expect(problem.code).toBe("NOT_GEOPACKAGE");
    const text = readFileSync(`${FIXTURES}/poly.shp`);
    expect((await problemOf(gpkg(new Uint8Array(text).subarray(500)))).code).toBe("GPKG_DAMAGED");
  });
});
