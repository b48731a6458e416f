import type { Geometry, Position } from "geojson";

/** A feature's geometry taken apart: rings and lines as read, nothing repaired. */
export interface Parts {
  readonly polygons: readonly (readonly (readonly Position[])[])[];
  readonly lines: readonly (readonly Position[])[];
  readonly points: readonly Position[];
  /** False where a coordinate is missing, not a number or infinite. */
  readonly finite: boolean;
}

/** Multi-geometries and collections taken apart, in their order. */
export function partsOf(geometry: Geometry): Parts {
  const polygons: Position[][][] = [];
  const lines: Position[][] = [];
  const points: Position[] = [];
  const visit = (part: Geometry): void => {
    switch (part.type) {
      case "Polygon":
        polygons.push(part.coordinates);
        break;
      case "MultiPolygon":
        polygons.push(...part.coordinates);
        break;
      case "LineString":
        lines.push(part.coordinates);
        break;
      case "MultiLineString":
        lines.push(...part.coordinates);
        break;
      case "Point":
        points.push(part.coordinates);
        break;
      case "MultiPoint":
        points.push(...part.coordinates);
        break;
      case "GeometryCollection":
        for (const member of part.geometries) visit(member);
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
