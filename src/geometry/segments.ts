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
  readonly distanceM: number;
  readonly first: PointM;
  readonly second: PointM;
  /** Share along the first segment. */
  readonly firstShare: number;
  /** Share along the second segment. */
  readonly secondShare: number;
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
  // One end and the place on the other segment nearest to it, for each of the four ends.
  const onCdOfA = nearestShare(a[0], a[1], c[0], c[1], d[0], d[1]);
  const onCdOfB = nearestShare(b[0], b[1], c[0], c[1], d[0], d[1]);
  const onAbOfC = nearestShare(c[0], c[1], a[0], a[1], b[0], b[1]);
  const onAbOfD = nearestShare(d[0], d[1], a[0], a[1], b[0], b[1]);
  const ofA = squaredToPlace(a, c, d, onCdOfA);
  const ofB = squaredToPlace(b, c, d, onCdOfB);
  const ofC = squaredToPlace(c, a, b, onAbOfC);
  const ofD = squaredToPlace(d, a, b, onAbOfD);
  let least = ofA;
  let [firstShare, secondShare] = [0, onCdOfA];
  if (ofB < least) [least, firstShare, secondShare] = [ofB, 1, onCdOfB];
  if (ofC < least) [least, firstShare, secondShare] = [ofC, onAbOfC, 0];
  if (ofD < least) [least, firstShare, secondShare] = [ofD, onAbOfD, 1];
  const first = placeOn(a, b, firstShare);
  const second = placeOn(c, d, secondShare);
  const meet = least === 0 || segmentsMeet(a, b, c, d);
  const distanceM = meet ? 0 : Math.hypot(first[0] - second[0], first[1] - second[1]);
  return { distanceM, first, second, firstShare, secondShare };
}

function squaredToPlace(p: PointM, from: PointM, to: PointM, share: number): number {
  const de = p[0] - (from[0] + share * (to[0] - from[0]));
  const dn = p[1] - (from[1] + share * (to[1] - from[1]));
  return de * de + dn * dn;
}

/** The ends themselves at shares 0 and 1, to the last bit. */
function placeOn(from: PointM, to: PointM, share: number): PointM {
  if (share === 0) return from;
  if (share === 1) return to;
  return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
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
