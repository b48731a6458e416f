import type { Geometry, Position } from "geojson";
import { packedOf } from "../import/position-store.ts";
import type { RawFeature } from "../model/features.ts";
import type { LonLat, PointM } from "../model/geometry.ts";

type Nested = Position | Nested[];
type Change = (x: number, y: number) => readonly [number, number];

function changed(nested: Nested, change: Change, heightM: number): Nested {
  if (nested.length === 0) return nested;
  if (typeof nested[0] !== "number")
    return (nested as Nested[]).map((part) => changed(part, change, heightM));
  const position = nested as Position;
  const [x, y] = change(position[0]!, position[1]!);
  if (position.length <= 2) return [x, y];
  return [x, y, position[2]! * heightM, ...position.slice(3)];
}

/** A copy of the geometry with x and y of every position changed, and heights times a factor. */
export function mapGeometry(geometry: Geometry, change: Change, heightM = 1): Geometry {
  if (geometry.type === "GeometryCollection") {
    return {
      ...geometry,
      geometries: geometry.geometries.map((part) => mapGeometry(part, change, heightM)),
    };
  }
  const coordinates = changed(geometry.coordinates as Nested, change, heightM);
  return { type: geometry.type, coordinates } as Geometry;
}

/** Calls `each` with x and y of every position, in file order. */
export function forEachXY(geometry: Geometry, each: (x: number, y: number) => void): void {
  const visit = (nested: Nested): void => {
    if (typeof nested[0] === "number") each(nested[0], nested[1] as number);
    else for (const part of nested as Nested[]) visit(part);
  };
  if (geometry.type === "GeometryCollection") {
    for (const part of geometry.geometries) forEachXY(part, each);
  } else {
    visit(geometry.coordinates as Nested);
  }
}

/** The same for a feature; a packed one is not unpacked for it. */
export function forEachXYOf(feature: RawFeature, each: (x: number, y: number) => void): void {
  const packed = packedOf(feature);
  if (packed !== undefined) {
    const { numbers, dimensions } = packed;
    for (let i = 0; i < numbers.length; i += dimensions) each(numbers[i]!, numbers[i + 1]!);
    return;
  }
  const { geometry } = feature;
  if (geometry !== null) forEachXY(geometry, each);
}

/** Rough ground distance in metres between two places given in degrees. */
export function roughDistanceM(a: LonLat, b: LonLat): number {
  const degreeM = 111_320;
  const east = ((((b[0] - a[0] + 540) % 360) + 360) % 360) - 180;
  const [e, n]: PointM = [east * Math.cos(((a[1] + b[1]) / 2) * (Math.PI / 180)), b[1] - a[1]];
  return Math.hypot(e, n) * degreeM;
}
