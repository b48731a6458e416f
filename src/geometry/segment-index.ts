/** A packed R-tree over the segments of many rings or lines: finds near segments in log n. */
import Flatbush from "flatbush";
import type { LineM, PointM, RingM } from "../model/geometry.ts";
import type { BoxTest } from "./rings.ts";
import { pointSegmentM } from "./segments.ts";

export class SegmentIndex {
  /** Ring number of each segment. */
  readonly ringOf: Int32Array;
  /** Number of the segment's first vertex in its ring. */
  readonly vertexOf: Int32Array;
  readonly count: number;
  readonly #ends: Float64Array;
  readonly #tree: Flatbush | undefined;
  readonly #starts: Int32Array;

  /**
   * @param closed whether the last vertex joins the first (rings) or not (lines)
   * @param near which segments are held, by their boxes; all where left out
   */
  constructor(rings: readonly (RingM | LineM)[], closed = true, near?: BoxTest) {
    const [ringOf, vertexOf] = held(rings, closed, near);
    const count = ringOf.length;
    this.count = count;
    this.ringOf = ringOf;
    this.vertexOf = vertexOf;
    this.#ends = new Float64Array(4 * count);
    this.#tree = count > 0 ? new Flatbush(count) : undefined;
    this.#starts = new Int32Array(rings.length);
    for (let s = 0; s < count; s++) {
      const r = ringOf[s]!;
      const ring = rings[r]!;
      const i = vertexOf[s]!;
      const j = 2 * i + 2 === ring.length ? 0 : i + 1;
      const ae = ring[2 * i]!;
      const an = ring[2 * i + 1]!;
      const be = ring[2 * j]!;
      const bn = ring[2 * j + 1]!;
      if (i === 0) this.#starts[r] = s;
      this.#ends[4 * s] = ae;
      this.#ends[4 * s + 1] = an;
      this.#ends[4 * s + 2] = be;
      this.#ends[4 * s + 3] = bn;
      this.#tree!.add(Math.min(ae, be), Math.min(an, bn), Math.max(ae, be), Math.max(an, bn));
    }
    this.#tree?.finish();
  }

  /** Number of the segment that starts at a vertex of a ring, of an index that holds all. */
  segmentOf(ring: number, vertex: number): number {
    return this.#starts[ring]! + vertex;
  }

  from(segment: number): PointM {
    return [this.#ends[4 * segment]!, this.#ends[4 * segment + 1]!];
  }

  to(segment: number): PointM {
    return [this.#ends[4 * segment + 2]!, this.#ends[4 * segment + 3]!];
  }

  /** Segments whose boxes meet the box, in no particular order. */
  inBox(minE: number, minN: number, maxE: number, maxN: number): number[] {
    return this.#tree ? this.#tree.search(minE, minN, maxE, maxN) : [];
  }

  /** Distance from a point to a segment of the index, metres. */
  distanceM(segment: number, e: number, n: number): number {
    const i = 4 * segment;
    const ends = this.#ends;
    return pointSegmentM(e, n, ends[i]!, ends[i + 1]!, ends[i + 2]!, ends[i + 3]!);
  }

  /**
   * The nearest segment within `limitM`, or undefined.
   *
   * @param accept only segments for which it returns true are considered
   */
  nearest(
    e: number,
    n: number,
    limitM: number,
    accept?: (segment: number) => boolean,
  ): { segment: number; distanceM: number } | undefined {
    if (!this.#tree) return undefined;
    // Boxes of long segments say little: widen from the box-nearest one until nothing can be nearer.
    const first = this.#tree.neighbors(e, n, 1, limitM, accept)[0];
    if (first === undefined) return undefined;
    let best = first;
    let distanceM = this.distanceM(first, e, n);
    const reach = Math.min(distanceM, limitM);
    for (const s of this.inBox(e - reach, n - reach, e + reach, n + reach)) {
      if (accept && !accept(s)) continue;
      const d = this.distanceM(s, e, n);
      if (d < distanceM || (d === distanceM && s < best)) {
        distanceM = d;
        best = s;
      }
    }
    return distanceM <= limitM ? { segment: best, distanceM } : undefined;
  }
}

/** Ring and first vertex of each segment that an index holds. */
function held(
  rings: readonly (RingM | LineM)[],
  closed: boolean,
  near: BoxTest | undefined,
): [ringOf: Int32Array, vertexOf: Int32Array] {
  let most = 0;
  for (const ring of rings) most += ring.length >> 1;
  const ringOf = new Int32Array(most);
  const vertexOf = new Int32Array(most);
  let count = 0;
  rings.forEach((ring, r) => {
    const n = ring.length >> 1;
    const segments = closed ? (n > 1 ? n : 0) : n - 1;
    for (let i = 0; i < segments; i++) {
      if (near) {
        const j = i + 1 === n ? 0 : i + 1;
        const [ae, an, be, bn] = [ring[2 * i]!, ring[2 * i + 1]!, ring[2 * j]!, ring[2 * j + 1]!];
        const isNear = near(Math.min(ae, be), Math.min(an, bn), Math.max(ae, be), Math.max(an, bn));
        if (!isNear) continue;
      }
      ringOf[count] = r;
      vertexOf[count] = i;
      count++;
    }
  });
  return [ringOf.subarray(0, count), vertexOf.subarray(0, count)];
}
