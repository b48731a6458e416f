/**
 * A local plane that owes nothing to the program's own projections: azimuthal equidistant, each
 * point placed by its geodesic distance and azimuth from the origin (geographiclib-geodesic, after
 * Karney, Algorithms for geodesics, J. Geod. 87, 2013). True to scale along rays; across them the
 * scale is 1 + r²/(6 R²), so below 0.1 ppm as far as 5 km out.
 */
import geodesic from "geographiclib-geodesic";

export type Xy = readonly [x: number, y: number];
export type Degrees = readonly number[];

const { WGS84 } = (geodesic as { Geodesic: { WGS84: Wgs84 } }).Geodesic;

interface Wgs84 {
  Inverse(lat1: number, lon1: number, lat2: number, lon2: number): { s12: number; azi1: number };
  Direct(lat1: number, lon1: number, azi1: number, s12: number): { lat2: number; lon2: number };
  Polygon(polyline: boolean): {
    AddPoint(lat: number, lon: number): void;
    Compute(reverse: boolean, sign: boolean): { perimeter: number; area: number };
  };
}

export interface Plane {
  readonly origin: Degrees;
  toPlane(at: Degrees): Xy;
  /** Longitude and latitude, unrounded. */
  toDegrees(at: Xy): [number, number];
}

export function planeAt(origin: Degrees): Plane {
  const [lon0, lat0] = [origin[0]!, origin[1]!];
  return {
    origin,
    toPlane(at) {
      const { s12, azi1 } = WGS84.Inverse(lat0, lon0, at[1]!, at[0]!);
      const azimuth = (azi1 * Math.PI) / 180;
      return [s12 * Math.sin(azimuth), s12 * Math.cos(azimuth)];
    },
    toDegrees([x, y]) {
      const azimuth = (Math.atan2(x, y) * 180) / Math.PI;
      const { lat2, lon2 } = WGS84.Direct(lat0, lon0, azimuth, Math.hypot(x, y));
      return [lon2, lat2];
    },
  };
}

/** Sum of the geodesics between neighbouring positions, metres. */
export function geodesicLengthM(line: readonly Degrees[]): number {
  let length = 0;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1]!, line[i]!];
    length += WGS84.Inverse(a[1]!, a[0]!, b[1]!, b[0]!).s12;
  }
  return length;
}

/** Area of a closed ring on the ellipsoid, m²; positive when anticlockwise. */
export function geodesicAreaM2(ring: readonly Degrees[]): number {
  const polygon = WGS84.Polygon(false);
  for (const at of ring.slice(0, -1)) polygon.AddPoint(at[1]!, at[0]!);
  return polygon.Compute(false, true).area;
}

/** Geodesic distance and forward azimuth between two positions. */
export function geodesicBetween(a: Degrees, b: Degrees): { distanceM: number; azimuthDeg: number } {
  const { s12, azi1 } = WGS84.Inverse(a[1]!, a[0]!, b[1]!, b[0]!);
  return { distanceM: s12, azimuthDeg: azi1 };
}
