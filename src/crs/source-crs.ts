import type { LonLat } from "../model/geometry.ts";
import type { LonLatExtent } from "./site-grid.ts";

/** A coordinate reference system that coordinates can be taken out of. */
export interface SourceCrs {
  /** As shown to people, e.g. `EPSG:27700 OSGB36 / British National Grid`. */
  readonly name: string;
  readonly epsg?: number;
  /** The PROJ string or WKT that is used. */
  readonly definition: string;
  readonly isDegrees: boolean;
  /** `degree`, `metre`, `US survey foot`, `foot`, or metres a unit. */
  readonly unitName: string;
  readonly metresPerUnit: number;
  /** How far the whole site may be off in the world because of the datum shift, metres; else 0. */
  readonly accuracyM: number;
  readonly areaOfUse?: LonLatExtent;
  /** Source coordinates (x, y as in files: easting or longitude first) to WGS 84; NaN outside. */
  toWgs84(x: number, y: number): LonLat;
}
