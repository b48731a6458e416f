/** How often rings go round a place: winding numbers by horizontal slabs and exact turns. */
import type { AreaM } from "../../model/geometry.ts";
import { turn } from "./plane.ts";
import { endsOfRings } from "./segment-tree.ts";

/**
 * Winding number of a set of rings. Each segment stands in the slabs that it passes, about √n of
 * them in all, so that a question looks at the segments of one slab. Places on a ring itself count to
 * one side or the other (Sunday's half-open rule, 2001, from memory).
 */
export class Winding {
  readonly #ends: Float64Array;
  readonly #minN: number;
  readonly #slabN: number;
  readonly #starts: Int32Array;
  readonly #list: Int32Array;
  readonly box: readonly [minE: number, minN: number, maxE: number, maxN: number];

  constructor(rings: readonly Float64Array[]) {
    const ends = endsOfRings(rings);
    this.#ends = ends;
    let [minE, minN, maxE, maxN] = [Infinity, Infinity, -Infinity, -Infinity];
    for (let k = 0; k < ends.length; k += 4) {
      minE = Math.min(minE, ends[k]!);
      maxE = Math.max(maxE, ends[k]!);
      minN = Math.min(minN, ends[k + 1]!);
      maxN = Math.max(maxN, ends[k + 1]!);
    }
    this.box = [minE, minN, maxE, maxN];
    const count = ends.length >> 2;
    const slabs = Math.max(1, Math.ceil(4 * Math.sqrt(count)));
    this.#minN = minN;
    this.#slabN = Math.max((maxN - minN) / slabs, 1e-9);
    this.#starts = new Int32Array(slabs + 1);
    const each = (visit: (segment: number, slab: number) => void): void => {
      for (let s = 0; s < count; s++) {
        const one = ends[4 * s + 1]!;
        const other = ends[4 * s + 3]!;
        const to = this.#slabOf(Math.max(one, other));
        for (let slab = this.#slabOf(Math.min(one, other)); slab <= to; slab++) visit(s, slab);
      }
    };
    each((_, slab) => {
      this.#starts[slab + 1]!++;
    });
    for (let slab = 0; slab < slabs; slab++) this.#starts[slab + 1]! += this.#starts[slab]!;
    this.#list = new Int32Array(this.#starts[slabs]!);
    const next = this.#starts.slice();
    each((s, slab) => {
      this.#list[next[slab]!++] = s;
    });
  }

  #slabOf(n: number): number {
    const slab = Math.floor((n - this.#minN) / this.#slabN);
    return Math.max(0, Math.min(this.#starts.length - 2, slab));
  }

  at(e: number, n: number): number {
    const [minE, minN, maxE, maxN] = this.box;
    if (!(e >= minE && e <= maxE && n >= minN && n <= maxN)) return 0;
    const slab = this.#slabOf(n);
    const ends = this.#ends;
    let winding = 0;
    for (let i = this.#starts[slab]!; i < this.#starts[slab + 1]!; i++) {
      const k = 4 * this.#list[i]!;
      const an = ends[k + 1]!;
      const bn = ends[k + 3]!;
      if (an <= n) {
        if (bn > n && turn(ends[k]!, an, ends[k + 2]!, bn, e, n) > 0) winding++;
      } else if (bn <= n && turn(ends[k]!, an, ends[k + 2]!, bn, e, n) < 0) winding--;
    }
    return winding;
  }
}

/** The inside of an area whatever way its rings are wound: odd windings of shell less holes. */
export function insideOf(area: AreaM): Winding {
  return new Winding([area.shell, ...area.holes]);
}
