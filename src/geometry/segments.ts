/** Distances and intersections of straight segments (metres). */
import type { PointM } from "../model/geometry.ts";

/** Place on a segment nearest to a point, as a share of its length from its first end (0 to 1). */
export function nearestShare(
  e: number,
  n: number,
  ae: number,
  an: number,
  be: number,
  bn: number,
): number {
  const de = be - ae;
  const dn = bn - an;
  const squared = de * de + dn * dn;
  if (squared === 0) return 0;
  const share = ((e - ae) * de + (n - an) * dn) / squared;
  return share <= 0 ? 0 : Math.min(share, 1);
}

/** Distance from a point to a segment, metres. */
export function pointSegmentM(
  e: number,
  n: number,
  ae: number,
  an: number,
  be: number,
  bn: number,
): number {
  const share = nearestShare(e, n, ae, an, be, bn);
  return Math.hypot(e - ae - share * (be - ae), n - an - share * (bn - an));
}

/** The nearest two points of two segments. */
export interface NearestPair {
  distanceM: number;
  first: PointM;
  second: PointM;
  /** Share along the first segment. */
  firstShare: number;
  /** Share along the second segment. */
  secondShare: number;
}

function cross(ae: number, an: number, be: number, bn: number): number {
  return ae * bn - an * be;
}

/** True when two segments cross or touch. Plain floating point: use for tests of health, not of topology. */
export function segmentsMeet(a: PointM, b: PointM, c: PointM, d: PointM): boolean {
  const d1 = cross(b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]);
  const d2 = cross(b[0] - a[0], b[1] - a[1], d[0] - a[0], d[1] - a[1]);
  const d3 = cross(d[0] - c[0], d[1] - c[1], a[0] - c[0], a[1] - c[1]);
  const d4 = cross(d[0] - c[0], d[1] - c[1], b[0] - c[0], b[1] - c[1]);
  if (d1 * d2 < 0 && d3 * d4 < 0) return true;
  const onSegment = (p: PointM, q: PointM, r: PointM): boolean =>
    Math.min(p[0], q[0]) <= r[0] &&
    r[0] <= Math.max(p[0], q[0]) &&
    Math.min(p[1], q[1]) <= r[1] &&
    r[1] <= Math.max(p[1], q[1]);
  return (
    (d1 === 0 && onSegment(a, b, c)) ||
    (d2 === 0 && onSegment(a, b, d)) ||
    (d3 === 0 && onSegment(c, d, a)) ||
    (d4 === 0 && onSegment(c, d, b))
  );
}

/** Nearest points of segments ab and cd; distance 0 where they cross (then the points are ends). */
export function nearestOfSegments(a: PointM, b: PointM, c: PointM, d: PointM): NearestPair {
  const best: NearestPair = {
    distanceM: Infinity,
    first: a,
    second: c,
    firstShare: 0,
    secondShare: 0,
  };
  const offer = (
    p: PointM,
    from: PointM,
    to: PointM,
    endShare: number,
    pIsFirst: boolean,
  ): void => {
    const share = nearestShare(p[0], p[1], from[0], from[1], to[0], to[1]);
    const q: PointM = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
    const distanceM = Math.hypot(p[0] - q[0], p[1] - q[1]);
    if (distanceM < best.distanceM) {
      best.distanceM = distanceM;
      best.first = pIsFirst ? p : q;
      best.second = pIsFirst ? q : p;
      best.firstShare = pIsFirst ? endShare : share;
      best.secondShare = pIsFirst ? share : endShare;
    }
  };
  offer(a, c, d, 0, true);
  offer(b, c, d, 1, true);
  offer(c, a, b, 0, false);
  offer(d, a, b, 1, false);
  if (best.distanceM > 0 && segmentsMeet(a, b, c, d)) best.distanceM = 0;
  return best;
}

/** Where the lines through ab and cd meet; undefined when they are parallel. */
export function lineIntersection(a: PointM, b: PointM, c: PointM, d: PointM): PointM | undefined {
  const re = b[0] - a[0];
  const rn = b[1] - a[1];
  const se = d[0] - c[0];
  const sn = d[1] - c[1];
  const denominator = cross(re, rn, se, sn);
  if (Math.abs(denominator) < 1e-12 * Math.hypot(re, rn) * Math.hypot(se, sn)) return undefined;
  const t = cross(c[0] - a[0], c[1] - a[1], se, sn) / denominator;
  return [a[0] + t * re, a[1] + t * rn];
}
