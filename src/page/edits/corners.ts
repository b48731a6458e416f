/** The corners of an outline, counted through all its rings, and outlines with one changed. */
import type { PointM } from "../../model/geometry.ts";
import type { RingsM } from "./edit.ts";

/** Polygons, each a shell and its holes; no ring repeats its first corner. */
export type OutlineM = readonly RingsM[];

/** A ring keeps at least so many corners. */
const LEAST = 3;

/** All corners in the order of the rings. */
export function cornersOf(outline: OutlineM): PointM[] {
  return outline.flatMap((rings) => rings.flat());
}

/** The corner nearest to a place, by its number; -1 where there is none. */
export function nearestCorner(outline: OutlineM, [e, n]: PointM): number {
  let best = -1;
  let bestM = Number.POSITIVE_INFINITY;
  cornersOf(outline).forEach(([x, y], i) => {
    const distanceM = Math.hypot(x - e, y - n);
    if (distanceM < bestM) [best, bestM] = [i, distanceM];
  });
  return best;
}

/** With a corner elsewhere. */
export function withCornerAt(outline: OutlineM, corner: number, at: PointM): OutlineM {
  return withRing(outline, corner, (ring, i) => [...ring.slice(0, i), at, ...ring.slice(i + 1)]);
}

/** With one more corner, halfway from a corner to the next; it has the number after it. */
export function withCornerAfter(outline: OutlineM, corner: number): OutlineM {
  return withRing(outline, corner, (ring, i) => {
    const [a, b] = [ring[i]!, ring[(i + 1) % ring.length]!];
    const between: PointM = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    return [...ring.slice(0, i + 1), between, ...ring.slice(i + 1)];
  });
}

/** Without a corner; the same outline where its ring has no more than three. */
export function withoutCorner(outline: OutlineM, corner: number): OutlineM {
  return withRing(outline, corner, (ring, i) =>
    ring.length > LEAST ? [...ring.slice(0, i), ...ring.slice(i + 1)] : ring,
  );
}

function withRing(
  outline: OutlineM,
  corner: number,
  change: (ring: readonly PointM[], i: number) => readonly PointM[],
): OutlineM {
  let left = corner;
  return outline.map((rings) =>
    rings.map((ring) => {
      const i = left;
      left -= ring.length;
      return i >= 0 && i < ring.length ? change(ring, i) : ring;
    }),
  );
}
