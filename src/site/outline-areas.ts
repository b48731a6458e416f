import type { Geometry } from "geojson";
import { union } from "../geometry/overlay.ts";
import type { AreaM } from "../model/geometry.ts";
import { partsOf } from "./parts.ts";
import { repairPolygon } from "./repair-polygon.ts";

/** The areas of polygons that are drawn to choose by, repaired without a word. */
export function outlineAreas(...geometries: readonly Geometry[]): AreaM[] {
  const polygons = geometries.flatMap((geometry) => partsOf(geometry).polygons);
  return union(polygons.flatMap((rings) => repairPolygon(rings, {}, () => {}).areas));
}
