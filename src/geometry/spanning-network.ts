/**
 * The shortest spanning network over rings: straight links between ring and ring, exact.
 *
 * Borůvka's rounds: each group of joined rings finds its nearest segment of another group in a
 * packed R-tree, and all those links are taken. The nearest link between two groups is free: a ring
 * in its way would be nearer. Never all pairs; about n log² n.
 */
import type { PointM, RingM } from "../model/geometry.ts";
import { vertexAt } from "./rings.ts";
import { SegmentIndex } from "./segment-index.ts";
import { nearestOfSegments } from "./segments.ts";

/** A straight link between two rings. */
export interface RingLink {
  readonly fromRing: number;
  readonly toRing: number;
  readonly from: PointM;
  readonly to: PointM;
  /** First vertex of the segment of each ring on which the link ends. */
  readonly fromVertex: number;
  readonly toVertex: number;
  readonly lengthM: number;
}

/**
 * @param rings rings that do not meet, metres
 * @param passive rings that need not search for themselves (a large outer ring)
 * @param barred segments on which no link may end
 * @returns one link fewer than rings; a link of length 0 where rings meet after all
 */
export function spanningNetwork(
  rings: readonly RingM[],
  passive: ReadonlySet<number> = new Set(),
  barred: (ring: number, vertex: number) => boolean = () => false,
): RingLink[] {
  const index = new SegmentIndex(rings);
  const group = rings.map((_, i) => i);
  const find = (i: number): number => {
    let root = i;
    while (group[root] !== root) root = group[root]!;
    while (group[i] !== root) [group[i], i] = [root, group[i]!];
    return root;
  };
  const open = Uint8Array.from({ length: index.count }, (_, s) =>
    barred(index.ringOf[s]!, index.vertexOf[s]!) ? 0 : 1,
  );
  const links: RingLink[] = [];
  let groups = rings.length;
  while (groups > 1) {
    const best = new Map<number, RingLink>();
    rings.forEach((ring, r) => {
      if (passive.has(find(r))) return;
      searchRing(ring, r, index, find, open, best);
    });
    const before = groups;
    const order = [...best.values()].sort(
      (a, b) => a.lengthM - b.lengthM || a.fromRing - b.fromRing,
    );
    for (const link of order) {
      const a = find(link.fromRing);
      const b = find(link.toRing);
      if (a === b) continue;
      // A passive ring stays the root of its group, so that the group does not search.
      if (passive.has(b)) group[a] = b;
      else group[b] = a;
      links.push(link);
      groups--;
    }
    if (groups === before) break;
  }
  return links;
}

function searchRing(
  ring: RingM,
  r: number,
  index: SegmentIndex,
  find: (ring: number) => number,
  open: Uint8Array,
  best: Map<number, RingLink>,
): void {
  const own = find(r);
  const n = ring.length >> 1;
  const foreign = (s: number): boolean => open[s] === 1 && find(index.ringOf[s]!) !== own;
  const start = index.segmentOf(r, 0);
  for (let i = 0; i < n; i++) {
    if (!open[start + i]) continue;
    const a = vertexAt(ring, i);
    const b = vertexAt(ring, (i + 1) % n);
    let reach = best.get(own)?.lengthM;
    if (reach === undefined) {
      const first = index.nearest(a[0], a[1], Infinity, foreign);
      if (!first) return;
      reach = first.distanceM;
    }
    const near = index.inBox(
      Math.min(a[0], b[0]) - reach,
      Math.min(a[1], b[1]) - reach,
      Math.max(a[0], b[0]) + reach,
      Math.max(a[1], b[1]) + reach,
    );
    for (const s of near.sort((x, y) => x - y)) {
      if (!foreign(s)) continue;
      const pair = nearestOfSegments(a, b, index.from(s), index.to(s));
      const known = best.get(own);
      if (known && pair.distanceM >= known.lengthM) continue;
      best.set(own, {
        fromRing: r,
        toRing: index.ringOf[s]!,
        from: pair.first,
        to: pair.second,
        fromVertex: i,
        toVertex: index.vertexOf[s]!,
        lengthM: pair.distanceM,
      });
    }
  }
}
