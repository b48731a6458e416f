/** Things off the lawn that matter to the station and to shade, though not to the wire. */
import Flatbush from "flatbush";
import { boxOf } from "../geometry/rings.ts";
import type { Profile } from "../model/profile.ts";
import type { Role } from "../model/roles.ts";
import type { Lawn, Thing } from "../model/site.ts";
import { readAttributes } from "./attributes.ts";
import { UPRIGHT } from "./edge-lines.ts";
import { makeThings } from "./make-things.ts";
import { flatOf } from "./parts.ts";
import type { RawShape } from "./sort-features.ts";
import { Tally } from "./tally.ts";

/** Things farther from every lawn's box do not matter, metres. */
const AROUND_M = 60;

const ROLES: ReadonlySet<Role> = new Set<Role>(["building", "tree", "firm", "water", "paving"]);

/**
 * Buildings, trees, walls, hedges, water and public ways that lie too far off to matter to the wire.
 * Nothing is noted of them: what is wrong with their attributes does not touch the wire.
 *
 * @param far shapes that no lawn is near, and upright lines near one, with their role
 */
export function thingsAround(
  far: readonly { readonly shape: RawShape; readonly role: Role }[],
  lawns: readonly Lawn[],
  profile: Profile,
): Thing[] {
  const boxes = new Flatbush(lawns.length);
  for (const { area } of lawns) {
    const box = boxOf(area.shell);
    boxes.add(box.minE, box.minN, box.maxE, box.maxN);
  }
  boxes.finish();
  const tally = new Tally();
  const things: Thing[] = [];
  for (const { shape, role } of far) {
    if (!ROLES.has(role)) continue;
    const rings = [
      ...shape.polygons.flatMap(([shell]) => (shell ? [flatOf(shell)] : [])),
      ...shape.lines.map((line) => flatOf(line)),
      ...shape.points.map((point) => Float64Array.of(point[0]!, point[1]!)),
    ].filter((flat) => flat.length > 0);
    if (rings.length === 0) continue;
    const box = boxOf(...rings);
    const near = boxes.search(
      box.minE - AROUND_M,
      box.minN - AROUND_M,
      box.maxE + AROUND_M,
      box.maxN + AROUND_M,
    );
    if (near.length === 0 || !matters(shape, role)) continue;
    for (const made of makeThings(shape, role, profile, tally, () => {})) {
      const id = `around-${things.length + 1}`;
      things.push({ ...made, id, name: made.name ?? id });
    }
  }
  return things;
}

/** Paving only where it is public, firm things only where they are upright or have a height. */
function matters(shape: RawShape, role: Role): boolean {
  if (role !== "paving" && role !== "firm") return true;
  const { isPublic, heightM, edgeKind } = readAttributes(shape.fields, shape.source, () => {});
  if (role === "paving") return isPublic === true;
  const kind = edgeKind ?? shape.assigned.edgeKind;
  return isPublic === true || heightM !== undefined || (kind !== undefined && UPRIGHT.has(kind));
}
