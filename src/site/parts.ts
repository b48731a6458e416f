import type { Geometry, Position } from "geojson";

/** A feature's geometry taken apart: rings and lines as read, nothing repaired. */
export interface Parts {
  readonly polygons: readonly (readonly (readonly Position[])[])[];
  readonly lines: readonly (readonly Position[])[];
  readonly points: readonly Position[];
  /** False where a coordinate is missing, not a number or infinite. */
  readonly finite: boolean;
}

/** Multi-geometries and collections taken apart, in their order; parts without a position are none. */
export function partsOf(geometry: Geometry): Parts {
  const polygons: Position[][][] = [];
  const lines: Position[][] = [];
  const points: Position[] = [];
  // One by one: a list of a hundred thousand is too long for the arguments of one call.
  const addPolygon = (rings: Position[][]): void => {
    if (rings.some((ring) => ring.length > 0)) polygons.push(rings);
  };
  const addLine = (line: Position[]): void => {
    if (line.length > 0) lines.push(line);
  };
  const addPoint = (point: Position): void => {
    if (point.length > 0) points.push(point);
  };
  const visit = (part: Geometry): void => {
    switch (part.type) {
      case "Polygon":
        addPolygon(part.coordinates);
        break;
      case "MultiPolygon":
        part.coordinates.forEach(addPolygon);
        break;
      case "LineString":
        addLine(part.coordinates);
        break;
      case "MultiLineString":
        part.coordinates.forEach(addLine);
        break;
      case "Point":
        addPoint(part.coordinates);
        break;
      case "MultiPoint":
        part.coordinates.forEach(addPoint);
        break;
      case "GeometryCollection":
        part.geometries.forEach(visit);
    }
  };
  visit(geometry);
  const finite =
    polygons.every((rings) => rings.every((ring) => ring.every(isFinitePosition))) &&
    lines.every((line) => line.every(isFinitePosition)) &&
    points.every(isFinitePosition);
  return { polygons, lines, points, finite };
}

function isFinitePosition(position: Position): boolean {
  return Number.isFinite(position[0]) && Number.isFinite(position[1]);
}

/** Flat coordinates of positions; heights are left out. */
export function flatOf(positions: readonly Position[]): Float64Array {
  const flat = new Float64Array(2 * positions.length);
  for (let i = 0; i < positions.length; i++) {
    flat[2 * i] = positions[i]![0]!;
    flat[2 * i + 1] = positions[i]![1]!;
  }
  return flat;
}
