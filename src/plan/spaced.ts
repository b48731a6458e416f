/** Distances between the wires of different loops. */
import { growLines } from "../geometry/offset.ts";
import { difference } from "../geometry/overlay.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import { nearestOfSegments } from "../geometry/segments.ts";
import type { AreaM, LineM, PointM, RingM } from "../model/geometry.ts";

/** Two groups of rings that come too near each other; the second has the higher number. */
export interface NearPair {
  readonly first: number;
  readonly second: number;
  readonly distanceM: number;
  readonly atM: PointM;
  /** Segments of the first that are too near. */
  readonly segments: readonly LineM[];
}

/**
 * Pairs of groups of rings (the wires of loops) less than a distance apart. Cost about n log n for
 * loops that lie beside each other.
 */
export function pairsNearer(groups: readonly (readonly RingM[])[], leastM: number): NearPair[] {
  const owner = groups.flatMap((rings, group) => rings.map(() => group));
  const index = new SegmentIndex(groups.flat());
  const groupOf = (segment: number): number => owner[index.ringOf[segment]!]!;
  const pairs = new Map<string, NearPair & { segments: LineM[] }>();
  for (let s = 0; s < index.count; s++) {
    const [a, b] = [index.from(s), index.to(s)];
    const near = index.inBox(
      Math.min(a[0], b[0]) - leastM,
      Math.min(a[1], b[1]) - leastM,
      Math.max(a[0], b[0]) + leastM,
      Math.max(a[1], b[1]) + leastM,
    );
    let taken = -1;
    for (const t of near.sort((x, y) => x - y)) {
      const [first, second] = [groupOf(s), groupOf(t)];
      if (first >= second) continue;
      const { distanceM, first: atM } = nearestOfSegments(a, b, index.from(t), index.to(t));
      if (distanceM >= leastM) continue;
      const key = `${first} ${second}`;
      const known = pairs.get(key);
      const segments = known?.segments ?? [];
      if (taken !== second) segments.push(Float64Array.from([...a, ...b]));
      taken = second;
      if (!known || distanceM < known.distanceM) {
        pairs.set(key, { first, second, distanceM, atM, segments });
      }
    }
  }
  return [...pairs.values()].sort((x, y) => x.first - y.first || x.second - y.second);
}

/** Pieces with what lies too near an earlier one taken off; in two pieces where that parts them. */
export function keptApart(pieces: readonly AreaM[], leastM: number): AreaM[][] {
  const rings = pieces.map((piece) => [piece.shell, ...piece.holes]);
  const pairs = pairsNearer(rings, leastM - 1e-3);
  return pieces.map((piece, own) => {
    const lines = pairs.filter((pair) => pair.second === own).flatMap((pair) => pair.segments);
    if (lines.length === 0) return [piece];
    return difference([piece], growLines(lines, leastM + 1e-3, "round", "round"));
  });
}
