/**
 * The record structure of a .shp file, checked before any of it is trusted.
 * Source: ESRI Shapefile Technical Description, July 1998, pages 3 to 20.
 */

/** Length of the file header, bytes. */
export const HEADER_BYTES = 100;
const FILE_CODE = 9994;

const NAMES: Readonly<Record<number, string>> = {
  0: "Null",
  1: "Point",
  3: "PolyLine",
  5: "Polygon",
  8: "MultiPoint",
  11: "PointZ",
  13: "PolyLineZ",
  15: "PolygonZ",
  18: "MultiPointZ",
  21: "PointM",
  23: "PolyLineM",
  25: "PolygonM",
  28: "MultiPointM",
  31: "MultiPatch",
};

/** Points, lines, polygons and multipoints, plain, with height or with measure; and null shapes. */
export const READABLE_TYPES: ReadonlySet<number> = new Set(
  Object.keys(NAMES)
    .map(Number)
    .filter((type) => type !== 31),
);

/** Name of a shape type, or its number. */
export function shapeTypeName(type: number): string {
  return NAMES[type] ?? `type ${type}`;
}

export type RecordState =
  | { readonly kind: "sound" | "null" }
  | { readonly kind: "damaged"; readonly why: string };

/** One record: where its content lies, and whether it holds what its type says. */
export interface ShpRecord {
  readonly offset: number;
  readonly bytes: number;
  readonly state: RecordState;
}

export interface ShpStructure {
  readonly type: number;
  readonly records: readonly ShpRecord[];
  /** Set where the file ends before its own lengths say: what is wrong, in words. */
  readonly truncated?: string;
}

/** Least bytes of content by kind of shape, from the counts it holds. */
function contentFault(
  view: DataView,
  offset: number,
  bytes: number,
  type: number,
): string | undefined {
  const base = type % 10;
  if (base === 1) return bytes < 20 ? "too short for a point" : undefined;
  if (base === 8) {
    if (bytes < 40) return "too short for a multipoint";
    const points = view.getInt32(offset + 36, true);
    return points < 0 || 40 + 16 * points > bytes ? `says that it has ${points} points` : undefined;
  }
  if (bytes < 44) return "too short for a line or polygon";
  const parts = view.getInt32(offset + 36, true);
  const points = view.getInt32(offset + 40, true);
  if (parts < 0 || points < 0 || 44 + 4 * parts + 16 * points > bytes) {
    return `says that it has ${parts} parts and ${points} points, more than it holds`;
  }
  let last = -1;
  for (let part = 0; part < parts; part++) {
    const start = view.getInt32(offset + 44 + 4 * part, true);
    if (start <= last || start > points) return `part ${part + 1} begins at point ${start}`;
    last = start;
  }
  return undefined;
}

function stateOf(view: DataView, offset: number, bytes: number, fileType: number): RecordState {
  if (bytes < 4) return { kind: "damaged", why: "it is empty" };
  const type = view.getInt32(offset, true);
  if (type === 0) return { kind: "null" };
  if (type !== fileType && !READABLE_TYPES.has(type)) {
    const why = `it is a ${shapeTypeName(type)} in a file of ${shapeTypeName(fileType)}s`;
    return { kind: "damaged", why };
  }
  const why = contentFault(view, offset, bytes, type);
  return why === undefined ? { kind: "sound" } : { kind: "damaged", why };
}

/** True where the bytes begin like a .shp (or .shx) file. */
export function hasShpCode(bytes: Uint8Array): boolean {
  return (
    bytes.length >= 4 && new DataView(bytes.buffer, bytes.byteOffset).getInt32(0) === FILE_CODE
  );
}

/** Walks all records of a .shp file that has at least a whole header. */
export function readStructure(bytes: Uint8Array): ShpStructure {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const type = view.getInt32(32, true);
  const saidBytes = view.getInt32(24) * 2;
  const records: ShpRecord[] = [];
  let at = HEADER_BYTES;
  while (at + 8 <= bytes.length) {
    const contentBytes = view.getInt32(at + 4) * 2;
    const offset = at + 8;
    if (contentBytes < 0 || offset + contentBytes > bytes.length) {
      if (at >= saidBytes && records.length > 0) break; // Left-overs after the end that the header gives.
      return {
        type,
        records,
        truncated: `record ${records.length + 1} at byte ${at} says that it is ${contentBytes} bytes long, but the file ends after ${bytes.length - offset}`,
      };
    }
    if (at >= saidBytes && saidBytes >= HEADER_BYTES && contentBytes === 0) break;
    records.push({ offset, bytes: contentBytes, state: stateOf(view, offset, contentBytes, type) });
    at = offset + contentBytes;
  }
  // A few stray bytes that can be no record, in a file as long as it says, are no loss.
  if (at < saidBytes && bytes.length < saidBytes) {
    const truncated = `its header says that it is ${saidBytes} bytes long, but its last whole record ends at byte ${at}`;
    return { type, records, truncated };
  }
  return { type, records };
}

/**
 * A copy of the file with the records of one kind, all others null shapes, numbered without gaps, so
 * that the reading library meets nothing that it must not trust.
 *
 * @param type the shape type to write into header and records: how the library is to read them
 */
export function soundCopy(
  bytes: Uint8Array,
  structure: ShpStructure,
  type: number,
  isOfKind: (record: ShpRecord) => boolean,
): Uint8Array {
  const kept = structure.records.map(isOfKind);
  const sizes = structure.records.map((record, index) => (kept[index] ? 8 + record.bytes : 12));
  const total = sizes.reduce((sum, size) => sum + size, HEADER_BYTES);
  const copy = new Uint8Array(total);
  copy.set(bytes.subarray(0, HEADER_BYTES));
  const view = new DataView(copy.buffer);
  view.setInt32(24, total / 2);
  view.setInt32(32, type, true);
  let at = HEADER_BYTES;
  for (const [index, record] of structure.records.entries()) {
    view.setInt32(at, index + 1);
    if (kept[index]) {
      view.setInt32(at + 4, record.bytes / 2);
      copy.set(bytes.subarray(record.offset, record.offset + record.bytes), at + 8);
      view.setInt32(at + 8, type, true);
    } else {
      view.setInt32(at + 4, 2);
    }
    at += sizes[index]!;
  }
  return copy;
}
