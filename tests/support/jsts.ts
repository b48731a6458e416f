/** Flat rings and areas of the program as geometries of JTS, the reference topology library. */
import "jsts/org/locationtech/jts/monkey.js";
import Coordinate from "jsts/org/locationtech/jts/geom/Coordinate.js";
import GeometryFactory from "jsts/org/locationtech/jts/geom/GeometryFactory.js";
import type { AreaM, RingM } from "../../src/model/geometry.ts";

const factory = new GeometryFactory();

function linearRing(ring: RingM) {
  const coordinates = [];
  for (let i = 0; i < ring.length; i += 2) {
    coordinates.push(new Coordinate(ring[i]!, ring[i + 1]!));
  }
  coordinates.push(new Coordinate(ring[0]!, ring[1]!));
  return factory.createLinearRing(coordinates);
}

export function polygonOf(ring: RingM, holes: readonly RingM[] = []) {
  return factory.createPolygon(linearRing(ring), holes.map(linearRing));
}

export function polygonOfArea(area: AreaM) {
  return polygonOf(area.shell, area.holes);
}

export function multiPolygonOf(areas: readonly AreaM[]) {
  return factory.createMultiPolygon(areas.map(polygonOfArea));
}

export function pointOf(east: number, north: number) {
  return factory.createPoint(new Coordinate(east, north));
}

/** A line of two points. */
export function lineOf(from: readonly [number, number], to: readonly [number, number]) {
  return factory.createLineString([new Coordinate(...from), new Coordinate(...to)]);
}
