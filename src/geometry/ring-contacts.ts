/** Where the segments of rings meet, with an index: n log n for rings as people draw them. */
import Flatbush from "flatbush";
import { orient2d } from "robust-predicates";
import type { PointM, RingM } from "../model/geometry.ts";

export interface Contact {
  /** Numbers of the two rings; the same where a ring meets itself. */
  readonly ringA: number;
  readonly ringB: number;
  /** Numbers of the two segments' first vertices in their rings. */
  readonly segmentA: number;
  readonly segmentB: number;
  /** `cross`: the segments pass through each other; `touch`: an end lies on the other. */
  readonly kind: "cross" | "touch";
  readonly atM: PointM;
}

/**
 * All contacts between segments of the rings, save that of a segment with its successor at their
 * common vertex. Decided with exact predicates; places are rounded.
 *
 * @param most looking ends once there are so many: n segments can cross at n²/2 places
 */
export function ringContacts(rings: readonly RingM[], most = Infinity): Contact[] {
  const total = rings.reduce((sum, ring) => sum + (ring.length >> 1), 0);
  if (total === 0) return [];
  const owner = new Int32Array(total);
  const first = new Int32Array(total);
  const index = new Flatbush(total);
  let k = 0;
  rings.forEach((ring, r) => {
    for (let i = 0; i < ring.length; i += 2) {
      const j = (i + 2) % ring.length;
      index.add(
        Math.min(ring[i]!, ring[j]!),
        Math.min(ring[i + 1]!, ring[j + 1]!),
        Math.max(ring[i]!, ring[j]!),
        Math.max(ring[i + 1]!, ring[j + 1]!),
      );
      owner[k] = r;
      first[k] = i;
      k++;
    }
  });
  index.finish();
  const contacts: Contact[] = [];
  for (let a = 0; a < total && contacts.length < most; a++) {
    const ringA = rings[owner[a]!]!;
    const i = first[a]!;
    const j = (i + 2) % ringA.length;
    const ae = ringA[i]!;
    const an = ringA[i + 1]!;
    const be = ringA[j]!;
    const bn = ringA[j + 1]!;
    const near = index.search(
      Math.min(ae, be),
      Math.min(an, bn),
      Math.max(ae, be),
      Math.max(an, bn),
      (b) => b > a,
    );
    for (const b of near) {
      const ringB = rings[owner[b]!]!;
      const p = first[b]!;
      const q = (p + 2) % ringB.length;
      const neighbours = owner[a] === owner[b] && (p === j || q === i);
      const ce = ringB[p]!;
      const cn = ringB[p + 1]!;
      const de = ringB[q]!;
      const dn = ringB[q + 1]!;
      const met = neighbours
        ? foldedBack(ae, an, be, bn, ce, cn, de, dn, p === j)
        : segmentContacts(ae, an, be, bn, ce, cn, de, dn);
      for (const { kind, atM } of met) {
        const [ringNumberA, ringNumberB] = [owner[a]!, owner[b]!];
        const [segmentA, segmentB] = [i >> 1, p >> 1];
        contacts.push({ ringA: ringNumberA, ringB: ringNumberB, segmentA, segmentB, kind, atM });
      }
    }
  }
  return contacts;
}

type Met = readonly Pick<Contact, "kind" | "atM">[];
const NOWHERE: Met = [];

/** A crossing, or every end of one segment that lies on the other (two where they overlap). */
function segmentContacts(
  ae: number,
  an: number,
  be: number,
  bn: number,
  ce: number,
  cn: number,
  de: number,
  dn: number,
): Met {
  const c = Math.sign(orient2d(ae, an, be, bn, ce, cn));
  const d = Math.sign(orient2d(ae, an, be, bn, de, dn));
  if (c * d > 0) return NOWHERE;
  const a = Math.sign(orient2d(ce, cn, de, dn, ae, an));
  const b = Math.sign(orient2d(ce, cn, de, dn, be, bn));
  if (a * b > 0) return NOWHERE;
  if (c * d < 0 && a * b < 0) {
    return [{ kind: "cross", atM: crossing(ae, an, be, bn, ce, cn, de, dn) }];
  }
  const touches: PointM[] = [];
  if (onSegment(ae, an, be, bn, ce, cn)) touches.push([ce, cn]);
  if (onSegment(ae, an, be, bn, de, dn)) touches.push([de, dn]);
  if (onSegment(ce, cn, de, dn, ae, an)) touches.push([ae, an]);
  if (onSegment(ce, cn, de, dn, be, bn)) touches.push([be, bn]);
  return touches
    .filter(([e, n], k) => touches.findIndex((t) => t[0] === e && t[1] === n) === k)
    .map((atM) => ({ kind: "touch", atM }));
}

/** Where two segments with a common vertex lie on each other: the end of the shorter. */
function foldedBack(
  ae: number,
  an: number,
  be: number,
  bn: number,
  ce: number,
  cn: number,
  de: number,
  dn: number,
  forward: boolean,
): Met {
  // Forward: a → b = c → d. Otherwise c → d = a → b.
  const ve = forward ? be : ae;
  const vn = forward ? bn : an;
  const pe = forward ? ae : ce;
  const pn = forward ? an : cn;
  const qe = forward ? de : be;
  const qn = forward ? dn : bn;
  if (orient2d(ve, vn, pe, pn, qe, qn) !== 0) return NOWHERE;
  const along = (pe - ve) * (qe - ve) + (pn - vn) * (qn - vn);
  if (along <= 0) return NOWHERE;
  const shorter = Math.hypot(pe - ve, pn - vn) <= Math.hypot(qe - ve, qn - vn);
  return [{ kind: "touch", atM: shorter ? [pe, pn] : [qe, qn] }];
}

function onSegment(ae: number, an: number, be: number, bn: number, e: number, n: number): boolean {
  return (
    orient2d(ae, an, be, bn, e, n) === 0 &&
    e >= Math.min(ae, be) &&
    e <= Math.max(ae, be) &&
    n >= Math.min(an, bn) &&
    n <= Math.max(an, bn)
  );
}

function crossing(
  ae: number,
  an: number,
  be: number,
  bn: number,
  ce: number,
  cn: number,
  de: number,
  dn: number,
): PointM {
  const cross = (be - ae) * (dn - cn) - (bn - an) * (de - ce);
  const t = ((ce - ae) * (dn - cn) - (cn - an) * (de - ce)) / cross;
  return [ae + t * (be - ae), an + t * (bn - an)];
}
