import { decoderLabel, encodingOf, mappedText } from "./dbf-encoding.ts";
import { isUnsafeName, unsafeNameFinding } from "./names.ts";
import type { FindingList } from "./reader.ts";
import { shapefileLibrary } from "./shapefile-library.ts";

type Row = Record<string, unknown>;

/** What a .dbf holds. */
export interface DbfTable {
  /** In record order, deleted ones included. */
  readonly rows: readonly Row[];
  /** 0-based records that are marked as deleted. */
  readonly deleted: ReadonlySet<number>;
}

/** Field types that the library decodes; others are binary or newer than dBASE IV. */
const TEXT_TYPES = "BCDFLMN";
const HEADER_BYTES = 32;
const FIELD_BYTES = 32;
/** First byte of a record that is marked as deleted. */
const DELETED = 0x2a;
/** First byte after the last record. */
const END = 0x1a;

interface Field {
  readonly name: string;
  /** Where its description begins. */
  readonly at: number;
  readonly type: string;
}

function fieldsIn(dbf: Uint8Array, headerBytes: number): Field[] {
  const fields: Field[] = [];
  const last = Math.min(headerBytes, dbf.length) - FIELD_BYTES;
  for (let at = HEADER_BYTES; at <= last && dbf[at] !== 0x0d; at += FIELD_BYTES) {
    const name = dbf.subarray(at, at + 11);
    const end = name.indexOf(0);
    fields.push({
      name: new TextDecoder("windows-1252").decode(end < 0 ? name : name.subarray(0, end)),
      at,
      type: String.fromCharCode(dbf[at + 11]!),
    });
  }
  return fields;
}

/** A copy with fields that are not to be read marked as text, under names that stand for nothing. */
function readable(dbf: Uint8Array, notRead: readonly Field[]): Uint8Array {
  if (notRead.length === 0) return dbf;
  const copy = dbf.slice();
  for (const [index, { at }] of notRead.entries()) {
    copy.fill(0, at, at + 11);
    copy.set(new TextEncoder().encode(`\x01${index}`), at);
    copy[at + 11] = 0x43;
  }
  return copy;
}

/** Dates as `YYYY-MM-DD`; null where it is none. */
function dateText(value: Date): string | null {
  if (Number.isNaN(value.getTime())) return null;
  const two = (n: number) => String(n).padStart(2, "0");
  return `${value.getFullYear()}-${two(value.getMonth() + 1)}-${two(value.getDate())}`;
}

function deletedIn(dbf: Uint8Array, headerBytes: number, recordBytes: number): Set<number> {
  const deleted = new Set<number>();
  if (recordBytes < 1) return deleted;
  for (let at = headerBytes, index = 0; at < dbf.length; at += recordBytes, index++) {
    if (dbf[at] === DELETED) deleted.add(index);
    else if (dbf[at] === END) break;
  }
  return deleted;
}

/**
 * The attribute rows of a .dbf, in record order; undefined (with a finding) where it cannot be read.
 * Encoding: the .cpg file, else the header's code page, else UTF-8 where the bytes are, else
 * Windows-1252. Rows are read as far as there are bytes, whatever count the header gives.
 */
export async function readDbf(
  dbf: Uint8Array,
  cpg: Uint8Array | undefined,
  findings: FindingList,
  layer: string,
  file: string,
): Promise<DbfTable | undefined> {
  const unreadable = (why: string): undefined => {
    findings.add({
      code: "DBF_UNREADABLE",
      severity: "warning",
      layer,
      message: `the .dbf cannot be read (${why}): all attributes are missing`,
      remedy: "Export the layer again, or give roles with --role LAYER=ROLE.",
    });
    return undefined;
  };
  if (dbf.length < 33) return unreadable(`${dbf.length} bytes are less than its header`);
  const headerBytes = dbf[8]! + 256 * dbf[9]!;
  const recordBytes = dbf[10]! + 256 * dbf[11]!;
  if (recordBytes === 0) return unreadable("its header says that a record has no bytes");
  const fields = fieldsIn(dbf, headerBytes);
  const unknown = fields.filter(({ type }) => !TEXT_TYPES.includes(type));
  const unsafe = fields.filter(({ name }) => isUnsafeName(name));
  const encoding = encodingOf(dbf, cpg, findings, layer);
  const rows: Row[] = [];
  try {
    const bytes = readable(dbf, [...unknown, ...unsafe]);
    const { openDbf } = await shapefileLibrary();
    const source = await openDbf(bytes, { encoding: decoderLabel(encoding) });
    for (let next = await source.read(); !next.done; next = await source.read()) {
      rows.push(plainRow(next.value, encoding));
    }
  } catch (error) {
    return unreadable(error instanceof Error ? error.message : String(error));
  }
  if (unsafe.length > 0) findings.all.push(unsafeNameFinding(file, layer));
  if (unknown.length > 0) {
    findings.add({
      code: "DBF_FIELD_NOT_READ",
      severity: "info",
      layer,
      message: `attributes of a type beyond dBASE IV are not read: ${unknown.map(({ name }) => name).join(", ")}`,
      remedy: "Store them as text or numbers if they matter.",
    });
  }
  return { rows, deleted: deletedIn(dbf, headerBytes, recordBytes) };
}

/** The library's row with dates as text and the letters of DOS code pages put in place. */
function plainRow(row: Row, encoding: string): Row {
  const isDos = encoding.startsWith("cp");
  const plain: Row = {};
  for (const name in row) {
    if (name.startsWith("\x01")) continue;
    const value = row[name];
    plain[isDos ? mappedText(name, encoding) : name] =
      value instanceof Date
        ? dateText(value)
        : isDos && typeof value === "string"
          ? mappedText(value, encoding)
          : value;
  }
  return plain;
}
