/** GeoPackage 1.3 (OGC 12-128r17): a table for each kind of feature, and styles for it inside. */
import type { Database } from "sql.js";
import { loadSqlite, quoted, type SqlValue } from "../../import/gpkg/database.ts";
import type { FieldType, ShapeOfKind } from "../../model/plan-fields.ts";
import {
  byKind,
  cellOf,
  columnsOf,
  type DrawnFeature,
  type DrawnPlan,
  shapeOf,
} from "../exchange/drawn-plan.ts";
import { tableNames } from "../exchange/table-names.ts";
import type { TargetCrs } from "../exchange/target-crs.ts";
import { WGS84_TARGET } from "../exchange/target-crs.ts";
import type { Written } from "../exchange/written.ts";
import { TABLE_TIME } from "../exchange/zip-time.ts";
import { boxOfGeometry, geometryBlob } from "./blob.ts";
import { qmlOf } from "./qml.ts";
import { CORE_TABLES, STYLE_TABLE } from "./schema.ts";
import { sldOf } from "./sld.ts";

/** For a system that has no number of its own. */
const OWN_SRS_ID = 100_000;

const SQL_TYPES: Readonly<Record<FieldType, string>> = {
  text: "TEXT",
  number: "DOUBLE",
  flag: "BOOLEAN",
  data: "TEXT",
};

export async function writeGpkg(plan: DrawnPlan): Promise<Written> {
  const sqlite = await loadSqlite();
  const database = new sqlite.Database();
  try {
    database.exec(CORE_TABLES);
    const srsId = addSystems(database, plan.crs);
    const kinds = byKind(plan.features);
    const names = tableNames([...kinds.keys()]);
    database.exec("BEGIN");
    for (const [kind, features] of kinds) {
      addTable(database, names.get(kind)!, kind, features, srsId);
    }
    addStyles(database, kinds, names);
    database.exec("COMMIT");
    const bytes = database.export();
    return {
      files: [{ name: "plan.gpkg", bytes }],
      features: plan.features.length,
      losses: [],
    };
  } finally {
    database.close();
  }
}

/** The three systems that every GeoPackage has (clause 1.1.2.1.2), and the plan's own. */
function addSystems(database: Database, crs: TargetCrs): number {
  const add = (...row: SqlValue[]) =>
    database.run("INSERT INTO gpkg_spatial_ref_sys VALUES (?, ?, ?, ?, ?, ?)", row);
  add("Undefined Cartesian SRS", -1, "NONE", -1, "undefined", "undefined Cartesian");
  add("Undefined geographic SRS", 0, "NONE", 0, "undefined", "undefined geographic");
  add(WGS84_TARGET.name, 4326, "EPSG", 4326, WGS84_TARGET.wkt, "longitude and latitude");
  if (crs.epsg === 4326) return 4326;
  const id = crs.epsg ?? OWN_SRS_ID;
  add(crs.name, id, crs.epsg === undefined ? "NONE" : "EPSG", id, crs.wkt, null);
  return id;
}

/** A layer has one type; single areas are written as parts of several where one of them has several. */
function typeOf(shape: ShapeOfKind | undefined, features: readonly DrawnFeature[]): string {
  const types = new Set(features.flatMap(({ geometry }) => geometry?.type ?? []));
  const wanted = { point: "Point", line: "LineString", area: "Polygon" }[shape ?? "point"];
  if ([...types].every((type) => type === wanted)) return wanted;
  return [...types].every((type) => type.endsWith(wanted)) ? `Multi${wanted}` : "Geometry";
}

function addTable(
  database: Database,
  table: string,
  kind: string,
  features: readonly DrawnFeature[],
  srsId: number,
): void {
  const type = typeOf(
    features.map(shapeOf).find((one) => one !== undefined),
    features,
  );
  const columns = columnsOf(features).filter(({ name }) => !/^(fid|geom)$/i.test(name));
  const names = distinctNames(columns.map(({ name }) => name));
  const fields = columns.map(({ type }, i) => `, ${quoted(names[i]!)} ${SQL_TYPES[type]}`);
  database.run(
    `CREATE TABLE ${quoted(table)} (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, geom ${type.toUpperCase()}${fields.join("")})`,
  );
  const marks = columns.map(() => ", ?").join("");
  const insert = database.prepare(`INSERT INTO ${quoted(table)} VALUES (NULL, ?${marks})`);
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { geometry, properties } of features) {
    const cells = columns.map((column) => {
      const value = cellOf(properties, column);
      return typeof value === "boolean" ? Number(value) : value;
    });
    insert.run([geometry === null ? null : blobOf(geometry, type, srsId), ...cells]);
    if (geometry !== null) widen(box, boxOfGeometry(geometry));
  }
  insert.free();
  const bounds = box.every(Number.isFinite) ? box : [null, null, null, null];
  database.run(
    "INSERT INTO gpkg_contents (table_name, data_type, identifier, description, last_change, min_x, min_y, max_x, max_y, srs_id) VALUES (?, 'features', ?, ?, ?, ?, ?, ?, ?, ?)",
    [table, table, kind, TABLE_TIME, ...bounds, srsId],
  );
  database.run("INSERT INTO gpkg_geometry_columns VALUES (?, 'geom', ?, ?, 0, 0)", [
    table,
    type.toUpperCase(),
    srsId,
  ]);
}

/** SQLite takes names that differ in capitals alone for one: later ones get a number. */
function distinctNames(names: readonly string[]): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    let own = name;
    for (let n = 2; taken.has(own.toLowerCase()); n++) own = `${name}_${n}`;
    taken.add(own.toLowerCase());
    return own;
  });
}

function blobOf(geometry: NonNullable<DrawnFeature["geometry"]>, type: string, srsId: number) {
  const isSingle = type.startsWith("Multi") && !geometry.type.startsWith("Multi");
  if (!isSingle) return geometryBlob(geometry, srsId);
  const { coordinates } = geometry as { coordinates: unknown };
  return geometryBlob({ type, coordinates: [coordinates] } as never, srsId);
}

function widen(box: [number, number, number, number], other: readonly number[]): void {
  box[0] = Math.min(box[0], other[0]!);
  box[1] = Math.min(box[1], other[1]!);
  box[2] = Math.max(box[2], other[2]!);
  box[3] = Math.max(box[3], other[3]!);
}

/** The table in which desktop programs look for the style of a layer. */
function addStyles(
  database: Database,
  kinds: ReadonlyMap<string, readonly DrawnFeature[]>,
  names: ReadonlyMap<string, string>,
): void {
  database.exec(STYLE_TABLE);
  for (const [kind, features] of kinds) {
    const shape = features.map(shapeOf).find((one) => one !== undefined);
    const qml = shape && qmlOf(kind, shape, "long");
    const sld = shape && sldOf(kind, shape, names.get(kind)!);
    if (qml === undefined || sld === undefined) continue;
    database.run(
      "INSERT INTO layer_styles VALUES (NULL, '', '', ?, 'geom', ?, ?, ?, 1, ?, 'pegline', NULL, ?)",
      [names.get(kind)!, kind, qml, sld, kind, TABLE_TIME],
    );
  }
  database.run(
    "INSERT INTO gpkg_contents (table_name, data_type, identifier, description, last_change, srs_id) VALUES ('layer_styles', 'attributes', 'layer_styles', '', ?, NULL)",
    [TABLE_TIME],
  );
}
