/**
 * Whether polygons are valid in the sense of OGC Simple Features, judged by jsts (the JavaScript
 * form of JTS): an engine other than the one that makes the shapes.
 */
import type { Position } from "geojson";
import Coordinate from "jsts/org/locationtech/jts/geom/Coordinate.js";
import GeometryFactory from "jsts/org/locationtech/jts/geom/GeometryFactory.js";
import IsValidOp from "jsts/org/locationtech/jts/operation/valid/IsValidOp.js";

const factory = new GeometryFactory();

/** True when the rings of each polygon, and the polygons together, are valid. Rings are closed. */
export function isValidMultiPolygon(polygons: readonly Position[][][]): boolean {
  for (const rings of polygons) for (const ring of rings) if (ring.length < 4) return false;
  const parts = polygons.map((rings) => {
    const [shell, ...holes] = rings.map((ring) =>
      factory.createLinearRing(ring.map(([x, y]) => new Coordinate(x, y))),
    );
    return factory.createPolygon(shell, holes);
  });
  return new IsValidOp(factory.createMultiPolygon(parts)).isValid();
}
