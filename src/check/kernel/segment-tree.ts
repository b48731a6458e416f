/** Segments with a packed R-tree over their boxes (flatbush), for the judge. */
import Flatbush from "flatbush";
import { toSegmentM } from "./plane.ts";

/** Rings as segments, `ae, an, be, bn` each, ring after ring; a closed ring has as many as vertices. */
export function endsOfRings(rings: readonly Float64Array[]): Float64Array {
  const count = rings.reduce((sum, ring) => sum + (ring.length >> 1), 0);
  const ends = new Float64Array(4 * count);
  let k = 0;
  for (const ring of rings) {
    const n = ring.length;
    for (let i = 0; i < n; i += 2) {
      ends[k++] = ring[i]!;
      ends[k++] = ring[i + 1]!;
      ends[k++] = ring[(i + 2) % n]!;
      ends[k++] = ring[(i + 3) % n]!;
    }
  }
  return ends;
}

export class SegmentTree {
  /** Four numbers a segment: `ae, an, be, bn`. */
  readonly ends: Float64Array;
  readonly count: number;
  readonly #tree: Flatbush | undefined;

  constructor(ends: Float64Array | readonly number[]) {
    this.ends = ends instanceof Float64Array ? ends : Float64Array.from(ends);
    this.count = this.ends.length >> 2;
    if (this.count === 0) return;
    this.#tree = new Flatbush(this.count);
    for (let k = 0; k < this.ends.length; k += 4) {
      const [ae, an, be, bn] = [
        this.ends[k]!,
        this.ends[k + 1]!,
        this.ends[k + 2]!,
        this.ends[k + 3]!,
      ];
      this.#tree.add(Math.min(ae, be), Math.min(an, bn), Math.max(ae, be), Math.max(an, bn));
    }
    this.#tree.finish();
  }

  /** Segments whose boxes come within `reachM` of the box of ab. */
  around(ae: number, an: number, be: number, bn: number, reachM: number): number[] {
    if (!this.#tree) return [];
    return this.#tree.search(
      Math.min(ae, be) - reachM,
      Math.min(an, bn) - reachM,
      Math.max(ae, be) + reachM,
      Math.max(an, bn) + reachM,
    );
  }

  distanceM(segment: number, e: number, n: number): number {
    const k = 4 * segment;
    const { ends } = this;
    return toSegmentM(e, n, ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!);
  }

  /** The segment nearest to a place, no farther than `limitM`. */
  nearest(
    e: number,
    n: number,
    limitM: number,
  ): { segment: number; distanceM: number } | undefined {
    let [segment, distanceM] = [-1, Infinity];
    // Widens step by step: boxes of long segments say little.
    for (let reachM = Math.min(limitM, 0.02); ; reachM = Math.min(limitM, reachM * 8)) {
      for (const s of this.around(e, n, e, n, reachM)) {
        const d = this.distanceM(s, e, n);
        if (d < distanceM || (d === distanceM && s < segment)) [segment, distanceM] = [s, d];
      }
      if (distanceM <= reachM) return { segment, distanceM };
      if (reachM >= limitM) return undefined;
    }
  }
}
