/** Shapes of features in the site grid. */
import type { Position } from "geojson";
import type { RawFeature } from "../../model/features.ts";
import type { LineM, PointM } from "../../model/geometry.ts";
import { linesOf as linesOfGeometry } from "../../model/lines-of.ts";

/** Lines and rings of a feature; repeated vertices are taken once. */
export function linesOf({ geometry }: RawFeature): LineM[] {
  return geometry === null ? [] : linesOfGeometry(geometry).map(flat);
}

/** The points of a feature. */
export function pointsOf({ geometry }: RawFeature): PointM[] {
  if (geometry?.type === "Point") return [[geometry.coordinates[0]!, geometry.coordinates[1]!]];
  if (geometry?.type === "MultiPoint") return geometry.coordinates.map(([e, n]) => [e!, n!]);
  return [];
}

function flat(positions: readonly Position[]): LineM {
  const kept = positions.filter(
    (at, i) => i === 0 || at[0] !== positions[i - 1]![0] || at[1] !== positions[i - 1]![1],
  );
  return Float64Array.from(kept.flatMap(([e, n]) => [e!, n!]));
}
