/** Questions put to jsts (the JavaScript form of JTS) directly, not by way of the program. */
import Coordinate from "jsts/org/locationtech/jts/geom/Coordinate.js";
import GeometryFactory from "jsts/org/locationtech/jts/geom/GeometryFactory.js";
import BufferOp from "jsts/org/locationtech/jts/operation/buffer/BufferOp.js";
import IsSimpleOp from "jsts/org/locationtech/jts/operation/IsSimpleOp.js";
import SnapIfNeededOverlayOp from "jsts/org/locationtech/jts/operation/overlay/snap/SnapIfNeededOverlayOp.js";
import UnaryUnionOp from "jsts/org/locationtech/jts/operation/union/UnaryUnionOp.js";
import IsValidOp from "jsts/org/locationtech/jts/operation/valid/IsValidOp.js";
import type { Degrees } from "./plane.ts";

/** Rings are closed: the first position is repeated at the end. */
export type Polygon = readonly (readonly Degrees[])[];

// jsts has no types worth the name for its geometries.
// biome-ignore lint/suspicious/noExplicitAny: see above
export type Shape = any;

const factory = new GeometryFactory();

function coordinates(line: readonly Degrees[]): Shape[] {
  return line.map(([x, y]) => new Coordinate(x, y));
}

export function polygonShape(rings: Polygon): Shape {
  const [shell, ...holes] = rings.map((ring) => factory.createLinearRing(coordinates(ring)));
  return factory.createPolygon(shell, holes);
}

export function lineShape(line: readonly Degrees[]): Shape {
  return factory.createLineString(coordinates(line));
}

/** OGC validity of a Polygon or MultiPolygon; the complaint, or undefined where there is none. */
export function invalidity(polygons: readonly Polygon[]): string | undefined {
  if (polygons.some((rings) => rings.some((ring) => ring.length < 4))) return "ring of few points";
  const shape =
    polygons.length === 1
      ? polygonShape(polygons[0]!)
      : factory.createMultiPolygon(polygons.map(polygonShape));
  const check = new IsValidOp(shape);
  return check.isValid() ? undefined : String(check.getValidationError());
}

export function isSimpleLine(line: readonly Degrees[]): boolean {
  return new IsSimpleOp(lineShape(line)).isSimple();
}

export function unionOf(polygons: readonly Polygon[]): Shape {
  return unionOfShapes(polygons.map(polygonShape));
}

export function unionOfShapes(shapes: readonly Shape[]): Shape {
  if (shapes.length === 0) return factory.createPolygon();
  return UnaryUnionOp.union(factory.createGeometryCollection([...shapes]));
}

export function differenceOf(a: Shape, b: Shape): Shape {
  return steadily((x, y) => SnapIfNeededOverlayOp.difference(x, y), a, b);
}

export function intersectionOf(a: Shape, b: Shape): Shape {
  return steadily((x, y) => SnapIfNeededOverlayOp.intersection(x, y), a, b);
}

/** Grids of decimals that an overlay is tried on where it fails on the numbers as they are. */
const GRIDS = [1e-9, 1e-8, 1e-7, 1e-6];

/** JTS's overlay of this age can fail where edges nearly coincide; on rounded numbers it does not. */
function steadily(overlay: (a: Shape, b: Shape) => Shape, a: Shape, b: Shape): Shape {
  try {
    return overlay(a, b);
  } catch (error) {
    for (const grid of GRIDS) {
      try {
        return overlay(rounded(a, grid), rounded(b, grid));
      } catch {}
    }
    throw error;
  }
}

function rounded(shape: Shape, grid: number): Shape {
  const polygons = polygonsOf(shape).map((rings) =>
    polygonShape(
      rings.map((ring) =>
        ring.map(([x, y]): [number, number] => [
          Math.round(x / grid) * grid,
          Math.round(y / grid) * grid,
        ]),
      ),
    ),
  );
  return bufferOf(factory.createMultiPolygon(polygons), 0);
}

export function areaOf(shape: Shape): number {
  return shape.getArea();
}

/** Round buffer with `quadrantSegments` chords a quarter turn. */
export function bufferOf(shape: Shape, distance: number, quadrantSegments = 64): Shape {
  return BufferOp.bufferOp(shape, distance, quadrantSegments);
}

/** Polygons of a shape, closed rings. */
export function polygonsOf(shape: Shape): [number, number][][][] {
  const found: [number, number][][][] = [];
  for (let i = 0; i < shape.getNumGeometries(); i++) {
    const part = shape.getGeometryN(i);
    if (part.isEmpty() || part.getGeometryType() !== "Polygon") continue;
    const rings = [part.getExteriorRing()];
    for (let h = 0; h < part.getNumInteriorRing(); h++) rings.push(part.getInteriorRingN(h));
    found.push(
      rings.map((ring) =>
        ring.getCoordinates().map((c: { x: number; y: number }): [number, number] => [c.x, c.y]),
      ),
    );
  }
  return found;
}
