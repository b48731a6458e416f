import type { GridLayer } from "../model/features.ts";
import type { Role } from "../model/roles.ts";
import { REPAIR_TOLERANCES } from "../model/site-rules.ts";
import type { Evidence } from "./assign-role.ts";
import { findLawns } from "./find-lawns.ts";
import { listed, type Note } from "./notes.ts";
import { NO_RULINGS, type Rulings } from "./rulings.ts";
import { type RawShape, sortFeatures } from "./sort-features.ts";

/** What the features of one layer are, and what says so. */
export interface LayerRoles {
  /** Features by role; one with areas and points counts for each. */
  readonly roles: Readonly<Partial<Record<Role, number>>>;
  /** What gave the roles, commonest first, in words; empty where there are none. */
  readonly because: string;
  /** Features by what gave their role; `none`: the shape did. */
  readonly evidence: Readonly<Partial<Record<Evidence, number>>>;
}

/**
 * What the features of each layer are, counted by role, before anything is united or left out for
 * being far away. Features without a role, or with `ignore`, are not counted. Needs `loadEngine()`
 * awaited.
 *
 * @param rulings what the user says, as for `buildSite`
 * @returns for each layer, in order
 */
export function layerRoles(
  layers: readonly GridLayer[],
  rulings: Rulings = NO_RULINGS,
  tolerances = REPAIR_TOLERANCES,
): LayerRoles[] {
  const silent: Note = () => {};
  const shapes = sortFeatures(layers, rulings, silent, tolerances).filter(
    (shape) => shape.assigned.by !== "ground",
  );
  const { pieces, bedShapes } = findLawns(shapes, silent, tolerances);
  const beds = new Set(bedShapes);
  const lawns = new Set(pieces.map((piece) => piece.shape));
  const found = layers.map(() => ({
    roles: {} as Partial<Record<Role, number>>,
    evidence: {} as Partial<Record<Evidence, number>>,
    words: new Map<string, number>(),
  }));
  const place = new Map(layers.map((layer, i) => [`${layer.file}\n${layer.layer}`, i]));
  for (const shape of shapes) {
    const byShape = beds.has(shape) ? "bed" : lawns.has(shape) ? "lawn" : undefined;
    const role = shape.assigned.role ?? byShape;
    if (role === undefined) continue;
    const { roles, evidence, words } =
      found[place.get(`${shape.source.file}\n${shape.source.layer}`)!]!;
    const { by } = shape.assigned;
    roles[role] = (roles[role] ?? 0) + 1;
    evidence[by] = (evidence[by] ?? 0) + 1;
    const word = reason(shape, role);
    words.set(word, (words.get(word) ?? 0) + 1);
  }
  return found.map(({ roles, evidence, words }) => ({ roles, evidence, because: inOrder(words) }));
}

const SAYS: Readonly<Record<Exclude<Evidence, "none">, string>> = {
  rule: "a rule",
  attribute: "the attribute",
  layer: "the layer name",
  tags: "the tag",
  ground: "",
  kind: "the attribute",
  name: "the feature name",
};

function reason({ assigned: { by, because } }: RawShape, role: Role): string {
  if (by === "none") return `its shape (${role === "bed" ? "inside a lawn" : "an outer ring"})`;
  return by === "layer" || by === "name" ? SAYS[by] : `${SAYS[by]} ${because}`;
}

function inOrder(words: ReadonlyMap<string, number>): string {
  const list = [...words].sort((a, b) => b[1] - a[1]);
  return listed(
    list.map(([word, count]) => (list.length === 1 ? word : `${word} (${count})`)),
    5,
  );
}
