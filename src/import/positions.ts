import type { Geometry, Position } from "geojson";

type Each = (position: Position) => void;

/** Positions are met at one place and lines at another: engines compile each for one kind of list. */
function visitLine(line: readonly Position[], each: Each): void {
  for (const position of line) if (position.length > 0) each(position);
}

/** Calls `each` for every position of a geometry, in file order; empty ones are passed over. */
export function forEachPosition(geometry: Geometry, each: Each): void {
  switch (geometry.type) {
    case "GeometryCollection":
      for (const member of geometry.geometries) forEachPosition(member, each);
      break;
    case "Point":
      visitLine([geometry.coordinates], each);
      break;
    case "MultiPoint":
    case "LineString":
      visitLine(geometry.coordinates, each);
      break;
    case "MultiLineString":
    case "Polygon":
      for (const line of geometry.coordinates) visitLine(line, each);
      break;
    case "MultiPolygon":
      for (const rings of geometry.coordinates) for (const line of rings) visitLine(line, each);
  }
}

/** The first position whose x or y is not a finite number, with its 1-based place; else undefined. */
export function firstUnsound(
  geometry: Geometry,
): { place: number; position: Position } | undefined {
  let place = 0;
  let found: { place: number; position: Position } | undefined;
  forEachPosition(geometry, (position) => {
    place++;
    if (found === undefined && !(Number.isFinite(position[0]) && Number.isFinite(position[1]))) {
      found = { place, position };
    }
  });
  return found;
}

/** Number of positions. */
export function positionCount(geometry: Geometry): number {
  let count = 0;
  forEachPosition(geometry, () => {
    count++;
  });
  return count;
}
