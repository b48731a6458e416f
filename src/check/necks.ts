/**
 * Narrow places of the mown ground: where two wires that are no pair, or a wire and a firm thing, face
 * each other nearer than the machine is wide.
 *
 * A place counts where the distance is least: no way along either boundary brings the two nearer.
 * Sides that taper into a corner have no such place. It lies on the mown side (left) of both.
 */
import type { PointM } from "../model/geometry.ts";
import { meet, shareAt } from "./kernel/plane.ts";
import { endsOfRings, SegmentTree } from "./kernel/segment-tree.ts";
import type { Scene } from "./scene.ts";
import type { Wires } from "./wires.ts";

export interface Neck {
  readonly widthM: number;
  /** Places on the two boundaries: segment and share. */
  readonly a: BoundaryPlace;
  readonly b: BoundaryPlace;
}

export interface BoundaryPlace {
  readonly segment: number;
  readonly share: number;
  readonly atM: PointM;
}

/** Wire and firm things inside it, mown ground on the left of each. */
export class Boundaries {
  readonly tree: SegmentTree;
  /** Segments below this number are wire, the same as in `Wires`. */
  readonly wireCount: number;
  readonly nextOf: Int32Array;
  readonly previousOf: Int32Array;

  constructor({ wires, ground, site }: Scene) {
    this.wireCount = wires.count;
    const firm = site.things
      .filter((thing) => thing.contact === "firm")
      .flatMap((thing) => thing.areas.filter((area) => ground.isShutIn(area)))
      .map(({ shell }) => clockwise(shell));
    const firmEnds = endsOfRings(firm);
    const ends = new Float64Array(wires.tree.ends.length + firmEnds.length);
    ends.set(wires.tree.ends);
    ends.set(firmEnds, wires.tree.ends.length);
    this.tree = new SegmentTree(ends);
    this.nextOf = new Int32Array(this.tree.count);
    this.previousOf = new Int32Array(this.tree.count);
    for (let s = 0; s < wires.count; s++) this.#join(s, wires.next(s));
    let first = wires.count;
    for (const ring of firm) {
      const n = ring.length >> 1;
      for (let i = 0; i < n; i++) this.#join(first + i, first + ((i + 1) % n));
      first += n;
    }
  }

  #join(s: number, next: number): void {
    this.nextOf[s] = next;
    this.previousOf[next] = s;
  }
}

function clockwise(ring: Float64Array): Float64Array {
  const turned = new Float64Array(ring.length);
  for (let i = 0; i < ring.length; i += 2) {
    turned[ring.length - 2 - i] = ring[i]!;
    turned[ring.length - 1 - i] = ring[i + 1]!;
  }
  let twice = 0;
  for (let i = 0; i < ring.length; i += 2) {
    const j = (i + 2) % ring.length;
    twice += ring[i]! * ring[j + 1]! - ring[j]! * ring[i + 1]!;
  }
  return twice > 0 ? turned : ring;
}

/** Width up to which narrow places are looked for: what the machine drives through. */
export function necksOf(court: Scene): Neck[] {
  const bounds = new Boundaries(court);
  const limitM = court.profile.passage.driveMinM;
  const { tree } = bounds;
  const { ends } = tree;
  const { wires, carried } = court;
  const necks: Neck[] = [];
  for (let s = 0; s < tree.count; s++) {
    const k = 4 * s;
    const [e, n] = [ends[k]!, ends[k + 1]!];
    if (s < bounds.wireCount && vertexIsPaired(wires, s)) continue;
    for (const t of tree.around(e, n, e, n, limitM)) {
      if (t === s || t === bounds.previousOf[s]) continue;
      const j = 4 * t;
      const [ce, cn, de, dn] = [ends[j]!, ends[j + 1]!, ends[j + 2]!, ends[j + 3]!];
      const u = shareAt(e, n, ce, cn, de, dn);
      // A vertex is looked at once, as the beginning of its segment.
      if (u === 1) continue;
      const [qe, qn] = [ce + u * (de - ce), cn + u * (dn - cn)];
      const widthM = Math.hypot(qe - e, qn - n);
      if (widthM >= limitM || widthM === 0) continue;
      // Of two vertices that face each other one is enough.
      if (u === 0 && t < s) continue;
      if (!facesVertex(ends, bounds, s, qe, qn)) continue;
      if (u === 0 ? !facesVertex(ends, bounds, t, e, n) : side(ce, cn, de, dn, e, n) <= 0) continue;
      if (t < bounds.wireCount) {
        if (u === 0 ? vertexIsPaired(wires, t) : wires.isPaired(t, u)) continue;
      }
      if (s < bounds.wireCount && t < bounds.wireCount && wires.loopOf[s] !== wires.loopOf[t]) {
        continue;
      }
      if (carried.offM(e, n) !== undefined && carried.offM(qe, qn) !== undefined) continue;
      // Two places of one firm thing bound no way.
      if (s >= bounds.wireCount && t >= bounds.wireCount && sameRing(bounds, s, t)) continue;
      if (isBlocked(tree, e, n, qe, qn)) continue;
      necks.push({
        widthM,
        a: { segment: s, share: 0, atM: [e, n] },
        b: { segment: t, share: u, atM: [qe, qn] },
      });
    }
  }
  return necks.sort((x, y) => x.widthM - y.widthM);
}

/** Ends of the way across that are not asked whether something stands in it, as a share. */
const ENDS = 0.001;

/** Whether another boundary stands in the way across: then it has narrower places of its own. */
function isBlocked(tree: SegmentTree, ae: number, an: number, be: number, bn: number): boolean {
  const [ce, cn] = [ae + ENDS * (be - ae), an + ENDS * (bn - an)];
  const [de, dn] = [be - ENDS * (be - ae), bn - ENDS * (bn - an)];
  const { ends } = tree;
  return tree.around(ce, cn, de, dn, 0).some((s) => {
    const k = 4 * s;
    return meet(ce, cn, de, dn, ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!);
  });
}

/** Whether the wire is one of a pair just before or just after the beginning of a segment. */
function vertexIsPaired(wires: Wires, s: number): boolean {
  return wires.isPaired(s, 0.001) || wires.isPaired(wires.previous(s), 0.999);
}

function sameRing(bounds: Boundaries, s: number, t: number): boolean {
  for (let next = bounds.nextOf[s]!; next !== s; next = bounds.nextOf[next]!) {
    if (next === t) return true;
  }
  return false;
}

const side = (ae: number, an: number, be: number, bn: number, pe: number, pn: number): number =>
  (be - ae) * (pn - an) - (bn - an) * (pe - ae);

/** Whether a place lies in front of a vertex: nearer to it than to either segment beside it, left of both. */
function facesVertex(
  ends: Float64Array,
  bounds: Boundaries,
  s: number,
  qe: number,
  qn: number,
): boolean {
  const k = 4 * s;
  const j = 4 * bounds.previousOf[s]!;
  const [e, n] = [ends[k]!, ends[k + 1]!];
  const [ve, vn] = [qe - e, qn - n];
  const slack = 1e-9;
  if (ve * (ends[k + 2]! - e) + vn * (ends[k + 3]! - n) > slack) return false;
  if (ve * (ends[j]! - e) + vn * (ends[j + 1]! - n) > slack) return false;
  // At a left turn the mown side is left of both segments, at a right turn left of either.
  const leftOfNext = side(e, n, ends[k + 2]!, ends[k + 3]!, qe, qn) > 0;
  const leftOfPrevious = side(ends[j]!, ends[j + 1]!, e, n, qe, qn) > 0;
  const turnsLeft = side(ends[j]!, ends[j + 1]!, e, n, ends[k + 2]!, ends[k + 3]!) > 0;
  return turnsLeft ? leftOfNext && leftOfPrevious : leftOfNext || leftOfPrevious;
}
