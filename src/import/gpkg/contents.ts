import type { CrsDeclaration } from "../../model/features.ts";
import type { SqlFile } from "./database.ts";

/** One feature table as gpkg_contents and gpkg_geometry_columns describe it. */
export interface FeatureTable {
  readonly table: string;
  readonly geometryColumn: string;
  readonly srsId: number;
}

/** What a GeoPackage says that it holds. */
export interface GpkgContents {
  readonly features: readonly FeatureTable[];
  /** Tables of another kind (tiles, attributes): kind by name. */
  readonly others: ReadonlyMap<string, string>;
}

/** The tables that a GeoPackage must have for features (OGC 12-128r18, clauses 1.1.3 and 2.1.5). */
const NEEDED = ["gpkg_contents", "gpkg_geometry_columns", "gpkg_spatial_ref_sys"];

/** Needed tables that are missing or no tables. */
export function missingTables(file: SqlFile): string[] {
  return NEEDED.filter((name) => !file.isPlainTable(name));
}

/** Layers in the order of gpkg_contents. */
export function readContents(file: SqlFile): GpkgContents {
  const features: FeatureTable[] = [];
  const others = new Map<string, string>();
  const rows = file.rows(
    `SELECT c.table_name, c.data_type, g.column_name, g.srs_id
     FROM gpkg_contents c LEFT JOIN gpkg_geometry_columns g ON g.table_name = c.table_name COLLATE NOCASE
     ORDER BY c.rowid`,
  );
  for (const [table, kind, column, srsId] of rows) {
    if (kind === "features" && typeof column === "string") {
      features.push({ table: String(table), geometryColumn: column, srsId: Number(srsId) });
    } else {
      others.set(String(table), String(kind));
    }
  }
  return { features, others };
}

/**
 * The reference system of a table. Numbers -1 and 0 say that there is none (clause 1.1.2.1.2).
 * Coordinates are east or longitude first whatever the system's own order (clause 2.1.3.1.1, note).
 */
export function readSrs(file: SqlFile, srsId: number): CrsDeclaration {
  const from = "gpkg_spatial_ref_sys";
  const rows = file.rows(
    "SELECT organization, organization_coordsys_id, definition FROM gpkg_spatial_ref_sys WHERE srs_id = ?",
    [srsId],
  );
  for (const [organization, code, definition] of rows) {
    if (String(organization).toUpperCase() === "EPSG" && Number(code) > 0) {
      return { kind: "epsg", code: Number(code), from };
    }
    const text = String(definition ?? "").trim();
    if (srsId > 0 && text !== "" && text !== "undefined") return { kind: "definition", text, from };
  }
  return { kind: "none" };
}
