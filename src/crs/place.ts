import type { LonLat } from "../model/geometry.ts";
import type { LonLatExtent } from "./site-grid.ts";

/** Degrees round an area of use within which coordinates may still belong to its system. */
const MARGIN_DEG = 1;

/** Longitudes east of `west`, within a turn. */
function eastOf(lonDeg: number, west: number): number {
  return west + ((((lonDeg - west) % 360) + 360) % 360);
}

/** Middle of an area, also where it lies across the antimeridian. */
export function middleOf({ west, south, east, north }: LonLatExtent): LonLat {
  const lon = (west + eastOf(east, west)) / 2;
  return [lon > 180 ? lon - 360 : lon, (south + north) / 2];
}

/** Whether a place lies in an area or within a degree of it. */
export function isNear([lon, lat]: LonLat, { west, south, east, north }: LonLatExtent): boolean {
  const width = Math.min(360, eastOf(east, west) - west || (east > west ? 360 : 0));
  const within = eastOf(lon, west - MARGIN_DEG) - (west - MARGIN_DEG) <= width + 2 * MARGIN_DEG;
  return within && lat >= south - MARGIN_DEG && lat <= north + MARGIN_DEG;
}
