import { SegmentIndex } from "../geometry/segment-index.ts";
import type { PointM, RingM } from "../model/geometry.ts";

/**
 * Where rings of wire meet themselves or each other, neighbouring segments apart; undefined where
 * they do not: an independent look at what choosing pegs and walking the route promise.
 */
export function whereRingsMeet(rings: readonly RingM[]): PointM | undefined {
  const index = new SegmentIndex(rings);
  for (let s = 0; s < index.count; s++) {
    const n = rings[index.ringOf[s]!]!.length >> 1;
    const a = index.from(s);
    const b = index.to(s);
    const near = index.inBox(
      Math.min(a[0], b[0]),
      Math.min(a[1], b[1]),
      Math.max(a[0], b[0]),
      Math.max(a[1], b[1]),
    );
    for (const other of near) {
      if (other <= s) continue;
      const apart = Math.abs(index.vertexOf[other]! - index.vertexOf[s]!);
      const sameRing = index.ringOf[other] === index.ringOf[s];
      if (sameRing && (apart === 1 || apart === n - 1)) continue;
      if (meet(a, b, index.from(other), index.to(other))) return a;
    }
  }
  return undefined;
}

function meet(a: PointM, b: PointM, c: PointM, d: PointM): boolean {
  const side = (p: PointM, q: PointM, r: PointM): number =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  return side(a, b, c) * side(a, b, d) <= 0 && side(c, d, a) * side(c, d, b) <= 0;
}
