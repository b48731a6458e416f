import type { RawFeature, RawLayer } from "../../model/features.ts";
import { fieldsOf, reportNullGeometries } from "../members.ts";
import { isUnsafeName, unsafeNameFinding } from "../names.ts";
import type { FindingList } from "../reader.ts";
import { takeFeature } from "../take-feature.ts";
import { binaryFinding, UnreadTypes } from "../unread.ts";
import type { WkbOutcome } from "../wkb.ts";
import { readGeometryBlob } from "./blob.ts";
import { type FeatureTable, readSrs } from "./contents.ts";
import { quoted, type SqlFile, type SqlValue } from "./database.ts";

interface Column {
  readonly name: string;
  readonly type: string;
  readonly key: number;
}

/** A value of the table as an attribute: truth values as such; SQLite stores them as 0 and 1. */
function attributeOf(value: SqlValue, column: Column): unknown {
  return column.type === "BOOLEAN" && typeof value === "number" ? value !== 0 : value;
}

function geometryOf(value: SqlValue): WkbOutcome {
  if (value === null) return { kind: "geometry", geometry: null };
  if (value instanceof Uint8Array) return readGeometryBlob(value);
  return { kind: "damaged", why: "it is no binary value" };
}

/** All rows of one feature table. Throws where SQLite meets a damaged page. */
export function readTable(
  file: string,
  database: SqlFile,
  { table, geometryColumn, srsId }: FeatureTable,
  rowsMax: number,
  findings: FindingList,
): RawLayer {
  const columns = database.columns(table);
  const keys = columns.filter(({ key }) => key > 0);
  const key = keys.length === 1 ? keys[0] : undefined;
  const isGeometry = ({ name }: Column) => name.toLowerCase() === geometryColumn.toLowerCase();
  if (!columns.some(isGeometry)) throw new Error(`table ${table} has no column ${geometryColumn}`);
  const read = columns.filter(
    (column) => column !== key && !isGeometry(column) && !isUnsafeName(column.name),
  );
  if (columns.some(({ name }) => isUnsafeName(name)))
    findings.all.push(unsafeNameFinding(file, table));
  const wanted = [key?.name ?? null, geometryColumn, ...read.map(({ name }) => name)];
  const list = wanted.map((name) => (name === null ? "NULL" : quoted(name))).join(", ");
  const features: RawFeature[] = [];
  const unread = new UnreadTypes();
  const binary = new Set<string>();
  let number = 0;
  for (const [id, blob, ...values] of database.rows(`SELECT ${list} FROM ${quoted(table)}`)) {
    if (++number > rowsMax) throw new Error(`table ${table} has more rows than the file can hold`);
    const outcome = geometryOf(blob ?? null);
    if (outcome.kind === "type") {
      unread.add(outcome.name, number);
      continue;
    }
    if (outcome.kind === "damaged") {
      findings.add({
        code: "GEOMETRY_DAMAGED",
        severity: "error",
        layer: table,
        feature: `#${number}`,
        message: `feature ${number} is left out: its geometry cannot be read: ${outcome.why}`,
        remedy: "Repair the layer in the program that made it, and export it again.",
      });
      continue;
    }
    const properties: Record<string, unknown> = {};
    for (const [index, column] of read.entries()) {
      const value = values[index] ?? null;
      if (value instanceof Uint8Array) binary.add(column.name);
      else properties[column.name] = attributeOf(value, column);
    }
    const raw: RawFeature = {
      number,
      ...(id === null || id === undefined ? {} : { id: String(id) }),
      geometry: outcome.geometry,
      properties,
      ...(outcome.measures === undefined ? {} : { measures: outcome.measures }),
    };
    for (const feature of takeFeature(raw, findings, table)) features.push(feature);
  }
  unread.report(findings, table);
  if (binary.size > 0) findings.add(binaryFinding(table, binary));
  reportNullGeometries(features, findings, table);
  return {
    file,
    format: "gpkg",
    layer: table,
    features,
    featuresInFile: number,
    fields: fieldsOf(features),
    crs: readSrs(database, srsId),
  };
}
