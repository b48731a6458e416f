/**
 * Slope and aspect from 3 by 3 windows: B. Horn, Hill shading and the reflectance map, Proc. IEEE 69
 * (1981), as the terrain tool of GDAL computes them, edges included.
 */

/** What becomes of cells with a neighbour that is not there or not known. */
export type EdgeCells = "leave" | "compute";

/** Rise of every cell, in metres of height a column to the right and a row down; NaN where unknown. */
export interface CellGradients {
  readonly perColumn: Float64Array;
  readonly perRow: Float64Array;
}

/**
 * Gradients of a raster of heights by Horn's weights (1-2-1)/8.
 *
 * @param heights row by row from the top; NaN where there is none
 * @param edges `leave`: cells at the border and beside unknown ones have no gradient. `compute`: the
 *   row or column beyond the border goes on as the last two do, and unknown neighbours count as level
 */
export function hornGradients(
  heights: Float64Array,
  columns: number,
  rows: number,
  edges: EdgeCells,
): CellGradients {
  const perColumn = new Float64Array(columns * rows).fill(Number.NaN);
  const perRow = new Float64Array(columns * rows).fill(Number.NaN);
  const window = new Float64Array(9);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const at = row * columns + column;
      if (Number.isNaN(heights[at]!)) continue;
      if (!fill(window, heights, columns, rows, column, row, edges)) continue;
      const [a, b, c, d, , f, g, h, i] = window as unknown as number[];
      perColumn[at] = (c! + 2 * f! + i! - (a! + 2 * d! + g!)) / 8;
      perRow[at] = (g! + 2 * h! + i! - (a! + 2 * b! + c!)) / 8;
    }
  }
  return { perColumn, perRow };
}

/** Fills the window round a cell; false where it has no gradient. */
function fill(
  window: Float64Array,
  heights: Float64Array,
  columns: number,
  rows: number,
  column: number,
  row: number,
  edges: EdgeCells,
): boolean {
  const inside = column > 0 && row > 0 && column < columns - 1 && row < rows - 1;
  if (!inside && (edges === "leave" || columns < 2 || rows < 2)) return false;
  const centre = heights[row * columns + column]!;
  for (let j = -1; j <= 1; j++) {
    for (let i = -1; i <= 1; i++) {
      const value = inside
        ? heights[(row + j) * columns + column + i]!
        : beyond(heights, columns, rows, column, row, i, j);
      if (Number.isNaN(value) && edges === "leave") return false;
      window[(j + 1) * 3 + i + 1] = Number.isNaN(value) ? centre : value;
    }
  }
  return true;
}

/**
 * A neighbour of a border cell. Beyond the first or last row the two rows there go on, columns held at
 * the border; only in the other rows does the same hold for columns.
 */
function beyond(
  heights: Float64Array,
  columns: number,
  rows: number,
  column: number,
  row: number,
  i: number,
  j: number,
): number {
  const at = (c: number, r: number) => heights[r * columns + c]!;
  const goOn = (last: number, before: number) => 2 * last - before;
  if (row === 0 || row === rows - 1) {
    const c = Math.min(columns - 1, Math.max(0, column + i));
    const r = row + j;
    if (r < 0) return goOn(at(c, 0), at(c, 1));
    if (r >= rows) return goOn(at(c, rows - 1), at(c, rows - 2));
    return at(c, r);
  }
  const c = column + i;
  if (c < 0) return goOn(at(0, row + j), at(1, row + j));
  if (c >= columns) return goOn(at(columns - 1, row + j), at(columns - 2, row + j));
  return at(c, row + j);
}

/** Slope of a cell in percent (100 tan of its angle) from its rise a column and a row. */
export function slopePercent(
  perColumn: number,
  perRow: number,
  columnM: number,
  rowM: number,
): number {
  return 100 * Math.hypot(perColumn / columnM, perRow / rowM);
}

/** The same as an angle, degrees. */
export function slopeDeg(perColumn: number, perRow: number, columnM: number, rowM: number): number {
  return (Math.atan(slopePercent(perColumn, perRow, columnM, rowM) / 100) * 180) / Math.PI;
}

/** Direction in which it falls, degrees clockwise from the top of the raster; NaN where it is level. */
export function aspectDeg(
  perColumn: number,
  perRow: number,
  columnM: number,
  rowM: number,
): number {
  if (perColumn === 0 && perRow === 0) return Number.NaN;
  // Downhill: against the rise; rows run down.
  const deg = (Math.atan2(-perColumn / columnM, perRow / rowM) * 180) / Math.PI;
  return deg < 0 ? deg + 360 : deg;
}
