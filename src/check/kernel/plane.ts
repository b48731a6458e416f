/** Plane geometry of the judge on bare numbers: exact turns, shares along segments, gaps. */
import { orient2d } from "robust-predicates";
import type { RingM } from "../../model/geometry.ts";

/** Positive where c lies to the left of the way from a to b, 0 on it: the sign is exact. */
export function turn(
  ae: number,
  an: number,
  be: number,
  bn: number,
  ce: number,
  cn: number,
): number {
  return -orient2d(ae, an, be, bn, ce, cn);
}

/** Share of ab, 0 to 1, at which it is nearest to p. */
export function shareAt(
  pe: number,
  pn: number,
  ae: number,
  an: number,
  be: number,
  bn: number,
): number {
  const de = be - ae;
  const dn = bn - an;
  const square = de * de + dn * dn;
  if (square === 0) return 0;
  const t = ((pe - ae) * de + (pn - an) * dn) / square;
  return Math.max(0, Math.min(1, t));
}

/** Distance from p to segment ab. */
export function toSegmentM(
  pe: number,
  pn: number,
  ae: number,
  an: number,
  be: number,
  bn: number,
): number {
  const t = shareAt(pe, pn, ae, an, be, bn);
  return Math.hypot(pe - ae - t * (be - ae), pn - an - t * (bn - an));
}

/** Whether ab and cd have a point in common, ends included: by exact turns. */
export function meet(
  ae: number,
  an: number,
  be: number,
  bn: number,
  ce: number,
  cn: number,
  de: number,
  dn: number,
): boolean {
  const c = turn(ae, an, be, bn, ce, cn);
  const d = turn(ae, an, be, bn, de, dn);
  if ((c > 0 && d > 0) || (c < 0 && d < 0)) return false;
  const a = turn(ce, cn, de, dn, ae, an);
  const b = turn(ce, cn, de, dn, be, bn);
  if ((a > 0 && b > 0) || (a < 0 && b < 0)) return false;
  if (c !== 0 || d !== 0 || a !== 0 || b !== 0) return true;
  return (
    Math.min(ae, be) <= Math.max(ce, de) &&
    Math.max(ae, be) >= Math.min(ce, de) &&
    Math.min(an, bn) <= Math.max(cn, dn) &&
    Math.max(an, bn) >= Math.min(cn, dn)
  );
}

/** Two segments where they are nearest: the gap, and the shares of the first and the second. */
export interface Gap {
  distanceM: number;
  t: number;
  u: number;
}

/** Writes the gap between ab and cd into `out`, which may be used again and again. */
export function gapBetween(
  ae: number,
  an: number,
  be: number,
  bn: number,
  ce: number,
  cn: number,
  de: number,
  dn: number,
  out: Gap,
): Gap {
  out.distanceM = Infinity;
  if (meet(ae, an, be, bn, ce, cn, de, dn)) {
    out.distanceM = 0;
    out.t = crossingShare(ae, an, be, bn, ce, cn, de, dn);
    out.u = shareAt(ae + out.t * (be - ae), an + out.t * (bn - an), ce, cn, de, dn);
    return out;
  }
  const take = (t: number, u: number): void => {
    const distanceM = Math.hypot(
      ae + t * (be - ae) - ce - u * (de - ce),
      an + t * (bn - an) - cn - u * (dn - cn),
    );
    if (distanceM < out.distanceM) {
      out.distanceM = distanceM;
      out.t = t;
      out.u = u;
    }
  };
  take(0, shareAt(ae, an, ce, cn, de, dn));
  take(1, shareAt(be, bn, ce, cn, de, dn));
  take(shareAt(ce, cn, ae, an, be, bn), 0);
  take(shareAt(de, dn, ae, an, be, bn), 1);
  return out;
}

/** Share of ab where the line through cd crosses it; where they are parallel, of c or d on it. */
export function crossingShare(
  ae: number,
  an: number,
  be: number,
  bn: number,
  ce: number,
  cn: number,
  de: number,
  dn: number,
): number {
  const c = (be - ae) * (dn - cn) - (bn - an) * (de - ce);
  if (c === 0) {
    const t = shareAt(ce, cn, ae, an, be, bn);
    return t > 0 && t < 1 ? t : shareAt(de, dn, ae, an, be, bn);
  }
  const t = ((ce - ae) * (dn - cn) - (cn - an) * (de - ce)) / c;
  return Math.max(0, Math.min(1, t));
}

/** Shoelace formula about the first vertex, m²; positive where the ring is anticlockwise. */
export function signedAreaM2(ring: RingM): number {
  let twice = 0;
  const [oe, on] = [ring[0]!, ring[1]!];
  for (let i = 2; i + 3 < ring.length; i += 2) {
    twice += (ring[i]! - oe) * (ring[i + 3]! - on) - (ring[i + 2]! - oe) * (ring[i + 1]! - on);
  }
  return twice / 2;
}

/** Length of a line, or of a ring with its closing segment, metres. */
export function lineM(line: Float64Array, closed = false): number {
  let sum = 0;
  for (let i = 2; i + 1 < line.length; i += 2) {
    sum += Math.hypot(line[i]! - line[i - 2]!, line[i + 1]! - line[i - 1]!);
  }
  const n = line.length;
  if (closed && n > 2) sum += Math.hypot(line[0]! - line[n - 2]!, line[1]! - line[n - 1]!);
  return sum;
}
