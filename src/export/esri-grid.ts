/** A raster as ESRI ASCII grid with its `.prj`, in the site grid. */
import type { SiteGrid } from "../model/site.ts";

/** Cells in the site grid, row by row from the north. */
export interface GridCells {
  /** Lower left corner, metres. */
  readonly westM: number;
  readonly southM: number;
  readonly cellM: number;
  readonly columns: number;
  readonly rows: number;
  /** NaN where there is nothing. */
  readonly values: Float64Array;
}

const NO_DATA = -9999;
/** The name by which ESRI calls the ellipsoid. */
const ELLIPSOID = `WGS_${1984}`;

export function esriGrid(cells: GridCells, decimals: number): string {
  const { westM, southM, cellM, columns, rows, values } = cells;
  const lines = Array.from({ length: rows }, (_, row) =>
    Array.from({ length: columns }, (_, column) => {
      const value = values[row * columns + column]!;
      return Number.isNaN(value) ? String(NO_DATA) : String(Number(value.toFixed(decimals)));
    }).join(" "),
  );
  const head = [
    `ncols ${columns}`,
    `nrows ${rows}`,
    `xllcorner ${Number(westM.toFixed(3))}`,
    `yllcorner ${Number(southM.toFixed(3))}`,
    `cellsize ${Number(cellM.toFixed(6))}`,
    `NODATA_value ${NO_DATA}`,
  ];
  return `${[...head, ...lines].join("\n")}\n`;
}

/** The site grid in ESRI's dialect of WKT 1, for a `.prj`. */
export function gridPrj({ origin }: SiteGrid): string {
  const [lonDeg, latDeg] = origin;
  return `PROJCS["Site grid",GEOGCS["GCS_${ELLIPSOID}",DATUM["D_${ELLIPSOID}",SPHEROID["${ELLIPSOID}",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",0.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",${lonDeg}],PARAMETER["Scale_Factor",1.0],PARAMETER["Latitude_Of_Origin",${latDeg}],UNIT["Meter",1.0]]\n`;
}
