/**
 * Attributes of a shapefile: dBase III, text in UTF-8 (a `.cpg` says so).
 * Source: dBase level 5 table file structure; 32 bytes of header, 32 a field, records of fixed width.
 */
import { shortNames } from "../../model/plan-fields.ts";
import { decimalText } from "../exchange/decimals.ts";
import { type Column, cellOf, type Properties } from "../exchange/drawn-plan.ts";

const TEXT_BYTES_MAX = 254;
/** Digits of a number; others read at most 15 of them exactly. */
const NUMBER_WIDTH_MAX = 20;
const DECIMALS_MAX = 9;
const SPACE = 0x20;

interface Field {
  readonly short: string;
  readonly type: "C" | "N" | "L";
  readonly width: number;
  readonly decimals: number;
  readonly cells: readonly Uint8Array[];
}

export interface DbfFile {
  readonly bytes: Uint8Array;
  /** Rows with text that is cut short, and with values of several parts that are left out. */
  readonly cut: ReadonlySet<number>;
  readonly leftOut: ReadonlySet<number>;
}

export function dbfOf(columns: readonly Column[], rows: readonly Properties[]): DbfFile {
  const short = shortNames(columns.map(({ name }) => name));
  const cut = new Set<number>();
  const leftOut = new Set<number>();
  const fields = columns.map((column): Field => {
    const about = { short: short.get(column.name)! };
    const values = rows.map((row) => cellOf(row, column));
    if (column.type === "flag") {
      const cells = values.map((value) => ascii(value === null ? "?" : value ? "T" : "F"));
      return { ...about, type: "L", width: 1, decimals: 0, cells };
    }
    if (column.type === "number") return { ...about, ...numberField(values as (number | null)[]) };
    const cells = values.map((value, row) => {
      const bytes = new TextEncoder().encode(value === null ? "" : String(value));
      if (bytes.length <= TEXT_BYTES_MAX) return bytes;
      if (column.type === "data") {
        leftOut.add(row);
        return new Uint8Array(0);
      }
      cut.add(row);
      return bytes.slice(0, endOfLetter(bytes, TEXT_BYTES_MAX));
    });
    const width = Math.max(1, ...cells.map((cell) => cell.length));
    return { ...about, type: "C", width, decimals: 0, cells };
  });
  return { bytes: fileOf(fields, rows.length), cut, leftOut };
}

/** Where the last whole letter ends within so many bytes of UTF-8. */
function endOfLetter(bytes: Uint8Array, most: number): number {
  let end = most;
  while (end > 0 && (bytes[end]! & 0xc0) === 0x80) end--;
  return end;
}

/** As many decimals as its values have. */
function numberField(values: readonly (number | null)[]): Omit<Field, "short"> {
  const decimals = Math.max(
    0,
    ...values.map((value) => decimalText(value ?? 0, DECIMALS_MAX).split(".")[1]?.length ?? 0),
  );
  const cells = values.map((value) => ascii(value === null ? "" : value.toFixed(decimals)));
  const width = Math.min(NUMBER_WIDTH_MAX, Math.max(1, ...cells.map((cell) => cell.length)));
  return { type: "N", width, decimals, cells };
}

const ascii = (text: string) => new TextEncoder().encode(text);

function fileOf(fields: readonly Field[], rows: number): Uint8Array {
  const headerBytes = 32 + 32 * fields.length + 1;
  const rowBytes = 1 + fields.reduce((sum, { width }) => sum + width, 0);
  const bytes = new Uint8Array(headerBytes + rowBytes * rows + 1).fill(SPACE, headerBytes);
  const view = new DataView(bytes.buffer);
  // Version 3, no memos; the date is that of ZIP_TIME: years from 1900, month, day.
  bytes.set([0x03, 80, 1, 1]);
  view.setUint32(4, rows, true);
  view.setUint16(8, headerBytes, true);
  view.setUint16(10, rowBytes, true);
  for (const [i, { short, type, width, decimals }] of fields.entries()) {
    const at = 32 + 32 * i;
    bytes.set(ascii(short), at);
    bytes[at + 11] = type.charCodeAt(0);
    bytes[at + 16] = width;
    bytes[at + 17] = decimals;
  }
  bytes[headerBytes - 1] = 0x0d;
  let column = 1;
  for (const { type, width, cells } of fields) {
    for (const [row, cell] of cells.entries()) {
      const at = headerBytes + rowBytes * row + column;
      bytes.set(cell, type === "N" ? at + width - cell.length : at);
    }
    column += width;
  }
  bytes[bytes.length - 1] = 0x1a;
  return bytes;
}
