/** ESRI ASCII grid: a header of keys, then numbers row by row from the north. */
import type { CrsDeclaration, InputFile } from "../../model/features.ts";
import { done, failed, type Outcome } from "../../model/finding.ts";
import type { CellWindow, RawRaster } from "../../model/raster.ts";
import { inputProblem } from "../reader.ts";
import { RASTER_LIMITS, type RasterReader } from "./raster-reader.ts";

/** No header is longer. */
const HEADER_BYTES = 4096;

interface Header {
  readonly keys: ReadonlyMap<string, number>;
  /** Where the numbers begin. */
  readonly bodyAt: number;
}

/** Lines of a word and a number; the first line that begins with a number ends the header. */
function headerOf(bytes: Uint8Array): Header {
  const text = new TextDecoder("latin1").decode(bytes.subarray(0, HEADER_BYTES));
  const keys = new Map<string, number>();
  let bodyAt = text.startsWith("\u00ef\u00bb\u00bf") ? 3 : 0;
  const line = /\s*([A-Za-z_]+)[ \t]+(\S+)[^\r\n]*(?:\r\n|\r|\n)/y;
  line.lastIndex = bodyAt;
  for (let match = line.exec(text); match !== null; match = line.exec(text)) {
    // A grid may begin with `nan` in the body.
    if (/^nan$/i.test(match[1]!)) break;
    keys.set(match[1]!.toLowerCase(), Number(match[2]!.replace(",", ".")));
    bodyAt = line.lastIndex;
  }
  return { keys, bodyAt };
}

async function open(input: InputFile): Promise<Outcome<RawRaster>> {
  const file = input.name;
  const { keys, bodyAt } = headerOf(input.bytes);
  const broken = <T>(message: string): Outcome<T> =>
    failed(
      inputProblem(
        file,
        "RASTER_BROKEN",
        message,
        "Export it again, e.g. with `gdal_translate -of AAIGrid`.",
      ),
    );
  const [columns, rows] = [keys.get("ncols") ?? 0, keys.get("nrows") ?? 0];
  if (!isCount(columns) || !isCount(rows) || columns * rows > RASTER_LIMITS.cells) {
    return broken(`the header says ${columns} columns and ${rows} rows`);
  }
  // Every number takes a digit and a space.
  if (columns * rows * 2 - 1 > input.bytes.length - bodyAt) {
    return broken(`the file is too short for ${columns} columns and ${rows} rows`);
  }
  const dx = keys.get("cellsize") ?? keys.get("dx") ?? 0;
  const dy = keys.get("cellsize") ?? keys.get("dy") ?? 0;
  const west = corner(keys, "xllcorner", "xllcenter", dx);
  const south = corner(keys, "yllcorner", "yllcenter", dy);
  if (!(dx > 0) || !(dy > 0) || west === undefined || south === undefined) {
    return broken("the header lacks its corner (xllcorner, yllcorner) or its cell size");
  }
  const noData = keys.get("nodata_value") ?? Number.NaN;
  return done({
    file,
    format: "esri-grid",
    columns,
    rows,
    frame: {
      x0: west,
      y0: south + rows * dy,
      xPerColumn: dx,
      yPerColumn: 0,
      xPerRow: 0,
      yPerRow: -dy,
    },
    crs: crsOf(input),
    read: async (window) => {
      const heights = numbersOf(input.bytes, bodyAt, columns, rows, window, noData);
      return typeof heights === "string" ? broken(heights) : done(heights);
    },
  });
}

const isCount = (value: number) => Number.isInteger(value) && value > 0;

function corner(
  keys: ReadonlyMap<string, number>,
  edge: string,
  middle: string,
  cell: number,
): number | undefined {
  const at = keys.get(edge);
  const centre = keys.get(middle);
  const value = at ?? (centre === undefined ? undefined : centre - cell / 2);
  return Number.isFinite(value) ? value : undefined;
}

function crsOf({ siblings }: InputFile): CrsDeclaration {
  const prj = siblings?.[".prj"];
  if (prj === undefined) return { kind: "none" };
  return { kind: "definition", text: new TextDecoder().decode(prj), from: ".prj" };
}

/** The numbers of a window, or what is wrong with the body. All numbers are counted. */
function numbersOf(
  bytes: Uint8Array,
  bodyAt: number,
  columns: number,
  rows: number,
  { left, top, right, bottom }: CellWindow,
  noData: number,
): Float64Array | string {
  const width = right - left;
  const heights = new Float64Array(width * (bottom - top)).fill(Number.NaN);
  let [column, row, at] = [0, 0, bodyAt];
  while (at < bytes.length) {
    if (isSpace(bytes[at]!)) {
      at++;
      continue;
    }
    const from = at;
    while (at < bytes.length && !isSpace(bytes[at]!)) at++;
    if (row >= rows) return `there are more numbers than ${columns} columns and ${rows} rows take`;
    if (row >= top && row < bottom && column >= left && column < right) {
      const text = String.fromCharCode(...bytes.subarray(from, Math.min(at, from + 40)));
      const value = Number(text.replace(",", "."));
      const isNaNWord = /^[-+]?(nan|1\.#\w+)$/i.test(text);
      if (Number.isNaN(value) && !isNaNWord) {
        return `row ${row + 1}, column ${column + 1} holds "${text.slice(0, 20)}", which is no number`;
      }
      if (value !== noData && Number.isFinite(value)) {
        heights[(row - top) * width + column - left] = value;
      }
    }
    column++;
    if (column === columns) [column, row] = [0, row + 1];
  }
  if (row < rows) return `the numbers end in row ${row + 1} of ${rows}`;
  return heights;
}

const isSpace = (byte: number) => byte === 32 || (byte >= 9 && byte <= 13);

/** ESRI ASCII grid (`.asc`), with its `.prj` where there is one. */
export const esriGridReader: RasterReader = { id: "esri-grid", label: "ESRI ASCII grid", open };
