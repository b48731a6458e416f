/**
 * The shortest spanning network over rings: straight links between ring and ring, exact.
 *
 * Borůvka's rounds: each group of joined rings finds its nearest ring of another group, and all
 * those links are taken. The nearest link between two groups is free: a ring in its way would be
 * nearer. Rings are looked up by their boxes, segments in a packed R-tree for each ring; what two
 * rings are apart is measured once. Never all pairs; about n log² n for rings that lie apart.
 */
import Flatbush from "flatbush";
import type { PointM, RingM } from "../model/geometry.ts";
import { type BoxM, boxOf, vertexAt } from "./rings.ts";
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
  const finder = new LinkFinder(rings, barred);
  const group = rings.map((_, i) => i);
  const find = (i: number): number => {
    let root = i;
    while (group[root] !== root) root = group[root]!;
    while (group[i] !== root) [group[i], i] = [root, group[i]!];
    return root;
  };
  const links: RingLink[] = [];
  let groups = rings.length;
  while (groups > 1) {
    const best = new Map<number, RingLink>();
    for (let r = 0; r < rings.length; r++) {
      const own = find(r);
      if (passive.has(own)) continue;
      const link = finder.nearest(r, best.get(own)?.lengthM, (other) => find(other) !== own);
      if (link) best.set(own, link);
    }
    const before = groups;
    const order = [...best.values()].sort(shorterFirst);
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

/** By length; equal lengths by place, so that the order of the rings does not matter. */
function shorterFirst(a: RingLink, b: RingLink): number {
  return a.lengthM - b.lengthM || a.from[0] - b.from[0] || a.from[1] - b.from[1];
}

/** Nearest links between rings, each pair of rings measured once. */
class LinkFinder {
  readonly #rings: readonly RingM[];
  readonly #barred: (ring: number, vertex: number) => boolean;
  readonly #boxes: Flatbush;
  readonly #indexes: (SegmentIndex | undefined)[];
  readonly #ringBoxes: readonly BoxM[];
  readonly #known = new Map<number, RingLink>();

  constructor(rings: readonly RingM[], barred: (ring: number, vertex: number) => boolean) {
    this.#rings = rings;
    this.#barred = barred;
    this.#boxes = new Flatbush(Math.max(1, rings.length));
    this.#indexes = rings.map(() => undefined);
    this.#ringBoxes = rings.map((ring) => boxOf(ring));
    for (const box of this.#ringBoxes) {
      this.#boxes.add(box.minE, box.minN, box.maxE, box.maxN);
    }
    if (rings.length === 0) this.#boxes.add(0, 0, 0, 0);
    this.#boxes.finish();
  }

  /** The shortest link from a ring to an accepted one, shorter than `below` where that is given. */
  nearest(
    ring: number,
    below: number | undefined,
    accept: (other: number) => boolean,
  ): RingLink | undefined {
    const box = this.#boxOf(ring);
    let found: RingLink | undefined;
    // A hair more: the bound may be the very link, rounded the other way.
    let limit = (below ?? this.#upperBound(ring, accept)) + 1e-9;
    const near = this.#boxes
      .search(box.minE - limit, box.minN - limit, box.maxE + limit, box.maxN + limit)
      .filter(accept)
      .sort((a, b) => a - b);
    for (const other of near) {
      const link = this.#between(ring, other, limit);
      if (!link || link.lengthM > limit || (below !== undefined && link.lengthM >= below)) continue;
      if (found && link.lengthM >= found.lengthM) continue;
      found = link;
      limit = link.lengthM;
    }
    return found;
  }

  /** A length that the nearest link cannot exceed: from the ring's first vertices to near rings. */
  #upperBound(ring: number, accept: (other: number) => boolean): number {
    const points = this.#rings[ring]!;
    let least = Infinity;
    for (let i = 0; i < points.length; i += Math.max(2, 2 * Math.floor(points.length / 16))) {
      const e = points[i]!;
      const n = points[i + 1]!;
      if (this.#barred(ring, i / 2)) continue;
      for (const other of this.#boxes.neighbors(e, n, 2, least, accept)) {
        const index = this.#indexOf(other);
        const near = index.nearest(e, n, least, (s) => !this.#barred(other, index.vertexOf[s]!));
        if (near) least = Math.min(least, near.distanceM);
      }
    }
    return least;
  }

  #boxOf(ring: number): BoxM {
    return this.#ringBoxes[ring]!;
  }

  #indexOf(ring: number): SegmentIndex {
    const known = this.#indexes[ring] ?? new SegmentIndex([this.#rings[ring]!]);
    this.#indexes[ring] = known;
    return known;
  }

  /** The shortest link between two rings, if it is no longer than the limit. */
  #between(ring: number, other: number, limit: number): RingLink | undefined {
    const key = ring * this.#rings.length + other;
    const known = this.#known.get(key);
    if (known) return known;
    const points = this.#rings[ring]!;
    const index = this.#indexOf(other);
    const around = this.#boxOf(other);
    const n = points.length >> 1;
    let best: RingLink | undefined;
    let reach = limit;
    for (let i = 0, j = 1; i < n; i++, j++) {
      if (j === n) j = 0;
      const minE = Math.min(points[2 * i]!, points[2 * j]!) - reach;
      const minN = Math.min(points[2 * i + 1]!, points[2 * j + 1]!) - reach;
      const maxE = Math.max(points[2 * i]!, points[2 * j]!) + reach;
      const maxN = Math.max(points[2 * i + 1]!, points[2 * j + 1]!) + reach;
      // Most edges lie nowhere near the other ring.
      if (minE > around.maxE || maxE < around.minE) continue;
      if (minN > around.maxN || maxN < around.minN) continue;
      if (this.#barred(ring, i)) continue;
      const near = index.inBox(minE, minN, maxE, maxN);
      if (near.length === 0) continue;
      const a = vertexAt(points, i);
      const b = vertexAt(points, j);
      for (const s of near.sort((x, y) => x - y)) {
        const vertex = index.vertexOf[s]!;
        if (this.#barred(other, vertex)) continue;
        const pair = nearestOfSegments(a, b, index.from(s), index.to(s));
        if (pair.distanceM > reach || (best && pair.distanceM >= best.lengthM)) continue;
        reach = pair.distanceM;
        best = {
          fromRing: ring,
          toRing: other,
          from: pair.first,
          to: pair.second,
          fromVertex: i,
          toVertex: vertex,
          lengthM: pair.distanceM,
        };
      }
    }
    if (best) this.#known.set(key, best);
    return best;
  }
}
