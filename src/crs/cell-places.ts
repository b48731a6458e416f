/** Places in a raster: between cells, coordinates of its system and the site grid. */
import type { CellFrame, RawRaster } from "../model/raster.ts";
import type { SiteGrid } from "../model/site.ts";
import type { XY } from "./build-crs.ts";
import { inverseOf } from "./inverse.ts";
import type { Transform } from "./patch.ts";
import type { SourceCrs } from "./source-crs.ts";

/** What of a raster says where it lies. */
export type RasterPlace = Pick<RawRaster, "frame" | "columns" | "rows">;

/** From a raster's system to the site grid; NaN where the system has no place on earth for it. */
export function gridTransform(crs: SourceCrs, grid: SiteGrid): Transform {
  return (x, y) => {
    const at = crs.toWgs84(x, y);
    return at.every(Number.isFinite) ? (grid.forward(at) as XY) : [Number.NaN, Number.NaN];
  };
}

/** Coordinates in a raster's system of a place in the site grid; NaN where it has none. */
export function placeInSource(raster: RasterPlace, crs: SourceCrs, grid: SiteGrid): Transform {
  const toGrid = gridTransform(crs, grid);
  const middle = at(raster.frame, raster.columns / 2, raster.rows / 2);
  const differ = crs.isDegrees ? 1e-5 : 1 / crs.metresPerUnit;
  return inverseOf(toGrid, middle, differ, 1e-5);
}

/** Coordinates in the file's system of a place in columns and rows. */
export function at(frame: CellFrame, column: number, row: number): XY {
  return [
    frame.x0 + column * frame.xPerColumn + row * frame.xPerRow,
    frame.y0 + column * frame.yPerColumn + row * frame.yPerRow,
  ];
}

/** The reverse of `at`. */
export function cellOf(frame: CellFrame, x: number, y: number): XY {
  const { x0, y0, xPerColumn, yPerColumn, xPerRow, yPerRow } = frame;
  const det = xPerColumn * yPerRow - xPerRow * yPerColumn;
  const [dx, dy] = [x - x0, y - y0];
  return [(dx * yPerRow - dy * xPerRow) / det, (dy * xPerColumn - dx * yPerColumn) / det];
}
