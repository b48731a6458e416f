/**
 * Firm things too near the wire for the machine to pass between: they join what the wire shuts out.
 *
 * A firm thing standing free needs no wire. But where the gap between it and a wire is less than
 * the machine drives through, the machine would run into the gap, or could not follow the wire.
 * Such a thing is shut out with its own set-in, and it may in turn bring others with it.
 */
import { AreaIndex } from "../geometry/area-index.ts";
import { vertexAt } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import { nearestOfSegments } from "../geometry/segments.ts";
import type { AreaM, RingM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { Thing } from "../model/site.ts";

/** Set-in of a thing, metres. */
export function setinOf(thing: Thing, profile: Profile): number {
  return thing.setinM ?? profile.setinM[thing.edgeKind];
}

/** Least distance from a ring to the segments of an index, up to a limit; undefined beyond it. */
function distanceWithin(ring: RingM, index: SegmentIndex, limitM: number): number | undefined {
  let least = Infinity;
  const n = ring.length >> 1;
  for (let i = 0; i < n; i++) {
    const a = vertexAt(ring, i);
    const b = vertexAt(ring, (i + 1) % n);
    const reach = Math.min(limitM, least);
    const near = index.inBox(
      Math.min(a[0], b[0]) - reach,
      Math.min(a[1], b[1]) - reach,
      Math.max(a[0], b[0]) + reach,
      Math.max(a[1], b[1]) + reach,
    );
    for (const s of near) {
      least = Math.min(least, nearestOfSegments(a, b, index.from(s), index.to(s)).distanceM);
    }
  }
  return least <= limitM ? least : undefined;
}

/**
 * Sorts free firm things into those that must join the shut-out ground and those that stay free.
 *
 * @param wireRegion where the wire may lie without them, metres
 */
export function joinFirmThings(
  freeFirm: readonly Thing[],
  wireRegion: readonly AreaM[],
  profile: Profile,
): { joined: Thing[]; free: Thing[] } {
  const gapM = profile.passage.driveMinM - 1e-6;
  const rings = wireRegion.flatMap((area) => [area.shell, ...area.holes]);
  const wires = new SegmentIndex(rings);
  const areas = new AreaIndex(wireRegion);
  const isJoined = new Uint8Array(freeFirm.length);
  const queue: number[] = [];
  freeFirm.forEach((thing, i) => {
    const shells = thing.areas.map((a) => a.shell);
    const near = shells.some((shell) => distanceWithin(shell, wires, gapM) !== undefined);
    const first = shells[0]!;
    if (near || areas.locate(first[0]!, first[1]!) === -1) {
      isJoined[i] = 1;
      queue.push(i);
    }
  });
  const shells = freeFirm.flatMap((t, i) => t.areas.map((a) => ({ ring: a.shell, thing: i })));
  const others = new SegmentIndex(shells.map((s) => s.ring));
  while (queue.length > 0) {
    const i = queue.pop()!;
    const thing = freeFirm[i]!;
    const reach = gapM + setinOf(thing, profile);
    for (const area of thing.areas) {
      for (const j of thingsWithin(area.shell, others, shells, reach)) {
        if (isJoined[j]) continue;
        isJoined[j] = 1;
        queue.push(j);
      }
    }
  }
  return {
    joined: freeFirm.filter((_, i) => isJoined[i] === 1),
    free: freeFirm.filter((_, i) => isJoined[i] !== 1),
  };
}

function thingsWithin(
  ring: RingM,
  index: SegmentIndex,
  shells: readonly { thing: number }[],
  reachM: number,
): Set<number> {
  const found = new Set<number>();
  const n = ring.length >> 1;
  for (let i = 0; i < n; i++) {
    const a = vertexAt(ring, i);
    const b = vertexAt(ring, (i + 1) % n);
    const near = index.inBox(
      Math.min(a[0], b[0]) - reachM,
      Math.min(a[1], b[1]) - reachM,
      Math.max(a[0], b[0]) + reachM,
      Math.max(a[1], b[1]) + reachM,
    );
    for (const s of near) {
      const thing = shells[index.ringOf[s]!]!.thing;
      if (found.has(thing)) continue;
      if (nearestOfSegments(a, b, index.from(s), index.to(s)).distanceM <= reachM) found.add(thing);
    }
  }
  return found;
}
