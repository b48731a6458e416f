import Flatbush from "flatbush";
import type { AreaM, RingM } from "../model/geometry.ts";
import { boxOf, ringContains, signedAreaM2 } from "./rings.ts";

/**
 * Areas sorted by how many holes of others they lie in: those in none, those in one, and so on.
 * For areas that do not overlap. About n log n.
 */
export function nestingLevels(areas: readonly AreaM[]): AreaM[][] {
  const holes: RingM[] = areas.flatMap((area) => area.holes);
  if (holes.length === 0 || areas.length === 1) return [[...areas]];
  const index = new Flatbush(holes.length);
  for (const hole of holes) {
    const box = boxOf(hole);
    index.add(box.minE, box.minN, box.maxE, box.maxN);
  }
  index.finish();
  const levels: AreaM[][] = [];
  for (const area of areas) {
    // The middle of an edge: a vertex may stand on the hole's rim.
    const e = (area.shell[0]! + area.shell[2]!) / 2;
    const n = (area.shell[1]! + area.shell[3]!) / 2;
    const around = index.search(e, n, e, n).filter((h) => ringContains(holes[h]!, e, n));
    const level = levels[around.length] ?? [];
    levels[around.length] = level;
    level.push(area);
  }
  return Array.from(levels, (level) => level ?? []).filter((level) => level.length > 0);
}

/**
 * For rings that do not cross: the ring that each is a hole of, by the even-odd rule. A ring in an
 * odd number of others is a hole of the smallest of them; the rest are shells (undefined).
 */
export function nestedRings(rings: readonly RingM[]): (number | undefined)[] {
  if (rings.length < 2) return rings.map(() => undefined);
  const index = new Flatbush(rings.length);
  for (const ring of rings) {
    const box = boxOf(ring);
    index.add(box.minE, box.minN, box.maxE, box.maxN);
  }
  index.finish();
  const sizes = rings.map((ring) => Math.abs(signedAreaM2(ring)));
  return rings.map((ring, own) => {
    const e = (ring[0]! + ring[2]!) / 2;
    const n = (ring[1]! + ring[3]!) / 2;
    const around = index
      .search(e, n, e, n)
      .filter((k) => k !== own && sizes[k]! > sizes[own]! && ringContains(rings[k]!, e, n))
      .sort((a, b) => sizes[a]! - sizes[b]!);
    return around.length % 2 === 1 ? around[0] : undefined;
  });
}
