import proj4 from "proj4";
import type { LonLat, PointM } from "../model/geometry.ts";
import type { SiteGrid } from "../model/site.ts";

/** Extent in degrees, WGS 84; east may pass 180 for a site across the antimeridian. */
export interface LonLatExtent {
  readonly west: number;
  readonly south: number;
  readonly east: number;
  readonly north: number;
}

/** Six decimals of a degree, 0.1 m: enough for an origin, and short enough to read out. */
function rounded(deg: number): number {
  return Math.round(deg * 1e6) / 1e6;
}

function wrapped(lonDeg: number): number {
  return lonDeg > 180 ? lonDeg - 360 : lonDeg < -180 ? lonDeg + 360 : lonDeg;
}

/**
 * The site grid with its origin at the middle of the extent: transverse Mercator on WGS 84, scale 1
 * at the origin, no false origin.
 *
 * Scale error e²/2R² at e metres from the central meridian: 0.3 ppm at 5 km, 1.2 ppm at 10 km.
 * Round trip within 0.1 mm over 20 km and beyond; about 0.4 µs a point (proj4, Poder/Engsager).
 */
export function makeSiteGrid(extent: LonLatExtent): SiteGrid {
  const lonDeg = wrapped(rounded((extent.west + extent.east) / 2));
  const latDeg = rounded((extent.south + extent.north) / 2);
  return siteGridAt([lonDeg, latDeg]);
}

/** The site grid with a given origin. */
export function siteGridAt(origin: LonLat): SiteGrid {
  const projString = `+proj=tmerc +lat_0=${origin[1]} +lon_0=${origin[0]} +k=1 +x_0=0 +y_0=0 +ellps=WGS84 +units=m`;
  const converter = proj4("WGS84", projString);
  return {
    origin,
    projString,
    forward: (lonLat) => converter.forward([lonLat[0], lonLat[1]]) as [number, number] as PointM,
    inverse: (pointM) => converter.inverse([pointM[0], pointM[1]]) as [number, number] as LonLat,
  };
}

/** Smallest extent of positions; undefined where there are none. Crosses 180° where that is shorter. */
export function extentOf(lonLats: Iterable<LonLat>): LonLatExtent | undefined {
  let [south, north] = [Infinity, -Infinity];
  let [west, east] = [Infinity, -Infinity];
  let [westOver, eastOver] = [Infinity, -Infinity];
  for (const [lon, lat] of lonLats) {
    south = Math.min(south, lat);
    north = Math.max(north, lat);
    west = Math.min(west, lon);
    east = Math.max(east, lon);
    const over = lon < 0 ? lon + 360 : lon;
    westOver = Math.min(westOver, over);
    eastOver = Math.max(eastOver, over);
  }
  if (west === Infinity) return undefined;
  return eastOver - westOver < east - west - 1e-9
    ? { west: westOver, south, east: eastOver, north }
    : { west, south, east, north };
}
