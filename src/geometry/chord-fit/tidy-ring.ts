/** Small tidyings of a ring before pegs are chosen. Its left side is free, its right side forbidden. */
import type { PointM, RingM } from "../../model/geometry.ts";
import { lineIntersection, pointSegmentM } from "../segments.ts";

/** Edges shorter than this get no peg at each end, metres. */
const SHORT_EDGE_M = 0.03;
const SHORT_EDGE_ROUNDS = 8;
/** What is dropped for it lies no farther behind the ring than this: arcs of short edges stay, metres. */
const DROPPED_M = 0.015;
/** Vertices nearer than this to the chord past them carry nothing, metres. */
export const COLLINEAR_M = 0.0002;

/** The ring begun at its southernmost (then westernmost) vertex, so that where it began before does not matter. */
export function fromLowest(ring: RingM): RingM {
  let lowest = 0;
  for (let i = 2; i < ring.length; i += 2) {
    const north = ring[i + 1]! - ring[lowest + 1]!;
    if (north < 0 || (north === 0 && ring[i]! < ring[lowest]!)) lowest = i;
  }
  if (lowest === 0) return ring;
  const out = new Float64Array(ring.length);
  out.set(ring.subarray(lowest), 0);
  out.set(ring.subarray(0, lowest), ring.length - lowest);
  return out;
}

/**
 * Takes out edges too short for a peg at both ends, moving the ring to the left only: a left-turning
 * end is dropped, and between two right turns the neighbours are lengthened until they meet.
 */
export function withoutShortEdges(ring: RingM): RingM {
  if (!hasShortEdge(ring)) return ring;
  let points = fromLongEdge(ring);
  const stay = new Set<PointM>();
  for (let round = 0; round < SHORT_EDGE_ROUNDS; round++) {
    const before = points.length;
    points = shortEdgesOnce(points, stay);
    if (points.length === before) break;
  }
  return ringOf(points);
}

/**
 * The points of a ring, begun where the edge that closes it is none of the short ones: where two
 * corners come within millimetres of each other at the southernmost vertex it would stay.
 */
function fromLongEdge(ring: RingM): PointM[] {
  const n = ring.length >> 1;
  const points: PointM[] = [];
  for (let i = 0; i < ring.length; i += 2) points.push([ring[i]!, ring[i + 1]!]);
  for (let back = 0; back < n; back++) {
    const [e, north] = points[(n - back) % n]!;
    const [beforeE, beforeN] = points[n - back - 1]!;
    if (Math.hypot(e - beforeE, north - beforeN) < SHORT_EDGE_M) continue;
    return back === 0 ? points : [...points.slice(n - back), ...points.slice(0, n - back)];
  }
  return points;
}

function hasShortEdge(ring: RingM): boolean {
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
    if (Math.hypot(ring[i]! - ring[j]!, ring[i + 1]! - ring[j + 1]!) < SHORT_EDGE_M) return true;
  }
  return false;
}

export function ringOf(points: readonly PointM[]): RingM {
  const ring = new Float64Array(2 * points.length);
  points.forEach(([e, n], i) => {
    ring[2 * i] = e;
    ring[2 * i + 1] = n;
  });
  return ring;
}

/** @param stay vertices that are not dropped, round after round; those that must stay are added */
function shortEdgesOnce(points: readonly PointM[], stay: Set<PointM>): PointM[] {
  const n = points.length;
  const kept: PointM[] = [];
  let dropped: PointM[] = [];
  let left = n;
  for (let i = 0; i < n; i++) {
    const b = points[i]!;
    const c = points[(i + 1) % n]!;
    const short = Math.hypot(c[0] - b[0], c[1] - b[1]) < SHORT_EDGE_M;
    if (!short || left <= 4 || i === n - 1) {
      dropped = [];
      kept.push(b);
      continue;
    }
    const a = kept[kept.length - 1] ?? points[n - 1]!;
    const d = points[(i + 2) % n]!;
    if (turnOf(a, b, c) >= 0) {
      const gone = [...dropped, b];
      const isNear = (p: PointM) => pointSegmentM(p[0], p[1], a[0], a[1], c[0], c[1]) <= DROPPED_M;
      if (!stay.has(b) && gone.every(isNear)) {
        dropped = gone;
        left--;
        continue;
      }
      // Else one vertex after another of an arc would go, and with them all of it.
      stay.add(b);
      dropped = [];
      kept.push(b);
      continue;
    }
    dropped = [];
    left--;
    if (turnOf(b, c, d) >= 0) {
      kept.push(b);
      i++;
      continue;
    }
    const x = lineIntersection(a, b, d, c);
    const near = x && Math.hypot(x[0] - b[0], x[1] - b[1]) < 3 * SHORT_EDGE_M;
    if (!near) {
      kept.push(b);
      left++;
      continue;
    }
    kept.push(x);
    i++;
  }
  return kept;
}

function turnOf(a: PointM, b: PointM, c: PointM): number {
  return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
}

/** Leaves out vertices that lie on the line of their neighbours, to 0.2 mm. */
export function withoutCollinear(ring: RingM): RingM {
  const n = ring.length >> 1;
  if (n < 4) return ring;
  // Start at the sharpest vertex, which is never on a straight run.
  let start = 0;
  let sharpest = -1;
  for (let i = 0; i < n; i++) {
    const off = offChordM(ring, i, i === 0 ? n - 1 : i - 1, i + 1 === n ? 0 : i + 1);
    if (off > sharpest + 1e-9) {
      sharpest = off;
      start = i;
    }
  }
  const keep: number[] = [ring[2 * start]!, ring[2 * start + 1]!];
  let anchor = start;
  for (let i = start + 1; i < start + n; i++) {
    let straight = i - anchor < 200;
    for (let m = i; m > anchor && straight; m--) {
      straight = offChordM(ring, m % n, anchor % n, (i + 1) % n) <= COLLINEAR_M;
    }
    if (straight) continue;
    keep.push(ring[2 * (i % n)]!, ring[2 * (i % n) + 1]!);
    anchor = i;
  }
  return Float64Array.from(keep);
}

/** Distance of a vertex from the line between two others. */
function offChordM(ring: RingM, vertex: number, from: number, to: number): number {
  return pointSegmentM(
    ring[2 * vertex]!,
    ring[2 * vertex + 1]!,
    ring[2 * from]!,
    ring[2 * from + 1]!,
    ring[2 * to]!,
    ring[2 * to + 1]!,
  );
}
