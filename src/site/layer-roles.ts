import type { GridLayer } from "../model/features.ts";
import type { Role } from "../model/roles.ts";
import { findLawns } from "./find-lawns.ts";
import type { Note } from "./notes.ts";
import { sortFeatures } from "./sort-features.ts";

/**
 * What the features of each layer are, counted by role, before anything is united or left out for
 * being far away. Features without a role, or with `ignore`, are not counted. Needs `loadEngine()`
 * awaited.
 *
 * @param rules roles by layer name, as for `buildSite`
 * @returns for each layer, in order, features by role; one with areas and points counts for each
 */
export function layerRoles(
  layers: readonly GridLayer[],
  rules: Readonly<Record<string, Role>> = {},
): Partial<Record<Role, number>>[] {
  const silent: Note = () => {};
  const shapes = sortFeatures(layers, rules, silent);
  const { pieces, bedShapes } = findLawns(shapes, silent);
  const beds = new Set(bedShapes);
  const lawns = new Set(pieces.map((piece) => piece.source));
  const counts = layers.map((): Partial<Record<Role, number>> => ({}));
  const place = new Map(layers.map((layer, i) => [`${layer.file}\n${layer.layer}`, i]));
  for (const shape of shapes) {
    const byShape = beds.has(shape) ? "bed" : lawns.has(shape.source) ? "lawn" : undefined;
    const role = shape.assigned.role ?? byShape;
    if (role === undefined) continue;
    const count = counts[place.get(`${shape.source.file}\n${shape.source.layer}`)!]!;
    count[role] = (count[role] ?? 0) + 1;
  }
  return counts;
}
