import type { InputFile, RawLayer } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import { missingTables, readContents } from "./gpkg/contents.ts";
import { SqlFile } from "./gpkg/database.ts";
import { readTable } from "./gpkg/table.ts";
import { FindingList, inputProblem, type ReadContext, type Reader } from "./reader.ts";

const MAGIC = "SQLite format 3\0";
/** A row takes at least this many bytes of its page (cell pointer, sizes, header). */
const ROW_BYTES_MIN = 4;

/** Where programs keep how layers are drawn; nothing of the site is in it. */
const STYLE_TABLE = "layer_styles";

/** True where the bytes begin like a database of SQLite 3. */
function isSqlite(bytes: Uint8Array): boolean {
  return [...MAGIC].every((letter, index) => bytes[index] === letter.charCodeAt(0));
}

/** Bytes 18 and 19 of the header: 2 where changes may still lie in a file beside (write-ahead log). */
function usesLog(bytes: Uint8Array): boolean {
  return bytes[18] === 2 || bytes[19] === 2;
}

/** A copy that is read without its write-ahead log, which a database in memory cannot have. */
function withoutLog(bytes: Uint8Array): Uint8Array {
  const copy = bytes.slice();
  copy[18] = 1;
  copy[19] = 1;
  return copy;
}

/** Bytes of the database by its header: page size times pages; 0 where it does not say. */
function bytesByHeader(bytes: Uint8Array): number {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const page = view.getUint16(16);
  return (page === 1 ? 65_536 : page) * view.getUint32(28);
}

function readLayers(
  input: InputFile,
  database: SqlFile,
  findings: FindingList,
  context: ReadContext,
): Outcome<RawLayer[]> {
  const missing = missingTables(database);
  if (missing.length > 0) {
    return failed(
      inputProblem(
        input.name,
        "NOT_GEOPACKAGE",
        `a database, but no GeoPackage with features: it has no table ${missing.join(", ")}`,
        "Export the layers as GeoPackage.",
      ),
    );
  }
  const { features, others: beside } = readContents(database);
  const others = new Map([...beside].filter(([name]) => name.toLowerCase() !== STYLE_TABLE));
  const views = features.filter(({ table }) => !database.isPlainTable(table));
  if (others.size > 0 || views.length > 0) {
    const list = [...others].map(([name, kind]) => `${name} (${kind})`);
    for (const { table } of views) list.push(`${table} (a view)`);
    findings.add({
      code: "GPKG_TABLE_NOT_READ",
      severity: views.length > 0 ? "warning" : "info",
      message: `tables without features of their own are not read: ${list.slice(0, 5).join(", ")}${list.length > 5 ? ` and ${list.length - 5} more` : ""}`,
      remedy:
        "Save a view as a table, if its shapes belong to the site; pictures and lists are not needed.",
    });
  }
  const tables = features.filter((one) => !views.includes(one));
  if (tables.length === 0) {
    return failed(
      inputProblem(
        input.name,
        "GPKG_NO_FEATURES",
        "the GeoPackage holds no table of features",
        "Check that the right layers were exported: pictures (tiles) and plain lists have no shapes.",
      ),
      findings.all,
    );
  }
  const rowsMax = Math.floor(input.bytes.length / ROW_BYTES_MIN);
  const layers: RawLayer[] = [];
  for (const [index, table] of tables.entries()) {
    layers.push(readTable(input.name, database, table, rowsMax, findings));
    context.onShare?.((index + 1) / tables.length);
  }
  return done(layers, findings.all);
}

async function readGpkg(input: InputFile, context: ReadContext): Promise<Outcome<RawLayer[]>> {
  const findings = new FindingList(input.name);
  const damaged = (why: string): Outcome<RawLayer[]> =>
    failed(
      inputProblem(
        input.name,
        "GPKG_DAMAGED",
        `the GeoPackage cannot be read (${why})`,
        "Copy or export it again; close the program that has it open first, so that all is written.",
      ),
      findings.all,
    );
  if (!isSqlite(input.bytes) || input.bytes.length < 100)
    return damaged("it is no SQLite database");
  const said = bytesByHeader(input.bytes);
  if (said > input.bytes.length) {
    return damaged(
      `its header says ${said} bytes, the file has ${input.bytes.length}: it is cut short`,
    );
  }
  const isLogged = usesLog(input.bytes);
  if (isLogged) {
    findings.add({
      code: "GPKG_LOG_NOT_READ",
      severity: "warning",
      message:
        "the GeoPackage was saved while open: changes that still lie in a file ending in -wal are not read",
      remedy: "Close the program that has it open, so that the -wal file goes, and give it again.",
    });
  }
  let database: SqlFile | undefined;
  try {
    database = await SqlFile.open(isLogged ? withoutLog(input.bytes) : input.bytes);
    return readLayers(input, database, findings, context);
  } catch (error) {
    return damaged(error instanceof Error ? error.message : String(error));
  } finally {
    database?.close();
  }
}

/** GeoPackage 1.0 to 1.4 (OGC 12-128r18). See docs/formats/geopackage.md. */
export const gpkgReader: Reader = {
  id: "gpkg",
  label: "GeoPackage",
  extensions: [".gpkg"],
  looksLike: isSqlite,
  read: readGpkg,
};
