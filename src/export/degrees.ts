/** From the site grid to degrees as they are written: WGS 84, longitude first, 9 decimals (0.1 mm). */
import type { Position } from "geojson";
import { anticlockwise, clockwise, toPoints } from "../geometry/rings.ts";
import type { AreaM, LineM, LonLat, PointM, RingM } from "../model/geometry.ts";
import type { SiteGrid } from "../model/site.ts";
import { rounded } from "./numbers.ts";

/** Decimals of a degree that are written: 0.1 mm of latitude. */
export const DEGREE_DECIMALS = 9;

export function roundedLonLat([lonDeg, latDeg]: LonLat): LonLat {
  return [rounded(lonDeg, DEGREE_DECIMALS), rounded(latDeg, DEGREE_DECIMALS)];
}

export function positionOf(pointM: PointM, grid: SiteGrid): Position {
  return [...roundedLonLat(grid.inverse(pointM))];
}

/** An open line; vertices that fall on the same written position are written once. */
export function lineInDegrees(line: LineM, grid: SiteGrid): Position[] {
  return withoutRepeats(toPoints(line).map((point) => positionOf(point, grid)));
}

/** A ring with its first position repeated at the end, from its first vertex, as wound. */
export function ringInDegrees(ring: RingM, grid: SiteGrid): Position[] {
  const positions = lineInDegrees(ring, grid);
  const first = positions[0];
  const last = positions[positions.length - 1];
  if (first && last && !same(first, last)) positions.push([...first]);
  return positions;
}

/** Rings of a polygon as RFC 7946 §3.1.6 wants them: exterior anticlockwise, holes clockwise. */
export function polygonInDegrees(area: AreaM, grid: SiteGrid): Position[][] {
  const shell = ringInDegrees(anticlockwise(area.shell), grid);
  const holes = area.holes.map((hole) => ringInDegrees(clockwise(hole), grid));
  return [shell, ...holes.filter((hole) => hole.length >= 4)];
}

/** True while rounding has not turned a ring of the polygon over, as it can a sliver. */
export function windsRight([shell, ...holes]: readonly Position[][]): boolean {
  return shell !== undefined && twiceArea(shell) > 0 && holes.every((hole) => twiceArea(hole) < 0);
}

/** Shoelace formula about the first position, square degrees; positive when anticlockwise. */
function twiceArea(ring: readonly Position[]): number {
  const [x0, y0] = ring[0] as [number, number];
  let sum = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const [x1, y1] = ring[i] as [number, number];
    const [x2, y2] = ring[i + 1] as [number, number];
    sum += (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
  }
  return sum;
}

function withoutRepeats(positions: readonly Position[]): Position[] {
  return positions.filter((at, i) => i === 0 || !same(at, positions[i - 1]!));
}

function same(a: Position, b: Position): boolean {
  return a[0] === b[0] && a[1] === b[1];
}
