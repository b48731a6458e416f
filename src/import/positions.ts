import type { Geometry, Position } from "geojson";

type Nested = Position | Nested[];

function isPosition(value: Nested): value is Position {
  return typeof value[0] === "number";
}

function visit(nested: Nested, each: (position: Position) => void): void {
  if (nested.length === 0) return;
  if (isPosition(nested)) each(nested);
  else for (const inner of nested) visit(inner, each);
}

/** Calls `each` for every position of a geometry, in file order. */
export function forEachPosition(geometry: Geometry, each: (position: Position) => void): void {
  if (geometry.type === "GeometryCollection") {
    for (const member of geometry.geometries) forEachPosition(member, each);
  } else {
    visit(geometry.coordinates as Nested, each);
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
