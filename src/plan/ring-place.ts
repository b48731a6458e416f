import { vertexAt } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import { nearestShare } from "../geometry/segments.ts";
import type { PointM, RingM } from "../model/geometry.ts";

/** A place on a ring: on the edge from `vertex`, `share` of the way along. */
export interface RingPlace {
  readonly vertex: number;
  readonly share: number;
  readonly atM: PointM;
}

/** The place on a ring nearest to a point. */
export function nearestPlace(ring: RingM, point: PointM): RingPlace {
  const index = new SegmentIndex([ring]);
  const { segment } = index.nearest(point[0], point[1], Infinity)!;
  const a = index.from(segment);
  const b = index.to(segment);
  const share = nearestShare(point[0], point[1], a[0], a[1], b[0], b[1]);
  return {
    vertex: index.vertexOf[segment]!,
    share,
    atM: [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])],
  };
}

/** Directions in which the ring leaves a place: on along the ring, and back. Unit vectors. */
export function directionsAt(ring: RingM, place: RingPlace): { on: PointM; back: PointM } {
  const n = ring.length >> 1;
  const unit = (from: PointM, to: PointM): PointM => {
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
    return [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  };
  const a = vertexAt(ring, place.vertex);
  const b = vertexAt(ring, (place.vertex + 1) % n);
  if (place.share > 1e-9 && place.share < 1 - 1e-9) return { on: unit(a, b), back: unit(b, a) };
  const corner = place.share <= 1e-9 ? place.vertex : (place.vertex + 1) % n;
  const at = vertexAt(ring, corner);
  return {
    on: unit(at, vertexAt(ring, (corner + 1) % n)),
    back: unit(at, vertexAt(ring, (corner + n - 1) % n)),
  };
}
