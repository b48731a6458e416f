import type { Geometry, Position } from "geojson";

type Ring = Position[];

interface Outline {
  readonly ring: Ring;
  readonly areaAbs: number;
  readonly clockwise: boolean;
  readonly box: readonly [number, number, number, number];
}

function outlineOf(ring: Ring): Outline {
  let twice = 0;
  const [x0, y0] = [ring[0]![0]!, ring[0]![1]!];
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < ring.length; i++) {
    const [x, y] = ring[i] as [number, number];
    const [u, v] = ring[(i + 1) % ring.length] as [number, number];
    twice += (x - x0) * (v - y0) - (u - x0) * (y - y0);
    box[0] = Math.min(box[0], x);
    box[1] = Math.min(box[1], y);
    box[2] = Math.max(box[2], x);
    box[3] = Math.max(box[3], y);
  }
  return { ring, areaAbs: Math.abs(twice / 2), clockwise: twice < 0, box };
}

/** 1 inside, -1 outside, 0 on the ring. */
function side(ring: Ring, x: number, y: number): -1 | 0 | 1 {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i] as [number, number];
    const [xj, yj] = ring[j] as [number, number];
    const cross = (xj - xi) * (y - yi) - (yj - yi) * (x - xi);
    const within =
      Math.min(xi, xj) <= x &&
      x <= Math.max(xi, xj) &&
      Math.min(yi, yj) <= y &&
      y <= Math.max(yi, yj);
    if (cross === 0 && within) return 0;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside ? 1 : -1;
}

/** True where `inner` lies inside `outer`; touching vertices do not decide, edge middles then do. */
function contains(outer: Outline, inner: Outline): boolean {
  if (inner.areaAbs >= outer.areaAbs) return false;
  const [a, b] = [outer.box, inner.box];
  if (b[0] < a[0] || b[1] < a[1] || b[2] > a[2] || b[3] > a[3]) return false;
  for (const [x, y] of inner.ring as [number, number][]) {
    const where = side(outer.ring, x, y);
    if (where !== 0) return where > 0;
  }
  for (let i = 0; i + 1 < inner.ring.length; i++) {
    const [p, q] = [inner.ring[i]!, inner.ring[i + 1]!];
    const where = side(outer.ring, (p[0]! + q[0]!) / 2, (p[1]! + q[1]!) / 2);
    if (where !== 0) return where > 0;
  }
  return false;
}

/** A polygon's rings in proper order, and how many wind the other way than their nesting says. */
export interface GroupedRings {
  readonly geometry: Geometry;
  readonly contrary: number;
}

/**
 * Shells with their holes, from the rings of one shapefile record in any order.
 *
 * A ring inside an even number of others is a shell, inside an odd number a hole of the smallest
 * of them: the same as the clockwise-shell rule of the format (page 8 of its description) wherever
 * a file keeps to that, and right where it does not. O(rings² + vertices of nested rings).
 */
export function groupRings(rings: readonly Ring[]): GroupedRings {
  // Equal vertices at the end close a ring; rings of fewer than 4 positions enclose nothing.
  const outlines = rings.filter((ring) => ring.length > 0).map(outlineOf);
  const bySize = [...outlines.keys()].sort((a, b) => outlines[b]!.areaAbs - outlines[a]!.areaAbs);
  const depth = new Map<number, number>();
  const parent = new Map<number, number>();
  for (const [place, index] of bySize.entries()) {
    let level = 0;
    for (let k = 0; k < place; k++) {
      const other = bySize[k]!;
      if (!contains(outlines[other]!, outlines[index]!)) continue;
      level++;
      parent.set(index, other); // Larger ones come first, so the last is the smallest round it.
    }
    depth.set(index, level);
  }
  let contrary = 0;
  const polygons = new Map<number, Ring[]>();
  for (let index = 0; index < outlines.length; index++) {
    if (depth.get(index)! % 2 === 0) polygons.set(index, [outlines[index]!.ring]);
    const isShell = depth.get(index)! % 2 === 0;
    if (outlines[index]!.areaAbs > 0 && outlines[index]!.clockwise !== isShell) contrary++;
  }
  for (let index = 0; index < outlines.length; index++) {
    if (depth.get(index)! % 2 === 1) polygons.get(parent.get(index)!)?.push(outlines[index]!.ring);
  }
  const all = [...polygons.values()];
  const geometry: Geometry =
    all.length === 1
      ? { type: "Polygon", coordinates: all[0]! }
      : { type: "MultiPolygon", coordinates: all };
  return { geometry, contrary };
}
