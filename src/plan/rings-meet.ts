import { SegmentIndex } from "../geometry/segment-index.ts";
import { nearestOfSegments, segmentsMeet } from "../geometry/segments.ts";
import type { PointM, RingM } from "../model/geometry.ts";

/** Wires nearer than this touch, as the judge says, with room for rounding when they are written, metres. */
const TOUCH_M = 0.0012;
/** Bends of a pair are millimetres long: what is this near along a ring is its neighbour, metres. */
const NEIGHBOUR_M = 0.005;

/**
 * Where rings of wire cross or touch themselves or each other, neighbouring segments apart; undefined
 * where they do not: an independent look at what choosing pegs and walking the route promise.
 *
 * @returns the beginning of the first segment that another meets
 */
export function whereRingsMeet(rings: readonly RingM[]): PointM | undefined {
  const index = new SegmentIndex(rings);
  for (let s = 0; s < index.count; s++) {
    const a = index.from(s);
    const b = index.to(s);
    const near = index.inBox(
      Math.min(a[0], b[0]) - TOUCH_M,
      Math.min(a[1], b[1]) - TOUCH_M,
      Math.max(a[0], b[0]) + TOUCH_M,
      Math.max(a[1], b[1]) + TOUCH_M,
    );
    for (const other of near) {
      if (other <= s) continue;
      const ring = rings[index.ringOf[s]!]!;
      const n = ring.length >> 1;
      const apart = Math.abs(index.vertexOf[other]! - index.vertexOf[s]!);
      const sameRing = index.ringOf[other] === index.ringOf[s];
      if (sameRing && (apart === 1 || apart === n - 1)) continue;
      const [c, d] = [index.from(other), index.to(other)];
      if (segmentsMeet(a, b, c, d)) return a;
      const { distanceM, firstShare, secondShare } = nearestOfSegments(a, b, c, d);
      if (distanceM >= TOUCH_M) continue;
      const [one, two] = [index.vertexOf[s]!, index.vertexOf[other]!];
      if (sameRing && wayM(ring, one, firstShare, two, secondShare) < NEIGHBOUR_M) continue;
      return a;
    }
  }
  return undefined;
}

/** The shorter way along a ring between two places of it (segment and share), metres. */
function wayM(ring: RingM, one: number, oneShare: number, two: number, twoShare: number): number {
  const n = ring.length >> 1;
  const lengthM = (i: number): number => {
    const [a, b] = [2 * (i % n), 2 * ((i + 1) % n)];
    return Math.hypot(ring[b]! - ring[a]!, ring[b + 1]! - ring[a + 1]!);
  };
  // No further than it matters, from the first on and from the second on.
  const ahead = (i: number, iShare: number, j: number, jShare: number): number => {
    let way = (1 - iShare) * lengthM(i);
    for (let k = (i + 1) % n; k !== j; k = (k + 1) % n) {
      if (way > NEIGHBOUR_M) return way;
      way += lengthM(k);
    }
    return way + jShare * lengthM(j);
  };
  return Math.min(ahead(one, oneShare, two, twoShare), ahead(two, twoShare, one, oneShare));
}
