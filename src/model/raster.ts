import type { CrsDeclaration } from "./features.ts";
import type { Outcome } from "./finding.ts";

/** From cells to coordinates of the file's system: the outer corner of the first cell, and one step. */
export interface CellFrame {
  readonly x0: number;
  readonly y0: number;
  /** Change of x and y along one column to the right. */
  readonly xPerColumn: number;
  readonly yPerColumn: number;
  /** The same along one row down; y mostly falls. */
  readonly xPerRow: number;
  readonly yPerRow: number;
}

/** Cells of a raster; `right` and `bottom` are not part of it. */
export interface CellWindow {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** A raster of heights as its file has it, opened but not yet read. */
export interface RawRaster {
  readonly file: string;
  readonly format: string;
  readonly columns: number;
  readonly rows: number;
  readonly frame: CellFrame;
  readonly crs: CrsDeclaration;
  /** Metres in one unit of the heights, where the file says so. */
  readonly heightUnitM?: number;
  /** Heights of a window, row by row, in the file's unit; NaN where there is none. */
  read(window: CellWindow): Promise<Outcome<Float64Array>>;
}
