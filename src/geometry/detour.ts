/** A short way round small obstacles between two points (visibility graph over their hulls). */
import type { PointM, RingM } from "../model/geometry.ts";
import { toPoints } from "./rings.ts";

/** Convex hull by Andrew's monotone chain, anticlockwise. */
export function convexHull(points: readonly PointM[]): PointM[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly PointM[]): PointM[] => {
    const hull: PointM[] = [];
    for (const p of list) {
      while (hull.length >= 2 && turn(hull[hull.length - 2]!, hull[hull.length - 1]!, p) <= 0) {
        hull.pop();
      }
      hull.push(p);
    }
    hull.pop();
    return hull;
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

function turn(a: PointM, b: PointM, c: PointM): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

/** Whether a segment passes through the inside of a convex ring (touching is not passing). */
export function passesThrough(a: PointM, b: PointM, hull: readonly PointM[]): boolean {
  let enter = 0;
  let leave = 1;
  const de = b[0] - a[0];
  const dn = b[1] - a[1];
  const n = hull.length;
  for (let i = 0; i < n; i++) {
    const p = hull[i]!;
    const q = hull[(i + 1) % n]!;
    const length = Math.hypot(q[0] - p[0], q[1] - p[1]) || 1;
    // Signed distances inside (positive) of the side pq at the segment's ends, 0.1 mm shrunk.
    const side = (e: number, north: number): number =>
      ((q[0] - p[0]) * (north - p[1]) - (q[1] - p[1]) * (e - p[0])) / length - 1e-4;
    const da = side(a[0], a[1]);
    const db = side(a[0] + de, a[1] + dn);
    if (da <= 0 && db <= 0) return false;
    if (da < 0) enter = Math.max(enter, da / (da - db));
    else if (db < 0) leave = Math.min(leave, da / (da - db));
  }
  return enter < leave;
}

/**
 * Shortest way from one point to another that passes through none of the hulls.
 *
 * @param hulls convex hulls, already grown by the clearance wanted
 * @returns the points between the two ends, in order (none when the straight way is free);
 *   undefined when an end lies inside a hull or no way was found
 */
export function wayRound(
  from: PointM,
  to: PointM,
  hulls: readonly (readonly PointM[])[],
): PointM[] | undefined {
  const inWay = new Set<number>();
  for (let round = 0; round < 12; round++) {
    const chosen = [...inWay].map((i) => hulls[i]!);
    const way = shortestWay(from, to, chosen);
    if (!way) return undefined;
    let added = false;
    for (let k = 0; k + 1 < way.length; k++) {
      hulls.forEach((hull, i) => {
        if (!inWay.has(i) && passesThrough(way[k]!, way[k + 1]!, hull)) {
          inWay.add(i);
          added = true;
        }
      });
    }
    if (!added) return way.slice(1, -1);
  }
  return undefined;
}

function shortestWay(
  from: PointM,
  to: PointM,
  hulls: readonly (readonly PointM[])[],
): PointM[] | undefined {
  const nodes: PointM[] = [from, to, ...hulls.flat()];
  const distance = nodes.map(() => Infinity);
  const via = nodes.map(() => -1);
  const settled = nodes.map(() => false);
  distance[0] = 0;
  for (;;) {
    let at = -1;
    nodes.forEach((_, i) => {
      if (!settled[i] && distance[i]! < (at === -1 ? Infinity : distance[at]!)) at = i;
    });
    if (at === -1) return undefined;
    if (at === 1) break;
    settled[at] = true;
    const a = nodes[at]!;
    nodes.forEach((b, i) => {
      if (settled[i]) return;
      const length = distance[at]! + Math.hypot(b[0] - a[0], b[1] - a[1]);
      if (length >= distance[i]!) return;
      if (hulls.some((hull) => passesThrough(a, b, hull))) return;
      distance[i] = length;
      via[i] = at;
    });
  }
  const way: PointM[] = [];
  for (let i = 1; i !== -1; i = via[i]!) way.push(nodes[i]!);
  return way.reverse();
}

/** Hull of a ring, corners moved out so that every side clears the ring by `clearanceM`. */
export function clearHull(ring: RingM, clearanceM: number): PointM[] {
  const hull = convexHull(toPoints(ring));
  const points: PointM[] = [];
  // An octagon round every corner has its sides at the clearance: simple, convex, a little generous.
  const reach = clearanceM / Math.cos(Math.PI / 8);
  for (const [e, n] of hull) {
    for (let k = 0; k < 8; k++) {
      const angle = (Math.PI * (2 * k + 1)) / 8;
      points.push([e + reach * Math.cos(angle), n + reach * Math.sin(angle)]);
    }
  }
  return convexHull(points);
}
